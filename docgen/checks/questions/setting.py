"""What is set, punched and riveted: hardware that no hole takes, a copy too many of what is riveted on, a rivet that a
step of its kind leaves out, holes that are punched when all is set, one punch among others, and two holes of which one
is measured from the other end."""

import re
from collections import Counter, defaultdict
from collections.abc import Iterator
from itertools import pairwise
from typing import Final

from docgen.checks.questions.odd_rows import ask_odd_sizes
from docgen.checks.questions.places import PLACE_RE
from docgen.checks.questions.question import Question, question
from docgen.checks.trade import Subject
from docgen.checks.trade.hardware import closes_on_one
from docgen.geometry.outline import ACROSS_STRIPS, outline_box
from docgen.geometry.vector import cross, distance, subtract
from docgen.problems import Place, name_words
from docgen.read import Value
from docgen.resolve import Hole, Piece, Step
from docgen.tables.cautions import has_phrase
from docgen.tables.sewing import SAME_PUNCH_MM

SET_KINDS: Final = frozenset({"rivet", "tubular-rivet", "screw-post", "snap", "eyelet"})
HALVES: Final = ("cap", "stud", "socket", "post", "half", "halves", "upper", "lower", "male", "female")
PUNCHES: Final = re.compile(r"^punch\b", re.IGNORECASE)
MOST: Final = 200  # of more holes nothing is asked: a stranger's file
SAME_MM: Final = 1.0
IN_LINE: Final = 0.02
OFF_MM: Final = 10.0  # so far from the middle a hole plainly lies on one half: our choice


@question
def ask_holes(subject: Subject) -> Iterator[Question]:
    """Holes, and what is set in them."""
    pieces = [*subject.build.pieces, *(strap.piece for strap in subject.build.straps)]
    if sum(len(piece.marks.holes) for piece in pieces) <= MOST:
        yield from _ask_untaken(subject)
        yield from _ask_one_half(subject)
        yield from _ask_riveted(subject)
        yield from _ask_odd_punches(subject, pieces)
        yield from _ask_other_ends(subject)
        yield from _ask_halves(subject)
        yield from _ask_unpaired(subject)


def _ask_untaken(subject: Subject) -> Iterator[Question]:
    """What is set in holes, of which no hole and no end of a strap says that it takes it."""
    taken = {value.value for table in (subject.spec.pieces, subject.spec.straps) for value in _takes(table)}
    for item in subject.build.hardware:
        if item.kind in SET_KINDS and item.name not in taken:
            what = f'no hole says that it takes "{item.name}" ({item.what})'
            answer = f'write takes = "{item.name}" at its hole, with through = [...] for what lies beneath'
            yield Question(place=item.place, what=what, answer=answer)


def _ask_one_half(subject: Subject) -> Iterator[Question]:
    """Snaps that are bought whole, of which one half alone has its hole."""
    holes = Counter(
        hole.takes
        for piece in (*subject.build.pieces, *(strap.piece for strap in subject.build.straps))
        for hole in piece.marks.holes
        for _ in range(piece.cut)
    )
    ends = {end.takes for strap in subject.build.straps for end in strap.ends}
    for item in subject.build.hardware:
        is_whole = item.kind == "snap" and not any(has_phrase(f"{item.name} {item.what}", word) for word in HALVES)
        if is_whole and item.name not in ends and holes[item.name] == item.count:
            what = f'"{item.name}" ({item.what}) has two halves, and {item.count} of its holes: one half is set nowhere'
            answer = (
                f'write takes = "{item.name}" at the hole of the other half; where it is not set here there is nothing '
            )
            yield Question(place=item.place, what=what, answer=f"{answer}to do")


def _takes(item: object) -> Iterator[Value[str]]:
    for one in item if isinstance(item, tuple) else ():
        value = getattr(one, "takes", None)
        if isinstance(value, Value):
            yield value
        for key in ("holes", "hole_rows", "drawn_holes", "ends", "punches"):
            yield from _takes(getattr(one, key, None))


