"""Where a line of straight legs meets itself: a grid of cells, so that only near legs are compared."""

import itertools
import math
from collections.abc import Callable, Iterator, Sequence
from functools import cache

from docgen.geometry.shapes import Point
from docgen.geometry.vector import between

Cell = tuple[int, int]


def find_self_crossing(points: Sequence[Point]) -> Point | None:
    """A point where the legs from point to point cross, touch or fold back on themselves, or None.

    Legs that follow each other share their joint and may not fold back on it; when the last point repeats
    the first, the last and first leg follow each other too. Points less than 1e-9 mm apart count as one.
    """
    legs = _legs(points)
    if not legs or _bends_one_way(legs):
        return None
    count, closed = len(legs), math.dist(legs[0][0], legs[-1][1]) <= 1e-9
    size = _cell_size(legs)
    cells: dict[Cell, list[int]] = {}
    for k, leg in enumerate(legs):
        near: set[int] = set()
        for cell in _cells(leg, size):
            there = cells.setdefault(cell, [])
            near.update(there)
            there.append(k)
        for other in sorted(near):
            apart = k - other
            follows = apart == 1 or (closed and apart == count - 1)
            if follows and _folds_back(legs, other, k, apart == 1):
                return leg[0] if apart == 1 else leg[1]
            if not follows and _legs_meet(legs[other], leg):
                return _meeting_point(legs[other], leg)
    return None


def _legs(points: Sequence[Point]) -> list[tuple[Point, Point]]:
    kept: list[Point] = []
    for point in points:
        if not kept or math.dist(kept[-1], point) > 1e-9:
            kept.append(point)
    return list(itertools.pairwise(kept))


def _bends_one_way(legs: Sequence[tuple[Point, Point]]) -> bool:
    """Whether a line cannot meet itself, as with most shapes: it bends to one side alone, by half a turn at most in all, or
    it ends where it began after a whole one."""
    ways = [(end[0] - start[0], end[1] - start[1]) for start, end in legs]
    closed = math.dist(legs[0][0], legs[-1][1]) <= 1e-9
    pairs = itertools.pairwise([*ways, ways[0]] if closed else ways)
    bends = [math.atan2(a[0] * b[1] - a[1] * b[0], a[0] * b[0] + a[1] * b[1]) for a, b in pairs]
    least, most, most_in_all = min(bends, default=0.0), max(bends, default=0.0), math.tau if closed else math.pi
    is_one_way = (least >= 0 or most <= 0) and max(-least, most) < math.pi - 1e-6
    return is_one_way and abs(math.fsum(bends)) < most_in_all + 1e-6


def _cell_size(legs: Sequence[tuple[Point, Point]]) -> float:
    """Half the mean length of a leg: few cells for a leg, and few legs in a cell where a corner has many short ones."""
    return max(math.fsum(itertools.starmap(math.dist, legs)) / len(legs) / 2, 1e-6)


def _cells(leg: tuple[Point, Point], size: float) -> Iterator[Cell]:
    """The cells a leg runs through, column by column; a hair wider, so that touching legs share one."""
    (x0, y0), (x1, y1) = sorted(leg)
    slope = (y1 - y0) / (x1 - x0) if x1 - x0 > 1e-9 else 0.0
    low, high = min(y0, y1), max(y0, y1)
    hair = 1e-6
    for column in range(math.floor((x0 - hair) / size), math.floor((x1 + hair) / size) + 1):
        if slope:
            a = y0 + slope * (max(column * size, x0) - x0)
            b = y0 + slope * (min((column + 1) * size, x1) - x0)
            bottom, top = max(min(a, b), low), min(max(a, b), high)
        else:
            bottom, top = low, high
        for row in range(math.floor((bottom - hair) / size), math.floor((top + hair) / size) + 1):
            yield column, row


