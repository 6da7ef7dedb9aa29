"""On which side of a piece something lies or goes, where what is like it lies on the other."""

from collections.abc import Iterator
from typing import Final

from docgen.checks.questions.places import landing_place
from docgen.checks.questions.question import Question, question
from docgen.checks.trade import Subject
from docgen.geometry.outline import outline_box
from docgen.geometry.path import path_box
from docgen.resolve import Piece

SAME_MM: Final = 1.0
PAIR: Final = 2


@question
def ask_insides(subject: Subject) -> Iterator[Question]:
    """Two folds of a piece that bend by one angle, and have each another side within."""
    for piece in subject.build.pieces:
        own = subject.specs.get(piece.name)
        folds = [fold for fold in own.folds if fold.inside and fold.open and fold.open.value] if own else []
        if own and len(folds) == PAIR == len(own.folds) and folds[0].inside and folds[1].inside:
            one, other = (fold.inside.value for fold in folds if fold.inside)
            angles = {fold.angle.value if fold.angle else 0 for fold in folds}
            if one != other and len(angles) == 1:
                what = f'a fold of "{piece.name}" has {other} inside, and the one in line {folds[0].place.line} {one}'
                answer = "look at both; where it goes to and fro there is nothing to do"
                yield Question(place=folds[1].inside.place, what=what, answer=answer)


@question
def ask_row_sides(subject: Subject) -> Iterator[Question]:
    """A row of rooms as wide as what it is sewn on that lies on the outside, where another piece as wide lies within."""
    for base in subject.build.pieces:
        own, wide_mm = subject.specs.get(base.name), outline_box(base.outline).width
        across = [
            landing
            for landing in base.marks.landings
            if abs(path_box(landing.outline).width - wide_mm) <= SAME_MM and landing.piece in subject.specs
        ]
        rows = [one for one in across if _is_row(subject.parts.pieces[one.piece], base.name)]
        within = [one for one in across if one.is_inside and one not in rows]
        out = [one for one in rows if not one.is_inside]
        if own and len(across) == PAIR and out and within:
            what = f'"{out[0].piece}" lies outside on "{base.name}", and "{within[0].piece}", as wide, inside'
            answer = "write inside = true for it too; where they lie on two sides there is nothing to do"
            yield Question(place=landing_place(own, out[0]), what=what, answer=answer)


def _is_row(piece: Piece, base: str) -> bool:
    return any(line.on == base for line in piece.dividers)
