"""What every sheet of the pattern carries beside the pieces: test squares, the sheet's name, title block and code.

They stand where the sheet is free of lines, inside a piece or beside it, so that the whole sheet can carry pattern.
"""

from __future__ import annotations

from dataclasses import dataclass

from docgen.fonts import text_width_mm
from docgen.geometry import Box, Point, box_path
from docgen.pages.drawn.labels import Room, find_free_box, take_boxes
from docgen.pages.looks.pattern_style import PatternStyle
from docgen.pages.looks.words import words
from docgen.pages.marks.moving import place_marks
from docgen.pages.marks.page import Mark, PathMark, TextMark
from docgen.pages.setting.blocks import PageStyle
from docgen.pages.setting.frame import Stamp, fit_text
from docgen.pages.setting.tag import QUIET_MODULES, code_size_mm, draw_code
from docgen.written.units import MM_PER_POINT

WORDS_MM = 62.0
TALL_MM = 54.0
TALL_WORDS_MM = 25.0
NAME_MM = 17.0
EDGE_MM = 1.5  # white round the tag and the squares, so that no line of a piece is taken for theirs
SQUARE_INCH_MM, SQUARE_METRIC_MM = 25.4, 25.0
CODE_PAD_MM = 0.3  # the white that the writer clears about a code must not reach the frame
LEADING = 1.22
TITLE_SHARE = 0.3
LEAST_LINE_MM = 7 * MM_PER_POINT  # a line of the tag is worded shorter before it is set smaller


@dataclass(frozen=True, slots=True, kw_only=True)
class Block:
    """Marks from (0, 0) to (width, height)."""

    marks: tuple[Mark, ...]
    width_mm: float
    height_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetWords:
    """What the tag says: the band's words, and which sheet this is."""

    stamp: Stamp
    document: str
    number: int
    count: int
    name: str
    is_large: bool = False
    printer: str = ""
    row: str = ""  # "1 of 3", empty for a sheet that is not joined
    column: str = ""

    @property
    def payload(self) -> str:
        return self.stamp.payload(self.document, self.number)


def kept_box(sheet: SheetWords, style: PatternStyle, page: PageStyle) -> Box:
    """The room that tag and squares take in one row, from the lower left of a sheet."""
    row = _beside(squares_block(style, page, sheet.is_large), tag_block(sheet, style, page))
    return Box(0, 0, row.width_mm + 3.0, row.height_mm + 3.0)


def foot_block(sheet: SheetWords, style: PatternStyle, page: PageStyle, width_mm: float) -> Block:
    """Squares and tag for a strip so wide, in one row or in two, with white round them."""
    squares, tag = squares_block(style, page, sheet.is_large), tag_block(sheet, style, page)
    row = _beside(squares, tag)
    block = row if row.width_mm + 2 * EDGE_MM <= width_mm else _above(squares, tag)
    return Block(
        marks=place_marks(block.marks, EDGE_MM, EDGE_MM),
        width_mm=block.width_mm + 2 * EDGE_MM,
        height_mm=block.height_mm + 2 * EDGE_MM,
    )


def place_tag(sheet: SheetWords, room: Room, style: PatternStyle, page: PageStyle) -> tuple[Mark, ...]:
    """Squares and tag on free room, as near to the lower left as there is some; empty when there is none.

    Tried in turn: one row; two rows; apart; apart with a tall tag.
    """
    squares = squares_block(style, page, sheet.is_large)
    wide, tall = tag_block(sheet, style, page), tall_tag_block(sheet, style, page)
    ways = ((_beside(squares, wide),), (_above(squares, wide),), (wide, squares), (tall, squares))
    for blocks in ways:
        marks = _place_all(blocks, room)
        if marks:
            return marks
    return ()


def _place_all(blocks: tuple[Block, ...], room: Room) -> tuple[Mark, ...]:
    marks: list[Mark] = []
    corner = Point(room.box.left, room.box.bottom)
    for block in blocks:
        spot = find_free_box(room, block.width_mm + 2 * EDGE_MM, block.height_mm + 2 * EDGE_MM, corner)
        if spot is None:
            return ()
        marks += place_marks(block.marks, spot.left + EDGE_MM, spot.bottom + EDGE_MM)
        room = take_boxes(room, (spot,))
    return tuple(marks)


