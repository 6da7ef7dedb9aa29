"""What is sewn to another part all round: nothing comes between them, and what goes through the one goes through both."""

from docgen.assemble.goods import Goods
from docgen.geometry.outline import WHOLE


def is_sewn_round(goods: Goods, name: str, host: str) -> bool:
    """Whether a piece is sewn to another part along all its edges."""
    piece = goods.pieces.get(name)
    sewn = {
        edge
        for seam in goods.seams.values()
        for side in seam.sides
        if side.part == name != host and host in seam.parts
        for edge in side.edges
    }
    return piece is not None and (WHOLE in sewn or sewn >= {edge.name for edge in piece.sewn_outline.edges})
