"""What every sheet of the pattern carries beside the pieces: test squares, the sheet's name, title block and code.

They stand where the sheet is free of lines, inside a piece or beside it, so that the whole sheet can carry pattern. How
large they are depends on neither version, digest nor number, so that these move no piece.
"""

from dataclasses import replace

from docgen.classes import dataclass
from docgen.fonts import text_width_mm
from docgen.geometry.path import box_path
from docgen.geometry.shapes import Box
from docgen.pages.looks.pattern_style import PatternStyle
from docgen.pages.looks.words import words
from docgen.pages.marks.moving import place_marks
from docgen.pages.marks.page import Mark, PathMark, TextMark, text_lines
from docgen.pages.pattern.grid import Spot
from docgen.pages.pattern.template_label import LONGEST_VERSION
from docgen.pages.setting.blocks import PageStyle
from docgen.pages.setting.frame import Stamp, fit_text
from docgen.pages.setting.tag import LEAST_CODE_MM, LEAST_MODULE_MM, QUIET_MODULES, code_rows, draw_code, room_modules
from docgen.written.units.table import MM_PER_POINT

WORDS_MM = 57.0
TALL_MM = 50.0
WORDS_PAD_MM = 0.8  # above the words and below them
NAME_MM = 14.0
EDGE_MM = 1.5  # white round the tag and the squares, so that no line of a piece is taken for theirs
SQUARE_INCH_MM, SQUARE_METRIC_MM = 25.4, 25.0
CODE_PAD_MM = 0.3  # the white that the writer clears about a code must not reach the frame
LEADING = 1.22
TITLE_MM = 12 * MM_PER_POINT
LINE_MM = 10 * MM_PER_POINT
LEAST_NAME_MM = 7 * MM_PER_POINT  # a shop's long name is set smaller before it is shortened
PAYLOAD_ROWS = 2
TALL_PAYLOAD_ROWS = 3


Line = tuple[tuple[str, ...], str, float]
"""A line of the tag: its wordings, from the full one on, its face, and the type that each may be set in before the next
is taken."""


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

    @property
    def payload(self) -> str:
        return self.stamp.payload(self.document, self.number)


def tag_shapes(sheet: SheetWords, style: PatternStyle, page: PageStyle) -> tuple[tuple[tuple[float, float], ...], ...]:
    """Width and height, with white round it, of each shape of each block that a sheet carries: tag and squares."""
    return tuple(
        tuple((block.width_mm + 2 * EDGE_MM, block.height_mm + 2 * EDGE_MM) for block in shapes)
        for shapes in _blocks(sheet, style, page)
    )


def draw_tag(sheet: SheetWords, spots: tuple[Spot, ...], style: PatternStyle, page: PageStyle) -> tuple[Mark, ...]:
    """Tag and squares on their spots."""
    blocks = _blocks(sheet, style, page)
    return tuple(
        mark
        for spot in spots
        for mark in place_marks(
            blocks[spot.block][spot.shape].marks, spot.box.left + EDGE_MM, spot.box.bottom + EDGE_MM
        )
    )


def _blocks(sheet: SheetWords, style: PatternStyle, page: PageStyle) -> tuple[tuple[Block, ...], ...]:
    """The tag, wide or tall; the squares, beside or above each other."""
    squares = [_square_block(side, label, style) for side, label in _squares(sheet.is_large)]
    return (
        (tag_block(sheet, style, page), tall_tag_block(sheet, style, page)),
        (_line_up(squares, page.square_gap_mm, is_row=True), _line_up(squares, page.square_gap_mm, is_row=False)),
    )


def _line_up(blocks: list[Block], gap_mm: float, *, is_row: bool) -> Block:
    marks: list[Mark] = []
    at = 0.0
    for block in blocks:
        marks += place_marks(block.marks, *((at, 0.0) if is_row else (0.0, at)))
        at += gap_mm + (block.width_mm if is_row else block.height_mm)
    wide, high = max(block.width_mm for block in blocks), max(block.height_mm for block in blocks)
    long = at - gap_mm
    return Block(marks=tuple(marks), width_mm=long if is_row else wide, height_mm=high if is_row else long)


