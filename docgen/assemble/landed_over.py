"""Pieces that land over others on one piece: what is written first lies beneath, and is laid there first."""

from __future__ import annotations

from collections.abc import Iterator, Sequence, Set
from typing import TypeVar

from docgen.assemble.assembly import EventKind
from docgen.classes import dataclass
from docgen.geometry.path import boxes_overlap, grow_box, path_box
from docgen.resolve import Build, Piece, Step

Done = tuple[EventKind, str]
LEAST_MM = 1.0  # what lands over another by less lies beside it
T = TypeVar("T")


@dataclass(frozen=True, slots=True, kw_only=True)
class Over:
    """Two pieces that land over each other on a piece, and the seams that sew each there."""

    lower: str
    upper: str
    lower_seams: frozenset[str]
    upper_seams: frozenset[str]


def find_loops(build: Build) -> frozenset[str]:
    """Pieces that are folded on themselves, as loops and tabs: a seam may catch them beneath what it sews over them."""
    return frozenset(piece.name for piece in build.pieces if any(not fold.is_open for fold in piece.own_folds))


def list_over(base: Piece, loops: Set[str]) -> Iterator[tuple[str, str]]:
    """Two pieces that land over each other on a piece, on one side of it, the lower one first: of each the upper ones,
    from the last but one that is written on back. No loops: what these lie over is as the work lays them."""
    marks = base.marks.landings
    if len(marks) < 2:
        return
    order = base.landing_names
    placed = [
        (order.index(one.piece), one, grow_box(path_box(one.outline), -LEAST_MM / 2))
        for one in marks
        if one.piece not in loops
    ]
    placed.sort(key=lambda item: item[0])
    for k, (rank, lower, room) in reversed([*enumerate(placed)]):
        for other, upper, box in placed[k + 1 :]:
            if rank < other and lower.is_inside == upper.is_inside and boxes_overlap(room, box):
                yield lower.piece, upper.piece


def find_over(build: Build) -> list[Over]:
    """All that lands over something, host by host, as `list_over` has it."""
    joins, loops, found = build.join_of, find_loops(build), list[Over]()
    for base in build.pieces:
        names = {base.name, joins.get(base.name, base.name)}
        for lower, upper in list_over(base, loops):
            on = [seam for seam in build.seams if not seam.parts.isdisjoint(names)]
            sewn = [frozenset(seam.name for seam in on if part in seam.parts) for part in (lower, upper)]
            found.append(Over(lower=lower, upper=upper, lower_seams=sewn[0], upper_seams=sewn[1]))
    return found


def lay_in_order(over: Sequence[Over], step: Step, done: list[Done]) -> list[Done]:
    """The work of a step, what sews a piece where it lands before what sews another there over it, but for what its order
    names."""
    for one in over:
        seams = [it for it in done if it[0] == "seams" and it not in step.timed]
        lower = next((it for it in seams if it[1] in one.lower_seams), None)
        if lower is not None and lower[1] not in one.upper_seams:
            put_before(done, lower, [it for it in seams if it[1] in one.upper_seams])
    return done


def name_in_order(over: Sequence[Over], names: Sequence[str]) -> list[str]:
    """Pieces that a step has in hand, each that no seam sews where it lands before those that land over it."""
    told = [*names]
    for one in over:
        if not one.lower_seams and {one.lower, one.upper} <= {*told}:
            put_before(told, one.lower, [one.upper])
    return told


def put_before(done: list[T], own: T, others: Sequence[T]) -> None:
    """Move one of a list before the first of some others, where it comes later than that."""
    if others and done.index(others[0]) < done.index(own):
        done.remove(own)
        done.insert(done.index(others[0]), own)
