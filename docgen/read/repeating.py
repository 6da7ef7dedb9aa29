"""What a part's file says of each of a number: a table with `each = "pockets"` stands as often as there are pockets, and
{n} in it is 1, 2, ...; in any words {pockets} is the number itself."""

import re
from collections.abc import Iterator, Mapping
from typing import Any, Final

from docgen.read.locate import KeyPath, Location
from docgen.read.words import quote_word

EACH: Final = "each"
COUNTER: Final = "n"
MARK_RE: Final = r"\{([^{}]*)\}"
TERM_RE: Final = r"\s*([+-])\s*(\d{1,3}|[a-z][a-z0-9-]*)"
MOST_TERMS: Final = 6

Numbers = Mapping[str, int]


class RepeatError(ValueError):
    """What is wrong at a key of the part, in `what`; what would mend it, in `mend`."""

    def __init__(self, at: KeyPath, what: str, mend: str) -> None:
        super().__init__(what)
        self.at, self.what, self.mend = at, what, mend


class TooMuch(ValueError):
    """The part comes to more keys and values than are allowed."""


class Repeated:
    """A part's values with each table as often as it is said, and where every one of them stands in the file."""

    def __init__(self, document: Mapping[str, Any], places: Mapping[KeyPath, Location], numbers: Numbers, most: int):
        """Raises RepeatError for what cannot be read, TooMuch beyond `most` keys and values."""
        self.places: dict[KeyPath, Location] = {}
        self._from, self._most = places, most
        self.document: dict[str, Any] = self._fill_table(document, (), (), numbers)

    def _fill(self, value: Any, was: KeyPath, at: KeyPath, numbers: Numbers) -> Any:
        """A value as it is once its numbers are known; `was` is its path in the file, `at` its new one."""
        if was in self._from:
            self.places[at] = self._from[was]
            if len(self.places) > self._most:
                raise TooMuch
        if isinstance(value, dict):
            return self._fill_table(value, was, at, numbers)
        if isinstance(value, list):
            return self._fill_list(value, was, at, numbers)
        return fill_words(value, was, numbers) if isinstance(value, str) else value

    def _fill_table(self, table: Mapping[str, Any], was: KeyPath, at: KeyPath, numbers: Numbers) -> dict[str, Any]:
        filled: dict[str, Any] = {}
        for word, value in table.items():
            here = (*was, word)
            if word == EACH and isinstance(value, str):
                continue
            for count in _counts(value, here, numbers):
                known = {**numbers, **count}
                name = str(fill_words(word, here, known))
                if name in filled:
                    raise RepeatError(here, f"{quote_word(name)} is given twice", "put {n} into its name")
                filled[name] = self._fill(value, here, (*at, name), known)
        return filled

    def _fill_list(self, items: list[Any], was: KeyPath, at: KeyPath, numbers: Numbers) -> list[Any]:
        filled: list[Any] = []
        for index, item in enumerate(items):
            here = (*was, index)
            for count in _counts(item, here, numbers):
                filled.append(self._fill(item, here, (*at, len(filled)), {**numbers, **count}))
        return filled


def _counts(value: Any, at: KeyPath, numbers: Numbers) -> Iterator[Numbers]:
    """What {n} is, for each time that a value stands."""
    each = value.get(EACH) if isinstance(value, dict) else None
    if not isinstance(each, str):
        yield {}
        return
    for count in range(_work_out(each, (*at, EACH), numbers)):
        yield {COUNTER: count + 1}


def fill_words(text: str, at: KeyPath, numbers: Numbers) -> str | int:
    """Words with their numbers put in; a number where they are nothing else. Raises RepeatError."""
    found = re.fullmatch(MARK_RE, text)
    if found:
        return _work_out(found[1], at, numbers)
    return re.sub(MARK_RE, lambda mark: str(_work_out(mark[1], at, numbers)), text)


def _work_out(text: str, at: KeyPath, numbers: Numbers) -> int:
    """A number, or numbers that are added and taken away: "pockets - 1"."""
    rest, total, terms = f"+{text.strip()}", 0, 0
    while rest:
        term = re.match(TERM_RE, rest)
        terms += 1
        if term is None or terms > MOST_TERMS:
            raise RepeatError(at, f"{quote_word(text)} is no number", 'write it like "pockets" or "n - 1"')
        sign, word = term.groups()
        if not word.isdigit() and word not in numbers:
            known = ", ".join(numbers) or "none"
            raise RepeatError(at, f"there is no number {quote_word(word)}", f"numbers known here: {known}")
        total += (1 if sign == "+" else -1) * (int(word) if word.isdigit() else numbers[word])
        rest = rest[term.end() :]
    return total
