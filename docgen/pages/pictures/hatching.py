"""Hatching: where a slanting line runs over a piece, and over nothing that lies on that."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence

from docgen.geometry.shapes import Point
from docgen.geometry.vector import between
from docgen.pages.pictures.hide import rest_of

HALF_RIGHT, LOWER = 1.0, 0.55  # how much the lines rise: at 45 degrees, and where these stood upright on paper
UPRIGHT = 0.25  # the share of its length that a line on paper goes aside, which reads as the edge of something high


def slope_of(right: Point, up: Point) -> float:
    """How much the lines that hatch a piece rise on it, by what a step to its right and one up are on paper."""
    x, y = right.x + up.x, right.y + up.y
    return LOWER if abs(x) < UPRIGHT * math.hypot(x, y) else HALF_RIGHT


def across(ring: Sequence[Point], off: float, slope: float = HALF_RIGHT) -> Iterator[tuple[Point, Point]]:
    """The parts of the line y = slope * x + off inside of a ring."""
    found = []
    (px, py) = ring[-1]
    for qx, qy in ring:
        before, after = py - slope * px - off, qy - slope * qx - off
        if (before < 0) != (after < 0):
            share = before / (before - after)
            found.append(Point(px + (qx - px) * share, py + (qy - py) * share))
        px, py = qx, qy
    found.sort()
    yield from zip(found[::2], found[1::2], strict=False)


def uncovered(
    lines: Iterable[tuple[Point, Point]], bare: Sequence[tuple[Point, ...]], off: float, slope: float = HALF_RIGHT
) -> Iterator[tuple[Point, Point]]:
    """What of some stretches of the line y = slope * x + off lies in none of some rings."""
    holes = [leg for ring in bare for leg in across(ring, off, slope)]
    for start, end in lines:
        wide = end.x - start.x or 1.0
        spans = [((at.x - start.x) / wide, (to.x - start.x) / wide) for at, to in holes]
        for span in rest_of([(max(low, 0.0), min(top, 1.0)) for low, top in spans if low < 1 and top > 0]):
            yield between(start, end, span[0]), between(start, end, span[1])
