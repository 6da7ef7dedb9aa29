"""Footprints larger than a sheet -> ways to lay them on grids of sheets, alone and in groups."""

import math
from collections.abc import Iterator

from docgen.classes import dataclass
from docgen.geometry.shapes import Box
from docgen.pages.pattern.free_boxes import FreeBox, find_spot, take_box
from docgen.pages.pattern.grid import GAP_MM, JOIN_CLEAR_MM, Footprint, Grid, Placed, TooLarge, Window, make_grid, weigh

MOST_SIDE = 12  # sheets along one side of a grid
MOST_TOGETHER = 6  # footprints that are laid on one grid
MOST_JOINED = 12  # sheets of a grid for several footprints
NEIGHBOURS = 6  # groups are united with others about as large
LAYOUTS = 4
SHAPES = tuple(
    sorted(
        ((columns, rows) for columns in range(1, MOST_SIDE + 1) for rows in range(1, MOST_SIDE + 1)),
        key=lambda shape: (shape[0] * shape[1], abs(shape[0] - shape[1])),
    )
)  # of grids, smallest first


@dataclass(frozen=True, slots=True)
class Base:
    """A grid with its large footprints placed; sheets and joins are its cost."""

    columns: int
    rows: int
    placed: tuple[Placed, ...]
    cost: tuple[int, int]

    @property
    def weight(self) -> float:
        return weigh(*self.cost)


_Group = tuple[list[Footprint], Base]
_Known = dict[tuple[str, ...], Base | None]


def large_layouts(large: list[Footprint], window: Window) -> list[tuple[Base, ...]]:
    """Ways to lay the large footprints: each alone, and groups together where that saves sheets or joins. Raises
    TooLarge."""
    groups: list[_Group] = []
    for item in sorted(large, key=lambda item: (-item.width_mm * item.height_mm, item.name)):
        base = best_base([item], window)
        if base is None:
            raise TooLarge(item.name)
        groups.append(([item], base))
    layouts = [tuple(base for _, base in groups)]
    known: _Known = {}
    while (merged := _merge_best(groups, window, known)) is not None:
        groups = merged
        layouts.append(tuple(base for _, base in groups))
    return layouts[::-1][:LAYOUTS]


def _merge_best(groups: list[_Group], window: Window, known: _Known) -> list[_Group] | None:
    """The groups with that pair united which saves most; None when no pair saves anything.

    `known` keeps what was found for pairs of an earlier round.
    """
    best: tuple[float, int, int, _Group] | None = None
    for first, second in _pairs(len(groups)):
        items = groups[first][0] + groups[second][0]
        if len(items) > MOST_TOGETHER:
            continue
        names = tuple(item.name for item in items)
        if names not in known:
            known[names] = best_base(items, window)
        base = known[names]
        if base is None:
            continue
        saving = base.weight - groups[first][1].weight - groups[second][1].weight
        if saving < -1e-9 and (best is None or saving < best[0] - 1e-9):
            best = (saving, first, second, (items, base))
    if best is None:
        return None
    _, first, second, group = best
    return [own for index, own in enumerate(groups) if index not in (first, second)] + [group]


def _pairs(count: int) -> Iterator[tuple[int, int]]:
    """Pairs of groups that are not far apart in their order; with few groups all pairs."""
    for first in range(count):
        yield from ((first, second) for second in range(first + 1, min(first + 1 + NEIGHBOURS, count)))


def best_base(items: list[Footprint], window: Window) -> Base | None:
    """The cheapest grid that holds all of these, of several the one with most room for others; None when none does."""
    area = sum(item.width_mm * item.height_mm for item in items)
    best: Base | None = None
    best_room = 0.0
    for columns, rows in SHAPES:
        if best is not None and columns * rows > best.cost[0] + 2:
            break
        width, height = window.span(columns, rows)
        if width * height < area or (len(items) > 1 and columns * rows > MOST_JOINED):
            continue
        for placed in _pack_all(items, width, height):
            grid = make_grid(columns, rows, placed, window)
            base = Base(columns, rows, placed, (len(grid.sheets), len(grid.joins)))
            if best is not None and (best.weight, best.cost) < (base.weight, base.cost):
                continue
            room = _judge_room(grid, window)
            if best is None or (base.weight, base.cost) < (best.weight, best.cost) or room > best_room:
                best, best_room = base, room
    return best


def _judge_room(grid: Grid, window: Window) -> float:
    """How much room a grid leaves for small footprints: the largest free box of each sheet, and one that is twice as
    large counts for more than two."""
    rooms = (free_room(grid, cell, window) for cell in grid.sheets)
    sizes = (max(((box[2] - box[0]) * (box[3] - box[1]) for box in room), default=0.0) for room in rooms)
    return sum(math.pow(size, 1.25) for size in sizes)


def free_room(grid: Grid, cell: tuple[int, int], window: Window) -> list[FreeBox]:
    """The room of a sheet of a grid clear of large footprints and of every strip that another sheet of it covers."""
    column, row = cell
    sheet = window.sheet(column, row)
    across, down = window.across_mm + JOIN_CLEAR_MM, window.down_mm + JOIN_CLEAR_MM
    beside = {(other[0] - column, other[1] - row) for other in grid.sheets}
    near = (-1, 0, 1)
    room = [
        (
            sheet.left + (across if any((-1, step) in beside for step in near) else 0),
            sheet.bottom + (down if any((step, -1) in beside for step in near) else 0),
            sheet.right + GAP_MM - (across if any((1, step) in beside for step in near) else 0),
            sheet.top + GAP_MM - (down if any((step, 1) in beside for step in near) else 0),
        )
    ]
    for placed in grid.placed:
        box = placed.box
        room = take_box(room, (box.left, box.bottom, box.right + GAP_MM, box.top + GAP_MM))
    return room


def _pack_all(items: list[Footprint], width: float, height: float) -> list[tuple[Placed, ...]]:
    """Packings of all items into one box, the largest first, by which ones are turned; those that fail are left out."""
    ordered = sorted(items, key=lambda item: (-item.width_mm * item.height_mm, item.name))
    found = []
    for turns in range(2 ** min(len(ordered), 4)):
        room: list[FreeBox] = [(0.0, 0.0, width + GAP_MM, height + GAP_MM)]
        placed: list[Placed] = []
        for index, item in enumerate(ordered):
            ways = (bool(turns >> index & 1),) if index < 4 else (False, True)
            spot = find_spot(room, item.width_mm + GAP_MM, item.height_mm + GAP_MM, ways)
            if spot is None:
                break
            _, _, is_turned, left, bottom = spot
            wide, high = (item.height_mm, item.width_mm) if is_turned else (item.width_mm, item.height_mm)
            placed.append(
                Placed(name=item.name, box=Box(left, bottom, left + wide, bottom + high), is_turned=bool(is_turned))
            )
            room = take_box(room, (left, bottom, left + wide + GAP_MM, bottom + high + GAP_MM))
        else:
            found.append(tuple(placed))
    return found
