"""Hatching: where a line at 45 degrees runs over a piece, and over nothing that lies on that."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from docgen.geometry.shapes import Point
from docgen.geometry.vector import between
from docgen.pages.pictures.hide import rest_of


def across(ring: Sequence[Point], off: float) -> Iterator[tuple[Point, Point]]:
    """The parts of the line y = x + off inside of a ring."""
    found = []
    (px, py) = ring[-1]
    for qx, qy in ring:
        before, after = py - px - off, qy - qx - off
        if (before < 0) != (after < 0):
            share = before / (before - after)
            found.append(Point(px + (qx - px) * share, py + (qy - py) * share))
        px, py = qx, qy
    found.sort()
    yield from zip(found[::2], found[1::2], strict=False)


def uncovered(
    lines: Iterable[tuple[Point, Point]], bare: Sequence[tuple[Point, ...]], off: float
) -> Iterator[tuple[Point, Point]]:
    """What of some stretches of the line y = x + off lies in none of some rings."""
    holes = [leg for ring in bare for leg in across(ring, off)]
    for start, end in lines:
        wide = end.x - start.x or 1.0
        spans = [((at.x - start.x) / wide, (to.x - start.x) / wide) for at, to in holes]
        for span in rest_of([(max(low, 0.0), min(top, 1.0)) for low, top in spans if low < 1 and top > 0]):
            yield between(start, end, span[0]), between(start, end, span[1])
