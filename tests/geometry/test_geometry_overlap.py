"""Stretches that lie on both of two paths, against shapely, which intersects the same lines as polygons of legs."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import LineString

from docgen.geometry.overlap import parts_without, shared_stretches
from docgen.geometry.path import flatten, path_length, polyline, reverse_path
from docgen.geometry.shapes import Arc, Curve, Line, Path, Point

whole = st.integers(min_value=0, max_value=40)


@given(st.tuples(whole, whole, whole), st.tuples(whole, whole, whole), st.booleans())
def test_shared_length_of_steps_is_that_of_shapely(one, other, is_turned) -> None:
    """Steps along a grid of whole mm, so that legs fall together often: right, up, right."""
    paths = []
    for first, second, third in (one, other):
        corners = ((0, 0), (first + 1, 0), (first + 1, second + 1), (first + third + 2, second + 1))
        paths.append(polyline([Point(*at) for at in corners]))
    path, met = paths[0], reverse_path(paths[1]) if is_turned else paths[1]
    found = shared_stretches(path, (met,))
    lines = [LineString(flatten(each, 0.001)) for each in (path, met)]
    assert sum(last - first for first, last in found) == pytest.approx(lines[0].intersection(lines[1]).length)
    left = parts_without(path, found)
    assert sum(map(path_length, left)) == pytest.approx(lines[0].difference(lines[1]).length)


@pytest.mark.parametrize(
    ("begin", "sweep", "shared"),
    [
        (0.0, 2 * math.pi, [(0.0, 10 * math.pi)]),
        (math.pi / 2, math.pi / 2, [(5 * math.pi, 10 * math.pi)]),
        (math.pi / 4, -math.pi / 2, [(0.0, 2.5 * math.pi)]),
        (math.pi, math.pi, []),
        (-math.pi / 4, -2 * math.pi + math.pi / 2, [(2.5 * math.pi, 10 * math.pi)]),
    ],
)
def test_arcs_of_one_circle_share_the_angles_that_both_turn_through(begin, sweep, shared) -> None:
    """A half circle of radius 10 from 0 on; lengths are radius times angle."""
    half = Path((Arc(Point(3, 4), 10.0, 0.0, math.pi),))
    other = Path((Arc(Point(3, 4), 10.0, begin, sweep),))
    assert [pytest.approx(each) for each in shared_stretches(half, (other,))] == shared


def test_lines_that_cross_or_touch_share_nothing() -> None:
    across = polyline((Point(0, 0), Point(50, 0)))
    assert shared_stretches(across, (polyline((Point(20, -9), Point(20, 9))),)) == ()
    assert shared_stretches(across, (polyline((Point(50, 0), Point(90, 0))),)) == ()
    assert shared_stretches(across, (polyline((Point(0, 0.1), Point(50, 0.1))),)) == ()
    assert parts_without(across, ()) == (across,)


def test_a_curve_is_shared_as_a_whole_either_way_about() -> None:
    curve = Path((Curve(Point(0, 0), Point(40, 60), Point(80, -60), Point(120, 0)), Line(Point(120, 0), Point(150, 0))))
    long = path_length(Path(curve.segments[:1]))
    for other in (curve, reverse_path(curve)):
        assert shared_stretches(curve, (Path(other.segments[:1]), Path(other.segments[1:]))) == (
            pytest.approx((0.0, long + 30)),
        )
    assert shared_stretches(curve, (polyline((Point(0, 0), Point(120, 0))),)) == ()
