"""Cautions that the maker accepts, each with a reason, and with the figures at which it is accepted."""

import re
from collections.abc import Iterable
from dataclasses import replace
from typing import Final

from docgen.checks.trade import CHECKS, EARLIER
from docgen.problems import Problem, line_words, make_caution, make_error, sort_problems, suggest
from docgen.read import AcceptSpec
from docgen.resolve import Accepted

ASIDE_RE: Final = r'"[^"]*"|\([^)]*\)|\b(?:on )?lines? \d+(?:(?:,| and) \d+)*'
"""What is no figure of a caution: names, lengths once more in the other unit, lines of the spec."""
FIGURE_RE: Final = r"\d+(?:\.\d+)?(?:/\d+| \d+/\d+)?(?: ?%| (?:mm|cm|m|in|ft|yd|oz|N|lbf|kg|g)\b)?"


def check_accepts(specs: tuple[AcceptSpec, ...]) -> list[Problem]:
    """What is to be accepted and cannot be: a check that is not there, or one that stops the build."""
    risky = [check.id for check in CHECKS if not check.stops]
    stops = {*EARLIER, *(check.id for check in CHECKS if check.stops)}
    problems = []
    for spec in specs:
        if spec.check is None or spec.check.value in risky:
            continue
        name = spec.check.value
        if name in stops:
            what = f'what "{name}" finds stops the build, and cannot be accepted'
            problems.append(make_error(spec.check.place, what, "mend it, and take this out"))
        else:
            mend = suggest(name, risky) or f"checks are {', '.join(risky)}"
            problems.append(make_error(spec.check.place, f'there is no check "{name}"', mend))
    return problems


def accept_cautions(
    specs: tuple[AcceptSpec, ...], problems: Iterable[Problem]
) -> tuple[tuple[Problem, ...], tuple[Accepted, ...]]:
    """The cautions that are left, and those accepted; an acceptance that meets none is a caution of its own, but where its
    figures are others now: then that is told of what it met."""
    left: list[Problem] = []
    accepted: list[Accepted] = []
    met: set[int] = set()
    for problem in sort_problems(problems):
        index = next((i for i, spec in enumerate(specs) if _is_meant(spec, problem)), None)
        reason = specs[index].reason if index is not None else None
        if index is None or reason is None:
            left.append(problem)
        else:
            met.add(index)
            accepted.append(Accepted(problem=problem, reason=reason.value))
    for index, spec in enumerate(specs):
        other = next((k for k, problem in enumerate(left) if _is_named(spec, problem)), None) if spec.figures else None
        if index not in met and other is not None:
            left[other] = _tell_lapsed(spec, left[other])
        elif index not in met and spec.check and spec.reason:
            left.append(_tell_unmet(spec))
    return sort_problems(left), tuple(accepted)


def leave_accepted(specs: tuple[AcceptSpec, ...], problems: Iterable[Problem]) -> list[Problem]:
    """What is told of a spec with errors: all but the cautions that are accepted."""
    return [problem for problem in problems if not is_accepted(specs, problem)]


def is_accepted(specs: tuple[AcceptSpec, ...], problem: Problem) -> bool:
    """Whether a caution is accepted, at its figures and with a reason."""
    return any(spec.reason and _is_meant(spec, problem) for spec in specs)


def tell_figures(problem: Problem) -> str:
    """The figures of a caution in the unit that is shown first, as an acceptance names them; nothing where it has none."""
    return ", ".join(re.findall(FIGURE_RE, re.sub(ASIDE_RE, "", problem.what)))


def _is_meant(spec: AcceptSpec, problem: Problem) -> bool:
    is_same = spec.figures is None or _bare(spec.figures.value) == _bare(tell_figures(problem))
    return is_same and _is_named(spec, problem)


def _is_named(spec: AcceptSpec, problem: Problem) -> bool:
    is_found = spec.check is not None and problem.severity == "caution" and problem.check == spec.check.value
    return is_found and (spec.at is None or spec.at.value == problem.at)


def _bare(figures: str) -> str:
    return "".join(figures.split())


def _tell_lapsed(spec: AcceptSpec, problem: Problem) -> Problem:
    """A caution that was accepted at other figures."""
    was, now = spec.figures.value if spec.figures else "", tell_figures(problem)
    again = f'write figures = "{now}"' if now else "leave figures out"
    what = f"{problem.what}; it is accepted at {was}{line_words(spec.place.line)}"
    return replace(problem, what=what, mend=f"{problem.mend}; or {again} there, if that is all right too")


def _tell_unmet(spec: AcceptSpec) -> Problem:
    at = f' at "{spec.at.value}"' if spec.at else ""
    name = spec.check.value if spec.check else ""
    what = f'nothing is found by "{name}"{at}, so that there is nothing to accept'
    return make_caution(spec.place, what, "take it out")
