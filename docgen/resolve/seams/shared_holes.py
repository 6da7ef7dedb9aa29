"""A row sewn by hand that ends on another, or goes on over it to the edge, shares a hole with it: the other row has one
just there, as at a sharp corner.

Common practice, no published source: two holes nearer to each other than a pitch tear into one.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import replace
from itertools import accumulate

from docgen.geometry.measure import distance_to_path
from docgen.geometry.nearest import nearest_along
from docgen.geometry.path import path_length, points_at
from docgen.geometry.shapes import Point
from docgen.geometry.spacing import find_spans, space_stitches
from docgen.resolve.marks import StitchLine
from docgen.resolve.parts import Parts
from docgen.resolve.piece import Piece
from docgen.resolve.seams.seam import Seam, Stitch

ENDS_ON_MM = 0.5  # a row that ends no farther from another ends on it
SAME_MM = 0.3  # ends that lie alike, seen from both ends of a row, within this


def share_holes(parts: Parts, draw: Callable[[Parts], Parts]) -> Parts:
    """The parts whose seams have a hole wherever another row ends on theirs. `draw` draws the stitch lines, by which it is
    seen."""
    by_hand = {seam.name for seam in parts.seams if parts.stitches[seam.stitch].by == "hand" and not seam.ease_mm}
    if not by_hand:
        return parts
    ends: dict[str, set[float]] = {}
    for piece in draw(parts).pieces.values():
        for line, at_mm in _find_ends(piece, by_hand):
            ends.setdefault(line.seam, set()).add(at_mm / path_length(line.path))
    seams = tuple(
        _space(seam, parts.stitches[seam.stitch], ends[seam.name])
        if seam.name in ends and _is_sure(seam, parts.pieces, ends[seam.name])
        else seam
        for seam in parts.seams
    )
    return replace(parts, seams=seams)


def _find_ends(piece: Piece, names: set[str]) -> Iterator[tuple[StitchLine, float]]:
    """Where on the first row of a seam of that name, that far along it in mm, another row of a piece ends."""
    rows = [line for line in piece.marks.stitch_lines if line.by == "hand" and line.holes_mm]
    for line in rows:
        length_mm = path_length(line.path)
        for other in rows if line.seam in names and not line.row else ():
            for at in _last_holes(other) if other.seam != line.seam else ():
                if distance_to_path(line.path, at) < ENDS_ON_MM:
                    along_mm = nearest_along(line.path, at)
                    if 0 < along_mm < length_mm:
                        yield line, along_mm


def _last_holes(line: StitchLine) -> tuple[Point, ...]:
    """The holes of an open row at both of its ends: of one that goes over an edge the last lies on the row beside that."""
    ends = {line.holes_mm[0], line.holes_mm[-1]} if not line.path.closed else ()
    return tuple(at for at, _ in points_at(line.path, sorted(ends)))


def _is_sure(seam: Seam, pieces: Mapping[str, Piece], shares: set[float]) -> bool:
    """Whether the holes come to lie on each other on all sides: on the only one that has edges, or on others run from
    either end. On a strip of a join the holes are not those of the whole seam."""
    edged = [side for side in seam.sides if side.edges]
    is_alike = all(any(abs(1 - one - other) * seam.length_mm < SAME_MM for other in shares) for one in shares)
    return all(side.part in pieces for side in edged) and (len(edged) == 1 or is_alike)


def _space(seam: Seam, stitch: Stitch, shares: set[float]) -> Seam:
    """The seam with whole stitches between its corners and these shares of its length."""
    corners: Sequence[float] = [*accumulate(seam.spans_mm)][:-1]
    stops = [*corners, *(share * seam.length_mm for share in shares)]
    holes = space_stitches(seam.length_mm, stops, stitch.pitch_mm, is_fixed=bool(stitch.iron))
    count = len(holes) - 1
    return replace(
        seam,
        sides=tuple(replace(side, stitches=count) if side.stitches == seam.stitches else side for side in seam.sides),
        stitches=count,
        pitch_mm=seam.length_mm / count,
        holes_mm=holes,
        spans_mm=find_spans(seam.length_mm, stops, stitch.pitch_mm),
    )
