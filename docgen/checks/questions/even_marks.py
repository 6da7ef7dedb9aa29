"""Marks that have their like across the middle of a piece, but for one: holes of one kind, and folds beside its edges."""

from collections.abc import Iterator, Sequence
from typing import Final

from docgen.checks.questions.question import Question, question
from docgen.checks.trade import Subject
from docgen.geometry.outline import outline_box
from docgen.geometry.shapes import Box, Point
from docgen.read import PieceSpec
from docgen.resolve import Fold, Hole, Piece
from docgen.tables.sewing import SAME_PUNCH_MM

LEAST_HOLES: Final = 6  # so many holes of one kind have an order that one more or less breaks: our choice
MOST: Final = 80  # of more nothing is asked: a stranger's file
SAME_MM: Final = 0.6
UNLIKE_MM: Final = 5.0  # by so much ends that are meant to be alike do not differ: our choice
END_SHARE: Final = 0.25  # of a strip, from either end: our choice
PLATE: Final = 1.5  # so many times as long as wide it has two ends: our choice
SIDES: Final = 4
SIDES_OF: Final = (("left", "right"), ("bottom", "top"))


@question
def ask_even_marks(subject: Subject) -> Iterator[Question]:
    """Holes and folds of a piece that have their like across its middle, but for one."""
    for piece in subject.build.pieces:
        own = subject.specs.get(piece.name)
        if own is not None and len(own.holes) <= MOST and not piece.is_pair:
            yield from _ask_holes(subject, piece, own)
            yield from _ask_two(subject, piece)
            yield from _ask_plate(subject, piece)
            if piece.shape == "rectangle" and len(piece.marks.folds) == len(own.folds) == SIDES - 1:
                yield from _ask_folds(subject, piece)


def _ask_holes(subject: Subject, piece: Piece, own: PieceSpec) -> Iterator[Question]:
    """The one hole of its kind without its like, or the one of two that has none either way."""
    written = {item.at.place for item in own.holes if item.at}
    kinds: dict[tuple[str, float], list[Hole]] = {}
    for hole in piece.marks.holes if len(own.holes) >= LEAST_HOLES - 1 else ():
        kinds.setdefault((hole.takes, hole.diameter_mm), []).append(hole)
    box = outline_box(piece.outline)
    for holes in kinds.values():
        if len(holes) < LEAST_HOLES - 1 or not {hole.place for hole in holes} <= written:
            continue
        odd = [_without_like([hole.at for hole in holes], box, axis) for axis in (0, 1)]
        alone = [at for at in odd if len(at) == 1]
        both = [at for at in odd[0] if at in odd[1]] if all(len(at) == 2 for at in odd) else []
        at = alone[0][0] if alone else both[0] if len(both) == 1 else None
        found = next((hole for hole in holes if hole.at == at), None)
        if found is not None:
            many = len(holes) - (1 if alone else 2)
            what = f'{many} holes of "{piece.name}" have their like across its middle, and the one '
            what += f"{subject.length(found.at.x - box.left)} from its left, {subject.length(found.at.y - box.bottom)} "
            answer = (
                "look whether one is missing, or has another figure; where it is meant alone there is nothing to do"
            )
            yield Question(place=found.place, what=f"{what}from its bottom has none", answer=answer)


def _ask_two(subject: Subject, piece: Piece) -> Iterator[Question]:
    """The only two holes of a piece, which take nothing, lie alike across its middle and are not of one size."""
    holes = piece.marks.holes
    if len(holes) != 2 or any(hole.takes or hole.long_mm for hole in holes):
        return
    one, other = holes
    box = outline_box(piece.outline)
    yield from _ask_ends(subject, piece, box)
    is_like = _is_across(one.at, other.at, 0, box.left + box.right) or _is_across(
        one.at, other.at, 1, box.bottom + box.top
    )
    if is_like and abs(one.diameter_mm - other.diameter_mm) > SAME_PUNCH_MM:
        sizes = " and ".join(subject.length(hole.diameter_mm) for hole in holes)
        what = f'the two holes of "{piece.name}", which lie alike across its middle, are of {sizes}'
        what += f" (line {other.place.line})"
        answer = "look at punch of both; where they are meant to be unlike there is nothing to do"
        yield Question(place=one.place, what=what, answer=answer)


