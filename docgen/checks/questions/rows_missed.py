"""Rows that pass close by what lies there, and miss it."""

from collections.abc import Iterator
from typing import Final

from docgen.checks.questions.places import landing_place
from docgen.checks.questions.question import Question, question, told_by
from docgen.checks.trade import Subject
from docgen.geometry.outline import SIDES
from docgen.geometry.path import path_box, path_length, points_at
from docgen.geometry.shapes import Box, Path
from docgen.resolve import Piece

MOST: Final = 100  # of more landings nothing is asked: a stranger's file
NEAR_MM: Final = 3.0  # so little beside an edge a row was to go through it: our choice
EVERY_MM: Final = 2.0
ALONG: Final = 0.8  # cosine between a row and the side along which it runs
MISSED: Final = 0.5  # so much of a side has the row beside it: our choice


@question
def ask_missed_rows(subject: Subject) -> Iterator[Question]:
    """Parts of leather that nothing but glue holds, with a row of what they lie on close beside one of their edges. What
    has rows beside several of them was cut to lie clear of them, as a stiffener is."""
    leather = {item.name for item in subject.build.materials if item.kind == "leather"}
    found = [(base, landing) for base in subject.build.pieces for landing in base.marks.landings]
    held = _held(subject) if 0 < len(found) <= MOST else frozenset[str]()
    for base, landing in found if len(found) <= MOST else ():
        piece, own = subject.parts.pieces.get(landing.piece), subject.specs.get(base.name)
        if piece is None or own is None or landing.is_over or piece.name in held or piece.material not in leather:
            continue
        box = path_box(landing.outline)
        gaps = [(side, line.seam, line.path) for line in base.marks.stitch_lines if not line.row for side in SIDES]
        beside = {side: (seam, off) for side, seam, row in gaps if (off := _gap_mm(row, box, side)) is not None}
        if len(beside) == 1:
            ((side, (seam, off_mm)),) = beside.items()
            what = f'the row of "{seam}" passes {subject.length(off_mm)} beside the {side} of "{piece.name}" on '
            what += f'"{base.name}", and nothing sews that on'
            answer = "lay it under the row, or sew it; where glue is to hold it there is nothing to do"
            yield Question(place=landing_place(own, landing), what=what, answer=answer)


def _held(subject: Subject) -> frozenset[str]:
    """The parts that a seam, a line, hardware or a fold holds, that line another, or that a check tells as loose."""
    build = subject.build
    held = {*subject.sewn, *(name for one in build.joins for name in one.pieces)}
    held |= {name for piece in build.cut for hole in piece.marks.holes for name in hole.through}
    held |= {layer.part for once in build.assembly.sewn for layer in once.stack.layers}
    held |= {layer.part for once in build.assembly.fastened for layer in once.stack.layers}
    held |= {piece.name for piece in build.pieces if _holds_itself(piece)}
    held |= {problem.at for check in ("piece-loose", "landing-unheld") for problem in told_by(subject, check)}
    return frozenset(held)


def _holds_itself(piece: Piece) -> bool:
    return bool(piece.lines or piece.dividers or any(fold.around for fold in piece.marks.folds))


def _gap_mm(row: Path, box: Box, side: str) -> float | None:
    """How far beyond a side of a box a row passes along it; None where it does not, or farther off."""
    is_upright, sign = side in ("left", "right"), 1 if side in ("right", "top") else -1
    low, high = (box.bottom, box.top) if is_upright else (box.left, box.right)
    count = max(1, round(path_length(row) / EVERY_MM))
    step_mm = path_length(row) / count
    offs_mm = []
    for at, way in points_at(row, [(k + 0.5) * step_mm for k in range(count)]):
        (along, across), runs = ((at.y, at.x), way.y) if is_upright else ((at.x, at.y), way.x)
        off_mm = sign * (across - box.level(side))
        if low < along < high and abs(runs) > ALONG and 0 < off_mm < NEAR_MM:
            offs_mm.append(off_mm)
    return min(offs_mm) if len(offs_mm) * step_mm >= MISSED * (high - low) else None
