"""On which side of a piece something lies or goes, where what is like it lies on the other."""

from collections.abc import Iterator
from typing import Final

from docgen.checks.questions.places import landing_place
from docgen.checks.questions.question import Question, question
from docgen.checks.trade import Subject
from docgen.geometry.outline import outline_box
from docgen.geometry.path import path_box
from docgen.geometry.shapes import Box
from docgen.problems import name_words
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


@question
def ask_covers(subject: Subject) -> Iterator[Question]:
    """Panels on the outside of what folds, level with an end of it and both sides beside that: so lie the sleeves of a
    cover, and the front of a pouch on a back with a flap, within the fold; once for each that is folded."""
    for base in subject.build.pieces:
        own, box = subject.specs.get(base.name), outline_box(base.outline)
        outside = [landing for landing in base.marks.landings if not landing.is_inside]
        if own is None or not base.own_folds or not outside or base.shows == "flesh":
            continue
        found = [landing for landing in outside if _fills_leaf(base, path_box(landing.outline), box)]
        if found and len(found) == len(outside):
            names = name_words(one.piece for one in found)
            lie = "lies" if len(found) == 1 else "lie"
            what = f'{names} {lie} on the outside of "{base.name}", level with its edges, and that folds flesh side in'
            answer = "write inside = true where a panel lies within the fold; on the outside there is nothing to do"
            yield Question(place=landing_place(own, found[0]), what=what, answer=answer)


def _fills_leaf(base: Piece, laid: Box, box: Box) -> bool:
    """Whether a panel is level with the end of a piece beyond a fold and with both edges beside, and reaches half way to
    the fold at least, and not across it."""
    for fold in base.own_folds:
        if fold.inside == "grain":
            return False
        is_level = abs(fold.start.y - fold.end.y) < SAME_MM
        ends = [("bottom", "top"), ("left", "right")][:: 1 if is_level else -1]
        at_mm = fold.start.y if is_level else fold.start.x
        for end, far in (ends[0], ends[0][::-1]):
            along = (laid.level(end), laid.level(far))
            is_there = all(abs(laid.level(edge) - box.level(edge)) <= SAME_MM for edge in (end, *ends[1]))
            leaf_mm, long_mm = abs(at_mm - box.level(end)), abs(along[0] - along[1])
            is_beyond = (along[1] - at_mm) * (along[0] - at_mm) > 0
            if is_there and is_beyond and long_mm >= leaf_mm / 2:
                return True
    return False
