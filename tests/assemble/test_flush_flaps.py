"""The flap of a body in one piece that comes down in the very plane of its front, with a snap. Figures by hand."""

import pytest
from short_specs import hole, piece, seam, step
from spec_text import Resolve

from docgen.assemble import Assembled, Copy, TakenApart
from docgen.assemble.space.placed import LAYER_MM

WALL = '[pieces.wall]\nof = "body"\nshape = "strip"\nsize = ["48 mm", "solve"]\n'
FOLDS = ", ".join(f'{{ at = "{up} mm from bottom", open = true, angle = 90 }}' for up in (140, 180))
BAG = (
    piece("front", 200, 140, hole("centre, 60 mm from bottom", "magnet"))
    + piece("back", 200, 280, f"folds = [{FOLDS}]\nHOLE")
    + WALL
    + seam("one", "front: left bottom right", "wall: left")
    + seam("two", "back: left bottom right from top 140 mm to top 140 mm", "wall: right")
    + '[hardware.magnet]\nwhat = "magnetic snap"\nkind = "snap"\ncount = 1\n'
)
OWN = hole("centre, 20 mm from top", "magnet")
LINING = '[pieces.lining]\nof = "body"\nlike = "back"\nmarks = false\nlines = ["back"]\n' + OWN
RIM = "right top left from bottom 140 mm to bottom 140 mm"


def build_of(resolve_text: Resolve, text: str, seams: str = "one two", pieces: str = "front back") -> Assembled:
    build = resolve_text(text + step("Set.", pieces=pieces, hardware="magnet") + step("Sew.", seams=seams))
    assert isinstance(build, Assembled)
    return build


def halves(build: Assembled) -> dict[str, str]:
    return {one.part: one.half for one in build.assembly.fastened}


@pytest.mark.parametrize("row", ["", seam("rim", f"back: {RIM}")])
def test_a_row_round_a_flap_leaves_its_cap_in_it(resolve_text: Resolve, row: str) -> None:
    build = build_of(resolve_text, BAG.replace("HOLE", OWN) + row, "rim one two" if row else "one two")
    assert halves(build) == {"front": "stud", "back": "cap"}


def test_half_a_snap_in_the_lining_of_a_flap_closes_on_the_front_and_is_out_of_sight(resolve_text: Resolve) -> None:
    text = BAG.replace("HOLE", "") + LINING + seam("rim", f"back: {RIM}", f"lining: {RIM}")
    build = build_of(resolve_text, text, "rim one two", "front lining")
    assert halves(build) == {"front": "stud", "lining": "cap"}
    assert not TakenApart(build).withheld


def test_a_flap_in_the_plane_of_the_front_is_drawn_over_it(resolve_text: Resolve) -> None:
    """A top of 40 mm over a wall of 48 mm, 4 mm of it in each seam."""
    apart = TakenApart(build_of(resolve_text, BAG.replace("HOLE", OWN)))
    back, front = (next(body for body in apart.closed.bodies if body.copy == Copy(name)) for name in ("back", "front"))
    lift = back.lifts[0] if any(back.lifts[0]) else back.lifts[-1]
    assert sum(a * b for a, b in zip(lift, front.placed.out(0), strict=True)) == pytest.approx(LAYER_MM)
    assert not any(map(any, front.lifts))
