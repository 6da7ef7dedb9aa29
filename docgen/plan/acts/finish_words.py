"""What is done with cut edges, out of how a spec says it: without when, and without where, which other words of it tell."""

from __future__ import annotations

import re
from collections.abc import Iterator

from docgen.tables.cautions import has_phrase
from docgen.tables.practice import EDGE_TOOLS, EDGES_AFTER, EDGES_BEFORE, EDGES_FIRST, EDGES_WITH

NO_TIMES = ("then", *EDGES_WITH)  # say what follows, or with what
TIMES = tuple(word for word in (*EDGES_BEFORE, *EDGES_FIRST, *EDGES_AFTER) if word not in NO_TIMES)
THEN_RE = r"(?i),?\s*\b(?:and )?then\b"
FROM_TIME_RE = rf"(?i),?\s*\b(?:{'|'.join(TIMES)})\b.*"
MOUTH_RE = r"(?i)\bmouths?\b"
TO_WORK_RE = r"(?i)^.*?(?=\b\w+ed\b)"


def finish_words(words: str, *, is_rest: bool = False) -> str:
    """`burnished` of `burnished: pocket tops before they are sewn, the rest once it is`; of what comes later alone where
    `is_rest`. As it is where it says no time, and where nothing is left."""
    if not any(has_phrase(words, word) for word in TIMES):
        return words
    groups = [one for one in _groups(words) if any(verb in one.lower() for verb in EDGE_TOOLS)]
    late = [one for one in groups if any(has_phrase(one, word) for word in EDGES_AFTER)]
    told = [_bare(one, is_limited=is_of_mouth(words)) for one in (late if is_rest and late else groups)]
    return ", ".join(dict.fromkeys(one for one in told if one)) or words


def is_of_mouth(words: str) -> bool:
    """Whether all work of a finish is done at a mouth: `pocket mouth burnished before it is sewn`."""
    clauses = [*filter(str.strip, re.split("[;:.,]", words))]
    works = [one for one in clauses if any(verb in one.lower() for verb in EDGE_TOOLS)]
    timed = [one for one in clauses if any(has_phrase(one, word) for word in TIMES)]  # as `the rest once it is`
    return bool(works) and all(re.search(MOUTH_RE, one) for one in (*works, *timed))


def _groups(words: str) -> Iterator[str]:
    """Its clauses; those with a comma between belong together up to one that says a time."""
    for clause in re.split("[;:.]", re.sub(THEN_RE, ",", words)):
        begun: list[str] = []
        for part in clause.split(","):
            begun.append(part.strip())
            if any(has_phrase(part, word) for word in TIMES):
                yield ", ".join(begun)
                begun = []
        if begun:
            yield ", ".join(begun)


def _bare(clause: str, *, is_limited: bool) -> str:
    """The work alone: up to the time, and from the first word of work on; of what a time begins what follows it. Of
    a finish that `is_limited` what comes before the work says where."""
    found = re.sub(FROM_TIME_RE, "", clause) or clause.partition(" ")[2]
    return (found if is_limited else re.sub(TO_WORK_RE, "", found, count=1)).strip(" ,")
