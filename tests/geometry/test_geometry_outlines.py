"""Outlines and runs against closed forms and shapely (area, self crossing)."""

import itertools
import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import LinearRing, LineString, Polygon

from docgen.geometry.crossing import find_crossing, find_self_crossing
from docgen.geometry.outline import (
    Corner,
    circle_outline,
    corner_names,
    corner_outline,
    edge_names,
    edge_path,
    mirror_outline,
    outline_box,
    outline_path,
    rectangle_outline,
    strip_outline,
    transform_outline,
)
from docgen.geometry.path import end_point, flatten, path_area, path_length, polyline, reverse_path, start_point
from docgen.geometry.run import run_path
from docgen.geometry.shapes import Arc, Curve, GeometryError, Line, Outline, Path, Point
from docgen.geometry.vector import distance, mirror_x, rotation, translation

few = settings(max_examples=80, derandomize=True, deadline=None)
PANEL = rectangle_outline(200, 150, {"bottom-left": 30, "bottom-right": 30})


def corners_of(*points, **more):
    return [Corner(Point(*p), **more) for p in points]


def is_joined(outline):
    paths = [edge.path for edge in outline.edges]
    return all(distance(end_point(paths[k - 1]), start_point(p)) < 1e-9 for k, p in enumerate(paths))


def near(a, b):
    return distance(a, b) < 1e-9


def test_a_rectangle_has_named_edges_and_corner_arcs_in_order():
    assert [(e.name, e.corner) for e in PANEL.edges] == [
        ("bottom", False),
        ("bottom-right", True),
        ("right", False),
        ("top", False),
        ("left", False),
        ("bottom-left", True),
    ]
    assert edge_path(PANEL, "bottom") == Path((Line(Point(30, 0), Point(170, 0)),))
    (arc,) = edge_path(PANEL, "bottom-right").segments
    assert isinstance(arc, Arc)
    assert (*arc.centre, arc.radius, arc.sweep) == pytest.approx((170, 30, 30, math.pi / 2))
    assert is_joined(PANEL)


def test_a_rounded_rectangle_has_the_area_of_its_closed_form():
    # two quarter circles replace two squares of 30 mm
    assert path_area(outline_path(PANEL)) == pytest.approx(200 * 150 - 2 * (900 - 225 * math.pi))
    box = outline_box(PANEL)
    assert (box.left, box.bottom, box.right, box.top) == pytest.approx((0, 0, 200, 150))


def test_a_strip_stands_upright_with_its_start_at_the_bottom():
    strip = strip_outline(30, 300, {"end-left": 8})
    assert edge_names(strip) == ("start", "right", "end", "left")
    assert corner_names(strip) == ("end-left",)
    assert start_point(edge_path(strip, "start")) == (0, 0)
    assert end_point(edge_path(strip, "right")) == (30, 300)


def test_two_roundings_may_use_up_an_edge_which_stays_without_length():
    strap = strip_outline(30, 300, {"end-left": 15, "end-right": 15})
    assert path_length(edge_path(strap, "end")) == 0
    assert start_point(edge_path(strap, "end")) == pytest.approx((15, 300))
    assert path_length(run_path(strap, ("right", "end", "left"))) == pytest.approx(570 + 15 * math.pi)
    assert path_length(run_path(strap, ("end",))) == 0
    assert is_joined(strap)


def test_a_circle_has_one_edge_and_stands_on_the_axes():
    disc = circle_outline(50)
    assert edge_names(disc) == ("edge",)
    assert path_area(outline_path(disc)) == pytest.approx(625 * math.pi)
    assert outline_box(disc).left == pytest.approx(0)
    assert start_point(outline_path(disc)) == pytest.approx((25, 0))
    assert run_path(disc, ("edge",)) == run_path(disc, ("all",)) == outline_path(disc)


def test_a_clockwise_outline_is_turned_and_each_edge_keeps_its_name():
    points = [(0, 0), (0, 50), (80, 50), (80, 0)]
    outline = corner_outline([Corner(Point(*points[0]), edge="west", radius=5), *corners_of(*points[1:])])
    assert path_area(outline_path(outline)) == pytest.approx(80 * 50 - 25 + 25 * math.pi / 4)
    assert edge_names(outline) == ("west", "edge-4", "edge-3", "edge-2")
    assert corner_names(outline) == ("corner-1",)
    assert start_point(edge_path(outline, "west")) == (0, 50)
    assert is_joined(outline)


