"""Where a piece's label goes: inside it, clear of every line, as large as there is room for; else beside it.

The piece is laid on a grid of small cells; a cell is free when it is inside and no line runs through it. All cells are one
whole number, a bit for each, so that many are looked at in one go.
"""

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from functools import cache
from itertools import pairwise, zip_longest

from docgen.classes import dataclass
from docgen.fonts import text_width_mm, wrap_text
from docgen.geometry.measure import inside_rows
from docgen.geometry.path import flatten, path_box
from docgen.geometry.shapes import Box, Path, Point
from docgen.pages.marks.moving import mark_box, text_box
from docgen.pages.marks.page import TextMark
from docgen.written.units.table import MM_PER_POINT

LEADING = 1.25
CLEAR_MM = 1.2
WORDS_APART_MM = 4.0  # on one line, or they are read as one: our choice
WIDTHS_MM = (120.0, 64.0, 46.0, 34.0)  # of a label, from the one to be wished
CELLS = 160  # along the longer side of a piece, of which its room is made up
FINEST_CELL_MM, COARSEST_CELL_MM = 0.6, 2.5
SIZES = (1.0, 0.85, 0.72, 0.6, 0.5)
READABLE_MM = 10 * MM_PER_POINT  # at the bench no less is read without stooping
FINEST_MM = 7 * MM_PER_POINT  # where a piece that is joined from sheets has no room for more


@dataclass(frozen=True, slots=True, kw_only=True)
class LabelLine:
    """A line of a label. With `widest`, words that may stand there another time, it has room for these, is never broken,
    and is set smaller where it is longer: the label is then as large, whatever the line says."""

    text: str
    size_mm: float
    face: str = "regular"
    widest: str = ""


@dataclass(frozen=True, slots=True)
class Room:
    """Cells from the lower left of a box, row by row: bit `row * (columns + 1) + column` of `free` is 1 where free.

    The last bit of each row is 0, so that no stretch of free cells runs on into the next row.
    """

    box: Box
    cell_mm: float
    columns: int
    rows: int
    free: int

    def is_free(self, column: int, row: int) -> bool:
        return bool(self.free >> (row * (self.columns + 1) + column) & 1)


def make_room(
    outline: Path, lines: Iterable[Path | Box], bands: Iterable[Path], taken: Iterable[Box] = (), cell_mm: float = 0.0
) -> Room:
    """The room for labels inside a closed outline, clear of lines, filled bands and boxes; in cells of this
    size, where it is said."""
    lines = tuple(lines)
    box = path_box(outline)
    cell = cell_mm or min(max(max(box.width, box.height) / CELLS, FINEST_CELL_MM), COARSEST_CELL_MM)
    columns, rows = max(math.ceil(box.width / cell), 1), max(math.ceil(box.height / cell), 1)
    free = _inside(outline, box, cell, columns, rows)
    for band in bands:
        free = [row & ~inside for row, inside in zip(free, _inside(band, box, cell, columns, rows), strict=True)]
    for line in (outline, *lines):
        if isinstance(line, Path):
            _mark_line(free, line, box, cell, columns)
    empty = Room(box, cell, columns, rows, 0)
    for own in (*(line for line in lines if isinstance(line, Box)), *taken):
        bits, low, high = _cells_of(empty, own)
        for row in range(low, high):  # row by row: thousands of holes each in the one long number would copy that often
            free[row] &= ~bits
    return replace(empty, free=_stack(free, columns + 1))


def _stack(rows: list[int], step: int) -> int:
    """Rows as one number, each so many bits above the one before: two and two, so that a long one is copied seldom."""
    while len(rows) > 1:
        rows = [low | high << step for low, high in zip_longest(rows[::2], rows[1::2], fillvalue=0)]
        step *= 2
    return rows[0]


def take_boxes(room: Room, taken: Iterable[Box]) -> Room:
    """The room without some more boxes."""
    free, step = room.free, room.columns + 1
    for own in taken:
        bits, low, high = _cells_of(room, own)
        if bits and high > low:
            each_row = ((1 << step * (high - low)) - 1) // ((1 << step) - 1)
            free &= ~(bits * each_row << low * step)
    return replace(room, free=free)


def spaced_box(mark: TextMark) -> Box:
    """The box of words with so much white before and behind them that nothing is read on from them."""
    box = mark_box(mark)
    across, up = (WORDS_APART_MM, 0.0) if mark.angle_deg % 180 == 0 else (0.0, WORDS_APART_MM)
    return Box(box.left - across, box.bottom - up, box.right + across, box.top + up)


