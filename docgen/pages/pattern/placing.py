"""Footprints -> grids of sheets: fewest sheets first, then fewest joins.

A footprint that fits one sheet lies whole on one sheet, clear of every strip where sheets overlap once joined. Larger
ones lie on grids of sheets, alone or together; what room is left in a grid takes small ones. The search runs a fixed
number of rounds, so that the same footprints always give the same sheets.

Positions are in mm from the bottom left of the joined grid; columns count from the left, rows from the bottom.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import combinations
from random import Random

from docgen.geometry import Box, boxes_overlap

GAP_MM = 4.0  # white between two footprints
JOIN_CLEAR_MM = 2.0  # small footprints keep this far from where sheets meet
ROUNDS = 60
JOIN_WEIGHT = 0.5
MOST_SIDE = 12  # sheets along one side of a grid
SHAPES = tuple(
    sorted(
        ((columns, rows) for columns in range(1, MOST_SIDE + 1) for rows in range(1, MOST_SIDE + 1)),
        key=lambda shape: (shape[0] * shape[1], abs(shape[0] - shape[1])),
    )
)  # of grids, smallest first
LEAST_FREE_MM = 5.0  # free boxes narrower or lower are given up


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
class Grid:
    """Sheets that are joined; `sheets` are the (column, row) that carry something, by rows from the top."""

    columns: int
    rows: int
    placed: tuple[Placed, ...]
    sheets: tuple[tuple[int, int], ...]
    joins: tuple[tuple[tuple[int, int], tuple[int, int]], ...]


class TooLarge(ValueError):
    """A footprint would need more sheets along one side than can sensibly be joined."""


def place_footprints(
    footprints: Sequence[Footprint], window: Window, *, kept: Box | None = None, kept_in_grids: bool = False
) -> tuple[Grid, ...]:
    """All footprints, each once, on as few sheets as found, then with as few joins.

    `kept` is a box, from the lower left of a sheet, that footprints leave free on sheets of their own, and with
    `kept_in_grids` small ones also on the sheets of grids. Raises TooLarge.
    """
    large = [item for item in footprints if not fits_one_sheet(item, window)]
    small = [item for item in footprints if fits_one_sheet(item, window)]
    best: tuple[Grid, ...] = ()
    best_cost = math.inf
    for bases in _large_layouts(large, window):
        for order in _orders(small):
            grids = _fill(bases, order, window, kept, kept if kept_in_grids else None)
            cost = weigh(*count_cost(grids))
            if cost < best_cost - 1e-9:
                best, best_cost = grids, cost
    return best


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

    By area; two when one fits no single sheet; and one sheet for each that fits on one but is more than half as wide
    and high as a sheet is long, since no two of those share a sheet.
    """
    area = sum(item.width_mm * item.height_mm for item in footprints)
    by_area = math.ceil(area / (window.width_mm * window.height_mm) - 1e-9)
    longest_mm = max(window.width_mm, window.height_mm)
    small = [item for item in footprints if fits_one_sheet(item, window)]
    apart = sum(min(item.width_mm, item.height_mm) > longest_mm / 2 for item in small)
    return max(by_area, apart, 2 if len(small) < len(footprints) else 0, 1 if footprints else 0)


def fits_one_sheet(item: Footprint, window: Window) -> bool:
    """True when the footprint lies on one sheet, upright or turned."""
    return _fits(item.width_mm, item.height_mm, window.width_mm, window.height_mm) or _fits(
        item.height_mm, item.width_mm, window.width_mm, window.height_mm
    )


def _fits(width: float, height: float, room_width: float, room_height: float) -> bool:
    return width <= room_width + 1e-9 and height <= room_height + 1e-9


def _orders(small: list[Footprint]) -> list[list[Footprint]]:
    """Orders to try: by area, by longer side, by width, and shuffles of the first with a fixed seed."""
    by_area = sorted(small, key=lambda item: (-item.width_mm * item.height_mm, item.name))
    orders = [
        by_area,
        sorted(small, key=lambda item: (-max(item.width_mm, item.height_mm), item.name)),
        sorted(small, key=lambda item: (-min(item.width_mm, item.height_mm), item.name)),
    ]
    random = Random(7)
    for _ in range(ROUNDS if len(small) > 2 else 0):
        weighted = [(-item.width_mm * item.height_mm * random.uniform(0.4, 1.0), item.name, item) for item in small]
        orders.append([item for _, _, item in sorted(weighted, key=lambda entry: entry[:2])])
    return orders[: ROUNDS if len(small) <= 60 else 3]


# ---- large footprints ------------------------------------------------------


@dataclass(frozen=True, slots=True)
class _Base:
    """A grid with its large footprints placed."""

    columns: int
    rows: int
    placed: tuple[Placed, ...]
    cost: tuple[int, int]


