"""Which parts the words of a step mean where they speak of cut edges: what the clause names, else what is in hand."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence, Set

from docgen.plan.acts.work import Work
from docgen.plan.step_words import done_in
from docgen.tables.cautions import has_phrase
from docgen.tables.practice import EDGE_VERBS, EDGE_WORK, RIM_VERBS, RIMS, WORK_VERBS

CLAUSE_RE = re.compile(rf"[.;:]|,?\s*\b(?:and |then |and then )?(?=\b(?:{'|'.join(WORK_VERBS)})\b)", re.IGNORECASE)
EDGE_RE = re.compile(
    rf"{'|'.join(EDGE_WORK)}|\b(?:{'|'.join(EDGE_VERBS)})\w*\s+(?:\w+\s+){{0,3}}edges?\b"
    rf"|\b(?:{'|'.join(RIM_VERBS)})\w*\s+(?:\w+\s+){{0,2}}(?:{'|'.join(RIMS)})s?\b",
    re.IGNORECASE,
)
SEAMS_RE = r"(?i)\bseams?\b"
PLACE_RE = r"\b(?:tops?|bottoms?|foot|feet|mouths?|ends?|left|right|sides?|long|short)\b"
"""Of one part, some of its edges."""
WHOLE_RE = r"(?i)\ball (?:round|over)\b|\bedges?\b"
STRAPS = "strap"  # names all straps in hand
# Words of titles by which no part is meant: where an edge is, and what stands between words.
PLACES = {"edge", "top", "bottom", "left", "right", "side", "end", "upper", "lower", "long", "short", "part"}
IDLE = PLACES | {"a", "an", "and", "at", "by", "for", "from", "in", "of", "on", "the", "to", "with"}


def edges_named(work: Work, at: int) -> Iterator[str]:
    """The parts that lines of a step name which finish their edges."""
    for clause in _edge_clauses(done_in(work.steps[at])):
        yield from (name for name in parts_named(work, at, clause) if name in work.pieces)


def speaks_of_edges(words: str) -> bool:
    return EDGE_RE.search(words) is not None


def _edge_clauses(lines: Sequence[str]) -> Iterator[str]:
    yield from (clause for line in lines for clause in CLAUSE_RE.split(line) if speaks_of_edges(clause))


def spoken_of(work: Work, at: int, lines: Sequence[str], beneath: Set[str]) -> frozenset[str]:
    """The parts whose edges these lines of a step finish. A line that names none, and has none in hand or stands where
    nothing is sewn any more, speaks of the whole work, but not of what lies `beneath` others' seams by then."""
    found: set[str] = set()
    for clause in _edge_clauses(lines):
        named, own = {*parts_named(work, at, clause)}, _in_hand(work, at)
        named |= own if named and _speaks_of_seams(work, at, clause) else set()
        is_last = not any(event.kind == "seams" and event.step > at for event in work.build.assembly.events)
        found |= named or own | (work.cut.keys() - beneath if is_last or not own else set())
    return frozenset(found)


def spoken_whole(work: Work, at: int, lines: Sequence[str], beneath: Set[str]) -> frozenset[str]:
    """Those of these parts whose edges the lines finish all round, or without a word of where: not of `the top of the
    front` alone."""
    found: set[str] = set()
    for clause in (one for one in _edge_clauses(lines) if len(one.split()) > 1):
        spoken, begun, is_part = spoken_of(work, at, [clause], beneath), set[str](), False
        for words in re.split(r",|\band\b", clause):
            named = {*parts_named(work, at, words)} & spoken
            places = re.search(PLACE_RE, _without_titles(work, named, words)) is not None
            is_part = places or (is_part and not re.search(WHOLE_RE, words))
            found |= set() if is_part else named
            begun |= named
        found |= set() if is_part else spoken - begun
    return frozenset(found)


def _without_titles(work: Work, names: Set[str], words: str) -> str:
    plain = _plain(words)
    for title in (_plain(work.titles[name]) for name in names):
        plain = plain.replace(title, " ")
    return plain


def _in_hand(work: Work, at: int) -> set[str]:
    return {name for part in work.handled[at] for name in work.strips(part)}


def parts_named(work: Work, at: int, clause: str) -> Iterator[str]:
    """The parts whose title or name stands whole in a clause, longer ones first; of what is left those, in hand before
    others, of which a word does that is no place on a part; and all straps in hand, where it says straps."""
    rest, own = _plain(_object(clause)), _in_hand(work, at)
    called: dict[str, set[str]] = {}
    for name in work.cut:
        for words in {_plain(work.titles[name]), _plain(name)} - {""}:
            called.setdefault(words, set()).add(name)
    for words in sorted(called, key=len, reverse=True):
        if has_phrase(rest, words):
            yield from called[words]
            rest = rest.replace(words, " ")
    told = {word for words in called for word in words.split() if word not in IDLE and has_phrase(rest, word)}
    for word in sorted(told):
        partly = {name for words, names in called.items() if word in words.split() for name in names}
        is_many = re.search(rf"\b{word}e?s\b", rest) is not None
        yield from partly & own if len(partly & own) > is_many else partly
    yield from (name for name in work.straps if name in own and has_phrase(rest, STRAPS))


def _speaks_of_seams(work: Work, at: int, clause: str) -> bool:
    """Whether a clause that names parts for other work finishes seams: `Trim the linings, then burnish both seams`."""
    found = EDGE_RE.search(clause)
    rest = clause[found.start() :] if found is not None else ""
    return re.search(SEAMS_RE, rest) is not None and not any(parts_named(work, at, rest))


def _object(clause: str) -> str:
    """A clause; of one that begins with other work what follows from the finish on: `Fold it and burnish the tabs`."""
    found = EDGE_RE.search(clause)
    begins = clause.lower().lstrip().startswith(WORK_VERBS)
    return clause[found.start() :] if begins and found is not None else clause


def _plain(words: str) -> str:
    return " ".join(re.findall(r"[a-z']+", words.lower()))
