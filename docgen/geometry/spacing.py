"""Even spacing: points along a straight line, and stitches along a length. mm."""

import math
from collections.abc import Iterable
from itertools import pairwise

from docgen.geometry.path import path_length, points_at
from docgen.geometry.shapes import GeometryError, Path, Point, Segment

# How much of a pitch the last stitches of a span may be drawn in or let out, so that nobody sees it: common practice, no
# published source.
MOST_CHANGE = 0.1
HALF_LESS = 1e-9  # share of a stitch
WHOLE_MM = 0.1  # what an iron is set down out by is more: our choice


def spread_points(start: Point, end: Point, count: int) -> tuple[Point, ...]:
    """`count` points evenly from start to end, both included; one point stands in the middle.

    GeometryError for fewer than one point.
    """
    if count < 1:
        raise GeometryError(f"at least one point is needed, not {count}")
    if count == 1:
        return (Point((start[0] + end[0]) / 2, (start[1] + end[1]) / 2),)
    shares = [k / (count - 1) for k in range(count)]
    return tuple(Point(start[0] * (1 - t) + end[0] * t, start[1] * (1 - t) + end[1] * t) for t in shares)


def stitch_count(length_mm: float, pitch_mm: float) -> int:
    """How many stitches of about the pitch fill a length: the nearest whole number, at least 1.

    Halves are rounded up, and what is a half but for rounding is one. GeometryError unless pitch > 0 and length >= 0.
    """
    if not 0 < pitch_mm < math.inf:
        raise GeometryError(f"a stitch needs a pitch above 0 mm, not {pitch_mm:g} mm")
    if not 0 <= length_mm < math.inf:
        raise GeometryError(f"a stitch line cannot be {length_mm:g} mm long")
    return max(1, math.floor(length_mm / pitch_mm + 0.5 + HALF_LESS))


def corner_distances(path: Path, turn_rad: float = math.radians(20)) -> tuple[float, ...]:
    """Distances along a path at which it turns sharply, by more than `turn_rad`; ends do not count, the start of a
    closed path does."""
    reached = 0.0
    found = []
    for index, segment in enumerate(path.segments):
        before = path.segments[index - 1] if index or path.closed else None
        if before is not None and _turn(before, segment) > turn_rad:
            found.append(reached)
        reached += path_length(Path((segment,)))
    return tuple(found)


def _turn(before: Segment, after: Segment) -> float:
    """Angle between the end of one segment and the start of the next."""
    leaving = points_at(Path((before,)), (path_length(Path((before,))),))[0][1]
    entering = points_at(Path((after,)), (0.0,))[0][1]
    return abs(
        math.atan2(leaving.x * entering.y - leaving.y * entering.x, leaving.x * entering.x + leaving.y * entering.y)
    )


def space_stitches(
    length_mm: float, stops_mm: Iterable[float], pitch_mm: float, *, is_fixed: bool = False
) -> tuple[float, ...]:
    """Distances of the holes of a stitch line: one at each end and at each stop, whole stitches of about the pitch
    between; with `is_fixed` all but the last ones of each span at just the pitch (`adjust_span`). Stops nearer than half a
    pitch to the hole before, or to the end, are passed over.

    GeometryError unless pitch > 0 and length >= 0.
    """
    holes = [0.0]
    for start, end in pairwise(_span_ends(length_mm, stops_mm, pitch_mm)):
        count = stitch_count(end - start, pitch_mm)
        if is_fixed:
            last, step_mm = adjust_span(end - start, pitch_mm)
            whole_mm = start + (count - last) * pitch_mm
            holes += [start + step * pitch_mm for step in range(1, count - last + 1)]
            holes += [whole_mm + step * step_mm for step in range(1, last + 1)]
            holes[-1] = end
        else:
            holes += [start + (end - start) * step / count for step in range(1, count + 1)]
    return tuple(holes)


def find_spans(length_mm: float, stops_mm: Iterable[float], pitch_mm: float) -> tuple[float, ...]:
    """The lengths between the holes at the ends and stops of a stitch line, as `space_stitches` takes them."""
    return tuple(end - start for start, end in pairwise(_span_ends(length_mm, stops_mm, pitch_mm)))


def _span_ends(length_mm: float, stops_mm: Iterable[float], pitch_mm: float) -> list[float]:
    ends = [0.0]
    for stop in sorted(stops_mm):
        if stop - ends[-1] >= pitch_mm / 2 and length_mm - stop >= pitch_mm / 2:
            ends.append(stop)
    return [*ends, length_mm]


def adjust_span(length_mm: float, pitch_mm: float) -> tuple[int, float]:
    """How many of the last stitches of a span are made shorter or longer, so that it is filled, and how long each of them
    is: as few as keep within `MOST_CHANGE` of the pitch. None where whole stitches fill it within `WHOLE_MM`."""
    count = stitch_count(length_mm, pitch_mm)
    over_mm = length_mm - count * pitch_mm
    if abs(over_mm) <= WHOLE_MM:
        return 0, pitch_mm
    last = min(count, math.ceil(abs(over_mm) / (MOST_CHANGE * pitch_mm) - 1e-9))
    return last, pitch_mm + over_mm / last
