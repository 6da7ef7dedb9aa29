"""A bag of two rooms: a divider sewn between two walls by one seam; a grip in the rings of tabs on its flap."""

import pytest
from short_specs import piece, rivet, seam, step
from spec_text import Resolve

from docgen.assemble import Assembled, Copy, TakenApart
from docgen.assemble.space.vectors import minus
from docgen.plan import plan_work

WALL = '[pieces.{}]\nof = "body"\nshape = "strip"\nsize = ["40 mm", "solve"]\n'
ROUND = 'round = { bottom-left = "20 mm", bottom-right = "20 mm" }\n'


@pytest.mark.parametrize("are_walls_first", [False, True])
def test_each_wall_stands_on_its_own_side_of_the_divider(resolve_text: Resolve, are_walls_first: bool) -> None:
    """Walls 40 wide with rows 4 in from their edges: the panels lie 32 and 64 behind the front, and no seam gapes. Lifted
    apart the divider stays between both, in whatever order they are written."""
    panels = [piece(name, 200, 150, ROUND) for name in ("front", "divider", "back")]
    walls = [WALL.format("near"), WALL.format("far")]
    build = resolve_text(
        "".join(walls + panels if are_walls_first else panels + walls)
        + seam("one", "front: left bottom right", "near: left")
        + seam("mid", "near: right", "divider: left bottom right", "far: left")
        + seam("two", "back: left bottom right", "far: right")
        + step("Sew the front.", seams="one")
        + step("Sew both walls to the divider.", seams="mid")
        + step("Sew the back.", seams="two")
    )
    assert isinstance(build, Assembled)
    placed = {part.copy.part: part for part in build.space.parts}
    at = {name: placed[name].surface.bands[0].at[1] for name in ("front", "divider", "back")}
    apart = [at["divider"] - at["front"], at["back"] - at["divider"]]
    assert apart == pytest.approx([32, 32])
    assert max(gap.over_mm for gap in build.space.gaps) == pytest.approx(0, abs=0.1)
    _, (heap,) = TakenApart(build).heaps(1)
    ways = {one.copies[0]: one.way[1] for one in heap.moved}
    assert [*ways] == [Copy("divider"), Copy("far")]
    assert ways[Copy("divider")] == ways[Copy("far")] == pytest.approx(1)
    told = [line.case for line in plan_work(build).steps[1].acts]
    assert [case for case in told if case in ("back_to_back", "edges_meet")] == ["back_to_back", "edges_meet"], (
        "the divider has one flesh side"
    )


def test_a_second_panel_comes_off_the_wall_on_the_side_of_the_first(resolve_text: Resolve) -> None:
    """Of leather, and not said to line the front: it lies behind that all the same, and not beyond the wall."""
    build = resolve_text(
        WALL.format("wall")
        + piece("front", 200, 150, ROUND)
        + piece("plate", 200, 150, ROUND)
        + seam("one", "front: left bottom right", "plate: left bottom right", "wall: left")
        + step("Sew them.", seams="one")
    )
    _, (heap,) = TakenApart(build).heaps(0)
    assert heap.base == (Copy("wall"),)
    way = {one.copies[0]: (round(one.way[1]), one.rank) for one in heap.moved}
    assert way == {Copy("front"): (-1, 1), Copy("plate"): (-1, 0)}


def test_a_grip_goes_with_the_flap_that_its_tabs_are_on(resolve_text: Resolve) -> None:
    """Closed, the flap hangs before the front, and its grip below its tabs; while it is sewn to the back it is straight up,
    and the grip as far over them."""
    sides = ("left", "right")
    spots = ", ".join(f'{{ at = "60 mm from {side}, 110 mm from top", punch = "4 mm" }}' for side in sides)
    folds = ", ".join(f'{{ at = "{down} mm from top", open = true, angle = 90 }}' for down in (20, 60))
    end = '{ shape = "turned", back = "30 mm", around = "ring", takes = "rivet" }'
    build = resolve_text(
        piece("front", 200, 150, ROUND)
        + piece("back", 200, 150, ROUND)
        + piece("flap", 200, 160, f"folds = [{folds}]\nholes = [{spots}]\n")
        + piece("tab", 20, 60, 'cut = 2\nfolds = [{ at = "middle", around = "ring" }]\n')
        + 'holes = [{ at = "centre, 12 mm from bottom", punch = "4 mm", takes = "rivet", through = ["flap"] },\n'
        + '{ at = "centre, 12 mm from top", punch = "4 mm" }]\n'
        + WALL.format("wall")
        + f'[straps.grip]\nof = "body"\nwidth = "20 mm"\nfinished = "140 mm"\nends = [{end}, {end}]\n'
        + '[hardware.ring]\nwhat = "D ring"\nkind = "ring"\ncount = 2\ninside = "20 mm"\nbar = "3 mm"\n'
        + rivet(4)
        + seam("on", "flap: top", "back: top")
        + seam("one", "front: left bottom right", "wall: left")
        + seam("two", "back: left bottom right", "wall: right")
        + step("Rivet the tabs with the grip.", pieces="tab flap", straps="grip", hardware="ring rivet")
        + step("Sew the flap.", seams="on")
        + step("Close.", seams="one two")
    )
    assert isinstance(build, Assembled)
    apart = TakenApart(build)
    closed, (straight, _) = {body.copy: body for body in apart.closed.bodies}, apart.heaps(1)
    (_, y, z), (_, up_y, up_z) = (
        minus(*(bodies[Copy(name)].placed.surface.bands[0].at for name in ("grip", "tab")))
        for bodies in (closed, straight)
    )
    assert (y, up_y) == pytest.approx((0, 0))
    assert z == pytest.approx(-up_z)
    assert z < -40


def test_a_floor_comes_off_the_walls_that_stand_on_it(resolve_text: Resolve) -> None:
    """Of a box whose four walls are sewn first, face to face: up it would go through them."""
    sides = (("front", "right", "end 1", "left"), ("end 1", "right", "back", "left"))
    sides += (("back", "right", "end 2", "left"), ("end 2", "right", "front", "left"))
    turned = "turned = true\n"
    corners = [
        seam(f"corner-{k}", f"{one}: {a}", f"{two}: {b}", more=turned) for k, (one, a, two, b) in enumerate(sides)
    ]
    feet = (("front", "bottom"), ("end 1", "right"), ("back", "top"), ("end 2", "left"))
    build = resolve_text(
        "".join(piece(name, 200, 150) for name in ("front", "back"))
        + piece("end", 60, 150, "cut = 2\n")
        + piece("base", 200, 60)
        + "".join(corners)
        + "".join(
            seam(f"foot-{k}", f"base: {edge}", f"{one}: bottom", more=turned) for k, (one, edge) in enumerate(feet)
        )
        + step("Sew the walls.", seams=" ".join(f"corner-{k}" for k in range(4)))
        + step("Sew the base in.", seams=" ".join(f"foot-{k}" for k in range(4)))
    )
    bodies, (heap,) = TakenApart(build).heaps(1)
    (one,) = heap.moved
    assert one.copies == (Copy("base"),)
    walls = [at[2] for copy in heap.base for face in bodies[copy].faces for at in face.corners]
    base = bodies[Copy("base")].faces[0].corners[0][2]
    assert one.way[2] * (base - sum(walls) / len(walls)) > 0
