"""No picture is printed in which marks lie on each other, as long as a larger one costs no page. The distances are our
choice."""

from collections.abc import Iterator, Sequence

import pytest
from demos import PATHS, demo_plan
from on_paper import make_setup

from docgen.geometry.measure import distance_to_path
from docgen.geometry.shapes import Point
from docgen.pages.drawn.small_drawing import BLOT_MM, PICKED_HOLE_MM, small_drawer
from docgen.pages.drawn.small_sketch import LEAST_WIDE_MM, READABLE_MM, arrange_sketches, make_sketches
from docgen.pages.pictures.rows import Start
from docgen.pages.pictures.starts import draw_starts
from docgen.pages.setting.blocks import Beside, Block, Figure, Styled, Together
from docgen.pages.work import build_sheet, step_pages
from docgen.pages.work.build_step import DRAWING_HEIGHTS_MM, SIDE_MM
from docgen.plan import DrawnPiece
from docgen.resolve import by_name

STYLE = make_setup().style


def list_figures(blocks: Sequence[Block]) -> Iterator[Figure]:
    for block in blocks:
        match block:
            case Figure():
                yield block
            case Beside():
                yield from list_figures((*block.left, block.right))
            case Styled() | Together():
                yield from list_figures(block.blocks)


def printed(name: str, paper: str, monkeypatch: pytest.MonkeyPatch) -> tuple[int, int]:
    """The pages of a build sheet before they are paged, and what is unclear in its figures."""
    found: list[Sequence[Sequence[Block]]] = []
    join = step_pages.join_pages

    def keep(pages: Sequence[Sequence[Block]], frame: object) -> list[Block]:
        found.append(pages)
        return join(pages, frame)

    monkeypatch.setattr(build_sheet, "join_pages", keep)
    build_sheet.lay_out_build_sheet(demo_plan(name), make_setup(paper))
    (pages,) = found
    return len(pages), sum(figure.clashes for page in pages for figure in list_figures(page))


@pytest.mark.parametrize("name", PATHS)
@pytest.mark.parametrize("paper", ["letter", "A4"])
def test_nothing_lies_on_other_marks_in_a_picture_of_a_step(
    name: str, paper: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    clear = printed(name, paper, monkeypatch)
    assert clear[1] == 0
    monkeypatch.setattr(step_pages, "_find_clearer", lambda step, widen: ())
    assert clear[0] == printed(name, paper, monkeypatch)[0]


@pytest.mark.parametrize(("name", "paper"), [("wallet", "letter")])
def test_some_pictures_would_be_unclear(name: str, paper: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """In the column and at the size that the words alone ask for: the seams of the wallet's pockets."""
    monkeypatch.setattr(step_pages, "_find_clearer", lambda step, widen: ())
    assert printed(name, paper, monkeypatch)[1] > 0


def begun_at(x: float, y: float, seam: str) -> Start:
    at = Point(x, y)
    return Start(seam=seam, at=at, runs=((at, Point(x + 20.0, y)),), is_begun=True)


@pytest.mark.parametrize(("apart_mm", "clashes"), [(1.0, 1), (1.9, 1), (3.2, 0), (8.0, 0)])
def test_dots_of_two_seams_are_told_to_lie_on_each_other(apart_mm: float, clashes: int) -> None:
    """Dots of 1.8 mm, one above the other, and arrows 1.6 mm high beside them."""
    starts = [begun_at(5.0, 10.0, "one"), begun_at(5.0, 10.0 + apart_mm, "two")]
    assert draw_starts(starts, (), (40.0, 40.0), STYLE, {})[1] == clashes


@pytest.mark.parametrize(("gap_mm", "clashes"), [(1.0, 1), (12.0, 0)])
def test_a_number_among_lines_is_told_to_lie_on_them(gap_mm: float, clashes: int) -> None:
    """Upright lines so far apart; a number is some 2 mm wide and 2.5 mm high."""
    legs = [(Point(gap_mm * k + 0.5, -10.0), Point(gap_mm * k + 0.5, 50.0)) for k in range(-5, 45)]
    assert draw_starts([begun_at(5.0, 10.0, "one")], legs, (40.0, 40.0), STYLE, {"one": 1})[1] == clashes


def test_a_hole_that_would_touch_a_fold_is_told_and_not_a_larger_drawing_of_it() -> None:
    """The body of the tote: its holes are 1 1/4 in from the fold of the hem, and drawn as dots of 1.6 mm: clear of it by
    0.2 mm from 1:31 on."""
    plan = demo_plan("tote")
    piece = by_name(plan.build.pieces)["body"]
    gap_mm = min(distance_to_path(fold.path, hole.at) for fold in piece.marks.folds for hole in piece.marks.holes)
    assert gap_mm == pytest.approx(31.75)
    drawn = DrawnPiece(name="body", seams=(), is_skived=False, is_punched=True)
    draw = small_drawer(plan, (drawn,), SIDE_MM, STYLE, {})
    figures = [draw(mm) for mm in (*DRAWING_HEIGHTS_MM, 20.0)]
    for figure in figures:
        assert figure is not None
        scale_to = float(figure.caption.rsplit(":", 1)[1])
        assert figure.clashes == (gap_mm / scale_to < PICKED_HOLE_MM + BLOT_MM)
    assert {figure.clashes for figure in figures if figure} == {0, 1}


@pytest.mark.parametrize("scale_to", [8, 12, 20, 30, 50])
def test_a_small_piece_has_a_scale_of_its_own(scale_to: float) -> None:
    """The tabs of the field bag beside its front, punched and not: 3 mm wide at least, and 4 mm where it is enlarged."""
    plan = demo_plan("field-bag")
    names = "front", "ring-tab", "buckle-tab"
    for is_punched in (False, True):
        drawn = tuple(DrawnPiece(name=name, seams=(), is_skived=False, is_punched=is_punched) for name in names)
        found = arrange_sketches(make_sketches(plan, drawn), scale_to, SIDE_MM, STYLE)
        assert found is not None
        for cell in found[0]:
            least_mm = LEAST_WIDE_MM if cell.scale_to == scale_to else READABLE_MM
            assert cell.sketch.narrowest_at(cell.scale_to) >= least_mm
            assert not cell.is_narrow
            told = f"1:{cell.scale_to:g}"
            assert (told in " ".join(cell.lines)) == (cell.scale_to != scale_to)
