"""Holes of a stitch line: ends, sharp corners, whole stitches between."""

import math
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from docgen.geometry.inset import inset_run
from docgen.geometry.outline import rectangle_outline
from docgen.geometry.path import path_length, polyline
from docgen.geometry.shapes import GeometryError, Point
from docgen.geometry.spacing import corner_distances, space_stitches


def test_a_sharp_corner_is_a_stop_and_a_rounded_one_is_none() -> None:
    sharp = inset_run(rectangle_outline(100, 60), ("left", "bottom", "right"), 4)
    assert corner_distances(sharp) == pytest.approx((56, 148))
    round_one = inset_run(rectangle_outline(100, 60, {"bottom-left": 10}), ("left", "bottom", "right"), 4)
    # straight 50, a quarter of R 10 - 4, straight 86 (arithmetic from the definitions)
    assert corner_distances(round_one) == pytest.approx((50 + math.pi / 2 * 6 + 86,))


def test_the_start_of_a_closed_line_is_a_corner_too() -> None:
    assert corner_distances(inset_run(rectangle_outline(100, 60), ("all",), 4)) == pytest.approx((0, 92, 144, 236))


@pytest.mark.parametrize(("turn_deg", "stops"), [(15, ()), (19, ()), (21, (50.0,)), (25, (50.0,)), (34, (50.0,))])
def test_a_corner_is_sharp_from_twenty_degrees_on(turn_deg: float, stops: tuple[float, ...]) -> None:
    """Twenty degrees are our choice: a needle still rounds what turns less."""
    turn = math.radians(turn_deg)
    end = Point(50 + 50 * math.cos(turn), 50 * math.sin(turn))
    assert corner_distances(polyline([Point(0, 0), Point(50, 0), end])) == pytest.approx(stops)


def test_every_corner_has_a_hole_and_stitches_between_are_whole() -> None:
    run = inset_run(rectangle_outline(100, 60), ("left", "bottom", "right"), 4)
    holes = space_stitches(path_length(run), corner_distances(run), 3.85)
    assert {56.0, 148.0} <= set(holes)
    # 56 / 3.85 = 14.5 and 92 / 3.85 = 23.9: nearest whole numbers, halves up
    assert len(holes) == 15 + 24 + 15 + 1


def test_holes_are_one_more_than_stitches() -> None:
    # 12 teeth make 11 stitches: OQLF, Grand dictionnaire terminologique, "griffe a frapper"
    assert len(space_stitches(11 * 4.0, (), 4.0)) == 12


def test_a_stop_too_near_to_an_end_is_passed_over() -> None:
    assert space_stitches(20, (0.5, 19.9), 4) == pytest.approx((0, 4, 8, 12, 16, 20))


@pytest.mark.parametrize(
    ("stop", "has_hole"), [(1.9, False), (2.1, True), (3.9, True), (16.1, True), (17.9, True), (18.1, False)]
)
def test_a_stop_half_a_pitch_from_an_end_has_its_hole(stop: float, has_hole: bool) -> None:
    """A pitch of 4 mm: stops 2.1 mm from an end and more, as on the corner of a small tab."""
    assert (stop in space_stitches(20, (stop,), 4)) == has_hole


def test_a_pitch_of_nothing_is_refused() -> None:
    with pytest.raises(GeometryError, match="a stitch needs a pitch above 0 mm, not 0 mm"):
        space_stitches(20, (), 0)


@settings(max_examples=60, derandomize=True, deadline=None)
@given(st.floats(20, 2000), st.lists(st.floats(0.01, 0.99), max_size=6), st.floats(1.5, 8))
def test_no_stitch_is_far_from_the_pitch(length: float, shares: list[float], pitch: float) -> None:
    holes = space_stitches(length, [share * length for share in shares], pitch)
    assert holes[0] == 0
    assert holes[-1] == pytest.approx(length)
    for before, after in pairwise(holes):
        # one stitch in the shortest span allowed, half a pitch, up to one and a half in a span of one
        assert pitch / 2 - 1e-9 <= after - before <= pitch * 1.5 + 1e-9
