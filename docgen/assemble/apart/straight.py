"""What is held along one line alone, drawn straight where it would go through other parts: nothing says by what angle it
bends. What goes through others then too is left out of the finished article, and told."""

from __future__ import annotations

from collections.abc import Collection, Container, Iterable, Iterator, Mapping, Sequence

from docgen.assemble.apart.bodies import Body
from docgen.assemble.apart.bonds import Bond, Group, group_before
from docgen.assemble.assembled import Assembled
from docgen.assemble.assembly import Copy
from docgen.assemble.space.placed import Placed
from docgen.resolve import sewn_on_name


def straighten(
    bodies: Mapping[Copy, Body], among: Container[Copy] | None = None, *, arches: bool = True
) -> dict[Copy, Body]:
    """The bodies with what is held along one line alone, and only bends, lying straight on from there, and with it what
    bends as it does; these `among` some where they are told. A strap whose ends both lie on one face stays as it stands off
    that; without `arches` all that are held at both ends do."""

    def lies_straight(placed: Placed) -> bool:
        is_meant = placed.is_free and (among is None or placed.copy in among) and not placed.is_held_twice
        return is_meant and len(placed.surface.bands) > 1 and (arches or placed.how != "arches")

    homes: dict[Copy, int] = {}
    for copy, body in bodies.items():
        placed, host = body.placed, bodies.get(body.placed.host) if body.placed.host else None
        if lies_straight(placed):
            homes[copy] = body.held_band
        elif host is not None and lies_straight(host.placed) and placed.surface.bands == host.placed.surface.bands:
            homes[copy] = host.held_band
    return {copy: body.flattened(homes[copy]) if copy in homes else body for copy, body in bodies.items()}


def fast_at_both(build: Assembled, step: int) -> frozenset[str]:
    """The straps of which both ends are sewn or riveted on where they land once a step (from 0) is done."""
    done = [event for event in build.assembly.events if event.step <= step]  # they stand step by step
    sewn = {event.name for event in done if event.kind == "landings"}
    held = [{*fit.stack.parts} for fit in build.assembly.fastened if fit.event < len(done)]
    ends: dict[str, set[int]] = {}
    for host, one in ((piece.name, one) for piece in build.pieces for one in piece.strap_landings):
        is_held = any({one.strap, host} <= parts for parts in held)
        if is_held or sewn_on_name(one.strap, one.end, host) in sewn:
            ends.setdefault(one.strap, set()).add(one.end)
    return frozenset(name for name, found in ends.items() if found == {0, 1})


def list_hanging(build: Assembled, bodies: Mapping[Copy, Body], bonds: Sequence[Bond], step: int) -> frozenset[Copy]:
    """Straps between two holds of which a step (from 0) leaves one apart, or that it brings to the one that they buckle to:
    how they arch at last tells nothing of them yet."""
    arches = [copy for copy, body in bodies.items() if body.placed.how == "arches"]
    before, after = (_number(group_before([*bodies], bonds, at)) if arches else {} for at in (step, step + 1))
    partners = {(strap.name, strap.partner) for strap in build.straps if strap.partner}
    partners |= {(other, name) for name, other in partners}
    tied = [(strap, tab, after) for strap, tab in build.space.hung]
    tied += [
        (copy, Copy(other, copy.number), before) for copy in arches for name, other in partners if name == copy.part
    ]
    return frozenset(
        copy for copy, other, group in tied if copy in arches and group.get(other, group[copy]) != group[copy]
    )


def _number(groups: Iterable[Group]) -> dict[Copy, int]:
    return {copy: k for k, copies in enumerate(groups) for copy in copies}


def tell_crossing(bodies: Iterable[Body], drawn: Iterable[Body], told: Collection[Copy]) -> Iterator[str]:
    """What of the outer bodies is not drawn for that, in words, once for a part; some are told otherwise."""
    known = {body.copy for body in drawn} | {*told}
    gone = (body.copy.part for body in bodies if body.copy not in known and not body.placed.is_inner)
    yield from (f'"{part}": it would go through other parts of the finished article' for part in dict.fromkeys(gone))
