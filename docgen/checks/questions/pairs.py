"""Two of a pair that one figure or word makes unlike: landings of one strap, or of a left and a right one, and holes of one
piece."""

import re
from collections.abc import Iterator, Sequence
from itertools import combinations
from typing import Final

from docgen.checks.questions.places import SIDE_RE
from docgen.checks.questions.question import Question, question
from docgen.checks.trade import Subject
from docgen.checks.trade.fast import BACK
from docgen.geometry.outline import ACROSS_STRIPS
from docgen.problems import Place, line_words
from docgen.read import HoleRowSpec, HoleSpec, LandingSpec, PieceSpec, Value

MOST: Final = 60  # of more nothing is asked: a stranger's file
MEANT: Final = "where they are meant to be unlike there is nothing to do"
SAID_RE: Final = re.compile(
    r"^(.*) (from (?:left|right|bottom|top|start|end)|(?:left|right) of centre|(?:above|below) middle)$"
)
SIDE_OF: Final = {
    "left": "across",
    "right": "across",
    "centre": "across",
    "top": "up",
    "bottom": "up",
    "middle": "up",
    "start": "up",
    "end": "up",
}
OVER: Final = {
    **{f"from {side}": f"from {other}" for side, other in ACROSS_STRIPS.items()},
    "left of centre": "right of centre",
    "right of centre": "left of centre",
    "above middle": "below middle",
    "below middle": "above middle",
}


@question
def ask_pairs(subject: Subject) -> Iterator[Question]:
    """Landings of a strap, and holes, that lie alike across the middle of their piece but for one figure or word."""
    rings = {name for join in subject.build.joins for name in join.pieces}
    for own in subject.spec.pieces:
        if len(own.landings) <= MOST and own.name not in rings:
            yield from _ask_landings(own)
        if len(own.hole_rows) <= MOST and not own.folds:
            for row, twin in combinations(own.hole_rows, 2):
                if _is_alike(row, twin):
                    yield from _ask_taken(subject, row, twin)
        if len(own.holes) <= MOST:
            yield from _ask_holes(subject, own)


def _ask_landings(own: PieceSpec) -> Iterator[Question]:
    """The only two landings on a piece of one strap, or of a left and a right one, mirrored but for where they lie, where
    they lead or what sews them."""
    lands: dict[str, list[LandingSpec]] = {}
    for item in own.landings:
        if item.strap and item.at:
            lands.setdefault(SIDE_RE.sub("", item.strap.value), []).append(item)
    for pair in lands.values():
        name = '" and "'.join(dict.fromkeys(_words(item.strap) for item in pair))
        if len(pair) == 2 and (axis := _mirrored(pair[0].at, pair[1].at)):
            yield from _ask_led(own, name, pair, axis)
            yield from _ask_sewn(own, name, pair)
        elif len(pair) == 2 and (odd := _nearly_mirrored(pair[0].at, pair[1].at)):
            what = f'two ends of "{name}" lie {odd[0]} and {odd[1]} on "{own.name}"{_line(pair[0].at)}'
            yield _asked(pair[1].at, what, "look at both figures")


def _ask_led(own: PieceSpec, name: str, pair: Sequence[LandingSpec], axis: str) -> Iterator[Question]:
    """One that leads away from the middle or towards it, and the other does neither; where either is written."""
    leads = [item.leads.value if item.leads else "up" for item in pair]
    sides = ("left", "right") if axis == "across" else ("up", "down")
    is_odd = (leads[0] in sides) != (leads[1] in sides) or (leads[0] in sides and BACK[leads[0]] != leads[1])
    if is_odd and any(item.leads for item in pair):
        odd = next((item for item, way in zip(pair, leads, strict=True) if way not in sides), pair[1])
        what = f'two ends of "{name}" lie mirrored on "{own.name}", and lead {leads[0]}'
        what += f"{_line(pair[0].leads or pair[0].at)} and {leads[1]}{_line(pair[1].leads or pair[1].at)}"
        place = odd.leads or odd.at
        yield _asked(place, what, "look at leads of both")


def _ask_sewn(own: PieceSpec, name: str, pair: Sequence[LandingSpec]) -> Iterator[Question]:
    """One that is sewn, and the other is not."""
    sewn = [item for item in pair if item.stitch]
    if len(sewn) == 1 and sewn[0].stitch:
        bare = next(item for item in pair if item is not sewn[0])
        what = f'one of the two ends of "{name}" that lie mirrored on "{own.name}" is sewn with '
        what += f'"{sewn[0].stitch.value}"{line_words(sewn[0].stitch.place.line)}, and this one is not'
        yield _asked(bare.at, what, "write stitch in both")


def _ask_holes(subject: Subject, own: PieceSpec) -> Iterator[Question]:
    """Two holes alike in all but one figure of their place, or in what they take or go through."""
    for one, other in combinations(own.holes, 2):
        if not (one.at and other.at and one.punch and other.punch and one.punch.value == other.punch.value):
            continue
        if _folds_between(own, one.at, other.at):
            continue  # they may lie on each other
        if _mirrored(one.at, other.at) and _words(one.long) == _words(other.long):
            yield from _ask_taken(subject, one, other)
            yield from _ask_through(own, one, other)
        elif _is_alone(own, one, other) and (odd := _nearly_mirrored(one.at, other.at)):
            what = f'the two like holes of "{own.name}" lie {odd[0]} and {odd[1]}{_line(one.at)}'
            yield _asked(other.at, what, "look at both figures")


def _is_alike(one: HoleRowSpec, other: HoleRowSpec) -> bool:
    """Whether two rows are of as many holes of one size, and lie mirrored."""
    counts = [row.count.value if row.count else 0 for row in (one, other)]
    punches = [row.punch.value if row.punch else "" for row in (one, other)]
    is_over = _mirrored(one.start, other.start) and _mirrored(one.end, other.end)
    return bool(is_over and counts[0] == counts[1] and punches[0] == punches[1])


