"""Welts by their word, within a seam, that end well before the edge along which they lie does."""

from collections.abc import Iterator
from typing import Final

from docgen.checks.called import is_called
from docgen.checks.questions.places import is_on
from docgen.checks.questions.question import Question, question
from docgen.checks.trade import Subject
from docgen.geometry.outline import SIDES, edge_names, edge_path, outline_box
from docgen.geometry.path import path_box, path_length
from docgen.problems import line_words
from docgen.resolve import Piece

WORDS: Final = ("welt",)
SHORTER: Final = 0.85  # of the straight edge along which it lies a welt is hardly shorter: our choice
MOST: Final = 60  # of more landings nothing is asked: a stranger's file


@question
def ask_short_welts(subject: Subject) -> Iterator[Question]:
    """Narrow welts that lie inside along one upright side of what is sewn there, once for a welt."""
    for base in subject.build.pieces:
        for landing in base.marks.landings if len(base.marks.landings) <= MOST else ():
            welt = subject.parts.pieces.get(landing.piece)
            if welt is None or not landing.is_inside or not is_called(welt, WORDS) or welt.own_folds:
                continue
            box, around = path_box(landing.outline), outline_box(base.outline)
            sides = [side for side in SIDES[0::2] if is_on(box, around, side) and _is_sewn(subject, base, side)]
            edge_mm = path_length(edge_path(base.outline, sides[0])) if len(sides) == 1 else 0.0
            if box.height > 2 * box.width and box.height < SHORTER * edge_mm:
                place = subject.size_place(welt, is_across=False)
                long, edge = map(subject.length, (box.height, edge_mm))
                what = (
                    f'"{welt.name}" is {long} long, and the {sides[0]} of "{base.name}"{line_words(base.place.line)}, '
                )
                what += f"along which it lies within the seam, {edge}"
                answer = "look at its length; where the edge is to have no welt beyond there is nothing to do"
                yield Question(place=place, what=what, answer=answer)


def _is_sewn(subject: Subject, base: Piece, side: str) -> bool:
    return side in edge_names(base.outline) and side in subject.edges_sewn(base.name)
