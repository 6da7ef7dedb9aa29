"""How far what a step joins is lifted off what stays, and which way."""

from __future__ import annotations

import math
from collections.abc import Mapping
from types import MappingProxyType

from docgen.assemble import Body, Copy, Heap, Moved, Vec, inner, size_mm
from docgen.pages.pictures.drawing import NOWHERE
from docgen.pages.pictures.view import View

GAP_SHARE = 0.2  # of the size of a heap, by which what is joined to it is lifted off
LEAST_ON_PAPER = 0.4  # of a way, that shows in the view: less is lifted farther
CLEAR, CLEAR_IN_PART = 1.1, 0.6  # of the height of what stays over the foot of what is lifted out of it
SAME_WAY = 0.99  # the cosine between ways that are one
NO_FARTHER: Mapping[Copy, float] = MappingProxyType({})


def shift_all(
    bodies: Mapping[Copy, Body], heap: Heap, view: View, gap_mm: float | None, farther: Mapping[Copy, float]
) -> dict[Copy, Vec]:
    """How far each part of a heap is lifted, and which way: by `gap_mm` where that is said, some so many times as far."""
    everything = [bodies[copy] for copy in (*heap.base, *(copy for one in heap.moved for copy in one.copies))]
    gap = GAP_SHARE * size_mm(everything) if gap_mm is None else gap_mm
    shifts: dict[Copy, Vec] = dict.fromkeys(heap.base, NOWHERE)
    for one in heap.moved:
        x, y, _ = view.flat(one.way)
        far = gap * (1 + one.rank) / max((x * x + y * y) ** 0.5, LEAST_ON_PAPER)
        far = max(far, _clear_mm(bodies, heap, one)) if one.way[2] > 0.9 and gap_mm is None else far
        far = _off_end_mm(bodies, one) + gap if one.rings else far * farther.get(one.copies[0], 1.0)
        held = _held_by(heap, one, shifts)
        far = min(far, _room_mm(bodies, heap, one, -inner(held, one.way), gap))
        shift = tuple(a + b * far for a, b in zip(held, one.way, strict=True))
        shifts |= dict.fromkeys(one.copies, (shift[0], shift[1], shift[2]))
    return shifts


def _room_mm(bodies: Mapping[Copy, Body], heap: Heap, one: Moved, against: float, gap: float) -> float:
    """How far a part may be lifted: one that comes between two that are lifted off each other, `against` it or the same
    way, stays between them, with its like in their order."""
    is_lining = [_is_lining(bodies, other) for other in heap.moved]
    beside = [other for other, lining in zip(heap.moved, is_lining, strict=True) if not lining]
    if against <= 0 and not (one not in beside and any(inner(other.way, one.way) > SAME_WAY for other in beside)):
        return math.inf
    hosts = {bodies[copy].placed.host for copy in one.copies}
    alike = [
        other
        for other, lining in zip(heap.moved, is_lining, strict=True)
        if other is one or (lining and not hosts.isdisjoint(bodies[copy].placed.host for copy in other.copies))
    ]
    alike.sort(key=lambda other: other.rank)
    return (against if against > 0 else gap) * (alike.index(one) + 1) / (len(alike) + 1)


def _is_lining(bodies: Mapping[Copy, Body], one: Moved) -> bool:
    """Whether it is what lines another part, with all that lies on it."""
    return all(bodies[copy].placed.is_inner or bodies[copy].placed.host in one.copies for copy in one.copies)


def _held_by(heap: Heap, one: Moved, shifts: Mapping[Copy, Vec]) -> Vec:
    """The shift of what it is joined to: of several of what stays in its place."""
    for pair in heap.bonds:
        for mine, its in ((pair.one, pair.other), (pair.other, pair.one)):
            if mine in one.copies and its in shifts and its not in one.copies:
                return shifts[its]
    return 0.0, 0.0, 0.0


def _clear_mm(bodies: Mapping[Copy, Body], heap: Heap, one: Moved) -> float:
    """How far a part is lifted until it is over what stays, to be seen: what lines it, altogether."""
    top = max(at[2] for copy in heap.base for face in bodies[copy].faces for at in face.corners)
    low = min(at[2] for copy in one.copies for face in bodies[copy].faces for at in face.corners)
    return (top - low) * (CLEAR if _is_lining(bodies, one) else CLEAR_IN_PART)


def _off_end_mm(bodies: Mapping[Copy, Body], one: Moved) -> float:
    """How far a ring is lifted until it is clear of the other, round which it lies or that lies round it."""
    mine, its = (
        [
            inner(at, one.way)
            for copy in one.rings
            if (copy in one.copies) == is_own
            for face in bodies[copy].faces
            for at in face.corners
        ]
        for is_own in (True, False)
    )
    return max(its) - min(mine)