def _large_layouts(large: list[Footprint], window: Window) -> list[tuple[_Base, ...]]:
    """Ways to lay the large footprints: each alone, and groups together where that saves sheets or joins."""
    if not large:
        return [()]
    alone = [_best_base([item], window) for item in large]
    if any(base is None for base in alone):
        raise TooLarge(next(item.name for item, base in zip(large, alone, strict=True) if base is None))
    groups: list[tuple[list[Footprint], _Base]] = [
        ([item], base) for item, base in zip(large, alone, strict=True) if base is not None
    ]
    layouts = [tuple(base for _, base in groups)]
    known: dict[tuple[str, ...], _Base | None] = {}
    while (merged := _merge_best(groups, window, known)) is not None:
        groups = merged
        layouts.append(tuple(base for _, base in groups))
    return layouts[::-1][:4]


def _merge_best(
    groups: list[tuple[list[Footprint], _Base]], window: Window, known: dict[tuple[str, ...], _Base | None]
) -> list[tuple[list[Footprint], _Base]] | None:
    """The groups with that pair united which saves most; None when no pair saves anything.

    `known` keeps what was found for pairs of an earlier round.
    """
    best: tuple[float, int, int, list[Footprint], _Base] | None = None
    for first, second in combinations(range(len(groups)), 2):
        items = groups[first][0] + groups[second][0]
        if len(items) > 6:
            continue
        names = tuple(item.name for item in items)
        if names not in known:
            known[names] = _best_base(items, window)
        base = known[names]
        if base is None:
            continue
        saving = weigh(*base.cost) - weigh(*groups[first][1].cost) - weigh(*groups[second][1].cost)
        if saving < -1e-9 and (best is None or saving < best[0] - 1e-9):
            best = (saving, first, second, items, base)
    if best is None:
        return None
    _, first, second, items, base = best
    return [group for index, group in enumerate(groups) if index not in (first, second)] + [(items, base)]


def _best_base(items: list[Footprint], window: Window) -> _Base | None:
    """The cheapest grid that holds all of these, or None when none does."""
    area = sum(item.width_mm * item.height_mm for item in items)
    best: _Base | None = None
    for columns, rows in SHAPES:
        if best is not None and columns * rows > best.cost[0] + 2:
            break
        width, height = window.span(columns, rows)
        if width * height < area or (len(items) > 1 and columns * rows > 12):
            continue
        for placed in _pack_all(items, width, height):
            base = _finish_base(columns, rows, placed, window)
            if best is None or (weigh(*base.cost), base.cost) < (weigh(*best.cost), best.cost):
                best = base
    return best


def _pack_all(items: list[Footprint], width: float, height: float) -> list[tuple[Placed, ...]]:
    """Packings of all items into one box, by orders and by which ones are turned; those that fail are left out."""
    ordered = sorted(items, key=lambda item: (-item.width_mm * item.height_mm, item.name))
    found = []
    for turns in range(2 ** min(len(ordered), 4)):
        room = [Box(0, 0, width, height)]
        placed: list[Placed] = []
        for index, item in enumerate(ordered):
            forced = bool(turns >> index & 1) if index < 4 else None
            spot = _best_spot(item, room, forced)
            if spot is None:
                break
            placed.append(spot)
            room = _take(room, spot.box)
        if len(placed) == len(ordered):
            found.append(tuple(placed))
    return found


def _finish_base(columns: int, rows: int, placed: tuple[Placed, ...], window: Window) -> _Base:
    grid = _make_grid(columns, rows, placed, window)
    return _Base(columns, rows, placed, (len(grid.sheets), len(grid.joins)))