def _ask_riveted(subject: Subject) -> Iterator[Question]:
    """Flat pieces that nothing but rivets hold, each by all of its holes, of which more or fewer are cut than the holes in
    what they are riveted to make up."""
    sewn = subject.sewn.keys()
    places: Counter[str] = Counter()
    for piece in (*subject.build.pieces, *(strap.piece for strap in subject.build.straps)):
        for hole in piece.marks.holes:
            places.update({name: piece.cut for name in hole.through if hole.through.count(name) == 1 and hole.takes})
    twice = {
        name for piece in subject.build.pieces for hole in piece.marks.holes for name in hole.through
        if hole.through.count(name) > 1
    }  # fmt: skip
    for piece in subject.build.pieces:
        own = [hole for hole in piece.marks.holes if not hole.takes and not hole.long_mm]
        is_plain = (
            own and len(own) == len(piece.marks.holes) and not piece.marks.folds and piece.name not in sewn | twice
        )
        count = places[piece.name]
        if is_plain and count and len(own) > 1 and piece.cut > 1 and count % len(own) == 0:
            cut = count // len(own)
            if cut != piece.cut:
                what = f'{piece.cut} of "{piece.name}" are cut, with {len(own)} holes each, and {count} holes wait for them'
                answer = f"write cut = {cut}; where one is to spare there is nothing to do"
                values = {one.name: one.cut for one in subject.spec.pieces}
                value = values.get(piece.name)
                yield Question(place=value.place if value else piece.place, what=what, answer=answer)


def _ask_odd_punches(subject: Subject, pieces: list[Piece]) -> Iterator[Question]:
    """The one hole of its size in the whole build, in line between two of another size; none of them takes anything."""
    sizes = [hole.diameter_mm for piece in pieces for hole in piece.marks.holes]
    for piece in pieces:
        bare = [hole for hole in piece.marks.holes if not hole.takes and not hole.long_mm]
        for (one, odd), (_, other) in pairwise(pairwise(bare)):
            is_odd = sum(abs(size - odd.diameter_mm) <= SAME_PUNCH_MM for size in sizes) == 1
            if is_odd and abs(one.diameter_mm - other.diameter_mm) <= SAME_PUNCH_MM and _in_line(one, odd, other):
                own, its = (subject.length(hole.diameter_mm) for hole in (odd, one))
                what = f'a hole of "{piece.name}" is {own} wide, and those before and behind it {its}'
                answer = "look at its punch; where it is to be another there is nothing to do"
                if odd.place.line not in {told.place.line for told in ask_odd_sizes(subject)}:
                    yield Question(place=odd.place, what=what, answer=answer)


def _in_line(one: Hole, odd: Hole, other: Hole) -> bool:
    """Whether a hole lies between two others, on the line from one to the other."""
    way, off = subtract(other.at, one.at), subtract(odd.at, one.at)
    long = distance(one.at, other.at)
    is_between = max(distance(one.at, odd.at), distance(odd.at, other.at)) < long
    return is_between and abs(cross(way, off)) <= IN_LINE * long * long


@question
def ask_pairs_of_holes(subject: Subject) -> Iterator[Question]:
    """The two holes of a strap that take one kind of hardware, one from either end and not as far from both; none of ends
    that lie back unlike, whose holes do too."""
    for own in subject.spec.straps:
        if len({end.back.value for end in own.ends if end.back}) > 1:
            continue
        takes: dict[str, list[tuple[re.Match[str], Value[str]]]] = defaultdict(list)
        for item in own.punches:
            words = item.at.value.split(", ")[-1] if item.at else ""
            if item.takes and item.at and (match := PLACE_RE.match(words)):
                takes[item.takes.value].append((match, item.at))
        for name, found in takes.items():
            if (
                len(found) == 2
                and {match[2] for match, _ in found} == {"start", "end"}
                and len({it[0][1] for it in found}) > 1
            ):
                what = f'"{name}" is set {found[0][0][0]} of "{own.name}", and {found[1][0][0]}'
                answer = "look from which end each is measured; where they are meant so there is nothing to do"
                yield Question(place=found[-1][1].place, what=what, answer=answer)


