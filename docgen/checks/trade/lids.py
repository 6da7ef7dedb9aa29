"""Checks of loose lids, folded up of one piece as their boxes are: whether each goes over its own."""

from collections.abc import Iterator

from docgen.checks.trade.check import PRACTICE, Found, Subject, check
from docgen.resolve import Piece
from docgen.written.units.telling import format_mm

LEVEL_MM = 0.5
FOLDS_EACH_WAY = 2


def folded_box_mm(piece: Piece) -> tuple[float, float] | None:
    """How far apart the folds of a piece are that is folded up on four sides, across and up; None of any other. mm."""
    open_folds = [fold for fold in piece.marks.folds if fold.is_open and not fold.of_hem]
    across = [fold.start.x for fold in open_folds if abs(fold.start.x - fold.end.x) < LEVEL_MM]
    up = [fold.start.y for fold in open_folds if abs(fold.start.y - fold.end.y) < LEVEL_MM]
    if len(across) != FOLDS_EACH_WAY or len(up) != FOLDS_EACH_WAY or len(open_folds) != 2 * FOLDS_EACH_WAY:
        return None
    return max(across) - min(across), max(up) - min(up)


def _thick_mm(subject: Subject, piece: Piece) -> float:
    return next(one.thickness_mm for one in subject.build.materials if one.name == piece.material)


@check("lid-does-not-fit", "A loose lid is {lid_room} larger inside than its box outside.", PRACTICE, needs_whole=True)
def find_tight_lids(subject: Subject) -> Iterator[Found]:
    """Once for each lid, at what is farthest off: folds bend in the middle of the leather, so that walls stand half of it
    inside of them and half of it outside."""
    least_mm, most_mm = subject.build.limits.lid_room_mm
    for lid in subject.build.pieces:
        box = subject.parts.pieces.get(lid.lid_of)
        own, its = folded_box_mm(lid), folded_box_mm(box) if box else None
        if box is None or own is None or its is None:
            continue
        inside, outside = (
            [mm + hand * _thick_mm(subject, part) for mm in sorted(folds)]
            for part, folds, hand in ((lid, own, -1), (box, its, 1))
        )
        pairs = [(a - b, a, b) for a, b in zip(inside, outside, strict=True)]
        tight, loose = min(pairs), max(pairs)
        room_mm, in_mm, out_mm = tight if tight[0] < least_mm else loose
        if room_mm < least_mm or (most_mm is not None and room_mm > most_mm):
            told = "does not go over it" if room_mm < least_mm else f"sits loose by {subject.length(room_mm)}"
            what = (
                f'the lid "{lid.name}" is {subject.length(in_mm)} inside, and its box "{box.name}" '
                f"{subject.length(out_mm)} outside: it {told}"
            )
            room = f"{format_mm(least_mm)}{f' to {format_mm(most_mm)}' if most_mm is not None else ''}"
            yield (
                lid.place,
                what,
                f"make it {room} larger inside than the box, by its folds or by those of that",
                lid.name,
            )