def test_two_corners_and_curves_make_an_outline():
    leaf = corner_outline(
        [
            Corner(Point(0, 0), edge="lower", handles=(Point(30, -40), Point(70, -40))),
            Corner(Point(100, 0), edge="upper", handles=(Point(70, 40), Point(30, 40))),
        ]
    )
    assert isinstance(edge_path(leaf, "lower").segments[0], Curve)
    # under a cubic with heights 0, h, h, 0 over widths 0, 30, 70, 100: worked with shapely's chords
    chords = Polygon(flatten(outline_path(leaf), 1e-4))
    assert path_area(outline_path(leaf)) == pytest.approx(chords.area, rel=1e-5)
    assert end_point(run_path(leaf, ("lower", "upper"))) == (0, 0)
    assert start_point(run_path(leaf, ("upper", "lower"))) == (100, 0)


def test_a_rounding_on_a_straight_angle_leaves_no_arc():
    outline = corner_outline(corners_of((0, 0), (50, 0), (100, 0), (100, 60), (0, 60), radius=5))
    assert corner_names(outline) == ("corner-3", "corner-4", "corner-5", "corner-1")


def test_concave_roundings_turn_the_other_way():
    points = [(0, 0), (100, 0), (100, 40), (40, 40), (40, 100), (0, 100)]
    ell = corner_outline([Corner(Point(*p), radius=10 if p == (40, 40) else 0) for p in points])
    # the L without roundings, and a fillet of r2 - pi r2 / 4 more
    assert path_area(outline_path(ell)) == pytest.approx(100 * 40 + 40 * 60 + 100 - 25 * math.pi)
    assert edge_path(ell, "corner-4").segments[0].sweep == pytest.approx(-math.pi / 2)
    assert is_joined(ell)


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (lambda: rectangle_outline(0, 10), "a piece of 0 x 10 mm has no area"),
        (lambda: strip_outline(10, math.nan), "a piece of 10 x nan mm has no area"),
        (
            lambda: rectangle_outline(20, 10, {"left": 3}),
            "there is no corner 'left'; the corners are bottom-left, bottom-right, top-right, top-left",
        ),
        (
            lambda: strip_outline(20, 90, {"start-left": 12, "start-right": 9}),
            "the edge 'start' is 20 mm long, too short for the roundings at its ends, which take 12 and 9 mm of it",
        ),
        (lambda: rectangle_outline(20, 10, {"top-left": -3}), "the radius -3 mm at the corner 'top-left' is below 0"),
        (lambda: circle_outline(-4), "a circle needs a diameter above 0 mm, not -4 mm"),
        (
            lambda: corner_outline(corners_of((0, 0), (10, 0))),
            "an outline needs at least two corners and a curved edge, or three corners; here are 2",
        ),
        (
            lambda: corner_outline([]),
            "an outline needs at least two corners and a curved edge, or three corners; here are 0",
        ),
        (
            lambda: corner_outline(corners_of((0, 0), (10, 0), (10, 0), (0, 10))),
            "the corners 'corner-2' and 'corner-3' lie on top of each other",
        ),
        (
            lambda: corner_outline(corners_of((0, 0), (math.inf, 0), (0, 10))),
            "a figure at the corner 'corner-2' is not a number",
        ),
        (lambda: corner_outline(corners_of((0, 0), (10, 0), (20, 0))), "the outline has no area"),
        (
            lambda: corner_outline(corners_of((0, 0), (10, 10), (10, 0), (0, 12))),
            "the outline crosses or touches itself near (5.5, 5.5) mm",
        ),
        (
            lambda: corner_outline(corners_of((0, 0), (20, 0), (20, 10), (10, 0), (0, 10))),
            "the outline crosses or touches itself near (10.0, 0.0) mm",
        ),
        (
            lambda: corner_outline(corners_of((0, 0), (20, 0), (30, 0), (20, 0), (20, 10))),
            "the outline crosses or touches itself near (30.0, 0.0) mm",
        ),
        (
            lambda: corner_outline(
                [
                    Corner(Point(0, 0), handles=(Point(5, -5), Point(15, -5))),
                    Corner(Point(20, 0), radius=2),
                    Corner(Point(20, 20)),
                ]
            ),
            "the corner 'corner-2' has a radius, and a corner beside a curve cannot be rounded",
        ),
        (
            lambda: corner_outline(corners_of((0, 0), (20, 0), (20, 10), edge="side")),
            "the name 'side' is given twice in one outline",
        ),
        (
            lambda: corner_outline([Corner(Point(0, 0), edge="all"), *corners_of((20, 0), (20, 10))]),
            "the name 'all' means the whole outline; an edge needs another one",
        ),
        (
            lambda: edge_path(PANEL, "side"),
            "there is no edge 'side'; there are bottom, right, top, left, bottom-right, bottom-left",
        ),
    ],
)
def test_outlines_that_do_not_exist_say_why(call, message):
    with pytest.raises(GeometryError) as caught:
        call()
    assert str(caught.value) == message