def _squares(is_large: bool) -> list[tuple[float, str]]:
    """Sides in mm of a sheet's test squares, with their names: on large sheets two large ones before the small."""
    sides = [(SQUARE_INCH_MM, "1 in"), (SQUARE_METRIC_MM, "25 mm")]
    return [(101.6, "4 in"), (100.0, "100 mm"), *sides] if is_large else sides


def _square_block(side_mm: float, label: str, style: PatternStyle) -> Block:
    line_mm = style["square"].width_mm
    marks = draw_square(line_mm / 2, line_mm / 2, side_mm, label, style, style.match_type_mm)
    return Block(marks=marks, width_mm=side_mm + line_mm, height_mm=side_mm + line_mm)


def draw_square(
    left: float, bottom: float, side_mm: float, label: str, style: PatternStyle, type_mm: float
) -> tuple[Mark, ...]:
    """A test square: the middle of its line is the measure; its size in words inside, at the foot."""
    box = Box(left, bottom, left + side_mm, bottom + side_mm)
    return (
        PathMark(path=box_path(box), stroke=style["square"]),
        TextMark(
            x_mm=box.centre.x, y_mm=bottom + type_mm * 0.6, text=label, size_mm=type_mm, face="bold", anchor="middle"
        ),
    )


def tag_block(sheet: SheetWords, style: PatternStyle, page: PageStyle) -> Block:
    """Sheet name, title block and code in a row, in a thin frame."""
    height = max(_code_room_mm(sheet), _words_mm(sheet, PAYLOAD_ROWS))
    code = _code_block(sheet, height)
    code_left = NAME_MM + WORDS_MM + 1.0
    width = code_left + code.width_mm
    marks = (
        *place_marks(_draw_name(sheet.name, height, style), 0.0, 0.0),
        *_draw_words(sheet, Box(NAME_MM, WORDS_PAD_MM, NAME_MM + WORDS_MM, height - WORDS_PAD_MM), PAYLOAD_ROWS, page),
        *place_marks(code.marks, code_left, 0.0),
        _frame(width, height, style),
    )
    return Block(marks=marks, width_mm=width, height_mm=height)


def tall_tag_block(sheet: SheetWords, style: PatternStyle, page: PageStyle) -> Block:
    """The same, narrow: name and code above the words."""
    code, words_mm = _code_block(sheet, _code_room_mm(sheet)), _words_mm(sheet, TALL_PAYLOAD_ROWS)
    width = max(NAME_MM + code.width_mm + 10.0, TALL_MM)
    height = code.height_mm + words_mm
    marks = (
        *place_marks(_draw_name(sheet.name, code.height_mm, style), 2.0, words_mm),
        *_draw_words(sheet, Box(2.0, WORDS_PAD_MM, width - 1.0, words_mm), TALL_PAYLOAD_ROWS, page),
        *place_marks(code.marks, width - code.width_mm, words_mm),
        _frame(width, height, style),
    )
    return Block(marks=marks, width_mm=width, height_mm=height)


def _frame(width_mm: float, height_mm: float, style: PatternStyle) -> PathMark:
    return PathMark(path=box_path(Box(0, 0, width_mm, height_mm)), stroke=style["frame"])


def _code_block(sheet: SheetWords, room_mm: float) -> Block:
    """The code, as large as its room leaves it with its quiet zone, in the middle of it."""
    modules = len(code_rows(sheet.payload))
    size = (room_mm - 2 * CODE_PAD_MM) * modules / (modules + 2 * QUIET_MODULES)
    left = (room_mm - size) / 2
    return Block(marks=(draw_code(sheet.payload, left, left, size),), width_mm=room_mm, height_mm=room_mm)


def _payloads(sheet: SheetWords) -> tuple[str, str]:
    """The shortest and the longest that a sheet's code may say, whatever the version. A symbol of few modules has a wide
    quiet zone and one of many is itself larger, so that those between them take no more room."""
    first = replace(sheet.stamp, version="0", is_draft=False)
    last = replace(sheet.stamp, version="0" * LONGEST_VERSION, is_draft=True)
    return first.payload(sheet.document, 2), last.payload(sheet.document, 999)


def _code_room_mm(sheet: SheetWords) -> float:
    """The room of a symbol of level M, 18 mm wide or more, for the shortest and the longest that may stand here: those
    that are printed have larger modules in it."""
    rooms = []
    for payload in _payloads(sheet):
        modules = room_modules(payload)
        size = max(LEAST_CODE_MM, modules * LEAST_MODULE_MM)
        rooms.append(size + 2 * (QUIET_MODULES * size / modules + CODE_PAD_MM))
    return max(rooms)


