"""Where a piece's label goes: inside it, clear of every line, as large as there is room for; else beside it.

The piece is laid on a grid of small cells; a cell is blocked when it is outside or when a line runs through it.
Sums over the grid tell at once whether a box is free.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from itertools import accumulate, pairwise
from operator import add

from docgen.fonts import text_width_mm, wrap_text
from docgen.geometry import Box, Path, Point, chord_rows, distance, flatten, path_box
from docgen.pages.marks.page import TextMark
from docgen.written.units import MM_PER_POINT

LEADING = 1.25
CLEAR_MM = 1.2
WIDEST_MM = 120.0  # of a label at its full size
SIZES = (1.0, 0.85, 0.72, 0.6, 0.5)
FINEST_MM = 7 * MM_PER_POINT  # no line of a label is set smaller


@dataclass(frozen=True, slots=True, kw_only=True)
class LabelLine:
    text: str
    size_mm: float
    face: str = "regular"


@dataclass(frozen=True, slots=True)
class Room:
    """Cells from the lower left of a box: `blocked[row][column]` is 0 where free."""

    box: Box
    cell_mm: float
    blocked: tuple[bytes, ...]


def make_room(outline: Path, lines: Iterable[Path], bands: Iterable[Path], taken: Iterable[Box] = ()) -> Room:
    """The room for labels inside a closed outline, clear of lines, filled bands and boxes."""
    box = path_box(outline)
    cell = min(max(max(box.width, box.height) / 160, 0.6), 2.5)
    columns, rows = max(math.ceil(box.width / cell), 1), max(math.ceil(box.height / cell), 1)
    blocked = [bytearray(b"\1" * columns) for _ in range(rows)]
    _mark_inside(blocked, outline, box, cell, 0)
    for band in bands:
        _mark_inside(blocked, band, box, cell, 1)
    for path in (outline, *lines):
        _mark_line(blocked, path, box, cell)
    for taken_box in taken:
        _mark_box(blocked, taken_box, box, cell)
    return Room(box, cell, tuple(map(bytes, blocked)))


def take_boxes(room: Room, taken: Iterable[Box]) -> Room:
    """The room without some more boxes."""
    blocked = [bytearray(row) for row in room.blocked]
    for box in taken:
        _mark_box(blocked, box, room.box, room.cell_mm)
    return Room(room.box, room.cell_mm, tuple(map(bytes, blocked)))


def _mark_inside(blocked: list[bytearray], path: Path, box: Box, cell: float, value: int) -> None:
    heights = [box.bottom + (row + 0.5) * cell for row in range(len(blocked))]
    for cells, chords in zip(blocked, chord_rows(path, box.left, heights), strict=True):
        for start, end in chords:
            first = max(math.ceil((start.x - box.left) / cell), 0)
            last = min(math.floor((end.x - box.left) / cell), len(cells))
            if first < last:
                cells[first:last] = bytes([value]) * (last - first)


def _mark_line(blocked: list[bytearray], path: Path, box: Box, cell: float) -> None:
    points = flatten(path, cell / 4)
    if path.closed and points:
        points = (*points, points[0])
    for start, end in pairwise(points):
        steps = max(math.ceil(distance(start, end) / (cell * 0.7)), 1)
        for step in range(steps + 1):
            x = start.x + (end.x - start.x) * step / steps
            y = start.y + (end.y - start.y) * step / steps
            column, row = int((x - box.left) / cell), int((y - box.bottom) / cell)
            if 0 <= row < len(blocked) and 0 <= column < len(blocked[0]):
                blocked[row][column] = 1


def _mark_box(blocked: list[bytearray], taken: Box, box: Box, cell: float) -> None:
    first = max(int((taken.left - box.left) / cell), 0)
    last = min(math.ceil((taken.right - box.left) / cell), len(blocked[0]))
    for row in range(
        max(int((taken.bottom - box.bottom) / cell), 0), min(math.ceil((taken.top - box.bottom) / cell), len(blocked))
    ):
        if first < last:
            blocked[row][first:last] = b"\1" * (last - first)


@lru_cache(maxsize=2)
def _sum_up(blocked: tuple[bytes, ...]) -> tuple[tuple[int, ...], ...]:
    """Blocked cells below and left of each corner; kept while one room is searched, since they take much memory."""
    sums = [tuple([0] * (len(blocked[0]) + 1))]
    for cells in blocked:
        sums.append(tuple(map(add, sums[-1], (0, *accumulate(cells)))))
    return tuple(sums)


def find_free_box(room: Room, width_mm: float, height_mm: float, near: Point | None = None) -> Box | None:
    """The free box of this size nearest to the room's middle, or with its lower left nearest to a point; None when
    there is none."""
    across, up = math.ceil(width_mm / room.cell_mm), math.ceil(height_mm / room.cell_mm)
    rows, columns = len(room.blocked), len(room.blocked[0])
    sums = _sum_up(room.blocked)
    middle_row, middle_column = (rows - up) / 2, (columns - across) / 2
    if near is not None:
        middle_row, middle_column = ((near.y - room.box.bottom) / room.cell_mm, (near.x - room.box.left) / room.cell_mm)
    best: tuple[float, int, int] | None = None
    for row in sorted(range(rows - up + 1), key=lambda row: abs(row - middle_row)):
        off = (row - middle_row) ** 2
        if best is not None and off > best[0]:
            break
        for column in _free_columns(sums[row], sums[row + up], across):
            found = (off + (column - middle_column) ** 2, row, column)
            best = found if best is None or found < best else best
    if best is None:
        return None
    left, bottom = room.box.left + best[2] * room.cell_mm, room.box.bottom + best[1] * room.cell_mm
    return Box(left, bottom, left + across * room.cell_mm, bottom + up * room.cell_mm)


def _free_columns(low: tuple[int, ...], high: tuple[int, ...], across: int) -> list[int]:
    """Where boxes between two rows of sums, so many cells wide, begin and hold no blocked cell."""
    corners = zip(high[across:], high, low[across:], low, strict=False)
    return [column for column, (a, b, c, d) in enumerate(corners) if a - b == c - d]


def place_label(room: Room, lines: Sequence[LabelLine], angles_deg: Sequence[float]) -> tuple[TextMark, ...]:
    """The label inside the piece, as large as it fits, at the first of the angles (0, 90 or -90) that serves; empty
    when it fits at no size."""
    for share in SIZES:
        sized = shrink_lines(lines, share)
        width_mm, height_mm = label_size(sized)
        for angle in angles_deg:
            size = (width_mm, height_mm) if angle == 0 else (height_mm, width_mm)
            box = find_free_box(room, size[0] + 2 * CLEAR_MM, size[1] + 2 * CLEAR_MM)
            if box is not None:
                return set_label(sized, box, angle)
    return ()


def wrap_lines(lines: Sequence[LabelLine], widest_mm: float = WIDEST_MM) -> tuple[LabelLine, ...]:
    """Lines longer than a label may be wide, broken between words."""
    return tuple(
        replace(line, text=text) for line in lines for text in wrap_text(line.text, line.face, line.size_mm, widest_mm)
    )


def shrink_lines(lines: Sequence[LabelLine], share: float) -> tuple[LabelLine, ...]:
    """Lines at a share of their size, none finer than the finest."""
    return tuple(
        LabelLine(text=line.text, size_mm=max(line.size_mm * share, FINEST_MM), face=line.face) for line in lines
    )


def label_size(lines: Sequence[LabelLine]) -> tuple[float, float]:
    """Width and height of lines set one below the other, in mm."""
    widths = [text_width_mm(line.text, line.face, line.size_mm) for line in lines]
    return max(widths, default=0.0), sum(line.size_mm * LEADING for line in lines)


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
                size_mm=line.size_mm,
                face=line.face,
                anchor="middle",
                angle_deg=angle_deg,
                layer="words",
            )
        )
    return tuple(marks)
