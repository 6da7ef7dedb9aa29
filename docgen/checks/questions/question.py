"""A question that the spec leaves to its maker, and what is read of what it is about."""

import re
from collections.abc import Callable, Iterator, Sequence
from itertools import pairwise
from typing import Final

from docgen.checks.trade import Subject
from docgen.classes import dataclass
from docgen.problems import Place, Problem


@dataclass(frozen=True, slots=True, kw_only=True)
class Question:
    """What is asked, where an answer would stand in the spec, and which key gives it."""

    place: Place
    what: str
    answer: str


Ask = Callable[[Subject], Iterator[Question]]

WORD_RE: Final = re.compile(r"[a-z0-9]+(?:-[a-z0-9]+)*")  # of a sentence, and of a name

REGISTERED: Final[list[Ask]] = []


def question(ask: Ask) -> Ask:
    """Has the function below asked of every build; its first line tells what it asks about."""
    REGISTERED.append(ask)
    return ask


def told_by(subject: Subject, check: str) -> tuple[Problem, ...]:
    """What a check has told of the build, also where the maker accepts that."""
    every = (*subject.build.cautions, *(one.problem for one in subject.build.accepted))
    return tuple(problem for problem in every if problem.check == check)


def speak_by_names(subject: Subject, words: str) -> str:
    """Words in lower case with the titles of parts as their names, so that no name is found within another one's title."""
    words = words.lower()
    titles = [(title.lower().partition(",")[0], name) for name, title in subject.build.part_titles.items()]
    titles += [(name.replace("-", " "), name) for _, name in titles]
    for title, name in sorted({(title, name) for title, name in titles if " " in title}, key=lambda it: -len(it[0])):
        if title in words:
            words = re.sub(rf"\b{re.escape(title)}s?\b", name, words)
    return words


def rises(figures: Sequence[float]) -> bool:
    """Whether each is larger than the one before it."""
    return all(one < other for one, other in pairwise(figures))
