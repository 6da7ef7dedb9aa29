"""What hangs on a heap and is not drawn with it: what cannot be, and what holds on to a lining, which is drawn when it is
put in, and then alone."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence

from docgen.assemble.apart.bodies import Body
from docgen.assemble.apart.bonds import Bond, group_before
from docgen.assemble.apart.heaps import Heap
from docgen.assemble.assembled import Assembled
from docgen.assemble.assembly import Copy


def list_absent(build: Assembled, lost: Collection[Copy], heap: Heap, step: int) -> Iterator[Copy]:
    """What hangs on a heap once a step (from 0) is done, and is not drawn: what cannot be, and outer parts that hang on it
    by that alone."""
    drawn = heap.copies | heap.leaves
    parts = {copy.part for copy in drawn}
    apart = {one.copy for one in build.space.parts if not one.is_inner and one.copy.part not in parts}
    for group in build.assembly.groups_before(step + 1):
        if not heap.copies.isdisjoint(group):
            yield from (copy for copy in group if copy in lost or copy in apart)


def list_hung_inside(bonds: Sequence[Bond], bodies: Mapping[Copy, Body], heap: Heap, step: int) -> Iterator[Copy]:
    """What an earlier step than this (from 0) has sewn inside to a lining that it puts in, as a facing; what lies on that,
    as a pocket, is left."""
    placed = {copy: body.placed for copy, body in bodies.items() if copy in heap.copies}
    inside = [copy for copy, one in placed.items() if one.is_inner and one.how != "lies on"]
    sewn = [bond for bond in bonds if bond.seam and bond.one in inside and bond.other in inside]
    new = {copy.part for copy in heap.new}
    for group in group_before(inside, sewn, step):
        if not heap.new.isdisjoint(group):
            yield from (copy for copy in group if copy.part not in new)
