"""Linings that are sewn to their part alone, outer sides together, and turned: until then they do not lie behind it."""

from __future__ import annotations

from docgen.assemble.assembled import Assembled
from docgen.assemble.landing import is_glued_by
from docgen.resolve import Seam

PAIR = 2


def find_faced(build: Assembled, seam: Seam) -> tuple[str, str] | None:
    """The lining, and what it lines, of a seam that is turned and joins these two alone, with goods by length between them
    or none; None of any other, and where the lining is glued in."""
    parts = [side.part for side in seam.sides if side.edges]
    if not seam.is_turned or len(parts) != PAIR or len(seam.sides) != PAIR:
        return None
    covers = {(lies.copy.part, lies.host.part) for lies in build.assembly.lies if lies.is_cover}
    pair = next(((one, other) for one, other in (parts, parts[::-1]) if (one, other) in covers), None)
    return None if pair is None or any(is_glued_by(step, pair[0]) for step in build.assembly.steps) else pair
