"""Corners of a box that is folded up of one piece: edges that meet at an angle, and do not lie on each other."""

from __future__ import annotations

import math
from collections.abc import Iterator

from docgen.geometry.outline import edge_path, next_edges
from docgen.geometry.path import end_point, start_point
from docgen.geometry.segment import end_tangent, start_tangent
from docgen.geometry.shapes import Point
from docgen.geometry.vector import cross, distance, dot
from docgen.resolve import Build, Piece, Seam, SeamSide, by_name

NEAR_MM = 1.0  # from the corner of a notch, the ends of both its edges and a fold that goes through it
LEAST_NOTCH_DEG = 45.0  # between the edges as they are cut; what closes a narrower one is a dart, and lies flat


def is_open_corner(build: Build, seam: Seam) -> bool:
    """Whether a seam closes the corner of a box edge to edge: both edges beside a notch of one piece that is folded through
    its corner, and not turned. Where nothing is folded there, or farther in, the edges lie on each other."""
    sides = [side for side in seam.sides if side.edges]
    pieces = by_name(build.pieces)
    if seam.is_turned or len(sides) != 2 or sides[0].part != sides[1].part or sides[0].part not in pieces:
        return False
    piece = pieces[sides[0].part]
    return any(abs(fold.off_mm(at)) < NEAR_MM for at in _notch(piece, sides) for fold in piece.marks.folds)


def _notch(piece: Piece, sides: list[SeamSide]) -> Iterator[Point]:
    """The inner corner of the notch that both sides lie along; nothing where they lie along none."""
    follows = next_edges(piece.sewn_outline)
    for one, other in ((sides[0], sides[1]), (sides[1], sides[0])):
        if len(one.edges) != 1 or len(other.edges) != 1 or follows.get(one.edges[0]) != other.edges[0]:
            continue
        first, second = (edge_path(piece.sewn_outline, side.edges[0]) for side in (one, other))
        before, after = end_tangent(first.segments[-1]), start_tangent(second.segments[0])
        turn = math.degrees(math.atan2(cross(before, after), dot(before, after)))
        if distance(end_point(first), start_point(second)) < NEAR_MM and -(180 - LEAST_NOTCH_DEG) < turn < 0:
            yield end_point(first)
