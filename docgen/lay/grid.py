"""Shapes and sheets on a grid of square cells, held as whole numbers, so that a lay is the same on every machine.

A sheet is `across` cells wide and `along` cells long; cell (u, v) is bit v * across + u. The places where a mask may lie
are one number too: bit (u, v) is set where its corner may be. Of an empty sheet that comes from `free_map`; each mask laid
since takes away `clash_map`, shifted to where it lies. On the cells that is exact: masks hold every cell that the shape,
grown by half the knife's gap, touches.
"""

import math
from collections.abc import Iterable, Iterator, Sequence
from typing import Final

NEARLY: Final = 1e-7
Points = Sequence[tuple[float, float]]
"""A closed outline in mm: across and along the goods."""

Block = tuple[int, int, int, int]
"""Cells set together in a mask: first across, first along, how many across, how many along."""


class Mask:
    """A shape in one lie: its rows of cells, and its true outline in mm from the mask's corner; `turn` in degrees."""

    __slots__ = ("_blocks", "_linear", "height", "points", "rows", "turn", "width")

    def __init__(
        self, width: int, rows: tuple[int, ...], points: tuple[tuple[float, float], ...], turn: int = 0
    ) -> None:
        self.width, self.height, self.rows, self.points, self.turn = width, len(rows), rows, points, turn
        self._blocks: tuple[Block, ...] = ()
        self._linear: dict[int, int] = {}

    @property
    def blocks(self) -> tuple[Block, ...]:
        """The set cells as upright blocks."""
        if not self._blocks:
            self._blocks = tuple(_find_blocks(self.rows))
        return self._blocks

    def linear(self, across: int) -> int:
        """The mask as it lies at the corner of a sheet so wide."""
        if across not in self._linear:
            self._linear[across] = join_rows(self.rows, across)
        return self._linear[across]

    def is_like(self, other: "Mask") -> bool:
        return (self.width, self.rows) == (other.width, other.rows)


def join_rows(rows: Sequence[int], across: int) -> int:
    """Rows one above the other as one number; by halves, so that it does not grow with the square."""
    if len(rows) <= 1:
        return rows[0] if rows else 0
    half = len(rows) // 2
    return join_rows(rows[:half], across) | join_rows(rows[half:], across) << half * across


def make_mask(points: Points, cell_mm: float, gap_mm: float) -> Mask:
    """The shape with half the gap round it, its corner at 0, 0."""
    grow = gap_mm / 2
    left, low = min(p[0] for p in points) - grow, min(p[1] for p in points) - grow
    moved = tuple((x - left, y - low) for x, y in points)
    width, height = (max(1, math.ceil((max(p[k] for p in moved) + grow) / cell_mm - NEARLY)) for k in (0, 1))
    return Mask(width, tuple(touched_rows(moved, cell_mm, grow, width, height)), moved)


def turn_mask(mask: Mask, turn: int, cell_mm: float) -> Mask:
    """The mask of a shape as it is drawn, turned by 90, 180 or 270 degrees anticlockwise, exactly."""
    wide, high = mask.width * cell_mm, mask.height * cell_mm
    if turn == 0:
        return mask
    if turn == 180:
        rows = tuple(_flip_bits(row, mask.width) for row in reversed(mask.rows))
        return Mask(mask.width, rows, tuple((wide - x, high - y) for x, y in mask.points), turn)
    columns = [0] * mask.width
    for y, row in enumerate(mask.rows):
        bit = 1 << (mask.height - 1 - y)
        while row:
            low = row & -row
            columns[low.bit_length() - 1] |= bit
            row ^= low
    quarter = Mask(mask.height, tuple(columns), tuple((high - y, x) for x, y in mask.points), 90)
    if turn == 90:
        return quarter
    half = turn_mask(quarter, 180, cell_mm)
    return Mask(half.width, half.rows, half.points, 270)


def _flip_bits(row: int, width: int) -> int:
    return int(format(row, f"0{width}b")[::-1], 2)


