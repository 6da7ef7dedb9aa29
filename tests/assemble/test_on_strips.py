"""Sections of what is sewn on strips of a join, and of the joints under which that lies: all by hand."""

import pytest
from in_space import part
from short_specs import hole, piece, rivet, seam, step
from spec_text import Resolve

from docgen.assemble import Assembled, Copy, pile_joints, pile_seam
from docgen.plan import plan_work

STRIPS = """\
[pieces.top]
of = "body"
shape = "strip"
size = ["60 mm", "300 mm"]
landings = [{ piece = "tab", at = "centre, 0 mm from start" }, { piece = "tab", at = "centre, 0 mm from end" }]
[pieces.base]
of = "body"
shape = "strip"
size = ["60 mm", "400 mm"]
[joins.ring]
of = ["top", "base"]
overlap = "40 mm"
stitch = "main"
ring = true
"""


def tabs(high_mm: int) -> str:
    return (
        STRIPS
        + piece("tab", 34, high_mm, "cut = 2\n")
        + seam("tab", "tab: all", "top", more="times = 2\n")
        + step("Sew the tabs on.", seams="tab")
        + step("Join the strips.", joins="ring")
    )


def joints(build: Assembled) -> list[list[tuple[str, bool]]]:
    (run,) = (run for run in build.assembly.runs if run.kind == "joins")
    return [[(ply.part, ply.is_partial) for ply in pile or ()] for pile in pile_joints(build, run)]


def test_a_tab_lies_on_its_strip_with_its_grain_up(resolve_text: Resolve) -> None:
    build = resolve_text(tabs(22))
    piles = [pile for once in build.assembly.sewn if once.seam == "tab" for pile in pile_seam(build, once)]
    assert [[(ply.part, ply.grain) for ply in pile] for pile in piles] == [[("tab", "up"), ("top", "up")]] * 2


def test_the_row_of_a_joint_goes_through_what_lies_on_its_strips(resolve_text: Resolve) -> None:
    """Its middle lies 20 mm from the end of the strip, and the tab reaches 22 mm; 34 mm of its 60 mm go through it. At the
    one end the base lies beneath, at the other over it. Layers of 2 mm."""
    build = resolve_text(tabs(22))
    tab, top, base = ("tab", True), ("top", False), ("base", False)
    assert joints(build) == [[tab, top, base], [base, tab, top]]
    (run,) = (run for run in build.assembly.runs if run.kind == "joins")
    assert (run.stack.thinnest_mm, run.stack.usual_mm, run.stack.thickest_mm) == pytest.approx((4, 6, 6))


def test_a_tab_that_ends_before_the_row_is_not_counted(resolve_text: Resolve) -> None:
    """18 mm high, it ends 2 mm before the row."""
    build = resolve_text(tabs(18))
    assert joints(build) == [[("top", False), ("base", False)], [("base", False), ("top", False)]]


ROUND = 'round = { bottom-left = "20 mm", bottom-right = "20 mm" }\n'
WALL = '[pieces.wall]\nof = "body"\nshape = "strip"\nsize = ["40 mm", "solve"]\n'


@pytest.mark.parametrize("hem_mm", [0, 10])
def test_what_a_seam_names_between_two_parts_lies_there_hemmed_or_not(resolve_text: Resolve, hem_mm: int) -> None:
    hem = f'hems = [{{ edges = "top", turn = "{hem_mm} mm" }}]\n' if hem_mm else ""
    sides = (f"{part}: left bottom right" for part in ("back", "divider"))
    build = resolve_text(
        piece("back", 200, 150, ROUND)
        + piece("divider", 200, 150 + hem_mm, ROUND + hem)
        + WALL
        + (seam("hem", "divider: top", "divider") + step("Hem.", seams="hem") if hem else "")
        + seam("round", *sides, "wall: left")
        + step("Sew.", seams="round")
    )
    (once,) = (once for once in build.assembly.sewn if once.seam == "round")
    (pile,) = pile_seam(build, once)
    whole = [(ply.part, ply.grain) for ply in pile if not ply.is_partial]
    assert whole == [("back", "up"), ("divider", "down"), ("wall", "down")]
    assert len(pile) == 3 + bool(hem_mm)


