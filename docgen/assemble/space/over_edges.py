"""What comes down over the edge of what it lies on, as a flap on the front: over all that is lifted there."""

from __future__ import annotations

import math
from collections.abc import Iterator

from docgen.assemble.space.pile import ALIKE, NEAR_MM
from docgen.assemble.space.placed import LAYER_MM, Placed
from docgen.assemble.space.scene import box_round
from docgen.assemble.space.spread import TURNED_BACK, Lifting
from docgen.assemble.space.vectors import TINY, Vec, inner, minus

SHORT_MM = 4.0  # by less than this an end that closes over may be bent too short for it: our choice
OVERLAP_MM = 3.0  # by more than this parts in one plane lie on each other
OVER = ("lies on", "goes on")
INSIDE = ("lies on", "folds between", "turned out")  # of two back to back, between them


def comes_over(placed: Placed) -> bool:
    """Whether a part lies on another one and is bent, not folded flat, by half a turn: on the outside at once, or over the
    depth of what is between."""
    if placed.how not in OVER or not placed.level or not any(fold.is_open for fold in placed.item.folds):
        return False
    home, bands = placed.surface.band_of(placed.anchor), range(len(placed.surface.bands))
    # one that lies back on the very part over which it is lapped folds round that
    is_flat = placed.how == "lies on" and placed.level > 0 and any(is_back(placed, band, home) for band in bands)
    return is_flat or is_across(placed, home)


def is_back(placed: Placed, band: int, home: int) -> bool:
    """Whether a band looks against the one that stays where it is."""
    return inner(placed.out(band), placed.out(home)) < TURNED_BACK


def is_across(placed: Placed, home: int, least_mm: float = NEAR_MM) -> bool:
    """Whether a band looks against the one that stays, so far off on the far side of that: it has gone round an edge."""
    bands, out = placed.surface.bands, placed.out(home)
    backs = (band for k, band in enumerate(bands) if is_back(placed, k, home))
    return any(inner(minus(band.at, bands[home].at), out) < -least_mm for band in backs)


def layers_over(lifting: Lifting, placed: Placed, band: int) -> int:
    """By how many layers a band that comes down is lifted, with what lies behind it between it and the uppermost there."""
    behind = max((-level_off(lifting, one) for one in lifting.placed.values() if one.host == placed.copy), default=0)
    under = max(_layers_under(lifting, placed, band), default=0.0)
    return max(math.ceil(under - TINY) + 1 + max(behind, 0), 0)


def _layers_under(lifting: Lifting, placed: Placed, band: int) -> Iterator[float]:
    """How high what lies beneath a band, or would stand out through it, comes over its plane, in layers."""
    room, out, at = box_of(lifting, placed, band), placed.out(band), placed.surface.bands[band].at
    for one in lifting.placed.values():
        if one.is_inner or placed.copy in (one.copy, one.host):
            continue
        for k, corners in lifting.sheets[one.copy]:
            over_mm = inner(minus(corners[0], at), out)
            if over_mm >= SHORT_MM or abs(inner(one.out(k), out)) <= ALIKE:
                continue
            if do_overlap(room, box_round(corners), out):
                # where an end is bent too short a millimetre counts as a layer
                yield inner(one.lifts[k], out) + (over_mm if over_mm > 0 else over_mm / LAYER_MM)


def do_overlap(one: tuple[Vec, Vec], other: tuple[Vec, Vec], out: Vec) -> bool:
    """Whether two boxes in one plane, that looks the way `out`, lie on each other by more than their edges."""
    beside = [k for k in range(3) if abs(out[k]) < ALIKE]
    return all(min(one[1][k], other[1][k]) - max(one[0][k], other[0][k]) > OVERLAP_MM for k in beside)


def box_of(lifting: Lifting, placed: Placed, band: int) -> tuple[Vec, Vec]:
    return box_round([at for one, corners in lifting.sheets[placed.copy] if one == band for at in corners])


def level_off(lifting: Lifting, placed: Placed) -> int:
    """By how many layers a part lies off its host: of two back to back, with all that lies on their inner sides between
    them, but for linings that are not sewn to each other."""
    if placed.how != "back to back" or placed.host is None:
        return placed.level
    inside = [one for one in lifting.placed.values() if one.level < 0 and one.how in INSIDE and not one.is_inner]
    deep = {
        one.host: -one.level + _layers_on(lifting, one) for one in lifting.placed.values() if one.copy in lifting.hung
    }
    between = (
        max((-one.level for one in inside if one.host == host), default=deep.get(host, 0))
        for host in (placed.copy, placed.host)
    )
    return placed.level - sum(between)


def _layers_on(lifting: Lifting, lining: Placed) -> int:
    """How many layers lie on the outer side of a lining."""
    return max((one.level for one in lifting.placed.values() if one.host == lining.copy), default=0)
