"""A code on each template that has room for one, so that the board it is glued to can be traced once it is cut out."""

from collections.abc import Sequence

from docgen.geometry.measure import is_inside
from docgen.geometry.path import boxes_overlap, grow_box
from docgen.geometry.shapes import Box, Point
from docgen.pages.drawn.labels import find_free_box
from docgen.pages.marks.moving import mark_box
from docgen.pages.marks.page import CodeMark, Mark, TextMark
from docgen.pages.pattern.grid import Window, join_strips
from docgen.pages.pattern.moving import into_footprint, out_of_footprint
from docgen.pages.pattern.piece_template import find_room
from docgen.pages.pattern.sheet_tag import CODE_PAD_MM, SheetWords
from docgen.pages.pattern.sheets import DrawnGrid, Part, match_marks
from docgen.pages.setting.tag import QUIET_MODULES, code_rows, code_size_mm, draw_code

LARGE_MM = (24.0, 21.0)
"""Sizes that are taken where a piece has room for them: a board is held to a telephone, and a photo of it is coarse."""

WORDS_CLEAR_MM = 2.5

Tags = Sequence[tuple[SheetWords, tuple[Mark, ...]]]


def draw_piece_codes(drawn: tuple[DrawnGrid, ...], tags: Tags, window: Window) -> tuple[CodeMark, ...]:
    """Codes in grid coordinates, each with the payload of the sheet it lies on.

    None where a sheet's tag, which has the code, lies in the piece already, and none on pieces whose label stands beside
    them.
    """
    codes = []
    first = 0
    for grid in drawn:
        own = tags[first : first + len(grid.grid.sheets)]
        first += len(own)
        tag_boxes = [mark_box(mark) for _, marks in own for mark in marks if isinstance(mark, CodeMark)]
        for part in grid.parts:
            if part.template.label_box is None and not any(_holds(part, box) for box in tag_boxes):
                codes += _draw_code(grid, part, own, tag_boxes, window)
    return tuple(codes)


def _holds(part: Part, box: Box) -> bool:
    """True when a box lies inside the piece: the tag was set clear of lines, so that its middle decides."""
    inner = into_footprint(box, part.placed)
    offset = part.template.offset
    return is_inside(part.template.outline, Point(inner.centre.x - offset.x, inner.centre.y - offset.y))


def _draw_code(grid: DrawnGrid, part: Part, own: Tags, tag_boxes: list[Box], window: Window) -> list[CodeMark]:
    words = [mark_box(mark) for mark in part.marks if isinstance(mark, TextMark)]
    tag_marks = [mark_box(mark) for _, marks in own for mark in marks]
    taken = [
        grow_box(box, WORDS_CLEAR_MM) for box in (*words, *tag_boxes, *tag_marks) if boxes_overlap(box, part.placed.box)
    ]
    taken += join_strips(grid.grid, window)
    for cell in grid.grid.sheets:
        taken += [mark_box(mark) for mark in match_marks(grid.matches, window.sheet(*cell))]
    room = find_room(part.template, tuple(into_footprint(box, part.placed) for box in taken))
    longest = max((sheet.payload for sheet, _ in own), key=len)
    for size in (*LARGE_MM, code_size_mm(longest)):
        quiet = QUIET_MODULES * size / len(code_rows(longest)) + CODE_PAD_MM
        spot = find_free_box(room, size + 2 * quiet, size + 2 * quiet)
        codes = _put_code(grid, part, own, window, size, spot) if spot else []
        if codes:
            return codes
    return []


def _put_code(grid: DrawnGrid, part: Part, own: Tags, window: Window, size: float, spot: Box) -> list[CodeMark]:
    """The code in the middle of its room, where one sheet has all of that."""
    offset = part.template.offset
    placed = out_of_footprint(
        Box(spot.left + offset.x, spot.bottom + offset.y, spot.right + offset.x, spot.top + offset.y), part.placed
    )
    for cell, (sheet, _) in zip(grid.grid.sheets, own, strict=True):
        shown = window.sheet(*cell)
        if (
            shown.left <= placed.left
            and placed.right <= shown.right
            and shown.bottom <= placed.bottom
            and placed.top <= shown.top
        ):
            centre = placed.centre
            return [draw_code(sheet.payload, centre.x - size / 2, centre.y - size / 2, size)]
    return []
