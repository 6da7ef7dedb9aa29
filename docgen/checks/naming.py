"""Measures that a wrong value is made of: told with their lines, where the figure itself stands."""

import re
from dataclasses import replace

from docgen.problems import Problem
from docgen.read import Spec

NAME_RE = re.compile(r"[a-z][a-z0-9-]*")
MOST = 3


def name_measures(problem: Problem, spec: Spec) -> Problem:
    """The problem with the lines of the measures in its written words; none where a check has not found it."""
    words = problem.place.words
    if not problem.check or not words.startswith('"') or problem.place.path != spec.path:
        return problem
    lines = {item.name: item.length.place.line for item in spec.measures if item.length.place.path == spec.path}
    names = [name for name in dict.fromkeys(NAME_RE.findall(words)) if name in lines]
    if not names or len(names) > MOST:
        return problem
    told = ", ".join(f'"{name}" on line {lines[name]}' for name in names)
    return replace(problem, what=f"{problem.what}; {told}")
