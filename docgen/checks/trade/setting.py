"""Checks of the steps: what they leave out, what they say twice, and hardware that they set where nothing takes it."""

import re
from collections import Counter
from collections.abc import Iterator
from dataclasses import replace

from docgen.checks.trade.check import Found, Subject, check
from docgen.checks.trade.fittings import find_bare_folds
from docgen.checks.trade.landings import find_steps_without_part
from docgen.problems import line_words, name_words
from docgen.read import Value
from docgen.resolve import Step, Strap, find_punching, is_punching
from docgen.tables.cautions import has_phrase

# What else may be done to a piece in a step that punches.
OTHER_WORK = (
    "cut",
    "edge",
    "bevel",
    "burnish",
    "crease",
    "dye",
    "mark",
    "glue",
    "fold",
    "stamp",
    "sand",
    "prick",
    "set",
    "smooth",
)
CUTS_SLITS = ("slit", "slits", "slot", "slots", "window")  # a step that speaks of them cuts them
SLIT_RE = re.compile(r"\bcut (a|the|both|short|all|buckle|\d+)?( short| small)? ?(slit|slot)s?\b", re.I)  # is punching
SETS_RE = r"(?i)\b(rivet|snap|buckle|eyelet|screw|stud)(s|ed)?\b"
KINDS = ("pieces", "skives", "joins", "seams", "straps", "hardware")


@check("skive-in-no-step", "What has a skive is skived in a step.", "counted", needs_whole=True)
def find_idle_skives(subject: Subject) -> Iterator[Found]:
    """Pieces whose bands no step thins, where a step skives others, speaks of skiving, or the steps tell their tools: who
    writes those writes all that is done."""
    build = subject.build
    done = {name for step in build.steps for name in step.skives}
    is_told = bool(done) or any(step.tools or has_phrase(step.do, "skive") for step in build.steps)
    for piece in build.pieces if is_told else ():
        if piece.marks.skives and piece.name not in done:
            what = f'the pattern of "{piece.name}" shows a skive, and no step skives it'
            yield piece.place, what, f'write skives = ["{piece.name}"] in a step', piece.name


@check(
    "step-skives-nothing", "What a step skives has a skive.", "counted", needs_whole=True, gives_way=("hem-unskived",)
)
def find_empty_skives(subject: Subject) -> Iterator[Found]:
    pieces = subject.parts.pieces
    for step, at in _written(subject, "skives"):
        if at.value in pieces and not pieces[at.value].marks.skives:
            what = f'step {step} skives "{at.value}", and its pattern shows no skive'
            yield at.place, what, "name the piece that is skived, or add the skive to this one", at.value


@check(
    "hardware-in-no-step",
    "What is bought is set in a step.",
    "counted",
    needs_whole=True,
    gives_way=("step-sets-elsewhere",),
)
def find_unset_hardware(subject: Subject) -> Iterator[Found]:
    """Hardware that no step sets, where a step sets other hardware or speaks of setting some, or the steps tell their
    tools."""
    build = subject.build
    done = {name for step in build.steps for name in step.hardware}
    used = {one.hardware for one in build.assembly.fastened} | {
        name for names in _taken(subject).values() for name in names
    }
    is_told = bool(done) or any(step.tools or re.search(SETS_RE, step.do) for step in build.steps)
    for item in build.hardware if is_told else ():
        if item.name not in done and item.name in used:
            what = f'no step sets "{item.name}"'
            yield item.place, what, f'write hardware = ["{item.name}"] in the step that sets it', item.name


@check(
    "step-sets-elsewhere",
    "Hardware is set in a step that has in hand what takes it.",
    "plain from the work",
    needs_whole=True,
    gives_way=("marks-taken-over",),
    waits_for=("work-in-no-step",),
)
def find_misplaced_hardware(subject: Subject) -> Iterator[Found]:
    """Hardware of a step that handles parts, none of which takes it; and places that no step reaches."""
    build = subject.build
    taken = _taken(subject)
    told: set[str] = set()
    missing = {part for _, _, _, part in find_steps_without_part(subject)}
    bare = find_bare_folds(subject)
    for number, at in _written(subject, "hardware"):
        handled = _handled(subject, build.steps[number - 1])
        takers = [part for part, names in taken.items() if at.value in names]
        if handled and takers and handled.isdisjoint(takers) and missing.isdisjoint(takers):
            what = f'step {number} sets "{at.value}", and nothing that it has in hand takes one'
            told.add(at.value)
            if at.value in bare and bare[at.value][0].name in handled:
                piece, fold = bare[at.value]
                what = f'step {number} sets "{at.value}" with "{piece.name}" in hand, whose fold goes round nothing'
                yield fold.place, what, f'write around = "{at.value}" in its fold', piece.name
                continue
            where = " or ".join(f'"{part}"' for part in takers[:3])
            mend = f"set it with {where}, or name that in this step too"
            in_hand = {name for part in handled & {*taken} for name in taken[part]}
            unset = [(place, name) for place, _, _, name in find_unset_hardware(subject) if name in in_hand]
            if len(unset) == 1:
                ((place, name),) = unset
                what += f', and no step "{name}" (line {place.line}), which goes there'
                mend = f'did you mean "{name}"? else {mend}'
            yield at.place, what, mend, at.value
    yield from _tell_unreached(subject, told)


