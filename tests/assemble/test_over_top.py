"""A flap sewn on the outside of a back that bends half round over its top, a facing that no key calls one, the lining that
it carries, and half a snap in linings alone. Figures by hand."""

import pytest
from short_specs import hole, piece, seam, step
from spec_text import Resolve

from docgen.assemble import Assembled, Copy, TakenApart, pile_seam
from docgen.assemble.space import inner

HALF_TURN = 'folds = [{ at = "30 mm from top", open = true, angle = 180 }]\n'
FLAP = (
    piece("front", 200, 150)
    + '[pieces.back]\nlike = "front"\nlandings = [{ piece = "flap", at = "centre, 20 mm from top" }]\n'
    + piece("flap", 200, 100, HALF_TURN)
    + seam("flap", "flap: top", "back")
    + seam("round", "front: left bottom right", "back: left bottom right")
)
POCKET = 'landings = [{ piece = "pocket", at = "centre, 60 mm from bottom" }]\n'


def heights(build: Assembled, part: str) -> list[float]:
    """By how many layers each band of a part is lifted to the side that the front looks to."""
    lifted = TakenApart(build).lifted
    placed, front = lifted.part(Copy(part)), lifted.part(Copy("front"))
    assert placed is not None
    assert front is not None
    return [round(inner(lift, front.out(0)), 3) for lift in placed.lifts]


@pytest.mark.parametrize(("pocket", "over"), [(False, 1), (True, 2)], ids=["on the front", "on its pocket"])
def test_a_flap_of_half_a_turn_comes_down_on_all_of_the_front(resolve_text: Resolve, pocket: bool, over: int) -> None:
    """Its fold lies 10 mm over the top of the back, one layer behind the front: 20 mm of the flap lie on the back, two
    layers behind, and 70 mm before the front, over a pocket of 100 mm that ends 160 mm up."""
    text = FLAP.replace(piece("front", 200, 150), piece("front", 200, 150, POCKET if pocket else ""))
    text += (piece("pocket", 120, 80) + seam("pocket", "pocket: left bottom right", "front")) if pocket else ""
    steps = step("Flap.", seams="flap") + (step("Pocket.", seams="pocket") if pocket else "")
    build = resolve_text(text + steps + step("Sew.", seams="round"))
    assert heights(build, "back") == [-1]
    assert sorted(heights(build, "flap")) == [-2, over]


def test_a_tab_that_is_folded_flat_stays_on_the_outside(resolve_text: Resolve) -> None:
    """A closed fold presses both halves on each other, where the tab lies: it goes round nothing."""
    build = resolve_text(
        FLAP.replace(", open = true, angle = 180", "") + step("Flap.", seams="flap") + step("Sew.", seams="round")
    )
    assert max(heights(build, "flap")) <= -1


FACING = (
    piece("front", 300, 240)
    + '[pieces.back]\nlike = "front"\n'
    + '[pieces.wall]\nof = "body"\nshape = "strip"\nsize = ["90 mm", "solve"]\n'
    + piece("facing", 300, 50, "cut = 2\n")
    + piece("lining", 300, 200, 'cut = 2\nlines = ["front", "back"]\n', "cloth")
    + seam("carried", "facing: bottom", "lining: top", more='lap = "10 mm"\n')
    + seam("top-front", "front: top", "facing: top")
    + seam("top-back", "back: top", "facing: top")
    + seam("one", "front: left bottom right", "wall: left")
    + seam("two", "back: left bottom right", "wall: right")
    + step("Line.", seams="carried")
    + step("Mouth.", seams="top-front top-back")
    + step("Walls.", seams="one two")
)


def test_what_carries_the_lining_of_a_panel_from_its_top_lies_inside(resolve_text: Resolve) -> None:
    """50 mm and 200 mm with 10 mm over each other come to the 240 mm of the panel."""
    build = resolve_text(FACING)
    facing = build.space.part(Copy("facing", 1))
    assert facing is not None
    assert (facing.how, facing.is_inner) == ("lies behind", True)
    (once,) = (once for once in build.assembly.sewn if once.seam == "one")
    assert [{ply.part for ply in pile} for pile in pile_seam(build, once)] == [{"front", "facing", "lining", "wall"}]
    (move,) = (it.move for it in build.assembly.lies if (it.copy, it.host) == (Copy("lining", 1), Copy("front")))
    assert (move.e, move.f) == pytest.approx((0, 0))


@pytest.mark.parametrize("deep_mm", [206, 290], ids=["deeper than the room under it", "as deep as both"])
def test_a_lining_that_is_deeper_than_the_panel_hangs_on_what_goes_on_from_that(
    resolve_text: Resolve, deep_mm: int
) -> None:
    """A yoke of 50 mm on a panel of 240 mm has a lining of 290 mm; one of 206 mm is 6 mm deeper than there is room for."""
    build = resolve_text(FACING.replace('"300 mm", "200 mm"', f'"300 mm", "{deep_mm} mm"'))
    facing = build.space.part(Copy("facing", 1))
    assert facing is not None
    assert facing.how == "goes on"


def test_a_lining_with_seams_of_its_own_hangs_in_a_bag_and_is_not_caught(resolve_text: Resolve) -> None:
    """Sewn to each other down their sides, linings hang from their facings: the panel is sewn to the facing alone."""
    sides = seam("bag", "lining 1: left", "lining 2: right")
    build = resolve_text(FACING.replace('seams = ["carried"]', 'seams = ["carried", "bag"]') + sides)
    (once,) = (once for once in build.assembly.sewn if once.seam == "one")
    assert "lining" not in once.stack.parts


SNAP = '[hardware.magnet]\nwhat = "magnetic snap"\nkind = "other"\ncount = 2\n'
IN_PANEL = hole("centre, 30 mm from top", "magnet")
LININGS = (
    piece("front", 200, 150, "{panel}")
    + '[pieces.back]\nlike = "front"\n'
    + piece("inside", 200, 150, 'cut = 2\nlines = ["front", "back"]\n{lining}', "cloth")
    + '[pieces.wall]\nof = "body"\nshape = "strip"\nsize = ["60 mm", "solve"]\n'
    + seam("top-1", "front: top", "inside: top")
    + seam("top-2", "back: top", "inside: top")
    + seam("one", "front: left bottom right", "wall: left")
    + seam("two", "back: left bottom right", "wall: right")
    + SNAP
    + step("Set.", pieces="front back inside", hardware="magnet")
    + step("Line.", seams="top-1 top-2")
    + step("Walls.", seams="one two")
)


@pytest.mark.parametrize(
    ("panel", "lining", "side"), [("", IN_PANEL, -1), (IN_PANEL, "", 1)], ids=["in linings alone", "in panels"]
)
def test_what_is_set_in_linings_alone_lies_on_their_inner_side(
    resolve_text: Resolve, panel: str, lining: str, side: int
) -> None:
    """By one layer and a half inside of the front, its lining being the first; half a layer outside where it is set in
    that."""
    build = resolve_text(LININGS.replace("{panel}", panel).replace("{lining}", lining))
    lifted = TakenApart(build).lifted
    front = lifted.part(Copy("front"))
    assert front is not None
    heights = {round(inner(one.lift, front.out(0)), 3) for one in lifted.metal if abs(one.at[1]) < 1}
    assert heights == {-1.5 if side < 0 else 0.5}
