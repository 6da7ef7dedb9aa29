"""What lands on a piece and does not lie on it: a wall stands between them, as that of a pocket with a bellows."""

from __future__ import annotations

from collections.abc import Iterable

from docgen.resolve import Seam


def stands_off(seams: Iterable[Seam], part: str, host: str) -> str:
    """The part that is sewn to the edges of one, and by an edge of its own on to the other, where no seam takes both; "" of
    what lies on its host."""
    edged: set[str] = set()
    sewn_on: set[str] = set()
    for seam in seams:
        own = {side.part for side in seam.sides if side.edges}
        flat = {side.part for side in seam.sides if not side.edges}
        if part in own | flat and host in own | flat:
            return ""
        edged |= own - {part} if part in own else set()
        sewn_on |= own if host in flat else set()
    return min(edged & sewn_on, default="")
