"""Footprints -> grids of sheets: fewest sheets first, then fewest joins; and where each sheet carries its tag.

A footprint that fits one sheet lies whole on one sheet, clear of every strip where sheets overlap once joined. Larger
ones lie on grids of sheets, alone or together; what room is left in a grid takes small ones. The search runs a fixed
number of rounds, so that the same footprints always give the same sheets.
"""

import math
from collections.abc import Sequence
from dataclasses import replace
from random import Random

from docgen.classes import dataclass
from docgen.geometry.shapes import Box
from docgen.pages.pattern.filling import (
    Cell,
    Item,
    Ways,
    empty_cell,
    insert_all,
    kept_spots,
    kept_ways,
    make_cell,
    make_item,
    move_spot,
    open_cell,
)
from docgen.pages.pattern.free_boxes import find_spot
from docgen.pages.pattern.grid import (
    GAP_MM,
    NO_TAG,
    Footprint,
    Grid,
    Placed,
    Spot,
    Tag,
    Window,
    fits_one_sheet,
    join_strips,
    lower_bound,
    make_grid,
    weigh,
)
from docgen.pages.pattern.large import Base, free_room, large_layouts

ROUNDS, QUICK_ROUNDS = 1000, 60  # in which one sheet is to be saved
CELL_ROUNDS = 12_000
UNTAGGED_WEIGHT = 1.0  # a tag that must be stuck on is as much work as a sheet


@dataclass(frozen=True, slots=True, kw_only=True)
class _Layout:
    """Large footprints on their grids, and the sheets of these with the room that is left."""

    grids: tuple[Grid, ...]
    cells: tuple[Cell, ...]
    weight: float
    least: int  # sheets that are needed besides, at least


def place_footprints(
    footprints: Sequence[Footprint], window: Window, tag: Tag = NO_TAG, *, is_quick: bool = False
) -> tuple[Grid, ...]:
    """All footprints, each once, on as few sheets as found, then with as few joins; `is_quick` searches less.

    Raises TooLarge.
    """
    ways = kept_ways(tag)
    large = [item for item in footprints if not fits_one_sheet(item, window)]
    small = [make_item(item, tag) for item in footprints if fits_one_sheet(item, window)]
    small.sort(key=lambda item: (-item.area, item.name))
    blank = make_cell([(0.0, 0.0, window.width_mm + GAP_MM, window.height_mm + GAP_MM)], _all(tag), ways, is_own=True)
    shared = [item for item in small if open_cell(blank, item, ways)]
    alone = tuple(_lay_alone(item, window) for item in small if item not in shared)
    bound = lower_bound(footprints, window)
    layouts = [_lay_out((*bases, *alone), shared, bound, window, tag, ways) for bases in large_layouts(large, window)]
    layout, cells = _search(sorted(layouts, key=_outlook), shared, blank, ways, QUICK_ROUNDS if is_quick else ROUNDS)
    return _finish(layout, cells, window, ways)


def _all(tag: Tag) -> frozenset[int]:
    return frozenset(range(len(tag.blocks)))


def _outlook(layout: _Layout) -> tuple[float, float]:
    return layout.weight + layout.least, layout.weight


def _lay_alone(item: Item, window: Window) -> Base:
    """A sheet for one footprint that leaves no room for the tag on it."""
    wide, high = item.wide - GAP_MM, item.high - GAP_MM
    is_turned = wide > window.width_mm + 1e-9 or high > window.height_mm + 1e-9
    box = Box(0, 0, *((high, wide) if is_turned else (wide, high)))
    return Base(1, 1, (Placed(name=item.name, box=box, is_turned=is_turned),), (1, 0))


def _lay_out(bases: tuple[Base, ...], small: list[Item], bound: int, window: Window, tag: Tag, ways: Ways) -> _Layout:
    grids = [_with_spots(make_grid(base.columns, base.rows, base.placed, window), window, tag) for base in bases]
    cells = tuple(
        make_cell(free_room(grid, cell, window), _all(tag) - {spot.block for spot in spots}, ways, is_own=False)
        for grid in grids
        for cell, spots in zip(grid.sheets, grid.spots, strict=True)
    )
    sheets, joins = len(cells), sum(len(grid.joins) for grid in grids)
    untagged = sum(cell.corner is None for cell in cells)
    least = max(bound - sheets, _count_homeless(small, cells, window))
    weight = weigh(sheets, joins) + UNTAGGED_WEIGHT * untagged
    return _Layout(grids=tuple(grids), cells=cells, weight=weight, least=least)


def _with_spots(grid: Grid, window: Window, tag: Tag) -> Grid:
    """The grid with the spots that large footprints have room for: of each block the first one."""
    strips = join_strips(grid, window)
    spots = []
    for cell in grid.sheets:
        sheet = window.sheet(*cell)
        found = [spot for placed in grid.placed for spot in tag.held(placed, sheet, strips)]
        spots.append(tuple({spot.block: spot for spot in reversed(found)}.values()))
    return replace(grid, spots=tuple(spots))


