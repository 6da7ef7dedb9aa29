"""Rings that straps hook on to or turn round, where they all lie near the foot of what is made: it would hang upside
down."""

from collections.abc import Iterator
from typing import Final

from docgen.checks.questions.question import Question, question
from docgen.checks.trade import Subject

LOW: Final = 0.5  # of the height: what hangs from there or lower turns over; our choice
STANDS: Final = ("standing", "on its floor")


@question
def ask_hung(subject: Subject) -> Iterator[Question]:
    """Once for a build: the first piece that holds a ring, where all rings lie so low, and a strap goes to rings or has
    hooks, but for one that buckles with a strap which is held higher up, as those of a backpack do."""
    space = subject.build.space
    rings = {item.name for item in subject.build.hardware if item.kind == "ring"}
    hooks = {name for strap in subject.build.straps for end in strap.ends for name in end.rings}
    held = [one for one in space.metal if one.hardware in rings and one.part.part in subject.parts.pieces]
    if space.kind not in STANDS or not (held and hooks):
        return
    heights = [
        corner[2]
        for placed in space.parts
        if placed.copy.part not in subject.parts.straps
        for face in placed.faces
        for corner in face.corners
    ]
    foot_mm, top_mm = min(heights), max(heights)
    highest = max(held, key=lambda one: one.at[2])
    up_mm, high_mm = highest.at[2] - foot_mm, top_mm - foot_mm
    if up_mm <= LOW * high_mm and not _hangs_higher(subject, foot_mm + LOW * high_mm):
        piece = subject.parts.pieces[highest.part.part]
        fold = next((fold for fold in piece.marks.folds if fold.around == highest.hardware), None)
        up, high = map(subject.length, (up_mm, high_mm))
        what = (
            f'the ring that "{piece.name}" holds hangs {up} above the foot of what is {high} high: it would turn over'
        )
        answer = "look by which end its parts are joined and sewn; where it is to hang so there is nothing to do"
        yield Question(place=fold.place if fold else piece.place, what=what, answer=answer)


def _hangs_higher(subject: Subject, over_mm: float) -> bool:
    """Whether a strap that buckles with one which goes to rings is held higher than that."""
    straps = subject.build.straps
    low = {strap.name for strap in straps if any(end.rings for end in strap.ends)}
    others = {strap.name for strap in straps if strap.partner in low}
    others |= {strap.partner for strap in straps if strap.name in low}
    return any(
        one.surface.point(one.anchor)[2] > over_mm
        for one in subject.build.space.parts
        if one.copy.part in others and one.host is not None and one.host.part not in subject.parts.straps
    )