def _grid(legs: Sequence[tuple[Point, Point]], size: float) -> dict[Cell, list[int]]:
    """The legs, by number, in each cell."""
    cells: dict[Cell, list[int]] = {}
    for k, leg in enumerate(legs):
        for cell in _cells(leg, size):
            cells.setdefault(cell, []).append(k)
    return cells


def _side(a: Point, b: Point, p: Point) -> float:
    """How far p lies to the left of the line from a to b, mm; 0 within 1e-9 mm."""
    along_x, along_y = b[0] - a[0], b[1] - a[1]
    off = (along_x * (p[1] - a[1]) - along_y * (p[0] - a[0])) / math.hypot(along_x, along_y)
    return 0.0 if abs(off) < 1e-9 else off


def _legs_meet(one: tuple[Point, Point], other: tuple[Point, Point]) -> bool:
    (a, b), (c, d) = one, other
    for axis in (0, 1):
        low, high = (a[axis], b[axis]) if a[axis] < b[axis] else (b[axis], a[axis])
        least, most = (c[axis], d[axis]) if c[axis] < d[axis] else (d[axis], c[axis])
        if high < least - 1e-9 or most < low - 1e-9:
            return False
    return _side(a, b, c) * _side(a, b, d) <= 0 and _side(c, d, a) * _side(c, d, b) <= 0


def _meeting_point(one: tuple[Point, Point], other: tuple[Point, Point]) -> Point:
    (a, b), (c, d) = one, other
    from_a, from_b = _side(c, d, a), _side(c, d, b)
    if from_a == from_b:
        return c
    share = from_a / (from_a - from_b)
    return between(a, b, share)


def _folds_back(legs: Sequence[tuple[Point, Point]], one: int, other: int, in_order: bool) -> bool:
    (a, joint), (_, c) = (legs[one], legs[other]) if in_order else (legs[other], legs[one])
    ahead = (c[0] - joint[0]) * (joint[0] - a[0]) + (c[1] - joint[1]) * (joint[1] - a[1])
    return ahead < 0 and _side(a, joint, c) == 0


def find_crossing(points: Sequence[Point], others: Sequence[Point]) -> Point | None:
    """A point where one line of legs crosses or touches another, or None."""
    legs, other_legs = _legs(points), _legs(others)
    if not legs or not other_legs:
        return None
    size = _cell_size([*legs, *other_legs])
    cells = _grid(other_legs, size)
    for leg in legs:
        for k in sorted({k for cell in _cells(leg, size) for k in cells.get(cell, ())}):
            if _legs_meet(leg, other_legs[k]):
                return _meeting_point(leg, other_legs[k])
    return None


def distance_finder(points: Sequence[Point], reach: float) -> Callable[[Point], float]:
    """A question to ask of many places: how far is the line of legs, mm, where it is within `reach` mm.

    Farther off the answer may be too large, up to infinity.
    """
    legs = _legs(points)
    size = max(reach, _cell_size(legs)) if legs else 1.0
    cells = _grid(legs, size)

    @cache
    def near(column: int, row: int) -> list[tuple[Point, Point]]:
        found = {k for i in (-1, 0, 1) for j in (-1, 0, 1) for k in cells.get((column + i, row + j), ())}
        return [legs[k] for k in found]

    def find(place: Point) -> float:
        there = near(math.floor(place[0] / size), math.floor(place[1] / size))
        return min([leg_distance(leg, place) for leg in there], default=math.inf)

    return find


def leg_distance(leg: tuple[Point, Point], place: Point) -> float:
    """The shortest distance from a place to a straight leg, mm; exact."""
    (ax, ay), (bx, by) = leg
    dx, dy = bx - ax, by - ay
    share = ((place[0] - ax) * dx + (place[1] - ay) * dy) / (dx * dx + dy * dy or 1.0)
    share = 0.0 if share < 0.0 else 1.0 if share > 1.0 else share
    return math.hypot(ax + share * dx - place[0], ay + share * dy - place[1])
