"""Where parts come to lie: worked out by hand, by sines and cosines, and against scipy."""

import math
from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest
from built import built
from demos import demo_build
from in_space import at, near, part
from scipy.spatial import ConvexHull
from shapely.geometry import Polygon
from short_specs import hole, piece, rivet, seam

from docgen.assemble import Assembled, Copy, TakenApart, place_parts
from docgen.assemble.space import Space
from docgen.geometry.path import start_point

Resolve = Callable[[str], Assembled]
INSET_MM = 4.0  # of the stitch of the head
CORNERS = 'round = { bottom-left = "30 mm", bottom-right = "30 mm" }\n'


PANELS = (
    piece("back", 200, 150, CORNERS)
    + '[pieces.front]\nlike = "back"\n'
    + '[pieces.wall]\nof = "body"\nshape = "strip"\nsize = ["60 mm", "solve"]\n'
    + seam("one", "back: left bottom right", "wall: left")
    + seam("two", "front: left bottom right", "wall: right")
)


def test_panels_stand_as_far_apart_as_the_wall_is_wide_between_its_seams(place: Callable[[str], Space]) -> None:
    space = place(PANELS)
    back, front = part(space, "back"), part(space, "front")
    assert space.kind == "standing"
    assert at(back, 0, 0) == near(0, 0, 0)
    assert at(back, 200, 150) == near(200, 0, 150)
    # Seen from outside, left of the front is right of the back.
    assert at(front, 0, 0) == near(200, 60 - 2 * INSET_MM, 0)
    assert at(front, 200, 150) == near(0, 60 - 2 * INSET_MM, 150)
    assert back.out(0) == near(0, -1, 0)
    assert front.out(0) == near(0, 1, 0)
    assert [placed.how for placed in space.parts] == ["begun with", "closes", "stands on"]


def test_what_is_riveted_by_two_holes_lies_on_both() -> None:
    """Belt loops with holes 2 1/2 in apart, on a back with holes 4 in apart across and 2 1/2 in up; it stands off the front
    by a gusset of 1 3/4 in, sewn 5/32 in in on both sides."""
    space = built("hip-pouch").build.space
    held = []
    for number in (1, 2):
        loop = next(one for one in space.parts if one.copy == Copy("loop", number))
        held.append(sorted(loop.surface.point(hole.at) for hole in loop.item.holes))
    deep_mm = 44.45 - 2 * 3.96875
    columns = [[near(x, deep_mm, z) for z in (38.1, 101.6)] for x in (88.9 - 50.8, 88.9 + 50.8)]
    assert sorted(held) == columns


def test_a_wall_bends_where_its_panel_does(place: Callable[[str], Space]) -> None:
    wall = part(place(PANELS), "wall")
    sides_mm, quarter_mm, foot_mm = 120.0, math.pi / 2 * 26, 140.0
    long_mm = 2 * sides_mm + 2 * quarter_mm + foot_mm
    assert max(p.y for p in wall.ring) == pytest.approx(long_mm)
    # The strip starts at the panel's left top, as both are gone through; its middle is under the middle of the panel.
    assert at(wall, INSET_MM, long_mm / 2) == near(100, 0, INSET_MM)
    assert at(wall, INSET_MM, 0) == near(INSET_MM, 0, 150)
    assert at(wall, INSET_MM, sides_mm) == near(INSET_MM, 0, 30)
    # What lies beyond its seams is turned on to the panels, and not seen.
    assert {round(p.x, 6) for p in wall.ring} == {INSET_MM, 60 - INSET_MM}
    for face in wall.faces:  # outward everywhere, away from the middle of the bag
        middle = np.mean(face.corners, axis=0)
        assert np.dot(np.subtract(middle, (100, 26, 75)), face.grain) > 50


def test_flesh_faces_out_where_it_is_to_show(place: Callable[[str], Space]) -> None:
    space = place(PANELS.replace('[pieces.front]\nlike = "back"\n', '[pieces.front]\nlike = "back"\nshows = "flesh"\n'))
    front = part(space, "front")
    assert front.out(0) == near(0, 1, 0)
    assert front.faces[0].grain == near(0, -1, 0)
    assert at(front, 0, 0) == near(0, 52, 0), "its template is turned over"
    assert space.widest_mm < 1e-6