@few
@given(st.lists(st.tuples(st.integers(0, 12), st.integers(0, 12)), min_size=3, max_size=9))
def test_a_crossing_is_found_exactly_where_shapely_finds_the_ring_not_simple(points):
    # outside check: shapely's is_simple on the closed ring; repeated neighbours are shapely's own exception
    if len(set(points)) < 3 or any(p == points[k - 1] for k, p in enumerate(points)):
        return
    ring = (*(Point(*p) for p in points), Point(*points[0]))
    assert (find_self_crossing(ring) is None) == LinearRing(ring).is_simple


@few
@given(st.lists(st.tuples(st.integers(0, 5), st.integers(0, 5)), min_size=2, max_size=6))
def test_an_open_line_crosses_itself_where_shapely_finds_it_not_simple(points):
    # outside check: shapely's is_simple; lines that end where they begin are rings, and are looked at as such above
    if any(one == other for one, other in itertools.pairwise(points)) or points[0] == points[-1]:
        return
    assert (find_self_crossing([Point(*p) for p in points]) is None) == LineString(points).is_simple


def test_a_line_that_winds_one_way_is_found_where_it_comes_back_on_itself():
    half_turn = [Point(0, 0), Point(10, 0), Point(10, 5), Point(0, 5)]
    assert find_self_crossing(half_turn) is None
    assert find_self_crossing([*half_turn, Point(0, 1)]) is None
    assert find_self_crossing([*half_turn, Point(0, -1)]) == pytest.approx((0, 0))


@pytest.mark.parametrize("at", range(1, 12))
def test_an_upright_line_and_a_level_one_cross_wherever_they_do(at):
    level, upright = [Point(0, at), Point(12, at)], [Point(at, 0), Point(at, 12)]
    assert find_crossing(level, upright) == find_crossing(upright, level) == (at, at)
    ring = (Point(0, at), Point(12, at), Point(12, 13), Point(at, 13), Point(at, -1), Point(0, -1), Point(0, at))
    assert find_self_crossing(ring) == pytest.approx((at, at))


@few
@given(
    st.lists(st.tuples(st.integers(0, 9), st.integers(0, 9)), min_size=2, max_size=5, unique=True),
    st.lists(st.tuples(st.integers(0, 9), st.integers(0, 9)), min_size=2, max_size=5, unique=True),
)
def test_two_lines_meet_exactly_where_shapely_says_they_intersect(one, other):
    found = find_crossing([Point(*p) for p in one], [Point(*p) for p in other])
    assert (found is not None) == LineString(one).intersects(LineString(other))


def test_a_line_of_fewer_than_two_points_meets_nothing():
    assert find_self_crossing([]) is None
    assert find_self_crossing([Point(1, 1), Point(1, 1)]) is None
    assert find_crossing([Point(1, 1)], [Point(0, 0), Point(2, 2)]) is None


def test_long_thin_rays_do_not_cross():
    # a star of 200 long thin rays: every leg runs through many cells
    points = [
        Point(
            (100 if k % 2 else 20) * math.cos(k * math.pi / 100), (100 if k % 2 else 20) * math.sin(k * math.pi / 100)
        )
        for k in range(200)
    ]
    outline = corner_outline([Corner(p) for p in points])
    assert path_area(outline_path(outline)) == pytest.approx(Polygon(points).area)


