"""Flaps that go over the edge of what they are sewn on to: they land half round, about the line of their stitches."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace

from docgen.geometry.folding import part_beside
from docgen.geometry.measure import is_inside
from docgen.geometry.outline import outline_path
from docgen.geometry.path import transform_path
from docgen.geometry.shapes import Line, Point
from docgen.geometry.vector import (
    add,
    between,
    distance,
    half_round,
    scale,
    subtract,
    transform_point,
    transform_vector,
)
from docgen.resolve.marks import Fold, Landing
from docgen.resolve.piece import Piece
from docgen.resolve.seams.seam import Seam


def lay_over(base: Piece, pieces: Mapping[str, Piece], seams: Sequence[Seam]) -> Piece:
    """A piece with those of its landings turned that would bend into it: what lands is sewn flat on it along a straight
    line, and its next open fold would come to lie on it, and near its edge or beyond it turned."""
    return base.with_marks(
        landings=tuple(_turn(base, landing, pieces[landing.piece], seams) for landing in base.marks.landings)
    )


def turns_out(folds: Iterable[Fold], shows: str) -> bool:
    """Whether the side that a flap shows stays outside at all its open folds. One that lies on the hidden side of its host
    and goes over the edge then lies with that side on it: so it shows once it has come over."""
    return not any(fold.is_grain_in(shows) == (shows == "grain") for fold in folds if fold.is_open)


def comes_from_inside(landing: Landing, flap: Piece) -> bool:
    """Whether a landing is that of a flap which lies on the hidden side of its host, and comes over the edge."""
    return landing.is_inside and landing.is_over and turns_out(flap.marks.folds, flap.shows)


def _turn(base: Piece, landing: Landing, flap: Piece, seams: Sequence[Seam]) -> Landing:
    flap = flap.turned_over() if landing.is_inside else flap
    middle = _find_middle(base.name, flap, seams)
    fold = min(
        (fold for fold in flap.marks.folds if fold.is_open),
        key=lambda fold: distance(fold.middle, middle or fold.middle),
        default=None,
    )
    if middle is None or fold is None or not _bends_off_turned(base, landing, middle, fold):
        return landing
    dx_mm, dy_mm = landing.dx_mm + 2 * middle.x, landing.dy_mm + 2 * middle.y
    lap = part_beside(outline_path(flap.sewn_outline), fold.start, fold.end, middle)
    outline = transform_path(lap, half_round(dx_mm, dy_mm))
    return replace(landing, outline=outline, dx_mm=dx_mm, dy_mm=dy_mm, is_over=True)


def _bends_off_turned(base: Piece, landing: Landing, middle: Point, fold: Fold) -> bool:
    """Whether a fold lies on the base as the piece lands, and near its edge or beyond it turned about the middle of its
    line: else it bends there as it lies, as a flange does, or is no part of a flap."""
    rim, at = outline_path(base.outline), transform_point(middle, landing.move)
    across = transform_vector(subtract(fold.middle, middle), landing.move)
    return (
        is_inside(rim, at) and is_inside(rim, add(at, across)) and not is_inside(rim, subtract(at, scale(across, 2.0)))
    )


def _find_middle(base: str, flap: Piece, seams: Sequence[Seam]) -> Point | None:
    """The middle of the straight line along which a piece is sewn flat on another; None where it is not."""
    flat = {seam.name for seam in seams if any(side.part == base and not side.edges for side in seam.sides)}
    for line in flap.marks.stitch_lines:
        first = line.path.segments[0]
        if line.seam in flat and line.row == 0 and len(line.path.segments) == 1 and isinstance(first, Line):
            return between(first.start, first.end, 0.5)
    return None
