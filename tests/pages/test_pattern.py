"""The whole pattern on many papers: inside the printable area, every word readable, codes and squares on free room.

Outside check: shapely says what crosses or holds what.
"""

import re
from collections import Counter
from dataclasses import replace
from functools import cache
from itertools import pairwise
from pathlib import Path

import pytest
from demos import demo_plan
from shapely import STRtree
from shapely.geometry import LineString, Polygon
from shapely.geometry import Point as GeometryPoint
from shapely.geometry import box as shapely_box
from shapely.ops import unary_union

from docgen.checks import resolve_build
from docgen.fonts import text_width_mm
from docgen.geometry.path import flatten, path_box
from docgen.geometry.shapes import Box
from docgen.pages import Choices, choices_of
from docgen.pages.looks.pattern_style import load_pattern_style
from docgen.pages.looks.words import load_page_style
from docgen.pages.marks.moving import mark_box
from docgen.pages.marks.page import ClipMark, CodeMark, Document, Mark, Page, PathMark, TextMark
from docgen.pages.pattern.grid import Placed
from docgen.pages.pattern.pattern import lay_out_pattern
from docgen.pages.pattern.piece_template import label_marks, make_template
from docgen.pages.pattern.sheets import JOIN_STROKE
from docgen.pages.pattern.upright import stand_label
from docgen.pages.setting.setup import Setup
from docgen.plan import Plan, plan_work
from docgen.read import read_spec
from docgen.tables.paper import find_paper
from docgen.written.units.table import MM_PER_POINT

PAPERS = ("letter", "a4", "legal", "tabloid", "a3", "300x400 mm")
CASES = [(name, paper) for name in ("field-bag", "notebook-sleeve") for paper in PAPERS]
STYLE = load_pattern_style()
MARGIN_MM = 6.35
WHITE_MM = 1.5  # round the cut line of every footprint, see test_paper.py

# ASME Y14.1 (A, B), ISO 216 (A3, A4); legal by common practice.
SIZES_MM = {
    "letter": (215.9, 279.4),
    "a4": (210.0, 297.0),
    "legal": (215.9, 355.6),
    "tabloid": (279.4, 431.8),
    "a3": (297.0, 420.0),
    "300x400 mm": (300.0, 400.0),
}


def draw_pattern(plan: Plan, paper: str, **more: object) -> Document:
    width, height = sorted(find_paper(paper))
    setup = Setup(
        paper_width_mm=width, paper_height_mm=height, margin_mm=MARGIN_MM, date="2026-03-31", style=load_page_style()
    )
    choices: Choices = replace(choices_of(plan.build.printing), paper=paper, **more)  # type: ignore[arg-type]
    chosen = replace(setup, choices=choices)
    return lay_out_pattern(plan, chosen, chosen)


@cache
def demo_pattern(name: str, paper: str) -> Document:
    return draw_pattern(demo_plan(name), paper)


@pytest.fixture(params=CASES, ids=lambda case: f"{case[0]}-{case[1]}")
def pattern(request: pytest.FixtureRequest) -> Document:
    return demo_pattern(*request.param)


# ---- what is on a sheet --------------------------------------------------------


def clip_of(page: Page) -> ClipMark:
    """The part of the drawing on one sheet."""
    return max((mark for mark in page.marks if isinstance(mark, ClipMark)), key=lambda mark: mark.box.width)


def flat_marks(marks: tuple[Mark, ...], dx: float = 0.0, dy: float = 0.0, window: Box | None = None):
    """(mark, dx, dy, window) of everything drawn; the window is what clips leave of it, None for all."""
    for mark in marks:
        if isinstance(mark, ClipMark):
            box = Box(mark.box.left + dx, mark.box.bottom + dy, mark.box.right + dx, mark.box.top + dy)
            inner = box if window is None else meet(box, window)
            if inner is not None:
                yield from flat_marks(mark.marks, dx + mark.dx_mm, dy + mark.dy_mm, inner)
        else:
            yield mark, dx, dy, window


