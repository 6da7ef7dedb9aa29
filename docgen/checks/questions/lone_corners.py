"""One corner that stays sharp where its like across the middle of the piece is round: all else of the outline is even."""

import math
from collections.abc import Iterator
from typing import Final

from docgen.checks.questions.places import is_on
from docgen.checks.questions.question import Question, question
from docgen.checks.trade import Subject
from docgen.geometry.outline import SIDES, outline_box, outline_path
from docgen.geometry.path import path_box
from docgen.geometry.segment import segment_end, segment_start
from docgen.geometry.shapes import Arc, Point
from docgen.resolve import Piece

SHAPES: Final = ("rectangle", "outline")  # a drawing is as it is drawn
SAME_MM: Final = 0.5
SHAPE: Final = 0.25  # of the shorter side: an only corner rounded by more is a shape of its own: our choice
MOST: Final = 200  # of more points nothing is asked: a drawing
ODD: Final = 3  # the sharp corner, and both ends of the arc across from it


@question
def ask_lone_corners(subject: Subject) -> Iterator[Question]:
    """Outlines that are even but for one corner, which is sharp, where that across from it is round."""
    mirrored = {own.like.value for own in subject.spec.pieces if own.mirror and own.like}
    lone = [piece for piece in subject.build.pieces if piece.model == piece.name and _arcs(piece) == 1]
    for piece in subject.build.pieces:
        own = subject.specs.get(piece.name)
        arcs = _arcs(piece)
        is_own = own is not None and piece.model == piece.name and piece.shape in SHAPES
        if own is None or not is_own or not arcs or piece.is_pair or piece.name in mirrored:
            continue
        if arcs == 1 and (len(lone) > 1 or _is_meant(subject, piece)):
            continue
        corner = next((at for axis in (0, 1) if (at := _odd_corner(piece, axis))), None)
        if corner is not None:
            box = outline_box(piece.outline)
            across = subject.length(corner.x - box.left)
            what = f'the outline of "{piece.name}" is even but for the corner {across} from its left and '
            what += (
                f"{subject.length(corner.y - box.bottom)} from its bottom, which is sharp: that across from it is round"
            )
            rounds = [item.length.place for item in own.round if item.length]
            points = [item.round.place for item in own.points if item.round]
            place = next(iter((*rounds, *points)), own.place)
            yield Question(place=place, what=what, answer="round both; where it is to be sharp there is nothing to do")


def _arcs(piece: Piece) -> int:
    return sum(isinstance(segment, Arc) and segment.sweep > 0 for segment in outline_path(piece.outline).segments)


def _odd_corner(piece: Piece, axis: int) -> Point | None:
    """The sharp corner whose place across the middle is that of a round one, where no other point lacks its like."""
    segments = outline_path(piece.outline).segments
    points = [segment_start(segment) for segment in segments]
    twice_mm = 2 * outline_box(piece.outline).centre[axis]
    if len(points) > MOST:
        return None
    odd = [at for at in points if all(math.dist(_over(at, axis, twice_mm), other) > SAME_MM for other in points)]
    arcs = [
        (at, segment_end(segment)) for at, segment in zip(points, segments, strict=True) if isinstance(segment, Arc)
    ]
    for corner in odd if len(odd) <= ODD else ():
        sharp = _over(corner, axis, twice_mm)
        for ends in arcs:
            reach = [math.dist(sharp, at) for at in ends]
            is_its = all(at is corner or any(math.dist(at, end) < SAME_MM for end in ends) for at in odd)
            if is_its and abs(reach[0] - reach[1]) < SAME_MM < reach[0]:
                return corner
    return None


def _over(at: Point, axis: int, twice_mm: float) -> Point:
    return Point(twice_mm - at.x, at.y) if axis == 0 else Point(at.x, twice_mm - at.y)


def _is_meant(subject: Subject, piece: Piece) -> bool:
    """Whether the only round corner of a piece makes its shape, or lies in that of a piece beneath, along two edges."""
    box = outline_box(piece.outline)
    radii = [segment.radius for segment in outline_path(piece.outline).segments if isinstance(segment, Arc)]
    if max(radii) > SHAPE * min(box.width, box.height):
        return True
    for base in subject.build.pieces:
        box = outline_box(base.outline)
        for landing in base.marks.landings:
            if landing.piece == piece.name:
                return sum(is_on(path_box(landing.outline), box, side) for side in SIDES) <= 2
    return False
