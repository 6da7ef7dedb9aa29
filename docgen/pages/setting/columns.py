"""How wide the columns of a table are: by their shares, or so that what one has to spare goes to another that lacks it."""

from collections.abc import Iterator, Sequence

from docgen.fonts import join_units, text_width_mm
from docgen.pages.setting.blocks import Figure, PageStyle, Table
from docgen.pages.setting.slabs import TICK_GAP_MM

ROUNDING_MM = 0.001  # so that what is given a column just fits it


def column_widths(table: Table, room_mm: float, style: PageStyle) -> list[float]:
    """In mm, of a room without gutters. In a fitted table no word is broken, and no line turned, for which others have the
    room."""
    per_share = room_mm / sum(column.share for column in table.columns)
    widths = [column.share * per_share for column in table.columns]
    if not table.is_fitted:
        return widths
    texts = [tuple(_texts(table, at, style)) for at in range(len(widths))]
    lines = [max(map(_widest_line, one), default=0.0) for one in texts]
    if all(line <= wide for line, wide in zip(lines, widths, strict=True)):
        return widths
    words = [max(map(_widest_word, one), default=0.0) for one in texts]
    for wanted, kept in ((words, lines), (words, words), (lines, lines)):
        for at in sorted(range(len(widths)), key=lambda place: wanted[place] - widths[place]):
            _give(widths, at, wanted[at] + ROUNDING_MM - widths[at], kept)
    return widths


def _give(widths: list[float], at: int, lacking_mm: float, kept: Sequence[float]) -> None:
    """All that a column lacks, from those that are wider than what they keep; nothing where these have not so much."""
    spare = [max(wide - least, 0.0) for wide, least in zip(widths, kept, strict=True)]
    spare[at] = 0.0
    if 0 < lacking_mm <= sum(spare):
        share = lacking_mm / sum(spare)
        widths[:] = [wide - free * share for wide, free in zip(widths, spare, strict=True)]
        widths[at] += lacking_mm


Text = tuple[str, str, float, float]
"""Words, their face and size, and what stands before them in mm."""


def _texts(table: Table, at: int, style: PageStyle) -> Iterator[Text]:
    """All that stands in a column; a drawing there is as wide as it is."""
    column = table.columns[at]
    inset = style.tick_mm + TICK_GAP_MM if column.tick else 0.0
    yield column.title, "bold", style.label_type_mm, 0.0
    for row in table.rows:
        cell = row[at]
        yield (
            ("", "regular", 0.0, cell.width_mm)
            if isinstance(cell, Figure)
            else (cell, "regular", style.body_type_mm, inset)
        )
    if table.total is not None:
        yield table.total[at], "bold", style.body_type_mm, 0.0


def _widest_line(text: Text) -> float:
    words, face, size_mm, inset_mm = text
    return inset_mm + max((text_width_mm(line, face, size_mm) for line in words.split("\n")), default=0.0)


def _widest_word(text: Text) -> float:
    words, face, size_mm, inset_mm = text
    parts = (part for line in words.split("\n") for part in join_units(line))
    return inset_mm + max((text_width_mm(part, face, size_mm) for part in parts), default=0.0)
