"""Holes on strips that are joined end to end: the share of the whole seam's holes that falls on each strip."""

from __future__ import annotations

from collections.abc import Collection, Mapping

from docgen.classes import dataclass
from docgen.geometry.nearest import Stretch
from docgen.geometry.outline import SWAPPED, outline_box
from docgen.resolve.piece import Piece
from docgen.resolve.seams.joins import from_start, turned_strip
from docgen.resolve.seams.seam import Join, Seam, SeamSide

AGREE_MM = 0.05  # holes of two copies of one strip that lie nearer than this are one hole of its template
END_MM = 0.001
TICK_EVERY = 10

Edge = tuple[str, str]
EdgeLine = tuple[str, str, str]


@dataclass(frozen=True, slots=True)
class EdgeHoles:
    """Distances in mm from a strip's start along one long edge: of its holes, and of those to tick."""

    holes_mm: tuple[float, ...] = ()
    ticked_mm: tuple[float, ...] = ()

    def moved(self, by_mm: float) -> EdgeHoles:
        """The same, measured from a point that lies `by_mm` before the strip's start."""
        return EdgeHoles(*(tuple(max(mm + by_mm, 0.0) for mm in found) for found in (self.holes_mm, self.ticked_mm)))


@dataclass(frozen=True, slots=True)
class LaidStrip:
    """One strip as it lies in its join: its near end this far from the join's start, turned round or not."""

    join: str
    name: str
    offset_mm: float
    length_mm: float
    is_turned: bool


def tick_every_ten(holes_mm: tuple[float, ...], *, is_backward: bool = False) -> tuple[float, ...]:
    """The holes to tick along a whole seam: the first, every tenth stitch, and the last; counted from the last of them
    where it `is_backward`."""
    counted = holes_mm[::-1] if is_backward else holes_mm
    return tuple(sorted({*counted[::TICK_EVERY], *counted[-1:]}))


def holes_on_strips(
    seams: tuple[Seam, ...],
    joins: Mapping[str, Join],
    pieces: Mapping[str, Piece],
    backward: Collection[tuple[str, str]] = (),
) -> dict[EdgeLine, EdgeHoles]:
    """Holes by strip, long edge ("left", "right") and seam; `backward` are seams and joins of which the end of the join
    lies where the seam begins, so that ticks are counted from there.

    A join lies with its first strip's start where the seam begins; in an overlap both strips have the hole.
    A strip that is cut more than once has one template for all copies: it gets the holes only where they
    agree, and no ticks, which count from one end of the seam. A copy that is turned round takes the holes of the seam
    along the other edge.
    """
    found: dict[Edge, dict[LaidStrip, dict[str, EdgeHoles]]] = {}
    for seam in seams:
        for side in seam.sides:
            if side.part not in joins or not side.edges or not seam.holes_mm:
                continue
            whole = _holes_from_start(joins[side.part], side, seam.holes_on(side.length_mm))
            for copy in lay_out_strips(joins[side.part], pieces):
                edge = SWAPPED[side.edges[0]] if copy.is_turned else side.edges[0]
                copies = found.setdefault((copy.name, edge), {})
                ticked = tick_every_ten(whole, is_backward=(seam.name, side.part) in backward)
                copies.setdefault(copy, {})[seam.name] = _share(copy, whole, ticked)
    return {
        (*edge, seam): _agreed(seam, list(copies.values()))
        for edge, copies in found.items()
        for seam in {seam for shares in copies.values() for seam in shares}
    }


def _holes_from_start(join: Join, side: SeamSide, holes_mm: tuple[float, ...]) -> tuple[float, ...]:
    """The holes of a side from the start of its join on."""
    if side.stretch_mm is None:
        return _carry_round(join, holes_mm)
    begin_mm, _ = from_start(side.stretch_mm, side.edges[0], join.length_mm)
    return tuple(begin_mm + hole for hole in holes_mm)


def sewn_part(join: Join, side: SeamSide, name: str, pieces: Mapping[str, Piece]) -> Stretch | None:
    """From where to where a strip is sewn, from its own start on, by a side that takes a part of its join: of several
    copies as far as any is. None for a strip that is none of it."""
    assert side.stretch_mm is not None
    begin_mm, end_mm = from_start(side.stretch_mm, side.edges[0], join.length_mm)
    found = []
    for copy in (copy for copy in lay_out_strips(join, pieces) if copy.name == name):
        low, high = max(begin_mm - copy.offset_mm, 0.0), min(end_mm - copy.offset_mm, copy.length_mm)
        if high - low > END_MM:
            found.append((copy.length_mm - high, copy.length_mm - low) if copy.is_turned else (low, high))
    return (min(low for low, _ in found), max(high for _, high in found)) if found else None


def _carry_round(join: Join, whole: tuple[float, ...]) -> tuple[float, ...]:
    """Of a ring also the holes of its beginning, where its end lies over them."""
    return (*whole, *(whole[-1] + hole for hole in whole[1:] if join.is_ring and hole <= join.overlap_mm))


def lay_out_strips(join: Join, pieces: Mapping[str, Piece]) -> list[LaidStrip]:
    """The strips of a join as they lie in it, from its start on."""
    turned = turned_strip(join, pieces)
    copies: list[LaidStrip] = []
    reached_mm = 0.0
    for index, name in enumerate(join.pieces):
        length_mm = outline_box(pieces[name].outline).height
        copies.append(LaidStrip(join.name, name, reached_mm, length_mm, index == turned))
        reached_mm += length_mm - join.overlap_mm
    return copies


def _share(copy: LaidStrip, whole: tuple[float, ...], ticked: tuple[float, ...]) -> EdgeHoles:
    def on_strip(distances: tuple[float, ...]) -> tuple[float, ...]:
        inner = [at - copy.offset_mm for at in distances]
        kept = [at for at in inner if -END_MM <= at <= copy.length_mm + END_MM]
        clipped = (min(max(at, 0.0), copy.length_mm) for at in kept)
        return tuple(sorted(copy.length_mm - at if copy.is_turned else at for at in clipped))

    return EdgeHoles(on_strip(whole), on_strip(ticked))


def _agreed(seam: str, copies: list[dict[str, EdgeHoles]]) -> EdgeHoles:
    first = next(shares[seam] for shares in copies if seam in shares)
    if len(copies) == 1:
        return first
    for shares in copies:
        wanted = [shares[seam]] if seam in shares else shares.values()
        if not any(_is_same(first.holes_mm, other.holes_mm) for other in wanted):
            return EdgeHoles()
    return EdgeHoles(first.holes_mm)


def _is_same(first: tuple[float, ...], other: tuple[float, ...]) -> bool:
    if len(first) != len(other):
        return False
    return all(abs(a - b) <= AGREE_MM for a, b in zip(first, other, strict=True))
