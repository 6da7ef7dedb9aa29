"""What a step handles that is sewn to more by then: it is drawn as it hangs together, and not as it was cut."""

from __future__ import annotations

from collections.abc import Callable, Container, Mapping, Sequence
from dataclasses import replace

from docgen.assemble.apart.bodies import Body
from docgen.assemble.apart.bonds import Bond, group_before, held_folded, step_of
from docgen.assemble.apart.heaps import Heap, UnsureError
from docgen.assemble.apart.records import Joined
from docgen.assemble.apart.telling import MissingError
from docgen.assemble.assembled import Assembled
from docgen.assemble.assembly import Copy
from docgen.classes import dataclass
from docgen.resolve import Piece, by_name, find_punching

JoinedOf = Callable[[Heap, int, Mapping[Copy, Body]], Joined]
HeapsOf = Callable[[int], tuple[Mapping[Copy, Body], Sequence[Heap]]]


@dataclass(frozen=True, slots=True, kw_only=True)
class MadeUp:
    """A heap as it stands before a step: joined in step `since` (from 0) at last, by the bodies of that."""

    since: int
    bodies: Mapping[Copy, Body]
    heap: Heap

    def joined_at(self, step: int, joined_of: JoinedOf) -> Joined:
        """What is known of it: as it lies since it was joined, with all that is sewn and set by a step."""
        since, now = (joined_of(self.heap, at, self.bodies) for at in (self.since, step))
        return replace(now, kind=since.kind, is_away=since.is_away, picked={}, is_turned=False, likeness=(self.heap,))


def list_made_up(build: Assembled, step: int) -> tuple[str, ...]:
    """The pieces, but for strips of joins, that a step (from 0) names and does not work on by themselves, and that are
    joined by then to more than what lies on them or lines them, or folded and sewn to themselves."""
    named, strips = build.assembly.steps[step].pieces, build.join_of
    joined = {copy: group for group in build.assembly.groups_before(step) for copy in group}
    hosts = {lies.copy.part: lies.host.part for lies in build.assembly.lies}
    folded = held_folded(build, step - 1) if named else frozenset()
    return tuple(
        piece.name
        for piece in build.pieces
        if piece.name in named
        and piece.name not in strips
        and (
            Copy(piece.name) in folded
            or any(_is_beyond(piece.name, copy.part, hosts) for copy in joined.get(Copy(piece.name), ()))
        )
        and not is_worked(build, piece, step)
    )


def is_worked(build: Assembled, piece: Piece, step: int) -> bool:
    """Whether a step sews, skives or punches a piece, or sets something in it."""
    one = build.assembly.steps[step]
    return is_cut_into(build, piece, step) or any(
        hole.takes in one.hardware for hole in piece.marks.holes if hole.takes
    )


def is_cut_into(build: Assembled, piece: Piece, step: int) -> bool:
    """Whether a step sews, skives or punches a piece."""
    one, seams = build.assembly.steps[step], by_name(build.seams)
    sewn = {side.part for name in one.seams if name in seams for side in seams[name].sides}
    divided = {event.name for event in build.assembly.events if (event.kind, event.step) == ("dividers", step)}
    straps = {landing.strap for landing in piece.strap_landings}
    return (
        piece.name in {*sewn, *divided, *one.skives}
        or not straps.isdisjoint(one.straps)
        or find_punching(build, build.steps or build.assembly.steps).get(piece.name) == step
    )


def list_beneath(build: Assembled, step: int) -> frozenset[str]:
    """The pieces that a step (from 0) works on by setting posts alone, which also go through the part in which they are
    told, and that hang together with that by then: they lie beneath it, and not beside it."""
    found, others = set[str](), set[str]()
    groups = [{copy.part for copy in group} for group in build.assembly.groups_before(step)]
    for one in build.assembly.fastened:
        if step_of(build, one.event) == step:
            under = {*one.stack.parts} - {one.part}
            found |= {part for group in groups if one.part in group for part in group & under}
            others.add(one.part)
    pieces = by_name(build.pieces)
    return frozenset(name for name in found - others if name in pieces and not is_cut_into(build, pieces[name], step))


def _is_beyond(part: str, other: str, hosts: Mapping[str, str]) -> bool:
    """Whether what hangs together with a part lies neither on it nor behind it, nor on what does."""
    at, seen = other, set[str]()
    while at != part and at in hosts and at not in seen:
        seen.add(at)
        at = hosts[at]
    return at != part


def find_made_up(
    build: Assembled,
    flat: Mapping[Copy, Body],
    bonds: Sequence[Bond],
    step: int,
    turned: Container[str],
    heaps_of: HeapsOf,
    lying_of: Callable[[int], Mapping[Copy, Body]],
) -> list[MadeUp]:
    """The heaps of which a step (from 0) handles a piece, each once: of what was folded last, and joined to nothing since,
    as it lies then. UnsureError where how one stands by then is not sure: nothing is drawn of it as it is joined last, or
    it is turned after that."""
    found: dict[frozenset[Copy], MadeUp] = {}
    groups = group_before([*flat], bonds, step)
    for name in list_made_up(build, step):
        copy, title = Copy(name), build.part_titles[name]
        if any(bond.step == step and copy in (bond.one, bond.other) for bond in bonds):
            continue  # it is drawn as the step joins it
        if copy not in flat:
            raise MissingError([title])
        if flat[copy].placed.is_inner:
            raise UnsureError(f"{title} lies inside by then")
        group = next(group for group in groups if copy in group)
        mine = [bond for bond in bonds if bond.step < step and bond.one in group]
        since = max((bond.step for bond in mine), default=step)
        if any(bond.seam in turned for bond in mine):
            raise UnsureError(f"{title} is sewn inside out, and turned by then")
        folded = [k for k in range(step) if copy in held_folded(build, k)][:1]
        bodies, heaps = heaps_of(since) if since < step else ({}, ())
        if folded and (since == step or since <= folded[0]):
            since, bodies, heaps = folded[0], lying_of(folded[0]), [Heap(base=group, moved=(), bonds=())]
        heap = next((heap for heap in heaps if heap.copies | heap.leaves >= {*group} and copy in heap.copies), None)
        if heap is None:
            raise UnsureError(f"how {title} hangs together with the rest by then is not told")
        key = heap.copies
        handled = {copy, *(found[key].heap.handled if key in found else ())}
        base = tuple(one for one in bodies if one in key)
        whole = Heap(base=base, moved=(), bonds=(), leaves=heap.leaves, handled=frozenset(handled))
        found[key] = MadeUp(since=since, bodies=bodies, heap=whole)
    return [*found.values()]
