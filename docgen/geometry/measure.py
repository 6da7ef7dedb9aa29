"""Questions about paths.

Inside or outside, how far, which part of a straight line lies inside. mm, radians.
"""

import bisect
import itertools
import math
from collections.abc import Callable, Iterable, Iterator, Sequence
from functools import lru_cache
from typing import TypeVar

from docgen.geometry.crossing import leg_distance
from docgen.geometry.path import flatten, holds_box, path_box, start_point
from docgen.geometry.segment import arc_point, flatten_segment, segment_end, segment_start
from docgen.geometry.shapes import Arc, Box, Curve, GeometryError, Line, Path, Point, Segment
from docgen.geometry.vector import add, cross, distance, dot, norm, scale, subtract, turn_left, unit

Item = TypeVar("Item")

FLATTEN_MM = 0.002

CELL_MM = 10.0
LARGE_MM = 40.0  # a path longer than this either way would lie in many cells


def straighten(path: Path, tolerance_mm: float = FLATTEN_MM) -> Path:
    """The path with its curves as chords no farther than the tolerance from them; lines and arcs stay."""
    segments: list[Segment] = []
    for segment in path.segments:
        if isinstance(segment, Curve):
            points = [segment.start, *flatten_segment(segment, tolerance_mm)]
            segments += [Line(a, b) for a, b in itertools.pairwise(points) if a != b]
        else:
            segments.append(segment)
    return Path(tuple(segments), path.closed)


def is_inside(path: Path, point: Point) -> bool:
    """True when the point lies inside a closed path (an odd number of crossings on the way out).

    Exact for lines and arcs; curves as chords 0.002 mm from them. A point on the line itself may count
    either way.
    """
    return _is_within(_rising_parts(path), point)


def inside_finder(path: Path) -> Callable[[Point], bool]:
    """`is_inside` for many points of one closed path."""
    parts = _rising_parts(straighten(path))
    return lambda point: _is_within(parts, point)


# A part of a path that only rises or only falls: its two ends, and the arc it belongs to with its middle angle.
_Part = tuple[Point, Point, Arc | None, float]


@lru_cache(maxsize=256)
def _rising_parts(path: Path) -> tuple[_Part, ...]:
    """The end of each is the next one's start, so that both sides of a joint are judged by the very same height.

    Kept, since many points are asked of one path.
    """
    parts = [part for segment in straighten(path).segments for part in _split_rising(segment)]
    ends = [start for start, _, _ in (*parts[1:], *parts[:1])]
    return tuple((start, end, arc, middle) for (start, arc, middle), end in zip(parts, ends, strict=True))


def _split_rising(segment: Segment) -> Iterator[tuple[Point, Arc | None, float]]:
    if not isinstance(segment, Arc):
        yield segment_start(segment), None, 0.0
        return
    low, high = sorted((segment.begin, segment.begin + segment.sweep))
    first = math.floor(low / math.pi - 0.5) + 1
    last = math.ceil(high / math.pi - 0.5)
    angles = [low, *((k + 0.5) * math.pi for k in range(first, last)), high]
    if segment.sweep < 0:
        angles.reverse()
    for a, b in itertools.pairwise(angles):
        yield arc_point(segment, a), segment, (a + b) / 2


def _is_within(parts: Sequence[_Part], point: Point) -> bool:
    return sum(at > point[0] for at in _crossings(parts, point[1])) % 2 == 1


def _crossings(parts: Sequence[_Part], height: float) -> Iterator[float]:
    """How far across the parts meet a level line."""
    for start, end, arc, middle in parts:
        if (start[1] > height) == (end[1] > height):
            continue
        if arc is None:
            yield start[0] + (height - start[1]) / (end[1] - start[1]) * (end[0] - start[0])
        else:
            high = height - arc.centre[1]
            wide = math.sqrt(max(arc.radius**2 - high**2, 0.0))
            yield arc.centre[0] + math.copysign(wide, math.cos(middle))


def distance_to_path(path: Path, point: Point) -> float:
    """The shortest distance from a point to the drawn line, mm; lines and arcs exact, curves to 0.002 mm.

    GeometryError for a path without segments.
    """
    return gap_finder(path)(point)


def farthest_out_mm(shape: Path, points: Iterable[Point]) -> float:
    """How far the farthest of some points lies out of a closed path, mm; 0 when all lie inside."""
    is_in = inside_finder(shape)
    return max((distance_to_path(shape, at) for at in points if not is_in(at)), default=0.0)


def gap_finder(path: Path) -> Callable[[Point], float]:
    """`distance_to_path` for many points of one path."""
    start_point(path)
    segments = straighten(path).segments
    return lambda point: min([segment_distance(segment, point) for segment in segments])


def segment_distance(segment: Segment, point: Point) -> float:
    """The shortest distance from a point to a line or arc, mm; exact."""
    if isinstance(segment, Arc):
        spoke = subtract(point, segment.centre)
        if angle_within(segment, math.atan2(spoke[1], spoke[0])):
            return abs(norm(spoke) - segment.radius)
        return min(distance(segment_start(segment), point), distance(segment_end(segment), point))
    return leg_distance((segment.start, segment.end), point)