def _ask_other_ends(subject: Subject) -> Iterator[Question]:
    """Two holes at two distances from one end of a part, where another part has two of that punch at the same distances,
    but one from its other end."""
    found: dict[str, dict[str, list[tuple[str, str, Place]]]] = {}
    for table in (*subject.spec.pieces, *subject.spec.straps):
        items = getattr(table, "punches", None) or getattr(table, "holes", None)
        for item in items if isinstance(items, tuple) else ():
            if item.at and item.punch and not item.takes:
                parts = [PLACE_RE.match(part) for part in item.at.value.split(", ")]
                off = [part for part in parts if part]
                if len(off) == 1 and off[0]:
                    sides = found.setdefault(table.name, {}).setdefault(item.punch.value, [])
                    sides.append((off[0][1], off[0][2], item.at.place))
    pairs: dict[tuple[str, frozenset[str]], str] = {}
    for name, punches in found.items():
        for punch, holes in punches.items():
            by_side = defaultdict(set)
            for figure, side, _ in holes:
                by_side[side].add(figure)
            pairs |= {(punch, frozenset(figures)): name for figures in by_side.values() if len(figures) == 2}
    for name, punches in found.items():
        for punch, holes in punches.items():
            figures = frozenset(figure for figure, _, _ in holes)
            other = pairs.get((punch, figures), name)
            if other != name and len(holes) == 2 and ACROSS_STRIPS[holes[0][1]] == holes[1][1]:
                words = " and ".join(figure for figure, _, _ in holes)
                what = f'the holes of "{name}" lie {words} from its two ends, and those of "{other}" both from one'
                answer = "look from which end the last is measured; where it is meant so there is nothing to do"
                yield Question(place=holes[1][2], what=what, answer=answer)


def _ask_halves(subject: Subject) -> Iterator[Question]:
    """Two holes of one kind at one height, measured from opposite sides, that lie on one half of their piece."""
    pieces = subject.parts.pieces
    for own in subject.spec.pieces:
        found: dict[tuple[str, str, str], list[tuple[str, Place]]] = defaultdict(list)
        for item in own.holes:
            words = item.at.value.split(", ") if item.at and item.punch else []
            for number, part in enumerate(words if len(words) == 2 else ()):
                match = PLACE_RE.match(part)
                if match and item.at and item.punch and match[2] in ACROSS_STRIPS:
                    key = words[1 - number], item.punch.value, item.takes.value if item.takes else ""
                    found[key].append((match[2], item.at.place))
        holes = {hole.place.line: hole.at for hole in pieces[own.name].marks.holes} if own.name in pieces else {}
        for pair in found.values():
            ats = [holes.get(place.line) for _, place in pair]
            if len(pair) == 2 and ACROSS_STRIPS[pair[0][0]] == pair[1][0] and None not in ats and len({*ats}) == 2:
                axis = 0 if pair[0][0] in ("left", "right") else 1
                middle = outline_box(pieces[own.name].outline).centre[axis]
                if len({at[axis] > middle for at in ats if at}) == 1 and all(
                    abs(at[axis] - middle) > OFF_MM for at in ats if at
                ):
                    what = f'two like holes of "{own.name}" are measured from opposite sides, and lie on one half of it'
                    answer = "look from which side the last is measured; where they are meant there is nothing to do"
                    yield Question(place=pair[1][1], what=what, answer=answer)


def _ask_unpaired(subject: Subject) -> Iterator[Question]:
    """The one hole of its size off the middle of a piece that has none across from it, where all others have theirs."""
    for piece in subject.build.pieces:
        middle = outline_box(piece.outline).centre.x
        kinds: dict[float, list[Hole]] = defaultdict(list)
        for hole in piece.marks.holes:
            if abs(hole.at.x - middle) > OFF_MM:
                kinds[round(hole.diameter_mm, 1)].append(hole)
        for holes in kinds.values():
            odd = [hole for hole in holes if not any(_is_across(hole, other, middle) for other in holes)]
            is_alone = len(odd) == 1 and len(holes) > 2
            if is_alone and all(abs(odd[0].at.y - hole.at.y) > SAME_MM for hole in holes if hole is not odd[0]):
                line = odd[0].place.line
                what = f'a hole of "{piece.name}" (line {line}) has none across from it, as the others of its size have'
                answer = "look whether one is left out; where it is meant alone there is nothing to do"
                yield Question(place=piece.place, what=what, answer=answer)


