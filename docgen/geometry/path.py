"""Paths: made, joined, measured, cut and moved. Lengths in mm, areas in mm2, angles in radians."""

import bisect
import itertools
import math
from collections.abc import Iterable, Sequence

from docgen.geometry.segment import (
    box_of,
    flatten_segment,
    outer_points,
    reverse_segment,
    segment_area,
    segment_end,
    segment_length,
    segment_part,
    segment_point,
    segment_start,
    transform_segment,
)
from docgen.geometry.shapes import Arc, Box, Curve, GeometryError, Line, Path, Point, Segment
from docgen.geometry.vector import Transform, distance, transform_point

JOIN_MM = 1e-6


def start_point(path: Path) -> Point:
    """Where the path begins. GeometryError for a path without segments."""
    return segment_start(_segments(path)[0])


def end_point(path: Path) -> Point:
    """Where the path ends. GeometryError for a path without segments."""
    return segment_end(_segments(path)[-1])


def _segments(path: Path) -> tuple[Segment, ...]:
    if not path.segments:
        raise GeometryError("the line is empty")
    return path.segments


def reverse_path(path: Path) -> Path:
    """The same drawn line, run through from its end to its start."""
    return Path(tuple(reverse_segment(s) for s in reversed(path.segments)), path.closed)


def join_paths(paths: Iterable[Path]) -> Path:
    """One open path out of several, each beginning within 1e-6 mm of the end of the one before.

    Paths without segments are passed over. GeometryError when two do not meet.
    """
    parts = [path for path in paths if path.segments]
    for one, other in itertools.pairwise(parts):
        gap = distance(end_point(one), start_point(other))
        if gap > JOIN_MM:
            raise GeometryError(f"two lines that should meet are {gap:.6g} mm apart")
    return Path(tuple(segment for path in parts for segment in path.segments))


def close_path(path: Path) -> Path:
    """The path closed, with a straight segment from its end to its start where they lie apart."""
    start, end = start_point(path), end_point(path)
    last: tuple[Segment, ...] = (Line(end, start),) if distance(start, end) > JOIN_MM else ()
    return Path(path.segments + last, closed=True)


def path_length(path: Path) -> float:
    """Length in mm: lines and arcs exact, curves to 1e-9 of their length. 0 for a path without segments."""
    return math.fsum(segment_length(s) for s in path.segments)


def path_area(path: Path) -> float:
    """Area in mm2, exact for every kind of segment; positive when the path runs anticlockwise.

    An open path is measured as if a straight line closed it.
    """
    if not path.segments:
        return 0.0
    total = math.fsum(segment_area(s) for s in path.segments)
    return total + segment_area(Line(end_point(path), start_point(path)))


def ring_area(points: Sequence[tuple[float, float]]) -> float:
    """Area in mm2 of a ring of points, closed by a straight line from its last to its first (the shoelace formula of
    Gauss); positive when they run anticlockwise, 0.0 for fewer than three."""
    return sum(points[k - 1][0] * y - x * points[k - 1][1] for k, (x, y) in enumerate(points)) / 2


def path_box(path: Path) -> Box:
    """The smallest upright box around the drawn line; exact. GeometryError for a path without segments."""
    points: list[Point] = []
    for segment in _segments(path):
        points += (segment.start, segment.end) if isinstance(segment, Line) else outer_points(segment)
    return box_of(points)


def box_union(boxes: Iterable[Box]) -> Box:
    """The smallest box around several. GeometryError when there is none."""
    every = list(boxes)
    if not every:
        raise GeometryError("there is nothing to put a box around")
    return Box(
        min(b.left for b in every), min(b.bottom for b in every), max(b.right for b in every), max(b.top for b in every)
    )


def grow_box(box: Box, by: float) -> Box:
    """The box with every side moved out by `by` mm. GeometryError when a negative `by` leaves nothing."""
    grown = Box(box.left - by, box.bottom - by, box.right + by, box.top + by)
    if grown.right < grown.left or grown.top < grown.bottom:
        raise GeometryError(f"a box of {box.width:g} x {box.height:g} mm cannot shrink by {-by:g} mm a side")
    return grown


def boxes_overlap(a: Box, b: Box) -> bool:
    """True when two boxes share some area; boxes that only touch do not overlap."""
    return a.left < b.right and b.left < a.right and a.bottom < b.top and b.bottom < a.top


def holds_box(a: Box, b: Box) -> bool:
    """True when the second box lies in the first, edges included."""
    return a.left <= b.left and b.right <= a.right and a.bottom <= b.bottom and b.top <= a.top


def point_at(path: Path, at_mm: float) -> tuple[Point, Point]:
    """The point and the unit tangent at a distance in mm from the start.

    Distances beyond an open path's ends give its ends; a closed path goes round again. Where two segments
    meet, the tangent is that of the second. GeometryError for a path without length.
    """
    return points_at(path, (at_mm,))[0]


def points_at(path: Path, distances_mm: Iterable[float]) -> tuple[tuple[Point, Point], ...]:
    """`point_at` for many distances, with the path measured once."""
    measured = [(s, length) for s in path.segments if (length := segment_length(s)) > 0]
    if not measured:
        raise GeometryError("a line without length has no direction")
    total = math.fsum(length for _, length in measured)
    return tuple(_place(measured, total, at % total if path.closed else at) for at in distances_mm)


