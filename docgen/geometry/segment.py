"""One segment at a time: ends, length, area, box, points on it, parts of it, movement. mm and radians.

Lines and arcs are exact. Curves are exact for area and box, and to 1e-9 of their length for distances along
them.
"""

import itertools
import math
from collections.abc import Iterable

from docgen.geometry.shapes import Arc, Box, Curve, Line, Point, Segment, make_point
from docgen.geometry.vector import Transform, cross, distance, norm, subtract, transform_point, transform_vector, unit

# Gauss-Legendre quadrature with 10 nodes: (node, weight), each node used on both sides of the middle.
# Source: numpy.polynomial.legendre.leggauss(10); the tests compare them.
GAUSS_NODES = (
    (0.14887433898163122, 0.2955242247147528),
    (0.4333953941292472, 0.2692667193099965),
    (0.6794095682990244, 0.219086362515982),
    (0.8650633666889845, 0.1494513491505804),
    (0.9739065285171717, 0.06667134430868814),
)


def arc_point(arc: Arc, angle: float) -> Point:
    """The point of the arc's circle at an angle."""
    (x, y), radius = arc.centre, arc.radius
    return make_point((x + radius * math.cos(angle), y + radius * math.sin(angle)))


def curve_point(curve: Curve, t: float) -> Point:
    """The point of the curve at the parameter t, 0 to 1."""
    u = 1.0 - t
    a, b, c, d = u * u * u, 3 * u * u * t, 3 * u * t * t, t * t * t
    (x0, y0), (x1, y1), (x2, y2), (x3, y3) = curve.start, curve.handle_1, curve.handle_2, curve.end
    return Point(a * x0 + b * x1 + c * x2 + d * x3, a * y0 + b * y1 + c * y2 + d * y3)


def segment_start(segment: Segment) -> Point:
    """Where the segment begins."""
    if isinstance(segment, Arc):
        return arc_point(segment, segment.begin)
    return segment.start


def segment_end(segment: Segment) -> Point:
    """Where the segment ends."""
    if isinstance(segment, Arc):
        return arc_point(segment, segment.begin + segment.sweep)
    return segment.end


def reverse_segment(segment: Segment) -> Segment:
    """The same drawn line, run through from its end to its start."""
    if isinstance(segment, Arc):
        return Arc(segment.centre, segment.radius, segment.begin + segment.sweep, -segment.sweep)
    if isinstance(segment, Line):
        return Line(segment.end, segment.start)
    return Curve(segment.end, segment.handle_2, segment.handle_1, segment.start)


def segment_length(segment: Segment) -> float:
    """Length in mm."""
    if isinstance(segment, Arc):
        return segment.radius * abs(segment.sweep)
    if isinstance(segment, Line):
        return distance(segment.start, segment.end)
    return curve_length(segment, 1.0)


def curve_length(curve: Curve, until: float) -> float:
    """Length in mm from the start to the parameter `until`: halved until two halves agree with the whole."""
    handles = (curve.start, curve.handle_1, curve.handle_2, curve.end)
    hull = sum(distance(a, b) for a, b in itertools.pairwise(handles))
    return _refine(curve, 0.0, until, _gauss(curve, 0.0, until), 1e-10 * hull, 40)


def _refine(curve: Curve, begin: float, end: float, whole: float, allowed: float, depth: int) -> float:
    middle = (begin + end) / 2
    left, right = _gauss(curve, begin, middle), _gauss(curve, middle, end)
    if depth == 0 or abs(left + right - whole) <= allowed:
        return left + right
    return _refine(curve, begin, middle, left, allowed / 2, depth - 1) + _refine(
        curve, middle, end, right, allowed / 2, depth - 1
    )


def _gauss(curve: Curve, begin: float, end: float) -> float:
    middle, half = (begin + end) / 2, (end - begin) / 2
    total = 0.0
    for node, weight in GAUSS_NODES:
        total += weight * norm(_curve_speed(curve, middle - half * node))
        total += weight * norm(_curve_speed(curve, middle + half * node))
    return total * half


def _curve_speed(curve: Curve, t: float) -> Point:
    u = 1.0 - t
    a, b, c = 3 * u * u, 6 * u * t, 3 * t * t
    (x0, y0), (x1, y1), (x2, y2), (x3, y3) = curve.start, curve.handle_1, curve.handle_2, curve.end
    return Point(a * (x1 - x0) + b * (x2 - x1) + c * (x3 - x2), a * (y1 - y0) + b * (y2 - y1) + c * (y3 - y2))


