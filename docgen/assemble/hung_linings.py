"""Second layers and their sides under the needle: the parts of a lining that is sewn into a bag of its own look into it,
and their outer sides lie together as it is sewn; what lies back to back on a part looks away from that."""

from __future__ import annotations

from docgen.assemble.assembly import Copy
from docgen.assemble.space import Placed, Space
from docgen.assemble.space.beside import lie_beside
from docgen.resolve import Build, Seam


def look_inward(build: Build, one: Placed | None, other: Placed | None, seam: str) -> bool:
    """Whether two parts that a seam joins line others, and do not go on from each other in one plane."""
    if one is None or other is None or not (_is_lining(build, one) and _is_lining(build, other)):
        return False
    beside = lie_beside(one, other, seam)
    return beside is not None and (beside.is_wall or not beside.is_same)


def lies_back(one: Placed | None, other: Placed | None, seam: Seam) -> bool:
    """Whether the second of two parts was laid on the first back to back, as a facing without a word of it, and is sewn so:
    its outer side looks away from that."""
    if one is None or other is None or seam.is_turned or (other.how, other.host) != ("back to back", one.copy):
        return False
    beside = lie_beside(one, other, seam.name)
    return beside is not None and not beside.is_wall and not beside.is_same


def backs(space: Space, one: Copy, other: Copy) -> bool:
    """Whether one of two parts lies back to back on the other and bends as that does: they look away from each other. Not
    where nothing tells which of its sides faces out."""
    for own, host in ((space.part(one), space.part(other)), (space.part(other), space.part(one))):
        if own is not None and host is not None and (own.how, own.host) == ("back to back", host.copy):
            return own.surface.bands == host.surface.bands and space.faced_by(own) is None
    return False


def _is_lining(build: Build, placed: Placed) -> bool:
    """Whether a part is the lining of another, by its place or as it is written."""
    joins = {join.name: join.pieces for join in build.joins}
    names = joins.get(placed.copy.part, (placed.copy.part,))
    is_said = any(piece.lines for piece in build.pieces if piece.name in names)
    return placed.is_inner and (placed.how == "lies behind" or is_said)
