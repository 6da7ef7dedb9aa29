"""Measures of a layout file -> mm, each within limits round the shipped one, so that pages stay readable and fit."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import field, replace
from functools import lru_cache
from typing import Any, Final, Literal

from docgen.classes import dataclass
from docgen.layout_files import LayoutFile, shipped_layouts
from docgen.problems import Place, Problem, SpecRejected, make_error, shorten, suggest
from docgen.read import read_tables, read_values
from docgen.written.units.lengths import parse_length, parse_type_size
from docgen.written.units.numbers import WrittenError
from docgen.written.units.table import MM_PER_POINT
from docgen.written.units.telling import format_number

Kind = Literal["type", "line", "space", "tone"]
KeyPath = tuple[str | int, ...]

LEAST_TYPE_MM: Final = 5 * MM_PER_POINT
LINE_MM: Final = (0.05, 2.0)
DASH_MM: Final = (0.05, 50.0)
DASHES_MOST: Final = 12
TONES: Final = {
    "help_grey": (0.0, 0.7),
    "leading": (1.1, 2.0),
    "heading_leading": (1.0, 2.0),
    "step_leading": (1.1, 2.0),
}
BANDS: Final = {
    "band": (16.5, 40.0),
    "band_row_code": (3.3, 10.0),
    "band_row_cells": (4.8, 14.0),
    "margin": (5.0, 30.0),
}
"""What would crowd the band out of its words or its code, in mm; every other space goes by `SPACE_SHARES`."""
TYPE_SHARES: Final = (0.6, 1.5)
SPACE_SHARES: Final = (1 / 3, 2.5)


@dataclass(slots=True)
class Measures:
    """One layout file being read: its tables, the place of every key, and what was found wrong."""

    file: LayoutFile
    tables: Mapping[str, Any]
    places: Mapping[KeyPath, Place]
    problems: list[Problem] = field(default_factory=list)

    def place(self, *path: str | int) -> Place:
        """Where a key stands, else its table, else the file."""
        found = self.places.get(path)
        return found or (self.place(*path[:-1]) if path else Place(path=self.file.path))

    def note(self, place: Place, what: str, mend: str = "") -> None:
        self.problems.append(make_error(place, what, mend))

    def number(self, kind: Kind, table: str, key: str) -> float:
        """A setting in mm, or a plain number of [tone]; 0 where it is wrong, which is then noted."""
        keys = self.tables.get(table)
        if not isinstance(keys, Mapping) or key not in keys:
            self.note(replace(self.place(table), words=""), f'[{table}] has no "{key}"', self._example(table, key))
            return 0.0
        place = self.place(table, key)
        try:
            value = read_measure(kind, keys[key])
        except WrittenError as error:
            self.note(place, error.what, error.mend)
            return 0.0
        if not self.file.is_shipped:
            self._check(place, kind, key, value, read_measure(kind, shipped_tables(self.file.name)[table][key]))
        return value

    def _example(self, table: str, key: str) -> str:
        written = shipped_tables(self.file.name).get(table, {}).get(key)
        return f"add {key} = {_quote(written)}" if written is not None else ""

    def _check(self, place: Place, kind: Kind, key: str, value: float, shipped: float) -> None:
        least, most = find_limits(kind, key, shipped)
        if not least - 1e-6 <= value <= most + 1e-6:
            self.note(place, f'"{key}" is outside what a page can take', f"use {_span(kind, least, most)}")

    def finish(self) -> None:
        """Raises SpecRejected with all that was noted."""
        if self.problems:
            raise SpecRejected(self.problems)

    def refuse_unknown(self, known: Iterable[tuple[str, str]]) -> None:
        """Note every key that is none of the known ones."""
        wanted = set(known)
        for table, key in _list_keys(self.tables):
            if (table, key) not in wanted:
                place = self.place(table, key) if table else self.place(key)
                where = f" in [{table}]" if table else ""
                near = (name for home, name in sorted(wanted) if home == table)
                self.note(place, f'there is no setting "{shorten(key)}"{where}', suggest(key, near))


def open_measures(file: LayoutFile) -> Measures:
    """A layout file ready to be read. Raises SpecRejected where it is no TOML."""
    tables, places = read_tables(file.path, file.source)
    return Measures(file, tables, places)


def find_limits(kind: Kind, key: str, shipped: float) -> tuple[float, float]:
    """Least and most of a setting, in mm, or plain for [tone]."""
    if kind == "tone":
        return TONES[key]
    if kind == "line":
        return LINE_MM
    if key in BANDS:
        return BANDS[key]
    low, high = TYPE_SHARES if kind == "type" else SPACE_SHARES
    return max(low * shipped, min(LEAST_TYPE_MM, shipped) if kind == "type" else 0.0), high * shipped


def read_measure(kind: Kind, written: object) -> float:
    """A written measure in mm, or a plain number of [tone]. Raises WrittenError."""
    if kind == "tone":
        if isinstance(written, (int, float)) and not isinstance(written, bool):
            return float(written)
        raise WrittenError(f'"{shorten(str(written))}" is no plain number', "write it like 1.3")
    if not isinstance(written, str):
        raise WrittenError(f"{shorten(str(written))} is no written measure", 'write it like "3 mm"')
    return parse_type_size(written) if kind == "type" else parse_length(written)


def _list_keys(tables: Mapping[str, Any]) -> Iterator[tuple[str, str]]:
    """Every setting by table and key; one that stands in no table has the table ""."""
    for table, keys in tables.items():
        if isinstance(keys, Mapping):
            yield from ((table, key) for key in keys)
        else:
            yield "", table


@lru_cache(maxsize=8)
def shipped_tables(name: str) -> Mapping[str, Any]:
    """The tables of a layout file as it is shipped; none where no such file is."""
    file = shipped_layouts().find(name)
    return read_values(file.path, file.source) if file else {}


def _quote(written: object) -> str:
    return f'"{written}"' if isinstance(written, str) else str(written)


def _span(kind: Kind, least: float, most: float) -> str:
    if kind == "tone":
        return f"{least:g} to {most:g}"
    unit, size = ("pt", MM_PER_POINT) if kind == "type" else ("mm", 1.0)
    return f"{format_number(least / size, 2)} to {format_number(most / size, 2)} {unit}"
