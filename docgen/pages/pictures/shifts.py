"""How far what a step joins is lifted off what stays, as it is seen."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from docgen.assemble import Body, Copy, Heap, Moved, Vec, inner, is_of_lining, shift_heap, size_mm
from docgen.pages.pictures.view import View

GAP_SHARE = 0.2  # of the size of a heap, by which what is joined to it is lifted off
LEAST_ON_PAPER = 0.4  # of a way, that shows in the view: less is lifted farther
CLEAR, CLEAR_IN_PART = 1.1, 0.6  # of the height of what stays over the foot of what is lifted out of it
NO_FARTHER: Mapping[Copy, float] = MappingProxyType({})


def shift_all(
    bodies: Mapping[Copy, Body], heap: Heap, view: View, gap_mm: float | None, farther: Mapping[Copy, float]
) -> dict[Copy, Vec]:
    """How far each part of a heap is lifted, and which way: by `gap_mm` where that is said, some so many times as far."""
    everything = [bodies[copy] for copy in (*heap.base, *(copy for one in heap.moved for copy in one.copies))]
    gap = GAP_SHARE * size_mm(everything) if gap_mm is None else gap_mm

    def far_of(one: Moved) -> float:
        x, y, _ = view.flat(one.way)
        far = gap * (1 + one.rank) / max((x * x + y * y) ** 0.5, LEAST_ON_PAPER)
        far = max(far, _clear_mm(bodies, heap, one)) if one.way[2] > 0.9 and gap_mm is None else far
        return _off_end_mm(bodies, one) + gap if one.rings else far * farther.get(one.copies[0], 1.0)

    return shift_heap(bodies, heap, far_of, gap)


def _clear_mm(bodies: Mapping[Copy, Body], heap: Heap, one: Moved) -> float:
    """How far a part is lifted until it is over what stays, to be seen: what lines it, altogether."""
    top = max(at[2] for copy in heap.base for face in bodies[copy].faces for at in face.corners)
    low = min(at[2] for copy in one.copies for face in bodies[copy].faces for at in face.corners)
    return (top - low) * (CLEAR if is_of_lining(bodies, one) else CLEAR_IN_PART)


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
