"""Checks of folds that bend a piece: at the corners that they go round, and with enough beyond them."""

import math
import re
from collections.abc import Iterator
from itertools import pairwise

from docgen.checks.trade.check import PRACTICE, Found, Subject, check
from docgen.geometry.measure import chords
from docgen.geometry.outline import OPPOSITE, WHOLE, edge_names, edge_path, outline_path
from docgen.geometry.path import flatten
from docgen.geometry.shapes import Path, Point
from docgen.geometry.vector import cross, distance, dot, subtract, unit
from docgen.problems import Place
from docgen.resolve import Fold, Piece, Seam, SeamSide

SHARP_RAD = math.radians(60)  # a line that turns by so much or more goes round a corner: our choice
TURN_RAD = math.radians(0.5)  # less is none
CHORD_MM = 12.0  # bends of one round corner follow each other within that
ROUND_MM = 45.0  # along a round corner that a fold goes round: a quarter of a circle of 28 mm; our choice
STRAIGHT_MM = 0.5
SAME_FOLD_MM = 1.0  # folds nearer than that are one: our choice
FROM_RE = r"from (left|right|top|bottom|start|end)$"


@check(
    "fold-off-corner",
    "A piece that is bent and sewn round the corners of another bends where these are, within {fold_corner}.",
    "plane geometry; what leather gives at a bend is our choice",
    needs_whole=True,
)
def find_folds_off_corners(subject: Subject) -> Iterator[Found]:
    """Straight edges across which open folds with an angle run, sewn along edges with corners, sharp or a little round.
    Which way round is read as it fits best; a fold at either end of the seam is passed over. Once for a fold."""
    near_mm, told = subject.build.limits.fold_corner_mm, set[Place]()
    for seam in subject.build.seams:
        sides = [side for side in seam.sides if side.edges]
        for bent, other in (sides, sides[::-1]) if len(sides) == 2 else ():
            folds, corners_mm = _folds_along(subject, seam, bent), _corners_along(subject, seam, other)
            long_mm = bent.length_mm
            inner = [found for found in folds if near_mm < found[0] < long_mm - near_mm]
            ways = (corners_mm, [other.length_mm - mm for mm in corners_mm])
            odd = min(([one for one in inner if _off_mm(one[0], way) > near_mm] for way in ways), key=len)
            for at_mm, fold in odd if corners_mm else ():
                place = _fold_place(subject, bent.part, fold)
                if place not in told:
                    told.add(place)
                    off_mm = min(_off_mm(at_mm, way) for way in ways)
                    what = (
                        f'a fold of "{bent.part}" lies {subject.length(off_mm)} off the corner of "{other.part}" that it '
                        f'goes round in the seam "{seam.name}"'
                    )
                    yield place, what, f'measure it again, and the size of "{other.part}"', bent.part


def _off_mm(at_mm: float, corners_mm: list[float]) -> float:
    return min((abs(at_mm - corner_mm) for corner_mm in corners_mm), default=0.0)


def _line(subject: Subject, seam: Seam, side: SeamSide) -> tuple[Piece | None, tuple[Point, ...]]:
    """The piece of a side, and the stitch line of this seam along it, as points; none where there are several."""
    piece = subject.parts.pieces.get(side.part)
    lines = [line for line in piece.marks.stitch_lines if line.seam == seam.name and not line.row] if piece else []
    return piece, flatten(lines[0].path) if len(lines) == 1 else ()


def _folds_along(subject: Subject, seam: Seam, side: SeamSide) -> list[tuple[float, Fold]]:
    """How far along its straight stitch line each fold that bends the piece crosses it."""
    piece, points = _line(subject, seam, side)
    if piece is None or not points or distance(points[0], points[-1]) < _length_mm(points) - STRAIGHT_MM:
        return []
    way, long_mm = unit(subtract(points[-1], points[0])), distance(points[0], points[-1])
    found = []
    for fold in piece.marks.folds:
        along, turn = subtract(fold.end, fold.start), cross(way, subtract(fold.end, fold.start))
        if fold.is_open and fold.angle_deg and not fold.of_hem and turn:
            at_mm = cross(subtract(fold.start, points[0]), along) / turn
            if 0 < at_mm < long_mm:
                found.append((at_mm, fold))
    return found


def _corners_along(subject: Subject, seam: Seam, side: SeamSide) -> list[float]:
    """How far along its stitch line each corner of a side lies: a sharp one, or the middle of a small round one."""
    _, points = _line(subject, seam, side)
    bends, at_mm = list[tuple[float, float]](), 0.0
    for (one, corner), (_, other) in pairwise(pairwise(points)):
        at_mm += distance(one, corner)
        before, after = unit(subtract(corner, one)), unit(subtract(other, corner))
        bends.append((at_mm, math.atan2(cross(before, after), dot(before, after))))
    found = []
    for run in _runs([bend for bend in bends if abs(bend[1]) > TURN_RAD]):
        if abs(sum(turn for _, turn in run)) >= SHARP_RAD - 1e-9 and run[-1][0] - run[0][0] <= ROUND_MM:
            found.append((run[0][0] + run[-1][0]) / 2)
    return found


def _runs(bends: list[tuple[float, float]]) -> list[list[tuple[float, float]]]:
    """Bends of a line, how far along and by how much, in groups that lie within a round corner of each other."""
    runs: list[list[tuple[float, float]]] = []
    for bend in bends:
        if runs and bend[0] - runs[-1][-1][0] <= CHORD_MM and bend[1] * runs[-1][-1][1] > 0:
            runs[-1].append(bend)
        else:
            runs.append([bend])
    return runs


