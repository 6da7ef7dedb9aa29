"""Written values -> numbers, with every failure noted at its place and nothing raised."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from typing import TypeVar

from docgen.measures import evaluate_length, resolve_measures
from docgen.problems import Place, Problem, make_caution, make_error
from docgen.read import Length, NamedLength, Text, Value
from docgen.units import WrittenError, parse_percent, parse_pitch, parse_thickness

T = TypeVar("T")
_NAME = re.compile(r"[a-z][a-z0-9]*(?:-[a-z0-9]+)*")


class Reader:
    """Reads written values with the measures of one spec, and gathers what goes wrong."""

    def __init__(
        self, measures: Mapping[str, float], problems: list[Problem], unreadable: frozenset[str] = frozenset()
    ) -> None:
        self.measures = measures
        self.problems = problems
        self.unreadable = unreadable  # measures already noted as wrong: what uses them stays silent

    def error(self, place: Place, what: str, mend: str = "") -> None:
        """Note a problem that stops the build."""
        self.problems.append(make_error(place, what, mend))

    def caution(self, place: Place, what: str, mend: str = "") -> None:
        """Note a problem that is printed and does not stop the build."""
        self.problems.append(make_caution(place, what, mend))

    def read(self, value: Value[str], parse: Callable[[str], T]) -> T | None:
        """`parse` of the words, or None when they cannot be read (noted)."""
        if not self.unreadable.isdisjoint(_NAME.findall(value.value)):
            return None
        try:
            return parse(value.value)
        except WrittenError as error:
            self.error(value.place, error.what, error.mend)
            return None

    def any_length(self, value: Length) -> float | None:
        """A length in mm, of either sign; None when left out or wrong."""
        if value is None:
            return None
        return self.read(value, lambda words: evaluate_length(words, self.measures))

    def length(self, value: Length, *, zero: bool = False) -> float | None:
        """A length in mm that is more than nothing (or nothing, with `zero`)."""
        length_mm = self.any_length(value)
        if value is None or length_mm is None:
            return None
        if length_mm < 0 or (length_mm == 0 and not zero):
            self.error(value.place, f"this comes to {_signed(length_mm)}", "a size must be more than nothing")
            return None
        return length_mm

    def thickness(self, value: Length) -> float | None:
        """A thickness in mm; a measure's name or arithmetic will do as well as a written thickness."""
        if value is None:
            return None
        thickness_mm = self.read(value, self._parse_thickness)
        if thickness_mm is not None and not 0 < thickness_mm <= 50:
            self.error(
                value.place,
                f"a thickness of {_signed(thickness_mm)} cannot be",
                "write a thickness up to 50 mm",
            )
            return None
        return thickness_mm

    def _parse_thickness(self, words: str) -> float:
        try:
            return parse_thickness(words)
        except WrittenError:
            if not any(name in words for name in self.measures):
                raise
            return evaluate_length(words, self.measures)

    def pitch(self, value: Text) -> float | None:
        """Length of one stitch in mm."""
        if value is None:
            return None
        pitch_mm = self.read(value, parse_pitch)
        if pitch_mm is not None and not 0.5 <= pitch_mm <= 25.4:
            self.error(
                value.place,
                f"a stitch of {_signed(pitch_mm)} cannot be",
                'write for example "6 per inch" or "4 mm"',
            )
            return None
        return pitch_mm

    def percent(self, value: Text, default: float) -> float:
        """A share from 0 to below 1."""
        share = self.read(value, parse_percent) if value is not None else None
        return default if share is None else share


def read_measures(written: tuple[NamedLength, ...], problems: list[Problem]) -> Reader:
    """A reader that knows the spec's measures; wrong measures are noted."""
    values, failures = resolve_measures([(item.name, item.length.value) for item in written])
    places = {item.name: item.length.place for item in written}
    for name, error in failures:
        problems.append(make_error(places[name], error.what, error.mend))
    return Reader(values, problems, frozenset(item.name for item in written if item.name not in values))


def words(value: Text, default: str = "") -> str:
    """The words, or a default where nothing was written."""
    return default if value is None else value.value


def _signed(length_mm: float) -> str:
    return f"{length_mm:.4g} mm"