def _ask_ends(subject: Subject, piece: Piece, box: Box) -> Iterator[Question]:
    """The two holes of a strip, amid its width and one near either end, that lie unlike far from these."""
    low, high = sorted(piece.marks.holes, key=lambda hole: hole.at.y)
    is_amid = all(abs(2 * hole.at.x - box.left - box.right) < SAME_MM for hole in (low, high))
    off_mm = (low.at.y - box.bottom, box.top - high.at.y)
    is_near = piece.shape == "strip" and is_amid and max(off_mm) < END_SHARE * box.height
    if is_near and abs(low.diameter_mm - high.diameter_mm) <= SAME_PUNCH_MM and abs(off_mm[0] - off_mm[1]) > UNLIKE_MM:
        first, second = map(subject.length, off_mm)
        what = f'the two holes of "{piece.name}" lie {first} from one end and {second} from the other (line '
        what += f"{low.place.line})"
        answer = "look at both figures; where what it carries is to hang aslant there is nothing to do"
        yield Question(place=high.place, what=what, answer=answer)


def _ask_plate(subject: Subject, piece: Piece) -> Iterator[Question]:
    """The two holes of a longish rectangle, for the same, amid its width in either half, unlike far from its ends."""
    box = outline_box(piece.outline)
    holes = sorted(piece.marks.holes, key=lambda hole: hole.at.y)
    if len(holes) != 2 or piece.shape != "rectangle" or box.height < PLATE * box.width or piece.own_folds:
        return
    low, high = holes
    is_amid = all(abs(2 * hole.at.x - box.left - box.right) < SAME_MM for hole in holes)
    is_alike = low.takes == high.takes != "" and len(low.through) == len(high.through)
    off_mm = (low.at.y - box.bottom, box.top - high.at.y)
    if is_amid and is_alike and max(off_mm) < box.height / 2 and abs(off_mm[0] - off_mm[1]) > UNLIKE_MM:
        first, second = map(subject.length, off_mm)
        what = (
            f'the two holes of "{piece.name}" for "{low.takes}" lie {first} from its bottom and {second} from its top'
        )
        what += f" (line {low.place.line})"
        answer = "look at both figures; where they are meant to be unlike there is nothing to do"
        yield Question(place=high.place, what=what, answer=answer)


def _without_like(spots: Sequence[Point], box: Box, axis: int) -> list[Point]:
    """The spots that have no other across the middle of a box, nor lie on that."""
    twice_mm = box.left + box.right if axis == 0 else box.bottom + box.top
    return [at for at in spots if not any(_is_across(at, other, axis, twice_mm) for other in spots)]


def _is_across(at: Point, other: Point, axis: int, twice_mm: float) -> bool:
    return abs(twice_mm - at[axis] - other[axis]) < SAME_MM and abs(at[1 - axis] - other[1 - axis]) < SAME_MM


def _ask_folds(subject: Subject, piece: Piece) -> Iterator[Question]:
    """Two folds as far from both edges across from each other, and a third as far from another edge, alone: of a
    rectangle, whose corners pinch where folds cross; an end that is cut out for three flanges is usual."""
    box = outline_box(piece.outline)
    most_mm = min(box.width, box.height) / 2
    from_side = [
        (side, mm, fold)
        for fold in piece.marks.folds
        if fold.is_open
        for side, mm in _off(fold, box)
        if mm < most_mm - SAME_MM
    ]
    for low, high in SIDES_OF:
        other = next(pair for pair in SIDES_OF if pair != (low, high))
        for near_mm in {round(mm, 1) for side, mm, _ in from_side if side == low}:
            alike = [(side, fold) for side, mm, fold in from_side if abs(mm - near_mm) < SAME_MM]
            sides = [side for side, _ in alike]
            lone = [(side, fold) for side, fold in alike if side in other]
            if {low, high} <= {*sides} and len(lone) == 1 and len(alike) == SIDES - 1:
                side, fold = lone[0]
                far = next(name for name in other if name != side)
                away = subject.length(near_mm)
                what = (
                    f'"{piece.name}" is folded {away} from its {low}, its {high} and its {side}, and not from its {far}'
                )
                answer = "look whether a fold is missing; where that side stays flat there is nothing to do"
                yield Question(place=fold.place, what=what, answer=answer)


def _off(fold: Fold, box: Box) -> Iterator[tuple[str, float]]:
    """The sides along which a fold runs, and how far from each."""
    for axis, sides in enumerate(SIDES_OF):
        if abs(fold.start[axis] - fold.end[axis]) < SAME_MM:
            for side in sides:
                yield side, abs(fold.start[axis] - box.level(side))