def _tell_unreached(subject: Subject, told_of: set[str]) -> Iterator[Found]:
    """Places in parts that no step which sets their hardware has in hand; once for each part and hardware."""
    build = subject.build
    hosts = {name: base.name for base in build.pieces for name in base.landing_names}
    told: set[tuple[str, str]] = set()
    for one in (one for one in build.assembly.fastened if one.hardware not in told_of):
        steps = [step for step in build.steps if one.hardware in step.hardware]
        there = {one.part, *one.stack.parts, hosts.get(one.part, one.part)}
        there |= {join.name for join in build.joins if not there.isdisjoint(join.pieces)}
        handled = [_handled(subject, step) for step in steps]
        key = one.part, one.hardware
        if steps and all(parts and parts.isdisjoint(there) for parts in handled) and key not in told:
            told.add(key)
            what = f'"{one.hardware}" goes into "{one.part}", and no step that sets it has that in hand'
            has = [step for step in build.steps if one.part in (*step.pieces, *step.straps) and not is_punching(step)]
            table = "straps" if one.part in subject.parts.straps else "pieces"
            mend = f'name "{one.part}" in {table} of the step that sets it'
            if has:
                also = f"or name that in the step that sets it{line_words(steps[0].place.line)}"
                mend = f'add "{one.hardware}" to the hardware of the step that has "{one.part}", {also}'
            yield (has[-1] if has else steps[0]).place, what, mend, one.part


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
        for name in base.landing_names:
            found[base.name] |= found.get(name, set())
    for join in build.joins:
        found[join.name] |= {name for strip in join.pieces for name in found[strip]}
    return found


def _handled(subject: Subject, step: Step) -> set[str]:
    build = subject.build
    names = {*step.pieces, *step.straps, *step.joins, *step.skives}
    names |= {side.part for seam in build.seams if seam.name in step.seams for side in seam.sides}
    names |= {
        name
        for piece in build.pieces
        for hole in piece.marks.holes
        if piece.name in step.pieces and hole.takes in step.hardware
        for name in hole.through
    }
    keepers = {end.keeper: strap.name for strap in build.straps for end in strap.ends if end.keeper}
    names |= {keepers[name] for name in names & {*keepers}}  # a keeper is put in with the strap that it is for
    return names | {strip for join in build.joins if join.name in names for strip in join.pieces}


@check(
    "fitting-left-out",
    "What a piece is folded round, or the end of a strap, is put in before, or in the step in which, that is fastened.",
    "plain from the work",
    needs_whole=True,
    gives_way=("hardware-count",),
)
def find_left_out_fittings(subject: Subject) -> Iterator[Found]:
    """Pieces folded round a fitting that only later steps set than the first that fastens the piece through its holes; and
    straps that a step turns and closes round one."""
    steps = subject.build.steps
    yield from _tell_left_out_of_ends(subject)
    for piece in subject.build.pieces:
        around = {fold.around for fold in piece.marks.folds if fold.around and not fold.is_open}
        takes = {hole.takes for hole in piece.marks.holes if hole.takes}
        fastening = [k for k, step in enumerate(steps) if piece.name in step.pieces and takes & {*step.hardware}]
        for name in sorted(around) if fastening else ():
            at = [k for k, step in enumerate(steps) if name in step.hardware]
            if at and min(at) > fastening[0]:
                what = (
                    f'step {fastening[0] + 1} fastens "{piece.name}", which goes round "{name}", and step {min(at) + 1} is '
                    f"the first that sets that (line {steps[min(at)].place.line})"
                )
                yield steps[fastening[0]].place, what, f'add "{name}" to its hardware', piece.name


def _tell_left_out_of_ends(subject: Subject) -> Iterator[Found]:
    """Straps of which an end is closed round what only a later step sets."""
    steps = subject.build.steps
    first: dict[str, int] = {}
    for at, step in enumerate(steps):
        for name in step.hardware:
            first.setdefault(name, at)
    for strap in subject.build.straps:
        late = [
            (at, name)
            for name, at in _closing_steps(subject, strap).items()
            if at < first.get(name, at) and not _hangs_it_in(steps[first[name]])
        ]
        for at, name in late[:1]:
            what = (
                f'step {at + 1} closes an end of "{strap.name}" round "{name}", and step {first[name] + 1} is the first '
                f"that sets that (line {steps[first[name]].place.line})"
            )
            yield steps[at].place, what, f'add "{name}" to its hardware', strap.name


