"""The flap of a body in one piece: its end, which comes over the top of it and down on its front."""

from __future__ import annotations

from collections.abc import Iterable

from docgen.assemble.space.placed import ALIKE, Placed
from docgen.assemble.space.vectors import Vec, inner, minus

OFF_MM = 15.0  # so far a flap lies off what it comes over, and no farther
LEAST_UP = 0.9  # the cosine between the way a top looks and up


def find_flap(placed: Placed) -> tuple[int, int] | None:
    """The band of a bent wall that comes down over another band of it from the top, and that other one; None where none
    does, or both its ends do."""
    bands = placed.surface.bands
    if placed.how != "stands on" or placed.is_inner or len(bands) < 4 or placed.item.is_ring:
        return None
    ends = ((0, 1), (len(bands) - 1, len(bands) - 2))
    found = [(end, _under(placed, end)) for end, top in ends if placed.out(top)[2] > LEAST_UP]
    told = [(end, under) for end, under in found if under is not None]
    return told[0] if len(told) == 1 else None


def _under(placed: Placed, end: int) -> int | None:
    """The longest other band that looks the same way in nearly the same plane."""
    surface, out = placed.surface, placed.out(end)
    alike = [
        (band.end_mm - band.begin_mm, k)
        for k, band in enumerate(surface.bands)
        if k != end
        and inner(placed.out(k), out) > ALIKE
        and abs(inner(minus(band.at, surface.bands[end].at), out)) < OFF_MM
    ]
    return max(alike)[1] if alike else None


def way_of_flap(parts: Iterable[Placed]) -> Vec | None:
    """The way the front looks on which a flap comes down; None where no part has such a flap, or several do."""
    found = [placed.out(flap[0]) for placed in parts if (flap := find_flap(placed)) is not None]
    return found[0] if len(found) == 1 else None
