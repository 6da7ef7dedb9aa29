"""What a page of words is made of: blocks, in reading order, and the style they are set in. Values only."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from typing import Literal

from docgen.classes import dataclass
from docgen.pages.marks.page import Mark

Align = Literal["start", "middle", "end"]


@dataclass(frozen=True, kw_only=True)
class PageStyle:
    """Type sizes, line widths and distances in mm, greys from 0 (black) to 1; from layouts/page.toml."""

    title_type_mm: float
    heading_type_mm: float
    subheading_type_mm: float
    step_type_mm: float
    body_type_mm: float
    label_type_mm: float
    band_title_type_mm: float
    band_version_type_mm: float
    band_value_type_mm: float
    band_code_type_mm: float
    least_type_mm: float
    hair_line_mm: float
    fine_line_mm: float
    thin_line_mm: float
    thick_line_mm: float
    bar_line_mm: float
    margin_mm: float
    band_mm: float
    above_band_mm: float
    band_pad_mm: float
    band_version_width_mm: float
    band_row_code_mm: float
    band_row_cells_mm: float
    square_gap_mm: float
    paragraph_gap_mm: float
    item_gap_mm: float
    block_gap_mm: float
    title_gap_mm: float
    heading_gap_mm: float
    subheading_gap_mm: float
    indent_mm: float
    tick_mm: float
    dot_mm: float
    cell_pad_mm: float
    gutter_mm: float
    caution_pad_mm: float
    caution_mark_mm: float
    leading: float
    heading_leading: float
    step_leading: float
    help_grey: float

    def closer(self, spaces_mm: Mapping[str, float]) -> PageStyle:
        """With other spaces, by the names of their fields."""
        return replace(self, leading=self.step_leading, **spaces_mm)

    def of_steps(self, spaces_mm: Mapping[str, float]) -> PageStyle:
        """For the words of a step: larger type, set closer."""
        return replace(self.closer(spaces_mm), body_type_mm=self.step_type_mm)


def scale_style(style: PageStyle, names: Iterable[str], share: float) -> PageStyle:
    """The style with so much of some of its sizes."""
    return replace(style, **{name: getattr(style, name) * share for name in names})


@dataclass(frozen=True, slots=True)
class Heading:
    """A heading of level 1 (title), 2 or 3; never the last thing on a page. Where it opens a page, `carried` stands
    above it: what it belongs to."""

    text: str
    level: int = 2
    carried: str = ""


@dataclass(frozen=True, slots=True)
class Paragraph:
    """Running text."""

    text: str
    bold: bool = False


@dataclass(frozen=True, slots=True)
class Bullet:
    """One item of a list."""

    text: str


@dataclass(frozen=True, slots=True)
class Numbered:
    """One thing to do, by its number in a list."""

    number: str
    text: str


@dataclass(frozen=True, slots=True)
class Tick:
    """One thing to do, with a box to tick."""

    text: str


@dataclass(frozen=True, slots=True)
class Caution:
    """A warning: a bar, a triangle and bold text, plain in grey print too."""

    text: str


@dataclass(frozen=True, slots=True)
class Gap:
    """Empty space in mm; it vanishes at the head of a page."""

    height_mm: float


@dataclass(frozen=True, slots=True)
class Rule:
    """A thin line across the column."""


@dataclass(frozen=True, slots=True)
class Column:
    """One column of a table: heading, share of the width; `tick` draws a box before the text."""

    title: str
    share: float = 1.0
    align: Align = "start"
    tick: bool = False


@dataclass(frozen=True, slots=True)
class KeyValues:
    """Settings: a small grey label above a bold value, side by side in `columns`."""

    pairs: tuple[tuple[str, str], ...]
    columns: int = 2


@dataclass(frozen=True, slots=True)
class Figure:
    """A drawing: marks from (0, 0) to (width, height); shown inside that box only. `kinds` are the lines in it that a key
    explains, by their names in [drawing] of words.toml; `clashes` counts numbers, dots and arrows that lie on other marks,
    and what is too small to be read."""

    width_mm: float
    height_mm: float
    marks: tuple[Mark, ...]
    caption: str = ""
    kinds: tuple[str, ...] = ()
    clashes: int = 0


@dataclass(frozen=True)
class Table:
    """Rows of as many texts or figures as there are columns; columns without titles have no head. `total` is a closing
    row in bold. A figure is no wider than its column and has no caption there. Where the table goes on over a page,
    `carried` is its heading there. In a fitted table a column takes room that others have to spare, before it turns a
    line."""

    columns: tuple[Column, ...]
    rows: tuple[tuple[str | Figure, ...], ...]
    total: tuple[str, ...] | None = None
    carried: str = ""
    is_fitted: bool = False


@dataclass(frozen=True, slots=True)
class Beside:
    """Blocks at the left and one at the right, heads level; one below the other if taller than a page."""

    left: tuple[Block, ...]
    right: Block
    right_width_mm: float


@dataclass(frozen=True, slots=True)
class Together:
    """Blocks that stay on one page, unless they are taller than one."""

    blocks: tuple[Block, ...]


@dataclass(frozen=True, slots=True)
class Styled:
    """Blocks in another style than the page's."""

    blocks: tuple[Block, ...]
    style: PageStyle


Block = (
    Heading
    | Paragraph
    | Bullet
    | Numbered
    | Tick
    | Caution
    | Gap
    | Rule
    | Table
    | KeyValues
    | Figure
    | Beside
    | Together
    | Styled
)
