"""Points near to a place: held against asking each of them, and against shapely."""

import math
from collections.abc import Callable

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from shapely.geometry import MultiPoint
from shapely.geometry import Point as ShapelyPoint

from docgen.geometry import nearby
from docgen.geometry.nearby import near_finder, nearest_finder
from docgen.geometry.shapes import Point
from docgen.geometry.vector import distance

Maker = Callable[[list[Point]], Callable[[Point], object]]
MM = st.one_of(st.floats(-300, 300, allow_nan=False), st.integers(-5, 5).map(float))
POINTS = st.lists(st.builds(Point, MM, MM), max_size=30)


@settings(max_examples=60, deadline=None)
@given(points=POINTS, at=st.builds(Point, MM, MM), reach_mm=st.sampled_from([0.25, 1.0, 40.0]))
@example(points=[Point(1.0, 0.0)], at=Point(-5e-64, 0.0), reach_mm=1.0)
def test_those_within_reach_are_found_in_order(points: list[Point], at: Point, reach_mm: float) -> None:
    assert near_finder(points, reach_mm)(at) == [n for n, point in enumerate(points) if distance(point, at) <= reach_mm]


def test_points_in_space_are_found_as_those_on_a_piece() -> None:
    points = [(0.0, 0.0, 0.0), (0.0, 0.0, 1.5), (0.0, 0.0, 2.5), (3.0, -1.0, 2.0)]
    assert near_finder(points, 2.0)((0.0, 0.0, 0.5)) == [0, 1, 2]


@pytest.mark.parametrize("make", [lambda points: near_finder(points, 2.0), nearest_finder])
def test_of_many_points_only_those_near_are_measured(make: Maker, monkeypatch: pytest.MonkeyPatch) -> None:
    measured = [0]

    def measure(at: Point, to: Point) -> float:
        measured[0] += 1
        return distance(at, to)

    monkeypatch.setattr(nearby, "dist", measure)
    points = [Point(6.0 * (number % 50), 3.0 * (number // 50)) for number in range(2000)]
    find = make(points)
    for point in points:
        find(Point(point.x + 0.5, point.y))
    assert 2000 <= measured[0] <= 2000 * 100, "each against each would be four million"


@settings(max_examples=60, deadline=None)
@given(points=POINTS, at=st.builds(Point, MM, MM))
def test_the_nearest_is_as_near_as_shapely_says(points: list[Point], at: Point) -> None:
    found = nearest_finder(points)(at)
    if not points:
        assert found == 0.0
    else:
        assert found == pytest.approx(MultiPoint(points).distance(ShapelyPoint(at)), abs=1e-9)
    assert math.isfinite(found)
