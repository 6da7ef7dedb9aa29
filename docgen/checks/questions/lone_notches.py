"""A match mark on one long side of a part and none across from it, where what is sewn there has one."""

from collections.abc import Iterator
from typing import Final

from docgen.checks.questions.question import Question, question
from docgen.checks.trade import Subject
from docgen.problems import line_words
from docgen.resolve import Seam

ACROSS: Final = {"left": "right", "right": "left"}
MOST: Final = 200  # of more pieces nothing is asked: a stranger's file


@question
def ask_lone_notches(subject: Subject) -> Iterator[Question]:
    """Pieces, and strips of joins, with a notch on one of their two sides alone, each sewn by both to parts that have one
    there; once for a piece."""
    for own in subject.spec.pieces if len(subject.spec.pieces) <= MOST else ():
        written = {item.on.value: item for item in own.notches if item.on}
        lone = [edge for edge in ACROSS if edge in written and ACROSS[edge] not in written]
        if len(lone) != 1 or own.name not in subject.parts.pieces:
            continue
        parts = {own.name, *(join.name for join in subject.build.joins if own.name in join.pieces)}
        bare = ACROSS[lone[0]]
        mates = [_notched_mate(subject, parts, edge) for edge in (lone[0], bare)]
        if mates[0] and mates[1]:
            seam, mate, line = mates[1]
            what = (
                f'"{own.name}" has a notch on its {lone[0]} and none on its {bare}, and in the seam "{seam.name}" that '
                f'meets one of "{mate}"{line_words(line)}'
            )
            answer = f'add {{ on = "{bare}" }}; where no mark is wanted there is nothing to do'
            yield Question(place=written[lone[0]].place, what=what, answer=answer)


def _notched_mate(subject: Subject, parts: set[str], edge: str) -> tuple[Seam, str, int] | None:
    """The seam that sews these by one edge, a piece of leather or cloth there that has a notch on its own, and its line."""
    for seam in subject.build.seams:
        if not any(side.part in parts and side.edges == (edge,) for side in seam.sides):
            continue
        for side in seam.sides:
            mate = subject.parts.pieces.get(side.part)
            is_marked = mate is not None and any(mark.edge in side.edges for mark in mate.marks.notches)
            if mate and is_marked and side.part not in parts and not subject.lies_behind(side.part, next(iter(parts))):
                specs = [subject.specs[name] for name in (mate.name, mate.model) if name in subject.specs]
                lines = [item.place.line for spec in specs for item in spec.notches]
                return seam, side.part, lines[0] if lines else 0
    return None
