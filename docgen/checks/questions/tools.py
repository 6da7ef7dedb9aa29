"""Tools that steps name, held against the work: a punch or an iron of a size that nothing asks for, where what there is
has no other, and the setter of a kind that is not set."""

from collections.abc import Iterable, Iterator
from typing import Final

from docgen.checks.questions.question import Question, question
from docgen.checks.trade import Subject
from docgen.read import StepSpec, Value
from docgen.tables.cautions import STRUCK_TO_SETTER, has_phrase
from docgen.tables.sewing import SAME_PUNCH_MM
from docgen.written.units.telling import format_short
from docgen.written.units.tools import tool_sizes_mm

OTHER_PUNCHES: Final = ("corner", "end", "round", "thong", "decorative")
OTHER_IRONS: Final = ("creasing", "edge", "fillet", "soldering")
SAME_PITCH: Final = 0.06  # irons are called by a round figure near their pitch: our choice
MEANT: Final = "look at both; where it is for something else there is nothing to do"
LEAST_NAMED: Final = 2  # where so many sizes of holes have a punch, the last is meant to have one: our choice
MOST: Final = 200  # of more tools nothing is asked: a stranger's file


@question
def ask_tools(subject: Subject) -> Iterator[Question]:
    """Tools of a size or kind that the work does not ask for, in place of one that it does."""
    if sum(len(step.tools) for step in subject.spec.steps) <= MOST:
        yield from _ask_punches(subject)
        yield from _ask_irons(subject)
        yield from _ask_setters(subject)


def _ask_punches(subject: Subject) -> Iterator[Question]:
    """A punch of a size that no hole has, where holes have one that no punch named has; both of one kind."""
    reckoned = {end.place for strap in subject.spec.straps for end in strap.ends if end.slot is None}
    holes = {
        (bool(hole.long_mm), round(hole.long_mm or hole.diameter_mm, 3))
        for part in subject.build.cut
        for hole in part.marks.holes
        if not (hole.long_mm and hole.place in reckoned)
    }
    wide = [hole.diameter_mm for part in subject.build.cut for hole in part.marks.holes if hole.long_mm]
    named = [
        (tool, (_has(tool, ("slot", "oblong")), size_mm))
        for step in subject.spec.steps
        for tool in step.tools
        if _has(tool, ("punch",)) and not _has(tool, OTHER_PUNCHES)
        for size_mm in tool_sizes_mm(tool.value)
    ]
    slits = any(part.marks.slits for part in subject.build.cut)
    for tool, (is_slot, size_mm) in named:
        own = [mm for slot, mm in holes if slot == is_slot]
        without = [mm for mm in own if not _is_near(mm, (it for _, (slot, it) in named if slot == is_slot))]
        asks = own + wide * is_slot  # a slot punch is also called by how wide it is
        if without and not _is_near(size_mm, asks) and not (slits and not is_slot):
            told = " and ".join(format_short(mm, subject.show) for mm in sorted(without))
            kind = "slots" if is_slot else "holes"
            what = f'a step names the tool "{tool.value}", which no hole asks for, and none for the {kind} of {told}'
            yield Question(place=tool.place, what=what, answer=MEANT)
    if not slits:
        sizes = {mm for is_slot, mm in holes if not is_slot}
        yield from _ask_steps(subject, sizes)
        yield from _ask_lacking(subject, sizes, [(tool, mm) for tool, (is_slot, mm) in named if not is_slot])


def _ask_lacking(subject: Subject, sizes: set[float], punches: list[tuple[Value[str], float]]) -> Iterator[Question]:
    """Round holes of one size, of which no punch is named, where those of all other sizes have theirs."""
    used = {mm for mm in sizes if _is_near(mm, (punch_mm for _, punch_mm in punches))}
    lacking = sizes - used
    if len(lacking) == 1 and len(used) >= LEAST_NAMED:
        told = " and ".join(format_short(mm, subject.show) for mm in sorted(used))
        what = (
            f"steps name punches for holes of {told}, and none for those of {format_short(min(lacking), subject.show)}"
        )
        answer = "name it in tools; where they are cut otherwise there is nothing to do"
        yield Question(place=punches[0][0].place, what=what, answer=answer)


def _ask_steps(subject: Subject, sizes: set[float]) -> Iterator[Question]:
    """A step that makes straps with holes of one size, and names one punch, of a size that no hole has."""
    for step in subject.spec.steps:
        straps = [subject.parts.straps[one.value] for one in step.straps if one.value in subject.parts.straps]
        own = {round(hole.diameter_mm, 3) for one in straps for hole in one.piece.marks.holes if not hole.long_mm}
        tools = [one for one in step.tools if _has(one, ("hole punch",)) and not _has(one, OTHER_PUNCHES)]
        named = [mm for tool in tools for mm in tool_sizes_mm(tool.value)]
        if len(own) == len(named) == len(tools) == 1 and not _is_near(named[0], sizes):
            what = f'a step names the tool "{tools[0].value}", and the holes of its straps are of '
            yield Question(place=tools[0].place, what=what + format_short(min(own), subject.show), answer=MEANT)


def _has(tool: Value[str], words: tuple[str, ...]) -> bool:
    return any(has_phrase(tool.value, word) for word in words)


def _is_near(mm: float, others: Iterable[float]) -> bool:
    return any(abs(mm - other) <= SAME_PUNCH_MM for other in others)


def _ask_irons(subject: Subject) -> Iterator[Question]:
    """An iron of another pitch than every stitch that is sewn by hand has."""
    pitches = [stitch.pitch_mm for stitch in subject.build.stitches if stitch.by == "hand"]
    for step in subject.spec.steps if pitches else ():
        for tool in step.tools:
            is_iron = _has(tool, ("iron", "pricking chisel", "stitching chisel")) and not _has(tool, OTHER_IRONS)
            sizes = tool_sizes_mm(tool.value) if is_iron else []
            if len(sizes) == 1 and all(abs(sizes[0] - mm) > SAME_PITCH * mm for mm in pitches):
                told = " or ".join(subject.length(mm) for mm in dict.fromkeys(pitches))
                what = f'a step names the tool "{tool.value}", and what is sewn by hand has a stitch of {told}'
                yield Question(place=tool.place, what=what, answer=MEANT)


def _ask_setters(subject: Subject) -> Iterator[Question]:
    """The setter of a kind that a step does not set, where none is named for the kind that it does."""
    kinds = {item.name: STRUCK_TO_SETTER.get(item.kind, "") for item in subject.build.hardware}
    for step in subject.spec.steps:
        sets = {kinds.get(one.value, "") for one in step.hardware} - {""}
        setters = [(tool, _setter_kinds(tool)) for tool in step.tools if has_phrase(tool.value, "setter")]
        lacking = sorted(kind for kind in sets if not any(kind in own or not own for _, own in setters))
        for tool, own in setters:
            if lacking and own and own.isdisjoint(sets) and not _is_pressed(step):
                what = f'a step names the tool "{tool.value}", and sets a {lacking[0]}, for which it names none'
                yield Question(place=tool.place, what=what, answer=MEANT)


def _setter_kinds(tool: Value[str]) -> set[str]:
    return {kind for kind in STRUCK_TO_SETTER.values() if has_phrase(tool.value, kind)}


def _is_pressed(step: StepSpec) -> bool:
    return any(has_phrase(tool.value, "press") for tool in step.tools)
