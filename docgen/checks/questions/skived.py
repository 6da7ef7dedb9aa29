"""Skives along an edge across from the one that is sewn, and at the end of a strip where its fittings are set."""

from collections.abc import Iterator
from typing import Final

from docgen.checks.questions.question import Question, question
from docgen.checks.trade import Subject
from docgen.geometry.outline import ACROSS_STRIPS, outline_box
from docgen.problems import line_words
from docgen.read import PieceSpec, SkiveSpec
from docgen.resolve import Piece

ENDS: Final = ("start", "end")
STRIP_AXIS: Final = 1  # a strip runs upward, from start to end
ANSWER: Final = "look at its edges; where it is meant so there is nothing to do"


@question
def ask_skived(subject: Subject) -> Iterator[Question]:
    """Skives whose edges are those of a seam but for one, which lies across from the one that is sewn."""
    for own in subject.spec.pieces:
        piece = subject.parts.pieces.get(own.name)
        for skive in own.skives if piece else ():
            edges = skive.edges.value.split() if skive.edges else []
            yield from _ask_edge(subject, own, skive, edges)
            if piece and len(edges) == 1 and edges[0] in ENDS and len(own.skives) == 1:
                yield from _ask_end(subject, piece, skive, edges[0])


def _ask_edge(subject: Subject, own: PieceSpec, skive: SkiveSpec, edges: list[str]) -> Iterator[Question]:
    sides = [(seam, side) for seam in subject.build.seams for side in seam.sides if side.part == own.name]
    if len(edges) < 2 or any({*edges} <= {*side.edges} for _, side in sides):
        return
    for seam, side in sides:
        extra, missing = {*edges} - {*side.edges}, {*side.edges} - {*edges}
        if len(extra) == len(missing) == 1 and ACROSS_STRIPS.get(next(iter(extra))) in missing and skive.edges:
            what = f'"{own.name}" is skived along {skive.edges.value}, and "{seam.name}" sews it along '
            what += f"{' '.join(side.edges)}{line_words(seam.place_of(side).line)}"
            yield Question(place=skive.edges.place, what=what, answer=ANSWER)
            return


def _ask_end(subject: Subject, piece: Piece, skive: SkiveSpec, end: str) -> Iterator[Question]:
    """The one skived end of a strip that lies in one joint, where all its holes lie nearer to that end."""
    joins = [join for join in subject.build.joins if piece.name in join.pieces]
    is_outer = len(joins) == 1 and not joins[0].is_ring and joins[0].pieces[0] == joins[0].pieces[-1] == piece.name
    holes = piece.marks.holes
    if not (is_outer and holes and skive.edges):
        return
    middle_mm = outline_box(piece.outline).centre[STRIP_AXIS]
    if all((hole.at[STRIP_AXIS] < middle_mm) == (end == ENDS[0]) for hole in holes):
        what = (
            f'"{piece.name}" is skived at its {end}, where its holes lie, and not at its {ACROSS_STRIPS[end]}: one end '
        )
        what += f'of it lies in a joint of "{joins[0].name}"'
        yield Question(place=skive.edges.place, what=what, answer=ANSWER)
