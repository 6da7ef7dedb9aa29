"""Even spacing and stitch counts."""

import math

import pytest

from docgen.geometry.shapes import GeometryError, Point
from docgen.geometry.spacing import spread_points, stitch_count


def test_points_spread_evenly_with_both_ends():
    assert spread_points(Point(0, 0), Point(9, 3), 4) == ((0, 0), (3, 1), (6, 2), (9, 3))
    assert spread_points(Point(0, 0), Point(9, 3), 1) == ((4.5, 1.5),)


@pytest.mark.parametrize(
    ("length", "pitch", "count"), [(461.68, 3.85, 120), (10, 4, 3), (9.9, 4, 2), (0.5, 4, 1), (0, 4, 1), (12, 4, 3)]
)
def test_stitches_are_the_nearest_whole_number_and_at_least_one(length, pitch, count):
    assert stitch_count(length, pitch) == count


@pytest.mark.parametrize("length", [57.15 - 1e-12, 57.15, 57.15 + 1e-12])
def test_what_is_half_a_stitch_but_for_rounding_is_one(length):
    """2 1/4 in at ten an inch is 22.5 stitches, however it was reckoned, and mirrored seams take as many."""
    assert stitch_count(length, 2.54) == 23
    assert stitch_count(length - 0.001, 2.54) == 22


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (lambda: spread_points(Point(0, 0), Point(1, 1), 0), "at least one point is needed, not 0"),
        (lambda: stitch_count(10, 0), "a stitch needs a pitch above 0 mm, not 0 mm"),
        (lambda: stitch_count(math.inf, 4), "a stitch line cannot be inf mm long"),
        (lambda: stitch_count(-1, 4), "a stitch line cannot be -1 mm long"),
    ],
)
def test_spacings_that_do_not_exist_say_why(call, message):
    with pytest.raises(GeometryError) as caught:
        call()
    assert str(caught.value) == message
