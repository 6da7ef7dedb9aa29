"""The band at the foot of every page, and the room above it.

The band says what the page belongs to, in the spirit of the title block of ISO 7200: title, version, document
and sheet, date, units, shop, and the page's code both as a symbol and in readable type.
"""

import math
import re
from collections.abc import Sequence
from dataclasses import replace
from functools import lru_cache

from docgen.classes import dataclass
from docgen.fonts import ascent_mm, text_width_mm, wrap_text
from docgen.geometry.shapes import Box
from docgen.pages.looks.words import words
from docgen.pages.marks.page import CodeMark, ImageMark, Mark, TextMark, level_line, text_lines
from docgen.pages.setting.blocks import PageStyle
from docgen.pages.setting.tag import QUIET_MODULES, draw_code, make_payload
from docgen.read import Picture

STEP_MM = 0.1
ROUNDING_MM = 1e-6
LEADING = 1.2  # height of a line: ascent and descent of the face
ELLIPSIS = "…"
PAD_MM = 0.6  # between a line of the band and the text under it
SLASH = re.compile(r"/(?=[^/])")
SHORT_LINE_MM = 22.0  # a value up to this wide gets one line
MARK_SHARE = 0.2  # of the band's width, that a long name mark takes at most
SMALLEST_MM = 0.5  # a value other than the title shrinks as far as this before anything of it would be lost


@dataclass(frozen=True, slots=True, kw_only=True)
class Stamp:
    """What the band says on every page of one document; `units` in words ("inches first, mm in brackets")."""

    title: str
    code: str
    version: str
    date: str  # YYYY-MM-DD
    digest: str
    units: str
    document_title: str
    shop: str = ""
    link: str = ""
    is_draft: bool = False
    variant: str = ""
    serves: str = ""  # the variants that a shared template is for, in words
    mark: Picture | None = None

    @property
    def version_words(self) -> str:
        """The version as people read it; a page of a version that is not issued says so."""
        return f"{self.version} DRAFT" if self.is_draft else str(self.version)

    @property
    def coded_version(self) -> str:
        """The version as the code has it."""
        return f"{self.version}-DRAFT" if self.is_draft else str(self.version)

    def payload(self, document: str, page: int) -> str:
        """What the code of a page says; the document of a variant is called "PATTERN.SMALL". ValueError when it
        cannot be made."""
        name = f"{document}.{self.variant}" if self.variant else document
        return make_payload(self.code, self.coded_version, self.digest, name, page, self.link)


def page_frame(paper_width_mm: float, paper_height_mm: float, margin_mm: float, style: PageStyle) -> Box:
    """The free area of a page: within the margins, above the band."""
    bottom = margin_mm + style.band_mm + style.above_band_mm
    return Box(margin_mm, bottom, paper_width_mm - margin_mm, paper_height_mm - margin_mm)


def draw_band(
    stamp: Stamp,
    document: str,
    page: int,
    pages: int,
    paper_width_mm: float,
    paper_height_mm: float,
    margin_mm: float,
    style: PageStyle,
    extra: str = "",
    side_mm: float = 0.0,
) -> tuple[tuple[Mark, ...], str]:
    """The marks of the band across the foot of one page, and the payload of its code.

    `document` is the name in the payload ("PATTERN"), `extra` follows the sheet's number; `side_mm` is the
    margin of the page's text, where that is wider. Text shrinks to fit; only a title too long at the least size is
    shortened.
    ValueError when the payload cannot be made, or when less than 60 mm are left for the words.
    """
    payload = stamp.payload(document, page)
    side = max(margin_mm, side_mm)
    band = Box(side, margin_mm, paper_width_mm - side, margin_mm + style.band_mm)
    symbol, left_mm = _place_code(payload, band, (side, margin_mm), style)
    cells = Box(band.left, band.bottom, left_mm - style.band_pad_mm, band.top)
    if cells.width < 60 or band.top > paper_height_mm:
        raise ValueError(f"the band has {cells.width:.0f} mm for its words; it needs 60")
    sheet = f"{page} {words('band')['of']} {pages}"
    return (*_draw_cells(stamp, sheet, extra, payload, cells, style), symbol), payload


