"""Paths against shapely (areas, boxes), scipy.integrate.quad (curve lengths) and closed forms."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import quad
from shapely import LineString

from docgen.geometry.path import (
    box_path,
    box_union,
    boxes_overlap,
    circle_path,
    close_path,
    end_point,
    flatten,
    grow_box,
    join_paths,
    part_of,
    path_area,
    path_box,
    path_length,
    point_at,
    points_at,
    polyline,
    reverse_path,
    start_point,
    transform_path,
)
from docgen.geometry.segment import GAUSS_NODES, segment_end, segment_start
from docgen.geometry.shapes import Arc, Box, Curve, GeometryError, Line, Path, Point
from docgen.geometry.vector import distance, mirror_x, rotation

coordinate = st.floats(-200, 200).map(lambda x: round(x, 2))
point = st.builds(Point, coordinate, coordinate)
curve = st.builds(Curve, point, point, point, point)
arc = st.builds(Arc, point, st.floats(0.5, 100), st.floats(-4, 4), st.floats(0.1, 6) | st.floats(-6, -0.1))
segment = st.one_of(curve, arc, st.builds(Line, point, point))
few = settings(max_examples=60, derandomize=True, deadline=None)

STADIUM = Path(
    (
        Line(Point(0, 0), Point(40, 0)),
        Arc(Point(40, 10), 10, -math.pi / 2, math.pi),
        Line(Point(40, 20), Point(0, 20)),
        Arc(Point(0, 10), 10, math.pi / 2, math.pi),
    ),
    closed=True,
)


def speed_of(curve, t):
    p = [np.array(q) for q in (curve.start, curve.handle_1, curve.handle_2, curve.end)]
    speeds = 3 * ((1 - t) ** 2 * (p[1] - p[0]) + 2 * (1 - t) * t * (p[2] - p[1]) + t * t * (p[3] - p[2]))
    return np.hypot(*speeds.T)


def test_the_quadrature_nodes_are_those_of_gauss_and_legendre():
    nodes, weights = np.polynomial.legendre.leggauss(10)
    assert [n for n, _ in GAUSS_NODES] == pytest.approx(list(nodes[5:]), abs=1e-15)
    assert [w for _, w in GAUSS_NODES] == pytest.approx(list(weights[5:]), abs=1e-15)


def test_a_stadium_has_the_length_area_and_box_of_its_closed_forms():
    assert path_length(STADIUM) == pytest.approx(80 + 20 * math.pi, rel=1e-14)
    assert path_area(STADIUM) == pytest.approx(800 + 100 * math.pi, rel=1e-14)
    assert path_box(STADIUM) == Box(-10.0, 0.0, 50.0, 20.0)


def test_a_circle_has_the_length_area_and_box_of_its_closed_forms():
    circle = circle_path(Point(7, -3), 25)
    assert path_length(circle) == pytest.approx(50 * math.pi)
    assert path_area(circle) == pytest.approx(625 * math.pi)
    box = path_box(circle)
    assert (box.left, box.bottom, box.right, box.top) == pytest.approx((-18, -28, 32, 22))
    assert path_area(reverse_path(circle)) == pytest.approx(-625 * math.pi)


def test_a_straight_curve_is_as_long_as_its_line():
    straight = Curve(Point(0, 0), Point(10, 10), Point(20, 20), Point(30, 30))
    assert path_length(Path((straight,))) == pytest.approx(30 * math.sqrt(2), rel=1e-12)


@few
@given(curve)
def test_curve_length_agrees_with_numeric_integration(curve):
    # outside check: scipy.integrate.quad, told where the curve slows down most
    ts = np.linspace(0, 1, 2001)
    slow = ts[int(np.argmin(speed_of(curve, ts[:, None])))]
    expected, error = quad(lambda t: speed_of(curve, t), 0, 1, epsabs=1e-10, limit=500, points=[slow])
    assert path_length(Path((curve,))) == pytest.approx(expected, rel=1e-9, abs=10 * error + 1e-8)


def test_a_curve_that_turns_at_a_point_is_measured_to_a_billionth():
    # x = 3 t (1 - t) * 100, y = 0: out to 75 mm and back
    there_and_back = Curve(Point(0, 0), Point(100, 0), Point(100, 0), Point(0, 0))
    assert path_length(Path((there_and_back,))) == pytest.approx(150.0, rel=1e-9)


@few
@given(st.lists(segment, min_size=1, max_size=4))
def test_area_agrees_with_a_polygon_of_chords(segments):
    joined = []
    for s in segments:
        if joined:
            joined.append(Line(segment_end(joined[-1]), segment_start(s)))
        joined.append(s)
    path = Path(tuple(joined))
    xs, ys = np.array(flatten(path, 0.00005)).T
    # the shoelace formula on the chords
    shoelace = float(np.roll(xs, 1) @ ys - xs @ np.roll(ys, 1)) / 2
    assert path_area(path) == pytest.approx(shoelace, abs=0.2)


@few
@given(segment)
def test_box_agrees_with_shapely_bounds_of_chords(segment):
    path = Path((segment,))
    box = path_box(path)
    bounds = LineString(flatten(path, 0.00005)).bounds
    assert (box.left, box.bottom, box.right, box.top) == pytest.approx(bounds, abs=2e-4)


@few
@given(segment)
def test_chords_stay_within_the_tolerance(segment):
    path = Path((segment,))
    fine, coarse = flatten(path, 0.0001), LineString(flatten(path, 0.05))
    assert max(coarse.distance(LineString([p, p])) for p in fine[::7]) <= 0.0502


@few
@given(segment, st.floats(0, 1), st.floats(0, 1))
def test_parts_of_a_segment_add_up_and_meet_at_the_asked_places(segment, one, other):
    path = Path((segment,))
    total = path_length(path)
    a, b = sorted((one * total, other * total))
    if b - a < 1e-3:
        return
    part = part_of(path, a, b)
    assert path_length(part) == pytest.approx(b - a, rel=1e-6, abs=1e-6)
    assert distance(start_point(part), point_at(path, a)[0]) < 1e-6
    assert distance(end_point(part), point_at(path, b)[0]) < 1e-6


def test_points_lie_at_their_distance_with_the_tangent_of_the_line():
    place, tangent = point_at(STADIUM, 40 + 5 * math.pi)
    assert place == pytest.approx((50, 10))
    assert tangent == pytest.approx((0, 1), abs=1e-12)
    place, tangent = point_at(reverse_path(STADIUM), 10 * math.pi + 10)
    assert place == pytest.approx((10, 20))
    assert tangent == pytest.approx((1, 0))


def test_a_closed_path_goes_round_again_and_an_open_one_stops_at_its_ends():
    total = path_length(STADIUM)
    assert point_at(STADIUM, total + 5)[0] == pytest.approx((5, 0))
    assert point_at(STADIUM, -5)[0] == pytest.approx(point_at(STADIUM, total - 5)[0])
    leg = polyline([Point(0, 0), Point(10, 0)])
    assert [p for p, _ in points_at(leg, (-1, 4, 11))] == [(0, 0), (4, 0), (10, 0)]


def test_the_tangent_of_a_curve_with_a_handle_on_its_end_is_the_way_it_leaves():
    hook = Curve(Point(0, 0), Point(0, 0), Point(10, 10), Point(20, 10))
    assert point_at(Path((hook,)), 0)[1] == pytest.approx((math.sqrt(0.5), math.sqrt(0.5)), abs=1e-3)


def test_a_part_of_a_closed_path_may_cross_its_start():
    part = part_of(STADIUM, path_length(STADIUM) - 5, 15)
    assert path_length(part) == pytest.approx(20)
    assert end_point(part) == pytest.approx((15, 0))
    assert not part.closed


def test_the_whole_part_keeps_its_segments():
    open_path = Path(STADIUM.segments[:3])
    assert part_of(open_path, 0, path_length(open_path)) == open_path


@few
@given(segment)
def test_reversing_twice_and_moving_there_and_back_change_nothing(segment):
    path = Path((segment,))
    again = reverse_path(reverse_path(path))
    assert distance(start_point(again), start_point(path)) < 1e-9
    assert path_length(reverse_path(path)) == pytest.approx(path_length(path), rel=1e-9, abs=1e-9)
    moved = transform_path(transform_path(path, mirror_x(3)), mirror_x(3))
    assert distance(end_point(moved), end_point(path)) < 1e-9


def test_moving_keeps_lengths_and_mirroring_changes_the_sense_of_turning():
    turned = transform_path(STADIUM, rotation(0.7, about=Point(5, 5)))
    assert path_length(turned) == pytest.approx(path_length(STADIUM))
    assert path_area(turned) == pytest.approx(path_area(STADIUM))
    mirrored = transform_path(STADIUM, mirror_x())
    assert path_area(mirrored) == pytest.approx(-path_area(STADIUM))
    ends = [segment_end(s) for s in mirrored.segments]
    starts = [segment_start(s) for s in mirrored.segments]
    assert all(distance(ends[k - 1], starts[k]) < 1e-9 for k in range(4))


def test_joined_paths_keep_all_segments_in_order_and_stay_open():
    one, other = polyline([Point(0, 0), Point(1, 0)]), polyline([Point(1, 0), Point(1, 5e-7), Point(0, 0)])
    joined = join_paths((one, Path(()), other))
    assert joined == Path(one.segments + other.segments, closed=False)


def test_closing_adds_a_line_only_where_the_ends_lie_apart():
    corner = polyline([Point(0, 0), Point(4, 0), Point(4, 3)])
    closed = close_path(corner)
    assert closed.closed
    assert closed.segments[-1] == Line(Point(4, 3), Point(0, 0))
    assert close_path(closed) == closed
    assert path_area(closed) == 6.0
    assert path_area(corner) == 6.0


def test_polyline_and_flatten_are_each_others_reverse():
    points = (Point(0, 0), Point(4, 0), Point(4, 3))
    assert flatten(polyline(points)) == points
    ring = polyline(points, closed=True)
    assert flatten(ring) == (*points, points[0])
    assert polyline(flatten(ring), closed=True) == ring


def test_boxes_unite_grow_and_overlap():
    a, b = Box(0, 0, 10, 10), Box(10, 0, 20, 5)
    assert box_union([a, b]) == Box(0, 0, 20, 10)
    assert grow_box(a, 2) == Box(-2, -2, 12, 12)
    assert (a.width, b.height, a.centre) == (10, 5, (5, 5))
    assert not boxes_overlap(a, b)
    assert boxes_overlap(a, grow_box(b, 0.1))
    assert path_area(box_path(b)) == 50


EMPTY = Path(())


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (lambda: start_point(EMPTY), "the line is empty"),
        (lambda: end_point(EMPTY), "the line is empty"),
        (lambda: path_box(EMPTY), "the line is empty"),
        (lambda: box_union([]), "there is nothing to put a box around"),
        (lambda: grow_box(Box(0, 0, 10, 4), -3), "a box of 10 x 4 mm cannot shrink by 3 mm a side"),
        (lambda: point_at(EMPTY, 0), "a line without length has no direction"),
        (lambda: point_at(Path((Line(Point(1, 1), Point(1, 1)),)), 0), "a line without length has no direction"),
        (
            lambda: part_of(polyline([(0, 0), (10, 0)]), 2, 11),
            "the part from 2 to 11 mm reaches beyond a line of 10 mm",
        ),
        (lambda: part_of(polyline([(0, 0), (10, 0)]), 3, 3), "the part from 3 to 3 mm of a line has no length"),
        (
            lambda: join_paths((polyline([(0, 0), (10, 0)]), polyline([(10.5, 0), (20, 0)]))),
            "two lines that should meet are 0.5 mm apart",
        ),
        (lambda: polyline([(1, 1), (1, 1)]), "a line needs at least two different points"),
        (lambda: circle_path(Point(0, 0), 0), "a circle needs a radius above 0 mm, not 0 mm"),
    ],
)
def test_paths_that_do_not_exist_say_why(call, message):
    with pytest.raises(GeometryError) as caught:
        call()
    assert str(caught.value) == message


def test_an_empty_path_has_neither_length_nor_area_nor_points():
    assert (path_length(EMPTY), path_area(EMPTY), flatten(EMPTY)) == (0, 0, ())
