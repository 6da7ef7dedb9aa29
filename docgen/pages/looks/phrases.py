"""A phrase of a shop's own layout file, held against the shipped one: what it lacks, and what cannot be printed."""

import re
from collections.abc import Iterator
from typing import Any, Final

from docgen.fonts import missing_characters
from docgen.pages.looks.words import PUT_IN
from docgen.problems import shorten, show_plain

Fault = tuple[str, str]
"""What is wrong, and its mend."""

BRACE: Final = re.compile(r"[{}]")
NO_WORD: Final = re.compile(r"\W")
WHITE: Final = str.maketrans("\t\n", "  ", "\r")
SPARE_LETTERS: Final = 30
"""Words may be twice as long as the shipped ones, and so many letters more."""


def judge_phrase(value: object, shipped: str | list[str]) -> Iterator[tuple[tuple[int, ...], Fault]]:
    """Every fault of a line of words, or of a list of them, with the place in the list of the line that has it."""
    if isinstance(value, list) != isinstance(shipped, list):
        yield (), ("these are no words", f"write them like {quote(shipped)}")
        return
    lines, names = _lines(value), _names(_lines(shipped))
    for index, line in enumerate(lines):
        at = (index,) if isinstance(value, list) else ()
        yield from ((at, fault) for fault in _judge_line(line, names, shipped))
    yield from (((), fault) for fault in _judge_whole([line for line in lines if isinstance(line, str)], shipped))


def quote(phrase: str | list[str]) -> str:
    """A phrase as it is written in a file; a long line shortened."""
    said = ", ".join(f'"{shorten(line)}"' for line in _lines(phrase))
    return f"[{said}]" if isinstance(phrase, list) else said


def _lines(phrase: Any) -> list[Any]:
    return phrase if isinstance(phrase, list) else [phrase]


def _names(lines: list[str]) -> list[str]:
    return [name for line in lines for name in PUT_IN.findall(line)]


def _judge_line(line: object, names: list[str], shipped: str | list[str]) -> Iterator[Fault]:
    """What is wrong with one line, whatever the others say."""
    if not isinstance(line, str) or not line.strip():
        yield "these are no words", f"write words in quotes, like {quote(_lines(shipped)[0])}"
        return
    if "\n" in line:
        yield "these words stand on more than one line", "write them on one line"
    for name in _names([line]):
        if name not in names:
            yield f"nothing is called {{{show_plain(name)[:40]}}} here", _mend_name(name, names)
    rest = PUT_IN.sub("", line)
    if BRACE.search(rest):
        mend = "write one brace on each side of a name, and none elsewhere: a brace itself cannot be printed"
        yield "these words hold a brace too many", mend
    numerals = "".join(letter for letter in rest if letter.isnumeric())
    if numerals:
        what = f'the words hold a number ("{shorten(numerals, 12)}"); only the program prints numbers'
        yield what, "write it in letters, or leave it out"
    missing = missing_characters(rest.translate(WHITE))
    if missing:
        yield f"the typeface has no {', '.join(map(repr, missing[:3]))}", "write it otherwise"


def _mend_name(name: str, names: list[str]) -> str:
    bare = NO_WORD.split(name.strip())[0]
    if bare in names:
        return f"write {{{bare}}}: a name stands alone between its braces"
    if not names:
        return "nothing is put in here: write it without braces"
    known = " and ".join(f"{{{one}}}" for one in names)
    meant = _meant(name, names)
    return f"did you mean {{{meant}}}?" if meant else f"the program puts in {known} here"


def _meant(name: str, names: list[str]) -> str:
    """The name that a misspelt one was to be; empty where none is near."""
    import difflib

    return next(iter(difflib.get_close_matches(name, names, n=1)), "")


def _judge_whole(lines: list[str], shipped: str | list[str]) -> Iterator[Fault]:
    """What would be missing on the page, and what has no room."""
    letters, most = sum(map(len, lines)), 2 * sum(map(len, _lines(shipped))) + SPARE_LETTERS
    if letters > most:
        yield f"these words have {letters} letters; there is room for {most}", "shorten them"
    given, known = _names(lines), _names(_lines(shipped))
    meant = {_meant(name, known) for name in given}
    for name in known:
        if given.count(name) > 1:
            yield f"{{{name}}} stands here more than once", "keep one of them"
        elif name not in meant:  # a misspelt one is told already
            yield f"these words have lost {{{name}}}", "put it back: what the program knows must stand on the page"