def meet(first: Box, second: Box) -> Box | None:
    box = Box(
        max(first.left, second.left),
        max(first.bottom, second.bottom),
        min(first.right, second.right),
        min(first.top, second.top),
    )
    return box if box.left < box.right and box.bottom < box.top else None


def text_polygon(mark: TextMark, dx: float, dy: float):
    """Where the capitals of a line of text stand."""
    width = text_width_mm(mark.text, mark.face, mark.size_mm)
    start = {"start": 0.0, "middle": -width / 2, "end": -width}[mark.anchor]
    along, up = {
        0: ((1, 0), (0, 1)),
        90: ((0, 1), (-1, 0)),
        -90: ((0, -1), (1, 0)),
        270: ((0, -1), (1, 0)),
        180: ((-1, 0), (0, -1)),
    }[round(mark.angle_deg)]
    corners = [(start, 0.0), (start + width, 0.0), (start + width, 0.7 * mark.size_mm), (start, 0.7 * mark.size_mm)]
    x, y = mark.x_mm + dx, mark.y_mm + dy
    return Polygon([(x + along[0] * a + up[0] * b, y + along[1] * a + up[1] * b) for a, b in corners])


def lines_of(page: Page):
    """Every stroked line of the drawing that shows on a sheet, cut to what shows."""
    found = []
    for mark, dx, dy, window in flat_marks(
        clip_of(page).marks, clip_of(page).dx_mm, clip_of(page).dy_mm, clip_of(page).box
    ):
        if isinstance(mark, PathMark) and mark.stroke is not None and mark.path.segments:
            points = [(x + dx, y + dy) for x, y in flatten(mark.path, 0.05)]
            line = LineString([*points, points[0]] if mark.path.closed else points)
            shown = line.intersection(shapely_box(window.left, window.bottom, window.right, window.top))
            if not shown.is_empty:
                found.append(shown)
    return found


def words_of(page: Page, face: str = "") -> list[tuple[str, Polygon, bool]]:
    """Words of the drawing, of a face or of any, that show on a sheet, and whether all of them does; names of match marks
    are left out."""
    clip, found = clip_of(page), []
    for mark, dx, dy, window in flat_marks(clip.marks, clip.dx_mm, clip.dy_mm, clip.box):
        if isinstance(mark, TextMark) and mark.size_mm != STYLE.match_type_mm and face in ("", mark.face):
            place = text_polygon(mark, dx, dy)
            shown = shapely_box(window.left, window.bottom, window.right, window.top)
            if shown.intersects(place):
                found.append((mark.text, place, shown.buffer(1e-6).contains(place)))
    return found


def outlines_of(page: Page) -> list[Polygon]:
    """The pieces that show on a sheet, cut to what shows of a strap that is drawn broken."""
    clip, found = clip_of(page), []
    wide = Box(-9999, -9999, 9999, 9999)
    for mark, dx, dy, window in flat_marks(clip.marks, clip.dx_mm, clip.dy_mm, wide):
        if isinstance(mark, PathMark) and mark.layer == "cut" and mark.path.closed:
            shown = shapely_box(window.left, window.bottom, window.right, window.top)
            found.append(Polygon([(x + dx, y + dy) for x, y in flatten(mark.path, 0.05)]).intersection(shown))
    return found


def place_key(page: Page, text: str, place: Polygon) -> tuple[str, str, float, float]:
    """A line of words by its grid's letter and its place in the grid."""
    clip, at = clip_of(page), place.centroid
    letter = page.label.split()[-1].rstrip("0123456789")
    return letter, text, round(at.x - clip.dx_mm, 2), round(at.y - clip.dy_mm, 2)


def own_marks(page: Page) -> list[Mark]:
    """Test squares, title block and code: all that is not the drawing, the frame or the line of a join."""
    return [
        mark
        for mark in page.marks
        if not isinstance(mark, ClipMark)
        and not (
            isinstance(mark, PathMark)
            and (mark.stroke in (None, JOIN_STROKE) or max(path_box(mark.path).width, path_box(mark.path).height) > 180)
        )
    ]


