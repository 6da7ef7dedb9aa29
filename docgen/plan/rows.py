"""Pieces on goods from a roll -> rows across the width, and the running length that they take.

The width of the goods lies across, their length runs up. A row is as high as its highest piece and is parted from the
next by one straight cut from selvedge to selvedge, so that only pieces beside each other need room for the knife.
Every piece counts as the box round it.
"""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace

from docgen.classes import dataclass
from docgen.tables.material import KNIFE_GAP_MM

ROUNDING_MM = 1e-6


@dataclass(frozen=True, slots=True, kw_only=True)
class Box:
    """`count` pieces alike, `across_mm` by `along_mm` as they stand; `lies` is "up" when they must stand so, "across"
    when they must be turned, "" where either will do."""

    across_mm: float
    along_mm: float
    count: int
    lies: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """A row that is laid `times` times: `cells` are width across, length along (mm) and number of the pieces in it, from
    the left; `free_mm` is what is left of the width."""

    times: int
    along_mm: float
    free_mm: float
    cells: tuple[tuple[float, float, int], ...]


Lie = tuple[float, float]
"""Width across and length along the roll of a piece as it lies, mm."""


def find_lies(box: Box, width_mm: float) -> tuple[Lie, ...]:
    """The ways a piece may lie on goods so wide, upright first. One that fits in no way stands as said, or takes as
    little of the width as it can."""
    ways = {"up": (box.across_mm, box.along_mm), "across": (box.along_mm, box.across_mm)}
    allowed = (ways[box.lies],) if box.lies in ways else tuple(ways.values())
    return tuple(way for way in allowed if way[0] <= width_mm + ROUNDING_MM) or (min(allowed),)


def fit_rows(boxes: Sequence[Box], width_mm: float, gap_mm: float = KNIFE_GAP_MM) -> tuple[Row, ...]:
    """The rows that hold all these pieces on goods `width_mm` wide, `gap_mm` between those beside each other.

    First-fit decreasing: from the highest row down, each piece goes into the first row that has room. That is tried
    with each piece lying low, upright, narrow, and as it would take least alone, and the shortest is kept.
    """
    tries: tuple[Callable[[Lie], float], ...] = (
        lambda way: way[1],
        lambda way: -way[1],
        lambda way: way[0],
        lambda way: way[1] / _count_beside(way[0], width_mm, gap_mm),
    )
    found = [_fill(boxes, width_mm, gap_mm, rule) for rule in tries]
    found += [_fill(boxes, width_mm, gap_mm, rule, is_by_count=True) for rule in tries[:2]]
    return min(found, key=sum_rows, default=())


def sum_rows(rows: Iterable[Row]) -> float:
    """Running length of these rows, mm."""
    return sum(row.along_mm * row.times for row in rows)


def _count_beside(across_mm: float, width_mm: float, gap_mm: float) -> int:
    """How many of a width stand beside each other; at least one."""
    return max(1, int((width_mm + gap_mm + ROUNDING_MM) // (across_mm + gap_mm)))


def _fill(
    boxes: Sequence[Box], width_mm: float, gap_mm: float, rule: Callable[[Lie], float], is_by_count: bool = False
) -> tuple[Row, ...]:
    """Rows with each piece lying as the rule likes best; in a row that is there already, as it fits. `is_by_count`: of
    pieces that lie equally high the scarcest first, else the widest."""
    laid = [(min(find_lies(box, width_mm), key=lambda way: (rule(way), way)), box) for box in boxes]
    laid.sort(key=lambda entry: (-entry[0][1], entry[1].count if is_by_count else -entry[0][0], -entry[0][0]))
    rows: list[Row] = []
    for best, box in laid:
        ways = sorted(find_lies(box, width_mm), key=lambda way: way != best)
        rows, left = _fill_up(rows, ways, box.count, gap_mm)
        rows += _open_rows(best, left, width_mm, gap_mm)
    return tuple(rows)


def _fill_up(rows: Sequence[Row], ways: Sequence[Lie], count: int, gap_mm: float) -> tuple[list[Row], int]:
    """The rows with as many of these pieces put in as find room, and how many are left."""
    filled: list[Row] = []
    for row in rows:
        for way in ways:
            most = _room_for(row, way, gap_mm)
            if not most or not count:
                continue
            times, rest = min(row.times, count // most), 0
            if times < row.times:
                rest = count - times * most
            # Where rows alike are filled unequally they part: full ones, one with the rest, and those as before.
            parts = [(times, most), (min(rest, 1), rest), (row.times - times - min(rest, 1), 0)]
            filled += [_put(replace(row, times=n), way, number, gap_mm) for n, number in parts if n]
            count -= times * most + rest
            break
        else:
            filled.append(row)
    return filled, count


def _room_for(row: Row, way: Lie, gap_mm: float) -> int:
    """How many more pieces lying so go into each of these rows."""
    if way[1] > row.along_mm + ROUNDING_MM:
        return 0
    return max(0, int((row.free_mm + ROUNDING_MM) // (way[0] + gap_mm)))


def _put(row: Row, way: Lie, number: int, gap_mm: float) -> Row:
    if not number:
        return row
    free_mm = row.free_mm - number * (way[0] + gap_mm)
    return replace(row, free_mm=free_mm, cells=(*row.cells, (*way, number)))


def _open_rows(way: Lie, count: int, width_mm: float, gap_mm: float) -> list[Row]:
    """New rows for what is left: full ones, and one with the rest."""
    most = _count_beside(way[0], width_mm, gap_mm)
    full, rest = divmod(count, most)
    return [
        Row(
            times=times,
            along_mm=way[1],
            free_mm=width_mm - number * (way[0] + gap_mm) + gap_mm,
            cells=((*way, number),),
        )
        for times, number in ((full, most), (1, rest))
        if times and number
    ]
