"""Grids of sheets with what is placed on them, and what they cost.

Positions are in mm from the bottom left of the joined grid; columns count from the left, rows from the bottom.
"""

import math
from collections.abc import Callable, Iterable, Sequence

from docgen.classes import dataclass
from docgen.geometry.path import boxes_overlap, grow_box
from docgen.geometry.shapes import Box

GAP_MM = 1.0  # between two footprints: with the white of both, 4 mm from cut line to cut line, enough for the knife
JOIN_CLEAR_MM = 0.5  # small footprints keep this far from where sheets meet: 2 mm from cut line to strip
JOIN_WEIGHT = 0.5


@dataclass(frozen=True, slots=True, kw_only=True)
class Window:
    """The part of a sheet that carries the pattern, and how far it repeats its neighbour across and down."""

    width_mm: float
    height_mm: float
    across_mm: float
    down_mm: float

    def span(self, columns: int, rows: int) -> tuple[float, float]:
        """Width and height of a joined grid."""
        return (
            columns * self.width_mm - (columns - 1) * self.across_mm,
            rows * self.height_mm - (rows - 1) * self.down_mm,
        )

    def sheet(self, column: int, row: int) -> Box:
        """What one sheet of a grid shows."""
        left, bottom = column * (self.width_mm - self.across_mm), row * (self.height_mm - self.down_mm)
        return Box(left, bottom, left + self.width_mm, bottom + self.height_mm)


@dataclass(frozen=True, slots=True, kw_only=True)
class Footprint:
    """Room that a template takes on paper, with its own label; it may be turned a quarter."""

    name: str
    width_mm: float
    height_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Placed:
    """A footprint in its grid; turned a quarter to the left when `is_turned`."""

    name: str
    box: Box
    is_turned: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Spot:
    """Where a sheet carries one block of its tag, and in which of its shapes."""

    block: int
    shape: int
    box: Box


@dataclass(frozen=True, slots=True, kw_only=True)
class Tag:
    """What every sheet carries: blocks, each of which can be had in one of several shapes (width, height).

    `held` tells which blocks have room inside a placed footprint, clear of its lines, on a sheet with such strips where
    it is joined; all in the coordinates of the grid.
    """

    blocks: tuple[tuple[tuple[float, float], ...], ...]
    held: Callable[[Placed, Box, tuple[Box, ...]], tuple[Spot, ...]]


NO_TAG = Tag(blocks=(), held=lambda placed, sheet, strips: ())


@dataclass(frozen=True, slots=True, kw_only=True)
class Grid:
    """Sheets that are joined; `sheets` are the (column, row) that carry something, by rows from the top, and `spots`
    where each of them has its tag: a sheet that is too full for a block has no spot for it."""

    columns: int
    rows: int
    placed: tuple[Placed, ...]
    sheets: tuple[tuple[int, int], ...]
    joins: tuple[tuple[tuple[int, int], tuple[int, int]], ...]
    spots: tuple[tuple[Spot, ...], ...] = ()


class TooLarge(ValueError):
    """A footprint would need more sheets along one side than can sensibly be joined."""


def count_cost(grids: Iterable[Grid]) -> tuple[int, int]:
    """Sheets and joins of all grids."""
    listed = list(grids)
    return sum(len(grid.sheets) for grid in listed), sum(len(grid.joins) for grid in listed)


def weigh(sheets: int, joins: int) -> float:
    """What a layout costs the person at the bench: a join takes time and can go wrong, so two of them weigh as much as
    a sheet of paper."""
    return sheets + JOIN_WEIGHT * joins


def lower_bound(footprints: Sequence[Footprint], window: Window) -> int:
    """A number of sheets that no placement of these can beat.

    By area, each footprint with the gap that it keeps and, where it fits no single sheet, with what of it is printed on
    two sheets; two when one fits no single sheet; and one sheet for each that fits on one but is more than half as wide
    and high as a sheet is long, since no two of those share a sheet.
    """
    area = sum(
        (item.width_mm + GAP_MM) * (item.height_mm + GAP_MM)
        + min(_twice_mm2(item.width_mm, item.height_mm, window), _twice_mm2(item.height_mm, item.width_mm, window))
        for item in footprints
    )
    by_area = math.ceil(area / ((window.width_mm + GAP_MM) * (window.height_mm + GAP_MM)) - 1e-9)
    longest_mm = max(window.width_mm, window.height_mm)
    small = [item for item in footprints if fits_one_sheet(item, window)]
    apart = sum(min(item.width_mm, item.height_mm) > longest_mm / 2 for item in small)
    return max(by_area, apart, 2 if len(small) < len(footprints) else 0, 1 if footprints else 0)


