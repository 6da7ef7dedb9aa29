"""Where the flesh side is hatched: not on hems, which turn their grain there, nor where leather is cut out. By hand."""

import math
from collections.abc import Callable

import pytest
from short_specs import piece, seam, step

from docgen.assemble import Assembled, Copy, TakenApart, Vec
from docgen.geometry.shapes import Point
from docgen.pages.pictures.drawing import Drawing, Shown
from docgen.pages.pictures.hatching import HALF_RIGHT, slope_of
from docgen.pages.pictures.view import View, dimetric, isometric

Resolve = Callable[[str], Assembled]
FROM_BEHIND = View((-1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, -1.0))  # of what lies, true in size
SIZE = 150.0


def drawn_behind(build: Assembled, kind: str) -> list[tuple[float, float, float, float]]:
    """The lines of a kind on the inner side of the front, as mm from its left and its foot."""
    bodies = TakenApart(build).closed.bodies
    front = next(body for body in bodies if body.copy == Copy("front"))
    drawing = Drawing([Shown(body=front)], FROM_BEHIND)
    legs = [(start, end) for name, start, end in drawing.draw(1.0).legs if name == kind]
    wide = drawing.size[0]
    return [(wide - start.x, start.y, wide - end.x, end.y) for start, end in legs]


@pytest.mark.parametrize(("hem", "edge_mm"), [('turn = "12 mm"', 126), ('turn = "12 mm", double = true', 114)])
def test_a_hem_shows_its_grain_inside(resolve_text: Resolve, hem: str, edge_mm: float) -> None:
    """12 mm lie back below the fold, at 138 mm where it is turned once and at 126 mm where twice."""
    text = piece("front", 200, SIZE, f'hems = [{{ edges = "top", {hem} }}]\n') + seam("mouth", "front: top", "front")
    build = resolve_text(text + step("Turn the mouth over and sew it.", seams="mouth", tools="glue"))
    hatched = drawn_behind(build, "hatch")
    assert max(max(y, to_y) for _, y, _, to_y in hatched) == pytest.approx(edge_mm, abs=0.01)
    cut = [leg for leg in drawn_behind(build, "edge") if leg[1] == pytest.approx(leg[3])]
    assert {round(y, 3) for _, y, _, _ in cut} == {edge_mm}, "its cut edge is seen"


def test_a_window_is_not_hatched(resolve_text: Resolve) -> None:
    """Four slits make one of 100 x 20 mm, 60 mm over the foot; a slit alone takes no hatching away."""
    sides = [(50, 60, 150, 60), (150, 80, 150, 60), (150, 80, 50, 80), (50, 80, 50, 60)]
    ends = [
        [f"{at} mm from {edge}" for at, edge in ((x, "left"), (y, "bottom"), (to_x, "left"), (to_y, "bottom"))]
        for x, y, to_x, to_y in sides
    ]
    slits = [f'{{ start = "{a}, {b}", end = "{c}, {d}" }}' for a, b, c, d in ends]

    def hatched_within(count: int) -> bool:
        build = resolve_text(piece("front", 200, SIZE, f"slits = [{', '.join(slits[:count])}]\n"))
        middles = [((x + to_x) / 2, (y + to_y) / 2) for x, y, to_x, to_y in drawn_behind(build, "hatch")]
        longest = max(abs(to_x - x) for x, _, to_x, _ in drawn_behind(build, "hatch"))
        return any(50 < x < 150 and 60 < y < 80 for x, y in middles) or longest > 140

    assert not hatched_within(4)
    assert hatched_within(3)


def test_hems_that_meet_at_a_corner_have_no_line_beyond_the_piece(resolve_text: Resolve) -> None:
    """Hems of 12 mm at three edges: 176 x 138 mm are left, and what lies back ends there."""
    text = piece("front", 200, SIZE, 'hems = [{ edges = "left top right", turn = "12 mm" }]\n')
    text += seam("rim", "front: left top right", "front")
    build = resolve_text(text + step("Turn the edges over and sew them.", seams="rim", tools="glue"))
    front = next(body for body in TakenApart(build).closed.bodies if body.copy == Copy("front"))
    ends = [end for line in front.lines if line.kind == "hem" for end in (line.start, line.end)]
    rim = [at for face in front.faces for at in face.corners]
    assert len(ends) > 4
    for axis in (0, 1):
        assert min(at[axis] for at in rim) - 0.01 <= min(at[axis] for at in ends)
        assert max(at[axis] for at in ends) <= max(at[axis] for at in rim) + 0.01


@pytest.mark.parametrize("right", [(1.0, 0.0, 0.0), (-1.0, 0.0, 0.0), (0.0, 1.0, 0.0)])
def test_lines_that_hatch_what_lies_never_stand_upright(right: Vec) -> None:
    """In an isometric both ways of a table rise at 30 degrees (ISO 5456-3, 5.1): half between them is upright or level."""
    up = (0.0, 1.0, 0.0) if right[0] else (-1.0, 0.0, 0.0)
    view = isometric("front")
    legs = [Point(*view.flat(way)[:2]) for way in (right, up)]
    slope = slope_of(*legs)
    x, y = (legs[0][k] + legs[1][k] * slope for k in (0, 1))
    degrees = math.degrees(math.atan2(abs(y), abs(x)))
    assert degrees < 70
    assert abs(degrees - 30) > 20


def test_what_stands_is_hatched_at_half_a_right_angle() -> None:
    view = dimetric("front")
    assert slope_of(Point(*view.flat((1.0, 0.0, 0.0))[:2]), Point(*view.flat((0.0, 0.0, 1.0))[:2])) == HALF_RIGHT
