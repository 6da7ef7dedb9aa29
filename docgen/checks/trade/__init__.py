"""The checks: a small function each, under a decorator with its id, its sentence and its source.

Every module of this room is loaded, so that a new check is one function in one of them. What they find of a build that
is made is told here; what stops it from being made stands in `earlier`.
"""

import re
from collections.abc import Callable
from importlib import import_module
from pathlib import Path

from docgen.checks.trade.check import REGISTERED, Subject
from docgen.checks.trade.earlier import EARLIER, EARLIER_CHECKS
from docgen.problems import Place, Problem, has_errors, make_caution, make_error

__all__ = ["CHECKS", "EARLIER", "EARLIER_CHECKS", "Subject", "run_checks"]

for _module in sorted(file.stem for file in Path(__file__).parent.glob("[a-z]*.py")):
    import_module(f"{__name__}.{_module}")
# Those that need a whole build look last, when all that stops it is known, and of these those that stop it first, but for
# what is looked for where nothing else is found.
CHECKS = tuple(
    sorted(REGISTERED, key=lambda check: (check.needs_whole, 2 if check.stops and check.waits_for else not check.stops))
)
BY_ID = {check.id: check for check in CHECKS}
DOUBTED = ("thickness-unusual", "thickness-in-other-unit", "hardware-unusual", "machine-unusual")
"""Checks that ask whether a figure is meant: once that is accepted, what is measured by it is told."""
LINE_RE = r"\blines? (\d+)"


def run_checks(subject: Subject, problems: list[Problem], is_accepted: Callable[[Problem], bool]) -> None:
    """Add what the checks find to the problems. At a value that is an error already no caution is told: one cause is one
    problem."""
    for check in CHECKS:
        if check.needs_whole and has_errors(problems):
            continue
        make = make_error if check.stops else make_caution
        wrong = {problem.place for problem in problems if problem.severity == "error"}
        found = [make(place, what, mend, check.id, at) for place, what, mend, at in check.find(subject)]
        problems += [problem for problem in found if check.stops or not _is_in(problem.place, wrong)]
    problems[:] = keep_causes(problems, is_accepted)


def keep_causes(problems: list[Problem], is_accepted: Callable[[Problem], bool]) -> list[Problem]:
    """The problems without those that another one is the cause of; nothing waits for the doubt of a figure that is
    accepted."""
    told = {problem.check for problem in problems}
    doubts = {problem.check for problem in problems if problem.check in DOUBTED and not is_accepted(problem)}
    awaited = {name for name in told if name not in DOUBTED} | doubts
    kept = []
    for problem in problems:
        check = BY_ID.get(problem.check)
        causes = told.intersection(check.gives_way) if check else set()
        is_hanging = check is not None and not awaited.isdisjoint(check.waits_for)
        if not is_hanging and not any(other.check in causes and _is_one_cause(problem, other) for other in problems):
            kept.append(problem)
    return kept


def _is_one_cause(problem: Problem, other: Problem) -> bool:
    """Whether two problems are of one part, or one of them names the line of the other."""
    at = bool(problem.at) and problem.at == other.at
    return at or other.place.line in _lines(problem) or problem.place.line in _lines(other)


def _lines(problem: Problem) -> set[int]:
    return {problem.place.line, *(int(line) for line in re.findall(LINE_RE, problem.what))} - {0}


def _is_in(place: Place, wrong: set[Place]) -> bool:
    """Whether a value, and no table as a whole, stands where something is wrong."""
    return place in wrong and not place.words.startswith("[")