def _twice_mm2(width: float, height: float, window: Window) -> float:
    """At least so much of a footprint that is so wide and high on paper, with its gap, lies on strips that two sheets
    print: it goes over one strip for every step that it is longer than a sheet."""
    across = math.ceil((width - window.width_mm) / (window.width_mm - window.across_mm) - 1e-9)
    down = math.ceil((height - window.height_mm) / (window.height_mm - window.down_mm) - 1e-9)
    upright, level = max(across, 0) * (window.across_mm + GAP_MM), max(down, 0) * (window.down_mm + GAP_MM)
    return upright * (height + GAP_MM) + level * (width + GAP_MM)


def fits_one_sheet(item: Footprint, window: Window) -> bool:
    """True when the footprint lies on one sheet, upright or turned."""
    sides = (item.width_mm - 1e-9, item.height_mm - 1e-9)
    return any(wide <= window.width_mm and high <= window.height_mm for wide, high in (sides, sides[::-1]))


def make_grid(columns: int, rows: int, placed: tuple[Placed, ...], window: Window) -> Grid:
    """The grid with the sheets that carry something and the joins that something crosses."""
    cells = [(column, row) for row in reversed(range(rows)) for column in range(columns)]
    needed = _needed_sheets(placed, window, columns, rows)
    sheets = tuple(cell for cell in cells if cell in needed)
    crossing = {
        cell: {item.name for item in placed if boxes_overlap(grow_box(item.box, -1e-6), sheet)}
        for cell in sheets
        for sheet in [window.sheet(*cell)]
    }
    pairs = [
        (cell, other)
        for beside in (True, False)
        for cell in sheets
        for other in [(cell[0] + 1, cell[1]) if beside else (cell[0], cell[1] - 1)]
        if other in needed and crossing[cell] & crossing[other]
    ]
    joins = tuple(pairs)  # in the order to make them: along each row, then row to row
    return Grid(columns=columns, rows=rows, placed=placed, sheets=sheets, joins=joins)


def _needed_sheets(placed: tuple[Placed, ...], window: Window, columns: int, rows: int) -> frozenset[tuple[int, int]]:
    """Sheets without which some part of a footprint would not be printed."""
    needed = set()
    for item in placed:
        first, last = _sheet_range(item.box.left, item.box.right, window.width_mm, window.across_mm, columns)
        low, high = _sheet_range(item.box.bottom, item.box.top, window.height_mm, window.down_mm, rows)
        needed |= {(column, row) for column in range(first, last + 1) for row in range(low, high + 1)}
    return frozenset(needed)


def _sheet_range(start: float, end: float, size: float, overlap: float, count: int) -> tuple[int, int]:
    """First and last sheet along one side for a stretch from `start` to `end`: as few as cover it."""
    step = size - overlap
    first = min(max(math.floor((start + 1e-9) / step), 0), count - 1)
    last = first
    while last < count - 1 and last * step + size < end - 1e-9:
        last += 1
    return first, last


def join_strip(join: tuple[tuple[int, int], tuple[int, int]], window: Window) -> Box:
    """The strip where two joined sheets lie over each other, in grid coordinates."""
    first, second = (window.sheet(*cell) for cell in join)
    return Box(
        max(first.left, second.left),
        max(first.bottom, second.bottom),
        min(first.right, second.right),
        min(first.top, second.top),
    )


def join_strips(grid: Grid, window: Window) -> tuple[Box, ...]:
    """The strips of all joins of a grid with a little room round them, in grid coordinates."""
    return tuple(grow_box(join_strip(join, window), 2.0) for join in grid.joins)