def _place(measured: Sequence[tuple[Segment, float]], total: float, at: float) -> tuple[Point, Point]:
    at = min(max(at, 0.0), total)
    for segment, length in measured[:-1]:
        if at < length:
            return segment_point(segment, at)
        at -= length
    segment, length = measured[-1]
    return segment_point(segment, min(at, length))


def part_of(path: Path, from_mm: float, to_mm: float) -> Path:
    """The open part between two distances from the start, as the same kinds of segment.

    A closed path may be cut across its start: from_mm > to_mm then goes on past it. GeometryError when the
    part has no length or reaches beyond the ends of the path by more than 1e-6 mm.
    """
    return parts_of(path, [(from_mm, to_mm)])[0]


def parts_of(path: Path, cuts: Sequence[tuple[float, float]]) -> list[Path]:
    """`part_of` for many pairs of distances, with the path measured once."""
    lengths = [segment_length(segment) for segment in path.segments]
    starts = list(itertools.accumulate(lengths, initial=0.0))[:-1]
    total = math.fsum(lengths)

    def cut(from_mm: float, to_mm: float) -> Path:
        if path.closed and from_mm > to_mm:
            return join_paths((cut(from_mm, total), cut(0.0, to_mm)))
        return _cut(path, (lengths, starts, total), from_mm, to_mm)

    return [cut(from_mm, to_mm) for from_mm, to_mm in cuts]


def _cut(path: Path, measured: tuple[list[float], list[float], float], from_mm: float, to_mm: float) -> Path:
    """`measured`: length of each segment, how far along the path it starts, and the length of all."""
    lengths, starts, total = measured
    if from_mm < -JOIN_MM or to_mm > total + JOIN_MM:
        raise GeometryError(f"the part from {from_mm:.6g} to {to_mm:.6g} mm reaches beyond a line of {total:.6g} mm")
    kept: list[Segment] = []
    first = max(bisect.bisect_right(starts, from_mm) - 1, 0)
    for index in range(first, bisect.bisect_left(starts, to_mm)):
        segment, length, passed = path.segments[index], lengths[index], starts[index]
        begin, end = max(from_mm - passed, 0.0), min(to_mm - passed, length)
        if end - begin > 1e-9:
            whole = begin == 0.0 and end == length
            kept.append(segment if whole else segment_part(segment, begin, end))
    if not kept:
        raise GeometryError(f"the part from {from_mm:.6g} to {to_mm:.6g} mm of a line has no length")
    return Path(tuple(kept))


def flatten(path: Path, tolerance_mm: float = 0.002) -> tuple[Point, ...]:
    """The path as points joined by straight legs, no leg farther than the tolerance from the drawn line.

    A closed path gives its first point again as the last one. Empty for a path without segments.
    """
    if not path.segments:
        return ()
    points = [start_point(path)]
    for segment in path.segments:
        points += flatten_segment(segment, tolerance_mm)
    if path.closed:
        if distance(points[0], points[-1]) <= JOIN_MM:
            points[-1] = points[0]
        else:
            points.append(points[0])
    return tuple(points)


def polyline(points: Sequence[Point], closed: bool = False) -> Path:
    """Straight legs from point to point; closed ones go back to the first unless they already end there.

    A point that repeats the one before it is passed over. GeometryError for fewer than two different points.
    """
    pairs = zip(points, (None, *points), strict=False)
    kept = [p if isinstance(p, Point) else Point(*p) for p, before in pairs if p != before]
    if len(kept) < 2:
        raise GeometryError("a line needs at least two different points")
    path = Path(tuple(Line(a, b) for a, b in itertools.pairwise(kept)))
    return close_path(path) if closed else path


def circle_path(centre: Point, radius: float) -> Path:
    """A full circle, closed, anticlockwise from its rightmost point. GeometryError unless radius > 0."""
    if not 0 < radius < math.inf:
        raise GeometryError(f"a circle needs a radius above 0 mm, not {radius:g} mm")
    return Path((Arc(Point(*centre), radius, 0.0, 2 * math.pi),), closed=True)


def box_path(box: Box) -> Path:
    """The four sides of a box, closed, anticlockwise from the bottom left."""
    return polyline(box.corners, closed=True)


def transform_path(path: Path, t: Transform) -> Path:
    """The path moved by a rigid transform; a mirrored closed path changes its sense of turning."""
    moved: list[Segment] = []
    before, joint = None, Point(0.0, 0.0)
    for segment in path.segments:
        if isinstance(segment, Line):  # a joint of two is moved once
            start = joint if segment.start is before else transform_point(segment.start, t)
            before, joint = segment.end, transform_point(segment.end, t)
            moved.append(Line(start, joint))
        else:
            moved.append(transform_segment(segment, t))
    return Path(tuple(moved), path.closed)


def scale_path(path: Path, factor: float) -> Path:
    """The path with every distance from (0, 0) times `factor` (more than 0)."""
    return Path(tuple(_scale_segment(segment, factor) for segment in path.segments), path.closed)


def _scale_segment(segment: Segment, factor: float) -> Segment:
    def scaled(point: Point) -> Point:
        return Point(point.x * factor, point.y * factor)

    match segment:
        case Line(start, end):
            return Line(scaled(start), scaled(end))
        case Arc(centre, radius, begin, sweep):
            return Arc(scaled(centre), radius * factor, begin, sweep)
        case Curve(start, handle_1, handle_2, end):
            return Curve(scaled(start), scaled(handle_1), scaled(handle_2), scaled(end))
