"""Inside, distance, chords, hatching and boxes against shapely and closed forms."""

import math
import sys

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import LineString, Polygon, box
from shapely import Point as ShapelyPoint

from docgen.geometry.measure import (
    chords,
    distance_to_path,
    hatch_lines,
    inside_rows,
    is_inside,
    line_crossing,
    touch_test,
)
from docgen.geometry.outline import Corner, corner_outline, outline_path, rectangle_outline
from docgen.geometry.path import circle_path, flatten, path_length, polyline, reverse_path, transform_path
from docgen.geometry.shapes import Arc, Box, GeometryError, Line, Path, Point
from docgen.geometry.vector import rotation

few = settings(max_examples=150, derandomize=True, deadline=None)
PANEL = outline_path(rectangle_outline(200, 150, {"bottom-left": 30, "bottom-right": 30}))
TURNED = transform_path(PANEL, rotation(0.4))
CURVED = outline_path(
    corner_outline(
        [
            Corner(Point(0, 0)),
            Corner(Point(100, 0), handles=(Point(130, 30), Point(40, 60))),
            Corner(Point(100, 100), handles=(Point(70, 130), Point(30, 130))),
            Corner(Point(40, 60)),
            Corner(Point(0, 100), radius=6),
        ]
    )
)
SHAPES = (PANEL, TURNED, CURVED, circle_path(Point(50, 50), 40))
place = st.builds(Point, st.floats(-60, 220), st.floats(-60, 220))
whole_place = st.builds(Point, st.integers(-10, 210), st.integers(-10, 160))


@few
@given(st.sampled_from(SHAPES), place)
def test_inside_and_distance_agree_with_shapely(path, place):
    drawn = Polygon(flatten(path, 0.0005))
    away = drawn.exterior.distance(ShapelyPoint(place))
    assert distance_to_path(path, place) == pytest.approx(away, abs=0.003)
    if away > 0.01:
        assert is_inside(path, place) == drawn.contains(ShapelyPoint(place))
        assert is_inside(reverse_path(path), place) == is_inside(path, place)


@few
@given(whole_place)
def test_inside_holds_at_heights_where_arcs_begin_and_end(place):
    # whole millimetres meet the joints at y = 0, 30 and 150 exactly
    drawn = Polygon(flatten(PANEL, 0.0005))
    if drawn.exterior.distance(ShapelyPoint(place)) > 0.01:
        assert is_inside(PANEL, place) == drawn.contains(ShapelyPoint(place))


@pytest.mark.parametrize("y", [0.0, 10.0, 30.0, 50.0, 90.0, 100.0])
def test_inside_a_circle_holds_level_with_its_joint_and_its_extremes(y):
    circle = circle_path(Point(50, 50), 40)
    assert is_inside(circle, Point(50, y)) == (10 < y < 90)
    assert not is_inside(circle, Point(0, y))
    assert not is_inside(circle, Point(100, y))


def test_distances_to_an_arc_are_exact_beside_it_and_beyond_its_ends():
    bow = Path((Arc(Point(0, 0), 10, 0, math.pi / 2),))
    assert distance_to_path(bow, Point(6, 8)) == pytest.approx(0, abs=1e-12)
    assert distance_to_path(bow, Point(0, 0)) == 10
    assert distance_to_path(bow, Point(10, -3)) == pytest.approx(3)
    assert distance_to_path(bow, Point(-4, 10)) == pytest.approx(4)
    assert distance_to_path(reverse_path(bow), Point(12, 0)) == pytest.approx(2)


def test_distance_to_a_line_without_length_is_that_to_its_point():
    assert distance_to_path(Path((Line(Point(1, 1), Point(1, 1)),)), Point(4, 5)) == 5


def test_chords_of_a_circle_have_their_closed_form():
    circle = circle_path(Point(0, 0), 10)
    ((a, b),) = chords(circle, Point(-50, 6), Point(3, 0))
    assert a == pytest.approx((-8, 6))
    assert b == pytest.approx((8, 6))
    ((a, b),) = chords(circle, Point(0, 6), Point(-1, 0))
    assert (a, b) == (pytest.approx((8, 6)), pytest.approx((-8, 6)))
    assert chords(circle, Point(0, 10), Point(1, 0)) == ()
    assert chords(circle, Point(0, 11), Point(1, 0)) == ()


def test_chords_through_corners_and_along_edges_come_out_whole():
    square = polyline([Point(0, 0), Point(10, 0), Point(10, 10), Point(0, 10)], closed=True)
    ((a, b),) = chords(square, Point(5, 5), Point(1, 1))
    assert (a, b) == (pytest.approx((0, 0), abs=1e-12), pytest.approx((10, 10)))
    ell = polyline([Point(0, 0), Point(20, 0), Point(20, 5), Point(10, 5), Point(10, 10), Point(0, 10)], closed=True)
    ((a, b), *more) = chords(ell, Point(3, 5), Point(1, 0))
    assert a == (0, 5)
    assert b[0] == pytest.approx(10) or b[0] == pytest.approx(20)
    assert all(c[0] == pytest.approx((10, 5)) for c in more)