def angle_within(arc: Arc, angle: float) -> bool:
    """True when the arc passes through the direction `angle` from its centre (within 1e-12 of a turn)."""
    turned = angle - arc.begin if arc.sweep >= 0 else arc.begin - angle
    slack = 1e-11
    return (turned + slack) % (2 * math.pi) <= abs(arc.sweep) + 2 * slack


def line_crossing(p: Point, d: Point, q: Point, e: Point) -> Point | None:
    """Where the endless line through p along d meets the one through q along e; None when parallel."""
    under = cross(d, e)
    if abs(under) <= 1e-12 * norm(d) * norm(e):
        return None
    return add(p, scale(d, cross(subtract(q, p), e) / under))


def chords(path: Path, point: Point, direction: Point) -> tuple[tuple[Point, Point], ...]:
    """The parts of an endless straight line inside a closed path, in the order of `direction`.

    Exact for lines and arcs; curves as chords 0.002 mm from them. Empty when the line misses the shape or
    only touches it. GeometryError when the direction has no length.
    """
    straight = straighten(path)
    parts = _rising_parts(path)
    return _chords(straight.segments, lambda at: _is_within(parts, at), point, unit(direction))


def inside_rows(path: Path, heights: Sequence[float]) -> list[list[float]]:
    """Where level lines at many heights, from the lowest up, enter and leave a closed path, from left to right.

    Exact for lines and arcs; curves as chords 0.002 mm from them. What a line only touches is left out.
    """
    rows: list[list[float]] = [[] for _ in heights]
    for part in _rising_parts(path):
        low, high = sorted((part[0][1], part[1][1]))
        for at in range(bisect.bisect_left(heights, low), bisect.bisect_left(heights, high)):
            rows[at] += _crossings((part,), heights[at])
    return [sorted(row) for row in rows]


def _chords(
    segments: Sequence[Segment], is_within: Callable[[Point], bool], point: Point, along: Point
) -> tuple[tuple[Point, Point], ...]:
    marks = sorted(mark for segment in segments for mark in _line_marks(segment, point, along))
    found: list[tuple[float, float]] = []
    for a, b in itertools.pairwise(marks):
        if b - a <= 1e-9 or not is_within(add(point, scale(along, (a + b) / 2))):
            continue
        if found and a - found[-1][1] <= 1e-9:
            found[-1] = (found[-1][0], b)
        else:
            found.append((a, b))
    return tuple((add(point, scale(along, a)), add(point, scale(along, b))) for a, b in found)


def crossings(path: Path, start: Point, end: Point) -> tuple[float, ...]:
    """How far from `start` the straight line to `end` meets a path, mm, in order; curves as chords 0.002 mm from them.

    GeometryError when both ends are one point.
    """
    along, length = unit(subtract(end, start)), norm(subtract(end, start))
    marks = (mark for segment in straighten(path).segments for mark in _line_marks(segment, start, along))
    return tuple(sorted(mark for mark in marks if -1e-9 <= mark <= length + 1e-9))


def _line_marks(segment: Segment, point: Point, along: Point) -> list[float]:
    """Distances along the line at which it meets a segment.

    A segment that lies in the line gives its ends.
    """
    if isinstance(segment, Arc):
        return _circle_marks(segment, point, along)
    (x0, y0), (x1, y1) = segment.start, segment.end
    (x, y), (dx, dy) = point, along
    left, right = dx * (y0 - y) - dy * (x0 - x), dx * (y1 - y) - dy * (x1 - x)
    ends = [dx * (u - x) + dy * (v - y) for u, v, off in ((x0, y0, left), (x1, y1, right)) if abs(off) <= 1e-9]
    if ends or left * right > 0:
        return ends
    share = left / (left - right)
    return [dx * (x0 + (x1 - x0) * share - x) + dy * (y0 + (y1 - y0) * share - y)]


def _circle_marks(arc: Arc, point: Point, along: Point) -> list[float]:
    foot = dot(along, subtract(arc.centre, point))
    off = cross(along, subtract(arc.centre, point))
    if abs(off) > arc.radius:
        return []
    half = math.sqrt(arc.radius**2 - off**2)
    marks = []
    for mark in (foot - half, foot + half):
        spoke = subtract(add(point, scale(along, mark)), arc.centre)
        if angle_within(arc, math.atan2(spoke[1], spoke[0])):
            marks.append(mark)
    return marks


def to_edge(outline: Path, at: Point, way: Point) -> float:
    """How far it is from a point to the farthest place of a closed outline that lies straight on in a direction, a unit
    vector; 0 where there is none."""
    ends = [end for chord in chords(outline, at, way) for end in chord]
    return max((dot(subtract(end, at), way) for end in ends), default=0.0)


def _meets(a: Box, b: Box) -> bool:
    return a.left <= b.right and b.left <= a.right and a.bottom <= b.top and b.bottom <= a.top


