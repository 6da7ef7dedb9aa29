"""Loops that are shorter between what holds them than the belt that a measure names is wide and thick."""

from collections.abc import Iterator
from itertools import pairwise

from docgen.checks.questions.question import Question, question
from docgen.checks.trade import Subject
from docgen.geometry.outline import outline_box
from docgen.geometry.path import flatten
from docgen.geometry.shapes import Point
from docgen.problems import Place, line_words
from docgen.read import NamedLength
from docgen.resolve import Piece
from docgen.tables.cautions import has_phrase
from docgen.tables.usual import BELT_THICK_MM, CALLED_MM
from docgen.written.measures import resolve_measures

LEAST_LOOP_MM = 15.0  # between two rows that are nearer to each other nothing goes through: our choice
Free = tuple[Place, str, float, str]
"""Where a loop is written, its name, how long it is free, and from where to where."""


@question
def ask_belt_loops(subject: Subject) -> Iterator[Question]:
    """Folded and flat pieces, and straps held on one piece by both ends, that are called loops."""
    belt = _find_belt(subject)
    if belt is None:
        return
    item, wide_mm = belt
    line = line_words(item.length.place.line)
    for place, name, free_mm, where in (*_pieces(subject), *_straps(subject)):
        if free_mm < wide_mm + BELT_THICK_MM - 1e-6:
            free, wide, least = map(subject.length, (free_mm, wide_mm, wide_mm + BELT_THICK_MM))
            what = f'"{name}" is {free} long {where}, and a belt of {wide}, "{item.name}"{line}, '
            answer = "make it longer; where another belt goes through it there is nothing to do"
            yield Question(place=place, what=f"{what}takes {least} with its thickness", answer=answer)


def _find_belt(subject: Subject) -> tuple[NamedLength, float] | None:
    """The one measure that is called belt, and may be how wide one is."""
    known, _ = resolve_measures([(item.name, item.length.value) for item in subject.spec.measures])
    least_mm, most_mm = CALLED_MM["belt"]
    named = [item for item in subject.spec.measures if item.name in ("belt", "belt-width", "belt-wide")]
    found = [(item, known[item.name]) for item in named if item.name in known]
    return found[0] if len(found) == 1 and least_mm <= found[0][1] <= most_mm else None


def _is_loop(name: str, title: str) -> bool:
    return has_phrase(f"{name.replace('-', ' ')} {title}", "loop")


def _pieces(subject: Subject) -> Iterator[Free]:
    """What is folded once, or lies flat, from its fold or its other end to what closes it."""
    for piece in subject.build.pieces:
        folds = [fold for fold in piece.own_folds if not fold.is_open and not fold.around]
        held = [*_held(subject, piece)] if _is_loop(piece.name, piece.title) and len(piece.own_folds) <= 1 else []
        place = subject.size_place(piece, is_across=False)
        if held and folds:
            yield place, piece.name, min(abs(folds[0].off_mm(at)) for at in held), "from its fold to what closes it"
        elif held and not piece.own_folds:
            box = outline_box(piece.outline)
            along = sorted({round(at.y if box.height >= box.width else at.x, 1) for at in held})
            gaps = [after - before for before, after in pairwise(along)]
            if gaps and max(gaps) > LEAST_LOOP_MM:
                yield place, piece.name, max(gaps), "between what holds it"


def _held(subject: Subject, piece: Piece) -> Iterator[Point]:
    """Where a piece is riveted, or sewn to another one."""
    yield from (hole.at for hole in piece.marks.holes)
    others = {seam.name for seam in subject.build.seams if len(seam.parts) > 1}
    for line in piece.marks.stitch_lines:
        yield from flatten(line.path) if line.seam in others else ()


def _straps(subject: Subject) -> Iterator[Free]:
    """What lands on one piece by both ends."""
    for strap in subject.build.straps:
        ends = [
            (base.name, one) for base in subject.build.pieces for one in base.strap_landings if one.strap == strap.name
        ]
        if (
            _is_loop(strap.name, strap.title)
            and not strap.keeper_for
            and len(ends) == 2
            and len({base for base, _ in ends}) == 1
        ):
            place = subject.written_at(subject.spec.straps, strap.name, "finished")
            yield place, strap.name, strap.finished_mm - sum(one.over_mm for _, one in ends), "between its ends"
