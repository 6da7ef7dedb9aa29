"""How far what a step joins is lifted off what stays: each part on its way off what it is joined to, in the order in which
they lie on each other."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping

from docgen.assemble.apart.bodies import Body
from docgen.assemble.apart.heaps import Heap, Moved
from docgen.assemble.assembly import Copy
from docgen.assemble.space.vectors import NOWHERE, Vec, along, inner

SAME_WAY = 0.99  # the cosine between ways that are one


def shift_heap(
    bodies: Mapping[Copy, Body], heap: Heap, far_mm: Callable[[Moved], float], gap_mm: float
) -> dict[Copy, Vec]:
    """How far each part of a heap is lifted, and which way; `far_mm` off what it is joined to, where there is room."""
    shifts: dict[Copy, Vec] = dict.fromkeys(heap.base, NOWHERE)
    for one in heap.moved:
        held = _held_by(heap, one, shifts)
        far = min(far_mm(one), _room_mm(bodies, heap, one, -inner(held, one.way), gap_mm))
        shifts |= dict.fromkeys(one.copies, along(held, one.way, far))
    return shifts


def _room_mm(bodies: Mapping[Copy, Body], heap: Heap, one: Moved, against: float, gap: float) -> float:
    """How far a part may be lifted: one that comes between two that are lifted off each other, `against` it or the same
    way, stays between them, with its like in their order; not one with another beneath that goes the same way."""
    are_lining = [is_of_lining(bodies, other) for other in heap.moved]
    beside = [other for other, lining in zip(heap.moved, are_lining, strict=True) if not lining]
    alongside = [other.rank for other in beside if inner(other.way, one.way) > SAME_WAY]
    if against <= 0 and (one in beside or one.rank > min(alongside, default=-1)):
        return math.inf
    hosts = {bodies[copy].placed.host for copy in one.copies}
    alike = [
        other
        for other, lining in zip(heap.moved, are_lining, strict=True)
        if other is one or (lining and not hosts.isdisjoint(bodies[copy].placed.host for copy in other.copies))
    ]
    alike.sort(key=lambda other: other.rank)
    return (against if against > 0 else gap) * (alike.index(one) + 1) / (len(alike) + 1)


def is_of_lining(bodies: Mapping[Copy, Body], one: Moved) -> bool:
    """Whether it is what lines another part, with all that lies on it."""
    return all(bodies[copy].placed.is_inner or bodies[copy].placed.host in one.copies for copy in one.copies)


def _held_by(heap: Heap, one: Moved, shifts: Mapping[Copy, Vec]) -> Vec:
    """The shift of what it is joined to: of several of what stays in its place."""
    for pair in heap.bonds:
        for mine, its in ((pair.one, pair.other), (pair.other, pair.one)):
            if mine in one.copies and its in shifts and its not in one.copies:
                return shifts[its]
    return NOWHERE
