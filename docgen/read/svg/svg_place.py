"""Traces in drawing units -> paths in mm: arcs that stay circular as arcs, others as cubic curves."""

import itertools
import math
from dataclasses import replace
from typing import Final

from docgen.geometry.segment import segment_end, segment_start
from docgen.geometry.shapes import Arc, Curve, Line, Path, Point, Segment
from docgen.geometry.vector import Matrix, transform_point, transform_vector
from docgen.read.svg.svg_path import EllipticArc, Trace, TraceSegment

ROUND_MM: Final = 0.0005  # an ellipse whose axes differ by less is a circle
FLATTEST_MM: Final = 1e5  # beyond this radius the ends of an arc are no longer exact
EXACT_MM: Final = 0.001  # how far a curve may leave the ellipse it stands for
TINY_MM: Final = 0.001  # segments up to this are the rounding of some program, and are left out
SNAP_MM: Final = 0.005  # a gap up to this between end and start is rounding too
# radial error of one cubic for a quarter circle of radius 1; it falls with angle ** 6
QUARTER_ERROR: Final = 2.73e-4


def place_trace(trace: Trace, matrix: Matrix) -> Path:
    """The trace as a path in mm after the matrix; closed when its ends come to within `SNAP_MM`.

    Arcs that stay circular become arcs, others cubic curves within 0.001 mm. Segments up to 0.001 mm are left
    out; what is left may be a path without segments.
    """
    placed = [segment for drawn in trace.segments for segment in _place_segment(drawn, matrix)]
    kept: list[Segment] = []
    for segment in placed:
        if not _is_tiny(segment):
            _link(kept, segment)
    if not kept:
        return Path((), trace.closed)
    gap = math.dist(segment_end(kept[-1]), segment_start(kept[0]))
    if not trace.closed and gap > SNAP_MM:
        return Path(tuple(kept))
    first = kept[0]
    _link(kept, first)
    kept[0] = kept.pop()
    return Path(tuple(kept), closed=True)


def _place_segment(drawn: TraceSegment, m: Matrix) -> tuple[Segment, ...]:
    if isinstance(drawn, Line):
        return (Line(transform_point(drawn.start, m), transform_point(drawn.end, m)),)
    if isinstance(drawn, Curve):
        corners = (drawn.start, drawn.handle_1, drawn.handle_2, drawn.end)
        return (Curve(*(transform_point(p, m) for p in corners)),)
    moved = replace(
        drawn,
        start=transform_point(drawn.start, m),
        end=transform_point(drawn.end, m),
        centre=transform_point(drawn.centre, m),
        across=transform_vector(drawn.across, m),
        up=transform_vector(drawn.up, m),
    )
    arc = _circular_arc(moved)
    return (arc,) if arc else _arc_curves(moved)


def _arc_place(arc: EllipticArc, angle: float) -> Point:
    c, s = math.cos(angle), math.sin(angle)
    return Point(arc.centre.x + arc.across.x * c + arc.up.x * s, arc.centre.y + arc.across.y * c + arc.up.y * s)


def _circular_arc(arc: EllipticArc) -> Arc | None:
    """The arc through the very same ends, when the ellipse is a circle."""
    wide, high = math.hypot(*arc.across), math.hypot(*arc.up)
    slant = arc.across.x * arc.up.x + arc.across.y * arc.up.y
    lean = math.tan(arc.sweep / 2)
    if abs(wide - high) > ROUND_MM or abs(slant) > ROUND_MM * max(wide, high) or lean == 0:
        return None
    sweep = math.copysign(arc.sweep, arc.sweep * (arc.across.x * arc.up.y - arc.across.y * arc.up.x))
    lean = math.copysign(lean, lean * sweep * arc.sweep)
    dx, dy = arc.end.x - arc.start.x, arc.end.y - arc.start.y
    centre = Point((arc.start.x + arc.end.x - dy / lean) / 2, (arc.start.y + arc.end.y + dx / lean) / 2)
    begin = math.atan2(arc.start.y - centre.y, arc.start.x - centre.x)
    found = Arc(centre, math.dist(centre, arc.start), begin, sweep)
    if found.radius > FLATTEST_MM:
        return None
    middle = segment_end(replace(found, sweep=sweep / 2))
    return found if math.dist(middle, _arc_place(arc, arc.begin + arc.sweep / 2)) <= EXACT_MM else None


def _arc_curves(arc: EllipticArc) -> tuple[Segment, ...]:
    """The arc as cubic curves, each tangent to it at its ends and of the handle length best for a circle."""
    size = math.hypot(math.hypot(*arc.across), math.hypot(*arc.up))
    share = max((QUARTER_ERROR * size / (EXACT_MM / 2)) ** (1 / 6), 1.0)
    count = max(1, math.ceil(abs(arc.sweep) / (math.pi / 2) * share))
    step = arc.sweep / count
    reach = 4 / 3 * math.tan(step / 4)
    angles = [arc.begin + k * step for k in range(count + 1)]
    places = [arc.start, *(_arc_place(arc, angle) for angle in angles[1:-1]), arc.end]
    ways = [
        Point(
            reach * (arc.up.x * math.cos(angle) - arc.across.x * math.sin(angle)),
            reach * (arc.up.y * math.cos(angle) - arc.across.y * math.sin(angle)),
        )
        for angle in angles
    ]
    return tuple(
        Curve(p, Point(p.x + v.x, p.y + v.y), Point(q.x - w.x, q.y - w.y), q)
        for (p, q), (v, w) in zip(itertools.pairwise(places), itertools.pairwise(ways), strict=True)
    )


def _is_tiny(segment: Segment) -> bool:
    if isinstance(segment, Arc):
        return segment.radius * abs(segment.sweep) <= TINY_MM
    others = [segment.end] if isinstance(segment, Line) else [segment.handle_1, segment.handle_2, segment.end]
    return all(math.dist(segment.start, other) <= TINY_MM for other in others)


def _link(kept: list[Segment], segment: Segment) -> None:
    """Add a segment; where it does not begin at the end of the last one, the gap is closed."""
    if kept and (end := segment_end(kept[-1])) != segment_start(segment):
        gap = math.dist(end, segment_start(segment))
        if gap > SNAP_MM:
            kept.append(Line(end, segment_start(segment)))
        elif not isinstance(segment, Arc):
            segment = replace(segment, start=end)
        elif not isinstance(kept[-1], Arc):
            kept[-1] = replace(kept[-1], end=segment_start(segment))
        elif gap > 1e-7:
            kept.append(Line(end, segment_start(segment)))
    kept.append(segment)
