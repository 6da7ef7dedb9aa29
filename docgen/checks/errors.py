"""How errors are told: of several of one cause the cause alone, and lengths in the units of the spec."""

from __future__ import annotations

import re
from dataclasses import replace

from docgen.problems import Problem
from docgen.written.units.telling import Show, format_length

_LOST_RE = r"there is no \[[a-z]+\.([a-z0-9-]+)\]"
_FIGURE_RE = r'unknown measure "([a-z0-9-]+)\.'
# Words in quotes are as somebody wrote them, or is to write them; a figure in brackets stands behind its inches already.
_NOT_BEFORE = r"(?<![\w.,/-])(?<!unit is )(?<!stitch of )(?<!\d and )(?<!\d to )"  # of a range the unit stands once
_LENGTH = r"(-?\d[\d,]*(?:\.\d+)?) mm\b(?! \([\d ./-]+ in\)| per)"
_QUOTED_OR_MM_RE = rf'"[^"]*"|\([^()]*\)|{_NOT_BEFORE}{_LENGTH}'


def word_errors(problems: list[Problem], show: Show) -> list[Problem]:
    """The problems as they are told where some are errors, which are worded in millimetres where they are found."""
    told = _leave_follow_ons(problems)
    return (
        [_tell_inches(problem) if problem.severity == "error" else problem for problem in told]
        if show == "in"
        else told
    )


def _leave_follow_ons(problems: list[Problem]) -> list[Problem]:
    """The problems without those of a figure of what is told as not there."""
    lost = {name for problem in problems for name in re.findall(_LOST_RE, problem.what)}
    return (
        [problem for problem in problems if lost.isdisjoint(re.findall(_FIGURE_RE, problem.what))] if lost else problems
    )


def _tell_inches(problem: Problem) -> Problem:
    return replace(problem, what=_in_both(problem.what), mend=_in_both(problem.mend))


def _in_both(words: str) -> str:
    """The words with each length in inches, and the millimetres behind it."""
    return re.sub(_QUOTED_OR_MM_RE, _convert, words) if " mm" in words else words


def _convert(found: re.Match[str]) -> str:
    mm = float((found[1] or "0").replace(",", ""))
    return f"{format_length(mm, 'in').partition(' (')[0]} ({found[0]})" if mm else found[0]
