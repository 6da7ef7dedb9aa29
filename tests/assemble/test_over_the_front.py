"""Flaps that come down in the very plane of the front lie over it and all that lies on it, and no gap is drawn where they
bend. Figures by hand: of a gusset of 60 mm each turned seam takes 4 mm, and a flap whose folds are 52 mm apart is flush."""

from collections.abc import Mapping

import pytest
from short_specs import piece, seam, step
from spec_text import Resolve

from docgen.assemble import Assembled, Body, TakenApart, inner
from docgen.assemble.apart.facing import looks_away
from docgen.assemble.apart.finished import BEHIND
from docgen.geometry.shapes import Point

WALL = '[pieces.wall]\nof = "body"\nshape = "strip"\nsize = ["60 mm", "solve"]\n'
POCKET = piece("pocket", 100, 60) + seam("pocket", "pocket: left bottom right", "front")
HELD = 'landings = [{ piece = "pocket", at = "centre, 40 mm from bottom" }]\n'
LANDS = 'landings = [{ piece = "flap", at = "centre, 16 mm from top" }]\n'
LINING = '[pieces.flap-lining]\nlike = "flap"\nmirror = true\n'
EDGE = seam("edge", "flap: left bottom right", "flap-lining: right bottom left")
LAID = seam("on", "flap: top", "back")
LAPPED = seam("on", "flap: top", "back: top", more='lap = "12 mm"\n')


def drawn(resolve_text: Resolve, root: float, deep: float, on: str, *, is_lined: bool = False) -> Mapping[str, Body]:
    """A bag of 200 by 150 with a pocket on its front, closed by a flap that comes 100 mm down."""
    ups = (root, root + deep)
    bends = ", ".join(f'{{ at = "{up} mm from top", open = true, angle = 90 }}' for up in ups)
    flap = piece("flap", 200, root + deep + 100, f"folds = [{bends}]\n")
    text = piece("front", 200, 150, HELD) + piece("back", 200, 150, LANDS if on == LAID else "") + WALL + POCKET + flap
    text += on + (LINING + EDGE if is_lined else "")
    for name, panel, side in (("one", "front", "left"), ("two", "back", "right")):
        text += seam(name, f"{panel}: left bottom right", f"wall: {side}", more="turned = true\n")
    seams = "pocket edge on one two" if is_lined else "pocket on one two"
    build = resolve_text(text + step("Sew and turn.", seams=seams))
    assert isinstance(build, Assembled)
    return {body.copy.part: body for body in TakenApart(build).closed.bodies}


def over_mm(bodies: Mapping[str, Body], part: str, at: Point, other: str, its: Point) -> float:
    """By how much, in front of the bag, a place of one part is drawn over that of another."""
    out = bodies["front"].placed.out(0)
    one, under = (
        bodies[name].point(spot, bodies[name].placed.surface.band_of(spot)) for name, spot in ((part, at), (other, its))
    )
    return inner(one, out) - inner(under, out)


@pytest.mark.parametrize("is_lined", [False, True])
@pytest.mark.parametrize(("on", "root"), [(LAID, 22), (LAPPED, 12)], ids=["laid", "lapped"])
@pytest.mark.parametrize("deep", [50, 52, 54], ids=["2 mm short", "flush", "2 mm proud"])
def test_a_flap_lies_over_front_and_pocket(
    resolve_text: Resolve, on: str, root: float, deep: float, *, is_lined: bool
) -> None:
    bodies = drawn(resolve_text, root, deep, on, is_lined=is_lined)
    tip, low, mid = Point(20, 20), Point(20, 60), Point(50, 55)
    assert over_mm(bodies, "flap", tip, "front", low) > 1
    assert over_mm(bodies, "flap", tip, "pocket", mid) > 1
    assert not is_lined or over_mm(bodies, "flap-lining", Point(180, 20), "pocket", mid) > 1
    assert not is_lined or over_mm(bodies, "flap", tip, "flap-lining", Point(180, 20)) > 1


def test_one_far_too_short_for_its_bag_is_not_drawn_over_it(resolve_text: Resolve) -> None:
    """10 mm behind the front: that is for the checks to tell, and no picture makes it fit."""
    assert over_mm(drawn(resolve_text, 22, 42, LAID), "flap", Point(20, 20), "front", Point(20, 60)) < -5