def _cells_of(room: Room, own: Box) -> tuple[int, int, int]:
    """The cells that a box reaches into: its columns, as bits of a row, from which row on, and up to which, not with it."""
    box, cell = room.box, room.cell_mm
    bits = _bits(int((own.left - box.left) / cell), math.ceil((own.right - box.left) / cell), room.columns)
    low, high = max(int((own.bottom - box.bottom) / cell), 0), math.ceil((own.top - box.bottom) / cell)
    return bits, low, min(high, room.rows)


def take_shapes(room: Room, shapes: Iterable[Path]) -> Room:
    """The room without what lies inside some closed shapes."""
    free = room.free
    for shape in shapes:
        free &= ~_stack(_inside(shape, room.box, room.cell_mm, room.columns, room.rows), room.columns + 1)
    return Room(room.box, room.cell_mm, room.columns, room.rows, free)


def _bits(first: int, last: int, columns: int) -> int:
    """A row with the columns from the first up to, not with, the last."""
    first, last = max(first, 0), min(last, columns)
    return (1 << last) - (1 << first) if first < last else 0


def _inside(path: Path, box: Box, cell: float, columns: int, rows: int) -> list[int]:
    """The cells of each row whose middle line lies inside a closed path from end to end."""
    found = []
    for ends in inside_rows(path, [box.bottom + (row + 0.5) * cell for row in range(rows)]):
        bits = 0
        for start, end in zip(ends[::2], ends[1::2], strict=True):
            bits |= _bits(math.ceil((start - box.left) / cell), math.floor((end - box.left) / cell), columns)
        found.append(bits)
    return found


def _mark_line(free: list[int], path: Path, box: Box, cell: float, columns: int) -> None:
    """Takes every cell that a line runs through: in each row that it crosses, the stretch between its two crossings."""
    points = [((x - box.left) / cell, (y - box.bottom) / cell) for x, y in flatten(path, cell / 4)]
    rows, floor = len(free), math.floor
    for start, end in pairwise([*points, *points[: path.closed]]):
        (x, y), (far, top) = (start, end) if start[1] <= end[1] else (end, start)
        if top < 0 or y >= rows or (x < 0 and far < 0) or (x > columns and far > columns):
            continue
        slope = (far - x) / (top - y) if top > y else 0.0
        for row in range(floor(y) if y > 0 else 0, min(floor(top) + 1, rows)):
            enter = x + slope * (row - y) if row > y else x
            leave = x + slope * (row + 1 - y) if row + 1 < top else far
            left, right = (enter, leave) if enter <= leave else (leave, enter)
            first = floor(left) if left > 0 else 0
            last = floor(right) + 1 if right < columns else columns
            if first < last:
                free[row] &= ~((1 << last) - (1 << first))


def find_free_box(room: Room, width_mm: float, height_mm: float, near: Point | None = None) -> Box | None:
    """The free box of this size nearest to the room's middle, or with its lower left nearest to a point; None when
    there is none."""
    across, up = math.ceil(width_mm / room.cell_mm), math.ceil(height_mm / room.cell_mm)
    middle_row, middle_column = (room.rows - up) / 2, (room.columns - across) / 2
    if near is not None:
        middle_row, middle_column = ((near.y - room.box.bottom) / room.cell_mm, (near.x - room.box.left) / room.cell_mm)
    step = room.columns + 1
    starts = _narrow(_narrow(room.free, across, 1), up, step)
    whole = (1 << step) - 1
    best: tuple[float, int, int] | None = None
    for row in _outward(middle_row, room.rows) if starts else ():
        off = (row - middle_row) ** 2
        if best is not None and off > best[0]:
            break
        for column in _nearest(starts >> row * step & whole, middle_column):
            found = (off + (column - middle_column) ** 2, row, column)
            best = found if best is None or found < best else best
    if best is None:
        return None
    left, bottom = room.box.left + best[2] * room.cell_mm, room.box.bottom + best[1] * room.cell_mm
    return Box(left, bottom, left + across * room.cell_mm, bottom + up * room.cell_mm)


def _narrow(free: int, count: int, step: int) -> int:
    """The cells from which so many are free, each a step after the one before."""
    wide = 1
    while wide < count and free:
        more = min(wide, count - wide)
        free &= free >> more * step
        wide += more
    return free


def _outward(middle: float, rows: int) -> Iterator[int]:
    """The rows from the one nearest to the middle to the farthest."""
    low = min(max(math.floor(middle), -1), rows - 1)
    high = low + 1
    while low >= 0 or high < rows:
        if high >= rows or (low >= 0 and middle - low <= high - middle):
            yield low
            low -= 1
        else:
            yield high
            high += 1


