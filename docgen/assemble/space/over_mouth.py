"""The flap of a flat pouch in one piece, which goes over its mouth by two bends: it lies over the front and all on that."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from docgen.assemble.assembly import Copy
from docgen.assemble.space.over_edges import do_overlap
from docgen.assemble.space.placed import ALIKE, LAYER_MM, Placed, held_band
from docgen.assemble.space.scene import box_round
from docgen.assemble.space.spread import TURNED_BACK, Lifting, list_closed
from docgen.assemble.space.vectors import TINY, inner, minus, plus, times

MOUTH_MM = 16.0  # what is narrower between two bends of a flap goes over the mouth of a flat pouch
SQUARE = 0.01  # the cosine between what stands square to each other


def raise_over_mouths(lifting: Lifting) -> None:
    """Lift each such flap over all that lies under it: what the halves of its pouch lie apart in the picture brings it
    beneath that."""
    for copy, placed in [*lifting.placed.items()]:
        is_folded = not placed.is_inner and placed.host is None and bool(list_closed(placed))
        for end, step in ((len(placed.surface.bands) - 1, -1), (0, 1)) if is_folded else ():
            if _goes_over(placed, end, step):
                _raise_flap(lifting, copy, end)


def _goes_over(placed: Placed, end: int, step: int) -> bool:
    bands, roof, back = placed.surface.bands, end + step, end + 2 * step
    if not 0 <= back < len(bands) or bands[roof].end_mm - bands[roof].begin_mm > MOUTH_MM:
        return False
    out = placed.out(end)
    return abs(inner(placed.out(roof), out)) < SQUARE and inner(placed.out(back), out) < TURNED_BACK


def _raise_flap(lifting: Lifting, copy: Copy, end: int) -> None:
    host = lifting.placed[copy]
    out = host.out(end)
    family = {one for one, placed in lifting.placed.items() if placed.surface.bands == host.surface.bands}
    riding = {
        one
        for one, placed in lifting.placed.items()
        if placed.host in family and one not in family and held_band(lifting.placed[placed.host], placed) == end
    }
    flaps = [one for one in family if any(band == end for band, _ in lifting.sheets[one])]
    low = min(inner(lifting.placed[one].lifts[end], out) for one in flaps)
    short = max(_heights_under(lifting, family, riding, host, end), default=low - 1) + 1 - low
    for one in (*family, *riding) if short > TINY else ():
        placed = lifting.placed[one]
        bands = range(len(placed.lifts)) if one in riding else (end,)
        lifts = (plus(lift, times(out, short)) if k in bands else lift for k, lift in enumerate(placed.lifts))
        lifting.placed[one] = replace(placed, lifts=tuple(lifts))


def _heights_under(lifting: Lifting, family: set[Copy], riding: set[Copy], host: Placed, end: int) -> Iterator[float]:
    """How high over the plane of the flap, in layers, what lies under it is lifted."""
    out, at = host.out(end), host.surface.bands[end].at
    flap = box_round([at for one, corners in lifting.sheets[host.copy] if one == end for at in corners])
    for copy, placed in lifting.placed.items():
        if copy in family or (placed.host in family and copy not in riding):
            for band, corners in lifting.sheets[copy]:
                is_flat = abs(inner(placed.out(band), out)) > ALIKE and not (copy in family and band == end)
                if is_flat and do_overlap(flap, box_round(corners), out):
                    yield inner(minus(corners[0], at), out) / LAYER_MM + inner(placed.lifts[band], out)