def curve_parameter(curve: Curve, at_mm: float) -> float:
    """The parameter t at a distance in mm from the start of the curve."""
    total = segment_length(curve)
    if at_mm <= 0 or total <= 0:
        return 0.0
    if at_mm >= total:
        return 1.0
    low, high, t = 0.0, 1.0, at_mm / total
    for _ in range(60):
        error = curve_length(curve, t) - at_mm
        if abs(error) <= 1e-10 * total or high - low < 1e-14:
            break
        low, high = (t, high) if error < 0 else (low, t)
        speed = norm(_curve_speed(curve, t))
        step = t - error / speed if speed > 0 else low
        t = step if low < step < high else (low + high) / 2
    return t


def curve_tangent(curve: Curve, t: float) -> Point:
    """Unit tangent at the parameter t.

    At a handle that lies on its end, the direction the curve leaves in.
    """
    speed = _curve_speed(curve, t)
    if norm(speed) > 1e-9:
        return unit(speed)
    # the curve stands still here: look a little to both sides, as far as the curve goes
    return unit(subtract(curve_point(curve, min(1.0, t + 1e-4)), curve_point(curve, max(0.0, t - 1e-4))))


def segment_area(segment: Segment) -> float:
    """Half the integral of x dy - y dx along the segment (Green's theorem), mm2; exact for every kind."""
    if isinstance(segment, Line):
        return cross(segment.start, segment.end) / 2
    if isinstance(segment, Arc):
        run = subtract(segment_end(segment), segment_start(segment))
        return (segment.radius**2 * segment.sweep + cross(segment.centre, run)) / 2
    p, q, r, s = segment.start, segment.handle_1, segment.handle_2, segment.end
    # the integral of the Bernstein products, worked by hand; a straight curve gives the line's figure
    weighted = 6 * cross(p, q) + 3 * cross(p, r) + cross(p, s) + 3 * cross(q, r) + 3 * cross(q, s)
    return (weighted + 6 * cross(r, s)) / 20


def outer_points(segment: Segment) -> list[Point]:
    """Points whose upright box is the segment's: its ends, and where it reaches farthest; of a circle two corners."""
    if isinstance(segment, Line):
        return [segment.start, segment.end]
    if isinstance(segment, Arc) and abs(segment.sweep) >= 2 * math.pi:
        (x, y), radius = segment.centre, segment.radius
        return [Point(x - radius, y - radius), Point(x + radius, y + radius)]
    ends = [segment_start(segment), segment_end(segment)]
    if isinstance(segment, Arc):
        return ends + [arc_point(segment, angle) for angle in _quarter_angles(segment)]
    return ends + [curve_point(segment, t) for axis in (0, 1) for t in _turning_points(segment, axis)]


def box_of(points: Iterable[Point]) -> Box:
    """The smallest upright box around one point or more."""
    xs, ys = zip(*points, strict=True)
    return Box(min(xs), min(ys), max(xs), max(ys))


def _quarter_angles(arc: Arc) -> list[float]:
    """The angles of the arc that point right, up, left or down."""
    low, high = sorted((arc.begin, arc.begin + arc.sweep))
    quarter = math.pi / 2
    return [k * quarter for k in range(math.ceil(low / quarter), math.floor(high / quarter) + 1)]


def _turning_points(curve: Curve, axis: int) -> list[float]:
    """The parameters between 0 and 1 where the curve's x (axis 0) or y (axis 1) turns round."""
    p, q, r, s = (point[axis] for point in (curve.start, curve.handle_1, curve.handle_2, curve.end))
    a, b, c = s - 3 * r + 3 * q - p, 2 * (r - 2 * q + p), q - p
    roots: list[float] = []
    inside = b * b - 4 * a * c
    if inside >= 0:
        # the sum without cancellation, so that a nearly vanishing `a` does no harm
        half = -(b + math.copysign(math.sqrt(inside), b)) / 2
        roots = [top / under for top, under in ((half, a), (c, half)) if under != 0]
    return [t for t in roots if 0 < t < 1]


def segment_point(segment: Segment, at_mm: float) -> tuple[Point, Point]:
    """The point and unit tangent at a distance in mm from the start. GeometryError without length."""
    if isinstance(segment, Line):
        direction = unit(subtract(segment.end, segment.start))
        return Point(segment.start[0] + at_mm * direction[0], segment.start[1] + at_mm * direction[1]), direction
    if isinstance(segment, Arc):
        turn = math.copysign(1.0, segment.sweep)
        angle = segment.begin + turn * at_mm / segment.radius
        return arc_point(segment, angle), Point(-math.sin(angle) * turn, math.cos(angle) * turn)
    t = curve_parameter(segment, at_mm)
    return curve_point(segment, t), curve_tangent(segment, t)