def test_the_piece_that_is_named_is_the_front(resolve_text: Resolve, head: str) -> None:
    build = resolve_text(PANELS)
    assert build.space.front == Copy("back")
    space = place_parts(replace(build, front="front"), build.assembly)
    assert space.front == Copy("front")
    assert part(space, "front").out(0) == near(0, -1, 0), "towards who looks at it"


@pytest.mark.parametrize("angle", [30, 90, 135])
def test_an_open_fold_bends_by_its_angle(place: Callable[[str], Space], angle: int) -> None:
    more = f'folds = [{{ at = "100 mm from bottom", open = true, angle = {angle} }}]\n'
    placed = part(place(piece("a", 80, 160, more)), "a")
    assert at(placed, 0, 0) == near(0, 0, 0)
    # 60 mm beyond the fold, turned by so much to the flesh side, which lies down.
    turn = math.radians(angle)
    assert at(placed, 80, 160) == near(80, 100 + 60 * math.cos(turn), -60 * math.sin(turn))


def test_folds_without_an_angle_turn_half_round_together(place: Callable[[str], Space]) -> None:
    more = 'folds = [{ at = "100 mm from bottom", open = true }, { at = "140 mm from bottom", open = true }]\n'
    placed = part(place(piece("a", 80, 180, more)), "a")
    assert at(placed, 0, 140) == near(0, 100, -40)
    assert at(placed, 0, 180) == near(0, 60, -40)


def test_a_closed_fold_lies_back_on_its_piece(place: Callable[[str], Space]) -> None:
    space = place(
        piece("a", 80, 160, 'folds = [{ at = "100 mm from bottom" }]\n' + hole("centre, 20 mm from bottom")) + rivet()
    )
    assert at(part(space, "a"), 10, 160) == near(10, 40, 0)


def test_a_dividing_line_does_not_bend(place: Callable[[str], Space]) -> None:
    more = 'dividers = [{ at = "centre", stitch = "main" }]\n'
    space = place(piece("a", 80, 160, more))
    assert len(part(space, "a").surface.bands) == 1
    assert any(line.kind == "stitch" for line in part(space, "a").lines)


def test_a_hem_lies_back_on_its_piece(place: Callable[[str], Space]) -> None:
    placed = part(place(piece("a", 80, 160, 'hems = [{ edges = "top", turn = "30 mm" }]\n')), "a")
    body, hem = placed.faces
    area = [Polygon([(x, y) for x, y, _ in face.corners]).area for face in (body, hem)]
    assert area == pytest.approx([80 * 130, 80 * 30])
    assert {round(y, 6) for _, y, _ in hem.corners} == {100, 130}
    assert body.grain == near(0, 0, 1)
    assert hem.grain == near(0, 0, -1)


def test_a_ring_closes_on_itself(place: Callable[[str], Space]) -> None:
    space = place(
        '[pieces.strip]\nof = "body"\nshape = "strip"\nsize = ["40 mm", "412 mm"]\n'
        '[joins.collar]\nof = ["strip"]\noverlap = "12 mm"\nring = true\nstitch = "main"\n'
    )
    collar = part(space, "collar")
    assert at(collar, 0, 0) == pytest.approx(at(collar, 0, 400), abs=1e-6)
    radii = [math.hypot(x, y) for face in collar.faces for x, y, _ in face.corners]
    assert radii == pytest.approx([400 / math.tau] * len(radii), rel=0.001)


def test_a_round_base_and_its_ring_hold_what_a_cylinder_holds(place: Callable[[str], Space]) -> None:
    """Volume of the convex hull (scipy) against that of the cylinder between the stitch lines."""
    space = place(
        '[pieces.base]\nof = "body"\nshape = "circle"\ndiameter = "160 mm"\n'
        '[pieces.wall]\nof = "body"\nshape = "strip"\nsize = ["220 mm", "solve"]\n'
        '[joins.body]\nof = ["wall"]\noverlap = "12 mm"\nring = true\nstitch = "main"\n'
        + seam("foot", "base: all", "body: left")
    )
    wall = part(space, "body")
    hull = ConvexHull([corner for face in wall.faces for corner in face.corners])
    assert space.kind == "on its floor"
    assert hull.volume == pytest.approx(math.pi * 76**2 * (220 - INSET_MM), rel=0.005)
    assert max(z for face in wall.faces for *_, z in face.corners) > 0, "up from the floor, whose outer face is down"