def _hangs_it_in(step: Step) -> bool:
    """Whether a step that sets a ring in a piece, and names no strap, may close the end of one round it, too."""
    return bool(step.pieces) and not step.straps


def _closing_steps(subject: Subject, strap: Strap) -> dict[str, int]:
    """What its ends turn round -> the step that closes them: the last that has the strap, or a keeper of it, in hand, and
    sets what goes through them."""
    names = {strap.name, *(end.keeper for end in strap.ends)}
    found: dict[str, int] = {}
    for end in strap.ends:
        steps = enumerate(subject.build.steps)
        made = [
            at
            for at, step in steps
            if not names.isdisjoint(step.straps) and (not end.takes or end.takes in step.hardware)
        ]
        if made:
            found |= dict.fromkeys(end.rings, made[-1])
    return found


@check(
    "step-pieces-elsewhere",
    "A step that sets hardware and says which pieces it has in hand names one that takes it.",
    "plain from the work",
    needs_whole=True,
)
def find_steps_with_other_pieces(subject: Subject) -> Iterator[Found]:
    """Steps that set hardware and make or sew nothing but straps, and none of whose pieces has to do with what they set,
    where other pieces take that."""
    build, taken = subject.build, _taken(subject)
    for step in build.steps:
        if not step.hardware or not step.pieces or step.seams or step.joins or step.skives or not step.straps:
            continue
        takers = [part for part, names in taken.items() if part in subject.parts.pieces and names & {*step.hardware}]
        known = {*step.pieces} & {*taken}
        if takers and known and known.isdisjoint(takers):
            own, others = (name_words(names) for names in (step.pieces, takers[:3]))
            items = name_words(step.hardware)
            what = f"step {build.steps.index(step) + 1} sets {items} in {others}, and has {own} in hand"
            yield step.place, what, f"name {others} in its pieces", step.pieces[0]


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
    "What has holes or slits is in hand in a step that punches, or that sets what they take, where steps speak of "
    "punching or tell their tools.",
    "counted; what is punched through another piece may be accepted",
    needs_whole=True,
    gives_way=("step-without-its-part", "piece-in-no-step", "marks-taken-over"),
    waits_for=("work-in-no-step", "hardware-in-no-step"),
)
def find_unpunched_pieces(subject: Subject) -> Iterator[Found]:
    """All pieces with holes that no such step names, in one problem; slits alone may be cut by the knife. What a step
    sets hardware in is punched there, where no other step punches it: the build sheet says so."""
    build = subject.build
    punching = [step for step in build.steps if is_punching(step)]
    named = {name for step in punching for name in _handled(subject, replace(step, skives=()))}
    for name, at in find_punching(build, build.steps).items():
        if any(hole.takes in build.steps[at].hardware for hole in subject.parts.pieces[name].marks.holes):
            named.add(name)
    is_told = any(step.tools for step in build.steps) or any(has_phrase(step.do, "punch") for step in punching)
    cutting = [step for step in build.steps if any(has_phrase(step.do, word) for word in CUTS_SLITS)]
    cut = {name for step in cutting for name in _handled(subject, replace(step, skives=()))}
    bare = [
        piece
        for piece in build.pieces
        if piece.name not in named and (piece.marks.holes or (piece.marks.slits and piece.name not in cut))
    ]
    if bare and is_told:
        names = name_words(piece.name for piece in bare)
        what = f"{names} {'have' if len(bare) > 1 else 'has'} holes or slits, and no step that punches has it in hand"
        mend = "name it under pieces in the step that punches it, or accept this"
        yield (punching or build.steps)[0].place, what, mend, bare[0].name


@check(
    "step-punches-nothing",
    "What a step has in hand to punch has a hole or a slit.",
    "counted",
    needs_whole=True,
    gives_way=("hole-without-mate",),
)
def find_blank_pieces(subject: Subject) -> Iterator[Found]:
    """Pieces of a step that speaks of punching and of no other work on them, and that have nothing to punch."""
    pieces, steps = subject.parts.pieces, subject.build.steps
    for number, at in _written(subject, "pieces"):
        step, piece = steps[number - 1], pieces.get(at.value)
        said = SLIT_RE.sub("", step.do)
        if piece is None or not has_phrase(said, "punch") or any(has_phrase(said, word) for word in OTHER_WORK):
            continue
        is_skived = at.value in step.skives or step.hardware or step.seams or step.joins or step.straps
        if not (piece.marks.holes or piece.marks.slits or is_skived):
            what = f'step {number} punches, and "{at.value}" has no hole and no slit'
            yield at.place, what, "name the piece that is punched", at.value