def _place_code(payload: str, band: Box, margins_mm: tuple[float, float], style: PageStyle) -> tuple[CodeMark, float]:
    """The symbol at the right end of the band, flush with it, and where its quiet zone begins at the left. It stands
    above the band, as far as the space there leaves it its quiet zone; that at the right and below lies in the margins
    (at the side, at the foot) where these are as wide."""
    mark = draw_code(payload, 0.0, 0.0)
    modules = len(mark.rows)
    # A symbol of very many modules is printed smaller than its due rather than over the words.
    size = (band.height + style.above_band_mm) * modules / (modules + QUIET_MODULES)
    quiet = QUIET_MODULES * size / modules
    right, foot = (max(quiet - margin, 0.0) for margin in margins_mm)
    size -= foot
    x, y = band.right - right - size, band.bottom + foot
    return replace(mark, x_mm=x, y_mm=y, size_mm=size), x - quiet


def _draw_cells(stamp: Stamp, sheet: str, extra: str, payload: str, cells: Box, style: PageStyle) -> tuple[Mark, ...]:
    """Three rows: title and version; document, sheet, date, units, shop; the payload in full."""
    said = words("band")
    middle = cells.bottom + style.band_row_code_mm
    upper = middle + style.band_row_cells_mm
    top = cells.top - style.thick_line_mm
    parting = cells.right - style.band_version_width_mm
    fields = [
        stamp.document_title,
        f"{said['sheet']} {sheet} {extra}".strip(),
        stamp.date,
        stamp.units,
        *([stamp.shop] if stamp.shop else []),
    ]
    version = Box(parting, upper, cells.right, top)
    image = _place_mark(stamp, Box(cells.left, middle, cells.right, upper))
    fields_right = image[0].x_mm - style.band_pad_mm if image else cells.right
    return (
        level_line(cells.left, cells.right, cells.top - style.thick_line_mm / 2, style.thick_line_mm),
        level_line(cells.left, cells.right, upper, style.hair_line_mm),
        level_line(cells.left, cells.right, middle, style.hair_line_mm),
        *_draw_title(stamp.title, Box(cells.left, upper, parting, top), style),
        *_draw_version(f"{said['version']} {stamp.version_words}", version, style),
        *_draw_fields(fields, Box(cells.left, middle, fields_right, upper), style),
        *image,
        *_draw_payload(payload, Box(cells.left, cells.bottom, cells.right, middle), style),
    )


def _place_mark(stamp: Stamp, row: Box) -> tuple[ImageMark, ...]:
    """The shop's name mark at the right end of the row, beside the shop's name, as large as it fits."""
    if stamp.mark is None:
        return ()
    wide, high = stamp.mark.width_mm, stamp.mark.height_mm
    size = min(row.height - 2 * PAD_MM, MARK_SHARE * row.width * high / wide)
    bottom = row.bottom + (row.height - size) / 2
    return (ImageMark(picture=stamp.mark, x_mm=row.right - size * wide / high, y_mm=bottom, height_mm=size),)


def _draw_title(title: str, box: Box, style: PageStyle) -> tuple[Mark, ...]:
    """The title in type as large as it fits; shortened when the least size is still too large."""
    room = Box(box.left, box.bottom + PAD_MM / 2, box.right - style.band_pad_mm, box.top - PAD_MM)
    size, lines = fit_text(title, "bold", room, style.band_title_type_mm, style.least_type_mm)
    if not _fits(lines, size, room):
        lines = _shorten_lines(title, size, room)
    return _draw_lines(lines, "bold", size, room)


def _draw_version(text: str, box: Box, style: PageStyle) -> tuple[TextMark, ...]:
    """The version at the end of the title's row, in one line where that fits."""
    room = Box(box.left, box.bottom + PAD_MM / 2, box.right - PAD_MM, box.top - PAD_MM / 2)
    size, lines = fit_text(text, "bold", room, style.band_version_type_mm, style.least_type_mm)
    if not _fits(lines, size, room):
        size, lines = fit_text(text, "bold", room, size, SMALLEST_MM)
    slack = (room.height - len(lines) * size * LEADING) / 2
    first = room.top - slack - ascent_mm(size, "bold")
    lefts = (room.right - text_width_mm(line, "bold", size) for line in lines)
    return tuple(
        TextMark(x_mm=left, y_mm=first - k * size * LEADING, text=line, size_mm=size, face="bold")
        for k, (left, line) in enumerate(zip(lefts, lines, strict=True))
    )


