"""Facings: what a spec says of their seams, and not in words, tells that they lie inside."""

from collections.abc import Iterator
from dataclasses import replace

from docgen.geometry.outline import ACROSS, SIDES, outline_box
from docgen.resolve.parts import Parts
from docgen.resolve.piece import Piece
from docgen.resolve.seams.seam import Seam, SeamSide

FITS_MM = 5.0  # by no more a facing and its lining are deeper than the panel that they lie behind: our choice


def line_by_facings(parts: Parts) -> Parts:
    """The parts with what each facing lines: a piece that is sewn by one edge to an edge of a panel and by the one across
    to the lining of that panel, which ends short of the panel: both together are as deep as that at most."""
    linings = {name for name, piece in parts.pieces.items() if piece.lines}
    bare = [piece for piece in parts.pieces.values() if linings and not piece.lines]
    found = {piece.name: (*dict.fromkeys(_faced(parts, piece, linings)),) for piece in bare}
    if not any(found.values()):
        return parts
    pieces = {name: replace(piece, lines=found.get(name, piece.lines)) for name, piece in parts.pieces.items()}
    return replace(parts, pieces=pieces)


def _faced(parts: Parts, piece: Piece, linings: set[str]) -> Iterator[str]:
    """The panels behind which a piece lies as a facing."""
    sewn = [(seam, edge, other) for seam in parts.seams for edge, other in _edges(seam, piece.name)]
    for seam, edge, other in sewn:
        lining = parts.pieces[other.part] if other.part in linings else None
        if lining is None or piece.name in lining.lines:
            continue
        lap_mm = max(side.lap_mm for side in seam.sides) or 2 * parts.stitches[seam.stitch].inset_mm
        both_mm = _deep_mm(piece, edge) + _deep_mm(lining, other.edges[0]) - lap_mm
        for _, mine, its in sewn:
            is_across = its.part in lining.lines and its.part in parts.pieces and mine == ACROSS[edge]
            if is_across and both_mm <= _deep_mm(parts.pieces[its.part], its.edges[0]) + FITS_MM:
                yield its.part


def _edges(seam: Seam, name: str) -> Iterator[tuple[str, SeamSide]]:
    """The edge by which a piece is sewn to one other part alone, by an edge of that."""
    if len(seam.sides) == 2 and all(len(side.edges) == 1 and side.edges[0] in SIDES for side in seam.sides):
        one, two = seam.sides
        for mine, other in ((one, two), (two, one)):
            if mine.part == name != other.part:
                yield mine.edges[0], other


def _deep_mm(piece: Piece, edge: str) -> float:
    box = outline_box(piece.outline)
    return box.height if edge in ("top", "bottom") else box.width
