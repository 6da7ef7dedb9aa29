"""layouts/pattern.toml -> strokes and type sizes of the pattern, in mm."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, fields
from functools import lru_cache
from typing import Any

from docgen.layout_files import LayoutFile
from docgen.pages.looks.layout_measures import DASH_MM, DASHES_MOST, Measures, open_measures
from docgen.pages.looks.words import find_file
from docgen.pages.marks.page import Stroke
from docgen.written.units import WrittenError, parse_length


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


def load_pattern_style() -> PatternStyle:
    """The style of pattern.toml in use; SpecRejected names every setting that is missing, unknown or unreadable."""
    return read_pattern_style(find_file("pattern.toml"))


@lru_cache(maxsize=16)
def read_pattern_style(file: LayoutFile) -> PatternStyle:
    """The style from one table per kind of line, and [type]. Raises SpecRejected."""
    measures = open_measures(file)
    names = [field.name for field in fields(PatternStyle)]
    measures.refuse_unknown(
        [(name, key) for name in names for key in ("width", "dash")]
        + [("type", name.removesuffix("_type_mm")) for name in names if name.endswith("_type_mm")]
    )
    values: dict[str, Any] = {name: _read_setting(measures, name) for name in names}
    measures.finish()
    return PatternStyle(**values)


def _read_setting(measures: Measures, name: str) -> Stroke | float:
    if name.endswith("_type_mm"):
        return measures.number("type", "type", name.removesuffix("_type_mm"))
    return Stroke(measures.number("line", name, "width"), _read_dash(measures, name))


def _read_dash(measures: Measures, name: str) -> tuple[float, ...]:
    table = measures.tables.get(name)
    written = table.get("dash", []) if isinstance(table, Mapping) else []
    place = measures.place(name, "dash")
    if not isinstance(written, list) or len(written) > DASHES_MOST:
        measures.note(place, f"a dash is a list of at most {DASHES_MOST} lengths", 'write ["2 mm", "1 mm"], or []')
        return ()
    try:
        dash = tuple(parse_length(str(part)) for part in written)
    except WrittenError as error:
        measures.note(place, error.what, error.mend)
        return ()
    if any(not DASH_MM[0] <= part <= DASH_MM[1] for part in dash):
        measures.note(place, "a part of the dash is too short or too long", "use {:g} to {:g} mm".format(*DASH_MM))
    return dash
