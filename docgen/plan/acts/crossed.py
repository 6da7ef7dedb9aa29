"""Earlier seams that a row crosses, whose allowances lie under a part of it, whichever way they are laid."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from docgen.assemble import Copy, Sewn
from docgen.classes import dataclass
from docgen.geometry.outline import edge_names
from docgen.plan.acts.work import Work
from docgen.resolve import Layer, Seam, SeamSide

AT_END_MM = 15.0  # an allowance that begins no farther from an end of the row lies at that: our choice
TINY = 1e-6
ENDS = {1: "cross_end", 2: "cross_ends"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Crossed:
    """Which turned seams a row crosses, what of them lies under a part of it, and the case of the words for where."""

    seams: tuple[str, ...]
    layers: tuple[Layer, ...]
    where: str


def find_crossed(work: Work, seam: Seam, groups: Sequence[Sequence[Layer]]) -> Crossed | None:
    """What lies under a part of a row of seams that are turned, of the layers of each partner and what lies on it; None
    where it crosses none."""
    found = [(one, layer) for group in groups for one, layer in _allowances(work, seam, group)]
    if not found:
        return None
    seams = tuple(dict.fromkeys(name for names, _ in found for name in names))
    layers = tuple(layer for _, layer in found)
    return Crossed(seams=seams, layers=layers, where=_where(work, seam, {layer.part for layer in layers}))


def _allowances(work: Work, seam: Seam, group: Sequence[Layer]) -> Iterator[tuple[tuple[str, ...], Layer]]:
    """The layers on a partner that are of seams of it which are turned, with these: the first that has such a layer all
    along it, and those that have the same ones."""
    own = [work.seams[name] for name in _list_beside(work, seam, group[0].part)]
    under = {one.name: frozenset(layer.part for layer in one.layers if layer.least_mm) for one in own}
    landed = {lies.copy.part for lies in work.build.assembly.lies if lies.host.part == group[0].part}
    for layer in group[1:] if own else ():
        of = [one.name for one in own if layer.part in under[one.name]]
        is_sewn = any(layer.part in work.seams[name].parts for name in of)
        if of and not layer.least_mm and (is_sewn or layer.part not in landed):
            yield tuple(name for name in of if under[name] == under[of[0]]), layer


def _list_beside(work: Work, seam: Seam, part: str) -> Iterator[str]:
    """The turned seams before a seam that sew the same copy of a part, by an edge next to its own."""
    sewn = work.build.assembly.sewn
    at = next(k for k, one in enumerate(sewn) if one.seam == seam.name)
    mine = [(copy, side) for copy, side in _sides_of(work, sewn[at]) if side.part == part]
    for name in dict.fromkeys(one.seam for one in sewn[:at] if work.seams[one.seam].is_turned):
        its = [pair for one in sewn[:at] if one.seam == name for pair in _sides_of(work, one)]
        if any(copy == other and _are_beside(work, side, one) for copy, side in mine for other, one in its):
            yield name


def _sides_of(work: Work, once: Sewn) -> Iterator[tuple[Copy, SeamSide]]:
    """The copies that are sewn once, each with the side of the seam that it takes."""
    yield from zip(once.sides, work.seams[once.seam].sides, strict=True)


def _are_beside(work: Work, side: SeamSide, other: SeamSide) -> bool:
    """Whether an edge that one side of a part takes is next to one of the other's."""
    piece = work.pieces.get(side.part)
    names = edge_names(piece.outline) if piece is not None else ()
    pairs = {*pairwise((*names, *names[:1]))}
    return not names or any((a, b) in pairs or (b, a) in pairs for a in side.edges for b in other.edges)


def _where(work: Work, seam: Seam, parts: set[str]) -> str:
    """At which ends of a row these parts lie under it, where its first side tells, and nowhere else."""
    once = next(one for one in work.build.assembly.sewn if one.seam == seam.name)
    spans, near = [*_spans(once, parts)], min(AT_END_MM / seam.length_mm, 0.25)
    is_at_ends = all(begin < near or end > 1 - near for begin, end in spans)
    ends = {begin < near for begin, end in spans if end - begin < 1 - 2 * near}
    return ENDS[len(ends)] if spans and is_at_ends and ends else "cross"


def _spans(once: Sewn, parts: set[str]) -> Iterator[tuple[float, float]]:
    """From where to where along the first side of a seam that has them these parts lie, as shares of it, stretches that go
    on as one."""
    sides = [one.side for one in once.columns if any(copy.part in parts for copy, _ in one.layers)]
    side = min((one for one in sides if one >= 0), default=0)
    columns = [column for column in once.columns if column.side == side]
    bits = sorted(
        (bit.begin, bit.end)
        for n, column in enumerate(columns)
        for bit in column.bits
        if any(mm and copy.part in parts for (copy, _), mm in [*zip(column.layers, bit.mms, strict=True)][not n :])
    )
    while bits:
        begin, end = bits.pop(0)
        while bits and bits[0][0] < end + TINY:
            end = max(end, bits.pop(0)[1])
        yield begin, end
