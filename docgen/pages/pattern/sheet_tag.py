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

WORDS_MM = 62.0
TALL_MM = 54.0
TALL_WORDS_MM = 27.5
NAME_MM = 17.0
EDGE_MM = 1.5  # white round the tag and the squares, so that no line of a piece is taken for theirs
SQUARE_INCH_MM, SQUARE_METRIC_MM = 25.4, 25.0
CODE_PAD_MM = 0.3  # the white that the writer clears about a code must not reach the frame
LEADING = 1.22
TITLE_SHARE = 0.3
LEAST_LINE_MM = 7 * MM_PER_POINT  # a line of the tag is worded shorter before it is set smaller


Line = tuple[tuple[str, ...], str]
"""A line of the tag: its wordings, from the full one on, and its face."""


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
    return PathMark(path=box_path(Box(0, 0, width_mm, height_mm)), stroke=style["frame"])


def _code_block(sheet: SheetWords) -> Block:
    """The code, as large as its room leaves it with its quiet zone, in the middle of a room for the shortest and the
    longest that may stand here."""
    room_mm = max(map(_code_room_mm, _payloads(sheet)))
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


def _code_room_mm(payload: str) -> float:
    """The room of a symbol of level M, 18 mm wide or more: those that are printed have larger modules in it."""
    modules = room_modules(payload)
    size = max(LEAST_CODE_MM, modules * LEAST_MODULE_MM)
    return size + 2 * (QUIET_MODULES * size / modules + CODE_PAD_MM)


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
    """Title as large as it fits in three tenths of the height, then the lines, and what the code says on one or two."""
    title_foot = box.top - box.height * TITLE_SHARE
    marks = _fit(sheet.stamp.title, "bold", Box(box.left, title_foot, box.right, box.top), page.heading_type_mm, page)
    lines, rows = _choose_lines(sheet, box.width, title_foot - box.bottom)
    step = (title_foot - box.bottom) / rows
    size = min(page.label_type_mm, step / LEADING)
    for row, (ways, face) in enumerate(lines):
        room = Box(box.left, title_foot - (row + 1) * step, box.right, title_foot - row * step)
        marks += _fit_line(ways, face, room, size, page)
    payload = sheet.payload.replace("/", "/ ", sheet.payload.count("/") - 1)  # the number stays with its document
    room = Box(box.left, box.bottom, box.right, title_foot - len(lines) * step)
    return (*marks, *_fit(payload, "regular", room, size, page))


def _choose_lines(sheet: SheetWords, width_mm: float, height_mm: float) -> tuple[tuple[Line, ...], int]:
    """The lines, and for how many the height is shared out. The shop's name has a line of its own where it does not fit
    beside the version and there is room for one more; else it is worded shorter."""
    is_one = text_width_mm(_version_words(sheet, sheet.stamp.shop), "bold", LEAST_LINE_MM) <= width_mm
    payload_rows = 1 if text_width_mm(sheet.payload, "regular", LEAST_LINE_MM) <= width_mm else 2
    more = 1 if sheet.stamp.serves else 0
    has_room = height_mm / (4 + more + payload_rows) >= LEAST_LINE_MM * LEADING
    if is_one or not has_room:
        return _line_ways(sheet, is_apart=False), 5 + more
    return _line_ways(sheet, is_apart=True), 4 + more + payload_rows


def _version_words(sheet: SheetWords, shop: str) -> str:
    stamp, said = sheet.stamp, words("band")
    return f"{said['version']} {stamp.version_words}   {stamp.date}   {shop}".rstrip()


def _line_ways(sheet: SheetWords, *, is_apart: bool) -> tuple[Line, ...]:
    """Which sheet it is, its version, the shop's name beside that or below, and its measures or printer: each in full,
    then shorter, with its face."""
    stamp, said = sheet.stamp, words("band")
    number = f"{said['sheet']} {sheet.number} {said['of']} {sheet.count}"
    place = f", {said['row']} {sheet.row}, {said['column']} {sheet.column}" if sheet.row else ""
    names = (stamp.shop, *(f"{stamp.shop[:count].rstrip()}…" for count in range(len(stamp.shop) - 1, 3, -1)))
    version = _version_words(sheet, "")
    beside = (*(_version_words(sheet, name) for name in names), version)
    return (
        ((f"{stamp.document_title}, {number}{place}", f"{number}{place}"), "regular"),
        *((((version,), "bold"), (names, "bold")) if is_apart else ((beside, "bold"),)),
        *(((_serves_ways(stamp.serves), "bold"),) if stamp.serves else ()),
        ((f"{words('pattern')['corrected']} {sheet.printer}" if sheet.printer else stamp.units,), "regular"),
    )


def _serves_ways(serves: str) -> tuple[str, ...]:
    """For which variants the templates are, in full, then without the last ones; the first page has all."""
    said = words("pattern")
    shorter = (f"{said['serves']} {serves[:count].rstrip(' ,;')} …" for count in range(len(serves) - 1, 3, -1))
    return (f"{said['serves']} {serves}", *shorter)


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
    said = (line.replace("/ ", "/") for line in lines)
    return text_lines(said, box.left, box.top - size * 0.95, size * LEADING, size, face)
