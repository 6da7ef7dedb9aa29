"""Keepers that the words of a step lay in a fold, where no end says so: they are not laid out for that step."""

import re
from collections.abc import Iterator
from typing import Final

from docgen.checks.questions.question import Question, question
from docgen.checks.trade import Subject

IN_FOLD_RE: Final = r"(?i)\bkeepers?\b[^.;:]*\bin(?:side)? (?:the|its|that) fold\b"


@question
def ask_folded_keepers(subject: Subject) -> Iterator[Question]:
    """Keepers of which none lies in a fold, where a step says that the keeper does: beside one that does another slides."""
    if any(end.keeper for strap in subject.build.straps for end in strap.ends):
        return
    steps = [step for step in subject.build.steps if re.search(IN_FOLD_RE, step.do)]
    for own in subject.spec.straps:
        strap = subject.parts.straps.get(own.name)
        if strap is None or own.keeper_for is None or not steps:
            continue
        if any(end.shape == "turned" for end in subject.parts.straps[strap.keeper_for].ends):
            what = (
                f'a step lays the keeper "{own.name}" in a fold, and no end says so: it is not laid out there, and is '
            )
            what += "as long as one that goes all round"
            answer = f'write keeper = "{own.name}" at the turned end in whose fold it lies'
            yield Question(place=own.keeper_for.place, what=what, answer=answer)