def _beside(first: Block, second: Block) -> Block:
    gap = 4.0
    return Block(
        marks=(*first.marks, *place_marks(second.marks, first.width_mm + gap, 0.0)),
        width_mm=first.width_mm + gap + second.width_mm,
        height_mm=max(first.height_mm, second.height_mm),
    )


def _above(first: Block, second: Block) -> Block:
    gap = 3.0
    return Block(
        marks=(*place_marks(first.marks, 0.0, second.height_mm + gap), *second.marks),
        width_mm=max(first.width_mm, second.width_mm),
        height_mm=first.height_mm + gap + second.height_mm,
    )


def squares_block(style: PatternStyle, page: PageStyle, is_large: bool) -> Block:
    """The 1 in and 25 mm squares, side by side; on large sheets the 4 in and 100 mm ones before them."""
    sides = [(SQUARE_INCH_MM, "1 in"), (SQUARE_METRIC_MM, "25 mm")]
    if is_large:
        sides = [(101.6, "4 in"), (100.0, "100 mm"), *sides]
    half = style.square.width_mm / 2
    left = half
    marks: list[Mark] = []
    for side, label in sides:
        marks += draw_square(left, half, side, label, style, style.match_type_mm)
        left += side + page.square_gap_mm
    return Block(
        marks=tuple(marks),
        width_mm=left - page.square_gap_mm + half,
        height_mm=max(side for side, _ in sides) + 2 * half,
    )


def draw_square(
    left: float, bottom: float, side_mm: float, label: str, style: PatternStyle, type_mm: float
) -> tuple[Mark, ...]:
    """A test square: the middle of its line is the measure; its size in words inside, at the foot."""
    box = Box(left, bottom, left + side_mm, bottom + side_mm)
    return (
        PathMark(path=box_path(box), stroke=style.square),
        TextMark(
            x_mm=box.centre.x, y_mm=bottom + type_mm * 0.6, text=label, size_mm=type_mm, face="bold", anchor="middle"
        ),
    )


def tag_block(sheet: SheetWords, style: PatternStyle, page: PageStyle) -> Block:
    """Sheet name, title block and code in a row, in a thin frame."""
    code = _code_block(sheet)
    code_left = NAME_MM + WORDS_MM + 1.0
    width, height = code_left + code.width_mm, code.height_mm
    marks = (
        _frame(width, height, style),
        *place_marks(_draw_name(sheet.name, height, style, page), 0.0, 0.0),
        *_draw_words(sheet, Box(NAME_MM, 0.8, NAME_MM + WORDS_MM, height - 0.8), page),
        *place_marks(code.marks, code_left, 0.0),
    )
    return Block(marks=marks, width_mm=width, height_mm=height)


def tall_tag_block(sheet: SheetWords, style: PatternStyle, page: PageStyle) -> Block:
    """The same, narrow: name and code above the words."""
    code = _code_block(sheet)
    width = max(NAME_MM + code.width_mm + 10.0, TALL_MM)
    height = code.height_mm + TALL_WORDS_MM
    marks = (
        _frame(width, height, style),
        *place_marks(_draw_name(sheet.name, code.height_mm, style, page), 2.0, TALL_WORDS_MM),
        *_draw_words(sheet, Box(2.0, 0.8, width - 1.0, TALL_WORDS_MM), page),
        *place_marks(code.marks, width - code.width_mm, TALL_WORDS_MM),
    )
    return Block(marks=marks, width_mm=width, height_mm=height)


def _frame(width_mm: float, height_mm: float, style: PatternStyle) -> PathMark:
    return PathMark(path=box_path(Box(0, 0, width_mm, height_mm)), stroke=style.frame, fill=1.0)