def _draw_fields(fields: Sequence[str], box: Box, style: PageStyle) -> tuple[Mark, ...]:
    """Values side by side, each as wide as it asks for; all of their widths where the row holds them, so that none is
    set smaller."""
    wide = [text_width_mm(field, "bold", style.band_value_type_mm) for field in fields]
    free = box.width - len(fields) * style.band_pad_mm
    needs = wide if sum(wide) <= free else [max(min(each, SHORT_LINE_MM), 0.55 * each) for each in wide]
    per_need = free / sum(needs)
    marks: list[Mark] = []
    left = box.left
    for field, need in zip(fields, needs, strict=True):
        right = left + need * per_need
        room = Box(left, box.bottom + PAD_MM / 2, right, box.top - PAD_MM / 2)
        marks.extend(_draw_whole(field, "bold", room, style.band_value_type_mm, style))
        left = right + style.band_pad_mm
    return tuple(marks)


def _draw_whole(text: str, face: str, room: Box, largest: float, style: PageStyle) -> tuple[TextMark, ...]:
    """All of a text, in type as large as it fits."""
    size, lines = fit_text(text, face, room, largest, min(largest, style.least_type_mm))
    if not _fits(lines, size, room):
        size, lines = fit_text(text, face, room, size, SMALLEST_MM)
    return _draw_lines(lines, face, size, room)


def _draw_payload(payload: str, box: Box, style: PageStyle) -> tuple[Mark, ...]:
    """What the code says, for people and for a torn code; broken after a slash where it can be."""
    room = Box(box.left, box.bottom, box.right, box.top - PAD_MM)
    loose = SLASH.sub("/ ", payload)
    marks = _draw_whole(loose, "regular", room, style.band_code_type_mm, style)
    return tuple(replace(mark, text=mark.text.replace("/ ", "/")) for mark in marks)


@lru_cache(maxsize=512)
def fit_text(text: str, face: str, room: Box, largest_mm: float, least_mm: float) -> tuple[float, tuple[str, ...]]:
    """The largest type size down to `least_mm` at which the text, wrapped, fits the room; and its lines.

    Words are broken only where no size allows whole ones. At the least size the lines may not fit.
    """
    steps = max(1, math.ceil((largest_mm - least_mm) / STEP_MM))
    sizes = [largest_mm + (least_mm - largest_mm) * step / steps for step in range(steps + 1)]
    for whole in (True, False):
        for size in sizes:
            lines = wrap_text(text, face, size, room.width)
            if _fits(lines, size, room) and (not whole or len(" ".join(lines)) == len(" ".join(text.split()))):
                return size, lines
    return least_mm, wrap_text(text, face, least_mm, room.width)


def _fits(lines: Sequence[str], size: float, room: Box) -> bool:
    return len(lines) * size * LEADING <= room.height + ROUNDING_MM


def _shorten_lines(text: str, size: float, room: Box) -> tuple[str, ...]:
    """As much of a text as fits the room at this size, with an ellipsis at its end."""
    most = len(text)
    lines: tuple[str, ...] = (ELLIPSIS,)
    while most > 0:
        most -= 1
        lines = wrap_text(text[:most].rstrip() + ELLIPSIS, "bold", size, room.width)
        if _fits(lines, size, room):
            break
    return lines


def _draw_lines(lines: Sequence[str], face: str, size: float, room: Box) -> tuple[TextMark, ...]:
    """Lines in the middle of the room's height."""
    slack = (room.height - len(lines) * size * LEADING) / 2
    first = room.top - slack - ascent_mm(size, face)
    return text_lines(lines, room.left, first, size * LEADING, size, face)
