"""Match marks along a seam: where those of strips lie that are laid end to end, and how far a ring is turned until they
meet those of the closed edge that it is sewn round."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence

from docgen.geometry.outline import outline_box
from docgen.resolve.piece import Piece
from docgen.resolve.seams.seam import Join


def marks_along(join: Join, edges: Collection[str], pieces: Mapping[str, Piece]) -> Iterator[float]:
    """How far from the start of a join the notches lie that are on these edges of its strips, mm."""
    begun_mm = 0.0
    for name in join.pieces:
        box = outline_box(pieces[name].outline)
        yield from (begun_mm + notch.at.y - box.bottom for notch in pieces[name].marks.notches if notch.edge in edges)
        begun_mm += box.height - join.overlap_mm


def turn_to_meet(first: Sequence[float], other: Sequence[float], round_mm: float) -> tuple[float, float]:
    """How far round marks on a closed line so long are moved on until they meet others best, and how far the farthest of
    the fewer then lies from its nearest, mm. Nothing is moved where there are none of one."""
    if not first or not other:
        return 0.0, 0.0
    turns = [0.0, *((one - its) % round_mm for one in first for its in other)]
    found = [(farthest_mm(first, [mm + turn for mm in other], round_mm), turn) for turn in turns]
    gap_mm, turn_mm = min(found, key=lambda one: round(one[0], 3))
    return turn_mm, gap_mm


def farthest_mm(first: Sequence[float], other: Sequence[float], round_mm: float) -> float:
    few, many = sorted((first, other), key=len)
    return max(min(_round_gap_mm(one, its, round_mm) for its in many) for one in few)


def _round_gap_mm(one: float, other: float, round_mm: float) -> float:
    gap_mm = abs(one - other) % round_mm
    return min(gap_mm, round_mm - gap_mm)