def start_tangent(segment: Segment) -> Point:
    """Unit direction in which the segment begins."""
    if isinstance(segment, Curve):
        return curve_tangent(segment, 0.0)
    return segment_point(segment, 0.0)[1]


def end_tangent(segment: Segment) -> Point:
    """Unit direction in which the segment ends."""
    back = start_tangent(reverse_segment(segment))
    return Point(-back[0], -back[1])


def segment_part(segment: Segment, from_mm: float, to_mm: float) -> Segment:
    """The part between two distances from the start, from_mm <= to_mm; the same kind of segment."""
    if isinstance(segment, Line):
        length = distance(segment.start, segment.end)
        if length == 0:
            return segment
        return Line(
            _between(segment.start, segment.end, from_mm / length), _between(segment.start, segment.end, to_mm / length)
        )
    if isinstance(segment, Arc):
        turn = math.copysign(1.0, segment.sweep) / segment.radius
        return Arc(segment.centre, segment.radius, segment.begin + turn * from_mm, turn * (to_mm - from_mm))
    return _curve_part(segment, curve_parameter(segment, from_mm), curve_parameter(segment, to_mm))


def _between(a: Point, b: Point, t: float) -> Point:
    if t == 1.0:
        return b
    return Point(a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1]))


def _curve_part(curve: Curve, begin: float, end: float) -> Curve:
    """De Casteljau's halves: first what comes after `begin`, then of that what comes before `end`."""
    if begin > 0:
        tail = _split_handles(Curve(curve.end, curve.handle_2, curve.handle_1, curve.start), 1.0 - begin)
        curve = Curve(tail[3], tail[2], tail[1], tail[0])
        end = (end - begin) / (1.0 - begin) if begin < 1 else 0.0
    return curve if end >= 1 else Curve(*_split_handles(curve, end))


def _split_handles(curve: Curve, t: float) -> tuple[Point, Point, Point, Point]:
    p, q, r, s = curve.start, curve.handle_1, curve.handle_2, curve.end
    pq, qr, rs = _between(p, q, t), _between(q, r, t), _between(r, s, t)
    pqr, qrs = _between(pq, qr, t), _between(qr, rs, t)
    return p, pq, pqr, _between(pqr, qrs, t)


def flatten_segment(segment: Segment, tolerance_mm: float) -> list[Point]:
    """Points along the segment without its start.

    Chords no farther than the tolerance from the drawn line.
    """
    if isinstance(segment, Line):
        return [segment.end]
    if isinstance(segment, Arc):
        sag = min(1.0, tolerance_mm / segment.radius) if segment.radius > 0 else 1.0
        step = min(2 * math.acos(1 - sag), math.pi / 4)
        count = max(1, math.ceil(abs(segment.sweep) / step - 1e-9))
        return [arc_point(segment, segment.begin + segment.sweep * k / count) for k in range(1, count + 1)]
    p, q, r, s = segment.start, segment.handle_1, segment.handle_2, segment.end
    bend = max(
        math.hypot(p[0] - 2 * q[0] + r[0], p[1] - 2 * q[1] + r[1]),
        math.hypot(q[0] - 2 * r[0] + s[0], q[1] - 2 * r[1] + s[1]),
    )
    # a chord over a step h of t leaves the curve by at most h*h/8 times its second derivative, 6 * bend
    count = max(1, math.ceil(math.sqrt(0.75 * bend / tolerance_mm)))
    return [curve_point(segment, k / count) for k in range(1, count)] + [s]


def transform_segment(segment: Segment, t: Transform) -> Segment:
    """The segment moved by a rigid transform; arcs stay arcs."""
    if isinstance(segment, Line):
        return Line(transform_point(segment.start, t), transform_point(segment.end, t))
    if isinstance(segment, Curve):
        corners = (segment.start, segment.handle_1, segment.handle_2, segment.end)
        return Curve(*(transform_point(p, t) for p in corners))
    spoke = transform_vector(Point(math.cos(segment.begin), math.sin(segment.begin)), t)
    sweep = -segment.sweep if t.is_mirror else segment.sweep
    return Arc(transform_point(segment.centre, t), segment.radius, math.atan2(spoke[1], spoke[0]), sweep)
