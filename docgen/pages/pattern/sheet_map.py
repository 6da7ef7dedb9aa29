"""The map of the sheets: every grid small, with its sheets' names and the outlines of the pieces on it."""

from collections.abc import Callable, Iterator

from docgen.geometry.measure import box_finder, touch_test
from docgen.geometry.path import box_path, circle_path, path_box, scale_path
from docgen.geometry.shapes import Box, Point
from docgen.geometry.vector import distance
from docgen.pages.looks.pattern_style import PatternStyle
from docgen.pages.looks.words import words
from docgen.pages.marks.moving import place_marks
from docgen.pages.marks.page import ClipMark, Mark, PathMark, Stroke, TextMark
from docgen.pages.pattern.grid import Window, join_strip
from docgen.pages.pattern.sheets import DrawnGrid
from docgen.pages.setting.blocks import Figure, PageStyle
from docgen.written.units.table import MM_PER_POINT

GAP_MM = 4.0
LARGEST = 1 / 5
SMALLEST = 1 / 60
EDGE, PIECE = Stroke(0.35), Stroke(0.18)  # of a sheet and of a piece, both black: a copy keeps them apart
EDGE_ROOM_MM = 0.2  # over the first row, for half of an edge
NAME_PLACES = 9  # across a sheet and up, at which its name may stand
NAME_CLEAR_MM = 0.4
NUMBER_MM = 10 * MM_PER_POINT
RING_MM = 2.5

Find = Callable[[Box], Iterator[tuple[Box, Callable[[Box], bool]]]]
"""What lies near a box: each with its own box, and a test whether it touches one."""


def map_figure(
    drawn: tuple[DrawnGrid, ...],
    window: Window,
    style: PatternStyle,
    page: PageStyle,
    width_mm: float,
    height_mm: float,
) -> Figure:
    """All grids in rows, as large as the room allows; the caption says how small."""
    scale = LARGEST
    while scale > SMALLEST and _rows_height(drawn, window, scale, width_mm) + EDGE_ROOM_MM > height_mm:
        scale *= 0.96
    rows = _rows(drawn, window, scale, width_mm)
    total_mm = _rows_height(drawn, window, scale, width_mm)
    marks: list[Mark] = []
    top = total_mm
    for row in rows:
        left = 0.0
        tall = max(_span(grid, window)[1] for grid in row) * scale
        for grid in row:
            wide, high = _span(grid, window)
            marks += place_marks(_draw_grid(grid, window, scale, style), left, top - high * scale)
            left += wide * scale + GAP_MM
        top -= tall + GAP_MM
    return Figure(
        width_mm,
        max(total_mm + EDGE_ROOM_MM, 1.0),
        tuple(marks),
        caption=f"{words('pattern')['map_scale']} 1 : {1 / scale:.0f}",
    )


def _span(drawn: DrawnGrid, window: Window) -> tuple[float, float]:
    return window.span(drawn.grid.columns, drawn.grid.rows)


def _rows(drawn: tuple[DrawnGrid, ...], window: Window, scale: float, width_mm: float) -> list[list[DrawnGrid]]:
    rows: list[list[DrawnGrid]] = []
    used = 0.0
    for grid in drawn:
        wide = _span(grid, window)[0] * scale
        if not rows or used + wide > width_mm:
            rows.append([])
            used = 0.0
        rows[-1].append(grid)
        used += wide + GAP_MM
    return rows


def _rows_height(drawn: tuple[DrawnGrid, ...], window: Window, scale: float, width_mm: float) -> float:
    if any(_span(grid, window)[0] * scale > width_mm for grid in drawn):
        return float("inf")
    rows = _rows(drawn, window, scale, width_mm)
    return sum(max(_span(grid, window)[1] for grid in row) * scale + GAP_MM for row in rows)


