"""What is laid flat on a piece lies under the needle of the seams that it reaches: webbing on it, a zip behind its window.

Sums and order follow from the specs.
"""

from collections.abc import Callable

import pytest
from short_specs import hole, piece, rivet, seam, step
from step_lines import lines

from docgen.assemble import Assembled, TakenApart, pile_seam, tell_sections
from docgen.plan import plan_work

Resolve = Callable[[str], Assembled]

ZIP = """\
<zip: coil zip, 32 mm, 0.6 mm>
"""
TAPE = """\
[trimmings.tape]
what = "webbing"
kind = "webbing"
width = "25 mm"
thickness = "1.5 mm"
"""
LAID_ZIP = '{ goods = "zip", at = "15 mm from top", stitch = "main", window = "10 mm", clear = "30 mm" }'
LAID_TAPE = '{ goods = "tape", at = "14 mm from left", stitch = "main" }'


def bag(goods: str, laid: str) -> str:
    return (
        goods
        + piece("front", 200, 120, f"laid = [{laid}]\n")
        + piece("back", 200, 120)
        + '[pieces.wall]\nof = "body"\nshape = "strip"\nsize = ["40 mm", "solve"]\n'
        + seam("near", "front: left top right", "wall: left")
        + seam("far", "back: left top right", "wall: right")
        + step("Sew on what is laid.", pieces="front")
        + step("Sew both panels to the wall.", seams="near far")
    )


@pytest.mark.parametrize(
    ("goods", "laid", "parts", "words", "most_mm"),
    [
        (ZIP, LAID_ZIP, ["front", "zip", "wall"], "front; coil zip (in part); wall", 2 + 0.6 + 2),
        (TAPE, LAID_TAPE, ["tape", "front", "wall"], "webbing (in part); front; wall", 1.5 + 2 + 2),
    ],
)
def test_it_is_under_the_needle_where_it_reaches_the_seam(
    resolve_text: Resolve, goods: str, laid: str, parts: list[str], words: str, most_mm: float
) -> None:
    """2 mm of panel and of wall: a zip 32 mm wide, its middle 15 mm from the top, reaches the top edge; webbing 25 mm wide,
    its middle 14 mm from the left, lies over the row there."""
    build = resolve_text(bag(goods, laid))
    near, far = build.assembly.sewn
    assert (near.stack.thinnest_mm, near.stack.thickest_mm) == (4, pytest.approx(most_mm))
    (pile,) = pile_seam(build, near)
    assert [ply.part for ply in pile] == parts
    assert [ply.part for ply in pile if ply.is_partial] == [one for one in parts if one in ("zip", "tape")]
    (other,) = pile_seam(build, far)
    assert other is not None
    assert [ply.part for ply in other] == ["back", "wall"], "nothing is laid on the back"
    told = lines(plan_work(build), 2)
    assert [line for line in told if line.startswith("Under the needle")] == [
        f"Under the needle, from the top: {words}."
    ]


@pytest.mark.parametrize(("clear_mm", "most_mm"), [(0, 2 + 1.5 + 2), (3, 2 + 1.5 + 2), (5, 2 + 2)])
def test_it_reaches_through_the_seams_that_its_own_stitches_end_at(
    resolve_text: Resolve, clear_mm: float, most_mm: float
) -> None:
    """From edge to edge, or as far from that as it is clear of it: the row is 4 mm in, and the stitches end there."""
    across = f'{{ goods = "tape", at = "60 mm from top", stitch = "main", clear = "{clear_mm} mm" }}'
    near, far = resolve_text(bag(TAPE, across)).assembly.sewn
    assert (near.stack.thinnest_mm, near.stack.thickest_mm) == (4, pytest.approx(most_mm))
    assert far.stack.thickest_mm == 4


def test_where_it_lies_on_two_partners_its_layers_are_not_told(resolve_text: Resolve) -> None:
    """One name for the webbing on front and back, which one seam sews together: no order is made up."""
    panels = "".join(piece(name, 200, 120, f"laid = [{LAID_TAPE}]\n") for name in ("front", "back"))
    build = resolve_text(
        TAPE
        + panels
        + seam("round", "front: left bottom right", "back: left bottom right")
        + step("Sew on the webbing.", pieces="front back")
        + step("Sew round.", seams="round")
    )
    assert pile_seam(build, build.assembly.sewn[0]) == ()
    (told,) = tell_sections(build)
    assert told.startswith('a section of "round": which layer lies on which')
    assert plan_work(build).steps[1].acts


