"""Marks of a piece several of which lie outside it: told once, by what gives the piece its shape."""

import re
from dataclasses import replace
from typing import Final

from docgen.problems import Problem, make_error
from docgen.read import Spec

SEVERAL: Final = 3
NO_CROSS: Final = "does not cross the piece"
OUTSIDE_RE: Final = rf"lies outside the piece|would land beside this piece|{NO_CROSS}"
_NAME: Final = r"[a-z][a-z0-9-]*"


def blame_shapes(spec: Spec, problems: list[Problem]) -> list[Problem]:
    """The problems; those of marks outside one piece are one at its size or its corners, with the lines of its measures,
    where there are several, and have these behind them where there are few."""
    outside = [problem for problem in problems if re.search(OUTSIDE_RE, problem.what)]
    lines = {item.name: item.length.place.line for item in spec.measures}
    for piece in spec.pieces if outside else ():
        places = {hole.at.place for hole in piece.holes if hole.at}
        places |= {row.place for row in piece.hole_rows}
        places |= {fold.at.place for fold in piece.folds if fold.at}
        places |= {divider.at.place for divider in piece.dividers if divider.at}
        places |= {landing.at.place for landing in piece.landings if landing.at}
        found = [problem for problem in outside if problem.place in places]
        shape = [value for point in piece.points for value in point.at] or [*piece.size]
        if not found or not shape:
            continue
        hang = dict.fromkeys(name for value in shape for name in re.findall(_NAME, value.value) if name in lines)
        named = ", ".join(f'"{name}" on line {lines[name]}' for name in hang)
        more = f"; its shape hangs on {named}" if hang else ""
        if len(found) < SEVERAL:
            size = f', or look at the size of "{piece.name}" (line {shape[0].place.line})'
            problems = [_add_shape(one, more, size) if one in found else one for one in problems]
            continue
        told = ", ".join(str(problem.place.line) for problem in found)
        what = f'{len(found)} marks of "{piece.name}" lie outside it (lines {told}){more}'
        mend = "look at these figures and their units, and at its shape"
        problems = [problem for problem in problems if problem not in found]
        problems.append(make_error(piece.place, what, mend))
    return problems


def _add_shape(problem: Problem, hangs_on: str, size: str) -> Problem:
    """A problem with what the shape of its piece hangs on, and with the piece's size where a line misses the piece."""
    mend = problem.mend + (size if NO_CROSS in problem.what else "")
    return replace(problem, what=problem.what + hangs_on, mend=mend)
