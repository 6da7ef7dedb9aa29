"""Ends of straps that are not held, or not alike: a keeper whose ends nothing joins, a doubled strap that nothing sews,
an end that lies fast by nothing, or by its tip, handles of which an end lands nowhere, and ends on one piece that lie
unlike far from its middle."""

import re
from collections import Counter
from collections.abc import Iterator
from itertools import combinations
from typing import Final

from docgen.checks.questions.question import Question, question, told_by
from docgen.checks.questions.steps import SEWS
from docgen.checks.sizes_said import plain_mm
from docgen.checks.trade import Subject
from docgen.geometry.outline import outline_box
from docgen.problems import is_are

SAME_MM: Final = 1.0
ASKEW: Final = "marks-askew"
GLUES: Final = re.compile(r"(?i)\b(?:glue|cement|stick|line)")


@question
def ask_strap_ends(subject: Subject) -> Iterator[Question]:
    """Ends and layers of straps that nothing holds, and ends that land unlike each other."""
    yield from _ask_keepers(subject)
    yield from _ask_layers(subject)
    yield from _ask_lone_ends(subject)
    yield from _ask_uneven(subject)
    yield from _ask_shapes(subject)
    yield from _ask_loose_ends(subject)
    yield from _ask_held_tips(subject)


def _ask_loose_ends(subject: Subject) -> Iterator[Question]:
    """Ends that lie fast on a piece by no stitch, no hole and no row or post that goes through both; once for a strap."""
    assembly = subject.build.assembly
    stacks = [{*one.stack.parts} for one in assembly.sewn]
    stacks += [{*one.stack.parts} for one in assembly.runs]
    stacks += [{*one.stack.parts} for one in assembly.fastened]
    told: set[str] = set()
    for base in subject.build.pieces:
        for end in base.strap_landings:
            is_held = bool(end.stitch or end.holes or end.strap in told) or end.strap in subject.sewn
            if not is_held and not any({base.name, end.strap} <= parts for parts in stacks):
                told.add(end.strap)
                what = f'nothing sews or rivets the end of "{end.strap}" that lies fast on "{base.name}"'
                answer = "write stitch = ... in its landing; where it is held otherwise there is nothing to do"
                yield Question(place=end.place, what=what, answer=answer)


def _ask_held_tips(subject: Subject) -> Iterator[Question]:
    """Straps with a pointed end that lies fast, and a row of holes at their other end, which is square."""
    for base in subject.build.pieces:
        for end in base.strap_landings:
            strap = subject.parts.straps.get(end.strap)
            if strap is None or strap.ends[end.end].shape != "pointed" or strap.ends[1 - end.end].shape != "square":
                continue
            if strap.hole_tips_mm and not end.end:
                what = f'"{strap.name}" lies fast by its pointed end, and has its holes at the square one'
                answer = "write its ends the other way about; where it is meant so there is nothing to do"
                yield Question(place=strap.ends[end.end].place, what=what, answer=answer)


def _ask_keepers(subject: Subject) -> Iterator[Question]:
    """Keepers whose ends only meet, which nothing sews or rivets, and that lie in no fold of a strap; the only one of a
    strap is held there, said or not."""
    folded = {end.keeper for strap in subject.build.straps for end in strap.ends if end.keeper}
    keepers = Counter(strap.keeper_for for strap in subject.build.straps)
    for own in subject.spec.straps:
        strap = subject.parts.straps.get(own.name)
        is_bare = strap is not None and bool(strap.keeper_for) and not strap.stitch and not strap.piece.marks.holes
        is_meeting = own.overlap is not None and not plain_mm(own.overlap.value)
        if strap and is_bare and is_meeting and own.overlap and own.name not in folded | subject.sewn.keys():
            others = sorted(name for name in folded if subject.parts.straps[name].keeper_for == strap.keeper_for)
            if not others and keepers[strap.keeper_for] < 2:
                continue
            what = f'the ends of the keeper "{own.name}" only meet, and nothing sews them'
            answer = f'write keeper = "{own.name}" at a turned end, or a stitch and an overlap here'
            if others:
                what += f'; "{others[0]}" lies in the fold of "{strap.keeper_for}"'
            answer += "; where it is held otherwise there is nothing to do"
            yield Question(place=own.overlap.place, what=what, answer=answer)


