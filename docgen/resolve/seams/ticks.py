"""Ticks of every ten stitches, counted on all partners of a seam from where it begins: they meet when it is sewn."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import replace

from docgen.resolve.build import Build
from docgen.resolve.marks import StitchLine
from docgen.resolve.piece import Piece
from docgen.resolve.seams.seam import Join, SeamSide
from docgen.resolve.seams.stitch_lines import tell_apart
from docgen.resolve.seams.strip_holes import EdgeHoles, holes_on_strips, sewn_part, tick_every_ten

SideKey = tuple[str, str, int]
"""A side of a seam: the seam, the part, and which of its sides in that seam it is."""


def count_backward(build: Build, backward: Mapping[SideKey, bool]) -> Build:
    """The build with the ticks of these sides counted from the end of their rows (True), or left out (False), as where two
    copies by one template would need different ones."""
    if not backward:
        return build
    pieces = {piece.name: piece for piece in build.pieces}
    found = {name: [*piece.marks.stitch_lines] for name, piece in pieces.items()}
    for (seam, part, which), is_told in backward.items():
        if part in found:
            found[part] = [*_turned(found[part], seam, which, is_told)]
    for name, seam, ticked_mm in _of_joins(build, pieces, backward):
        found[name] = [
            replace(line, ticked_mm=ticked_mm) if line.seam == seam and line.ticked_mm else line for line in found[name]
        ]
    return replace(build, pieces=tuple(_with_lines(piece, found[piece.name]) for piece in build.pieces))


def _with_lines(piece: Piece, lines: list[StitchLine]) -> Piece:
    own = tuple(lines)
    return piece if own == piece.marks.stitch_lines else tell_apart(piece.with_marks(stitch_lines=own))


def _turned(lines: list[StitchLine], seam: str, which: int, is_told: bool) -> Iterator[StitchLine]:
    before: Counter[int] = Counter()
    for line in lines:
        is_meant = line.seam == seam and before[line.row] == which
        before[line.row] += line.seam == seam
        ticked_mm = tick_every_ten(line.holes_mm, is_backward=True) if is_told else ()
        yield replace(line, ticked_mm=ticked_mm) if is_meant else line


def _of_joins(
    build: Build, pieces: Mapping[str, Piece], backward: Mapping[SideKey, bool]
) -> Iterator[tuple[str, str, tuple[float, ...]]]:
    """The strips of joins that are counted from their end: strip, seam, and its ticks from its start on."""
    joins = {join.name: join for join in build.joins}
    turned = {(seam, part) for (seam, part, _), is_told in backward.items() if part in joins and is_told}
    if not turned:
        return
    on_strips = holes_on_strips(build.seams, joins, pieces, turned)
    for seam in build.seams:
        for side in (side for side in seam.sides if (seam.name, side.part) in turned and side.edges):
            for name in dict.fromkeys(joins[side.part].pieces):
                holes = _on_strip(joins[side.part], side, name, pieces, on_strips.get((name, side.edges[0], seam.name)))
                if holes is not None:
                    yield name, seam.name, holes.ticked_mm


def _on_strip(
    join: Join, side: SeamSide, name: str, pieces: Mapping[str, Piece], holes: EdgeHoles | None
) -> EdgeHoles | None:
    """The holes of a strip from where its line begins."""
    if holes is None or side.stretch_mm is None:
        return holes
    sewn = sewn_part(join, side, name, pieces)
    return holes.moved(-sewn[0]) if sewn is not None else None
