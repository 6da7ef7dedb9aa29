"""Checks of the order of the steps: nothing is handled before it is cut, sewn before it is skived, or made too late."""

from collections.abc import Iterator, Sequence

from docgen.resolve.build import Build, Step
from docgen.resolve.checks.check import Found, Subject, check
from docgen.resolve.sequence import Work, read_work, side_pieces
from docgen.tables.cautions import has_phrase

# What is cut inside a piece, or is no piece at all, when a step begins with "Cut".
CUT_LATER = ("slit", "hole", "notch", "slot", "thread", "tape", "cord")


@check(
    "steps-out-of-order",
    "Steps stand in an order in which they can be done.",
    "plain from the work; what counts as closed in is our choice",
    needs_whole=True,
)
def find_disorder(subject: Subject) -> Iterator[Found]:
    """What the spec's own steps do too late, at the place of each step."""
    return find_late_work(subject.build, subject.build.steps)


def find_late_work(build: Build, steps: Sequence[Step]) -> Iterator[Found]:
    """What these steps do too late, step by step."""
    work = read_work(build, steps)
    for at in range(len(steps)):
        yield from _find_late_cuts(work, at)
        yield from _find_late_skives(work, at)
        yield from _find_late_holes(work, at)
        yield from _find_late_parts(work, at)
        yield from _find_late_landings(work, at)


def _find_late_cuts(work: Work, at: int) -> Iterator[Found]:
    """Nothing is handled before it is cut."""
    step = work.steps[at]
    if not step.do.startswith("Cut ") or any(has_phrase(step.do, phrase) for phrase in CUT_LATER):
        return
    for name in (*step.pieces, *step.straps):
        if work.handled[name] < at:
            yield _too_late(work, at, work.handled[name], f'cuts "{name}"', "has in hand", "cut it", name)


def _find_late_skives(work: Work, at: int) -> Iterator[Found]:
    """Nothing is sewn along its edges before it is skived; what is sewn on to it may come first."""
    for name in work.steps[at].skives:
        sewn = [
            work.seams[seam.name]
            for seam in work.build.seams
            if seam.name in work.seams
            and any(side.edges and name in side_pieces(work.build, side) for side in seam.sides)
        ]
        sewn += [work.joins[j.name] for j in work.build.joins if name in j.pieces and j.name in work.joins]
        if sewn and min(sewn) < at:
            yield _too_late(work, at, min(sewn), f'skives "{name}"', "sews", "skive it", name)


def _find_late_holes(work: Work, at: int) -> Iterator[Found]:
    """No hole is made where it cannot be reached any more, or after what it takes is set."""
    for piece in work.build.pieces:
        name = piece.name
        if work.punched.get(name) != at:
            continue
        if work.closed.get(name, at) < at:
            yield _too_late(work, at, work.closed[name], f'punches "{name}"', "closes in", "punch it", name)
        for item in dict.fromkeys(hole.takes for hole in piece.marks.holes if hole.takes):
            if (before := _find_setting(work, item, name)) < at:
                what = f'step {at + 1} punches "{name}", and step {before + 1} sets "{item}" in it already'
                yield work.steps[at].place, what, f"punch it before step {before + 1}", name


def _find_setting(work: Work, item: str, piece: str) -> int:
    """The first step that sets the hardware in this piece; behind the last step when none does."""
    setting = (
        at for at, step in enumerate(work.steps) if item in step.hardware and (not step.pieces or piece in step.pieces)
    )
    return next(setting, len(work.steps))


def _find_late_parts(work: Work, at: int) -> Iterator[Found]:
    """No joint comes after the seam that sews its join in, and no strap is made after it is sewn on."""
    for kind, names in (("join", work.steps[at].joins), ("strap", work.steps[at].straps)):
        for name in names:
            sewn = [
                work.seams[seam.name]
                for seam in work.build.seams
                if seam.name in work.seams and any(side.part == name for side in seam.sides)
            ]
            if sewn and min(sewn) < at:
                yield _too_late(work, at, min(sewn), f'makes the {kind} "{name}"', "sews", "make it", name)


def _find_late_landings(work: Work, at: int) -> Iterator[Found]:
    """Nothing is sewn on to a piece that is closed in."""
    for seam in work.build.seams:
        if work.seams.get(seam.name) != at:
            continue
        laid = " and ".join(f'"{side.part}"' for side in seam.sides if side.edges)
        for side in seam.sides:
            if not side.edges and work.closed.get(side.part, at) < at:
                before = work.closed[side.part]
                what = f'step {at + 1} sews {laid} on to "{side.part}", which step {before + 1} closes in already'
                yield work.steps[at].place, what, f"sew it on before step {before + 1}", seam.name


def _too_late(work: Work, at: int, before: int, does: str, did: str, mend: str, name: str) -> Found:
    what = f"step {at + 1} {does}, which step {before + 1} {did} already"
    return work.steps[at].place, what, f"{mend} before step {before + 1}", name
