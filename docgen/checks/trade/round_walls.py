"""Check of what hangs on a wall that closes on itself: its rings lie in one line, or across from each other."""

from collections.abc import Iterator

from docgen.checks.trade.check import Found, Subject, check
from docgen.geometry.outline import outline_box
from docgen.resolve import Hole, Join, Piece
from docgen.written.units.telling import format_mm

NEAR_MM = 5.0  # what leather gives round a wall: our choice
PAIR = 2


@check(
    "rings-not-opposite",
    "Two tabs with rings on a wall that closes on itself lie in one line, or across from each other, within "
    f"{format_mm(NEAR_MM)}.",
    "plane geometry; asked, since a ring may be meant to lie aside",
    needs_whole=True,
)
def find_rings_aside(subject: Subject) -> Iterator[Found]:
    """Joins of one strip that are a ring, with two holes that wait for the two copies of a tab."""
    for join in subject.build.joins:
        if not join.is_ring or len(join.pieces) != 1:
            continue
        wall = subject.parts.pieces[join.pieces[0]]
        holes = [hole for hole in wall.marks.holes if not hole.long_mm]
        if len(holes) == PAIR and any(_hangs(subject, tab, join, wall) for tab in subject.build.pieces):
            yield from _tell(subject, join, wall, holes)


def _hangs(subject: Subject, tab: Piece, join: Join, wall: Piece) -> bool:
    """Whether two copies of a piece with a fitting in its fold are set to the wall."""
    through = {name for hole in tab.marks.holes if hole.takes for name in hole.through}
    return tab.cut == PAIR and any(fold.around for fold in tab.marks.folds) and bool(through & {join.name, wall.name})


def _tell(subject: Subject, join: Join, wall: Piece, holes: list[Hole]) -> Iterator[Found]:
    round_mm = outline_box(wall.outline).height - join.overlap_mm
    apart_mm = abs(holes[0].at.y - holes[1].at.y)
    apart_mm = min(apart_mm, round_mm - apart_mm)
    off_mm = min(apart_mm, round_mm / 2 - apart_mm)
    if off_mm > NEAR_MM:
        what = (
            f'the two rings on "{wall.name}" lie {subject.length(apart_mm)} from each other round it, and half of that way '
            f"is {subject.length(round_mm / 2)} (line {holes[0].place.line} and line {holes[1].place.line})"
        )
        yield holes[1].place, what, "measure both again from one end, or accept it where it is meant", wall.name
