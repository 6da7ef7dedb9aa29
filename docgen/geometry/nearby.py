"""Which of many points, on a piece or in space, lie near to a place, without asking each of them. mm."""

from bisect import bisect_left
from collections import defaultdict
from collections.abc import Callable, Sequence
from itertools import product
from math import dist, floor, inf
from operator import add

from docgen.geometry.shapes import Point

HAIR = 1e-9  # so much wider than the reach is a cell: two points a rounded reach apart lie in neighbouring ones


def near_finder(points: Sequence[Sequence[float]], reach_mm: float) -> Callable[[Sequence[float]], list[int]]:
    """A function that gives the numbers of the points no farther from a place than the reach, in rising order."""
    cell_mm = reach_mm * (1 + HAIR)
    cells: defaultdict[tuple[int, ...], list[int]] = defaultdict(list)
    for number, point in enumerate(points):
        cells[tuple(floor(mm / cell_mm) for mm in point)].append(number)
    ways = [*product((-1, 0, 1), repeat=len(points[0]))] if points else []

    def find(at: Sequence[float]) -> list[int]:
        own = [floor(mm / cell_mm) for mm in at]
        held = [cells.get(tuple(map(add, own, way)), ()) for way in ways]
        return sorted(number for cell in held for number in cell if dist(points[number], at) <= reach_mm)

    return find


def nearest_finder(points: Sequence[Point]) -> Callable[[Point], float]:
    """A function that tells how far the nearest of the points lies from a place; 0 where there are none.

    It goes out from the place along the side on which the points spread most, until none can be nearer.
    """
    wide = max((point.x for point in points), default=0.0) - min((point.x for point in points), default=0.0)
    high = max((point.y for point in points), default=0.0) - min((point.y for point in points), default=0.0)
    axis = 0 if wide >= high else 1
    sorted_points = sorted(points, key=lambda point: point[axis])
    places = [point[axis] for point in sorted_points]

    def find(at: Point) -> float:
        best_mm = inf
        middle = bisect_left(places, at[axis])
        for way in (range(middle, len(places)), range(middle - 1, -1, -1)):
            for number in way:
                if abs(places[number] - at[axis]) >= best_mm:
                    break
                best_mm = min(best_mm, dist(sorted_points[number], at))
        return best_mm if points else 0.0

    return find
