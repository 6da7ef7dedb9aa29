"""Pieces as they are cut, until a step turns their hems over."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from docgen.assemble.apart.bodies import Body
from docgen.assemble.apart.bonds import step_of
from docgen.assemble.assembled import Assembled
from docgen.assemble.assembly import Copy
from docgen.assemble.space.hem_rings import ring_of
from docgen.geometry.outline import outline_path
from docgen.geometry.vector import transform_point


def leave_unturned(build: Assembled, bodies: Mapping[Copy, Body], step: int) -> Mapping[Copy, Body]:
    """The bodies with those single pieces as they are cut of which only a later step turns the hem over, where none of
    their edges is sewn yet: a row along an edge may end at the fold."""
    unturned = build.assembly.unturned(step)
    sewn = {once.seam for once in build.assembly.sewn if step_of(build, once.event) <= step} if unturned else ()
    sides = [side for seam in build.seams if seam.name in sewn for side in seam.sides]
    found = {**bodies}
    for copy, body in bodies.items() if unturned else ():
        item = body.placed.item
        piece = item.strips[0].piece if len(item.strips) == 1 and not item.is_ring else None
        if piece is None or piece.name not in unturned or body.placed.ring != item.ring:
            continue
        if not any(side.part == piece.name and side.edges for side in sides):
            ring = tuple(transform_point(at, item.strips[0].move) for at in ring_of(outline_path(piece.outline)))
            strip = replace(item.strips[0], piece=replace(piece, hems=()))
            found[copy] = body.with_place(
                replace(body.placed, ring=ring, item=replace(item, ring=ring, strips=(strip,)))
            )
    return found
