"""A stitch whose inset leaves no room on several parts, or is no inset at all: told once, where the inset is written."""

import re
from dataclasses import replace
from typing import Final

from docgen.problems import Problem, line_words, name_words
from docgen.read import Spec
from docgen.resolve.build import Build
from docgen.resolve.seams.seam import INSET_CHECK
from docgen.resolve.values import words
from docgen.written.units.telling import format_length, format_mm

_NAMED: Final = r'"([^"]+)"'


def blame_insets(spec: Spec, problems: list[Problem], build: Build) -> list[Problem]:
    """The problems; those of one stitch that does not fit are one at its inset, where they are of several parts or the
    inset is beyond the most, else each has the inset and its line."""
    insets = {one.name: one.inset.place for one in spec.stitches if one.inset}
    of_seams = {value.place: words(seam.stitch) for seam in spec.seams for value in seam.meet}
    for stitch in build.stitches:
        deep = [one for one in problems if one.check == INSET_CHECK]
        found = [one for one in deep if of_seams.get(one.place, one.at) == stitch.name]
        if not found or stitch.name not in insets:
            continue
        parts = [re.findall(_NAMED, one.what)[-1] for one in found]
        head, line = f'the inset of the stitch "{stitch.name}" is', line_words(insets[stitch.name].line)
        if len({*parts}) == 1 and stitch.inset_mm <= build.limits.most_inset_mm:
            told = {
                one: replace(one, what=f"{one.what}; {head} {format_mm(stitch.inset_mm)}{line}", check="", at="")
                for one in found
            }
            problems = [told.get(one, one) for one in problems]
            continue
        lines = ", ".join(dict.fromkeys(str(one.place.line) for one in found))
        there = f"{name_words(dict.fromkeys(parts))} (line{'s' if ',' in lines else ''} {lines})"
        what = f"{head} {format_length(stitch.inset_mm, build.show)}, and there is no room for it on {there}"
        first = replace(found[0], place=insets[stitch.name], what=what, mend="look at the figure and its unit", at="")
        problems = [*(one for one in problems if one not in found), replace(first, check="")]
    return problems