# ---- papers --------------------------------------------------------------------


def test_everything_lies_inside_the_printable_area(pattern: Document) -> None:
    for page in pattern.pages:
        printable = shapely_box(0, 0, page.width_mm, page.height_mm).buffer(-MARGIN_MM + 0.2, join_style="mitre")
        for mark, dx, dy, window in flat_marks(page.marks):
            if window is not None:
                assert printable.contains(shapely_box(window.left, window.bottom, window.right, window.top))
            elif isinstance(mark, TextMark):
                assert printable.contains(text_polygon(mark, dx, dy)), mark.text
            elif isinstance(mark, CodeMark):
                assert printable.contains(
                    shapely_box(mark.x_mm, mark.y_mm, mark.x_mm + mark.size_mm, mark.y_mm + mark.size_mm)
                )
            elif mark.path.segments:
                box = path_box(mark.path)
                assert printable.contains(shapely_box(box.left, box.bottom, box.right + 1e-9, box.top + 1e-9))


@pytest.mark.parametrize("paper", PAPERS)
def test_pages_have_the_size_of_their_paper(paper: str) -> None:
    for page in demo_pattern("field-bag", paper).pages:
        assert (page.width_mm, page.height_mm) == pytest.approx(SIZES_MM[paper])


def test_larger_paper_takes_fewer_sheets() -> None:
    counts = {paper: len(demo_pattern("field-bag", paper).pages) - 1 for paper in PAPERS}
    assert counts["a3"] < counts["a4"]
    assert counts["tabloid"] < counts["letter"]
    assert counts["legal"] <= counts["letter"]


def test_every_piece_and_strap_is_named_once(pattern: Document) -> None:
    name = next(name for name, paper in CASES if demo_pattern(name, paper) is pattern)
    build = demo_plan(name).build
    pieces, straps = ([one.title for one in parts] for parts in (build.pieces, [strap.piece for strap in build.straps]))
    titles = [*pieces, *straps]
    shown = {
        place_key(page, text, place)
        for page in pattern.pages[1:]
        for text, place, _ in words_of(page, "bold")  # where it lands on another, its name is plain
        if text in titles
    }
    told = Counter(text for _, text, *_ in shown)
    assert all(told[title] == 1 for title in pieces)
    assert all(told[title] in (1, 2) for title in straps)  # a narrow one may bear it at both ends


def test_all_words_of_a_piece_are_whole_on_some_sheet(pattern: Document) -> None:
    shown: dict[tuple[str, str, float, float], bool] = {}
    for page in pattern.pages[1:]:
        for text, place, is_whole in words_of(page):
            key = place_key(page, text, place)
            shown[key] = shown.get(key, False) or is_whole
    assert [key for key, is_whole in shown.items() if not is_whole] == []


def test_words_cover_no_line_and_no_other_words(pattern: Document) -> None:
    for page in pattern.pages[1:]:
        words, lines = words_of(page), STRtree(lines_of(page))
        for index, (text, place, _) in enumerate(words):
            assert len(lines.query(place, predicate="intersects")) == 0, (page.label, text)
            assert not [other for other, there, _ in words[index + 1 :] if there.intersects(place)], (page.label, text)


def test_label_lies_in_its_piece_or_beside_every_piece(pattern: Document) -> None:
    for page in pattern.pages[1:]:
        outlines = outlines_of(page)
        for text, place, _ in words_of(page):
            inside = [outline for outline in outlines if outline.contains(place)]
            touched = [outline for outline in outlines if outline.intersects(place)]
            assert len(inside) == len(touched), (page.label, text)


