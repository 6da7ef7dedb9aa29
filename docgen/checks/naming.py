"""Lines that a problem names: of the measures that a wrong value is made of, and of landings; and how several are told."""

import re
from dataclasses import replace

from docgen.geometry.outline import SIDES, WHOLE
from docgen.problems import Place, Problem, lines_words
from docgen.read import Spec

NAME_RE = re.compile(r"[a-z][a-z0-9-]*")
UNREAD_RE = "unknown key|measure|has no unit|sign is missing|there is no p|cannot be read|goes round"
# Edges as a partner of a seam names them, and the ends of its run, or what a place is measured from.
EDGE = rf"(?:{'|'.join((*SIDES, 'start', 'end', 'edge', WHOLE))})(?![\w-])"
EDGES_RE = rf'^"[a-z0-9 -]+:(?: +{EDGE})*|\b(?:from|to) +{EDGE}'
MOST = 3


def name_measures(problem: Problem, spec: Spec) -> Problem:
    """The problem with the lines of the measures in its written words; none where the words are what cannot be read."""
    told = tell_measures(problem.place, spec) if problem.check or not re.search(UNREAD_RE, problem.what) else ""
    return replace(problem, what=f"{problem.what}; {told}") if told else problem


def tell_measures(place: Place, spec: Spec) -> str:
    """The measures in the words that stand there, each with its line; nothing where there are none or many."""
    if not place.words.startswith('"') or place.path != spec.path:
        return ""
    lines = {item.name: item.length.place.line for item in spec.measures if item.length.place.path == spec.path}
    names = [name for name in dict.fromkeys(NAME_RE.findall(re.sub(EDGES_RE, "", place.words))) if name in lines]
    return ", ".join(f'"{name}" on line {lines[name]}' for name in names) if len(names) <= MOST else ""


def landing_lines(spec: Spec, name: str) -> str:
    """` (lines 12 and 14)`, where it is written that a part lands; nothing unless in two lines."""
    lands = [item for piece in spec.pieces for item in piece.landings]
    lines = sorted({item.place.line for item in lands for one in (item.piece, item.strap) if one and one.value == name})
    return f" ({lines_words(lines)})" if len(lines) == 2 else ""