def _ask_layers(subject: Subject) -> Iterator[Question]:
    """Doubled straps that no stitch and no seam sews, in a step that is to sew, or of which no step says that it glues."""
    for own in subject.spec.straps:
        strap = subject.parts.straps.get(own.name)
        if strap is None or not strap.lining or strap.stitch or own.name in subject.sewn or own.doubled is None:
            continue
        steps = [step for step in subject.build.steps if own.name in step.straps]
        lines = [step for step in steps if SEWS.search(step.do)]
        if lines or not any(GLUES.search(words) for step in steps for words in (step.do, *step.first, *step.last)):
            what = f'"{own.name}" has two layers, and nothing sews or glues them together'
            if lines:
                what = f'the step in line {lines[0].place.line} sews, and nothing sews the layers of "{own.name}"'
            answer = 'write stitch = "..." for the strap; where it is only glued there is nothing to do'
            yield Question(place=own.doubled.place, what=what, answer=answer)


def _ask_lone_ends(subject: Subject) -> Iterator[Question]:
    """Straps of which several are cut, and one end lands more often than the other, which is plain."""
    for strap in subject.build.straps:
        ends = [(base, end) for base in subject.build.pieces for end in base.strap_landings if end.strap == strap.name]
        counts = Counter({0: 0, 1: 0})
        for base, end in ends:
            counts[end.end] += base.cut
        few, many = sorted((0, 1), key=lambda which: counts[which])
        is_plain = all(end.shape != "turned" for end in strap.ends) and not strap.piece.marks.holes
        if not is_plain or counts[few] in (0, counts[many]) or counts[many] != strap.cut:
            continue
        bases = [base.name for base, end in ends if end.end == few]
        found = next((end for base, end in ends if end.end == many and base.name not in bases), None)
        if found is not None:
            names = ("first", "second")
            what = f'{counts[many]} {names[many]} ends of "{strap.name}" land, and {counts[few]} {names[few]} '
            what += f"{'end' if counts[few] == 1 else 'ends'}; here the other {is_are(1)} missing"
            answer = (
                f'write {{ strap = "{strap.name}", end = "{names[few]}", at = ... }} beside it; where it hangs free '
            )
            yield Question(place=found.place, what=what, answer=f"{answer}there is nothing to do")


def _ask_uneven(subject: Subject) -> Iterator[Question]:
    """Two ends of one strap that are written left and right of the middle of a piece, and lie unlike far from it: by more
    than what is told as marks askew."""
    told = {(one.at, one.place.line) for one in told_by(subject, ASKEW)}
    for base in subject.build.pieces:
        box = outline_box(base.outline)
        ends = [end for end in base.strap_landings if " of centre" in end.place.words]
        for one, other in combinations(ends, 2):
            offs = [end.at.x - box.centre.x for end in (one, other)]
            is_told = not told.isdisjoint((base.name, end.place.line) for end in (one, other))
            is_pair = (
                not is_told
                and one.strap == other.strap
                and one.leads == other.leads
                and abs(one.at.y - other.at.y) < SAME_MM
            )
            others = [end for end in ends if end.strap == one.strap and abs(end.at.y - one.at.y) < SAME_MM]
            if is_pair and len(others) == 2 and offs[0] * offs[1] < 0 and abs(offs[0] + offs[1]) > SAME_MM:
                far, near = (subject.length(mm) for mm in sorted((abs(offs[0]), abs(offs[1])), reverse=True))
                what = f'the ends of "{one.strap}" lie {far} and {near} from the middle of "{base.name}" (line '
                what += f"{other.place.line})"
                answer = "look at both figures; where it is to hang aslant there is nothing to do"
                yield Question(place=one.place, what=what, answer=answer)


def _ask_shapes(subject: Subject) -> Iterator[Question]:
    """Straps both ends of which land on one piece, plain, one of another shape than the other."""
    landed: dict[str, dict[str, set[int]]] = {}
    for base in subject.build.pieces:
        for end in base.strap_landings:
            landed.setdefault(end.strap, {}).setdefault(base.name, set()).add(end.end)
    for strap in subject.build.straps if landed else ():
        shapes = [end.shape for end in strap.ends]
        base_name = next((name for name, ends in landed.get(strap.name, {}).items() if len(ends) == len(shapes)), "")
        if base_name and len({*shapes}) == len(shapes) and "turned" not in shapes:
            what = f'both ends of "{strap.name}" land on "{base_name}", and one is {shapes[0]}, the other {shapes[1]}'
            answer = "write both alike; where they are meant to be unlike there is nothing to do"
            yield Question(place=strap.ends[1].place, what=what, answer=answer)
