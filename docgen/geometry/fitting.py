"""Laying points in a plane on as many others, so that the squares of the distances are least.

The plane case of the orthogonal Procrustes problem (Schoenemann, Psychometrika 31, 1966): about the middles of both, by
the angle of the sum of crosswise over that of lengthwise products.
"""

import math
from collections.abc import Sequence

from docgen.geometry.shapes import Point
from docgen.geometry.vector import Transform, distance, transform_point

TINY = 1e-9


def lay_on(points: Sequence[Point], under: Sequence[Point], *, is_mirrored: bool) -> tuple[Transform, float]:
    """The movement that lays some points on as many others, turned over or not, and how far they miss at most."""
    hand = -1.0 if is_mirrored else 1.0
    one, two = middle_of(points), middle_of(under)
    pairs = [
        (hand * (p[0] - one[0]), p[1] - one[1], q[0] - two[0], q[1] - two[1])
        for p, q in zip(points, under, strict=True)
    ]
    lengthwise = sum(a * c + b * d for a, b, c, d in pairs)
    crosswise = sum(a * d - b * c for a, b, c, d in pairs)
    long = math.hypot(lengthwise, crosswise)
    cos, sin = (lengthwise / long, crosswise / long) if long > TINY else (1.0, 0.0)
    a, b, c, d = hand * cos, hand * sin, -sin, cos
    move = Transform(a, b, c, d, two[0] - a * one[0] - c * one[1], two[1] - b * one[0] - d * one[1])
    return move, max(distance(transform_point(p, move), q) for p, q in zip(points, under, strict=True))


def middle_of(points: Sequence[Point]) -> Point:
    return Point(sum(at.x for at in points) / len(points), sum(at.y for at in points) / len(points))