def _ask_taken(subject: Subject, one: HoleSpec | HoleRowSpec, other: HoleSpec | HoleRowSpec) -> Iterator[Question]:
    """A hole that takes nothing, whose like takes what is counted more often than holes take it."""
    for bare, full in ((one, other), (other, one)):
        if bare.takes or not full.takes or _names(bare) != _names(full):
            continue
        item = next((item for item in subject.build.hardware if item.name == full.takes.value), None)
        if item is not None and item.count > _taken(subject, item.name):
            what = f'"{item.name}" is counted {item.count} times, and {_taken(subject, item.name)} of its places are '
            what += f"known; the hole{_line(_at(full))} takes it, and its like here nothing"
            answer = f'write takes = "{item.name}"; where it stays empty there is nothing to do'
            yield Question(place=(_at(bare) or full.takes).place, what=what, answer=answer)


def _ask_through(own: PieceSpec, one: HoleSpec, other: HoleSpec) -> Iterator[Question]:
    """A hole that goes through nothing else, whose like takes the same and goes through a strap or a piece."""
    for bare, full in ((one, other), (other, one)):
        if bare.takes and full.takes and bare.takes.value == full.takes.value and full.through and not bare.through:
            names = " and ".join(f'"{value.value}"' for value in full.through)
            what = f"the hole{_line(full.at)} goes through {names} too, and its like "
            what += f'across "{own.name}" does not'
            answer = "write through there as well; where nothing lies beneath there is nothing to do"
            yield Question(place=(bare.at or bare.takes).place, what=what, answer=answer)


def _mirrored(one: Value[str] | None, other: Value[str] | None) -> str:
    """`across` or `up`: the way across which two places are mirrored; empty where they are not, but for one word."""
    parts = _parts(one, other)
    odd = [pair for pair in parts if pair[0] != pair[1]]
    if len(odd) != 1 or (over := _is_over(*odd[0])) is None:
        return ""
    return "across" if "left" in over or "right" in over else "up"


def _nearly_mirrored(one: Value[str] | None, other: Value[str] | None) -> tuple[str, str] | None:
    """The two parts of two places, by whose figure alone they are not mirrored."""
    parts = _parts(one, other)
    odd = [pair for pair in parts if pair[0] != pair[1]]
    said = [[SAID_RE.match(part) for part in pair] for pair in odd]
    if len(parts) == 2 and len(odd) == 1 and all(said[0]):
        first, second = said[0]
        is_odd = first and second and OVER.get(first[2]) == second[2] and first[1] != second[1]
        return odd[0] if is_odd else None
    if len(parts) == 2 and len(odd) == 2 and [_is_over(*pair) is None for pair in odd].count(True) == 1:
        number = next(number for number, pair in enumerate(odd) if _is_over(*pair) is None)
        first, second = said[number]
        return odd[number] if first and second and first[2] == second[2] else None
    return None


def _parts(one: Value[str] | None, other: Value[str] | None) -> list[tuple[str, str]]:
    """What is said of either way across a piece, in the same order."""
    first, second = (value.value.split(", ") if value else [] for value in (one, other))
    return [*zip(first, second, strict=True)] if len(first) == len(second) else []


def _is_over(one: str, other: str) -> str | None:
    """The words that say the side, where both have one figure and the sides are across from each other."""
    first, second = SAID_RE.match(one), SAID_RE.match(other)
    if first and second and first[1] == second[1] and OVER.get(first[2]) == second[2]:
        return first[2]
    return None


def _folds_between(own: PieceSpec, one: Value[str], other: Value[str]) -> bool:
    """Whether a fold may lay one of two places on the other: one across the way in which they are apart."""
    apart = {SIDE_OF[word] for pair in _parts(one, other) if pair[0] != pair[1] for word in SIDE_OF if word in pair[0]}
    folds = [fold.at.value for fold in own.folds if fold.at]
    across = {SIDE_OF[word] for words in folds for word in SIDE_OF if re.search(rf"\b{word}\b", words)}
    return bool(apart & (across or ({"across", "up"} if folds else set())))


def _is_alone(own: PieceSpec, one: HoleSpec, other: HoleSpec) -> bool:
    """Whether two holes are alike in all but their place, and no other hole of the piece is like them."""
    return [hole for hole in own.holes if _said(hole) == _said(one)] == [one, other]


def _taken(subject: Subject, name: str) -> int:
    """How many of it holes and ends of straps take."""
    pieces = [*subject.build.pieces, *(strap.piece for strap in subject.build.straps)]
    holes = sum(piece.cut for piece in pieces for hole in piece.marks.holes if hole.takes == name)
    ends = [(strap, end) for strap in subject.build.straps for end in strap.ends if end.takes == name]
    return holes + sum(strap.cut * end.number for strap, end in ends)


def _at(hole: HoleSpec | HoleRowSpec) -> Value[str] | None:
    return hole.start if isinstance(hole, HoleRowSpec) else hole.at


def _names(hole: HoleSpec | HoleRowSpec) -> tuple[str, ...]:
    return tuple(value.value for value in hole.through)


def _said(hole: HoleSpec) -> tuple[str, tuple[str, ...], str, str]:
    return _words(hole.takes), _names(hole), _words(hole.long), hole.punch.value if hole.punch else ""


def _words(value: Value[str] | None) -> str:
    return value.value if value else ""


def _line(value: Value[str] | None) -> str:
    return line_words(value.place.line) if value else ""


def _asked(value: Value[str] | None, what: str, look: str) -> Question:
    return Question(place=value.place if value else Place(), what=what, answer=f"{look}; {MEANT}")