def _draw_grid(drawn: DrawnGrid, window: Window, scale: float, style: PatternStyle) -> tuple[Mark, ...]:
    marks: list[Mark] = []
    for mark in _outlines(drawn.marks):
        marks.append(PathMark(path=scale_path(mark.path, scale), stroke=PIECE))
    numbered = enumerate(drawn.grid.joins, start=drawn.first_join)
    numbers = [mark for number, join in numbered for mark in _join_number(number, join_strip(join, window), scale)]
    lines = [mark.path for mark in (*marks, *numbers) if isinstance(mark, PathMark)]
    small = [_scale_box(window.sheet(*cell), scale) for cell in drawn.grid.sheets]
    edges = [box_path(box) for box in small]
    find = box_finder((path_box(path), touch_test(path)) for path in (*lines, *edges))
    for cell, box, edge in zip(drawn.grid.sheets, small, edges, strict=True):
        marks.append(PathMark(path=edge, stroke=EDGE))
        marks += _sheet_name(drawn.sheet_name(cell), box, find)
    return (*marks, *numbers)


def _scale_box(box: Box, scale: float) -> Box:
    return Box(box.left * scale, box.bottom * scale, box.right * scale, box.top * scale)


def _join_number(number: int, strip: Box, scale: float) -> list[Mark]:
    """The join's number in a circle on the strip."""
    at = Point(strip.centre.x * scale, strip.centre.y * scale)
    if strip.height > strip.width:
        at = Point(at.x, at.y - min(strip.height * scale / 4, 4.5))
    else:
        at = Point(max(at.x - min(strip.width * scale / 4, 4.5), strip.left * scale + RING_MM), at.y)
    base = at.y - NUMBER_MM * 0.35
    text = TextMark(x_mm=at.x, y_mm=base, text=str(number), size_mm=NUMBER_MM, face="bold", anchor="middle")
    return [PathMark(path=circle_path(at, RING_MM), fill=1.0, stroke=PIECE), text]


def _sheet_name(name: str, box: Box, find: Find) -> list[Mark]:
    """The name as near to the middle as it keeps clear of all lines; where it cannot, in the middle on a white patch, so
    that it reads above them."""
    size = min(3.9, box.width / 3, box.height / 3)
    half = Point(size * 0.42 * len(name) + 0.4, size * 0.55)
    clear = _find_clear(box, half, find)
    at = clear or box.centre
    text = TextMark(x_mm=at.x, y_mm=at.y - size * 0.35, text=name, size_mm=size, face="bold", anchor="middle")
    if clear:
        return [text]
    patch = box_path(Box(at.x - half.x, at.y - half.y, at.x + half.x, at.y + half.y))
    return [PathMark(path=patch, fill=1.0), text]


def _find_clear(box: Box, half: Point, find: Find) -> Point | None:
    """The place for a box of that half size inside another one nearest to its middle that no line touches."""
    reach = Point(half.x + NAME_CLEAR_MM, half.y + NAME_CLEAR_MM)
    free = Point(box.width / 2 - reach.x, box.height / 2 - reach.y)
    shares = [2 * k / (NAME_PLACES - 1) - 1 for k in range(NAME_PLACES)]
    places = [Point(box.centre.x + x * free.x, box.centre.y + y * free.y) for x in shares for y in shares]
    for at in sorted(places, key=lambda at: round(distance(at, box.centre), 3)):
        room = Box(at.x - reach.x, at.y - reach.y, at.x + reach.x, at.y + reach.y)
        if not any(is_hit(room) for _, is_hit in find(room)):
            return at
    return None


def _outlines(marks: tuple[Mark, ...]) -> list[PathMark]:
    """The cut lines among the marks; of a strap that is shown broken, the two ends as boxes."""
    found: list[PathMark] = []
    for mark in marks:
        if isinstance(mark, PathMark) and mark.layer == "cut":
            found.append(mark)
        elif isinstance(mark, ClipMark):
            found.append(PathMark(path=box_path(mark.box), stroke=PIECE))
    return [mark for mark in found if path_box(mark.path).width > 0 or path_box(mark.path).height > 0]
