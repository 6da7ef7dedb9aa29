"""Covers with a spine between two folds, of which one half is wider than the other, and two folds measured from either side
of a piece by unlike figures."""

from collections.abc import Iterator
from itertools import pairwise
from typing import Final

from docgen.checks.questions.places import PLACE_RE
from docgen.checks.questions.question import Question, question
from docgen.checks.trade import Subject
from docgen.geometry.outline import outline_box
from docgen.problems import Place, line_words
from docgen.resolve import Fold, Piece

SAME_MM: Final = 1.0
UNLIKE_MM: Final = 5.0  # by less halves are unlike for their turn round what is in them: our choice
SPINE: Final = 0.35  # of the half beside it a spine is at most so wide: our choice
UNLIKE: Final = 2.0  # so many times as wide it is no half of a cover but a flap beside it: our choice
FOLDS: Final = (2, 3)  # of a cover, or of one with a flap over its fore edge


@question
def ask_halves(subject: Subject) -> Iterator[Question]:
    """Rectangles with upright folds alone, two of them round a spine, and halves beside that which are nearly alike."""
    for piece in subject.build.pieces:
        folds = sorted(piece.own_folds, key=lambda fold: fold.start.x)
        is_upright = all(fold.is_open and abs(fold.start.x - fold.end.x) < SAME_MM for fold in folds)
        if piece.shape == "rectangle" and len(folds) in FOLDS and is_upright and len({*_places(folds)}) == len(folds):
            yield from _ask_sides(subject, piece, folds) if len(folds) == 2 else ()
            yield from _ask(subject, piece, folds)


def _places(folds: list[Fold]) -> list[Place]:
    return [fold.place for fold in folds]


def _ask_sides(subject: Subject, piece: Piece, folds: list[Fold]) -> Iterator[Question]:
    """Two folds that are measured from either side, and not by one figure, where what lies between is no spine."""
    own, box = subject.specs.get(piece.name), outline_box(piece.outline)
    found = (
        {at.place.line: match[2] for it in own.folds if (at := it.at) and (match := PLACE_RE.match(at.value))}
        if own
        else {}
    )
    off_mm = folds[0].start.x - box.left, box.right - folds[1].start.x
    is_spine = folds[1].start.x - folds[0].start.x <= SPINE * min(off_mm) and max(off_mm) < UNLIKE * min(off_mm)
    if {*found.values()} == {"left", "right"} and not is_spine and abs(off_mm[0] - off_mm[1]) > UNLIKE_MM:
        near, far = map(subject.length, off_mm)
        what = (
            f'"{piece.name}" is folded {near} from its left{line_words(folds[0].place.line)} and {far} from its right'
        )
        answer = "look at both figures; where its sides are meant to be unlike there is nothing to do"
        yield Question(place=folds[1].place, what=what, answer=answer)


def _ask(subject: Subject, piece: Piece, folds: list[Fold]) -> Iterator[Question]:
    box = outline_box(piece.outline)
    levels = [box.left, *(fold.start.x for fold in folds), box.right]
    widths = [b - a for a, b in pairwise(levels)]
    for at in range(1, len(widths) - 1):
        before, spine, after = widths[at - 1 : at + 2]
        least_mm, most_mm = sorted((before, after))
        if spine <= SPINE * least_mm and most_mm - least_mm > UNLIKE_MM and most_mm < UNLIKE * least_mm:
            beyond = [number for number in (at - 2, at + 1) if 0 <= number < len(folds)]
            odd = folds[beyond[0]] if beyond else folds[at]
            first, second, wide = map(subject.length, (before, after, spine))
            what = f'beside the spine of "{piece.name}", {wide} wide, one half is {first} and the other {second}'
            what += line_words(next((fold.place.line for fold in folds if fold is not odd), None))
            answer = "measure the folds again; where one half is to be wider there is nothing to do"
            yield Question(place=odd.place, what=what, answer=answer)
            return
