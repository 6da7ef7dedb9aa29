"""Tags of sheets that are too full to carry their own: on pages of words after the sheets, to be cut out and stuck on."""

from collections.abc import Sequence
from dataclasses import replace

from docgen.geometry.shapes import Box
from docgen.pages.looks.pattern_style import PatternStyle
from docgen.pages.looks.words import words
from docgen.pages.marks.page import Mark, Page
from docgen.pages.pattern.grid import Spot
from docgen.pages.pattern.sheet_tag import SheetWords, draw_tag, tag_shapes
from docgen.pages.setting.blocks import Block, Figure, Heading, Paragraph
from docgen.pages.setting.flow import flow_pages
from docgen.pages.setting.setup import Setup, band_page

Slip = tuple[SheetWords, str]  # what a sheet's tag says, and the titles of the pieces on the sheet


def flow_slips(slips: Sequence[Slip], setup: Setup, style: PatternStyle) -> tuple[tuple[Mark, ...], ...]:
    """The marks of each page, without its band; no pages for no slips."""
    if not slips:
        return ()
    said = words("pattern")
    blocks: list[Block] = [Heading(said["slips"], 2), Paragraph(said["stick_on"])]
    for sheet, titles in slips:
        blocks.append(_draw_slip(replace(sheet, is_large=False), f"{sheet.name}: {titles}", setup, style))
    return flow_pages(blocks, setup.frame, setup.style)


def _draw_slip(sheet: SheetWords, caption: str, setup: Setup, style: PatternStyle) -> Figure:
    """The tag with the squares above it."""
    ((wide, high), *_), ((across, up), *_) = tag_shapes(sheet, style, setup.style)
    spots = (
        Spot(block=0, shape=0, box=Box(0, 0, wide, high)),
        Spot(block=1, shape=0, box=Box(0, high, across, high + up)),
    )
    return Figure(wide, high + up, draw_tag(sheet, spots, style, setup.style), caption=caption)


def page_slips(pages: tuple[tuple[Mark, ...], ...], sheet: SheetWords, first: int, setup: Setup) -> list[Page]:
    """The pages of slips with their bands, numbered on from the first; `sheet` says what all sheets say."""
    last = first + len(pages) - 1
    return [
        band_page(marks, sheet.stamp, sheet.document, number, last, setup)
        for number, marks in enumerate(pages, start=first)
    ]