def test_squares_title_block_and_code_stand_clear_of_every_line_and_word(pattern: Document) -> None:
    for page in pattern.pages[1:]:
        drawn = STRtree([*lines_of(page), *(polygon for _, polygon, _ in words_of(page))])
        for mark in own_marks(page):
            if isinstance(mark, CodeMark):
                place = shapely_box(mark.x_mm, mark.y_mm, mark.x_mm + mark.size_mm, mark.y_mm + mark.size_mm)
            elif isinstance(mark, TextMark):
                place = text_polygon(mark, 0, 0)
            else:
                box = path_box(mark.path)
                place = shapely_box(box.left, box.bottom, box.right, box.top)
            assert len(drawn.query(place.buffer(0.9), predicate="intersects")) == 0, (page.label, place.bounds)


def test_codes_of_sheets_and_pieces_have_large_modules(pattern: Document) -> None:
    """At 150 dpi a reader wants four dots to a module; a piece with room for it has a code of 21 or 24 mm."""
    for page in pattern.pages[1:]:
        codes = [mark for mark in page.marks if isinstance(mark, CodeMark)]
        assert min(code.size_mm / len(code.rows) for code in codes) > 4 * 25.4 / 150
        assert {round(code.size_mm) for code in codes} <= {17, 18, 21, 24}


def test_each_sheet_has_its_code_and_two_squares_of_their_size(pattern: Document) -> None:
    for number, page in enumerate(pattern.pages, start=1):
        codes = [mark for mark in page.marks if isinstance(mark, CodeMark)]
        assert codes
        assert {code.payload for code in codes} == {page.payload}
        assert page.payload.endswith(f"/PATTERN/{number}")
        sides = [
            (round(path_box(mark.path).width, 6), round(path_box(mark.path).height, 6))
            for mark in page.marks
            if isinstance(mark, PathMark) and mark.stroke == STYLE["square"]
        ]
        assert all(width == height for width, height in sides)
        assert {101.6, 100.0} <= {width for width, _ in sides} or {25.4, 25.0} <= {width for width, _ in sides}


def test_words_of_a_sheet_are_seven_points_high_and_its_number_stands_with_its_document(pattern: Document) -> None:
    """A payload that takes two lines is not broken before its last part: a lone figure tells nothing."""
    for page in pattern.pages:
        texts = [mark for mark, *_ in flat_marks(page.marks) if isinstance(mark, TextMark)]
        assert page is pattern.pages[0] or min(mark.size_mm for mark in texts) >= 7 * MM_PER_POINT - 1e-6
        assert any(mark.text.endswith(f"PATTERN/{page.payload.rpartition('/')[2]}") for mark in texts)


@pytest.mark.parametrize(("show", "order"), [("in", ["4 in", "100 mm"]), ("mm", ["100 mm", "4 in"])])
def test_first_page_leads_with_the_square_of_the_unit_that_stands_first(show: str, order: list[str]) -> None:
    plan = demo_plan("cable-roll")
    document = draw_pattern(replace(plan, build=replace(plan.build, show=show)), "a4")
    texts = [mark for mark in document.pages[0].marks if isinstance(mark, TextMark)]
    labels = sorted((mark for mark in texts if mark.text in order), key=lambda mark: -mark.y_mm)
    assert [mark.text for mark in labels] == order
    said = " ".join(mark.text for mark in texts)
    assert "Print on A4 paper" in said
    assert f"rule: {order[0]} each way" in said


def test_both_ends_of_a_broken_strap_bear_its_name(pattern: Document) -> None:
    """On one line or on several, one after the other; its label has the length that it is cut to below the name."""
    texts = [text for page in pattern.pages[1:] for text, _, _ in words_of(page)]
    told = " ".join(texts)
    for title, below in pairwise(texts):
        if re.fullmatch(r"cut .* long", below):
            assert [told.count(f"{title}, {end} end") for end in ("first", "second")] == [1, 1], title


