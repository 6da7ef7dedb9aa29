"""Rows of holes that do not fit what they are in: one of them of another size, a row round a wall that is uneven where that
closes, and a row beside the end by which its piece is sewn on, where the other end hangs free without any."""

from collections.abc import Iterator, Sequence
from typing import Final

from docgen.checks.questions.question import Question, question
from docgen.checks.trade import Subject
from docgen.geometry.outline import outline_box
from docgen.geometry.vector import cross, distance, subtract
from docgen.problems import Place
from docgen.read import PieceSpec, StrapSpec
from docgen.resolve import Hole
from docgen.tables.sewing import SAME_PUNCH_MM

LEAST: Final = 3  # holes of a row
ROUND: Final = 6  # holes of a row that goes round: our choice
MOST_ROUND: Final = 0.7  # of its wall at least: our choice
UNEVEN: Final = (0.6, 2.2)  # of their step from the last to the first, where one may be left out: our choice
MOST: Final = 80  # of more nothing is asked: a stranger's file
EVEN_MM: Final = 0.6
LONG: Final = 3.0  # so many times as long as wide a piece has two ends: our choice
ENDS: Final = {"top": True, "end": True, "bottom": False, "start": False}


@question
def ask_odd_sizes(subject: Subject) -> Iterator[Question]:
    """The one hole of a row, evenly spaced, that is of another size than the others; once for a part."""
    owns: dict[str, PieceSpec | StrapSpec] = {**subject.specs, **{own.name: own for own in subject.spec.straps}}
    for piece in subject.build.cut:
        own = owns.get(piece.name)
        holes = [hole for hole in piece.marks.holes if not hole.long_mm]
        written = {item.at.place: item for item in _written(own) if item.at and item.punch} if own else {}
        if own is None or not LEAST <= len(holes) <= MOST:
            continue
        for row in _even_rows([hole for hole in holes if hole.place in written]):
            sizes = sorted(hole.diameter_mm for hole in row)
            usual_mm = sizes[len(sizes) // 2]
            odd = [hole for hole in row if abs(hole.diameter_mm - usual_mm) > SAME_PUNCH_MM]
            if len(odd) == 1:
                punch = written[odd[0].place].punch
                place = punch.place if punch else odd[0].place
                what = (
                    f'a hole of "{piece.name}" is {subject.length(odd[0].diameter_mm)} across, and the {len(row) - 1} '
                )
                what += f"others in its row {subject.length(usual_mm)}"
                answer = "look at its punch; where it is for something else there is nothing to do"
                yield Question(place=place, what=what, answer=answer)
                break


def _written(own: PieceSpec | StrapSpec) -> Sequence:  # type: ignore[type-arg]
    return own.punches if isinstance(own, StrapSpec) else own.holes


def _even_rows(holes: Sequence[Hole]) -> Iterator[list[Hole]]:
    """Runs of holes, as written, that lie on a straight line, as far from each other, and take the same."""
    row: list[Hole] = []
    for hole in holes:
        if len(row) > 1 and not _goes_on(row, hole):
            if len(row) >= LEAST:
                yield row
            row = row[-1:]
        row = [*row, hole] if not row or hole.takes == row[-1].takes else [hole]
    if len(row) >= LEAST:
        yield row


def _goes_on(row: Sequence[Hole], hole: Hole) -> bool:
    step, further = subtract(row[-1].at, row[-2].at), subtract(hole.at, row[-1].at)
    return distance(step, further) < EVEN_MM and abs(cross(step, further)) < EVEN_MM * distance(row[-1].at, row[-2].at)


@question
def ask_ring_rows(subject: Subject) -> Iterator[Question]:
    """Rows of holes that go round most of a wall which closes on itself, evenly, and not over its joint."""
    for join in subject.build.joins:
        wall = subject.parts.pieces.get(join.pieces[0]) if join.is_ring and len(join.pieces) == 1 else None
        own = subject.specs.get(wall.name) if wall else None
        for row in own.hole_rows if own and len(own.hole_rows) <= MOST else ():
            holes = [hole for hole in wall.marks.holes if hole.place == row.place] if wall else []
            levels = sorted(hole.at.y for hole in holes)
            span_mm = levels[-1] - levels[0] if len(levels) >= ROUND else 0.0
            step_mm, over_mm = span_mm / max(len(levels) - 1, 1), join.length_mm - span_mm
            is_round = span_mm >= MOST_ROUND * join.length_mm and _is_straight(holes)
            if wall and is_round and not UNEVEN[0] * step_mm <= over_mm <= UNEVEN[1] * step_mm:
                step, over = map(subject.length, (step_mm, over_mm))
                what = f'the holes round "{wall.name}" lie {step} from each other, and over its joint {over}'
                answer = "look where the row begins and ends; where it is to be open there there is nothing to do"
                yield Question(place=holes[0].place, what=what, answer=answer)


@question
def ask_sewn_ends(subject: Subject) -> Iterator[Question]:
    """Long pieces sewn on by one end alone, all of whose holes lie in a row in the half at that end."""
    for piece in subject.build.pieces:
        box = outline_box(piece.outline)
        holes = [hole for hole in piece.marks.holes if not (hole.takes or hole.meets or hole.through)]
        if len(holes) < LEAST or len(holes) != len(piece.marks.holes) or box.height < LONG * box.width:
            continue
        sides = [(seam, side) for seam in subject.build.seams for side in seam.sides if side.part == piece.name]
        seam, side = sides[0] if len(sides) == 1 else (None, None)
        end = ENDS.get(side.edges[0]) if side and len(side.edges) == 1 else None
        if seam is None or side is None or end is None or piece.own_folds or not _is_straight(holes):
            continue
        if all((hole.at.y > box.centre.y) == end for hole in holes):
            what = f'"{piece.name}" is sewn on by its {side.edges[0]}, and all its holes lie in the half there: its '
            what += "other end hangs free without any"
            answer = "look at the edge, and from which end the holes are measured; where they are meant there there is "
            answer += "nothing to do"
            place: Place = seam.place_of(side)
            yield Question(place=place, what=what, answer=answer)


def _is_straight(holes: Sequence[Hole]) -> bool:
    return max(hole.at.x for hole in holes) - min(hole.at.x for hole in holes) < EVEN_MM
