"""Starter specs: whole, commented builds to change into one's own. Only the command line uses them."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Final

from docgen.classes import dataclass
from docgen.problems import CallRejected, shorten, suggest_any
from docgen.written.units.lengths import parse_length
from docgen.written.units.numbers import WrittenError

STARTERS: Final = {
    "bag": "a lined panel bag with a gusset and a shoulder strap",
    "satchel": "two panels, a gusset, and a flap that closes on two studs",
    "tote": "an open tote: one body round two sides, two handles",
    "bucket": "a bucket bag: a wall that closes on itself, on a round base",
    "duffel": "a body with a zip round two round ends, carry handles",
    "crossbody": "a small lined bag, sewn face to face and turned",
    "wallet": "a wallet that folds once, with two card pockets on each side",
    "belt": "a belt with a turned buckle end and a keeper",
    "strap": "a shoulder strap in two parts that hook on",
    "lead": "a dog lead with a hook and a loop for the hand",
    "sheath": "a knife sheath with a welt and a belt loop",
    "sleeve": "a flat sleeve sewn by hand",
}
"""Name -> what it is, in words."""

MARKER: Final = "your-code"
"""Stands in a starter wherever the code of the new build goes."""

SCHEMA_FILE: Final = "spec-schema.json"
SCHEMA_LINE: Final = f"#:schema ./{SCHEMA_FILE}\n"
"""First line of a new spec: where an editor finds the JSON Schema that it completes by."""

MEASURE_RE = re.compile(
    r'(?P<name>[a-z][\w-]*)\s*= "(?P<value>[^"]*)"\s*# (?P<words>.*), (?P<least>\d.*) to (?P<most>\d.*)'
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Measure:
    """A measure that a starter hangs on: its value as written, what it is, and the range (as written) in which the
    starter makes a right build."""

    name: str
    value: str
    words: str
    least: str
    most: str


def list_measures(like: str) -> tuple[Measure, ...]:
    """The measures of a starter that may be set, in its order; KeyError for a name not in STARTERS."""
    return tuple(_find_measures(_read(like)))


def fill_starter(like: str, code: str, sizes: Mapping[str, str] | None = None) -> str:
    """The text of a starter with the code of the new build in it, and measures of other `sizes` (lengths as written).

    Raises KeyError for a name not in STARTERS, and CallRejected for a size that is no length, for no measure of it, or
    beyond its range.
    """
    text = SCHEMA_LINE + _read(like).replace(MARKER, code)
    known = {measure.name: measure for measure in _find_measures(text)}
    for name, size in (sizes or {}).items():
        if name not in known:
            raise CallRejected(f'no measure of the {like} is called "{shorten(name)}"; {suggest_any(name, known)}')
        _hold_to_range(known[name], size, like)
        text = _write_size(text, name, size)
    return text


def read_sizes(written: tuple[str, ...]) -> dict[str, str]:
    """Names and lengths from words like "width=14 in"; raises CallRejected for words that are not like it."""
    sizes = {}
    for words in written:
        name, equals, size = (part.strip() for part in words.partition("="))
        if not (name and equals and size):
            raise CallRejected(f'cannot read --set "{shorten(words)}"; write it like --set width="14 in"')
        sizes[name] = size.strip('"')
    return sizes


def _read(like: str) -> str:
    if like not in STARTERS:
        raise KeyError(like)
    return Path(__file__).with_name(f"{like}.toml").read_text(encoding="utf-8")


def _find_measures(text: str) -> Iterator[Measure]:
    for line in text.splitlines():
        if found := MEASURE_RE.fullmatch(line):
            yield Measure(**found.groupdict())


def _write_size(text: str, name: str, size: str) -> str:
    line = re.compile(rf'^({re.escape(name)}\s*= )"[^"]*"', re.MULTILINE)
    return line.sub(lambda found: f'{found[1]}"{size}"', text, count=1)


def _hold_to_range(measure: Measure, size: str, like: str) -> None:
    try:
        mm = parse_length(size)
    except WrittenError as error:
        raise CallRejected(f'{measure.name} = "{shorten(size)}" is no length; {error.mend}') from error
    if not parse_length(measure.least) <= mm <= parse_length(measure.most):
        raise CallRejected(
            f"{measure.name} of the {like} goes from {measure.least} to {measure.most}, and {size} is beyond it; "
            "write a size in between, and change the spec by hand from there"
        )