def twice(cut: int) -> str:
    """A wall of which the strip at both ends is one template, with a tab riveted to it 10 mm from its end."""
    side = (
        '<strip side: ["40 mm", "160 mm"]>\ncut = 2\n'
        + 'landings = [{ piece = "tab", at = "centre, 10 mm from end" }]\n'
        + 'holes = [{ at = "centre, 20 mm from end", punch = "4 mm", takes = "rivet" }]\n'
        + '<strip base: ["40 mm", "solve"]>\n<join wall: ["side", "base", "side"], 20 mm>\n'
    )
    return (
        piece("front", 200, 150)
        + piece("back", 200, 150)
        + side
        + piece("tab", 20, 40, f"cut = {cut}\n" + hole("centre, 10 mm from top", "rivet"))
        + rivet(2)
        + seam("near", "front: left bottom right", "wall: left")
        + seam("far", "back: left bottom right", "wall: right")
        + step("Join the strips.", joins="wall")
        + step("Rivet the tabs on.", pieces="tab side", hardware="rivet")
        + step("Sew.", seams="near far")
    )


def test_what_lands_on_a_strip_that_comes_twice_lies_on_both(resolve_text: Resolve) -> None:
    """One rivet in each, through 2 mm of strip and 2 of tab; both tabs as high, and as far from the middle of the front."""
    build = resolve_text(twice(2))
    assert isinstance(build, Assembled)
    ends = [part(build.space, "tab", number) for number in (1, 2)]
    (x, y, z), (its_x, its_y, its_z) = (one.surface.point(one.item.box.centre) for one in ends)
    assert (y, z, 200 - x) == pytest.approx((its_y, its_z, its_x))
    (fit,) = (one for one in build.assembly.fastened if one.hardware == "rivet")
    assert (fit.part, fit.count, [layer.part for layer in fit.stack.layers]) == ("side", 2, ["side", "tab"])
    assert "hardware-count" not in {one.check for one in build.cautions}


def test_one_alone_lies_on_the_first_and_is_told_as_too_few(resolve_text: Resolve) -> None:
    build = resolve_text(twice(1))
    assert isinstance(build, Assembled)
    assert [one.copy for one in build.space.parts if one.copy.part == "tab"] == [Copy("tab")]
    assert "landing-empty" in {one.check for one in build.cautions}


def test_what_is_sewn_to_such_a_strip_is_sewn_to_both(resolve_text: Resolve) -> None:
    """Each tab to a strip of its own: two layers of 2 mm."""
    tab = piece("tab", 20, 40, "cut = 2\n") + seam("tab", "tab: all", "side", more="times = 2\n")
    text = twice(2).replace(', punch = "4 mm", takes = "rivet"', ', punch = "4 mm"')
    begin, end = text.index("[pieces.tab]"), text.index("[seams.near]")
    text = text[:begin] + tab + text[end:].replace('hardware = ["rivet"]', 'seams = ["tab"]')
    build = resolve_text(text)
    assert isinstance(build, Assembled)
    sewn = [(once.sides, once.stack.thickest_mm) for once in build.assembly.sewn if once.seam == "tab"]
    assert sewn == [((Copy("tab", k), Copy("side", k)), 4) for k in (1, 2)]
    assert len([one for one in build.space.parts if one.copy.part == "tab"]) == 2


TIED = """\
[pieces.side]
of = "body"
shape = "strip"
size = ["60 mm", "300 mm"]
holes = [
  { at = "centre, 20 mm from end", punch = "4 mm", takes = "rivet", through = ["tie"] },
  { at = "centre, 40 mm from end", punch = "4 mm", takes = "rivet", through = ["tie"] },
]
landings = [{ strap = "tie", at = "centre, 60 mm from end", leads = "up", over = "60 mm" }]
[pieces.base]
of = "body"
shape = "strip"
size = ["60 mm", "400 mm"]
[joins.wall]
of = ["base", "side"]
overlap = "20 mm"
stitch = "main"
[straps.tie]
of = "body"
width = "20 mm"
finished = "300 mm"
ends = [{ shape = "square" }, { shape = "square" }]
punches = [{ at = "centre, 20 mm from start", punch = "4 mm" }, { at = "centre, 40 mm from start", punch = "4 mm" }]
"""


@pytest.mark.parametrize(("order", "is_on"), [((0, 1), True), ((1, 0), False)])
def test_a_strap_is_drawn_on_its_strip_once_it_is_riveted_there(
    resolve_text: Resolve, order: tuple[int, int], is_on: bool
) -> None:
    """It is made before that, in a step that has not its strip in hand."""
    work = (step("Rivet it on.", pieces="side", hardware="rivet"), step("Join.", joins="wall"))
    made = step("Cut the strap.", straps="tie")
    build = resolve_text(TIED + rivet(2) + made + "".join(work[k] for k in order))
    at = 1 + order.index(1)
    (side,) = (one for one in plan_work(build).steps[at].drawn if one.name == "side")
    assert side.laid == (("tie, first end",) if is_on else ())