def touched_rows(points: Points, cell_mm: float, grow_mm: float, width: int, height: int) -> list[int]:
    """Rows of all cells that the shape, grown by a square of `grow_mm` to every side, touches: never too few."""
    rows = [0] * height
    for (ax, ay), (bx, by) in _legs(points):
        first = max(0, math.floor((ay - grow_mm) / cell_mm + NEARLY))
        last = min(height - 1, max(first, math.ceil((by + grow_mm) / cell_mm - NEARLY) - 1))
        for row in range(first, last + 1):
            low, high = max(ay, row * cell_mm - grow_mm), min(by, (row + 1) * cell_mm + grow_mm)
            x0, x1 = _between((ax, ay), (bx, by), low, high)
            c0 = max(0, math.floor((x0 - grow_mm) / cell_mm + NEARLY))
            c1 = min(width - 1, max(c0, math.ceil((x1 + grow_mm) / cell_mm - NEARLY) - 1))
            rows[row] |= _cells(c0, c1)
    for row in _rows_of(points, cell_mm, height):
        for c0, c1 in _spans(points, (row + 0.5) * cell_mm, cell_mm, 0.5, width):
            rows[row] |= _cells(c0, c1)
    return rows


def _rows_of(points: Points, cell_mm: float, height: int) -> range:
    """The rows of a sheet between the lowest and the highest point of a shape."""
    first, last = min(y for _, y in points) / cell_mm, max(y for _, y in points) / cell_mm
    return range(max(0, math.floor(first) - 1), min(height, math.ceil(last) + 1))


def inside_rows(points: Points, cell_mm: float, width: int, height: int) -> list[int]:
    """Rows of the cells that lie wholly inside the outline."""
    rows = [0] * height
    for row in _rows_of(points, cell_mm, height):
        for c0, c1 in _spans(points, (row + 0.5) * cell_mm, cell_mm, 0.0, width):
            rows[row] |= _cells(c0, c1)
    crossed = [0] * height
    for (ax, ay), (bx, by) in _legs(points):
        first = max(0, math.floor(ay / cell_mm + NEARLY))
        for row in range(first, min(height - 1, math.ceil(by / cell_mm - NEARLY) - 1) + 1):
            x0, x1 = _between((ax, ay), (bx, by), max(ay, row * cell_mm), min(by, (row + 1) * cell_mm))
            c0 = max(0, math.floor(x0 / cell_mm + NEARLY))
            crossed[row] |= _cells(c0, min(width - 1, math.ceil(x1 / cell_mm - NEARLY) - 1))
    return [row & ~line for row, line in zip(rows, crossed, strict=True)]


def _legs(points: Points) -> Iterator[tuple[tuple[float, float], tuple[float, float]]]:
    """The straight legs of a closed outline, each from its lower end up."""
    for k, (x, y) in enumerate(points):
        one, other = points[k - 1], (x, y)
        yield (one, other) if one[1] <= other[1] else (other, one)


def _between(one: tuple[float, float], other: tuple[float, float], low: float, high: float) -> tuple[float, float]:
    """The least and most across of a leg from `low` to `high` along."""
    (ax, ay), (bx, by) = one, other
    if by - ay <= 1e-9:
        return min(ax, bx), max(ax, bx)
    x0, x1 = (ax + (at - ay) / (by - ay) * (bx - ax) for at in (low, high))
    return min(x0, x1), max(x0, x1)


def _cells(first: int, last: int) -> int:
    return ((1 << last - first + 1) - 1) << first if last >= first else 0


def _spans(points: Points, at: float, cell_mm: float, shift: float, width: int) -> Iterator[tuple[int, int]]:
    """First and last cell of each stretch inside the outline on a line across; with a `shift` of half a cell those whose
    middle is inside, with none those that lie in it whole."""
    crossings = []
    for k, (ax, ay) in enumerate(points):
        bx, by = points[k - 1]
        if (ay <= at) != (by <= at):
            crossings.append(ax + (at - ay) / (by - ay) * (bx - ax))
    crossings.sort()
    for a, b in zip(crossings[::2], crossings[1::2], strict=True):
        first = max(0, math.ceil(a / cell_mm - shift - 1e-9))
        last = min(width - 1, math.floor(b / cell_mm - 1 + shift + 1e-9))
        if last >= first:
            yield first, last


