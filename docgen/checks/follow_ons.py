"""Errors that follow from another: told of them is the cause alone."""

from __future__ import annotations

import re

from docgen.problems import Problem

_LOST_RE = r"there is no \[[a-z]+\.([a-z0-9-]+)\]"
_FIGURE_RE = r'unknown measure "([a-z0-9-]+)\.'


def leave_follow_ons(problems: list[Problem]) -> list[Problem]:
    """The problems without those of a figure of what is told as not there."""
    lost = {name for problem in problems for name in re.findall(_LOST_RE, problem.what)}
    if not lost:
        return problems
    return [problem for problem in problems if lost.isdisjoint(re.findall(_FIGURE_RE, problem.what))]