def _is_across(one: Hole, other: Hole, middle: float) -> bool:
    return abs(one.at.x + other.at.x - 2 * middle) < SAME_MM and abs(one.at.y - other.at.y) < SAME_MM


@question
def ask_left_out(subject: Subject) -> Iterator[Question]:
    """Steps that turn the ends of straps round a fitting and leave out what closes them, where another step that does the
    same has both."""
    ends = {strap.name: [end for end in strap.ends if end.takes and end.rings] for strap in subject.build.straps}
    done = [
        (step, {(end.takes, ring) for name in step.straps for end in ends.get(name, ()) for ring in end.rings})
        for step in subject.build.steps
    ]
    listed = {one.place: one.hardware[0].place for one in subject.spec.steps if one.hardware}
    for step, closings in done:
        for takes in sorted({takes for takes, ring in closings if ring in step.hardware} - {*step.hardware}):
            others = (
                one for one, theirs in done if one is not step and takes in one.hardware and _closes(one, theirs, takes)
            )
            other = next(others, None)
            if other is not None:
                what = f'a step turns ends that "{takes}" closes, and does not name it; the one in line {other.place.line} '
                answer = f'write "{takes}" in hardware of the step; where it is set later there is nothing to do'
                yield Question(place=listed.get(step.place, step.place), what=f"{what}does both", answer=answer)


def _closes(step: Step, closings: set[tuple[str, str]], takes: str) -> bool:
    """Whether a step has in hand what an end that this closes goes round."""
    return any(one == takes and ring in step.hardware for one, ring in closings)


@question
def ask_both_ends(subject: Subject) -> Iterator[Question]:
    """Rings of which as many are bought as straps turn both their ends round them: each would close on one ring."""
    counts = {item.name: item.count for item in subject.spec.hardware}
    for item in subject.build.hardware:
        count = counts.get(item.name)
        if count and closes_on_one(subject, item):
            what = f'both ends of a strap go round "{item.name}", and {item.count} is bought: one ring for both'
            answer = f"write count = {2 * item.count}; where a strap closes on one ring there is nothing to do"
            yield Question(place=count.place, what=what, answer=answer)


@question
def ask_unset(subject: Subject) -> Iterator[Question]:
    """Hardware of a build of which no step sets any; where one does, a check speaks of the rest."""
    if not subject.build.steps or any(step.hardware for step in subject.build.steps):
        return
    sides = {seam.name: seam.parts for seam in subject.build.seams}
    told = {caution.at for caution in subject.build.cautions if caution.check == "hardware-in-no-step"}
    for fit in {
        it.hardware: it for it in reversed(subject.build.assembly.fastened) if it.hardware not in told
    }.values():
        handled = (
            {*step.pieces, *step.straps}.union(*(sides.get(seam, set()) for seam in step.seams))
            for step in subject.build.steps
        )
        number = next((k for k, names in enumerate(handled) if fit.part in names), 0)
        what = f'no step sets "{fit.hardware}", which goes into "{fit.part}"'
        answer = (
            f'write hardware = ["{fit.hardware}"] in a step; where it is set at another time there is nothing to do'
        )
        yield Question(place=subject.build.steps[number].place, what=what, answer=answer)


@question
def ask_late(subject: Subject) -> Iterator[Question]:
    """Steps that begin by punching what an earlier step has riveted through all its holes."""
    steps = subject.build.assembly.events
    riveted: dict[str, int] = {}
    for fit in subject.build.assembly.fastened:
        first = steps[fit.event].step
        for name in fit.stack.parts:
            riveted[name] = min(first, riveted.get(name, first))
    for number, step in enumerate(subject.build.steps):
        late = [name for name in step.pieces if name in subject.parts.pieces and riveted.get(name, number) < number]
        if PUNCHES.match(step.do) and late and not step.hardware and not step.seams:
            told, first = name_words(late), min(riveted[name] for name in late)
            what = f"step {first + 1} sets hardware in {told}, which only step {number + 1} punches"
            answer = "look at the order of the steps; where more holes are punched then there is nothing to do"
            yield Question(place=subject.build.steps[first].place, what=what, answer=answer)
