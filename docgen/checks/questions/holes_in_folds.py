"""Rows by hand that begin in the fold itself of what they sew to itself."""

from collections.abc import Iterator
from itertools import product
from typing import Final

from docgen.checks.questions.question import Question, question
from docgen.checks.trade import Subject
from docgen.geometry.path import path_length, point_at
from docgen.resolve import Fold, Piece

IN_FOLD_MM: Final = 1.0  # from the line of a fold a hole lies in it: our choice


@question
def ask_holes_in_folds(subject: Subject) -> Iterator[Question]:
    """Seams of a piece to itself whose first or last hole lies in a fold that lies between its sides; once for a fold."""
    told: dict[tuple[str, Fold], list[str]] = {}
    for seam in subject.build.seams:
        sides = [side.part for side in seam.sides]
        for piece in (subject.parts.pieces[one] for one in dict.fromkeys(sides) if one in subject.parts.pieces):
            for fold in piece.marks.folds if sides.count(piece.name) > 1 else ():
                if not fold.of_hem and _is_pricked(piece, seam.name, fold):
                    told.setdefault((piece.name, fold), []).append(seam.name)
    for (name, fold), seams in told.items():
        where = f' "{fold.note}"' if fold.note else ""
        rows = ", ".join(f'"{seam}"' for seam in seams)
        what = (
            f'the hole at the end of {rows} lies in the fold{where} of "{name}" itself: it weakens that, and may tear'
        )
        answer = (
            "end both runs a stitch from the fold, as common practice is; where it is to be so there is nothing to do"
        )
        yield Question(place=subject.written_at(subject.spec.seams, seams[0]), what=what, answer=answer)


def _is_pricked(piece: Piece, seam: str, fold: Fold) -> bool:
    """Whether rows of a seam on both sides of a fold have an end with a hole in it."""
    sides = set()
    for line in piece.marks.stitch_lines:
        if line.seam == seam and line.by == "hand" and line.row == 0 and line.holes_mm:
            ends = (0.0, path_length(line.path))
            for hole_mm, end_mm in product((line.holes_mm[0], line.holes_mm[-1]), ends):
                if abs(hole_mm - end_mm) < IN_FOLD_MM and abs(fold.off_mm(point_at(line.path, end_mm)[0])) < IN_FOLD_MM:
                    sides.add(fold.off_mm(point_at(line.path, ends[end_mm == 0.0])[0]) > 0)
    return len(sides) == 2
