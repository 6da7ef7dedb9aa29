"""Cautions that are accepted wherever they are found, or whatever their figures are, and with them all that comes later
by the same name."""

from collections.abc import Iterator

from docgen.checks.accepting import tell_figures
from docgen.checks.questions.question import Question, question
from docgen.checks.trade import Subject
from docgen.problems import name_words


@question
def ask_acceptances(subject: Subject) -> Iterator[Question]:
    """Acceptances without a part, and without figures of cautions that have some."""
    for spec in subject.spec.accept:
        name = spec.check.value if spec.check else ""
        met = [one.problem for one in subject.build.accepted if one.problem.check == name]
        told = {problem.at: tell_figures(problem) for problem in met if not spec.at or spec.at.value == problem.at}
        parts = [part for part in told if part]
        figures = next((figures for figures in told.values() if figures), "") if spec.figures is None else ""
        is_anywhere = not spec.at and bool(parts)
        if not figures and not is_anywhere:
            continue
        ways = [f'at = "{parts[0]}"'] if is_anywhere else []
        ways += [f'figures = "{told[parts[0]] if is_anywhere else figures}"'] if figures else []
        others = f", and a table more for {name_words(parts[1:])}" if is_anywhere and len(parts) > 1 else ""
        how = [*(["wherever it is found"] if is_anywhere else []), *(["whatever its figures are"] if figures else [])]
        what = f'"{name}" is accepted {", ".join(how)}'
        answer = f"write {', '.join(ways)} in it{others}: then what comes later is told"
        yield Question(place=spec.place, what=what, answer=answer)
