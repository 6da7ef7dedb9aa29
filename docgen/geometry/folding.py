"""A closed shape turned over at a straight fold: what is seen of it then. mm."""

from collections.abc import Iterator, Sequence
from itertools import pairwise

from docgen.geometry.measure import chords, distance_to_path, is_inside, line_crossing, straighten
from docgen.geometry.nearest import nearest_along
from docgen.geometry.path import (
    flatten,
    join_paths,
    part_of,
    path_area,
    path_box,
    path_length,
    polyline,
    reverse_path,
    transform_path,
)
from docgen.geometry.shapes import Line, Path, Point
from docgen.geometry.vector import Transform, add, distance, dot, norm, scale, subtract, turn_left, unit

ON_EDGE_MM = 0.01  # nearer than this a point lies on an edge
CHORD_MM = 0.005  # of arcs, where both halves reach beyond each other
TINY_MM = 1e-4  # a shorter leg is none
SHARED_MM = 1e-5  # legs nearer to each other than this are one


def mirror_over(start: Point, end: Point) -> Transform:
    """The move that turns everything over at the line through two points."""
    along = unit(subtract(end, start))
    cos, sin = along.x**2 - along.y**2, 2 * along.x * along.y
    return Transform(
        cos, sin, sin, -cos, start.x - cos * start.x - sin * start.y, start.y - sin * start.x + cos * start.y
    )


def fold_over(shape: Path, start: Point, end: Point) -> Path:
    """The outline of a closed shape, anticlockwise, once it is turned over at the line from `start` to `end`, where its
    larger half stays; of equal ones the lower, else the left one. The shape itself where that line does not cross it."""
    middle = scale(add(start, end), 0.5)
    found = [ends for ends in chords(shape, start, subtract(end, start)) if _holds(ends, middle)]
    if not found:
        return shape
    kept, flap = sorted(_halve(straighten(shape), *found[0]), key=_order)
    turned = reverse_path(transform_path(flap, mirror_over(start, end)))
    is_covered = all(is_inside(kept, at) or distance_to_path(kept, at) < ON_EDGE_MM for at in flatten(turned))
    is_notched = any(is_inside(turned, at) and distance_to_path(turned, at) > ON_EDGE_MM for at in flatten(kept))
    return _unite(kept, turned) if is_notched or not is_covered else kept


def kept_half(shape: Path, start: Point, end: Point) -> Point:
    """A point inside the half of a closed shape that stays when it is turned over at a chord of it."""
    kept, _ = sorted(_halve(straighten(shape), start, end), key=_order)
    middle, way = scale(add(start, end), 0.5), turn_left(unit(subtract(end, start)))
    sides = [ends for ends in chords(kept, middle, way) if distance(*ends) > ON_EDGE_MM]
    first, last = min(sides, key=lambda ends: min(distance(at, middle) for at in ends))
    return scale(add(first, last), 0.5)


def part_beside(shape: Path, start: Point, end: Point, at: Point) -> Path:
    """What of a closed shape lies on one side of the line from `start` to `end` that crosses it: on that of a point."""
    ends = next(
        (ends for ends in chords(shape, start, subtract(end, start)) if _holds(ends, scale(add(start, end), 0.5))), None
    )
    if ends is None:
        return shape
    way = turn_left(subtract(end, start))
    side = dot(way, subtract(at, start))
    return max(
        _halve(straighten(shape), *ends), key=lambda half: side * dot(way, subtract(path_box(half).centre, start))
    )


def _holds(ends: tuple[Point, Point], at: Point) -> bool:
    """Whether a point of the line through both ends lies between them."""
    return dot(subtract(at, ends[0]), subtract(at, ends[1])) <= 0


def _order(half: Path) -> tuple[float, float, float]:
    box = path_box(half)
    return -round(path_area(half), 6), round(box.bottom, 6), box.left


def _halve(shape: Path, start: Point, end: Point) -> list[Path]:
    """Both halves of a closed shape, each closed along the line that parts them."""
    total = path_length(shape)
    places = sorted((min(nearest_along(shape, at), total), at) for at in (start, end))
    (first, one), (last, two) = places
    rest = [part_of(shape, *ends) for ends in ((last, total), (0.0, first)) if ends[1] - ends[0] > 1e-9]
    halves = [(part_of(shape, first, last), Line(two, one)), (join_paths(rest), Line(one, two))]
    return [Path((*half.segments, chord), closed=True) for half, chord in halves]


def _unite(one: Path, other: Path) -> Path:
    """The outer line of two closed shapes that overlap, both anticlockwise, their arcs as short chords."""
    rings = [_ring(path) for path in (one, other)]
    paths = [polyline(ring[:-1], closed=True) for ring in rings]
    legs = [*_outer(rings[0], rings[1], paths[1], keeps_shared=True)]
    legs += _outer(rings[1], rings[0], paths[0], keeps_shared=False)
    return max((polyline(loop, closed=True) for loop in _chain(legs)), key=path_area, default=one)


def _ring(path: Path) -> list[Point]:
    points: list[Point] = []
    for at in flatten(path, CHORD_MM):
        if not points or distance(at, points[-1]) > 1e-9:
            points.append(at)
    return points if distance(points[0], points[-1]) <= 1e-9 else [*points, points[0]]


Leg = tuple[Point, Point]


def _outer(ring: Sequence[Point], others: Sequence[Point], path: Path, *, keeps_shared: bool) -> Iterator[Leg]:
    """Parts of one ring's legs that lie outside the other shape; and what both have in common, if it keeps that."""
    for leg in pairwise(ring):
        for start, end in pairwise(_split(leg, others)):
            middle = scale(add(start, end), 0.5)
            outward = scale(turn_left(unit(subtract(end, start))), -SHARED_MM)
            is_shared = not keeps_shared and distance_to_path(path, middle) < SHARED_MM / 2
            if not is_shared and not is_inside(path, add(middle, outward)):
                yield start, end


def _split(leg: Leg, others: Sequence[Point]) -> list[Point]:
    """The ends of a leg, and between them where the other ring meets it."""
    start, end = leg
    along = subtract(end, start)
    shares = {0.0, 1.0}
    for first, last in pairwise(others):
        way = subtract(last, first)
        at = line_crossing(start, along, first, way)
        spots = [first] if at is None else [at] if _is_on((first, last), at) else []
        shares |= {dot(subtract(spot, start), along) / norm(along) ** 2 for spot in spots if _is_on(leg, spot)}
    ends = [Point(start.x + share * along.x, start.y + share * along.y) for share in sorted(shares) if 0 <= share <= 1]
    return [at for k, at in enumerate(ends) if k == 0 or distance(at, ends[k - 1]) > 1e-6]


def _is_on(leg: Leg, at: Point) -> bool:
    long_mm = distance(*leg)
    return distance(leg[0], at) + distance(at, leg[1]) <= long_mm + 1e-7


def _chain(legs: Sequence[Leg]) -> Iterator[list[Point]]:
    """Closed loops out of legs that follow each other; a loop of which one is missing is left out."""
    left = [leg for leg in legs if distance(*leg) > TINY_MM]
    while left:
        loop = [*left.pop(0)]
        while distance(loop[-1], loop[0]) > 10 * TINY_MM:
            follows = min(left, key=lambda leg: distance(leg[0], loop[-1]), default=None)
            if follows is None or distance(follows[0], loop[-1]) > 10 * TINY_MM:
                break
            left.remove(follows)
            loop.append(follows[1])
        else:
            if len(loop) > 3:
                yield loop[:-1]
