"""The outside of pieces that are folded up all round and sewn at their corners, as trays and boxes of one piece: no picture
of them is placed that could be measured."""

from __future__ import annotations

from collections.abc import Iterator

from docgen.assemble import Assembled, find_floor
from docgen.geometry.outline import outline_box
from docgen.plan.names import spoken
from docgen.plan.plan import Finished
from docgen.resolve import Build, Piece
from docgen.written.units.telling import format_length

WALLS, SQUARE = 4, 90.0
SAME_MM = 0.1


def measure_trays(build: Assembled) -> Iterator[Finished]:
    """Width, depth and height of each, from fold to fold and from there to its rim, thickness left out."""
    for piece in build.pieces:
        for case, size_mm in _sizes(piece) if _is_closed(build, piece) else ():
            due = (("length", format_length(size_mm, build.show)),)
            yield Finished(case=case, values=(("without", f", of {spoken(build.part_titles[piece.name])}"),), due=due)


def _is_closed(build: Build, piece: Piece) -> bool:
    """Whether seams of its own edges close all its corners."""
    own = [seam for seam in build.seams if seam.parts == {piece.name} and all(side.edges for side in seam.sides)]
    return len(own) >= WALLS


def _sizes(piece: Piece) -> Iterator[tuple[str, float]]:
    """Nothing of what is folded otherwise than up on four sides, square, by walls of one height."""
    floor, box = find_floor(piece), outline_box(piece.outline)
    if floor is None or any(fold.angle_deg != SQUARE for fold in piece.own_folds):
        return
    walls_mm = [floor.left - box.left, box.right - floor.right, floor.bottom - box.bottom, box.top - floor.top]
    if min(walls_mm) > SAME_MM and max(walls_mm) - min(walls_mm) < SAME_MM:
        yield "width", floor.width
        yield "floor_height", walls_mm[0]
        yield "floor_depth", floor.height