def _count_homeless(small: list[Item], cells: tuple[Cell, ...], window: Window) -> int:
    """Sheets that footprints need which fit no room in a grid: by area, and as many as are too large for each other."""
    wide, high = window.width_mm + GAP_MM, window.height_mm + GAP_MM
    homeless = [item for item in small if not any(find_spot(cell.room, item.wide, item.high) for cell in cells)]
    apart: list[Item] = []
    for item in homeless:
        if not any(_share_sheet(item, other, wide, high) for other in apart):
            apart.append(item)
    return max(math.ceil(sum(item.area for item in homeless) / (wide * high) - 1e-9), len(apart))


def _share_sheet(first: Item, second: Item, wide: float, high: float) -> bool:
    return any(
        (a + c <= wide and max(b, d) <= high) or (b + d <= high and max(a, c) <= wide)
        for a, b in ((first.wide, first.high), (first.high, first.wide))
        for c, d in ((second.wide, second.high), (second.high, second.wide))
    )


# ---- the search --------------------------------------------------------------


def _search(
    layouts: list[_Layout], small: list[Item], blank: Cell, ways: Ways, rounds: int
) -> tuple[_Layout, list[Cell]]:
    """The layout and its cells that cost least: the one with the best outlook filled at once, then each of them with
    ever fewer sheets."""
    best = layouts[0]
    cells = [*best.cells, *[blank] * len(small)]
    insert_all(cells, small, ways)
    cells = [cell for cell in cells if cell.laid or not cell.is_own]
    for layout in layouts:
        while True:
            most = math.ceil(best.weight + _own(cells) - layout.weight - 1e-9) - 1
            if most < layout.least:
                break
            found = _fill([*layout.cells, *[blank] * most], small, ways, rounds)
            if found is None:
                break
            best, cells = layout, found
    return best, cells


def _own(cells: list[Cell]) -> int:
    return sum(cell.is_own for cell in cells)


def _fill(cells: list[Cell], small: list[Item], ways: Ways, rounds: int) -> list[Cell] | None:
    """All small footprints into these cells; None when that was not found. In each round one to three sheets are
    emptied, wholly or by half, and filled again with what is left over; what leaves no more over than before stays."""
    random = Random(7)
    unplaced = insert_all(cells, small, ways)
    over = sum(item.area for item in unplaced)
    for _ in range(min(rounds, CELL_ROUNDS // max(len(cells), 1))):
        if not unplaced:
            return [cell for cell in cells if cell.laid or not cell.is_own]
        tried = list(cells)
        loose = [*unplaced, *_empty_some(tried, ways, random)]
        loose.sort(key=lambda item: -item.area * random.uniform(0.5, 1.0))
        left = insert_all(tried, loose, ways, over)
        area = sum(item.area for item in left)
        if area <= over:
            cells, unplaced, over = tried, left, area
    return None if unplaced else [cell for cell in cells if cell.laid or not cell.is_own]


def _empty_some(cells: list[Cell], ways: Ways, random: Random) -> list[Item]:
    """Takes footprints off one to three cells, which are replaced; returns them."""
    filled = [index for index, cell in enumerate(cells) if cell.laid]
    loose = []
    for index in random.sample(filled, min(len(filled), random.choice((1, 2, 2, 3)))):
        cell = cells[index]
        is_emptied = random.random() < 0.5
        keep = [laid for laid in cell.laid if not is_emptied and random.random() < 0.5]
        loose += [laid.item for laid in cell.laid if laid not in keep]
        cells[index] = empty_cell(cell, keep, ways, random.randrange(len(ways[cell.lacks])))
    return loose


# ---- the finished grids ------------------------------------------------------


def _finish(layout: _Layout, cells: list[Cell], window: Window, ways: Ways) -> tuple[Grid, ...]:
    finished = []
    rest = iter(cells)
    for grid in layout.grids:
        own = [next(rest) for _ in grid.sheets]
        small = tuple(placed for cell in own for placed in _placed(cell))
        spots = tuple((*large, *_spots(cell, ways)) for large, cell in zip(grid.spots, own, strict=True))
        finished.append(replace(grid, placed=(*grid.placed, *small), spots=spots))
    for cell in rest:
        finished.append(replace(make_grid(1, 1, _placed(cell), window), spots=(_spots(cell, ways),)))
    return tuple(finished)


def _placed(cell: Cell) -> tuple[Placed, ...]:
    return tuple(
        Placed(
            name=laid.item.name,
            box=Box(*laid.taken[:2], laid.taken[2] - GAP_MM, laid.taken[3] - GAP_MM),
            is_turned=laid.is_turned,
        )
        for laid in cell.laid
    )


def _spots(cell: Cell, ways: Ways) -> tuple[Spot, ...]:
    """The spots of what the large footprints leave out: inside the first small one that has room, else where room is
    kept."""
    found = {
        spot.block: move_spot(spot, laid.taken[0], laid.taken[1])
        for laid in reversed(cell.laid)
        for spot in laid.item.spots[laid.is_turned]
        if spot.block in cell.lacks
    }
    return (*found.values(), *kept_spots(cell, ways))
