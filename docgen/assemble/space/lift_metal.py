"""How hardware is lifted in a picture: on what it is set in, or hangs in."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace

from docgen.assemble.assembly import Assembly, Copy
from docgen.assemble.space.metal import Metal
from docgen.assemble.space.pile import Pile
from docgen.assemble.space.placed import BY_AN_END, Placed
from docgen.assemble.space.spread import Lifting
from docgen.assemble.space.vectors import TINY, Vec, direction, inner, times
from docgen.resolve import Build

OVER_STRAP = 2.5  # layers, by which the far side of a buckle lies over a strap through it, and
JUST_OVER, PER_MM = 1.0, 0.125  # by which a small one does at least: it rises by so many for each mm of its depth


def lift_metal(build: Build, assembly: Assembly, lifting: Lifting, pile: Pile, metal: Metal) -> Vec:
    """Hardware lies on the pile, on the side to which its part is lifted; a cap on what its post goes through; what is
    set in linings alone on the inner side of these."""
    placed = lifting.placed.get(metal.part)
    away = sum(_lifted(placed, metal.axis)) if placed is not None else 0.0
    if metal.shape == "cap":
        held = _held_by(build, assembly, metal)
        if placed is not None and placed.is_inner and _are_linings(lifting, held or frozenset([metal.part.part])):
            return times(metal.axis, max(inner(lift, metal.axis) for lift in placed.lifts) + 0.5)
        return pile.lift_at(metal, metal.axis, held)
    return pile.lift_at(metal, times(metal.axis, -1.0) if away < -TINY else metal.axis, None)


def _lifted(placed: Placed, axis: Vec) -> Iterator[float]:
    """By how many layers a part is lifted along an axis; of a strap without what lies back at its ends."""
    is_strap = placed.how in BY_AN_END
    for band, lift in enumerate(placed.lifts):
        if not is_strap or inner(placed.out(band), axis) > 0:
            yield inner(lift, axis)


def _are_linings(lifting: Lifting, held: frozenset[str]) -> bool:
    """Whether a post goes through linings alone: nothing of it is seen outside."""
    return all(one.is_inner for one in lifting.placed.values() if one.copy.part in held)


def tilt(lifting: Lifting, pile: Pile, metal: Metal, straps: Sequence[Copy]) -> Metal:
    """A buckle or ring with its bar on its own part, under the straps that go through it, and its far side over these."""
    if not straps:
        return metal
    lift = pile.lift_at(metal, direction(metal.lift), frozenset([metal.part.part]))
    own, high = math.hypot(*lift), max(math.hypot(*lift) for copy in straps for lift in lifting.placed[copy].lifts)
    far = min(high + OVER_STRAP, max(high + JUST_OVER, PER_MM * metal.deep_mm))
    return metal if own < TINY else replace(metal, lift=lift, tilt=max(far, own) / own)


def _held_by(build: Build, assembly: Assembly, metal: Metal) -> frozenset[str] | None:
    """The parts that the post of a cap goes through, joins by their names; None where that is not told."""
    joins = build.join_of
    stacks = [
        {part for piece in one.stack.parts for part in (piece, joins.get(piece, piece))}
        for one in assembly.fastened
        if one.hardware == metal.hardware
    ]
    found = [parts for parts in stacks if metal.part.part in parts]
    return frozenset(part for parts in found for part in parts) or None
