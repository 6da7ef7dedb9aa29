"""Even spacing: points along a straight line or a path, and how many stitches fit a length. mm."""

from __future__ import annotations

import math

from docgen.geometry.path import path_length, points_at
from docgen.geometry.shapes import GeometryError, Path, Point


def spread_points(start: Point, end: Point, count: int) -> tuple[Point, ...]:
    """`count` points evenly from start to end, both included; one point stands in the middle.

    GeometryError for fewer than one point.
    """
    _check_count(count)
    if count == 1:
        return (Point((start[0] + end[0]) / 2, (start[1] + end[1]) / 2),)
    shares = [k / (count - 1) for k in range(count)]
    return tuple(Point(start[0] * (1 - t) + end[0] * t, start[1] * (1 - t) + end[1] * t) for t in shares)


def points_along(path: Path, count: int) -> tuple[tuple[Point, Point], ...]:
    """`count` points, each with its unit tangent, evenly along a path.

    An open path has a point at both ends, and a single one in the middle; a closed path has one at its
    start and none twice. GeometryError for fewer than one point, or a path without length.
    """
    _check_count(count)
    total = path_length(path)
    if path.closed:
        return points_at(path, (total * k / count for k in range(count)))
    if count == 1:
        return points_at(path, (total / 2,))
    return points_at(path, (total * k / (count - 1) for k in range(count)))


def _check_count(count: int) -> None:
    if count < 1:
        raise GeometryError(f"at least one point is needed, not {count}")


def stitch_count(length_mm: float, pitch_mm: float) -> int:
    """How many stitches of about the pitch fill a length: the nearest whole number, at least 1.

    Halves are rounded up. GeometryError unless pitch > 0 and length >= 0.
    """
    if not 0 < pitch_mm < math.inf:
        raise GeometryError(f"a stitch needs a pitch above 0 mm, not {pitch_mm:g} mm")
    if not 0 <= length_mm < math.inf:
        raise GeometryError(f"a stitch line cannot be {length_mm:g} mm long")
    return max(1, math.floor(length_mm / pitch_mm + 0.5))
