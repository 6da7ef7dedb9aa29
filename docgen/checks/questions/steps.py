"""Steps that say what is done, and not with what, where or how it is held."""

import re
from collections.abc import Iterator
from typing import Final

from docgen.checks.questions.question import Question, question
from docgen.checks.trade import Subject
from docgen.tables.consumables import is_glue

# What a step begins with, or goes on with, that glues; "glued" and "the glue" speak of what was glued before.
GLUES: Final = re.compile(r"(?:^|[.,;:]\s|\b(?:and|then)\s)\s*(?:glue|cement)\b", re.IGNORECASE)
SEWS: Final = re.compile(r"\b(?:sew|stitch)\b", re.IGNORECASE)
SEWN_KINDS: Final = ("seams", "joins", "straps", "dividers", "landings")


@question
def ask_fittings(subject: Subject) -> Iterator[Question]:
    """Ends of straps that are turned and sewn round what a later step has in hand."""
    build = subject.build
    turned = {(name, which): at for name, which, at in build.assembly.ends_turned}
    steps = [event.step for event in build.assembly.events]
    for strap in build.straps:
        made = next((k for k, step in enumerate(build.steps) if strap.name in step.straps), len(build.steps))
        by_ring: dict[str, int] = {}
        for which, end in enumerate(strap.ends):
            at = turned.get((strap.name, which), len(steps))
            for ring in end.rings if not end.takes else ():
                by_ring.setdefault(ring, steps[at] if at < len(steps) else made)
        for ring, at in by_ring.items():
            named = [k for k, step in enumerate(build.steps) if ring in step.hardware]
            if named and min(named) > at and at < len(build.steps):
                here, there = at + 1, min(named) + 1
                what = (
                    f'step {here} turns and sews the end of "{strap.name}" round "{ring}", which step {there} has first'
                )
                answer = f'name "{ring}" in hardware of step {here}, or "{strap.name}" in straps of step {there}'
                yield Question(place=build.steps[at].place, what=what, answer=answer)


@question
def ask_glue(subject: Subject) -> Iterator[Question]:
    """Steps that glue, and do not say with what."""
    for number, step in enumerate(subject.build.steps, 1):
        if GLUES.search(step.do) and not any(is_glue(tool) for tool in step.tools):
            what = f"step {number} glues, and nothing says with what"
            answer = 'name it in tools of the step, for example "contact cement"; its drying time is told then, too'
            yield Question(place=step.place, what=what, answer=answer)


@question
def ask_work(subject: Subject) -> Iterator[Question]:
    """Steps that sew, and of which nothing tells the stitch."""
    sewn = {event.step for event in subject.build.assembly.events if event.kind in SEWN_KINDS}
    is_told = any(caution.check == "work-in-no-step" for caution in subject.build.cautions)
    for number, step in enumerate(subject.build.steps):
        if (
            SEWS.search(step.do)
            and not is_told
            and number not in sewn
            and not any(SEWS.search(line) for line in (*step.first, *step.last))
        ):
            what = f"step {number + 1} sews, and nothing says with which stitch, where and how often"
            answer = 'name the seam, strap or join in it, or write it line by line: last = ["Sew ...", "..."]'
            yield Question(place=step.place, what=what, answer=answer)


@question
def ask_held(subject: Subject) -> Iterator[Question]:
    """What is sewn flat on the middle of a piece, where clips do not reach, by a step that names no glue or tape."""
    for number, step in enumerate(subject.build.steps, 1):
        if any(is_glue(tool) for tool in step.tools):
            continue
        for seam in (seam for seam in subject.build.seams if seam.name in step.seams):
            own, flat = ([one for one in seam.sides if bool(one.edges) is has] for has in (True, False))
            if len(own) == 1 and flat and flat[0].part != own[0].part and not step.first:
                what = f'step {number} does not say how "{own[0].part}" is held on "{flat[0].part}" until it is sewn'
                answer = 'name "double-sided tape" or "contact cement" in tools of the step: clips do not reach there'
                yield Question(place=step.place, what=what, answer=answer)


@question
def ask_punched(subject: Subject) -> Iterator[Question]:
    """Steps that begin with punching, and have nothing in hand."""
    for number, step in enumerate(subject.build.steps, 1):
        has = step.pieces or step.straps or step.seams or step.joins or step.hardware or step.trimmings or step.skives
        if step.do.lower().startswith("punch ") and not has:
            what = f"step {number} punches, and nothing says which part"
            answer = "write pieces = [...] or straps = [...] in it; where the words are enough there is nothing to do"
            yield Question(place=step.place, what=what, answer=answer)