def test_no_gap_is_drawn_where_it_bends(resolve_text: Resolve) -> None:
    """Its folds lie 100 and 152 mm above its tip: at each, both sides of the bend are in one place."""
    flap = drawn(resolve_text, 22, 52, LAID)["flap"]
    surface = flap.placed.surface
    assert len(surface.bands) == 3
    for k in (0, 1):
        at = next(
            at
            for face in flap.faces
            for at in face.ring
            if abs(surface.measure(at)[0] - surface.bands[k].end_mm) < 1e-6
        )
        assert flap.point(at, k) == pytest.approx(flap.point(at, k + 1))


def build_inside(resolve_text: Resolve, deep: float, more: str = "", *, is_sewn: bool = True) -> Assembled:
    """The bag, with the flap laid inside its back, and bent there 22 mm above its end."""
    ups = ", ".join(f'{{ at = "{up} mm from top", open = true, angle = 90{more} }}' for up in (22, 22 + deep))
    text = piece("front", 200, 150) + piece("back", 200, 150, LANDS.replace(" }]", ", inside = true }]")) + WALL
    text += piece("flap", 180, 22 + deep + 100, f"folds = [{ups}]\n") + (LAID if is_sewn else "")
    for name, panel, side in (("one", "front", "left"), ("two", "back", "right")):
        text += seam(name, f"{panel}: left bottom right", f"wall: {side}")
    held = step("Flap.", seams="on") if is_sewn else step("Glue the flap on.", pieces="flap back", tools="glue")
    build = resolve_text(text + held + step("Sew.", seams="one two"))
    assert isinstance(build, Assembled)
    return build


def test_one_laid_inside_that_would_hang_behind_its_back_is_not_drawn_so(resolve_text: Resolve) -> None:
    """No seam tells by which end it is held: flesh on flesh, its folds bring it round the top edge, 52 mm off the back."""
    apart = TakenApart(build_inside(resolve_text, 52, is_sewn=False))
    assert "flap" not in {body.copy.part for body in apart.closed.bodies}
    assert {copy.part: why for copy, why in apart.finished.wrong.items()} == {"flap": BEHIND.format("back")}


@pytest.mark.parametrize(
    ("deep", "more"),
    [(4, ""), (52, ""), (52, ', inside = "grain"')],
    ids=["round the edge", "over the front", "over the front, flesh side out"],
)
def test_one_folded_round_the_edge_or_over_the_front_is_drawn(resolve_text: Resolve, deep: float, more: str) -> None:
    apart = TakenApart(build_inside(resolve_text, deep, more))
    bodies = {body.copy.part: body for body in apart.closed.bodies}
    assert deep < 10 or over_mm(bodies, "flap", Point(20, 20), "front", Point(20, 60)) > 1
    tip = bodies["flap"].placed.surface.band_of(Point(20, 20))
    grain = next(face.grain for face in bodies["flap"].faces if face.band == tip)
    assert (inner(grain, bodies["front"].placed.out(0)) > 0) == (not more)


def test_a_front_that_is_left_out_of_the_picture_is_the_front_still(resolve_text: Resolve) -> None:
    """The back, which bears more, is put first, with its grain to whoever looks: the front looks away."""
    loops = piece("loop", 30, 80, "cut = 2\n") + seam("up", "loop: top", "back") + seam("down", "loop: bottom", "back")
    lands = ", ".join(
        f'{{ piece = "loop", at = "40 mm from {side}, 30 mm from bottom" }}' for side in ("left", "right")
    )
    text = piece("front", 200, 150) + piece("back", 200, 150, f"landings = [{lands}]\n") + WALL + loops
    text += seam("one", "front: left bottom right", "wall: left") + seam(
        "two", "back: left bottom right", "wall: right"
    )
    build = resolve_text(text + step("Loops.", seams="up down") + step("Sew.", seams="one two"))
    assert isinstance(build, Assembled)
    bodies = TakenApart(build).closed.bodies
    front = next(body for body in bodies if body.copy.part == "front")
    assert front.placed.out(0)[1] > 0
    assert looks_away(build, bodies)
    assert looks_away(build, [body for body in bodies if body is not front])
