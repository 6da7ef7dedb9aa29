"""A welt whose place on the inside of the back is told, between back and front: how it lies, and what is told of that. Read
off the work: on the flesh side of the back, grain up, left of the welt comes on right of the back, and the flesh side of
the front on its grain. That cement holds on a smooth grain once it is roughened is common practice, no published source."""

import pytest
from short_specs import SNAP_HALVES, hole, piece, seam, step
from spec_text import Resolve
from step_lines import words_of

from docgen.assemble import Copy, TakenApart, inner
from docgen.plan import plan_work

LANDING = '{ piece = "welt", at = "0 mm from left, 0 mm from bottom", inside = true }'
STRAP = '{ strap = "closing", at = "centre, 35 mm from top", over = "35 mm", stitch = "main" }'
POINTS = """\
points = [
  { at = ["0 mm", "100 mm"], edge = "left" },
  { at = ["0 mm", "0 mm"], edge = "bottom" },
  { at = ["100 mm", "0 mm"], edge = "right" },
  { at = ["100 mm", "100 mm"] },
  { at = ["91 mm", "100 mm"] },
  { at = ["91 mm", "9 mm"] },
  { at = ["9 mm", "9 mm"] },
  { at = ["9 mm", "100 mm"] },
]
"""
SHEATH = (
    piece("front", 100, 100, hole("centre, 40 mm from top", "stud"))
    + piece("back", 100, 100, f"landings = [{LANDING}, {STRAP}]\n")
    + f'[pieces.welt]\nof = "body"\nshape = "outline"\n{POINTS}'
    + seam("round", "front: left bottom right", "welt: left bottom right", "back: left bottom right")
    + '[straps.closing]\nof = "body"\nwidth = "25 mm"\nfinished = "105 mm"\n'
    + 'ends = [{ shape = "square" }, { shape = "rounded" }]\n'
    + 'punches = [{ at = "centre, 15 mm from end", punch = "4 mm", takes = "cap" }]\n'
    + SNAP_HALVES
    + step("Set both halves.", straps="closing", pieces="front", hardware="cap stud")
    + step("Glue the front on the welt, and sew round.", seams="round")
    + 'tools = ["contact cement"]\n'
)


def test_it_lies_on_the_back_where_it_lands_and_all_is_drawn(resolve_text: Resolve) -> None:
    """It was placed by its seam with the front, behind the back: neither part nor finished article could be drawn."""
    build = resolve_text(SHEATH)
    welt, back = (build.space.part(Copy(name)) for name in ("welt", "back"))
    assert welt is not None
    assert back is not None
    assert (welt.how, welt.host, welt.level) == ("lies on", Copy("back"), -1)
    assert inner(welt.out(0), back.out(0)) == pytest.approx(-1), "its grain looks to the front"
    apart = TakenApart(build)
    assert [*apart.tell_withheld()] == []
    (heap,) = apart.heaps(1)[1]
    assert {copy.part for copy in heap.new} == {"front", "welt", "back"}


def test_which_side_lies_on_what_has_no_grain_side_is_not_told(resolve_text: Resolve) -> None:
    cloth = '<fabric cloth: 2 mm>\nwidth = "1 m"\n[pieces.welt]\nof = "cloth"'
    lines = words_of(plan_work(resolve_text(SHEATH.replace('[pieces.welt]\nof = "body"', cloth))).steps[1].acts)
    assert any("welt between, edges level" in line for line in lines)
    assert not any("on grain side" in line for line in lines)


def test_its_left_comes_on_the_right_of_the_back_and_on_the_left_of_the_front(resolve_text: Resolve) -> None:
    lines = words_of(plan_work(resolve_text(SHEATH)).steps[1].acts)
    laid = "Lay front on welt, flesh side on grain side, edges level: left, bottom and right on left, bottom and right."
    assert laid in lines
    assert "Edges level: left, bottom and right of welt on right, bottom and left of back." in lines
    assert not any("flesh sides together" in line for line in lines)


NAP = '[materials.nap]\nkind = "leather"\nthickness = "2 mm"\nfinish = "suede"\n'
WELT = '[pieces.welt]\nof = "body"'


@pytest.mark.parametrize(
    ("old", "new", "is_rough"),
    [
        ("", "", True),
        (WELT, NAP + WELT.replace("body", "nap"), False),
        ('"contact cement"', '"double-sided tape"', False),
        ('tools = ["contact cement"]\n', "", False),
    ],
)
def test_the_grain_that_is_glued_is_roughened(resolve_text: Resolve, old: str, new: str, is_rough: bool) -> None:
    """That of the welt beneath the front; not of suede, nor under tape, nor where nothing is glued."""
    made = plan_work(resolve_text(SHEATH.replace(old, new) if old else SHEATH)).steps[1]
    told = [line for line in words_of(made.acts) if line.startswith("Roughen")]
    assert told == (["Roughen the grain of welt along the edges where it is glued."] if is_rough else [])


GLUED = step("Glue the welt to the flesh side of the back.", pieces="welt") + 'tools = ["contact cement"]\n'
SEWN = '[[steps]]\ndo = "Glue the front on'


@pytest.mark.parametrize(
    ("glued", "is_before"),
    [(GLUED, True), (GLUED.replace("Glue the welt to", "Burnish the inner edge of the welt, not"), False)],
)
def test_a_welt_that_is_glued_before_is_told_and_drawn_there_and_not_once_more(
    resolve_text: Resolve, glued: str, is_before: bool
) -> None:
    build = resolve_text(SHEATH.replace(SEWN, glued + SEWN))
    first, then = (words_of(made.acts) for made in plan_work(build).steps[1:])
    laid = [
        any(line.startswith("Lay welt on the flesh side of back, grain side up") for line in one)
        for one in (first, then)
    ]
    assert laid == [is_before, not is_before]
    assert any("welt on right, bottom and left of back" in line for line in then) is not is_before
    assert any(line.startswith("Put contact cement on both front and welt,") for line in then) is is_before
    apart = TakenApart(build)
    joined = [{copy.part for heap in apart.heaps(at)[1] for copy in heap.new} for at in (1, 2)]
    assert joined == (
        [{"welt", "back"}, {"welt", "back", "front"}] if is_before else [set(), {"welt", "back", "front"}]
    )


@pytest.mark.parametrize("named", ["left bottom right", "right bottom left"])
def test_what_lies_inside_has_its_left_on_the_right_whichever_is_named_first(resolve_text: Resolve, named: str) -> None:
    sheath = SHEATH.replace('"back: left bottom right"', f'"back: {named}"')
    lines = words_of(plan_work(resolve_text(sheath)).steps[1].acts)
    assert "Edges level: left, bottom and right of welt on right, bottom and left of back." in lines
