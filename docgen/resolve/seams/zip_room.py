"""What the seams beside a zip take of its length: its ends lie beneath their rows, and neither stop may; and which of them
catch the ends of a binding.

Common practice, no published source.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from contextlib import suppress
from dataclasses import replace

from docgen.geometry.measure import distance_to_path
from docgen.geometry.path import end_point, part_of, start_point
from docgen.geometry.run import run_path
from docgen.geometry.shapes import GeometryError, Path
from docgen.read import StepSpec
from docgen.resolve.parts import Parts
from docgen.resolve.piece import Piece
from docgen.resolve.seams.seam import Seam, SeamSide, Stitch
from docgen.resolve.values import names

AT_END_MM = 0.1  # an edge that comes as near to the end of a run ends there


def find_crossed(own: Sequence[Seam], parts: Parts, steps: Sequence[StepSpec]) -> tuple[float, float]:
    """What of the run of a zip, where it begins and where it ends (mm), lies outside the rows of other seams of the parts
    that its `own` seams sew: but of those that are sewn before it."""
    first = _first_steps(steps)
    begun = min((first[seam.name] for seam in own if seam.name in first), default=0)
    beside = [seam for seam in parts.seams if seam not in own and first.get(seam.name, begun) >= begun]
    lost = [
        _crossed_mm(parts.pieces[side.part], side, beside, parts.stitches)
        for seam in own
        for side in seam.sides
        if side.part in parts.pieces and side.edges and not side.ends
    ]
    return max((at for at, _ in lost), default=0.0), max((at for _, at in lost), default=0.0)


def find_caught(own: Seam, parts: Parts, steps: Sequence[StepSpec]) -> tuple[bool, bool]:
    """Whether seams that are turned, and sewn after it, catch the ends of what a seam binds: where it begins and where it
    ends. They are cut level with the edges there."""
    order = [*dict.fromkeys(name for step in steps for name in names(step.seams))]
    later = order[order.index(own.name) + 1 :] if own.name in order else []
    beside = [seam for seam in parts.seams if seam.is_turned and seam.name in later]
    lost = [
        _crossed_mm(parts.pieces[side.part], replace(side, lost_mm=(0.0, 0.0)), beside, parts.stitches)
        for side in own.sides
        if beside and side.part in parts.pieces and side.edges and not side.ends
    ]
    return any(at for at, _ in lost), any(at for _, at in lost)


def _first_steps(steps: Sequence[StepSpec]) -> dict[str, int]:
    found: dict[str, int] = {}
    for at, step in enumerate(steps):
        for name in names(step.seams):
            found.setdefault(name, at)
    return found


def _crossed_mm(
    piece: Piece, side: SeamSide, beside: Sequence[Seam], stitches: Mapping[str, Stitch]
) -> tuple[float, float]:
    with suppress(GeometryError):
        run = run_path(piece.sewn_outline, side.edges)
        if not run.closed:
            rows = [*_rows_beside(piece, side, beside, stitches)]
            at_start, at_end = (
                max((mm for path, mm in rows if distance_to_path(path, at) < AT_END_MM), default=0.0)
                for at in (start_point(run), end_point(run))
            )
            return max(at_start - side.lost_mm[0], 0.0), max(at_end - side.lost_mm[1], 0.0)
    return 0.0, 0.0


def _rows_beside(
    piece: Piece, side: SeamSide, beside: Sequence[Seam], stitches: Mapping[str, Stitch]
) -> Iterator[tuple[Path, float]]:
    """The edges of a piece that other seams sew, each with how far in its row lies."""
    for seam in beside:
        for other in seam.sides:
            if other.part == piece.name and other.edges and {*other.edges}.isdisjoint(side.edges):
                edge = run_path(piece.sewn_outline, other.edges)
                sewn = part_of(edge, *other.stretch_mm) if other.stretch_mm else edge
                yield sewn, other.line_mm(stitches[seam.stitch].inset_mm)
