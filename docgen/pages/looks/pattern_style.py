"""layouts/pattern.toml -> strokes and type sizes of the pattern, in mm."""

from collections.abc import Mapping
from dataclasses import field, fields
from functools import lru_cache
from types import MappingProxyType

from docgen.classes import dataclass
from docgen.layout_files import LayoutFile
from docgen.pages.looks.layout_measures import DASH_MM, DASHES_MOST, Measures, open_measures, shipped_tables
from docgen.pages.looks.words import find_file
from docgen.pages.marks.page import Stroke
from docgen.written.units.lengths import parse_length
from docgen.written.units.numbers import WrittenError


@dataclass(frozen=True, slots=True, kw_only=True)
class PatternStyle:
    """A stroke for each kind of line, by the name of its table in the layout file, and type sizes in mm."""

    lines: Mapping[str, Stroke] = field(hash=False)
    name_type_mm: float
    label_type_mm: float
    small_type_mm: float
    match_type_mm: float
    sheet_type_mm: float

    def __getitem__(self, kind: str) -> Stroke:
        return self.lines[kind]


def load_pattern_style() -> PatternStyle:
    """The style of pattern.toml in use; SpecRejected names every setting that is missing, unknown or unreadable."""
    return read_pattern_style(find_file("pattern.toml"))


@lru_cache(maxsize=16)
def read_pattern_style(file: LayoutFile) -> PatternStyle:
    """The style from one table per kind of line, and [type]. Raises SpecRejected."""
    measures = open_measures(file)
    kinds = [name for name in shipped_tables(file.name) if name != "type"]
    sizes = [each.name.removesuffix("_type_mm") for each in fields(PatternStyle) if each.name != "lines"]
    measures.refuse_unknown(
        [*((kind, key) for kind in kinds for key in ("width", "dash")), *(("type", size) for size in sizes)]
    )
    lines = {kind: Stroke(measures.number("line", kind, "width"), _read_dash(measures, kind)) for kind in kinds}
    types_mm = {f"{size}_type_mm": measures.number("type", "type", size) for size in sizes}
    measures.finish()
    return PatternStyle(lines=MappingProxyType(lines), **types_mm)


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
