"""Small footprints into the room that is left on sheets.

A sheet keeps room for its tag, but for those of the tag's blocks that have room inside a footprint on it.
"""

import math
from collections.abc import Iterable, Sequence
from itertools import chain, product
from typing import NamedTuple

from docgen.classes import dataclass
from docgen.geometry.shapes import Box
from docgen.pages.pattern.free_boxes import Found, FreeBox, find_spot, take_box
from docgen.pages.pattern.grid import GAP_MM, Footprint, Placed, Spot, Tag

Blocks = frozenset[int]  # of a tag


@dataclass(frozen=True, slots=True)
class Item:
    """A small footprint, the gap included in its size; where it has room for blocks of the tag when it lies at (0, 0),
    upright and turned, and which blocks these are."""

    name: str
    wide: float
    high: float
    spots: tuple[tuple[Spot, ...], tuple[Spot, ...]]
    held: tuple[Blocks, Blocks]

    @property
    def area(self) -> float:
        return self.wide * self.high


class Laid(NamedTuple):
    """A small footprint where it lies, and what it takes."""

    item: Item
    is_turned: bool
    taken: FreeBox


class Kept(NamedTuple):
    """One way to keep room for blocks of the tag: their spots from (0, 0), and how far they reach together."""

    spots: tuple[Spot, ...]
    wide: float
    high: float


Ways = dict[Blocks, tuple[Kept, ...]]


class Cell(NamedTuple):
    """One sheet: its room before any small footprint and now, the blocks of the tag that it then lacks, the way and the
    corner in which it keeps room for them (none where it is too full), and what is laid on it."""

    base: list[FreeBox]
    lacks: Blocks
    is_own: bool  # holds no large footprint
    way: int
    corner: tuple[float, float] | None
    laid: tuple[Laid, ...]
    room: list[FreeBox]

    @property
    def missing(self) -> Blocks:
        """Blocks of the tag for which no footprint has room."""
        return self.lacks.difference(*(laid.item.held[laid.is_turned] for laid in self.laid))


def make_item(footprint: Footprint, tag: Tag) -> Item:
    """What is asked of a small footprint again and again, found once."""
    wide, high = footprint.width_mm, footprint.height_mm
    ways = ((False, Box(0, 0, wide, high)), (True, Box(0, 0, high, wide)))
    upright, turned = (
        tag.held(Placed(name=footprint.name, box=box, is_turned=is_turned), box, ()) for is_turned, box in ways
    )
    held = frozenset(spot.block for spot in upright), frozenset(spot.block for spot in turned)
    return Item(footprint.name, wide + GAP_MM, high + GAP_MM, (upright, turned), held)


def kept_ways(tag: Tag) -> Ways:
    """The ways to keep room for each set of the tag's blocks: in all their shapes, in a row or one above the other.

    All sets have the same ways in the same order; that of fewer blocks takes no room that more blocks do not take.
    """
    numbers = range(len(tag.blocks))
    sets = [frozenset(block for block in numbers if bits >> block & 1) for bits in range(1 << len(numbers))]
    shapes = list(product(*(range(len(block)) for block in tag.blocks)))
    return {
        blocks: tuple(_line_up(tag, blocks, own, is_row=is_row) for own in shapes for is_row in (True, False))
        for blocks in sets
    }


def _line_up(tag: Tag, blocks: Blocks, shapes: tuple[int, ...], *, is_row: bool) -> Kept:
    """A row with the last block at the left, or a column with the first one at the foot."""
    spots = []
    wide = high = 0.0
    for block in sorted(blocks, reverse=is_row):
        across, up = tag.blocks[block][shapes[block]]
        left, bottom = (wide, 0.0) if is_row else (0.0, high)
        spots.append(Spot(block=block, shape=shapes[block], box=Box(left, bottom, left + across, bottom + up)))
        wide, high = (wide + across, max(high, up)) if is_row else (max(wide, across), high + up)
    return Kept(tuple(spots), wide, high)


