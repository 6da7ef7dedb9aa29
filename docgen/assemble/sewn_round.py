"""What is sewn to another part all round: nothing comes between them, and what goes through the one goes through both."""

from collections.abc import Iterable

from docgen.assemble.goods import Goods
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


def is_doubled(goods: Goods, name: str, model: str) -> bool:
    """Whether a piece in the shape of another is sewn to it all round, never to be turned, and neither has an opening."""
    one, other = goods.pieces.get(name), goods.pieces.get(model)
    if one is None or other is None or one is other or one.model != other.name:
        return False
    is_whole = not any(piece.marks.slits or piece.dividers for piece in (one, other))
    return is_whole and is_sewn_round(one, [seam for seam in goods.seams.values() if not seam.is_turned], other.name)
