"""Which seams close on themselves: all round a piece, or along rings. Such a row has no ends."""

from __future__ import annotations

from docgen.geometry.outline import WHOLE, edge_names
from docgen.resolve import Build, Seam, SeamSide


def is_round(build: Build, seam: Seam) -> bool:
    """Whether a seam runs all round one of its parts, or along rings alone."""
    sides = [side for side in seam.sides if side.edges]
    rings = {join.name for join in build.joins if join.is_ring}
    are_rings = bool(sides) and all(side.part in rings and not side.ends for side in sides)
    return are_rings or any(_takes_all(build, side) for side in sides)


def _takes_all(build: Build, side: SeamSide) -> bool:
    """Whether a side is the whole outline of a piece."""
    piece = next((one for one in build.pieces if one.name == side.part), None)
    return WHOLE in side.edges or (
        piece is not None and side.stretch_mm is None and {*edge_names(piece.outline)} <= {*side.edges}
    )
