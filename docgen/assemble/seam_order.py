"""Which seams of a proposed order come before others: edges before what goes over them, a stretch before its whole edge."""

from __future__ import annotations

from collections.abc import Sequence

from docgen.assemble.goods import Goods
from docgen.geometry.outline import edge_names, edge_path
from docgen.geometry.path import boxes_overlap, grow_box, path_box
from docgen.resolve import Build, Seam

ON_EDGE_MM = 1.0  # so far off a flap still reaches the edge that it goes over


def edges_first(build: Build, flat: Sequence[Seam], seams: Sequence[Seam]) -> list[Seam]:
    """Seams that sew something flat on a piece, each behind those that hem, bind or line the edges of what it sews on, and
    the edge that a flap goes over: what is sewn on before would be caught in them."""
    goods = Goods(build)
    found: list[Seam] = []
    for seam in flat:
        laid = {side.part for side in seam.sides if side.edges}
        hosts = [
            piece for piece in build.pieces if any(side.part == piece.name and not side.edges for side in seam.sides)
        ]
        over = {
            (host.name, edge)
            for host in hosts
            for landing in host.marks.landings
            if landing.is_over and landing.piece in laid
            for edge in edge_names(host.outline)
            if boxes_overlap(grow_box(path_box(landing.outline), ON_EDGE_MM), path_box(edge_path(host.outline, edge)))
        }
        for other in (one for one in seams if one is not seam and one not in found):
            edges = {(side.part, edge) for side in other.sides for edge in side.edges}
            parts = {side.part for side in other.sides}
            outer = {part for part in parts if not any(goods.covers(part, one) for one in parts - {part})}
            if parts <= laid or (len(outer) == 1 and (outer <= laid or not edges.isdisjoint(over))):
                found += [one for one in _before_in_copies(goods, other, seams) if one not in found]
                found.append(other)
        found += [seam] if seam not in found else []
    return found


def _before_in_copies(goods: Goods, seam: Seam, seams: Sequence[Seam]) -> list[Seam]:
    """Seams written before one that take another copy of a part of it: copies are handed out in their order."""
    several = {side.part for side in seam.sides if goods.counts.get(side.part, 1) > 1 and not side.copy}
    return [one for one in seams[: seams.index(seam)] if not several.isdisjoint(side.part for side in one.sides)]


def caught_first(seams: Sequence[Seam]) -> list[Seam]:
    """Seams along a part of an edge before those that sew more of it: what they hold lies between then."""
    found: list[Seam] = []
    for seam in seams:
        after = next((k for k, one in enumerate(found) if _is_within(seam, one)), len(found))
        found.insert(after, seam)
    return found


def _is_within(seam: Seam, other: Seam) -> bool:
    """Whether a seam sews a stretch of edges of which another sews all."""
    theirs = {
        (side.part, side.copy, edge)
        for side in other.sides
        for edge in (side.edges if side.stretch_mm is None else side.edges[1:-1])
    }
    mine = [side for side in seam.sides if side.stretch_mm is not None]
    return any({(side.part, side.copy, edge) for edge in side.edges} <= theirs for side in mine)
