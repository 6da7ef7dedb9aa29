"""Checks of the steps: what they leave out, what they say twice, and hardware that they set where nothing takes it."""

from collections import Counter
from collections.abc import Iterator

from docgen.checks.trade.check import Found, Subject, check
from docgen.read import Value
from docgen.resolve import Step, is_punching
from docgen.tables.cautions import has_phrase

KINDS = ("pieces", "skives", "joins", "seams", "straps", "hardware")


@check("skive-in-no-step", "What has a skive is skived in a step.", "counted", needs_whole=True)
def find_idle_skives(subject: Subject) -> Iterator[Found]:
    """Pieces whose bands no step thins, where a step skives others, or speaks of skiving."""
    build = subject.build
    done = {name for step in build.steps for name in step.skives}
    is_told = bool(done) or any(has_phrase(step.do, "skive") for step in build.steps)
    for piece in build.pieces if is_told else ():
        if piece.marks.skives and piece.name not in done:
            what = f'the pattern of "{piece.name}" shows a skive, and no step skives it'
            yield piece.place, what, f'write skives = ["{piece.name}"] in a step', piece.name


@check("step-skives-nothing", "What a step skives has a skive.", "counted", needs_whole=True)
def find_empty_skives(subject: Subject) -> Iterator[Found]:
    pieces = subject.parts.pieces
    for step, at in _written(subject, "skives"):
        if at.value in pieces and not pieces[at.value].marks.skives:
            what = f'step {step} skives "{at.value}", and its pattern shows no skive'
            yield at.place, what, "name the piece that is skived, or add the skive to this one", at.value


@check("hardware-in-no-step", "What is bought is set in a step.", "counted", needs_whole=True)
def find_unset_hardware(subject: Subject) -> Iterator[Found]:
    """Hardware that no step sets, where a step sets other hardware, or speaks of setting."""
    build = subject.build
    done = {name for step in build.steps for name in step.hardware}
    used = {one.hardware for one in build.assembly.fastened} | {
        name for names in _taken(subject).values() for name in names
    }
    for item in build.hardware if done else ():
        if item.name not in done and item.name in used:
            what = f'no step sets "{item.name}"'
            yield item.place, what, f'write hardware = ["{item.name}"] in the step that sets it', item.name


@check(
    "step-sets-elsewhere",
    "Hardware is set in a step that has in hand what takes it.",
    "plain from the work",
    needs_whole=True,
)
def find_misplaced_hardware(subject: Subject) -> Iterator[Found]:
    """Hardware of a step that handles parts, none of which takes it; and places that no step reaches."""
    build = subject.build
    taken = _taken(subject)
    for number, at in _written(subject, "hardware"):
        handled = _handled(subject, build.steps[number - 1])
        takers = [part for part, names in taken.items() if at.value in names]
        if handled and takers and handled.isdisjoint(takers):
            what = f'step {number} sets "{at.value}", and nothing that it has in hand takes one'
            where = " or ".join(f'"{part}"' for part in takers[:3])
            yield at.place, what, f"set it with {where}, or name that in this step too", at.value


def _taken(subject: Subject) -> dict[str, set[str]]:
    """Part -> the hardware that goes into it, round which it is folded, or which goes through it from another."""
    build = subject.build
    found: dict[str, set[str]] = {name: set() for name in subject.counts}
    for piece in build.cut:
        for hole in piece.marks.holes:
            for name in (piece.name, *hole.through) if hole.takes else ():
                found.setdefault(name, set()).add(hole.takes)
        found[piece.name] |= {fold.around for fold in piece.marks.folds}
    for strap in build.straps:
        found[strap.name] |= {name for end in strap.ends for name in (*end.rings, end.takes)}
    for one in build.assembly.fastened:
        for part in one.stack.parts:
            found.setdefault(part, set()).add(one.hardware)
    for base in build.pieces:
        for name in (*(it.piece for it in base.marks.landings), *(it.strap for it in base.strap_landings)):
            found[base.name] |= found.get(name, set())
    for join in build.joins:
        found[join.name] |= {name for strip in join.pieces for name in found[strip]}
    return found


def _handled(subject: Subject, step: Step) -> set[str]:
    build = subject.build
    names = {*step.pieces, *step.straps, *step.joins, *step.skives}
    names |= {side.part for seam in build.seams if seam.name in step.seams for side in seam.sides}
    return names | {strip for join in build.joins if join.name in names for strip in join.pieces}


@check("named-twice", "A step names a thing once, and work is done in one step.", "counted", needs_whole=True)
def find_twice_named(subject: Subject) -> Iterator[Found]:
    """A name twice in one list of a step; joins and seams in more steps than they are sewn times."""
    for kind in KINDS:
        seen: Counter[tuple[int, str]] = Counter()
        steps: Counter[str] = Counter()
        for number, at in _written(subject, kind):
            seen[number, at.value] += 1
            steps[at.value] += seen[number, at.value] == 1
            most = _most_steps(subject, kind, at.value)
            if seen[number, at.value] > 1:
                what = f'step {number} names "{at.value}" twice in {kind}'
                yield at.place, what, "leave one out, or write the name that is meant", at.value
            elif steps[at.value] > most:
                what = f'step {number} sews "{at.value}", which an earlier step has sewn already'
                yield at.place, what, "leave one out, or write the name that is meant", at.value


def _most_steps(subject: Subject, kind: str, name: str) -> int:
    """In how many steps a thing may stand: a seam or a join as often as it is sewn, anything else in any number."""
    if kind == "seams":
        return subject.build.assembly.times(name)
    if kind == "joins":
        return sum(copy.part == name for copy in subject.build.assembly.copies)
    return len(subject.build.steps)


def _written(subject: Subject, kind: str) -> Iterator[tuple[int, Value[str]]]:
    """The names of one kind in the steps, with the number of the step, from 1."""
    for number, step in enumerate(subject.spec.steps, start=1):
        yield from ((number, value) for value in getattr(step, kind))


@check(
    "holes-in-no-step",
    "What has holes or slits is in hand in a step that punches, where steps speak of punching.",
    "counted; what is punched through another piece may be accepted",
    needs_whole=True,
)
def find_unpunched_pieces(subject: Subject) -> Iterator[Found]:
    """All pieces with holes that no such step names, in one problem."""
    build = subject.build
    punching = [step for step in build.steps if is_punching(step)]
    named = {name for step in punching for name in _handled(subject, step)}
    if not any(has_phrase(step.do, "punch") for step in punching):
        return
    bare = [piece for piece in build.pieces if (piece.marks.holes or piece.marks.slits) and piece.name not in named]
    if bare:
        number = next(k for k, step in enumerate(build.steps, start=1) if has_phrase(step.do, "punch"))
        names = " and ".join(f'"{piece.name}"' for piece in bare)
        what = f"step {number} punches, and neither it nor a later one has {names} in hand"
        mend = f"add {', '.join(piece.name for piece in bare)} to its pieces, or accept this"
        yield build.steps[number - 1].place, what, mend, bare[0].name
