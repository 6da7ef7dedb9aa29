"""`docgen check`"""

from __future__ import annotations

from typing import TYPE_CHECKING

from docgen.calls.asked import CheckCall
from docgen.cli.describing import describe_accepted, describe_edge, describe_iron, describe_worked_out
from docgen.cli.telling import DONE, SPEC_WRONG, print_json, say

if TYPE_CHECKING:
    from docgen.problems import Problem

ABOUT = """\
Read a spec and tell all that is wrong with it, with line and mend. Writes nothing.

  docgen check field-bag.toml
  docgen check --explain hole-near-edge
"""
ASKED = CheckCall


def run(asked: CheckCall) -> int:
    """Tell the problems of a spec."""
    from docgen.calls.check import Checked, check_spec, explain
    from docgen.problems import SpecRejected, render_problems

    if asked.explain:
        say(explain(asked.explain, asked.spec))
        return DONE
    if not asked.json:
        checked = check_spec(asked)
        for name, length in checked.worked_out:
            say(describe_worked_out(name, length))
        for edge in checked.drawn_edges:
            say(describe_edge(edge))
        for told in checked.irons:
            say(describe_iron(told))
        for item in checked.accepted:
            say(describe_accepted(item))
        if checked.cautions:
            say(render_problems(checked.cautions))
            say("no errors: it can be made")
        else:
            say("no problems")
        return DONE
    try:
        checked, is_good = check_spec(asked), True
    except SpecRejected as error:
        checked, is_good = Checked(cautions=error.problems), False
    accepted = [_as_object(item.problem) | {"reason": item.reason} for item in checked.accepted]
    problems = [_as_object(problem) for problem in checked.cautions]
    print_json({"ok": is_good, "problems": problems, "accepted": accepted})
    return DONE if is_good else SPEC_WRONG


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
