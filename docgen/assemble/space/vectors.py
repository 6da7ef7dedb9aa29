"""Vectors in space: three floats in mm, x to the right, y to the back, z up."""

from __future__ import annotations

import math

Vec = tuple[float, float, float]
NOWHERE: Vec = (0.0, 0.0, 0.0)
TINY = 1e-9


def plus(a: Vec, b: Vec) -> Vec:
    """The sum of two vectors."""
    return a[0] + b[0], a[1] + b[1], a[2] + b[2]


def minus(a: Vec, b: Vec) -> Vec:
    """The vector from b to a."""
    return a[0] - b[0], a[1] - b[1], a[2] - b[2]


def times(a: Vec, k: float) -> Vec:
    """The vector k times as long."""
    return a[0] * k, a[1] * k, a[2] * k


def along(at: Vec, way: Vec, by: float) -> Vec:
    """The point `by` times `way` from `at`."""
    return at[0] + way[0] * by, at[1] + way[1] * by, at[2] + way[2] * by


def inner(a: Vec, b: Vec) -> float:
    """The scalar product."""
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]


def outer(a: Vec, b: Vec) -> Vec:
    """The vector at right angles to both, as long as the area between them."""
    return a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]


def length(a: Vec) -> float:
    """The length of a vector, mm."""
    return math.sqrt(a[0] * a[0] + a[1] * a[1] + a[2] * a[2])


def apart(a: Vec, b: Vec) -> float:
    """The distance between two points, mm."""
    return math.dist(a, b)


def direction(a: Vec) -> Vec:
    """The vector of length 1 in the same direction; of one without length the vector itself."""
    x, y, z = a
    long = math.sqrt(x * x + y * y + z * z)
    return (x / long, y / long, z / long) if long > TINY else a


def middle(points: list[Vec]) -> Vec:
    """The mean of some points."""
    count = len(points)
    return sum(p[0] for p in points) / count, sum(p[1] for p in points) / count, sum(p[2] for p in points) / count
