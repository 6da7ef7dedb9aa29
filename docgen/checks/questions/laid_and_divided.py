"""Goods that are laid on a piece, and dividing lines of it through another: one place in the order of the work has both."""

from collections.abc import Iterator

from docgen.checks.questions.question import Question, question
from docgen.checks.trade import Subject


@question
def ask_laid_and_divided(subject: Subject) -> Iterator[Question]:
    """The goods want the piece alone, the lines want it on the other: one of them comes at the wrong time, unless the
    first words of the step say what is sewn when."""
    steps, events = subject.build.assembly.steps, subject.build.assembly.events
    told = {one.name for one in events if one.kind == "dividers" and one.step < len(steps) and steps[one.step].first}
    for piece in subject.build.pieces:
        laid = [line.goods for line in piece.dividers if line.goods]
        beneath = [line.on for line in piece.dividers if line.on and not line.goods]
        spec = subject.specs.get(piece.name)
        if laid and beneath and spec is not None and spec.dividers and piece.name not in told:
            what = (
                f'"{laid[0]}" is laid on "{piece.name}", and its dividing lines go through "{beneath[0]}" too: '
                "the steps sew both in one go, and one of them comes too early or too late"
            )
            answer = (
                f'say in first of the step that "{laid[0]}" is sewn to "{piece.name}" while that is loose, and its '
                f'dividing lines once it is on "{beneath[0]}"'
            )
            yield Question(place=spec.dividers[0].place, what=what, answer=answer)
