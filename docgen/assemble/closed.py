"""Which parts are closed when a seam is sewn: those that a body of parts runs round, so that no flat bed gets behind them.

Edges that are sewn to edges link their parts; a lining goes with what it lies behind. A part is closed round when a way
leads from one of its edges across other parts back to another, and the two are no neighbours: the wall of a tube, a bag
or a pouch. A part with all its edges sewn to such walls is a floor. What lies flat on a part is no way.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from itertools import product

from docgen.assemble.assembly import Assembly, Copy
from docgen.assemble.goods import Goods
from docgen.classes import dataclass
from docgen.geometry.outline import STRIP_EDGES, WHOLE, edge_names
from docgen.resolve import Build

Run = tuple[Copy, tuple[str, ...]]


@dataclass(frozen=True, slots=True, kw_only=True)
class Link:
    """Runs of edges that one event sews to each other."""

    event: int
    runs: tuple[Run, ...]


class Closing:
    """What closes what, and when. Nothing in it changes."""

    def __init__(self, build: Build, assembly: Assembly) -> None:
        self.goods = Goods(build)
        self._runs: dict[Copy, list[tuple[Link, tuple[str, ...]]]] = {}
        for link in _links(self.goods, assembly):
            for copy, run in link.runs:
                self._runs.setdefault(copy, []).append((link, run))
        kinds = [(event.kind, event.name, at) for at, event in enumerate(assembly.events)]
        self.rings = {name: at for kind, name, at in reversed(kinds) if kind == "joins" and self._is_ring(name)}

    def _is_ring(self, name: str) -> bool:
        return name in self.goods.joins and self.goods.joins[name].is_ring

    def is_round(self, copy: Copy, before: int) -> bool:
        """Whether a part is closed round by the events before that one."""
        if self.rings.get(copy.part, before) < before:
            return True
        return any(self._leads_back(copy, own, link, before) for link, own in self._runs_before(copy, before))

    def is_floor(self, copy: Copy, before: int) -> bool:
        """Whether all edges of a part are sewn to parts that are closed round."""
        found = [*self._runs_before(copy, before)]
        if not found or {edge for _, own in found for edge in own} < {*self.edges(copy.part)}:
            return False
        partners = {other for link, _ in found for other, _ in link.runs if other != copy}
        return all(self.is_round(other, before) for other in partners)

    def find_first(self, is_closed: Callable[[Copy, int], bool], copy: Copy, before: int) -> int:
        """The event that closes a part, which is closed before that one."""
        low, high = 0, before
        while low < high:
            middle = (low + high) // 2
            low, high = (low, middle) if is_closed(copy, middle) else (middle + 1, high)
        return low - 1

    def free_edges(self, copy: Copy, before: int) -> tuple[str, ...]:
        """Edges of a part that are sewn to nothing yet; of a ring its ends are."""
        sewn = {edge for _, own in self._runs_before(copy, before) for edge in own}
        sewn |= {"start", "end"} if self.rings.get(copy.part, before) < before else set()
        return tuple(edge for edge in self.edges(copy.part) if edge not in sewn)

    def edges(self, part: str) -> tuple[str, ...]:
        """The edges of a part in their order round it."""
        piece = self.goods.pieces.get(part)
        return edge_names(piece.sewn_outline) if piece else STRIP_EDGES

    def _runs_before(self, copy: Copy, before: int) -> Iterator[tuple[Link, tuple[str, ...]]]:
        return (found for found in self._runs.get(copy, ()) if found[0].event < before)

    def _leads_back(self, copy: Copy, own: Sequence[str], first: Link, before: int) -> bool:
        """Whether a way that leaves a part by this run comes back by another that lies across from it; on its way it may
        cross the part at another place, as a gusset stands on both sides of its panels."""
        waiting = [(other, run) for other, run in first.runs if other != copy]
        seen = {(id(first), other) for other, _ in waiting}
        while waiting:
            here, entered = waiting.pop()
            for link, left in self._runs_before(here, before):
                if not self._lies_across(here.part, entered, left):
                    continue
                for other, run in link.runs:
                    if other == copy and self._lies_across(copy.part, own, run):
                        return True
                    if other != here and (key := (id(link), other)) not in seen:
                        seen.add(key)
                        waiting.append((other, run))
        return False

    def _lies_across(self, part: str, one: Sequence[str], other: Sequence[str]) -> bool:
        """Whether two runs hold edges that neither are the same nor touch each other."""
        names = self.edges(part)
        places = ([names.index(edge) for edge in run if edge in names] for run in (one, other))
        return any(1 < abs(a - b) < len(names) - 1 for a, b in product(*places))


def _links(goods: Goods, assembly: Assembly) -> Iterator[Link]:
    """The seams as they are sewn, each side of edges once; linings are left out."""
    for once in assembly.sewn:
        sides = zip(once.sides, goods.seams[once.seam].sides, strict=True)
        runs = [(copy, _expand(goods, copy.part, side.edges)) for copy, side in sides if side.edges]
        kept = [run for run in runs if not any(goods.covers(run[0].part, other.part) for other, _ in runs)]
        if len(kept) > 1:
            yield Link(event=once.event, runs=tuple(kept))


def _expand(goods: Goods, part: str, edges: tuple[str, ...]) -> tuple[str, ...]:
    if WHOLE not in edges:
        return edges
    return edge_names(goods.pieces[part].sewn_outline) if part in goods.pieces else STRIP_EDGES