def _length_mm(points: tuple[Point, ...]) -> float:
    return sum(distance(*leg) for leg in pairwise(points))


def _fold_place(subject: Subject, name: str, fold: Fold) -> Place:
    """The value that says where a fold lies, else its piece."""
    piece, spec = subject.parts.pieces[name], subject.piece_spec(name)
    number = piece.marks.folds.index(fold)
    item = spec.folds[number] if spec and number < len(spec.folds) else None
    return item.at.place if item and item.at else fold.place if fold.place.line else piece.place


@check("fold-near-edge", "What is bent over at an open fold is {bent_over} or more.", PRACTICE, needs_whole=True)
def find_narrow_bends(subject: Subject) -> Iterator[Found]:
    """Open folds along an edge of their piece that no seam holds, with less than that between the two; told of each fold
    once."""
    least_mm = subject.build.limits.bent_over_mm
    for piece in subject.build.pieces:
        for fold in piece.marks.folds:
            beyond_mm = _beyond_mm(outline_path(piece.outline), fold)
            edges = (*_edges_along(piece, fold, beyond_mm), WHOLE)
            is_held = not subject.edges_sewn(piece.name).isdisjoint(edges)
            if fold.is_open and not fold.of_hem and beyond_mm < least_mm - 1e-6 and not is_held:
                what = f'a fold of "{piece.name}" leaves {subject.length(beyond_mm)} to be bent over beyond it'
                yield _fold_place(subject, piece.name, fold), what, "measure it again from the edge", piece.name


def _edges_along(piece: Piece, fold: Fold, off_mm: float) -> list[str]:
    """The edges that run beside a fold, so far from it all along."""
    along = unit(subtract(fold.end, fold.start))
    found = []
    for name in edge_names(piece.outline):
        off = [cross(along, subtract(at, fold.start)) for at in flatten(edge_path(piece.outline, name))]
        if all(abs(abs(one) - off_mm) <= STRAIGHT_MM for one in off):
            found.append(name)
    return found


def _beyond_mm(shape: Path, fold: Fold) -> float:
    """How far the piece goes on to that side of a fold on which there is less of it."""
    along = unit(subtract(fold.end, fold.start))
    off = [cross(along, subtract(at, fold.start)) for at in flatten(shape)]
    return min(max(off), -min(off)) if chords(shape, fold.start, along) else 0.0


@check("folds-on-one-line", "Two folds of a piece lie apart.", "plain from the work", needs_whole=True)
def find_folds_on_one_line(subject: Subject) -> Iterator[Found]:
    """Folds that run the same way, nearer to each other than a crease is wide; lines written twice are told as that."""
    for piece in subject.build.pieces:
        folds = piece.own_folds
        for k, fold in enumerate(folds):
            for other in folds[:k]:
                along = unit(subtract(other.end, other.start))
                off_mm = [abs(cross(along, subtract(at, other.start))) for at in (fold.start, fold.end)]
                places = [_fold_place(subject, piece.name, one) for one in (other, fold)]
                if max(off_mm) <= SAME_FOLD_MM and places[0].words != places[1].words:
                    what = (
                        f'two folds of "{piece.name}" lie {subject.length(max(off_mm))} apart (line {places[0].line} and '
                        f"line {places[1].line})"
                    )
                    yield places[1], what, "measure both again", piece.name
                    break


@check(
    "folds-askew",
    "Two folds that are measured from opposite sides, and bend alike, lie as far from them; asked where they differ by at "
    "most {marks_askew}, and where both are folded flat, as a front and a flap are, by {nearly_alike}.",
    "our choice; asked, since a spine may be off the middle",
    needs_whole=True,
)
def find_folds_askew(subject: Subject) -> Iterator[Found]:
    """Pairs of open folds of a rectangle, the only ones that way, one of them written from the one side and one from the
    other, that nearly lie alike."""
    limits = subject.build.limits
    for spec in subject.spec.pieces:
        piece, items = subject.parts.pieces.get(spec.name), spec.folds
        folds = piece.own_folds if piece else ()
        if piece is None or len(folds) != 2 or len(items) != 2 or piece.shape not in ("rectangle", "strip"):
            continue
        froms = [re.search(FROM_RE, item.at.value) if item.at else None for item in items]
        sides = {found[1] for found in froms if found}
        away_mm = [_beyond_mm(outline_path(piece.outline), fold) for fold in folds]
        is_alike = all(fold.is_open for fold in folds) and folds[0].angle_deg == folds[1].angle_deg
        most_mm = limits.nearly_alike_mm if folds[0].angle_deg == 180 else limits.marks_askew_mm
        if (
            is_alike
            and any(sides == {*pair} for pair in OPPOSITE)
            and SAME_FOLD_MM < abs(away_mm[0] - away_mm[1]) <= most_mm + 1e-6
            and items[1].at
        ):
            far = " and ".join(subject.length(mm) for mm in away_mm)
            line = items[0].place.line
            what = (
                f'two folds of "{spec.name}" lie {far} from opposite sides (line {line} and line {items[1].place.line})'
            )
            yield items[1].at.place, what, "look at both figures, or accept it where it is meant", spec.name
