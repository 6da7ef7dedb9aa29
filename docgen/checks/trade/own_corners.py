"""Checks of corners at which a piece is sewn to itself: of a box of one piece, or of a boxed bag."""

from collections.abc import Iterator
from typing import NamedTuple

from docgen.checks.trade.check import Found, Subject, check
from docgen.geometry.measure import distance_to_path
from docgen.geometry.outline import edge_path, next_edges
from docgen.geometry.path import end_point, start_point
from docgen.geometry.shapes import Point
from docgen.geometry.vector import distance
from docgen.resolve import Fold, Piece, Seam

NEAR_MM = 4.0  # how far from its corner a fold still goes through it: what leather gives, our choice


class Corner(NamedTuple):
    """A seam of a piece to itself, along both edges beside one corner."""

    seam: Seam
    piece: Piece
    at: Point


@check(
    "corner-folds-unlike",
    "As many folds go through each corner of a box that is sewn up from one piece.",
    "our choice: it is asked whether a fold is left out",
    needs_whole=True,
    gives_way=("marked-twice", "fold-off-corner", "unequal-partners"),
)
def find_unfolded_corners(subject: Subject) -> Iterator[Found]:
    """Of each piece the first corner with fewer folds than another."""
    corners = _corners(subject)
    for piece in subject.build.pieces:
        own = [
            (corner, sum(_goes_through(fold, corner.at) for fold in piece.marks.folds))
            for corner in corners[piece.name]
        ]
        most = max((count for _, count in own), default=0)
        few = next(((corner, count) for corner, count in own if count < most), None)
        if few is not None:
            corner, count = few
            folds = "no fold goes" if not count else f"{count} fold goes" if count == 1 else f"{count} folds go"
            closed = f'the corner of "{piece.name}" that the seam "{corner.seam.name}" closes'
            what = f"{folds} through {closed}, and {most} elsewhere"
            mend = "measure its folds again, or add the one that is left out"
            yield piece.place, what, mend, piece.name


@check(
    "corner-too-short",
    "The edges of a corner that is sewn up are longer than their allowance, twice.",
    "plane geometry: less leaves nothing to open out",
    needs_whole=True,
)
def find_short_corners(subject: Subject) -> Iterator[Found]:
    for found in _corners(subject).values():
        for corner in found:
            inset_mm = subject.parts.stitches[corner.seam.stitch].inset_mm
            if corner.seam.length_mm < 2 * inset_mm:
                deep, off = subject.length(corner.seam.length_mm), subject.length(inset_mm)
                what = f'the corner of "{corner.piece.name}" is {deep} deep, and its seam lies {off} in from the edges'
                yield corner.seam.place, what, "look at both figures and their units", corner.seam.name


def _corners(subject: Subject) -> dict[str, list[Corner]]:
    """The corners that each piece is closed at, in the order of the seams."""
    found: dict[str, list[Corner]] = {piece.name: [] for piece in subject.build.pieces}
    for seam in subject.build.seams:
        sides = [side for side in seam.sides if side.edges]
        piece = subject.parts.pieces.get(sides[0].part) if len(sides) == 2 else None
        if (
            piece is None
            or sides[1].part != piece.name
            or any(len(side.edges) != 1 or side.stretch_mm for side in sides)
        ):
            continue
        follows = next_edges(piece.sewn_outline)
        first, second = (side.edges[0] for side in sides)
        if follows.get(second) == first:
            first, second = second, first
        if follows.get(first) != second:
            continue
        one, other = (edge_path(piece.sewn_outline, name) for name in (first, second))
        if distance(end_point(one), start_point(other)) < NEAR_MM:
            found[piece.name].append(Corner(seam, piece, end_point(one)))
    return found


def _goes_through(fold: Fold, at: Point) -> bool:
    """Whether the line of a fold, as far as it goes, comes near a point."""
    return distance_to_path(fold.path, at) <= NEAR_MM
