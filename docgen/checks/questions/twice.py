"""Questions that say the same of a left and of a right part, which are one."""

import re
from collections.abc import Iterator, Sequence
from typing import Final

from docgen.checks.questions.places import SIDE_RE
from docgen.checks.questions.question import Question
from docgen.problems import line_words

QUOTED_RE: Final = re.compile(r'"([^"]*)"')
LINES_RE: Final = re.compile(r"\blines? \d+(?:(?:,| and) \d+)*")


def tell_once(asked: Sequence[Question]) -> Iterator[Question]:
    """Questions in the order of the file; those that differ in left and right of a name alone as one, at the first of them,
    which tells the line of the other. Those that are of one name are two."""
    alike: dict[tuple[str, ...], list[Question]] = {}
    for one in asked:
        alike.setdefault((one.place.path or "", _bare(one.what), _bare(one.answer)), []).append(one)
    for first, *others in alike.values():
        told = [name for one in others if (name := _other_name(first, one))]
        if len(told) < len(others):
            yield from (first, *others)
            continue
        words = "".join(
            f'; "{name}" likewise{line_words(one.place.line)}' for name, one in zip(told, others, strict=True)
        )
        yield Question(place=first.place, what=first.what + words, answer=first.answer)


def _bare(words: str) -> str:
    """Words without left and right in their names, and without lines."""
    return LINES_RE.sub("", QUOTED_RE.sub(lambda found: f'"{SIDE_RE.sub("", found[1])}"', words))


def _other_name(first: Question, one: Question) -> str:
    """The name in a question that stands for another one in the first; "" where all are the same."""
    names = zip(QUOTED_RE.findall(one.what), QUOTED_RE.findall(first.what), strict=True)
    return next((name for name, other in names if name != other), "")