def test_the_open_end_of_a_broken_strap_is_closed_by_a_line_from_beyond_one_edge_to_beyond_the_other(
    pattern: Document,
) -> None:
    wide = Box(-9999, -9999, 9999, 9999)
    for page in pattern.pages[1:]:
        clip = clip_of(page)
        drawn = [
            (mark, Polygon(points) if mark.path.closed else LineString(points), window)
            for mark, dx, dy, window in flat_marks(clip.marks, clip.dx_mm, clip.dy_mm, wide)
            if isinstance(mark, PathMark) and mark.path.segments
            for points in ([(x + dx, y + dy) for x, y in flatten(mark.path, 0.05)],)
        ]
        lines = unary_union([path for mark, path, _ in drawn if mark.stroke == STYLE["punch"] and not mark.path.closed])
        for mark, outline, window in drawn:
            shown = outline.intersection(shapely_box(window.left, window.bottom, window.right, window.top))
            if mark.layer == "cut" and mark.path.closed and shown.area < 0.999 * outline.area:
                left, bottom, right, top = shown.exterior.difference(outline.exterior.buffer(1e-6)).bounds
                ends = (
                    ((left - 1, bottom), (right + 1, top))
                    if right - left > top - bottom
                    else ((left, bottom - 1), (right, top + 1))
                )
                assert max(lines.distance(GeometryPoint(end)) for end in ends) < 0.05, page.label


@pytest.mark.parametrize("high_mm", [120.0, 180.0, 250.0])
def test_cut_lines_words_and_leader_of_a_strap_lie_inside_its_footprint(high_mm: float) -> None:
    build = demo_plan("field-bag").build
    for strap in build.straps:
        template = make_template(build, strap.piece, STYLE, (200.0, high_mm))
        wide = Box(-9999, -9999, 9999, 9999)
        for mark, dx, dy, window in flat_marks(
            (*template.marks, *label_marks(template, (), is_turned=False)), 0, 0, wide
        ):
            if mark.layer in ("words", "cut"):
                box = mark_box(mark)
                shown = meet(Box(box.left + dx, box.bottom + dy, box.right + dx, box.top + dy), window)
                if shown is not None:
                    assert min(shown.left, shown.bottom) > WHITE_MM - 0.5
                    assert shown.right < template.width_mm - WHITE_MM + 0.5, strap.name
                    assert shown.top < template.height_mm - WHITE_MM + 0.5, strap.name


def test_long_name_of_a_shop_is_shortened_before_the_tag_is_set_smaller() -> None:
    plan = demo_plan("cable-roll")
    shop = "Werkstatt am langen Ufer, Lederwaren seit drei Generationen und mehr"
    build = replace(plan.build, shop=replace(plan.build.shop, name=shop))
    document = draw_pattern(replace(plan, build=build), "letter")
    for page in document.pages[1:]:
        texts = [mark for mark, *_ in flat_marks(page.marks) if isinstance(mark, TextMark)]
        (name,) = [mark for mark in texts if "Werkstatt" in mark.text and "…" in mark.text]
        assert name.size_mm >= 7 * MM_PER_POINT - 1e-6


@pytest.mark.parametrize("name", ["field-bag", "cable-roll", "notebook-sleeve"])
def test_name_of_a_shop_stands_whole_in_every_tag(name: str) -> None:
    """On a line of its own, in 7 pt or larger."""
    plan = demo_plan(name)
    shop = "Werkstatt am langen Ufer, Lederwaren"
    document = draw_pattern(
        replace(plan, build=replace(plan.build, shop=replace(plan.build.shop, name=shop))), "letter"
    )
    for page in document.pages[1:]:
        texts = [mark for mark, *_ in flat_marks(page.marks) if isinstance(mark, TextMark)]
        found = [mark.size_mm for mark in texts if mark.text.endswith(shop)]
        assert found
        assert min(found) >= 7 * MM_PER_POINT - 1e-6