def _find_blocks(rows: Iterable[int]) -> Iterator[Block]:
    """The set cells as upright blocks: equal stretches of rows that follow each other are one."""
    begun: dict[tuple[int, int], int] = {}
    for y, row in enumerate([*rows, 0]):
        runs = set(_runs(row))
        for run in [run for run in begun if run not in runs]:
            first = begun.pop(run)
            yield run[0], first, run[1], y - first
        for run in sorted(runs):
            begun.setdefault(run, y)


def _runs(row: int) -> Iterator[tuple[int, int]]:
    """First cell and length of each stretch of set cells."""
    at = 0
    while row >> at:
        at += ((row >> at) & -(row >> at)).bit_length() - 1
        length = (~(row >> at) & ((row >> at) + 1)).bit_length() - 1
        yield at, length
        at += length


def _hits(taken: int, blocks: Iterable[Block], across: int) -> int:
    """The places at which some cell of the blocks lies on a cell that is taken."""
    widened, bad = [taken], 0
    for u, v, wide, high in blocks:
        power = wide.bit_length() - 1
        while len(widened) <= power:
            widened.append(widened[-1] | widened[-1] >> (1 << (len(widened) - 1)))
        found = widened[power]
        if wide - (1 << power):
            found |= found >> wide - (1 << power)
        found = _spread(found, high, across, down=True)
        bad |= found >> v * across + u
    return bad


def _spread(cells: int, times: int, step: int, *, down: bool) -> int:
    """The cells, and those of them moved by 1 to `times` - 1 steps; by doubling."""
    done = 1
    while done < times:
        by = min(done, times - done) * step
        cells |= cells >> by if down else cells << by
        done += by // step
    return cells


def repeat(row: int, across: int, along: int) -> int:
    """One row in all `along` rows of a sheet."""
    return _spread(row, along, across, down=False) if along > 0 else 0


def free_map(taken: int, across: int, along: int, mask: Mask) -> int:
    """All places of a mask on a sheet where nothing under it is taken."""
    if mask.width > across or mask.height > along:
        return 0
    free = repeat((1 << across - mask.width + 1) - 1, across, along - mask.height + 1)
    return free ^ (free & _hits(taken, mask.blocks, across)) if taken else free


def clash_map(mask: Mask, laid: Mask, across: int) -> tuple[int, int]:
    """The places of `mask` at which it would lie on `laid` at 0, 0, moved so that none is negative; and by how much."""
    shift = (mask.height - 1) * across + mask.width - 1
    return _hits(laid.linear(across) << shift, mask.blocks, across), shift


def reach_map(free: int, across: int, along: int, width: int, height: int) -> int:
    """The part of the free cells that a rectangle of these cells, lying or standing, can cover: what is left to use."""
    full, reached = (1 << across * along) - 1, 0
    for wide, high in {(width, height), (height, width)}:
        box = Mask(wide, ((1 << wide) - 1,) * high, ())
        places = free_map(full ^ free, across, along, box)
        places = _spread(places, wide, 1, down=False)
        reached |= _spread(places, high, across, down=False)
    return reached & full


def largest_piece(cells: int, across: int, along: int) -> int:
    """How many cells the largest piece has of those that hang together side by side."""
    sizes: list[int] = []
    heads: list[int] = []  # the piece that another one was found to be part of, itself for its own
    above: list[tuple[int, int, int]] = []
    row_of = (1 << across) - 1

    def head(piece: int) -> int:
        while heads[piece] != piece:
            piece = heads[piece]
        return piece

    for row in range(along):
        runs = []
        for first, length in _runs(cells >> row * across & row_of):
            met = {head(piece) for begun, long, piece in above if begun < first + length and first < begun + long}
            own = min(met, default=len(heads))
            if own == len(heads):
                heads.append(own)
                sizes.append(0)
            for other in met - {own}:
                heads[other] = own
                sizes[own] += sizes[other]
            sizes[own] += length
            runs.append((first, length, own))
        above = runs
    return max(sizes, default=0)