def make_cell(base: list[FreeBox], lacks: Blocks, ways: Ways, *, is_own: bool) -> Cell:
    """A sheet without small footprints, with room kept for what it lacks in the first way that there is."""
    for way, kept in enumerate(ways[lacks]):
        found = find_spot(base, kept.wide, kept.high, (False,))
        if found is not None:
            cell = Cell(base, lacks, is_own, way, found[3:], (), base)
            return cell._replace(room=_room_of(cell, ways))
    return Cell(base, lacks, is_own, 0, None, (), base)


def kept_spots(cell: Cell, ways: Ways) -> tuple[Spot, ...]:
    """Where the sheet keeps room for its tag."""
    if cell.corner is None:
        return ()
    return tuple(move_spot(spot, *cell.corner) for spot in ways[cell.missing][cell.way].spots)


def move_spot(spot: Spot, across: float, up: float) -> Spot:
    box = spot.box
    moved = Box(box.left + across, box.bottom + up, box.right + across, box.top + up)
    return Spot(block=spot.block, shape=spot.shape, box=moved)


def _room_of(cell: Cell, ways: Ways) -> list[FreeBox]:
    room = cell.base
    for spot in kept_spots(cell, ways):
        box = spot.box
        room = take_box(room, (box.left, box.bottom, box.right, box.top))
    for laid in cell.laid:
        room = take_box(room, laid.taken)
    return room


def empty_cell(cell: Cell, keep: Iterable[Laid], ways: Ways, way: int) -> Cell:
    """The sheet with no more than these on it, keeping room for its tag in another way where that can be."""
    laid = tuple(keep)
    if not laid and cell.is_own:
        return cell._replace(laid=(), way=way)
    cell = cell._replace(laid=laid)
    return cell._replace(room=_room_of(cell, ways))


def insert_all(cells: list[Cell], items: Sequence[Item], ways: Ways, most: float = math.inf) -> list[Item]:
    """Puts each item where it leaves the smallest gap, on an empty sheet only where it fits no other; the cells of the
    list are replaced. Returns what found no room; once that is more than the area `most`, the rest is not tried."""
    unplaced: list[Item] = []
    area = 0.0
    for item in items:
        best: Found | None = None
        at = -1
        for index, cell in enumerate(cells):
            if cell.laid or not cell.is_own:
                found = find_spot(cell.room, item.wide, item.high, best=best)
                if found is not best:
                    best, at = found, index
        if best is not None:
            cells[at] = _lay(cells[at], item, best, ways)
            continue
        empty = next((index for index, cell in enumerate(cells) if cell.is_own and not cell.laid), None)
        opened = open_cell(cells[empty], item, ways) if empty is not None else None
        if empty is None or opened is None:
            unplaced.append(item)
            area += item.area
            if area > most:
                break
        else:
            cells[empty] = opened
    return unplaced


def open_cell(cell: Cell, item: Item, ways: Ways) -> Cell | None:
    """An empty sheet with its first item: turned so that it has more room for the tag, then so that it fits better; None
    where it has no room beside the tag."""
    count = len(ways[cell.lacks])
    for way in chain(range(cell.way, count), range(cell.way)):
        found = []
        for is_turned in (False, True):
            missing = cell.lacks - item.held[is_turned]
            room = cell.base
            for spot in ways[missing][way].spots:
                room = take_box(room, (spot.box.left, spot.box.bottom, spot.box.right, spot.box.top))
            place = find_spot(room, item.wide, item.high, (is_turned,))
            if place is not None:
                found.append((len(missing), place))
        if found:
            return _lay(cell._replace(way=way, corner=(0.0, 0.0)), item, min(found)[1], ways)
    return None


def _lay(cell: Cell, item: Item, found: Found, ways: Ways) -> Cell:
    _, _, is_turned, left, bottom = found
    wide, high = (item.high, item.wide) if is_turned else (item.wide, item.high)
    taken = left, bottom, left + wide, bottom + high
    laid = (*cell.laid, Laid(item, is_turned, taken))
    if cell.laid and not cell.missing & item.held[is_turned]:
        return cell._replace(laid=laid, room=take_box(cell.room, taken))
    fuller = cell._replace(laid=laid)
    return fuller._replace(room=_room_of(fuller, ways))
