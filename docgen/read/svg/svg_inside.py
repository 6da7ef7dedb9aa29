"""Where a line lies by a closed one, and whether it is a circle."""

import itertools
import math
from collections.abc import Callable, Sequence
from typing import Final

from docgen.geometry.crossing import distance_finder
from docgen.geometry.path import flatten, path_area, path_box
from docgen.geometry.shapes import Path, Point

POINTS_MOST: Final = 200_000
OVER_MM: Final = 0.5  # how far a mark may reach over the outline
MARK_MM: Final = 0.05  # how finely marks are judged
CIRCLE_SEGMENTS_MOST: Final = 100
ROUND_SHARE: Final = 0.001  # how far a circle drawn by curves may leave its radius


def sample_line(path: Path, ring: Path) -> list[Point]:
    """Points along the line, none farther from the next than a hundredth of the outline's size."""
    box = path_box(ring)
    step = max(box.width, box.height) / 100
    own = path_box(path)
    drawn = flatten(path, max(MARK_MM, max(own.width, own.height) / 5000))
    points = [drawn[0]]
    for a, b in itertools.pairwise(drawn):
        count = min(max(1, math.ceil(math.dist(a, b) / step)), 1000)
        points += [Point(a.x + (b.x - a.x) * k / count, a.y + (b.y - a.y) * k / count) for k in range(1, count + 1)]
        if len(points) > POINTS_MOST:
            break
    return points


def make_judge(ring: Path) -> Callable[[Point], int]:
    """A question to ask of many points: 1 well inside the line, -1 well outside, 0 within `OVER_MM` of it."""
    points = flatten(ring, MARK_MM)
    near = distance_finder(points, OVER_MM)
    box = path_box(ring)
    bands = 200
    height = max(box.height, 1e-9) / bands

    def band(y: float) -> int:
        return min(max(int((y - box.bottom) / height), 0), bands - 1)

    legs: list[list[tuple[Point, Point]]] = [[] for _ in range(bands)]
    for a, b in itertools.pairwise(points):
        for k in range(band(min(a.y, b.y)), band(max(a.y, b.y)) + 1):
            legs[k].append((a, b))

    def judge(point: Point) -> int:
        if not (box.left <= point.x <= box.right and box.bottom <= point.y <= box.top):
            inside = False
        else:
            inside = _is_within(legs[band(point.y)], point)
        return 0 if near(point) <= OVER_MM else (1 if inside else -1)

    return judge


def _is_within(legs: Sequence[tuple[Point, Point]], point: Point) -> bool:
    inside = False
    for a, b in legs:
        if (a.y > point.y) != (b.y > point.y):
            inside ^= a.x + (point.y - a.y) / (b.y - a.y) * (b.x - a.x) > point.x
    return inside


def find_circle(path: Path) -> tuple[Point, float] | None:
    """Centre and diameter in mm of a closed line that is a circle, also by curves; None for others."""
    if not path.closed or len(path.segments) > CIRCLE_SEGMENTS_MOST:
        return None
    box = path_box(path)
    centre = box.centre
    radius = (box.width + box.height) / 4
    slack = max(ROUND_SHARE * radius, 0.002)
    drawn = flatten(path)
    is_round = all(abs(math.dist(centre, point) - radius) <= slack for point in drawn)
    area = math.pi * radius * radius
    # the corners of a square lie on a circle too
    return (centre, 2 * radius) if is_round and abs(abs(path_area(path)) - area) <= 0.005 * area else None
