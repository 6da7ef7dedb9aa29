"""Holes of a strip on those of a face, by distances worked out by hand."""

from docgen.assemble.space.posts import match_both_ways, match_holes
from docgen.geometry.shapes import Point


def test_holes_on_one_spot_written_from_two_sides_are_one_and_no_line() -> None:
    one_spot = [Point(203.2, 737.55), Point(203.19999999999996, 737.55)]

    assert [*match_both_ways([Point(12.0, 10.0), Point(12.0, 710.0)], one_spot)] == []


def test_holes_a_little_apart_are_two() -> None:
    near = [Point(100.0, 50.0), Point(100.02, 50.0)]

    assert match_holes([Point(0.0, 0.0), Point(0.0, 0.5)], near) == [
        (Point(0.0, 0.0), near[0]),
        (Point(0.0, 0.5), near[1]),
    ]
