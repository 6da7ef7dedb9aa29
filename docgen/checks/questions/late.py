"""Steps in an order that sews or punches more than was meant: a strap or a pocket goes through the lining that an earlier
step has sewn in, what lies inside is sewn on once all is closed, and parts are punched when they are sewn to each other."""

import re
from collections.abc import Iterator
from typing import Final

from docgen.checks.questions.question import Question, question
from docgen.checks.trade import Subject
from docgen.geometry.outline import WHOLE
from docgen.resolve import Seam, Step

PUNCHES: Final = re.compile(r"^punch\b", re.IGNORECASE)
CLOSED: Final = 3  # edges by which two parts are sewn to each other for good
MOST: Final = 100  # of more seams nothing is asked: a stranger's file


@question
def ask_late_work(subject: Subject) -> Iterator[Question]:
    """Straps and pockets sewn through a lining, and parts punched through each other, for a step that comes too early."""
    build = subject.build
    if not build.steps or len(build.seams) > MOST:
        return
    sewn_in = {name: number for number, step in reversed([*enumerate(build.steps)]) for name in step.seams}
    asked: set[Step] = set()
    for late, name, what in (*_through_linings(subject), *_closed(subject), *_punched(subject)):
        before = build.steps[sewn_in[name]] if sewn_in.get(name, late) < late < len(build.steps) else None
        if before is not None and before not in asked:
            asked.add(before)
            told = f"{what} (line {build.steps[late].place.line})"
            is_laid = "the lining" not in what and "through both" in what
            answer = "measure again where both land, or put" if is_laid else "put"
            answer += " that step before this one; where it is meant so there is nothing to do"
            sews = subject.spec.steps[sewn_in[name]].seams if sewn_in[name] < len(subject.spec.steps) else ()
            place = next((one.place for one in sews if one.value == name), before.place)
            yield Question(place=place, what=told, answer=answer)


def _through_linings(subject: Subject) -> Iterator[tuple[int, str, str]]:
    """The step that sews something flat on a part, a seam that sews the lining of that in, and what to say of it."""
    build, events = subject.build, subject.build.assembly.events
    fabrics = {item.name for item in build.materials if item.kind == "fabric"}
    linings = {piece.name for piece in build.pieces if piece.lines or piece.material in fabrics}
    seams, parts = {seam.name: seam for seam in build.seams}, subject.parts.pieces
    rows = [(run.event, run.part, run.stack, linings) for run in build.assembly.runs if run.kind == "landings"]
    for one in build.assembly.sewn:
        flat = [side.part for side in seams[one.seam].sides if not side.edges]
        if flat and one.stack.parts[0] != flat[0]:
            unnamed = linings - seams[one.seam].parts  # what it names it is meant to go through
            rows.append((one.event, one.stack.parts[0], one.stack, unnamed))
    for event, part, stack, hidden in rows:
        bases = {*stack.parts[1:]} - linings
        on = {name for base in bases for name in hidden if name in parts and base in parts[name].landing_names}
        under = {*stack.parts[1:]} & hidden - on  # what a part lands on lines nothing
        for seam in build.seams if under and bases else ():
            if seam.parts & bases and seam.parts & under:
                base = min(seam.parts & bases)
                names = sorted(seam.parts & under)
                inner = "the lining" if any(parts[name].lines for name in names) else f'"{names[0]}"'
                what = f'this step sews {inner} to "{base}", and "{part}" is sewn on through both later'
                yield events[event].step, seam.name, what


def _closed(subject: Subject) -> Iterator[tuple[int, str, str]]:
    """The step that sews a strap on a part, and the last of the seams that close three edges of that to others before."""
    build, events = subject.build, subject.build.assembly.events
    step_of = {one.seam: events[one.event].step for one in build.assembly.sewn}
    for run in build.assembly.runs:
        late = events[run.event].step
        base = run.stack.parts[1] if run.kind == "landings" and len(run.stack.parts) > 1 else ""
        before = [seam for seam in build.seams if base in seam.parts and step_of.get(seam.name, late) < late]
        edges = {edge for seam in before for side in seam.sides if side.part == base for edge in side.edges}
        others = {side.part for seam in before for side in seam.sides if side.edges} - {base}
        is_round = any(_goes_round(seam, base) for seam in before)
        if (len(edges) >= CLOSED and others) or is_round:
            yield late, before[-1].name, f'this step closes "{base}", and "{run.part}" is sewn on it later'


def _goes_round(seam: Seam, base: str) -> bool:
    """Whether a seam sews all round a part to the edges of another one, and is no hem."""
    return any(side.part == base and WHOLE in side.edges for side in seam.sides) and any(
        side.part != base and side.edges for side in seam.sides
    )


@question
def ask_sewn_inside(subject: Subject) -> Iterator[Question]:
    """What lies inside a part and is sewn on there once three of its edges are sewn to others."""
    build, seams = subject.build, {seam.name: seam for seam in subject.build.seams}
    inside = {(it.piece, base.name) for base in build.pieces for it in base.marks.landings if it.is_inside}
    closed: dict[str, dict[str, str]] = {}
    for one in sorted(build.assembly.sewn, key=lambda one: one.event) if inside and len(build.seams) <= MOST else ():
        seam = seams[one.seam]
        flat = next((side.part for side in seam.sides if not side.edges), "")
        part = next((side.part for side in seam.sides if side.edges and (side.part, flat) in inside), "")
        before = closed.get(flat, {})
        number = build.assembly.events[one.event].step
        if part and len(before) >= CLOSED and number < len(subject.spec.steps):
            last = [*before.values()][-1]
            what = f'"{seam.name}" sews "{part}" to the inside of "{flat}", which "{last}" has closed before'
            named = [value.place for value in subject.spec.steps[number].seams if value.value == seam.name]
            answer = f'sew "{seam.name}" before "{last}"; where it can be reached there is nothing to do'
            yield Question(place=(named or [seam.place])[0], what=what, answer=answer)
        for side in seam.sides if not flat else ():
            closed.setdefault(side.part, {}).update(dict.fromkeys(side.edges, seam.name))


def _punched(subject: Subject) -> Iterator[tuple[int, str, str]]:
    """A step that begins by punching two parts, and a seam that sews them to each other by three edges."""
    for number, step in enumerate(subject.build.steps):
        own = {*step.pieces} if PUNCHES.match(step.do) and len(step.pieces) > 1 else set()
        for seam in subject.build.seams if own else ():
            both = sorted({side.part for side in seam.sides if side.part in own and len(side.edges) >= CLOSED})
            if len(both) > 1:
                yield number, seam.name, f'this step sews "{both[0]}" to "{both[1]}", and both are only punched later'