def _words_mm(sheet: SheetWords, payload_rows: int) -> float:
    """How high the words are, with what the code says on so many rows."""
    rows = len(_line_ways(sheet)) + payload_rows
    return (TITLE_MM + rows * LINE_MM) * LEADING + 2 * WORDS_PAD_MM


def _draw_name(name: str, height: float, style: PatternStyle) -> tuple[Mark, ...]:
    wide = text_width_mm(name, "bold", style.sheet_type_mm)
    size = style.sheet_type_mm * min(1.0, (NAME_MM - 2.5) / wide)
    middle, base = NAME_MM / 2, height / 2 - size * 0.35
    return (TextMark(x_mm=middle, y_mm=base, text=name, size_mm=size, face="bold", anchor="middle"),)


def _draw_words(sheet: SheetWords, box: Box, payload_rows: int, page: PageStyle) -> tuple[Mark, ...]:
    """Title, then the lines, and what the code says on as many rows or fewer."""
    step, lines = LINE_MM * LEADING, _line_ways(sheet)
    title_foot = box.bottom + (len(lines) + payload_rows) * step
    marks = _fit(sheet.stamp.title, "bold", Box(box.left, title_foot, box.right, box.top), page.heading_type_mm, page)
    for row, line in enumerate(lines):
        room = Box(box.left, title_foot - (row + 1) * step, box.right, title_foot - row * step)
        marks += _fit_line(line, room, page)
    payload = sheet.payload.replace("/", "/ ", sheet.payload.count("/") - 1)  # the number stays with its document
    room = Box(box.left, box.bottom, box.right, title_foot - len(lines) * step)
    return (*marks, *_fit(payload, "regular", room, LINE_MM, page))


def _line_ways(sheet: SheetWords) -> tuple[Line, ...]:
    """Which sheet it is, its version, the shop's name, for which variants it is, and for which printer: each in full, then
    shorter, with its face."""
    stamp, said = sheet.stamp, words("band")
    number = f"{said['sheet']} {sheet.number} {said['of']} {sheet.count}"
    version = f"{said['version']} {stamp.version_words}, {stamp.date}"
    names = (stamp.shop, *(f"{stamp.shop[:count].rstrip()}…" for count in range(len(stamp.shop) - 1, 3, -1)))
    printer = f"{words('pattern')['corrected']} {sheet.printer}"
    return (
        ((f"{stamp.document_title}, {number}", number), "regular", LINE_MM),
        ((version,), "bold", LINE_MM),
        *(((names, "regular", LEAST_NAME_MM),) if stamp.shop else ()),
        *(((_serves_ways(stamp.serves), "bold", LINE_MM),) if stamp.serves else ()),
        *((((printer,), "regular", LINE_MM),) if sheet.printer else ()),
    )


def _serves_ways(serves: str) -> tuple[str, ...]:
    """For which variants the templates are, in full, then without the last ones; the first page has all."""
    said = words("pattern")
    shorter = (f"{said['serves']} {serves[:count].rstrip(' ,;')} …" for count in range(len(serves) - 1, 3, -1))
    return (f"{said['serves']} {serves}", *shorter)


def _fit_line(line: Line, room: Box, page: PageStyle) -> tuple[Mark, ...]:
    """The first of several wordings that fits one line in type no smaller than its least; the last one in type as small
    as it needs."""
    ways, face, least_mm = line
    for text in ways:
        size = min(LINE_MM, LINE_MM * room.width / text_width_mm(text, face, LINE_MM))
        if size >= least_mm:
            return (TextMark(x_mm=room.left, y_mm=room.top - LINE_MM * 0.95, text=text, size_mm=size, face=face),)
    return _fit(ways[-1], face, room, LINE_MM, page)


def _fit(text: str, face: str, box: Box, largest_mm: float, page: PageStyle) -> tuple[Mark, ...]:
    """All of a text in a box, in type as large as it fits."""
    size, lines = fit_text(text, face, box, largest_mm, page.least_type_mm * 0.6)
    said = (line.replace("/ ", "/") for line in lines)
    return text_lines(said, box.left, box.top - size * 0.95, size * LEADING, size, face)
