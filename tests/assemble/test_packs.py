"""A pack with a flap over its top, and straps from its back to its wall that lie over the flap. Figures by hand."""

import pytest
from short_specs import piece, seam, step
from spec_text import Resolve

from docgen.assemble import Assembled, Copy, TakenApart
from docgen.assemble.apart.straight import straighten
from docgen.assemble.space import inner

FOLDS = (
    'folds = [{ at = "20 mm from top", open = true, angle = 90 }, { at = "92 mm from top", open = true, angle = 90 }]\n'
)
ON_BACK = """\
landings = [
  { piece = "flap", at = "centre, 20 mm from top" },
  { strap = "shoulder", end = "first", at = "50 mm left of centre, 80 mm from top", over = "50 mm" },
  { strap = "shoulder", end = "first", at = "50 mm right of centre, 80 mm from top", over = "50 mm" },
]
"""
ON_WALL = """\
landings = [
  { strap = "shoulder", end = "second", at = "centre, 150 mm from start", over = "30 mm" },
  { strap = "shoulder", end = "second", at = "centre, 150 mm from end", over = "30 mm" },
]
"""
SHOULDER = """\
[straps.shoulder]
of = "body"
cut = 2
width = "30 mm"
finished = "600 mm"
ends = [{ shape = "rounded" }, { shape = "square" }]
"""
PACK = (
    piece("front", 200, 240)
    + '[pieces.back]\nlike = "front"\n'
    + ON_BACK
    + '[pieces.wall]\nof = "body"\nshape = "strip"\nsize = ["80 mm", "solve"]\n'
    + ON_WALL
    + piece("flap", 200, 180, FOLDS)
    + SHOULDER
    + seam("flap", "flap: top", "back")
    + seam("one", "front: left bottom right", "wall: left")
    + seam("two", "back: left bottom right", "wall: right")
    + step("Flap, and the straps on the back.", seams="flap", straps="shoulder", pieces="back")
    + step("Walls.", seams="one two")
)


@pytest.fixture
def pack(resolve_text: Resolve) -> Assembled:
    return resolve_text(PACK)


def test_a_strap_that_goes_through_a_wall_opens_no_flap(pack: Assembled) -> None:
    """From the back over the top and down to the wall below, 600 mm long, it comes through that: it is drawn straight on,
    and the flap, 72 mm over walls that leave 72 mm between their stitch lines, closed."""
    assert TakenApart(pack).closed.opened == ("shoulder",)


def test_without_straps_nothing_is_opened(resolve_text: Resolve) -> None:
    text = PACK.replace(ON_WALL, "").replace(SHOULDER, "").replace(' straps = ["shoulder"]', "")
    lines = [line for line in text.splitlines() if "shoulder" not in line]
    assert TakenApart(resolve_text("\n".join(lines))).closed.opened == ()


def test_what_lies_flat_at_the_end_of_a_strap_is_not_twisted(pack: Assembled) -> None:
    """The 50 mm on the back look as the back does, the 30 mm on the wall as that does there; in between it turns."""
    strap, back = pack.space.part(Copy("shoulder", 1)), pack.space.part(Copy("back"))
    assert strap is not None
    assert back is not None
    bands = strap.surface.bands
    lying = [k for k, band in enumerate(bands) if band.end_mm <= 50.001]
    assert lying
    assert [inner(strap.out(k), back.out(0)) for k in lying] == pytest.approx([1.0] * len(lying))
    middle = next(k for k, band in enumerate(bands) if band.begin_mm > 300)
    assert abs(inner(strap.out(middle), back.out(0))) < 0.99


def test_straps_whose_other_end_is_not_there_yet_are_straight_and_come_on_last(pack: Assembled) -> None:
    """The wall comes on with the second step. The flap lies on the back, the straps over its 20 mm: they are lifted off
    farther, of what goes the same way."""
    bodies, (heap,) = TakenApart(pack).heaps(0)
    ranks = {one.copies[0].part: one.rank for one in heap.moved}
    assert ranks["shoulder"] > ranks["flap"]
    ways = {one.copies[0].part: one.way for one in heap.moved}
    assert inner(ways["shoulder"], ways["flap"]) == pytest.approx(1.0)
    strap = bodies[Copy("shoulder", 1)].placed
    assert {tuple(round(x, 6) for x in band.way) for band in strap.surface.bands} == {(0.0, 0.0, 1.0)}


def test_a_strap_lies_over_a_flap_that_stands_open(pack: Assembled) -> None:
    """Straight, it is lifted by two layers: the back, the flap on it, and then the strap."""
    closed = TakenApart(pack).closed
    body = next(body for body in closed.bodies if body.copy == Copy("shoulder", 1))
    back = pack.space.part(Copy("back"))
    assert back is not None
    lifts = [inner(lift, back.out(0)) for lift in body.placed.lifts]
    assert lifts == pytest.approx([2.0] * len(lifts), abs=0.01)


HANDLE = """\
landings = [
  { strap = "handle", end = "first", at = "50 mm left of centre, 40 mm from top", over = "30 mm" },
  { strap = "handle", end = "second", at = "50 mm right of centre, 40 mm from top", over = "30 mm" },
]
"""


def test_a_handle_with_both_ends_on_one_face_is_never_straight(resolve_text: Resolve) -> None:
    """Straight up from its first end, the second would hang in the air."""
    strap = SHOULDER.replace("shoulder", "handle").replace("cut = 2", "cut = 1").replace("600", "260")
    build = resolve_text(piece("front", 200, 150, HANDLE) + strap + step("Handle.", pieces="front", straps="handle"))
    bodies = {body.copy: body for body in TakenApart(build).bodies}
    handle = Copy("handle")
    assert bodies[handle].placed.is_held_twice
    assert straighten(bodies)[handle].placed.surface == bodies[handle].placed.surface
