"""Pieces as wide as what they are sewn on: their own rows lie there on the line of the seams along its edges."""

from collections.abc import Iterator
from typing import Final

from docgen.checks.questions.places import is_on
from docgen.checks.questions.question import Question, question
from docgen.checks.trade import Subject
from docgen.geometry.outline import WHOLE, outline_box
from docgen.geometry.path import path_box
from docgen.problems import lines_words
from docgen.resolve import Piece, Seam

NEAR_MM: Final = 1.5  # two rows so near are one row of holes: our choice
ACROSS: Final = (("left", "right"), ("bottom", "top"))
MOST: Final = 100  # of more landings nothing is asked: a stranger's file


@question
def ask_rows_on_one_line(subject: Subject) -> Iterator[Question]:
    """Pieces sewn flat on another by two edges across from each other, which lie on edges of that, and these are sewn to
    further parts as far in; of a foot that lies so alone nothing is asked, nor of what that seam takes in besides."""
    for base in subject.build.pieces:
        around = outline_box(base.outline)
        for landing in base.marks.landings if len(base.marks.landings) <= MOST else ():
            piece, box = subject.parts.pieces.get(landing.piece), path_box(landing.outline)
            for pair in ACROSS if piece else ():
                if piece and all(is_on(box, around, side) for side in pair):
                    yield from _ask_pair(subject, base, piece, pair)


def _ask_pair(subject: Subject, base: Piece, piece: Piece, pair: tuple[str, str]) -> Iterator[Question]:
    rows = [_row_by(subject, piece.name, side, base.name) for side in pair]
    own, other = rows
    if own is None or other is None or own.stitch != other.stitch or {*pair} & (base.hemmed | piece.hemmed):
        return
    inset_mm = subject.inset_mm(own.stitch)
    beside = [
        next(
            (
                seam
                for seam in subject.build.seams
                if piece.name not in seam.parts
                and _sews(seam, base.name, side)
                and any(one.part != base.name and one.edges for one in seam.sides)
                and abs(subject.inset_mm(seam.stitch) - inset_mm) < NEAR_MM
            ),
            None,
        )
        for side in pair
    ]
    if beside[0] and beside[1]:
        names = " and ".join(f'"{seam.name}"' for seam in dict.fromkeys(one for one in beside if one))
        lines = lines_words(sorted({seam.place.line or 0 for seam in beside if seam}))
        sews = f'"{own.name}" sews' if own is other else f'"{own.name}" and "{other.name}" sew'
        what = f'"{piece.name}" is as wide as "{base.name}", and {sews} its {pair[0]} and {pair[1]} on that, on '
        what += f"the line of {names} ({lines}): two rows of holes in one"
        answer = (
            "look at its size; else name it in these seams in place of its own, or sew it farther in; where both rows "
        )
        answer += "are meant there is nothing to do"
        yield Question(place=subject.size_place(piece, is_across=pair[0] == "left"), what=what, answer=answer)


def _row_by(subject: Subject, name: str, side: str, host: str) -> Seam | None:
    """The seam that sews an edge of a piece flat on its host alone."""
    return next(
        (
            seam
            for seam in subject.build.seams
            if _sews(seam, name, side)
            and all(not it.edges and it.part == host for it in seam.sides if it.part != name)
            and host in seam.parts
        ),
        None,
    )


def _sews(seam: Seam, part: str, edge: str) -> bool:
    return any(side.part == part and not {edge, WHOLE}.isdisjoint(side.edges) for side in seam.sides)
