"""Dividing lines that go through what has landed on their piece, as those of a tall row of pockets through the low row on
it: the part above bears them too."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import pairwise

from docgen.assemble.assembly import Assembly
from docgen.geometry.measure import crossings, is_inside
from docgen.geometry.outline import outline_path
from docgen.geometry.path import end_point, part_of, path_length, point_at, start_point, transform_path
from docgen.geometry.vector import undone
from docgen.resolve import Build, Landing, Piece, StitchLine, by_name, divider_name, keep_within

LEAST_MM = 1.0  # a shorter stretch is none: it runs along an edge
ON_MM = 0.01  # a hole no farther beyond an edge is on it


def carry_dividers(build: Build, assembly: Assembly) -> Build:
    """The build with the dividing lines of each piece on what lies on that as they are sewn."""
    pieces, found = by_name(build.pieces), dict[str, list[StitchLine]]()
    for run in (run for run in assembly.runs if run.kind == "dividers" and run.part in pieces and not run.where):
        base = pieces[run.part]
        for landing in (one for one in base.marks.landings if one.piece in run.stack.parts and one.piece in pieces):
            for line in base.marks.stitch_lines:
                if (line.seam, line.stitch) == (divider_name(base.name), run.stitch):
                    found.setdefault(landing.piece, []).extend(_carry(line, landing, pieces[landing.piece]))
    marked = (
        piece.with_marks(stitch_lines=(*piece.marks.stitch_lines, *dict.fromkeys(found.get(piece.name, ()))))
        for piece in build.pieces
    )
    return replace(build, pieces=tuple(marked)) if found else build


def _carry(line: StitchLine, landing: Landing, piece: Piece) -> Iterator[StitchLine]:
    """The stretches of a line on what has landed, with the holes that are there; nothing of what is folded, which lies
    there in another shape."""
    if any(not fold.is_open for fold in piece.marks.folds) or len(line.path.segments) > 1:
        return
    path, edge = transform_path(line.path, undone(landing.move)), outline_path(piece.sewn_outline)
    long_mm = path_length(path)
    cuts = sorted({0.0, *crossings(edge, start_point(path), end_point(path)), long_mm})
    for begin, end in ((begin, end) for begin, end in pairwise(cuts) if end - begin > LEAST_MM):
        if is_inside(edge, point_at(path, (begin + end) / 2)[0]):
            holes, ticked = (
                tuple(min(max(at - begin, 0.0), end - begin) for at in mms if begin - ON_MM < at < end + ON_MM)
                for mms in (line.holes_mm, line.ticked_mm)
            )
            yield keep_within(
                replace(line, path=part_of(path, begin, end), holes_mm=holes, ticked_mm=ticked), piece.sewn_outline
            )
