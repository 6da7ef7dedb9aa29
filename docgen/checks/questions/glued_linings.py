"""Linings that are glued into a wall which closes on itself, in no seam: too short to go round, and too wide to lie beside
the row that is sewn before."""

from collections.abc import Iterator
from math import pi
from typing import Final

from docgen.checks.questions.question import Question, question
from docgen.checks.trade import Subject
from docgen.geometry.outline import outline_box
from docgen.problems import Place, line_words
from docgen.resolve import Join, Piece, Seam

GAP_MM: Final = 10.0  # by less the ends of a lining are pulled to each other: our choice
EDGES: Final = ("left", "right")


@question
def ask_glued_linings(subject: Subject) -> Iterator[Question]:
    """Strips that line the only strip of a ring, and that no seam or join has."""
    joined = {name for join in subject.build.joins for name in join.pieces} | subject.sewn.keys()
    rings = {join.pieces[0]: join for join in subject.build.joins if join.is_ring and len({*join.pieces}) == 1}
    for lining in subject.build.pieces if rings else ():
        walls = [name for name in lining.lines if name in rings]
        if len(walls) == 1 and lining.shape == "strip" and lining.name not in joined:
            join, wall = rings[walls[0]], subject.parts.pieces[walls[0]]
            yield from _ask_round(subject, lining, join, wall)
            yield from _ask_wide(subject, lining, join, wall)


def _ask_round(subject: Subject, lining: Piece, join: Join, wall: Piece) -> Iterator[Question]:
    long_mm = outline_box(lining.outline).height
    round_mm = join.length_mm - pi * subject.parts.full_mm(wall)
    if round_mm - long_mm > GAP_MM:
        told = subject.length(long_mm), subject.length(round_mm)
        line = line_words(_round_place(subject, join).line)
        what = f'"{lining.name}" is {told[0]} long, and inside "{join.name}"{line}, '
        what += f"which it lines, there are {told[1]} to go round"
        answer = "look at both figures; where its ends are not to meet there is nothing to do"
        yield Question(place=subject.size_place(lining, is_across=False), what=what, answer=answer)


def _round_place(subject: Subject, join: Join) -> Place:
    """Where the diameter is written that a ring goes round; else the join."""
    names = {name for seam in subject.build.seams if join.name in seam.parts for name in seam.parts}
    diameters = [own.diameter for own in subject.spec.pieces if own.name in names and own.diameter]
    return diameters[0].place if diameters else join.place


def _ask_wide(subject: Subject, lining: Piece, join: Join, wall: Piece) -> Iterator[Question]:
    """One that comes in hand once the wall is sewn to what closes it, and reaches over that row."""
    wide_mm = outline_box(lining.outline).width
    rows = [
        (seam, seam.stitch) for seam in subject.build.seams if _closes(seam, join) and _is_before(subject, seam, lining)
    ]
    room_mm = outline_box(wall.sewn_outline).width - sum(subject.inset_mm(stitch) for _, stitch in rows)
    if rows and wide_mm > room_mm:
        wide, room = subject.length(wide_mm), subject.length(room_mm)
        row, _ = rows[0]
        what = f'"{lining.name}" is {wide} wide, and beside the row of "{row.name}"{line_words(row.place.line)}, '
        what += f'which is sewn before, "{wall.name}" has {room}'
        answer = "look at its width; where it is trimmed to go in there is nothing to do"
        yield Question(place=subject.size_place(lining, is_across=True), what=what, answer=answer)


def _closes(seam: Seam, join: Join) -> bool:
    """Whether a seam sews a ring by one of its two edges to the edges of another part."""
    own = any(side.part == join.name and len(side.edges) == 1 and side.edges[0] in EDGES for side in seam.sides)
    return own and any(side.part != join.name and side.edges for side in seam.sides)


def _is_before(subject: Subject, seam: Seam, lining: Piece) -> bool:
    """Whether a step sews a seam, and a later one has a lining in hand first."""
    steps = subject.build.steps
    sewn = next((at for at, step in enumerate(steps) if seam.name in step.seams), len(steps))
    laid = next((at for at, step in enumerate(steps) if lining.name in step.pieces), -1)
    return sewn < laid