def test_match_mark_goes_beside_the_roll_rather_than_over_its_stitches() -> None:
    """On letter paper the join runs 1 mm off a row of stitches up to the body's edge; there is white beyond it."""
    document = draw_pattern(demo_plan("cable-roll"), "letter")
    found = [
        (mark.x_mm + dx, mark.y_mm + dy)
        for mark, dx, dy, *_ in flat_marks(document.pages[1].marks)
        if isinstance(mark, TextMark) and mark.text == "1b"
    ]
    assert len(found) == 1
    assert not any(
        outline.intersects(shapely_box(x - 3, y - 8, x + 3, y))
        for outline in outlines_of(document.pages[1])
        for x, y in found
    )


def test_sheets_are_named_by_their_grid_and_place(pattern: Document) -> None:
    labels = [page.label for page in pattern.pages]
    assert labels[0] == "Pattern 1"
    assert len(set(labels)) == len(labels)
    assert labels[1] in ("Pattern A", "Pattern A1")


# ---- what cannot be laid out -----------------------------------------------------

HEAD = """\
[spec]
code = "mat"
title = "Bench mat"
version = "1"
[materials.felt]
kind = "fabric"
thickness = "3 mm"
[pieces.mat]
of = "felt"
shape = "rectangle"
"""


def plan_of(text: str, folder: Path, monkeypatch: pytest.MonkeyPatch) -> Plan:
    monkeypatch.chdir(folder)
    Path("mat.toml").write_text(HEAD + text)
    return plan_work(resolve_build(read_spec("mat.toml")))


