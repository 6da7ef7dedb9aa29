"""page.toml -> type sizes, lines and distances of all pages, in mm."""

from dataclasses import fields
from functools import lru_cache
from typing import Final

from docgen.layout_files import LayoutFile
from docgen.pages.looks.layout_measures import Kind, open_measures
from docgen.pages.setting.blocks import PageStyle

TITLE_ROOM_MM: Final = 5.0
"""Least height of the band's upper row."""


@lru_cache(maxsize=16)
def read_page_style(file: LayoutFile) -> PageStyle:
    """The style from the tables [type], [line], [space] (written measures) and [tone] (plain numbers).

    Raises SpecRejected with every setting that is missing, unknown, no measure or outside its limits.
    """
    measures = open_measures(file)
    settings = {field.name: _setting_key(field.name) for field in fields(PageStyle)}
    measures.refuse_unknown(settings.values())
    values = {name: measures.number(table, table, key) for name, (table, key) in settings.items()}
    rows_mm = values["band_row_code_mm"] + values["band_row_cells_mm"]
    if not measures.problems and values["band_mm"] - rows_mm < TITLE_ROOM_MM:
        what = "the two lower rows leave the band no room for its title"
        measures.note(measures.place("space", "band"), what, "make the band higher, or the rows lower")
    measures.finish()
    return PageStyle(**values)


def _setting_key(field: str) -> tuple[Kind, str]:
    """`body_type_mm` -> ("type", "body"); `margin_mm` -> ("space", "margin"); `leading` -> ("tone", ...)."""
    endings: tuple[tuple[str, Kind], ...] = (("_type_mm", "type"), ("_line_mm", "line"), ("_mm", "space"))
    for ending, table in endings:
        if field.endswith(ending):
            return table, field.removesuffix(ending)
    return "tone", field
