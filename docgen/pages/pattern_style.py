"""layouts/pattern.toml -> strokes and type sizes of the pattern, in mm."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, fields
from functools import cache
from typing import Any

from docgen.pages.page import Stroke
from docgen.pages.templates import load_settings
from docgen.problems import Place, Problem, SpecRejected, make_error
from docgen.units import WrittenError, parse_length, parse_type_size

FILE = "layouts/pattern.toml"


@dataclass(frozen=True, slots=True, kw_only=True)
class PatternStyle:
    """One stroke per kind of line, and type sizes in mm."""

    cut: Stroke
    stitch: Stroke
    fold: Stroke
    centre: Stroke
    skive: Stroke
    landing: Stroke
    drawn: Stroke
    punch: Stroke
    notch: Stroke
    frame: Stroke
    square: Stroke
    name_type_mm: float
    label_type_mm: float
    small_type_mm: float
    match_type_mm: float
    sheet_type_mm: float


@cache
def load_pattern_style() -> PatternStyle:
    """The style of the shipped layout; SpecRejected names every setting that is missing, unknown or unreadable."""
    return read_pattern_style(load_settings("pattern"))


def read_pattern_style(settings: Mapping[str, Any]) -> PatternStyle:
    """The style from one table per kind of line, and [type]. Raises SpecRejected."""
    problems: list[Problem] = []
    values: dict[str, Any] = {}
    for field in fields(PatternStyle):
        try:
            values[field.name] = _read_setting(settings, field.name)
        except WrittenError as error:
            problems.append(make_error(Place(path=FILE), error.what, error.mend))
    if problems:
        raise SpecRejected(problems)
    return PatternStyle(**values)


def _read_setting(settings: Mapping[str, Any], name: str) -> Stroke | float:
    if name.endswith("_type_mm"):
        key = name.removesuffix("_type_mm")
        written = settings.get("type", {}).get(key)
        if not isinstance(written, str):
            raise WrittenError(f'[type] has no "{key}"', f'add {key} = "10 pt"')
        return parse_type_size(written)
    table = settings.get(name)
    if not isinstance(table, Mapping) or not isinstance(table.get("width"), str):
        raise WrittenError(f"[{name}] has no width", f'add [{name}] with width = "0.3 mm" and dash = []')
    dash = tuple(parse_length(str(part)) for part in table.get("dash", ()))
    width_mm = parse_length(table["width"])
    if not 0.05 <= width_mm <= 2 or any(not 0.05 <= part <= 50 for part in dash):
        raise WrittenError(
            f"[{name}] is too fine or too coarse to print", "use widths from 0.05 to 2 mm, dashes to 50 mm"
        )
    return Stroke(width_mm, dash)
