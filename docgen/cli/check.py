"""`docgen check`"""

from __future__ import annotations

from typing import TYPE_CHECKING

from docgen.calls.asked import CheckCall
from docgen.cli.describing import describe_checked
from docgen.cli.telling import DONE, SPEC_WRONG, print_json, say

if TYPE_CHECKING:
    from docgen.calls.outside import Checked
    from docgen.checks.questions import Question
    from docgen.problems import Problem

ABOUT = """\
Read a spec and tell all that is wrong with it, with line and mend. Writes nothing.

  docgen check field-bag.toml
  docgen check --explain hole-near-edge
"""
ASKED = CheckCall


def run(asked: CheckCall) -> int:
    """Tell the problems of a spec."""
    from docgen.calls.check import check_spec, explain
    from docgen.calls.outside import Checked
    from docgen.problems import SpecRejected

    if asked.explain:
        say(explain(asked.explain, asked.spec))
        return DONE
    if not asked.json:
        checked = check_spec(asked)
        say("\n".join([*describe_checked(checked), _sum_up(checked)]))
        return DONE
    try:
        checked, is_good = check_spec(asked), True
    except SpecRejected as error:
        checked, is_good = Checked(cautions=error.problems), False
    accepted = [_as_object(item.problem) | {"reason": item.reason} for item in checked.accepted]
    problems = [_as_object(problem) for problem in checked.cautions]
    worked_out = [{"name": name, "is": words} for name, words in checked.worked_out]
    notes = {"worked_out": worked_out, "edges": list(checked.drawn_edges), "irons": list(checked.irons)}
    notes["asked"] = [_as_question(question) for question in checked.asked]
    print_json({"ok": is_good, "problems": problems, "accepted": accepted, **notes})
    return DONE if is_good else SPEC_WRONG


def _sum_up(checked: Checked) -> str:
    """The last line: whoever reads it alone must know that something is asked above."""
    from docgen.problems import count_words

    good = "no errors: it can be made" if checked.cautions else "no problems"
    return f"{good}; {count_words(len(checked.asked), 'question')} asked above" if checked.asked else good


def _as_question(question: Question) -> dict[str, str | int]:
    place = question.place
    return {"file": place.path, "line": place.line, "what": question.what, "answer": question.answer}


def _as_object(problem: Problem) -> dict[str, str | int]:
    place = problem.place
    return {
        "severity": problem.severity,
        "file": place.path,
        "line": place.line,
        "column": place.column,
        "written": place.words,
        "what": problem.what,
        "mend": problem.mend,
        "check": problem.check,
        "at": problem.at,
    }
