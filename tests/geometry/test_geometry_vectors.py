"""Vectors and rigid transforms."""

import math

import pytest

from docgen.geometry.shapes import GeometryError, Point
from docgen.geometry.vector import (
    Transform,
    add,
    compose,
    cross,
    distance,
    dot,
    mirror_x,
    norm,
    rotation,
    scale,
    subtract,
    transform_point,
    translation,
    turn_left,
    unit,
)

A, B = Point(3.0, 4.0), Point(-1.0, 2.0)


def test_vector_arithmetic_follows_its_definitions():
    assert add(A, B) == (2.0, 6.0)
    assert subtract(A, B) == (4.0, 2.0)
    assert scale(A, -2) == (-6.0, -8.0)
    assert dot(A, B) == 5.0
    assert cross(A, B) == 10.0
    assert norm(A) == 5.0
    assert distance(A, B) == pytest.approx(math.sqrt(20))
    assert unit(A) == pytest.approx((0.6, 0.8))
    assert turn_left(A) == (-4.0, 3.0)


def test_a_vector_without_length_has_no_direction():
    with pytest.raises(GeometryError) as caught:
        unit(Point(0.0, 0.0))
    assert str(caught.value) == "a line without length has no direction"


def test_transforms_move_points_as_named():
    assert transform_point(A, translation(10, -1)) == (13.0, 3.0)
    assert transform_point(A, rotation(math.pi / 2)) == pytest.approx((-4.0, 3.0))
    assert transform_point(Point(2, 1), rotation(math.pi, about=Point(1, 1))) == pytest.approx((0.0, 1.0))
    assert transform_point(A, mirror_x()) == (-3.0, 4.0)
    assert transform_point(A, mirror_x(10.0)) == (17.0, 4.0)
    assert mirror_x().is_mirror
    assert not rotation(1.0).is_mirror


def test_compose_does_the_first_transform_first():
    both = compose(translation(10, 0), rotation(math.pi / 2))
    assert transform_point(Point(0, 0), both) == pytest.approx((0.0, 10.0))
    other = compose(rotation(math.pi / 2), translation(10, 0))
    assert transform_point(Point(0, 0), other) == pytest.approx((10.0, 0.0))


@pytest.mark.parametrize(
    "figures", [(2.0, 0.0, 0.0, 2.0), (1.0, 0.0, 0.5, 1.0), (0.0, 0.0, 0.0, 0.0), (math.nan, 0.0, 0.0, 1.0)]
)
def test_a_transform_that_is_not_rigid_is_refused(figures):
    with pytest.raises(GeometryError) as caught:
        Transform(*figures)
    assert str(caught.value) == "a piece may be turned, shifted or mirrored, and not stretched or slanted"