@few
@given(st.sampled_from(SHAPES), place, st.floats(0, math.pi))
def test_chords_agree_with_shapely(path, place, angle):
    along = Point(math.cos(angle), math.sin(angle))
    found = chords(path, place, along)
    area = Polygon(flatten(path, 0.0005))

    def shapely_length(aside):
        x, y = place[0] - aside * along[1], place[1] + aside * along[0]
        line = LineString([(x + k * along[0], y + k * along[1]) for k in (-900, 900)])
        return area.intersection(line).length

    # outside check: shapely's intersection of the area with a long line, and with lines a hair to both sides,
    # because a line along an edge may count either way
    lengths = [shapely_length(aside) for aside in (-0.003, 0.0, 0.003)]
    assert min(lengths) - 0.01 <= sum(math.dist(a, b) for a, b in found) <= max(lengths) + 0.01


@few
@given(st.sampled_from(SHAPES), st.lists(st.floats(-20, 170) | st.integers(-10, 160), min_size=1, max_size=5))
def test_rows_inside_are_the_chords_of_each_row(path, heights):
    """A row along an edge or through a corner counts as lying a hair above it."""
    heights = sorted(round(y, 3) for y in heights)
    for y, row in zip(heights, inside_rows(path, heights), strict=True):
        found = [at for chord in chords(path, Point(-60, y + 1e-9), Point(1, 0)) for at in chord]
        assert row == pytest.approx([at.x for at in found], abs=1e-3)


@pytest.mark.parametrize("path", SHAPES)
@pytest.mark.parametrize("angle", [0.0, math.pi / 4, 2.0])
def test_hatch_lines_lie_inside_and_cover_the_area(path, angle):
    lines = hatch_lines(path, 0.5, angle)
    area = Polygon(flatten(path, 0.0005))
    assert 0.5 * sum(path_length(line) for line in lines) == pytest.approx(area.area, rel=0.01)
    grown = area.buffer(0.01)
    assert all(grown.covers(LineString(flatten(line))) for line in lines)


def test_hatch_lines_of_neighbours_run_through():
    square = polyline([Point(0.3, 0.3), Point(9.7, 0.3), Point(9.7, 9.7), Point(0.3, 9.7)], closed=True)
    heights = [line.segments[0].start[1] for line in hatch_lines(square, 2, 0.0)]
    assert heights == pytest.approx([2, 4, 6, 8])


@few
@given(st.sampled_from(SHAPES), place, st.integers(1, 60), st.integers(1, 60))
def test_a_line_touches_a_box_where_shapely_says_they_intersect(path, place, width, height):
    around = Box(place[0], place[1], place[0] + width, place[1] + height)
    drawn = LineString(flatten(path, 0.0005))
    inner = box(around.left, around.bottom, around.right, around.top)
    if drawn.distance(inner) > 0.011:
        assert not touch_test(path)(around)
    elif min(width, height) > 0.05 and drawn.intersects(inner.buffer(-0.02)):
        assert touch_test(path)(around)


def test_a_box_wholly_inside_a_shape_is_not_touched_by_its_line():
    assert not touch_test(PANEL)(Box(50, 50, 60, 60))
    assert touch_test(PANEL)(Box(-5, 140, 0, 145))
    assert touch_test(PANEL)(Box(190, 100, 300, 101))
    assert touch_test(PANEL)(Box(-10, -10, 310, 310)), "a box that holds all of the line"


def test_lines_cross_where_worked_by_hand_and_parallel_ones_nowhere():
    assert line_crossing(Point(0, 0), Point(1, 1), Point(0, 10), Point(2, -2)) == pytest.approx((5, 5))
    assert line_crossing(Point(0, 0), Point(1, 1), Point(0, 10), Point(-3, -3)) is None
    assert line_crossing(Point(0, 0), Point(0, 0), Point(0, 10), Point(1, 0)) is None


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (lambda: distance_to_path(Path(()), Point(0, 0)), "the line is empty"),
        (lambda: chords(PANEL, Point(0, 0), Point(0, 0)), "a line without length has no direction"),
        (lambda: hatch_lines(PANEL, 0, 1), "a hatching needs a spacing above 0 mm, not 0 mm"),
        (lambda: hatch_lines(PANEL, -2, 1), "a hatching needs a spacing above 0 mm, not -2 mm"),
    ],
)
def test_measures_that_do_not_exist_say_why(call, message):
    with pytest.raises(GeometryError) as caught:
        call()
    assert str(caught.value) == message


def test_rows_across_a_comb_of_very_many_teeth_take_a_few_calls_a_tooth():
    """Each row meets every tooth: what lies inside must be counted, not looked for anew between any two."""
    calls = 0

    def count(frame, event, argument):
        nonlocal calls
        calls += event == "call"

    teeth = [(k * 0.1, 49.0 if k % 2 else 40.0) for k in range(2000)]
    comb = polyline([*teeth, (199.9, 0.0), (0.0, 0.0)], closed=True)
    sys.setprofile(count)
    rows = inside_rows(comb, [41.0 + k * 0.05 for k in range(100)])
    sys.setprofile(None)
    assert calls < 20 * 100 * 2000
    assert all(len(row) == 2000 for row in rows)
    assert inside_rows(comb, [20.0]) == [pytest.approx([0.0, 199.9])]
