"""Ends of straps that are turned round the same fitting, and lie back unlike: both of one strap, or those of a left and a
right one; holes at both ends of a strap of which one lies elsewhere; and the one turned end that is not skived."""

from collections.abc import Iterator
from itertools import combinations
from typing import Final

from docgen.checks.questions.places import SIDE_RE
from docgen.checks.questions.question import Question, question
from docgen.checks.trade import Subject
from docgen.problems import Place, line_words
from docgen.read import StrapSpec
from docgen.resolve import Strap, StrapEnd

UNLIKE: Final = 1.4  # so many times as far one end lies back, or a hole lies from it: our choice
UNLIKE_MM: Final = 5.0  # by less nothing is asked: our choice
LEAST_OTHERS: Final = 2  # so many other ends that are skived tell that one was forgotten: our choice
THICK_MM: Final = 1.5  # thinner leather is turned as it is
Ends = tuple[StrapEnd, StrapEnd]
MEANT: Final = "look at both figures; where they are meant to be unlike there is nothing to do"


@question
def ask_unlike_ends(subject: Subject) -> Iterator[Question]:
    """Ends alike in all but how far they lie back, and their holes."""
    owns = [(own, subject.parts.straps[own.name]) for own in subject.spec.straps if own.name in subject.parts.straps]
    for own, strap in owns:
        yield from _ask_holes(subject, own, strap)
        yield from _ask_bent(subject, own, strap)
        if told := _tell(subject, strap.ends, (_back(own, 0), _back(own, 1))):
            what = f'both ends of "{own.name}" are turned round "{strap.ends[0].around}", and {told}'
            yield Question(place=_back(own, 1), what=what, answer=MEANT)
    for (own, strap), (other, twin) in combinations(owns, 2):
        if SIDE_RE.sub("", own.name) == SIDE_RE.sub("", other.name) and strap.width_mm == twin.width_mm:
            for which in (0, 1):
                places = _back(own, which), _back(other, which)
                if told := _tell(subject, (strap.ends[which], twin.ends[which]), places):
                    what = f'the {("first", "second")[which]} ends of "{own.name}" and "{other.name}" are turned round one '
                    what += f"fitting, and {told}"
                    yield Question(place=places[1], what=what, answer=MEANT)


@question
def ask_unskived_ends(subject: Subject) -> Iterator[Question]:
    """The one turned end of thick leather that is not skived, where all the others of that leather are."""
    owns = [(own, subject.parts.straps[own.name]) for own in subject.spec.straps if own.name in subject.parts.straps]
    turned = [(own, strap, end) for own, strap in owns for end in strap.ends if end.shape == "turned" and end.around]
    bare = [(own, strap, end) for own, strap, end in turned if end.skive is None]
    for own, strap, end in bare:
        others = [(it, thin) for it, like, thin in turned if like.material == strap.material and thin is not end]
        skived = [it for it, thin in others if thin.skive]
        if strap.lining or len(others) < LEAST_OTHERS or len(skived) < len(others):
            continue
        if strap.thickness_mm >= THICK_MM:
            thick = subject.length(strap.thickness_mm)
            like = f'"{skived[0].name}" (line {skived[0].place.line})'
            what = (
                f'an end of "{own.name}" is turned back at its full {thick}, and all other ends of "{strap.material}" '
            )
            what += f"that are turned are skived, as those of {like}"
            answer = (
                "add skive = { over = ..., to = ... } to that end; where it is to stay thick there is nothing to do"
            )
            yield Question(place=end.place if end.place.line else own.place, what=what, answer=answer)


def _tell(subject: Subject, ends: Ends, places: tuple[Place, Place]) -> str:
    """How far both lie back, or are skived, where they go round one fitting alone, held in one way, and one far longer."""
    one, other = ends
    if not (one.around and one.rings == other.rings and one.shape == other.shape == "turned"):
        return ""
    ways = [(end.takes, end.number, end.sewn, end.keeper, end.loop_mm, bool(end.slot_long_mm)) for end in ends]
    skives = (one.skive.over_mm, other.skive.over_mm) if one.skive and other.skive else (0.0, 0.0)
    for word, longs in (("lie back", (one.back_mm, other.back_mm)), ("are skived over", skives)):
        low, high = sorted(longs)
        if ways[0] == ways[1] and high >= UNLIKE * low > 0 and high - low >= UNLIKE_MM:
            return f"{word} {subject.length(longs[0])}{line_words(places[0].line)} and {subject.length(longs[1])}"
    return ""


def _ask_holes(subject: Subject, own: StrapSpec, strap: Strap) -> Iterator[Question]:
    """Ends of one shape that lie back alike, with as many holes in that, of which one alone lies elsewhere."""
    one, other = strap.ends
    if one.shape != other.shape or one.back_mm != other.back_mm or not own.punches:
        return
    long_mm, middle_mm = strap.cut_length_mm, strap.cut_length_mm / 2
    within_mm = one.back_mm + UNLIKE_MM if one.shape == "turned" else middle_mm
    holes = [
        hole
        for hole in strap.piece.marks.holes[strap.row_holes :]
        if min(hole.at.y, long_mm - hole.at.y) <= within_mm and not hole.long_mm
    ]
    low = sorted((hole.at.y, hole.place.line or 0) for hole in holes if hole.at.y < middle_mm)
    high = sorted((long_mm - hole.at.y, hole.place.line or 0) for hole in holes if hole.at.y >= middle_mm)
    if len(low) != len(high) or {hole.diameter_mm for hole in holes} != {holes[0].diameter_mm if holes else 0.0}:
        return
    odd = [(a, b) for a, b in zip(low, high, strict=True) if abs(a[0] - b[0]) >= UNLIKE_MM]
    if len(odd) == 1:
        (first_mm, first), (second_mm, line) = odd[0]
        first_words, second_words = subject.length(first_mm), subject.length(second_mm)
        what = f'of the holes at both ends of "{own.name}" one lies {first_words} from its end{line_words(first)}, and its '
        what += f"like {second_words}"
        place = next((item.at.place for item in own.punches if item.at and item.at.place.line == line), own.place)
        yield Question(place=place, what=what, answer=MEANT)


def _ask_bent(subject: Subject, own: StrapSpec, strap: Strap) -> Iterator[Question]:
    """Holes by which an end is closed of which one lies where it begins to bend round its fitting, no slot for a tongue."""
    written = {item.at.place for item in own.punches if item.at}
    for which, end in enumerate(strap.ends):
        for hole in (
            strap.piece.marks.holes[strap.row_holes :] if end.shape == "turned" and end.around and end.takes else ()
        ):
            off_mm = strap.cut_length_mm - hole.at.y if which else hole.at.y
            half_mm = hole.diameter_mm / 2
            is_bent = end.back_mm - half_mm < off_mm < end.meets_mm + half_mm
            is_bent &= bool(end.slot_long_mm) or abs(off_mm - end.fold_mm) > half_mm  # there a tongue goes through
            if hole.place in written and is_bent and not hole.long_mm:
                off, back = map(subject.length, (off_mm, end.back_mm))
                what = f'a hole of "{own.name}" lies {off} from its end, which lies back over {back}'
                what += f'{line_words(end.place.line)}: there it bends round "{end.around}"'
                answer = "look at the figure; where it is to lie in the bend there is nothing to do"
                yield Question(place=hole.place, what=what, answer=answer)


def _back(own: StrapSpec, which: int) -> Place:
    end = own.ends[which] if which < len(own.ends) else None
    return end.back.place if end and end.back else own.place
