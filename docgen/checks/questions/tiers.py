"""Pockets on one part that do not lie as their like: tiers at one corner of unlike width, and a left and a right one that
lie over each other."""

from collections.abc import Iterator
from itertools import combinations
from typing import Final

from docgen.checks.questions.places import is_on
from docgen.checks.questions.question import Question, question
from docgen.checks.trade import Subject
from docgen.geometry.outline import outline_box
from docgen.geometry.path import path_box
from docgen.geometry.shapes import Box
from docgen.problems import line_words
from docgen.resolve import Landing, Piece

UNLIKE: Final = 1.25  # so many times as wide as the tier before it: our choice
OVER: Final = 0.1  # of its width: by less a left and a right part may lie over each other: our choice
MOST: Final = 30  # of more landings nothing is asked: a stranger's file

Laid = tuple[Landing, Piece, Box]


@question
def ask_tiers(subject: Subject) -> Iterator[Question]:
    """Rectangles of one leather that land on each other, both in one lower corner of a part or both in its middle."""
    for base in subject.build.pieces:
        found = _laid(subject, base)
        around = outline_box(base.outline)
        for one, other in combinations(found, 2):
            yield from _ask_widths(subject, base, around, one, other)
            yield from _ask_over(subject, base, one, other)


def _laid(subject: Subject, base: Piece) -> list[Laid]:
    laid = [(it, subject.parts.pieces.get(it.piece), path_box(it.outline)) for it in base.marks.landings[: MOST + 1]]
    rectangles = [(it, piece, box) for it, piece, box in laid if piece and piece.shape == "rectangle"]
    names = [it.piece for it, _, _ in rectangles]
    return [one for one in rectangles if names.count(one[1].name) == 1] if len(laid) <= MOST else []


def _ask_widths(subject: Subject, base: Piece, around: Box, one: Laid, other: Laid) -> Iterator[Question]:
    """Two in one lower corner, the lower of which would be seen before the upper one, and one far wider."""
    (_, first, box), (_, second, its) = one, other
    is_tier = (
        first.material == second.material and first.sewn_outline != second.sewn_outline and box.height != its.height
    )
    corner = next((s for s in ("left", "right") if all(is_on(it, around, s) for it in (box, its))), "")
    if not is_tier or not corner or not all(is_on(it, around, "bottom") for it in (box, its)):
        return
    narrow, wide = sorted(((box, first), (its, second)), key=lambda it: it[0].width)
    if wide[0].width >= UNLIKE * narrow[0].width and all(
        it[0].width < UNLIKE_BASE * around.width for it in (narrow, wide)
    ):
        told = [subject.length(it[0].width) for it in (narrow, wide)]
        place = subject.size_place(narrow[1], is_across=True)
        line = subject.size_place(wide[1], is_across=True).line
        what = f'"{narrow[1].name}" is {told[0]} wide, and "{wide[1].name}"{line_words(line)}, at the same corner of '
        what += f'"{base.name}", {told[1]}'
        yield Question(place=place, what=what, answer=LOOK)


def _ask_over(subject: Subject, base: Piece, one: Laid, other: Laid) -> Iterator[Question]:
    """A piece and its mirrored like on either half of a part, that reach over each other."""
    (_, first, box), (_, second, its) = one, other
    low, high = sorted((box, its), key=lambda it: it.left)
    over_mm = low.right - high.left
    is_twin = first.model == second.model and abs(low.width - high.width) < 1.0 and low.left < high.left - 1.0
    is_beside = is_twin and abs(low.bottom - high.bottom) < 1.0 and abs(low.top - high.top) < 1.0
    is_outward = is_on(low, outline_box(base.outline), "left") and is_on(high, outline_box(base.outline), "right")
    if is_beside and is_outward and OVER * low.width < over_mm:
        model = next((it for it in (first, second) if it.model == it.name), first)
        what = f'"{first.name}" and "{second.name}" lie over each other by {subject.length(over_mm)} on "{base.name}"'
        yield Question(place=subject.size_place(model, is_across=True), what=what, answer=LOOK)


UNLIKE_BASE: Final = 0.75  # what is wider lies across the whole part, and is no tier of a half: our choice
LOOK: Final = "look at both widths; where they are meant so there is nothing to do"