def test_a_ring_reaches_up_to_the_fold_of_its_hem(place: Callable[[str], Space]) -> None:
    """A wall of 170 mm, 20 mm of it turned over at the mouth, sewn 4 mm in: 146 mm stand over the floor. A hole 28 mm from
    the cut edge comes to lie 8 mm below the mouth, the row of the hem as far as it is drawn below the fold."""
    space = place(
        '[pieces.base]\nof = "body"\nshape = "circle"\ndiameter = "100 mm"\n'
        '[pieces.wall]\nof = "body"\nshape = "strip"\nsize = ["170 mm", "solve"]\n'
        'hems = [{ edges = "left", turn = "20 mm" }]\n'
        'holes = [{ at = "28 mm from left, 30 mm from start", punch = "4 mm" }]\n'
        '[joins.tube]\nof = ["wall"]\noverlap = "10 mm"\nring = true\nstitch = "main"\n'
        + seam("hem", "wall: left", "wall")
        + seam("foot", "base: edge", "tube: right")
    )
    tube = part(space, "tube")
    heights = [z for _, sheet in tube.sheets(tube.ring) for *_, z in sheet]
    foot = [z for line in tube.lines if (line.kind, line.name) == ("stitch", "foot") for *_, z in line.points]
    row = [z for line in tube.lines if (line.kind, line.name) == ("stitch", "hem") for *_, z in line.points]
    mouth_mm = max(heights)
    assert mouth_mm - max(foot) == pytest.approx(170 - 20 - 4)
    assert mouth_mm - tube.surface.point(tube.item.holes[0].at)[2] == pytest.approx(28 - 20)
    (drawn,) = [mark for mark in tube.item.strips[0].piece.marks.stitch_lines if mark.seam == "hem"]
    assert {round(mouth_mm - z, 6) for z in row} == {round(start_point(drawn.path).x - 20, 6)}


def test_a_bellows_holds_its_pocket_off_by_what_its_pleat_leaves(place: Callable[[str], Space]) -> None:
    space = place(
        piece("front", 300, 220, 'landings = [{ piece = "pocket", at = "centre, 30 mm from bottom" }]\n')
        + piece("pocket", 160, 120)
        + '[pieces.bellows]\nof = "body"\nshape = "strip"\nsize = ["40 mm", "solve"]\n'
        + 'folds = [{ at = "centre", open = true, angle = 90 }]\n'
        + seam("a", "pocket: left bottom right", "bellows: left")
        + seam("b", "bellows: right", "front")
    )
    # Two legs of 16 mm between the seams, at right angles.
    off_mm = math.hypot(16, 16)
    front, pocket = part(space, "front"), part(space, "pocket")
    assert np.dot(np.subtract(at(pocket, 0, 0), at(front, 70, 30)), front.out(0)) == pytest.approx(off_mm)
    assert space.widest_mm < 1e-6


LEANING = (
    piece("floor", 100, 100)
    + '[pieces.wall]\nof = "body"\ncut = 4\nshape = "outline"\npoints = [\n'
    + '  { at = ["0", "0"], edge = "foot" },\n  { at = ["100 mm", "0"], edge = "right" },\n'
    + '  { at = ["120 mm", "80 mm"], edge = "top" },\n  { at = ["-20 mm", "80 mm"], edge = "left" },\n]\n'
    + seam("a", "wall 1: foot", "floor: bottom")
    + seam("b", "wall 2: foot", "floor: right")
    + seam("c", "wall 3: foot", "floor: top")
    + seam("d", "wall 4: foot", "floor: left")
    + seam("ab", "wall 1: left", "wall 2: right")
    + seam("bc", "wall 2: left", "wall 3: right")
    + seam("cd", "wall 3: left", "wall 4: right")
    + seam("da", "wall 4: left", "wall 1: right")
)