def test_mirroring_a_rectangle_keeps_left_on_the_left():
    mirrored = mirror_outline(rectangle_outline(200, 150, {"bottom-left": 30, "top-right": 10}))
    wanted = rectangle_outline(200, 150, {"bottom-right": 30, "top-left": 10})
    assert [(e.name, e.corner) for e in mirrored.edges] == [(e.name, e.corner) for e in wanted.edges]
    for one, other in zip(mirrored.edges, wanted.edges, strict=True):
        assert near(start_point(one.path), start_point(other.path))
        assert near(end_point(one.path), end_point(other.path))
        assert path_length(one.path) == pytest.approx(path_length(other.path))


def test_mirroring_a_strip_keeps_left_on_the_left():
    mirrored = mirror_outline(strip_outline(30, 300, {"start-left": 8, "end-left": 12}))
    assert edge_names(mirrored) == ("start", "right", "end", "left")
    assert corner_names(mirrored) == ("start-right", "end-right")
    assert start_point(edge_path(mirrored, "left")) == pytest.approx((0, 300), abs=1e-9)


def test_mirroring_any_other_outline_leaves_each_name_with_its_edge():
    wedge = corner_outline(
        [Corner(Point(5, 5), edge="left"), Corner(Point(65, 5), "tip", radius=4, edge="slope"), Corner(Point(5, 45))]
    )
    mirrored = mirror_outline(wedge)
    assert edge_names(mirrored) == ("left", "edge-3", "slope")
    assert corner_names(mirrored) == ("tip",)
    assert path_area(outline_path(mirrored)) == pytest.approx(path_area(outline_path(wedge)))
    assert outline_box(mirrored).left == pytest.approx(outline_box(wedge).left)
    assert path_length(edge_path(mirrored, "slope")) == pytest.approx(path_length(edge_path(wedge, "slope")))
    assert is_joined(mirrored)


def test_moving_an_outline_keeps_names_and_sense_of_turning():
    for t in (rotation(0.5), translation(3, 4), mirror_x(20)):
        moved = transform_outline(PANEL, t)
        assert set(edge_names(moved)) == set(edge_names(PANEL))
        assert edge_names(moved)[0] == "bottom"
        assert path_area(outline_path(moved)) == pytest.approx(path_area(outline_path(PANEL)))
        assert is_joined(moved)


def test_a_run_named_the_other_way_runs_the_other_way():
    forward = run_path(PANEL, ("left", "bottom", "right"))
    assert run_path(PANEL, ("right", "bottom", "left")) == reverse_path(forward)


def test_a_run_may_pass_the_start_of_the_outline_and_name_every_edge():
    run = run_path(PANEL, ("top", "left", "bottom", "right"))
    assert not run.closed
    assert path_length(run) == pytest.approx(474.2477796 + 200)
    assert run_path(PANEL, ["all"]).closed


@pytest.mark.parametrize(
    ("names", "message"),
    [
        ((), "no edge is named"),
        (("lft",), "there is no edge 'lft'; the edges are bottom, right, top, left"),
        (("left", "right"), "the edges 'left' and 'right' do not touch"),
        (("left", "bottom", "top"), "the edges 'bottom' and 'top' do not touch"),
        (("left", "bottom-left"), "'bottom-left' is a corner; name the edges on both sides of it"),
        (("left", "bottom", "left"), "the edge 'left' is named twice"),
        (("all", "left"), "there is no edge 'all'; the edges are bottom, right, top, left"),
    ],
)
def test_runs_that_do_not_exist_say_why(names, message):
    with pytest.raises(GeometryError) as caught:
        run_path(PANEL, names)
    assert str(caught.value) == message


def test_outlines_are_plain_values():
    assert hash(PANEL) == hash(rectangle_outline(200, 150, {"bottom-left": 30, "bottom-right": 30}))
    assert isinstance(PANEL, Outline)
    assert isinstance(PANEL.edges, tuple)
    assert polyline([(0, 0), (1, 0)]).segments[0].start == Point(0, 0)
