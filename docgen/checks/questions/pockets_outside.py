"""Pockets that come to lie outside of what folds shut over them."""

from collections.abc import Iterator
from typing import Final

from docgen.checks.called import is_called
from docgen.checks.questions.question import Question, question, told_by
from docgen.checks.trade import Subject
from docgen.geometry.path import path_box
from docgen.geometry.vector import cross, subtract
from docgen.resolve import Fold, Piece, layers_folded_along

POCKETS: Final = ("pocket", "slot", "sleeve")


@question
def ask_pockets_outside(subject: Subject) -> Iterator[Question]:
    """Covers that open as a book does, one of whose sides is said to lie inside, with pockets on both halves of the other
    side alone."""
    told = {problem.at for problem in told_by(subject, "folds-against")}
    for piece in subject.build.pieces:
        folds = piece.own_folds
        if (
            len(folds) != 1
            or piece.name in told
            or not (folds[0].is_open and folds[0].angle_deg == 180 and folds[0].inside)
        ):
            continue
        inner = {landing.is_inside for landing in piece.marks.landings}
        halves = {_half(folds[0], subject, piece, k) for k in range(len(piece.marks.landings))} - {0}
        if inner == {folds[0].inside == "grain"} and len(halves) == 2:
            own = subject.specs.get(piece.name)
            is_said = own is not None and any(fold.inside for fold in own.folds)
            covers = [its for name, _, _, its in layers_folded_along(subject.parts) if name == piece.name]
            place = folds[0].place if is_said or not covers else covers[0].place
            what = f'the {folds[0].inside} side of "{piece.name}" lies inside its fold, and its pockets on the other side: '
            what += "they come to lie outside when it is shut"
            answer = "look at inside; where they are to lie outside there is nothing to do"
            yield Question(place=place, what=what, answer=answer)


def _half(fold: Fold, subject: Subject, piece: Piece, number: int) -> int:
    """On which side of a fold a pocket lies that lands on a piece; 0 of what is none."""
    landing = piece.marks.landings[number]
    part = subject.parts.pieces.get(landing.piece)
    if part is None or not is_called(part, POCKETS):
        return 0
    off = cross(subtract(fold.end, fold.start), subtract(path_box(landing.outline).centre, fold.start))
    return 1 if off > 0 else -1
