"""Which of many points lie near to a place, without asking each of them. mm."""

import math
from bisect import bisect_left
from collections import defaultdict
from collections.abc import Callable, Sequence

from docgen.geometry.shapes import Point
from docgen.geometry.vector import distance


def near_finder(points: Sequence[Point], reach_mm: float) -> Callable[[Point], list[int]]:
    """A function that gives the numbers of the points no farther from a place than the reach, in rising order."""
    squares: defaultdict[tuple[int, int], list[int]] = defaultdict(list)
    for number, point in enumerate(points):
        squares[math.floor(point.x / reach_mm), math.floor(point.y / reach_mm)].append(number)

    def find(at: Point) -> list[int]:
        x, y = math.floor(at.x / reach_mm), math.floor(at.y / reach_mm)
        held = [squares.get((x + across, y + up), ()) for across in (-1, 0, 1) for up in (-1, 0, 1)]
        return sorted(number for square in held for number in square if distance(points[number], at) <= reach_mm)

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
        best_mm = math.inf
        middle = bisect_left(places, at[axis])
        for way in (range(middle, len(places)), range(middle - 1, -1, -1)):
            for number in way:
                if abs(places[number] - at[axis]) >= best_mm:
                    break
                best_mm = min(best_mm, distance(sorted_points[number], at))
        return best_mm if points else 0.0

    return find
