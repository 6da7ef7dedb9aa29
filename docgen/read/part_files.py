"""The files of parts that a spec names -> what stands in them, each table as often as its numbers say.

Only ordinary files of bounded size in the spec's folder are opened, and those that come with the program.
"""

from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path
from typing import Any, Final

from docgen.classes import dataclass
from docgen.problems import Problem, SpecRejected, make_error, suggest
from docgen.read.check import VALUES_MOST
from docgen.read.kinds import NUMBER_MOST
from docgen.read.locate import KeyPath, Location, locate_keys
from docgen.read.ready import READY, is_ready_name, read_ready, ready_file
from docgen.read.repeating import Numbers, Repeated, RepeatError, TooMuch
from docgen.read.source import decode_source, parse_source
from docgen.read.svg.svg_file import DrawingError, FileKind, read_file
from docgen.read.words import quote_word

PART: Final = FileKind(
    noun="part", endings=(".toml",), ask="a TOML file", bytes_most=1024**2, too_large="check that it is a part's file"
)
PARTS_MOST: Final = 20
KEYS_MOST: Final = VALUES_MOST // PARTS_MOST


@dataclass(frozen=True, slots=True, kw_only=True)
class Opened:
    """A part's file: its name beside the spec, its bytes, and what `tomllib` reads in it with the places; else what keeps
    it from that. `path` is that of its problems; `is_shipped` where the file comes with the program."""

    path: str = ""
    file: str = ""
    source: bytes = b""
    document: Mapping[str, Any] | None = None
    places: Mapping[KeyPath, Location] | None = None
    refused: DrawingError | None = None
    problems: tuple[Problem, ...] = ()
    is_shipped: bool = False


def open_parts(path: str | Path, document: Mapping[str, Any]) -> dict[str, Opened]:
    """The files that the [parts] of a spec name, by their prefix, before the spec is checked."""
    table = document.get("parts")
    entries = list(table.items())[:PARTS_MOST] if isinstance(table, dict) else []
    named = [(name, item) for name, item in entries if isinstance(item, dict)]
    return {
        name: _open(Path(path).parent, name, use.strip(), item.get("numbers"))
        for name, item in named
        if isinstance(use := item.get("use"), str)
    }


def _open(folder: Path, prefix: str, use: str, given: Any) -> Opened:
    file = ready_file(use) if is_ready_name(use) else use
    try:
        source, is_shipped = _find(folder, use, file)
    except DrawingError as error:
        return Opened(refused=error)
    where = str(folder / f"[parts.{prefix}]" if is_shipped else folder / file)
    opened = Opened(path=where, file=file, source=source, is_shipped=is_shipped)
    try:
        text = decode_source(where, source)
        document, places = parse_source(where, text), locate_keys(text)
    except SpecRejected as error:
        return replace(opened, problems=error.problems)
    try:
        held = Repeated(document, places, _find_numbers(document, given), KEYS_MOST)
    except RepeatError as error:
        here = places.get(error.at, Location(line=0, column=0)).place(where)
        return replace(opened, problems=(make_error(here, error.what, error.mend),))
    except TooMuch:
        what = f"the part comes to more than {KEYS_MOST:,} keys and values"
        whole = Location(line=0, column=0).place(where)
        return replace(opened, problems=(make_error(whole, what, "split it into parts"),))
    return replace(opened, document=held.document, places=held.places)


def _find(folder: Path, use: str, file: str) -> tuple[bytes, bool]:
    """The bytes of a part, and whether they come with the program. Raises DrawingError."""
    if not is_ready_name(use) or (folder / file).exists():
        return read_file(folder, file, PART), False
    if use not in READY:
        mend = suggest(use, READY) or '"docgen keys parts" tells them; a file of your own ends in .toml'
        raise DrawingError(f"there is no ready part {quote_word(use)}", mend)
    return read_ready(use), True


def _find_numbers(document: Mapping[str, Any], given: Any) -> Numbers:
    """The numbers of a part as a spec sets them, within their bounds; what is wrong with them is told elsewhere."""
    numbers = {}
    table = document.get("numbers")
    for name, told in table.items() if isinstance(table, dict) else ():
        held = told if isinstance(told, dict) else {}
        least, most = _whole(held.get("least"), 0), _whole(held.get("most"), NUMBER_MOST)
        set_to = _whole(given.get(name) if isinstance(given, dict) else None, -1)
        numbers[name] = set_to if least <= set_to <= most else _whole(held.get("number"), 0)
    return numbers


def _whole(value: Any, otherwise: int) -> int:
    is_whole = isinstance(value, int) and not isinstance(value, bool) and 0 <= value <= NUMBER_MOST
    return value if is_whole else otherwise


@dataclass(frozen=True, slots=True, kw_only=True)
class Shown:
    """A ready part for a person: the words at its head, the numbers and ranges that it asks for by their names, and its
    tables where nothing else is set."""

    words: str
    numbers: Mapping[str, Mapping[str, Any]]
    ranges: Mapping[str, Mapping[str, Any]]
    document: Mapping[str, Any]


def show_ready(name: str) -> Shown:
    """A ready part with its numbers as they stand; KeyError for one that is not there."""
    text = decode_source(name, read_ready(name))
    document = parse_source(name, text)
    held = Repeated(document, {}, _find_numbers(document, {}), KEYS_MOST).document
    return Shown(
        words=text.partition("\n\n")[0], numbers=held.pop("numbers", {}), ranges=held.pop("ranges", {}), document=held
    )
