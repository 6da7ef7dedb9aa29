"""Goods by length that are sewn to parts. But for zips of the finished article (`zips.py`) they are not drawn: they are
named, and what a zip holds together is not drawn apart."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping

from docgen.assemble.apart.bonds import step_of
from docgen.assemble.assembled import Assembled
from docgen.assemble.assembly import Copy
from docgen.assemble.space.placed import NOT_TAKEN, OTHER_HALF
from docgen.classes import dataclass
from docgen.resolve import by_name

CUT_BY_LENGTH = "it is goods by length, and how it runs is not drawn"
BY_NAME = "sewn in or laid on by length, and named below the pictures alone"


@dataclass(frozen=True, slots=True, kw_only=True)
class Trimmed:
    """Goods by length that a step (from 0) sews to copies."""

    step: int
    name: str
    copies: frozenset[Copy]


def list_trimmed(build: Assembled) -> tuple[Trimmed, ...]:
    """All goods by length that are sewn in by seams, or laid on a piece."""
    return (*_sewn_in(build), *_laid_on(build))


def _sewn_in(build: Assembled) -> Iterator[Trimmed]:
    seams = by_name(build.seams)
    for once in build.assembly.sewn:
        for item in seams[once.seam].trimmings:
            yield Trimmed(step=step_of(build, once.event), name=item.name, copies=frozenset(once.sides))


def _laid_on(build: Assembled) -> Iterator[Trimmed]:
    events = {event.name: event.step for event in build.assembly.events if event.kind == "dividers"}
    for piece in build.pieces:
        names = {piece.name, *(join.name for join in build.joins if piece.name in join.pieces)}
        copies = frozenset(placed.copy for placed in build.space.parts if placed.copy.part in names)
        for name in dict.fromkeys(line.goods for line in piece.dividers if line.goods):
            yield Trimmed(step=events.get(piece.name, len(build.assembly.steps)), name=name, copies=copies)


def name_trimmed(build: Assembled, trimmed: Collection[Trimmed], copies: Collection[Copy], step: int) -> list[str]:
    """What is sewn to some copies once a step is done, in words."""
    titles = {item.name: item.what for item in build.trimmings}
    return [
        titles[name]
        for name in sorted({one.name for one in trimmed if one.step <= step and not one.copies.isdisjoint(copies)})
    ]


def find_zipped(
    build: Assembled, trimmed: Collection[Trimmed], groups: Collection[Collection[Copy]], step: int
) -> Iterator[str]:
    """The zips that hold several of these groups together before a step, in words."""
    for item in build.trimmings:
        zipped = {copy for one in trimmed if one.name == item.name and one.step < step for copy in one.copies}
        if item.kind == "zip" and sum(not zipped.isdisjoint(group) for group in groups) > 1:
            yield item.what


def find_undrawn(build: Assembled) -> Mapping[str, str]:
    """Goods that nothing says where they lie, and why they are not drawn."""
    drawn = {piece.name for piece in build.pieces}
    drawn |= {use.name for seam in build.seams for use in seam.trimmings}
    drawn |= {line.goods for piece in build.pieces for line in piece.dividers}
    found = {one.name: CUT_BY_LENGTH for one in build.trimmings if one.name not in drawn}
    return found | {one.hardware: one.why for one in build.space.unset if one.why in (NOT_TAKEN, OTHER_HALF)}


def tell_goods(undrawn: Mapping[str, str], trimmed: Collection[Trimmed], zips: Collection[str] = ()) -> Iterator[str]:
    """The goods that are not drawn, and why, in words: those of which nothing says where they lie, then what is sewn in,
    without the `zips` that are drawn once all is done."""
    yield from (f'"{name}": {why}' for name, why in undrawn.items())
    known = {*undrawn, *zips}
    if named := [f'"{name}"' for name in dict.fromkeys(one.name for one in trimmed) if name not in known]:
        yield f"{', '.join(named)}: {BY_NAME}"
