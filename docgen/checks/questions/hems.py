"""What a hem leaves in doubt: a row far from the edge that it is to hold, a lining that the row misses, a seam that ends
at the fold of a hem which is turned over only later."""

from __future__ import annotations

from collections.abc import Iterator

from docgen.assemble import HemRow, find_hem_rows
from docgen.checks.questions.question import Question, question
from docgen.checks.trade import Subject
from docgen.geometry.path import path_length
from docgen.problems import Place
from docgen.resolve import Piece, Seam, SeamSide, by_name

SHORT_MM = 1.0


@question
def ask_hem_rows(subject: Subject) -> Iterator[Question]:
    """Rows along hems that leave much of what is turned over loose, or miss the lining within."""
    for row in find_hem_rows(subject.build):
        yield Question(place=row.side.place, what=row.tell(subject.build), answer=_mend_row(subject, row))


def _mend_row(subject: Subject, row: HemRow) -> str:
    turned = subject.length(row.turned_mm)
    if row.lining:
        ends, longer = map(subject.length, (row.ends_mm, row.ends_mm - row.first_mm))
        answer = f'make "{row.lining}" longer by more than {longer}'
        if row.ends_mm < row.turned_mm:
            answer += f", or give the seam a stitch of its own with an inset between {ends} and {turned} from the fold"
        return answer
    there = subject.length(row.turned_mm - row.first_mm)
    return (
        f"an inset counts from the fold here: {there} lies as far in from the turned edge; where it is right as it is, "
        "name the glue that holds the rest in tools"
    )


@question
def ask_two_hems(subject: Subject) -> Iterator[Question]:
    """Edges of a piece with two hems; asked at the second."""
    for own in subject.spec.pieces:
        seen: dict[str, Place] = {}
        for item in own.hems:
            for edge in item.edges.value.split() if item.edges else ():
                if edge in seen:
                    what = f'the {edge} of "{own.name}" has a hem already (line {seen[edge].line}), and this is another'
                    answer = "look at its edge; where it is turned twice, double = true says so"
                    yield Question(place=item.edges.place if item.edges else item.place, what=what, answer=answer)
                seen.setdefault(edge, item.place)


@question
def ask_short(subject: Subject) -> Iterator[Question]:
    """Seams up to the fold of a hem that a later step turns over, though the edge goes on beyond it."""
    seen: set[tuple[str, Place]] = set()
    events, turning = subject.build.assembly.events, dict(subject.build.assembly.turning)
    seams = by_name(subject.build.seams)
    for once in subject.build.assembly.sewn if turning else ():
        step, seam = events[once.event].step, seams[once.seam]
        for side in (side for side in seam.sides if side.edges and (seam.name, side.place) not in seen):
            piece = subject.parts.pieces.get(side.part)
            if piece is None or turning.get(side.part, -1) <= step or side.is_unturned:
                continue
            seen.add((seam.name, side.place))
            yield from _ask_side(subject, seam, side, piece, step)


def _ask_side(subject: Subject, seam: Seam, side: SeamSide, piece: Piece, step: int) -> Iterator[Question]:
    hemmed = piece.hemmed
    beside_mm = max((hem.depth_mm for hem in piece.hems), default=0.0)
    if side.ends or {*side.edges} & hemmed or "all" in hemmed or not _is_beside(piece, side):
        return
    turned = dict(subject.build.assembly.turning)[piece.name]
    what = (
        f'step {step + 1} sews "{seam.name}" up to the fold of the hem of "{piece.name}", which only step {turned + 1} '
        f"turns over: {subject.length(beside_mm)} of its edge stay open above it"
    )
    answer = (
        "turn the hem in an earlier step, or hem what it is sewn to as far; it is right as it is where it ends there"
    )
    yield Question(place=side.place, what=what, answer=answer)


def _is_beside(piece: Piece, side: SeamSide) -> bool:
    """Whether the edges of a side go on into what a hem turns over."""
    cut, kept = ({one.name: path_length(one.path) for one in way.edges} for way in (piece.outline, piece.sewn_outline))
    return any(cut[name] - kept[name] > SHORT_MM for name in side.edges if name in cut and name in kept)
