"""Rings whose notch has no mate on the closed edge that they are sewn round: nothing says where they begin there."""

from collections.abc import Iterator
from typing import Final

from docgen.checks.questions.question import Question, question
from docgen.checks.trade import Subject
from docgen.checks.trade.joining import goes_round
from docgen.resolve import Piece, SeamSide, marks_along

MATES: Final = ("top", "bottom", "left", "right")


@question
def ask_begun_rings(subject: Subject) -> Iterator[Question]:
    """Seams of a marked ring and a base without a notch; which way round a circle lies is nothing to ask."""
    rings = {name: join for name, join in subject.parts.joins.items() if join.is_ring}
    for seam in subject.build.seams if rings else ():
        walls = [side for side in seam.sides if side.part in rings and side.edges]
        found = [base for side in seam.sides if (base := _bare_base(subject, side)) is not None]
        for base in found if len(walls) == 1 else ():
            join = rings[walls[0].part]
            notches = [*marks_along(join, walls[0].edges, subject.parts.pieces)]
            if notches:
                what = (
                    f'"{join.name}" has a notch where the seam "{seam.name}" sews it round "{base.name}", which has none: '
                    "nothing says where on that it lies"
                )
                mates = ", ".join(f'{{ on = "{edge}" }}' for edge in MATES[: len(notches)])
                answer = f"mark where it is to lie, for example notches = [{mates}] in [pieces.{base.name}]"
                yield Question(place=base.place, what=what, answer=answer)


def _bare_base(subject: Subject, side: SeamSide) -> Piece | None:
    """The piece of a side that a seam takes all round, where it has corners and no notch."""
    piece = subject.parts.pieces.get(side.part)
    if piece is None or side.stretch_mm or piece.shape == "circle" or piece.marks.notches:
        return None
    return piece if goes_round(subject, side) else None