def touch_test(path: Path, own: Box | None = None) -> Callable[[Box], bool]:
    """A question to ask of many boxes: does any part of the drawn line (not the area inside it) lie in the box, judged to
    0.01 mm; `own` is the path's box, where it is known. A path has at least one segment."""
    own = own or path_box(path)
    first = path.segments[0]
    if isinstance(first, Arc) and abs(first.sweep) >= 2 * math.pi:
        return lambda box: _circle_touches(first, box)

    legs: list[tuple[Point, Point]] = []  # made when first asked for

    def test(box: Box) -> bool:
        if not _meets(own, box) or holds_box(box, own):
            return _meets(own, box)
        left, bottom, right, top = box.left, box.bottom, box.right, box.top
        if not legs:
            legs.extend(itertools.pairwise(flatten(path, 0.01)))
        for a, b in legs:
            (x0, y0), (x1, y1) = a, b
            if (x0 < left and x1 < left) or (x0 > right and x1 > right):
                continue
            if (y0 < bottom and y1 < bottom) or (y0 > top and y1 > top):
                continue
            if cut_to_box(a, b, box):
                return True
        return False

    return test


def _circle_touches(circle: Arc, box: Box) -> bool:
    """The nearest point of the box lies within the circle, the farthest one not."""
    (x, y), radius = circle.centre, circle.radius
    left, right, low, high = x - box.left, box.right - x, y - box.bottom, box.top - y
    near = math.hypot(max(-left, -right, 0.0), max(-low, -high, 0.0))
    return near <= radius <= math.hypot(max(left, right), max(low, high))


def touch_finder(lines: Iterable[Path | Box]) -> Callable[[Box], bool]:
    """A question to ask of many boxes: does any of the paths touch it, as `touch_test` tells, or any of the boxes meet
    it?"""
    find = box_finder((line, None) if isinstance(line, Box) else _with_test(line, path_box(line)) for line in lines)
    return lambda box: any(test is None or test(box) for _, test in find(box))


def _with_test(path: Path, own: Box) -> tuple[Box, Callable[[Box], bool]]:
    return own, touch_test(path, own)


def box_finder(boxed: Iterable[tuple[Box, Item]]) -> Callable[[Box], Iterator[tuple[Box, Item]]]:
    """A question to ask of many boxes: which of the things in boxes of their own does it meet, if only at an edge; each
    once, in their order."""
    held = list(boxed)
    cells: dict[tuple[int, int], list[int]] = {}
    large = []
    for place, (own, _) in enumerate(held):
        if own.right - own.left > LARGE_MM or own.top - own.bottom > LARGE_MM:
            large.append(place)
            continue
        for cell in _cells_of(own):
            cells.setdefault(cell, []).append(place)

    def find(box: Box) -> Iterator[tuple[Box, Item]]:
        near = {place for cell in _cells_of(box) for place in cells.get(cell, ())}
        left, bottom, right, top = box.left, box.bottom, box.right, box.top
        for place in sorted({*near, *large}):
            own, _ = item = held[place]
            if own.left <= right and left <= own.right and own.bottom <= top and bottom <= own.top:
                yield item

    return find


def _cells_of(box: Box) -> Iterator[tuple[int, int]]:
    """The squares of a grid that a box lies in."""
    rows = range(math.floor(box.bottom / CELL_MM), math.floor(box.top / CELL_MM) + 1)
    return itertools.product(range(math.floor(box.left / CELL_MM), math.floor(box.right / CELL_MM) + 1), rows)


def cut_to_box(a: Point, b: Point, box: Box) -> tuple[float, float] | None:
    """The shares of a leg, from a on, between which it lies in a box; None where it does not touch it.

    It is cut by the four sides in turn, and something is left where it touches (Liang and Barsky, ACM TOG 3, 1984).
    """
    first, last = 0.0, 1.0
    for start, end, low, high in ((a[0], b[0], box.left, box.right), (a[1], b[1], box.bottom, box.top)):
        if (start < low and end < low) or (start > high and end > high):
            return None
        run = end - start
        if run and not (low <= start <= high and low <= end <= high):
            near, far = (low - start) / run, (high - start) / run
            first, last = max(first, min(near, far)), min(last, max(near, far))
    return (first, last) if first <= last else None


def hatch_lines(path: Path, spacing: float, angle_rad: float) -> tuple[Path, ...]:
    """Straight parallel lines inside a closed path, `spacing` mm apart, at an angle to the x axis.

    They lie at whole multiples of the spacing from the origin, so that the hatching of neighbours runs
    through. GeometryError unless spacing > 0.
    """
    if not 0 < spacing < math.inf:
        raise GeometryError(f"a hatching needs a spacing above 0 mm, not {spacing:g} mm")
    along = Point(math.cos(angle_rad), math.sin(angle_rad))
    across = turn_left(along)
    offs = [dot(across, corner) for corner in path_box(path).corners]
    straight = straighten(path)
    parts = _rising_parts(path)
    lines = range(math.ceil(min(offs) / spacing), math.floor(max(offs) / spacing) + 1)
    found = [
        chord
        for k in lines
        for chord in _chords(straight.segments, lambda at: _is_within(parts, at), scale(across, k * spacing), along)
    ]
    return tuple(Path((Line(a, b),)) for a, b in found)