def _make_grid(columns: int, rows: int, placed: tuple[Placed, ...], window: Window) -> Grid:
    """The grid with the sheets that carry something and the joins that something crosses."""
    cells = [(column, row) for row in reversed(range(rows)) for column in range(columns)]
    needed = _needed_sheets(placed, window, columns, rows)
    sheets = tuple(cell for cell in cells if cell in needed)
    crossing = {
        cell: {item.name for item in placed if _touches(item.box, sheet)}
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


def _touches(box: Box, sheet: Box) -> bool:
    return (
        box.left + 1e-6 < sheet.right
        and sheet.left < box.right - 1e-6
        and box.bottom + 1e-6 < sheet.top
        and sheet.bottom < box.top - 1e-6
    )


# ---- small footprints ------------------------------------------------------


@dataclass(slots=True)
class _Cell:
    """Free room on one sheet while small footprints are placed."""

    base: int
    room: list[Box]


def _fill(
    bases: tuple[_Base, ...], small: list[Footprint], window: Window, kept: Box | None, kept_in_grids: Box | None
) -> tuple[Grid, ...]:
    """Small footprints into the room left in the grids, then on sheets of their own."""
    cells = [cell for index, base in enumerate(bases) for cell in _free_cells(index, base, window, kept_in_grids)]
    extra: list[list[Placed]] = []
    added: list[list[Placed]] = [[] for _ in bases]
    for item in small:
        spot, cell = _best_cell(item, cells)
        if spot is None or cell is None:
            cell = _new_cell(len(bases) + len(extra), item, window, kept)
            cells.append(cell)
            extra.append([])
            spot = _best_spot(item, cell.room, None)
            assert spot is not None
        cell.room = _take(cell.room, spot.box)
        (added[cell.base] if cell.base < len(bases) else extra[cell.base - len(bases)]).append(spot)
    grids = [
        _make_grid(base.columns, base.rows, (*base.placed, *more), window)
        for base, more in zip(bases, added, strict=True)
    ]
    return (*grids, *(_make_grid(1, 1, tuple(placed), window) for placed in extra))


def _new_cell(index: int, item: Footprint, window: Window, kept: Box | None) -> _Cell:
    """A fresh sheet without the kept box; the whole sheet for an item that would not fit beside it."""
    whole = [Box(0, 0, window.width_mm, window.height_mm)]
    room = _take(whole, kept) if kept is not None else whole
    return _Cell(index, room if _best_spot(item, room, None) else whole)


def _free_cells(index: int, base: _Base, window: Window, kept: Box | None) -> list[_Cell]:
    """For each printed sheet of a grid, the room clear of large footprints and of every strip that is joined."""
    grid = _make_grid(base.columns, base.rows, base.placed, window)
    cells = []
    for column, row in grid.sheets:
        sheet = window.sheet(column, row)
        across, down = window.across_mm + JOIN_CLEAR_MM, window.down_mm + JOIN_CLEAR_MM
        room = [
            Box(
                sheet.left + (across if column > 0 else 0),
                sheet.bottom + (down if row > 0 else 0),
                sheet.right - (across if column < base.columns - 1 else 0),
                sheet.top - (down if row < base.rows - 1 else 0),
            )
        ]
        for placed in base.placed:
            room = _take(room, placed.box)
        if kept is not None and room:
            corner = Box(sheet.left, sheet.bottom, sheet.left + kept.right, sheet.bottom + kept.top)
            room = _take(room, corner)
        cells.append(_Cell(index, room))
    return cells


def _best_cell(item: Footprint, cells: list[_Cell]) -> tuple[Placed | None, _Cell | None]:
    best: tuple[float, Placed, _Cell] | None = None
    for cell in cells:
        spot = _best_spot(item, cell.room, None)
        if spot is not None:
            waste = _waste(spot, cell.room)
            if best is None or waste < best[0] - 1e-9:
                best = (waste, spot, cell)
    return (None, None) if best is None else (best[1], best[2])


def _waste(spot: Placed, room: list[Box]) -> float:
    """How much of the tightest free box that holds the spot would be left along its shorter gap."""
    gaps = [
        min(box.width - spot.box.width, box.height - spot.box.height)
        for box in room
        if box.left <= spot.box.left + 1e-9
        and box.bottom <= spot.box.bottom + 1e-9
        and box.right >= spot.box.right - 1e-9
        and box.top >= spot.box.top - 1e-9
    ]
    return min(gaps, default=math.inf)


# ---- free boxes ------------------------------------------------------------


def _best_spot(item: Footprint, room: list[Box], turned: bool | None) -> Placed | None:
    """The bottom left of that free box which leaves the smallest gap; None when the item fits none."""
    best: tuple[float, float, Box, bool] | None = None
    for is_turned in (False, True) if turned is None else (turned,):
        width, height = (item.height_mm, item.width_mm) if is_turned else (item.width_mm, item.height_mm)
        for box in room:
            across, up = box.right - box.left - width, box.top - box.bottom - height
            if across < -1e-9 or up < -1e-9:
                continue
            gap, other = (across, up) if across <= up else (up, across)
            if best is None or (gap, other) < (best[0] - 1e-9, best[1]):
                best = (gap, other, box, is_turned)
    if best is None:
        return None
    _, _, box, is_turned = best
    width, height = (item.height_mm, item.width_mm) if is_turned else (item.width_mm, item.height_mm)
    spot = Box(box.left, box.bottom, box.left + width, box.bottom + height)
    return Placed(name=item.name, box=spot, is_turned=is_turned)


def _take(room: list[Box], taken: Box) -> list[Box]:
    """The largest free boxes that are left when one box, with its gap, is taken out."""
    hole = Box(taken.left - GAP_MM, taken.bottom - GAP_MM, taken.right + GAP_MM, taken.top + GAP_MM)
    left: list[Box] = []
    for box in room:
        if not boxes_overlap(box, hole):
            left.append(box)
            continue
        if box.top - box.bottom > LEAST_FREE_MM:
            if hole.left - box.left > LEAST_FREE_MM:
                left.append(Box(box.left, box.bottom, hole.left, box.top))
            if box.right - hole.right > LEAST_FREE_MM:
                left.append(Box(hole.right, box.bottom, box.right, box.top))
        if box.right - box.left > LEAST_FREE_MM:
            if hole.bottom - box.bottom > LEAST_FREE_MM:
                left.append(Box(box.left, box.bottom, box.right, hole.bottom))
            if box.top - hole.top > LEAST_FREE_MM:
                left.append(Box(box.left, hole.top, box.right, box.top))
    return [box for index, box in enumerate(left) if not _is_inside_other(box, index, left)]


def _is_inside_other(box: Box, index: int, boxes: list[Box]) -> bool:
    west, south, east, north = box.left, box.bottom, box.right, box.top
    for place, other in enumerate(boxes):
        if (
            other.left <= west
            and other.bottom <= south
            and other.right >= east
            and other.top >= north
            and place != index
            and (place < index or other != box)
        ):
            return True
    return False