@pytest.mark.parametrize("long", [480, 490, 500, 505, 510, 520])
def test_no_code_of_a_piece_hides_the_number_of_a_join(
    long: int, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    plan = plan_of(f'size = ["57 mm", "{long} mm"]\n', tmp_path, monkeypatch)
    for page in draw_pattern(plan, "letter").pages[1:]:
        drawn = [(mark, dx, dy) for mark, dx, dy, _ in flat_marks(page.marks)]
        numbers = [text_polygon(*item) for item in drawn if getattr(item[0], "size_mm", 0) == STYLE.match_type_mm]
        for code, dx, dy in drawn:
            if isinstance(code, CodeMark):
                # The writer clears four modules round a code: the quiet zone of ISO/IEC 18004.
                quiet = 4 * code.size_mm / len(code.rows)
                x, y, side = code.x_mm + dx - quiet, code.y_mm + dy - quiet, code.size_mm + 2 * quiet
                white = shapely_box(x, y, x + side, y + side)
                assert not [number for number in numbers if number.intersects(white)], page.label


def full_of_holes(width: int, height: int) -> str:
    """A size, and holes so near to each other that no code has room between them."""
    holes = ", ".join(
        f'{{ at = "{x} mm from left, {y} mm from bottom", punch = "3 mm" }}'
        for x in range(10, width, 14)
        for y in range(10, height - 3, 14)
    )
    return f'size = ["{width} mm", "{height} mm"]\nholes = [{holes}]\n'


OTHERS = "".join(
    f'[pieces.{name}]\nof = "felt"\nshape = "rectangle"\nsize = ["{width} mm", "190 mm"]\n'
    for name, width in (("back", 300), ("front", 300), ("side", 150))
)


def test_sheet_too_full_for_its_tag_has_it_on_a_page_to_cut_out(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A piece as large as a sheet and full of holes is not crossed by a join, and only its sheet pays."""
    document = draw_pattern(plan_of(full_of_holes(200, 263) + OTHERS, tmp_path, monkeypatch), "letter")
    without = draw_pattern(plan_of('size = ["200 mm", "263 mm"]\n' + OTHERS, tmp_path, monkeypatch), "letter")
    assert (document.count.sheets, document.count.joins) == (without.count.sheets, without.count.joins)
    *sheets, last = document.pages[1:]
    full = [page for page in sheets if any(part.name == "mat" for part in page.sheet.parts)]
    assert len(full) == 1
    for page in sheets:
        has_code = any(isinstance(mark, CodeMark) and mark.payload == page.payload for mark in page.marks)
        squares = [mark for mark in page.marks if isinstance(mark, PathMark) and mark.stroke == STYLE["square"]]
        assert (has_code, len(squares)) == ((False, 0) if page is full[0] else (True, 2))
    marks = [mark for mark, *_ in flat_marks(last.marks)]
    codes = [mark.payload for mark in marks if isinstance(mark, CodeMark)]
    assert sorted(codes) == sorted([full[0].payload, last.payload])
    assert len([mark for mark in marks if isinstance(mark, PathMark) and mark.stroke == STYLE["square"]]) == 2
    texts = [mark.text for mark in marks if isinstance(mark, TextMark)]
    name = full[0].label.split()[-1]
    assert f"{name}: mat" in texts
    in_all = len(document.pages)
    assert [page.payload.rsplit("/", 1)[1] for page in document.pages] == [str(n + 1) for n in range(in_all)]
    assert f"Pattern, sheet {document.pages.index(full[0]) + 1} of {in_all}" in texts


def test_piece_of_the_whole_printable_area_takes_one_sheet(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    plan = plan_of('size = ["200 mm", "263 mm"]\n', tmp_path, monkeypatch)
    assert len(draw_pattern(plan, "letter").pages) == 2


# ---- labels beside small pieces ------------------------------------------------


@pytest.mark.parametrize("paper", ["letter", "a4"])
@pytest.mark.parametrize("name", ["belt", "strap", "sheath", "lead"])
def test_labels_beside_pieces_are_read_without_turning_a_sheet_that_has_room(name: str, paper: str) -> None:
    """Upright and at least 10 pt, whole inside of the window, clear of every line and of other words."""
    pattern, found = demo_pattern(name, paper), 0
    for page in pattern.pages[1:]:
        clip, outlines, lines = clip_of(page), outlines_of(page), STRtree(lines_of(page))
        placed = [
            (mark, text_polygon(mark, dx, dy))
            for mark, dx, dy, seen in flat_marks(clip.marks, clip.dx_mm, clip.dy_mm, clip.box)
            if isinstance(mark, TextMark) and mark.size_mm != STYLE.match_type_mm
            if shapely_box(seen.left, seen.bottom, seen.right, seen.top).intersects(text_polygon(mark, dx, dy))
        ]
        window = shapely_box(clip.box.left, clip.box.bottom, clip.box.right, clip.box.top)
        for mark, place in placed:
            if not any(outline.intersects(place) for outline in outlines):
                found += 1
                assert (mark.angle_deg, mark.size_mm >= 10 * MM_PER_POINT - 1e-6) == (0.0, True), mark.text
                assert window.buffer(-1.0).contains(place)
                assert len(lines.query(place.buffer(0.5), predicate="intersects")) == 0
                assert not any(there.intersects(place) for other, there in placed if other is not mark)
    assert found >= 4, "a name, how many, of what, and the version"


def test_a_label_stands_at_the_left_where_another_piece_is_at_the_right() -> None:
    build, wide = demo_plan("strap").build, Box(0.0, 0.0, 999.0, 999.0)
    template = make_template(build, build.straps[-1].piece, STYLE, (200.0, 250.0))
    own = Box(100.0, 10.0, 100.0 + template.width_mm, 10.0 + template.height_mm)
    placed = Placed(name=template.name, box=own, is_turned=False)
    right = Box(100.0 + template.width_mm - 30.0, 0.0, 999.0, 999.0)
    _, free, _ = stand_label(template, placed, wide, ())
    leader, label, room = stand_label(template, placed, wide, (right,))
    assert stand_label(template, placed, wide, (wide,)) is None, "its own label stays where there is no room"
    free, label = ([mark for mark in marks if isinstance(mark, TextMark)] for marks in (free, label))
    assert all(mark.x_mm > placed.box.left + 10 for mark in free)
    assert all(mark.x_mm < placed.box.left - 5 and mark.angle_deg == 0.0 for mark in label)
    assert room.right < placed.box.left + 5
    assert mark_box(leader).right <= 1.5 + 0.1
