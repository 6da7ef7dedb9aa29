"""The part of a flap between both its ends reaches as far as these are lifted off each other: no gap is drawn there."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from docgen.assemble.space.placed import LAYER_MM, Placed
from docgen.assemble.space.spread import TURNED_BACK
from docgen.assemble.space.vectors import Vec, along, inner, plus, times
from docgen.geometry.shapes import Point

SQUARE = 0.01  # the cosine between what stands square to each other


def find_stretched(placed: Placed) -> Mapping[int, tuple[Vec, Vec]]:
    """The lifts, in mm, at the beginning and at the end of each band that leads square across between two others."""
    return dict(_list_stretched(placed)) if len(placed.lifts) > 2 else {}


def _list_stretched(placed: Placed) -> Iterator[tuple[int, tuple[Vec, Vec]]]:
    for band in range(1, len(placed.lifts) - 1):
        before, after, out = placed.out(band - 1), placed.out(band + 1), placed.out(band)
        if placed.lifts[band - 1] == placed.lifts[band + 1] or abs(inner(before, out)) > SQUARE:
            continue
        if inner(before, after) < TURNED_BACK:
            lift = placed.lifts[band]
            ends = (
                along(lift, before, inner(placed.lifts[k], before) - inner(lift, before)) for k in (band - 1, band + 1)
            )
            start, finish = (times(end, LAYER_MM) for end in ends)
            yield band, (start, finish)


def lift_between(placed: Placed, band: int, ends: tuple[Vec, Vec], at: Point) -> Vec:
    """By how much a place of such a band is lifted."""
    its = placed.surface.bands[band]
    share = (placed.surface.measure(at)[0] - its.begin_mm) / (its.end_mm - its.begin_mm)
    return plus(times(ends[0], 1 - share), times(ends[1], share))
