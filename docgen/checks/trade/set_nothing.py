"""Check of steps that set hardware of which others set all."""

from collections.abc import Iterator

from docgen.checks.trade.check import Found, Subject, check
from docgen.problems import line_words


@check(
    "step-sets-nothing",
    "A step that names hardware sets some of it.",
    "counted",
    needs_whole=True,
    gives_way=("hardware-count", "named-twice", "step-pieces-elsewhere"),
    waits_for=("work-in-no-step", "step-sets-elsewhere", "hardware-in-no-step"),
)
def find_steps_without_any(subject: Subject) -> Iterator[Found]:
    """Hardware that a step names and that others set, all of it; not what lies in folds, and is put in with these."""
    build, steps = subject.build, subject.build.steps
    events = build.assembly.events
    done: dict[str, set[int]] = {}
    for fit in build.assembly.fastened:
        if fit.event < len(events) and events[fit.event].step < len(steps):
            done.setdefault(fit.hardware, set()).add(events[fit.event].step)
    rings = {name for strap in build.straps for end in strap.ends for name in end.rings}
    rings |= {fold.around for piece in build.pieces for fold in piece.marks.folds}
    for at, step in enumerate(subject.spec.steps if len(subject.spec.steps) == len(steps) else ()):
        for value in step.hardware:
            setting = done.get(value.value, set())
            if setting and at not in setting and value.value not in rings:
                first = min(setting)
                what = (
                    f'step {at + 1} names "{value.value}", and none is left for it: step {first + 1} sets '
                    f"{'it' if len(setting) == 1 else 'the first'}{line_words(steps[first].place.line)}"
                )
                mend = "name in this step the parts that it goes through there, else take it out of hardware"
                yield value.place, what, mend, value.value
