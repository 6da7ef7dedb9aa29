"""A face as it is seen along a way: its ring, its box, and how near it is at each place."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

from docgen.geometry.crossing import leg_distance
from docgen.geometry.shapes import Point

Flat = tuple[float, float, float]
"""A point on paper, and how near it is."""
Span = tuple[float, float]

BEHIND_MM = 0.16  # at right angles to a face: what lies no farther behind it is not hidden by it; a tenth of a layer
TINY = 1e-9


class Side:
    """A face on paper: its ring, box, plane, and how far behind it a line must lie to be hidden."""

    __slots__ = ("a", "b", "bottom", "c", "edges", "left", "margin", "right", "ring", "top")

    def __init__(self, points: Sequence[Flat], cosine: float) -> None:
        ring = [(x, y) for x, y, _ in points]
        area = sum(p[0] * q[1] - p[1] * q[0] for p, q in zip(ring, ring[1:] + ring[:1], strict=True))
        points = list(points) if area > 0 else list(reversed(points))
        self.ring = ring if area > 0 else ring[::-1]
        self.left, self.right = min(x for x, _ in ring), max(x for x, _ in ring)
        self.bottom, self.top = min(y for _, y in ring), max(y for _, y in ring)
        self.a, self.b, self.c = _plane(points)
        self.margin = BEHIND_MM / abs(cosine)
        self.edges = _edges(self.ring) if _is_convex(self.ring) else ()

    def near(self, x: float, y: float) -> float:
        return self.a * x + self.b * y + self.c

    def holds(self, x: float, y: float) -> bool:
        """Whether a point on paper lies inside of the ring."""
        if not (self.left <= x <= self.right and self.bottom <= y <= self.top):
            return False
        inside = False
        x1, y1 = self.ring[-1]
        for x2, y2 in self.ring:
            if (y1 > y) != (y2 > y) and x < x1 + (y - y1) * (x2 - x1) / (y2 - y1):
                inside = not inside
            x1, y1 = x2, y2
        return inside

    def depth_at(self, x: float, y: float) -> float:
        """How far inside of the ring a point on paper lies; nothing, or less, outside of it."""
        if self.edges:
            return min([a * x + b * y + c for a, b, c in self.edges])
        if not self.holds(x, y):
            return 0.0
        at, corners = Point(x, y), [Point(*corner) for corner in self.ring]
        return min(leg_distance(leg, at) for leg in pairwise((*corners, corners[0])))


def _plane(points: Sequence[Flat]) -> Flat:
    """How near a face is as a * across + b * up + c, by the normal of its ring (Newell's method: Sutherland, Sproull and
    Schumacker, A characterization of ten hidden-surface algorithms, 1974)."""
    nx = ny = nz = sx = sy = sw = 0.0
    x1, y1, w1 = points[-1]
    for x2, y2, w2 in points:
        nx += (y1 - y2) * (w1 + w2)
        ny += (w1 - w2) * (x1 + x2)
        nz += (x1 - x2) * (y1 + y2)
        sx, sy, sw = sx + x2, sy + y2, sw + w2
        x1, y1, w1 = x2, y2, w2
    a, b, count = -nx / nz, -ny / nz, len(points)
    return a, b, (sw - a * sx - b * sy) / count


def _is_convex(ring: Sequence[Span]) -> bool:
    """Whether an anticlockwise ring turns left at every corner."""
    (x0, y0), (x1, y1) = ring[-2], ring[-1]
    for x2, y2 in ring:
        if (x1 - x0) * (y2 - y1) - (y1 - y0) * (x2 - x1) < -1e-7:
            return False
        x0, y0, x1, y1 = x1, y1, x2, y2
    return True


def _edges(ring: Sequence[Span]) -> tuple[Flat, ...]:
    """The edges of an anticlockwise ring, each as a x + b y + c: how far inside of it a point is."""
    found = []
    (px, py) = ring[-1]
    for qx, qy in ring:
        ex, ey = qx - px, qy - py
        long = math.hypot(ex, ey)
        if long > TINY:
            found.append((-ey / long, ex / long, (px * ey - py * ex) / long))
        px, py = qx, qy
    return tuple(found)