def _code_block(sheet: SheetWords) -> Block:
    """The code with its quiet zone."""
    size = code_size_mm(sheet.payload)
    code = draw_code(sheet.payload, 0.0, 0.0, size)
    quiet = QUIET_MODULES * size / len(code.rows) + CODE_PAD_MM
    return Block(marks=place_marks((code,), quiet, quiet), width_mm=size + 2 * quiet, height_mm=size + 2 * quiet)


def _draw_name(name: str, height: float, style: PatternStyle, page: PageStyle) -> tuple[Mark, ...]:
    wide = text_width_mm(name, "bold", style.sheet_type_mm)
    size = style.sheet_type_mm * min(1.0, (NAME_MM - 2.5) / wide)
    label = words("band")["sheet_name"]
    return (
        TextMark(
            x_mm=NAME_MM / 2,
            y_mm=height - 3.4,
            text=label,
            size_mm=max(page.band_label_type_mm, LEAST_LINE_MM),
            anchor="middle",
            grey=page.help_grey,
        ),
        TextMark(
            x_mm=NAME_MM / 2, y_mm=height / 2 - size * 0.42, text=name, size_mm=size, face="bold", anchor="middle"
        ),
    )


def _draw_words(sheet: SheetWords, box: Box, page: PageStyle) -> tuple[Mark, ...]:
    """Title as large as it fits in three tenths of the height, then four lines."""
    title_foot = box.top - box.height * TITLE_SHARE
    marks = _fit(sheet.stamp.title, "bold", Box(box.left, title_foot, box.right, box.top), page.heading_type_mm, page)
    step = (title_foot - box.bottom) / 5
    size = min(page.label_type_mm, step / LEADING)
    faces = ("regular", "bold", "regular")
    for row, (ways, face) in enumerate(zip(_line_ways(sheet), faces, strict=True)):
        room = Box(box.left, title_foot - (row + 1) * step, box.right, title_foot - row * step)
        marks += _fit_line(ways, face, room, size, page)
    payload = sheet.payload.replace("/", "/ ")
    room = Box(box.left, box.bottom, box.right, title_foot - 3 * step)
    return (*marks, *_fit(payload, "regular", room, size, page))


def _line_ways(sheet: SheetWords) -> tuple[tuple[str, ...], ...]:
    """Which sheet it is, its version, and its measures or printer: each in full, then shorter."""
    stamp, said = sheet.stamp, words("band")
    number = f"{said['sheet']} {sheet.number} {said['of']} {sheet.count}"
    place = f", {said['row']} {sheet.row}, {said['column']} {sheet.column}" if sheet.row else ""
    version = f"{said['version']} {stamp.version_words}   {stamp.date}"
    shorter = [f"{stamp.shop[:count].rstrip()}…" for count in range(len(stamp.shop) - 1, 3, -1)]
    return (
        (f"{stamp.document_title}, {number}{place}", f"{number}{place}"),
        (*(f"{version}   {shop}".rstrip() for shop in (stamp.shop, *shorter)), version),
        (f"{words('pattern')['corrected']} {sheet.printer}" if sheet.printer else stamp.units,),
    )


def _fit_line(ways: tuple[str, ...], face: str, room: Box, largest_mm: float, page: PageStyle) -> tuple[Mark, ...]:
    """The first of several wordings that fits one line in type no smaller than the least; the last one in type as small
    as it needs."""
    least = min(LEAST_LINE_MM, largest_mm)
    for text in ways:
        size = min(largest_mm, largest_mm * room.width / text_width_mm(text, face, largest_mm))
        if size >= least:
            base = room.top - size * 0.95
            return (TextMark(x_mm=room.left, y_mm=base, text=text, size_mm=size, face=face),)
    return _fit(ways[-1], face, room, largest_mm, page)


def _fit(text: str, face: str, box: Box, largest_mm: float, page: PageStyle) -> tuple[Mark, ...]:
    """All of a text in a box, in type as large as it fits."""
    size, lines = fit_text(text, face, box, largest_mm, page.least_type_mm * 0.6)
    return tuple(
        TextMark(
            x_mm=box.left,
            y_mm=box.top - size * (0.95 + row * LEADING),
            text=line.replace("/ ", "/"),
            size_mm=size,
            face=face,
        )
        for row, line in enumerate(lines)
    )
