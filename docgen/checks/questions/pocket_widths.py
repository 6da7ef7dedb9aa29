"""Flat things that no pocket of a cover takes: between the rows beside a pocket there is less than they are wide."""

from collections.abc import Iterator
from itertools import pairwise
from typing import Final

from docgen.checks.called import is_called
from docgen.checks.questions.open_sides import HELD, MOST, POCKETS, held_sides, rows_through
from docgen.checks.questions.question import Question, question
from docgen.checks.trade import Subject
from docgen.classes import dataclass
from docgen.geometry.path import flatten, path_box
from docgen.geometry.shapes import Path
from docgen.resolve import Held, Landing, Piece

FLAT_MM: Final = 6.0  # thicker things are no cards, and a pocket for them is made otherwise: our choice
STOUT: Final = 2.0  # nor are those so many times as long as wide
SLACK_MM: Final = 0.5
BENT_MM: Final = 1.0  # a row that goes aside by more is none along a side


@dataclass(frozen=True, slots=True, kw_only=True)
class Pocket:
    """How wide a pocket is between the rows at its sides, and how deep above its foot."""

    piece: Piece
    clear_mm: float
    deep_mm: float

    def takes(self, thing: Held) -> bool:
        """Whether a flat thing goes in as it is written, or turned and whole: the leather goes round it."""
        wide_mm, high_mm, thick_mm = thing.size_mm
        room_mm = self.clear_mm + SLACK_MM
        return wide_mm + thick_mm <= room_mm or (high_mm + thick_mm <= room_mm and wide_mm <= self.deep_mm)


@question
def ask_pocket_widths(subject: Subject) -> Iterator[Question]:
    """Cards and the like, in a cover that bends over: not where rows beside some pocket cannot be told."""
    things = [one for one in subject.build.holds if one.fits and _is_flat(one)]
    pockets = [*_pockets(subject)] if things else []
    if not pockets or None in pockets:
        return
    widest = max((one for one in pockets if one), key=lambda one: one.clear_mm)
    written = {spec.place: spec.size[0].place for spec in subject.spec.holds if spec.size}
    for thing in things:
        if thing.place in written and not any(one and one.takes(thing) for one in pockets):
            wide, thick, clear = map(subject.length, (thing.size_mm[0], thing.size_mm[2], widest.clear_mm))
            line = subject.size_place(widest.piece, is_across=True).line
            what = (
                f"{thing.what} is {wide} wide and {thick} thick, and between the rows at the sides of "
                f'"{widest.piece.name}" (line {line}), the widest pocket, there are {clear}'
            )
            answer = "make the pocket wider by what lacks, or look at both figures; where it goes elsewhere there is "
            yield Question(place=written[thing.place], what=what, answer=f"{answer}nothing to do")


def _is_flat(thing: Held) -> bool:
    wide_mm, high_mm, thick_mm = thing.size_mm
    short_mm, long_mm = sorted((wide_mm, high_mm))
    return thick_mm <= FLAT_MM and thick_mm < short_mm and long_mm < STOUT * short_mm


def _pockets(subject: Subject) -> Iterator[Pocket | None]:
    """The pockets that land on a cover or on what is sewn to it along its edges; None for one of which it cannot be told
    how wide it is."""
    covers = {piece.name for piece in subject.build.pieces if piece.own_folds and piece.bends_over}
    for seam in subject.build.seams:
        by_edge = {side.part for side in seam.sides if side.edges}
        covers |= by_edge if by_edge & covers else set()
    landed = [(base, one) for base in subject.build.pieces if base.name in covers for one in base.marks.landings]
    for base, landing in landed if len(landed) <= MOST else ():
        piece = subject.parts.pieces.get(landing.piece)
        if piece is not None and not landing.is_over and not piece.own_folds and is_called(piece, POCKETS):
            yield _pocket(subject, base, piece, landing)


def _pocket(subject: Subject, base: Piece, piece: Piece, landing: Landing) -> Pocket | None:
    insets: dict[str, float] = {}
    for row in rows_through(subject, base):
        held = held_sides([row], landing)
        for side, share in held.items():
            if share >= HELD:
                insets[side] = max(insets.get(side, 0.0), _inset_mm(row, landing, side))
    box = path_box(landing.outline)
    if piece.dividers or not {"left", "right", "bottom"} <= insets.keys():
        return None
    clear_mm = box.width - insets["left"] - insets["right"]
    return Pocket(piece=piece, clear_mm=clear_mm, deep_mm=box.height - insets["bottom"])


def _inset_mm(row: Path, landing: Landing, side: str) -> float:
    """How far inside a side of what lands the stretch of a row lies that runs along that."""
    box = path_box(landing.outline)
    spots = flatten(row)
    level = box.level(side)
    is_upright = side in ("left", "right")
    return min(
        abs((one.x if is_upright else one.y) - level)
        for one, other in pairwise(spots)
        if abs(one.x - other.x if is_upright else one.y - other.y) < BENT_MM
    )