def _nearest(columns: int, middle: float) -> list[int]:
    """The column nearest to the middle on either side of it."""
    split = max(math.floor(middle) + 1, 0)
    low, high = columns & ((1 << split) - 1), columns >> split
    return [*([low.bit_length() - 1] if low else []), *([split + (high & -high).bit_length() - 1] if high else [])]


def place_label(
    room: Room,
    lines: Sequence[LabelLine],
    angles_deg: Sequence[float],
    *,
    least_mm: float = READABLE_MM,
    clear_mm: float = CLEAR_MM,
    shares: Sequence[float] = SIZES,
) -> tuple[TextMark, ...]:
    """The label inside the piece, at the first of the angles (0, 90 or -90) that serves, there in few and large lines;
    empty when it fits at no size, of those `shares` of its own."""

    @cache
    def shrunk_to(share: float) -> tuple[LabelLine, ...]:
        return shrink_lines(lines, share, least_mm)

    @cache
    def sized_to(wide_mm: float, share: float) -> tuple[tuple[LabelLine, ...], tuple[float, float]]:
        sized = wrap_lines(shrunk_to(share), wide_mm)
        return sized, label_size(sized)

    for angle in angles_deg:
        refused: list[tuple[float, float]] = []
        for wide_mm in WIDTHS_MM:
            for share in shares:
                sized, (wide, high) = sized_to(wide_mm, share)
                if any(wide >= other[0] and high >= other[1] for other in refused):
                    continue
                across, up = (wide, high) if angle == 0 else (high, wide)
                box = find_free_box(room, across + 2 * clear_mm, up + 2 * clear_mm)
                if box is not None:
                    return set_label(sized, box, angle)
                refused.append((wide, high))
    return ()


def place_lines(
    room: Room, lines: Sequence[LabelLine], angles_deg: Sequence[float], size_mm: float, *, clear_mm: float = CLEAR_MM
) -> tuple[TextMark, ...]:
    """The lines of the label apart, in type so large, each where there is room for it; empty when one has none."""
    for angle in angles_deg:
        left = room
        marks: list[TextMark] = []
        for line in lines:
            sized = (replace(line, size_mm=size_mm),)
            found = place_label(left, sized, (angle,), least_mm=size_mm, clear_mm=clear_mm)
            marks += found
            left = take_boxes(left, map(text_box, found))
            if not found:
                break
        else:
            return tuple(marks)
    return ()


def wrap_lines(lines: Sequence[LabelLine], widest_mm: float) -> tuple[LabelLine, ...]:
    """Lines longer than a label may be wide, broken between words."""
    return tuple(
        line if text == line.text else replace(line, text=text)
        for line in lines
        for text in ([line.text] if line.widest else wrap_text(line.text, line.face, line.size_mm, widest_mm))
    )


def shrink_lines(lines: Sequence[LabelLine], share: float, least_mm: float = READABLE_MM) -> tuple[LabelLine, ...]:
    """Lines at a share of their size, none finer than the least."""
    return tuple(replace(line, size_mm=max(line.size_mm * share, least_mm)) for line in lines)


def label_size(lines: Sequence[LabelLine]) -> tuple[float, float]:
    """Width and height of lines set one below the other, in mm."""
    widths = [text_width_mm(line.widest or line.text, line.face, line.size_mm) for line in lines]
    return max(widths, default=0.0), sum(line.size_mm * LEADING for line in lines)


def _size_of(line: LabelLine) -> float:
    """Of what a line says: smaller where that is wider than its room."""
    if not line.widest:
        return line.size_mm
    room_mm, wide_mm = (text_width_mm(text, line.face, line.size_mm) for text in (line.widest, line.text))
    return line.size_mm * min(1.0, room_mm / wide_mm)


def set_label(lines: Sequence[LabelLine], box: Box, angle_deg: float) -> tuple[TextMark, ...]:
    """Lines centred in a box, running along the given angle."""
    turn = math.radians(angle_deg)
    down = Point(math.sin(turn), -math.cos(turn))
    _, height_mm = label_size(lines)
    marks = []
    below = -height_mm / 2
    for line in lines:
        below += line.size_mm * LEADING
        rise = below - line.size_mm * (LEADING - 0.95)
        marks.append(
            TextMark(
                x_mm=box.centre.x + down.x * rise,
                y_mm=box.centre.y + down.y * rise,
                text=line.text,
                size_mm=_size_of(line),
                face=line.face,
                anchor="middle",
                angle_deg=angle_deg,
                layer="words",
            )
        )
    return tuple(marks)
