"""What checking found, as the bench reads it: parts by their titles, and nothing of how a spec is written."""

import re

from docgen.problems import Problem
from docgen.resolve import Build

QUOTED = re.compile(r'"([^"]+)"')


def finding_words(problem: Problem, build: Build) -> str:
    """The finding alone: what would mend it is for whoever writes the spec."""
    titles = build.titles
    return QUOTED.sub(lambda found: f'"{titles.get(found[1], found[1])}"', problem.what)
