"""Laying one run on another in space, so that the squares of the distances are least."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

from docgen.assemble.space.vectors import Vec, along, apart, direction, inner, middle, minus, outer, times
from docgen.geometry.fitting import lay_on
from docgen.geometry.shapes import Point
from docgen.geometry.vector import cross

Frame = tuple[Vec, Vec, Vec]
"""Where (0, 0) of a piece lies, and its x and y."""


def fit_frame(points: Sequence[Point], targets: Sequence[Vec]) -> tuple[Frame, float] | None:
    """The flat piece whose points come nearest to as many in space, drawn face kept, and how far they miss at most;
    None where its points lie on one line, so that it may turn about it."""
    area2 = sum(cross(p, q) for p, q in zip(points, (*points[1:], points[0]), strict=True))
    normal = _normal(targets)
    if abs(area2) < 1.0 or normal is None:
        return None
    normal = times(normal, math.copysign(1.0, area2))
    centre = middle([*targets])
    far = max(targets, key=lambda at: round(apart(at, centre), 6))
    right = direction(minus(minus(far, centre), times(normal, inner(minus(far, centre), normal))))
    up = outer(normal, right)
    under = [Point(inner(minus(at, centre), right), inner(minus(at, centre), up)) for at in targets]
    move, _ = lay_on(points, under, is_mirrored=False)
    zero = along(along(centre, right, move.e), up, move.f)
    x = along(times(right, move.a), up, move.b)
    y = along(times(right, move.c), up, move.d)
    off_mm = max(apart(along(along(zero, x, p[0]), y, p[1]), at) for p, at in zip(points, targets, strict=True))
    return (zero, x, y), off_mm


def _normal(ring: Sequence[Vec]) -> Vec | None:
    """The normal of a closed ring in space (Newell's method); None for one without area."""
    first, total = ring[0], (0.0, 0.0, 0.0)
    for at, to in pairwise(ring[1:]):
        total = along(total, outer(minus(at, first), minus(to, first)), 1.0)
    return direction(total) if inner(total, total) > 1.0 else None
