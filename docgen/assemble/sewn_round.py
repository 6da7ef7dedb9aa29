"""What is sewn to another part all round: nothing comes between them, and what goes through the one goes through both."""

from collections.abc import Iterable

from docgen.geometry.outline import WHOLE
from docgen.resolve import Piece, Seam


def is_sewn_round(piece: Piece, seams: Iterable[Seam], host: str) -> bool:
    """Whether a piece is sewn to another part along all its edges."""
    sewn = {
        edge
        for seam in seams
        for side in seam.sides
        if side.part == piece.name != host and host in seam.parts
        for edge in side.edges
    }
    return WHOLE in sewn or sewn >= {edge.name for edge in piece.sewn_outline.edges}


def is_doubled(piece: Piece, seams: Iterable[Seam], model: Piece) -> bool:
    """Whether a piece in the shape of another is sewn to it all round, never to be turned, and neither has an opening."""
    is_whole = not any(one.marks.slits or one.dividers for one in (piece, model))
    plain = [seam for seam in seams if not seam.is_turned]
    return is_whole and piece.model == model.name and is_sewn_round(piece, plain, model.name)
