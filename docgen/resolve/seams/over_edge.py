"""Flaps that go over the edge of what they are sewn on to: they land half round, about the line of their stitches."""

from collections.abc import Mapping, Sequence
from dataclasses import replace

from docgen.geometry.folding import part_beside
from docgen.geometry.measure import is_inside
from docgen.geometry.outline import outline_path
from docgen.geometry.path import transform_path
from docgen.geometry.shapes import Line, Point
from docgen.geometry.vector import between, distance, half_round, transform_point
from docgen.resolve.marks import Landing
from docgen.resolve.piece import Piece
from docgen.resolve.seams.seam import Seam


def lay_over(base: Piece, pieces: Mapping[str, Piece], seams: Sequence[Seam]) -> Piece:
    """A piece with those of its landings turned that would bend into it: what lands is sewn flat on it along a straight
    line, and its next open fold would come to lie on it, not beyond its edge."""
    return base.with_marks(
        landings=tuple(_turn(base, landing, pieces[landing.piece], seams) for landing in base.marks.landings)
    )


def _turn(base: Piece, landing: Landing, flap: Piece, seams: Sequence[Seam]) -> Landing:
    middle = _find_middle(base.name, flap, seams)
    fold = min(
        (fold for fold in flap.marks.folds if fold.is_open),
        key=lambda fold: distance(fold.middle, middle or fold.middle),
        default=None,
    )
    if middle is None or fold is None:
        return landing
    if not is_inside(outline_path(base.outline), transform_point(fold.middle, landing.move)):
        return landing
    dx_mm, dy_mm = landing.dx_mm + 2 * middle.x, landing.dy_mm + 2 * middle.y
    lap = part_beside(outline_path(flap.sewn_outline), fold.start, fold.end, middle)
    outline = transform_path(lap, half_round(dx_mm, dy_mm))
    return replace(landing, outline=outline, dx_mm=dx_mm, dy_mm=dy_mm, is_over=True)


def _find_middle(base: str, flap: Piece, seams: Sequence[Seam]) -> Point | None:
    """The middle of the straight line along which a piece is sewn flat on another; None where it is not."""
    flat = {seam.name for seam in seams if any(side.part == base and not side.edges for side in seam.sides)}
    for line in flap.marks.stitch_lines:
        first = line.path.segments[0]
        if line.seam in flat and line.row == 0 and len(line.path.segments) == 1 and isinstance(first, Line):
            return between(first.start, first.end, 0.5)
    return None
