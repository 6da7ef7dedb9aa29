"""Plan -> care card: sheets of cards to cut out, one for each make, with advice for the customer."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Final

from docgen.geometry import Box, Path, Point, polyline
from docgen.pages.card import Card, draw_card
from docgen.pages.frame import Stamp, draw_band, page_frame
from docgen.pages.moving import place_marks
from docgen.pages.page import CodeMark, Document, Mark, Page, PathMark, Stroke
from docgen.pages.setup import Setup, make_stamp
from docgen.pages.tag import make_payload
from docgen.pages.templates import words
from docgen.plan import Plan

NAME: Final = "care-card"
PAYLOAD_NAME: Final = "CARE-CARD"

CARD_SIZES_MM: Final = {"A6": (105.0, 148.0), "4x6 in": (101.6, 152.4)}
"""Name -> width and height of a standing card (A6: ISO 216, main series)."""

CROP_OFF_MM: Final = 1.5
CROP_LONG_MM: Final = 4.0
REACH_MM: Final = CROP_OFF_MM + CROP_LONG_MM
"""Kept free round every card, so that it has crop marks of its own."""

MOST_SHEETS: Final = 20


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """A sheet of paper and the cards on it, in reading order; `is_turned` where they lie on their side."""

    width_mm: float
    height_mm: float
    is_turned: bool
    boxes: tuple[Box, ...]


def lay_out_care_card(plan: Plan, setup: Setup) -> Document:
    """Full sheets with a card for each make of the batch: at least one sheet, at most 20.

    Raises SpecRejected when the words do not fit the card in its smallest type.
    """
    build = plan.build
    size = CARD_SIZES_MM[build.care.card]
    sheet = find_sheet(size, setup)
    count = max(1, min(MOST_SHEETS, math.ceil(build.makes / len(sheet.boxes))))
    stamp = make_stamp(build, setup, PAYLOAD_NAME)
    title = words("documents")[PAYLOAD_NAME]
    pages = tuple(_lay_page(plan, setup, stamp, sheet, number, count) for number in range(1, count + 1))
    return Document(name=NAME, title=title, pages=pages)


def find_sheet(size_mm: tuple[float, float], setup: Setup) -> Sheet:
    """The way round of paper and cards that takes most cards; as the paper is given where two take as many.

    ValueError when a card with its crop marks is larger than the sheet, which no sheet of `find_paper` meets.
    """
    paper = (setup.paper_width_mm, setup.paper_height_mm)
    sheets = [
        Sheet(width_mm=wide, height_mm=high, is_turned=is_turned, boxes=boxes)
        for wide, high in (paper, paper[::-1])
        for is_turned in (False, True)
        if (boxes := _place_cards(size_mm[::-1] if is_turned else size_mm, wide, high, setup))
    ]
    if not sheets:
        raise ValueError(f"no card fits a sheet of {paper[0]:.1f} x {paper[1]:.1f} mm")
    return max(sheets, key=lambda sheet: len(sheet.boxes))


def _place_cards(card: tuple[float, float], wide: float, high: float, setup: Setup) -> tuple[Box, ...]:
    """The cards in the middle of the room above the band, in rows from the top."""
    room = page_frame(wide, high, setup.margin_mm, setup.style)
    cell_width, cell_height = card[0] + 2 * REACH_MM, card[1] + 2 * REACH_MM
    across, down = max(0, int(room.width // cell_width)), max(0, int(room.height // cell_height))
    left = room.centre.x - across * cell_width / 2 + REACH_MM
    bottom = room.centre.y + down * cell_height / 2 - REACH_MM - card[1]
    corners = [
        Point(left + column * cell_width, bottom - row * cell_height)
        for row in range(down)
        for column in range(across)
    ]
    return tuple(Box(at.x, at.y, at.x + card[0], at.y + card[1]) for at in corners)


def _lay_page(plan: Plan, setup: Setup, stamp: Stamp, sheet: Sheet, number: int, count: int) -> Page:
    band, payload = draw_band(
        stamp, PAYLOAD_NAME, number, count, sheet.width_mm, sheet.height_mm, setup.margin_mm, setup.style
    )
    # Every card is fitted with the longest code of the document: the sheets then differ in their codes only.
    longest = make_payload(stamp.code, stamp.version, stamp.digest, PAYLOAD_NAME, count, stamp.link)
    size = CARD_SIZES_MM[plan.build.care.card]
    card = Card(width_mm=size[0], height_mm=size[1], payload=payload, longest_payload=longest)
    drawn = draw_card(plan, card, setup.style)
    marks: list[Mark] = []
    for box in sheet.boxes:
        marks += _place_card(drawn, box, sheet.is_turned)
        marks += draw_crop_marks(box, setup.style.hair_line_mm)
    return Page(
        width_mm=sheet.width_mm, height_mm=sheet.height_mm, marks=(*marks, *band),
        label=f"{words('documents')[PAYLOAD_NAME]} {number}", payload=payload,
    )  # fmt: skip


def _place_card(drawn: tuple[Mark, ...], box: Box, is_turned: bool) -> Iterator[Mark]:
    """A card's marks, drawn standing from (0, 0), in their place; a turned card has its head at the left."""
    for mark in drawn:
        if isinstance(mark, CodeMark):
            yield _place_code(mark, box, is_turned)
        else:
            yield from place_marks(
                (mark,), box.right if is_turned else box.left, box.bottom, is_turned=is_turned
            )


def _place_code(code: CodeMark, box: Box, is_turned: bool) -> CodeMark:
    """The code stays upright, in the corner that the turned card has for it."""
    if is_turned:
        return replace(code, x_mm=box.right - code.y_mm - code.size_mm, y_mm=box.bottom + code.x_mm)
    return replace(code, x_mm=box.left + code.x_mm, y_mm=box.bottom + code.y_mm)


def draw_crop_marks(box: Box, width_mm: float) -> tuple[PathMark, ...]:
    """Two short lines outside each corner, in line with the sides to cut; they do not reach the card."""
    stroke = Stroke(width_mm)
    return tuple(PathMark(path=path, stroke=stroke) for path in _crop_paths(box))


def _crop_paths(box: Box) -> Iterator[Path]:
    for x, away_x in ((box.left, -1.0), (box.right, 1.0)):
        for y, away_y in ((box.bottom, -1.0), (box.top, 1.0)):
            yield polyline((Point(x + away_x * CROP_OFF_MM, y), Point(x + away_x * REACH_MM, y)))
            yield polyline((Point(x, y + away_y * CROP_OFF_MM), Point(x, y + away_y * REACH_MM)))
