"""What checking found, as the bench reads it: parts by their titles, and nothing of how a spec is written."""

from __future__ import annotations

import re
from collections.abc import Mapping

from docgen.problems import Problem
from docgen.resolve import Build

QUOTED = re.compile(r'"([^"]+)"')


def part_titles(build: Build) -> Mapping[str, str]:
    """What each named part is called on the pages, by its name in the spec."""
    titles = {item.name: item.title for item in build.seams}
    titles |= {item.name: item.title for item in build.joins}
    titles |= {item.name: item.what for item in build.hardware}
    titles |= {item.name: item.title for item in build.materials}
    titles |= {item.name: item.title for item in build.straps}
    titles |= {item.name: item.title for item in build.pieces}
    return titles


def finding_words(problem: Problem, build: Build) -> str:
    """The finding alone: what would mend it is for whoever writes the spec."""
    titles = part_titles(build)
    return QUOTED.sub(lambda found: f'"{titles.get(found[1], found[1])}"', problem.what)
