"""Checks of corners that are rounded alike left and right, but for one figure."""

import math
from collections.abc import Iterator

from docgen.checks.trade.check import Found, Subject, check
from docgen.geometry.outline import outline_box, outline_path
from docgen.geometry.shapes import Arc, Box, Point
from docgen.geometry.vector import add
from docgen.problems import Place
from docgen.read import PieceSpec
from docgen.resolve import Piece

EXACT_MM = 0.1
QUARTER = math.pi / 2
Corner = tuple[Point, float]  # where a corner would be sharp, and its radius


@check(
    "corners-unlike",
    "Corners left and right of a piece's middle are rounded alike, where both are.",
    "our choice: it is asked whether they should be alike",
    needs_whole=True,
)
def find_unlike_corners(subject: Subject) -> Iterator[Found]:
    """Rounded corners across the upright middle from each other, of pieces that write both; once for a piece, and not of
    two of one material that mirror each other. One that is drawn by points counts where the points lie across."""
    uneven = {piece.name: _radii(piece) for piece in subject.build.pieces}
    for piece in subject.build.pieces:
        mirrored = [pair[::-1] for pair in uneven[piece.name]]
        if any(uneven[one.name] == mirrored and one.material == piece.material for one in subject.build.pieces):
            continue
        spec = subject.piece_spec(piece.name)
        values = _written(spec) if spec else []
        if len(values) < 2:
            continue
        box = outline_box(piece.outline)
        corners = _rounded(piece)
        for one, other in _pairs(box, corners):
            small, large = sorted((one[1], other[1]))
            if large - small > EXACT_MM:
                place, first = _places(values)
                what = (
                    f'corners of "{piece.name}" that lie across from each other are rounded by '
                    f"{subject.length(small)} and {subject.length(large)}{first}"
                )
                yield place, what, "write the same for both, or accept it where it is meant", piece.name
                break


def _written(spec: PieceSpec) -> list[Place]:
    """Where radii are written, of corners by name or of points."""
    named = [item.length.place for item in spec.round if item.length]
    return named or [point.round.place for point in spec.points if point.round]


def _places(values: list[Place]) -> tuple[Place, str]:
    """The line of the last, and that of the first where it is another."""
    return values[-1], f" (line {values[0].line})" if values[0].line != values[-1].line else ""


def _rounded(piece: Piece) -> list[Corner]:
    """Quarter rounds of an outline: each with the corner that it takes off."""
    found = []
    for one in outline_path(piece.outline).segments:
        if isinstance(one, Arc) and abs(abs(one.sweep) - QUARTER) < 1e-3:
            way = one.begin + one.sweep / 2
            to_mm = math.sqrt(2) * one.radius
            found.append((add(one.centre, Point(to_mm * math.cos(way), to_mm * math.sin(way))), one.radius))
    return found


def _radii(piece: Piece) -> list[tuple[float, float]]:
    """Those left and right of the middle, of each two corners that lie across from each other, from below."""
    pairs = (sorted(pair) for pair in _pairs(outline_box(piece.outline), _rounded(piece)))
    return [(round(left[1], 1), round(right[1], 1)) for left, right in sorted(pairs, key=lambda pair: pair[0][0].y)]


def _pairs(box: Box, corners: list[Corner]) -> Iterator[tuple[Corner, Corner]]:
    """Corners that lie across the upright middle from each other."""
    for k, one in enumerate(corners):
        for other in corners[k + 1 :]:
            (a, _), (b, _) = one, other
            if abs(a.x + b.x - 2 * box.centre.x) <= EXACT_MM and abs(a.y - b.y) <= EXACT_MM:
                yield one, other
