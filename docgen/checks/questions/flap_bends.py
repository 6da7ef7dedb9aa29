"""Flaps that bend twice over the mouth of a bag, as far apart as no wall between its panels is wide."""

from collections.abc import Iterator
from itertools import pairwise
from typing import Final

from docgen.checks.questions.question import Question, question
from docgen.checks.trade import Subject
from docgen.geometry.outline import outline_box
from docgen.geometry.path import end_point, path_box, start_point
from docgen.geometry.vector import Transform, distance, transform_point
from docgen.problems import line_words
from docgen.resolve import Fold, Piece, Seam, SeamSide

RIGHT_DEG: Final = 90.0
LEVEL_MM: Final = 0.5
AT_MOUTH_MM: Final = 15.0  # a row that ends so near to a bend ends at the mouth: our choice
OFF_MM: Final = 8.0  # beyond what edges and rows leave open: our choice


@question
def ask_flap_bends(subject: Subject) -> Iterator[Question]:
    """Panels sewn to a wall up to a fold of a quarter turn, their own or that of what lands there, with the next one
    beyond: between them lies the depth. Once for a flap."""
    told: set[str] = set()
    for seam in subject.build.seams:
        for side in seam.sides:
            walls = [wide for one in seam.sides if one is not side and (wide := _wall(subject, one))]
            piece = subject.parts.pieces.get(side.part)
            mouth_mm = _mouth_mm(seam, piece) if piece and len(walls) == 1 else None
            if piece is None or mouth_mm is None:
                continue
            for flap, move in _flaps(subject, piece):
                folds = _bends(flap, move, mouth_mm)
                if folds and flap.name not in told:
                    told.add(flap.name)
                    yield from _ask_apart(subject, seam, flap, folds, walls[0])


def _ask_apart(
    subject: Subject, seam: Seam, flap: Piece, folds: tuple[Fold, Fold], wall: tuple[str, float]
) -> Iterator[Question]:
    name, wide_mm = wall
    apart_mm = abs(folds[0].start.y - folds[1].start.y)
    thick_mm = sum(item.thickness_mm for item in (subject.material(flap),) if item)
    least_mm = wide_mm - 2 * subject.inset_mm(seam.stitch) - OFF_MM
    if not least_mm <= apart_mm <= wide_mm + 2 * thick_mm + OFF_MM:
        apart, wide = map(subject.length, (apart_mm, wide_mm))
        what = (
            f'the bends of "{flap.name}" at the mouth lie {apart} apart{line_words(folds[0].place.line)}, and "{name}", '
            f"over which it comes, is {wide} wide"
        )
        answer = "measure both bends again, or look how wide that is; where it is to be so there is nothing to do"
        yield Question(place=folds[1].place, what=what, answer=answer)


def _wall(subject: Subject, side: SeamSide) -> tuple[str, float] | None:
    """What is sewn by one long edge between two panels, and how wide it is."""
    join, piece = subject.parts.joins.get(side.part), subject.parts.pieces.get(side.part)
    if join is not None and not join.is_ring:
        return join.name, join.width_mm
    if piece is None or piece.shape != "strip" or piece.own_folds or side.edges not in (("left",), ("right",)):
        return None
    return piece.name, outline_box(piece.outline).width


def _mouth_mm(seam: Seam, piece: Piece) -> float | None:
    """How high on a panel the row of a seam ends, where both its ends lie at one height and all of it below."""
    rows = [line.path for line in piece.marks.stitch_lines if line.seam == seam.name and not line.row]
    if len(rows) != 1:
        return None
    first, last = start_point(rows[0]), end_point(rows[0])
    is_open = distance(first, last) > LEVEL_MM and abs(first.y - last.y) < LEVEL_MM
    return first.y if is_open and first.y >= path_box(rows[0]).top - LEVEL_MM else None


def _flaps(subject: Subject, piece: Piece) -> Iterator[tuple[Piece, Transform]]:
    """A panel, and what lands on it, each with how it lies there."""
    yield piece, Transform()
    for landing in piece.marks.landings:
        if landing.piece in subject.parts.pieces:
            yield subject.parts.pieces[landing.piece], landing.move


def _bends(flap: Piece, move: Transform, mouth_mm: float) -> tuple[Fold, Fold] | None:
    """The level fold of a quarter turn at the mouth, and the next one above it."""
    found = []
    for fold in flap.own_folds:
        first, last = transform_point(fold.start, move), transform_point(fold.end, move)
        if fold.is_open and fold.angle_deg == RIGHT_DEG and abs(first.y - last.y) < LEVEL_MM:
            found.append((first.y, fold))
    for (low_mm, one), (_, other) in pairwise(sorted(found, key=lambda it: it[0])):
        if abs(low_mm - mouth_mm) < AT_MOUTH_MM:
            return one, other
    return None