def test_walls_lean_until_their_corners_meet(resolve_text: Resolve) -> None:
    """Of a tray whose walls are wider above: each side goes out by 20 mm on 80 of its height, so that the edge between
    two walls goes out by as much both ways. The stitch line beside a slanting side, 4 mm in, crosses that of the foot
    at 4 * root(80 * 80 + 20 * 20) / 80 - 1 mm, not at 4: by that much both ways the corners miss."""
    space = resolve_text(LEANING).space
    off_mm = 4 - (4 * math.hypot(80, 20) / 80 - 1)
    gaps = {gap.seam: gap.apart_mm for gap in space.gaps}
    assert [gaps[name] for name in ("a", "b", "c", "d")] == pytest.approx([0] * 4, abs=1e-6)
    assert [gaps[name] for name in ("ab", "bc", "cd", "da")] == pytest.approx([math.sqrt(2) * off_mm] * 4, abs=1e-3)
    wall = part(space, "wall")
    assert abs(wall.out(0)[2]) == pytest.approx(20 / 80)


def test_the_demo_bag_stands_with_its_pocket_in_front() -> None:
    build = demo_build("field-bag")
    assert isinstance(build, Assembled)
    space = build.space
    assert space.front == Copy("front")
    inset_mm, depth_mm = 25.4 * 5 / 32, 25.4 * 3.5
    assert at(part(space, "back"), 0, 0)[1] == pytest.approx(depth_mm - 2 * inset_mm)
    levels = {placed.copy.part: placed.level for placed in space.parts}
    assert levels["pocket"] > 0 > levels["back-lining"]
    tabs = [part(space, "ring-tab", number) for number in (1, 2)]
    ways = sorted(placed.out(0)[0] for placed in tabs)
    assert ways == pytest.approx([-1, 1], abs=1e-6), "one on each side"


def test_each_flat_part_is_lifted_by_the_layers_beneath_it() -> None:
    build = demo_build("field-bag")
    assert isinstance(build, Assembled)
    space = TakenApart(build).lifted
    lifts = {placed.copy: [tuple(round(x, 6) for x in face.lift) for face in placed.faces] for placed in space.parts}
    out = (0, -1, 0)
    assert lifts[Copy("front")] == [(0, 0, 0)]
    assert lifts[Copy("pocket")] == [out, (0, 0, 0)], "its hem lies between"
    assert lifts[Copy("buckle-tab", 2)] == [(0, -2, 0), out], "the half that is turned back lies beneath"
    assert lifts[Copy("pad", 2)] == [(0, 1, 0)]
    assert lifts[Copy("back-lining", 2)] == [(0, 2, 0)], "behind the foam"
    lining = part(space, "gusset-lining")
    assert all(np.linalg.norm(face.lift) == pytest.approx(1) for face in lining.faces)
    lines = {(line.kind, line.name): line for line in part(space, "pocket").lines}
    assert lines["edge", ""].lift == pytest.approx(out)
    assert ("stitch", "pocket-to-front") in lines


@pytest.mark.parametrize("name", ["field-bag", "satchel"])
def test_a_point_in_space_is_told_back_on_the_piece(name: str) -> None:
    """What lies straight under a point of a part is that point: there and back, in every band."""
    build = demo_build(name)
    assert isinstance(build, Assembled)
    told = 0
    for placed in build.space.parts:
        for k, corners in placed.sheets(placed.ring) if not (placed.surface.asides or placed.surface.pleat) else ():
            for spot in corners:
                foot, lift_mm = placed.surface.foot(placed.surface.bands[k], spot)
                if foot is not None:
                    told += 1
                    assert placed.surface.point(foot, k) == pytest.approx(spot, abs=1e-6)
                    assert lift_mm == pytest.approx(0.0, abs=1e-6)
    assert told > 50


def test_what_lands_later_lies_over_what_it_covers(place: Callable[[str], Space]) -> None:
    """Three on one spot lie one over the other; one beside them lies on the host itself."""
    spots = (
        "60 mm from left, 20 mm from bottom",
        "70 mm from left, 30 mm from bottom",
        "80 mm from left, 40 mm from bottom",
    )
    lands = [
        f'{{ piece = "p{k}", at = "{spot}" }}' for k, spot in enumerate((*spots, "10 mm from left, 20 mm from bottom"))
    ]
    pieces = "".join(piece(f"p{k}", width, width) for k, width in enumerate((80, 60, 40, 30)))
    space = place(piece("a", 200, 150, f"landings = [{', '.join(lands)}]\n") + pieces)
    assert [abs(part(space, f"p{k}").level) for k in range(4)] == [1, 2, 3, 1]
    assert len({part(space, f"p{k}").level > 0 for k in range(4)}) == 1