def test_a_board_that_is_only_punched_with_its_base_is_laid_by_the_step_that_glues_it(resolve_text: Resolve) -> None:
    """Its first step punches both; the second one lays it, and that is drawn there."""
    build = resolve_text(
        piece("base", 200, 100, hole("centre, middle", "foot", ', through = ["stiff"]'))
        + '[pieces.stiff]\nof = "pad"\nlike = "base"\ninset = "4 mm"\nlines = ["base"]\nmarks = false\n'
        + 'holes = [{ at = "centre, middle", punch = "4 mm" }]\n'
        + rivet(1, "foot", "bag foot")
        + step("Punch base and board.", pieces="base stiff")
        + step("Glue the board on and set the foot.", pieces="base stiff", hardware="foot")
    )
    assert isinstance(build, Assembled)
    apart = TakenApart(build)
    assert not apart.heaps(0)[1]
    (heap,) = apart.heaps(1)[1]
    assert {copy.part for copy in heap.copies} == {"base", "stiff"}


def test_a_zip_lies_where_its_seam_names_it_between_a_part_and_its_lining(resolve_text: Resolve) -> None:
    text = ZIP + piece("front", 200, 120) + '[pieces.lining]\nof = "cloth"\nlike = "front"\nlines = ["front"]\n'
    for meet, told in (
        (("front: top", "zip: left", "lining: top"), ["front", "zip", "lining"]),
        (("zip: left", "front: top", "lining: top"), ["zip", "front", "lining"]),
        (("front: top", "lining: top", "zip: left"), ["front", "lining", "zip"]),
    ):
        build = resolve_text(text + seam("mouth", *meet) + step("Sew.", seams="mouth"))
        (once,) = build.assembly.sewn
        (pile,) = pile_seam(build, once)
        assert [ply.part for ply in pile] == told


@pytest.mark.parametrize(("ends", "most_mm"), [("", 2 + 0.6 + 2), ('ends = "20 mm"\n', 2 + 2)])
def test_a_zip_is_under_the_needle_beyond_its_window_as_far_as_it_is_cut(
    resolve_text: Resolve, ends: str, most_mm: float
) -> None:
    """The window stays 25 mm from the edges, and the row lies 4 mm in: 25 mm at its ends by default, and 20 mm."""
    across = '{ goods = "zip", at = "60 mm from top", stitch = "main", window = "10 mm", clear = "25 mm" }'
    near, _ = resolve_text(bag(ZIP + ends, across)).assembly.sewn
    assert near.stack.thickest_mm == pytest.approx(most_mm)


def test_what_is_named_below_pictures_alone_is_told(resolve_text: Resolve) -> None:
    apart = TakenApart(resolve_text(bag(TAPE, LAID_TAPE)))
    assert "webbing" in apart.closed.absent
    assert [*apart.tell_withheld()] == ['"tape": sewn in or laid on by length, and named below the pictures alone']


def test_a_zip_is_sewn_behind_its_window_before_the_pocket_is_sewn_down(resolve_text: Resolve) -> None:
    """Its dividing line through what is beneath waits for the pocket; where both are told as one, they come after it."""
    laid = 'laid = [{ goods = "zip", at = "40 mm from top", window = "10 mm", stitch = "main" }]\n'
    line = 'dividers = [{ at = "80 mm from left", on = "panel", stitch = "main" }]\n'
    zip_ = "<zip: coil zip, 30 mm, 0.6 mm>\n"
    panel = piece("panel", 300, 250, 'landings = [{ piece = "pocket", at = "centre, 30 mm from bottom" }]\n')
    sewn = seam("round", "pocket: left bottom right top", "panel") + step("Sew it on.", seams="round", trimmings="zip")
    for more, order in (("", ["dividers", "seams"]), (line, ["seams", "dividers"])):
        build = resolve_text(zip_ + panel + piece("pocket", 200, 150, laid + more) + sewn)
        assert [one.kind for one in build.assembly.events if one.kind in ("dividers", "seams")] == order
