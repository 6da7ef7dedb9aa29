"""Shapes turned over at a fold: by hand, and against the general library for plane shapes (shapely)."""

import math

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from shapely import Polygon, affinity
from shapely.geometry import LineString
from shapely.ops import split as cut
from shapely.ops import unary_union

from docgen.geometry.folding import fold_over, mirror_over
from docgen.geometry.path import box_path, flatten, path_area, path_box, polyline
from docgen.geometry.shapes import Box, Path, Point
from docgen.geometry.vector import transform_point


def polygon(path: Path) -> Polygon:
    return Polygon(flatten(path, 0.001))


def test_a_tab_folded_above_its_middle_is_as_high_as_its_larger_half() -> None:
    """3 in with its fold 1 1/4 in from the top: 1 3/4 in stay."""
    folded = fold_over(box_path(Box(0, 0, 19.05, 76.2)), Point(0, 44.45), Point(19.05, 44.45))
    assert path_box(folded) == Box(0, 0, 19.05, 44.45)
    assert path_area(folded) == pytest.approx(19.05 * 44.45)


def test_of_equal_halves_the_lower_stays() -> None:
    assert path_box(fold_over(box_path(Box(0, 0, 20, 60)), Point(20, 30), Point(0, 30))) == Box(0, 0, 20, 30)
    assert path_box(fold_over(box_path(Box(0, 0, 20, 60)), Point(10, 0), Point(10, 60))) == Box(0, 0, 10, 60)


def test_a_fold_beside_the_shape_leaves_it_as_it_is() -> None:
    shape = box_path(Box(0, 0, 20, 60))
    assert fold_over(shape, Point(0, 70), Point(20, 70)) is shape


def test_a_flap_wider_than_what_it_lies_on_is_seen_beside_it() -> None:
    """A T: a stem 20 wide and 50 high, a bar 40 wide and 20 high above it, the fold where they meet. The bar turned down
    lies on the stem's upper 20 mm and 10 mm beside it on either side: 20 * 50 + 2 * 10 * 20 = 1400 mm2."""
    points = ((10, 0), (30, 0), (30, 50), (40, 50), (40, 70), (0, 70), (0, 50), (10, 50))
    folded = fold_over(polyline([Point(*at) for at in points], closed=True), Point(10, 50), Point(30, 50))
    assert path_area(folded) == pytest.approx(1400, abs=1e-3)
    assert path_box(folded) == Box(0, 0, 40, 50)


def test_a_mirror_over_a_slanted_line_keeps_what_lies_on_it() -> None:
    move = mirror_over(Point(1, 1), Point(4, 4))
    assert transform_point(Point(3, 3), move) == pytest.approx((3, 3))
    assert transform_point(Point(5, 0), move) == pytest.approx((0, 5))


@settings(max_examples=150, deadline=None)
@example(radii=[10.0, 10.0, 10.0, 23.0, 25.0, 23.0, 51.0], angle=3.0, off=6.0)
@given(radii=st.lists(st.floats(10, 60), min_size=5, max_size=12), angle=st.floats(0, math.pi), off=st.floats(-8, 8))
def test_any_star_folded_is_the_union_of_its_halves(radii: list[float], angle: float, off: float) -> None:
    count = len(radii)
    ways = [2 * math.pi * k / count for k in range(count)]
    points = [Point(r * math.cos(way), r * math.sin(way)) for r, way in zip(radii, ways, strict=True)]
    along = Point(math.cos(angle), math.sin(angle))
    foot = Point(-along.y * off, along.x * off)
    start, end = (Point(foot.x + k * along.x, foot.y + k * along.y) for k in (-200, 200))
    whole = Polygon(points)
    parts = list(cut(whole, LineString([start, end])).geoms)
    if len(parts) != 2 or min(part.area for part in parts) < 1 or abs(parts[0].area - parts[1].area) < 1e-3:
        return
    move = mirror_over(start, end)
    small, large = sorted(parts, key=lambda part: part.area)
    turned = affinity.affine_transform(small, (move.a, move.c, move.b, move.d, move.e, move.f))
    wanted = Polygon(unary_union([large, turned.buffer(1e-7)]).exterior)
    chord = LineString([start, end]).intersection(whole)
    ends = [Point(*at) for at in chord.coords]
    found = polygon(fold_over(polyline(points, closed=True), *ends))
    assert found.area == pytest.approx(wanted.area, rel=1e-4, abs=1)
    # on a grid: edges that differ in the last bits alone led the library to take both for apart
    assert found.symmetric_difference(wanted, grid_size=1e-6).area < 2
