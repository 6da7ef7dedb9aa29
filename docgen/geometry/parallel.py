"""Parallel lines: a chain of lines and arcs shifted to its left, trimmed and mitred where pieces meet. mm.

Each piece is shifted alone; then neighbours are cut or lengthened to where they meet. A piece that would run
backwards has vanished, and its neighbours meet instead.
"""

import math
from collections.abc import Sequence

from docgen.classes import dataclass
from docgen.geometry.measure import line_crossing, segment_distance
from docgen.geometry.segment import end_tangent, segment_end, segment_length, segment_start, start_tangent
from docgen.geometry.shapes import Arc, GeometryError, Line, Point, Segment
from docgen.geometry.vector import add, cross, distance, dot, norm, scale, subtract, turn_left, unit

VANISHED_MM = 1e-7
MEET_MM = 1e-6


@dataclass(frozen=True, slots=True)
class Named:
    """A line or arc and the name of the edge it belongs to."""

    name: str
    segment: Segment


@dataclass(slots=True)
class _Piece:
    """A shifted piece while its ends are still being found.

    `begin` and `end` in mm along it from its start.
    """

    name: str
    source: Segment
    moved: Segment
    begin: float
    end: float
    first: Point
    last: Point
    bridge: Segment | None = None
    landing: Segment | None = None


def parallel_chain(chain: Sequence[Named], inset: float, closed: bool) -> tuple[Named, ...]:
    """The chain `inset` mm to its left (negative: to its right), sharp corners mitred.

    `chain` holds lines and arcs end to end, none without length. Vanished pieces are left out.
    GeometryError when neighbours do not meet, or nothing is left.
    """
    pieces = [piece for named in chain if (piece := _shift(named, inset)) is not None]
    if not pieces:
        raise too_large(inset, "nothing is left")
    if not closed:
        return _finish(_free_end(_trim(pieces, inset), inset))
    longest = max(range(len(pieces)), key=lambda k: pieces[k].end)
    kept = _close(_trim(pieces[longest:] + pieces[:longest], inset), inset)
    order = {id(piece): k for k, piece in enumerate(pieces)}
    lead = min(range(len(kept)), key=lambda k: order[id(kept[k])])
    return _finish(kept[lead:] + kept[:lead])


def too_large(inset: float, why: str) -> GeometryError:
    """The error for a parallel that the shape has no room for."""
    return GeometryError(f"an inset of {inset:g} mm is too large for this shape: {why}")


def _shift(named: Named, inset: float) -> _Piece | None:
    """The piece moved to its left; None for an arc that shrinks to nothing."""
    segment = named.segment
    moved: Segment
    if isinstance(segment, Arc):
        radius = segment.radius - math.copysign(inset, segment.sweep * inset)
        if radius <= VANISHED_MM:
            return None
        moved = Arc(segment.centre, radius, segment.begin, segment.sweep)
    else:
        start, end = segment_start(segment), segment_end(segment)
        aside = scale(turn_left(unit(subtract(end, start))), inset)
        moved = Line(add(start, aside), add(end, aside))
    length = segment_length(moved)
    return _Piece(named.name, segment, moved, 0.0, length, segment_start(moved), segment_end(moved))


def _trim(pieces: Sequence[_Piece], inset: float) -> list[_Piece]:
    kept: list[_Piece] = []
    for piece in pieces:
        lost = ""
        while kept:
            _meet(kept[-1], piece, inset, lost)
            if kept[-1].end - kept[-1].begin > VANISHED_MM:
                break
            lost = kept.pop().name
        if not kept:
            piece.begin, piece.first, piece.landing = 0.0, segment_start(piece.moved), None
        kept.append(piece)
    return kept


def _free_end(kept: list[_Piece], inset: float) -> list[_Piece]:
    """The pieces of an open chain without those at its end that vanish."""
    while kept and kept[-1].end - kept[-1].begin <= VANISHED_MM:
        kept.pop()
        if kept:
            last = kept[-1]
            last.end, last.last, last.bridge = segment_length(last.moved), segment_end(last.moved), None
    if not kept:
        raise too_large(inset, "nothing is left")
    return kept


def _close(kept: list[_Piece], inset: float) -> list[_Piece]:
    """The last piece joined to the first.

    Pieces at the seam that vanish are dropped from the end or the start.
    """
    lost = ""
    while len(kept) > 1:
        _meet(kept[-1], kept[0], inset, lost)
        if kept[-1].end - kept[-1].begin <= VANISHED_MM:
            lost = kept.pop().name
        elif kept[0].end - kept[0].begin <= VANISHED_MM:
            lost = kept.pop(0).name
        else:
            return kept
    # a single piece is only closed by itself when it is a whole circle
    if kept and isinstance(kept[0].moved, Arc) and abs(kept[0].moved.sweep) >= 2 * math.pi - 1e-9:
        return kept
    raise too_large(inset, "nothing is left")


def _meet(one: _Piece, other: _Piece, inset: float, lost: str) -> None:
    """End `one` and begin `other` where they meet; `lost` names a piece that vanished between them."""
    one.bridge = other.landing = None
    end, start = segment_end(one.moved), segment_start(other.moved)
    if distance(end, start) <= MEET_MM:
        _set_ends(one, other, end)
        return
    gap = cross(end_tangent(one.source), start_tangent(other.source)) * inset < 0
    adjacent = distance(segment_end(one.source), segment_start(other.source)) <= MEET_MM
    if gap and adjacent and (isinstance(one.moved, Arc) or isinstance(other.moved, Arc)):
        _bridge(one, other, end, start)
        return
    middle = scale(add(end, start), 0.5)
    places = carrier_crossings(one.moved, other.moved)
    if not places:
        where = f"its lines do not meet near ({middle[0]:.1f}, {middle[1]:.1f}) mm"
        raise too_large(inset, f"nothing is left of the edge '{lost}'" if lost else where)
    _set_ends(one, other, min(places, key=lambda p: distance(p, middle)))


def _set_ends(one: _Piece, other: _Piece, place: Point) -> None:
    one.last = other.first = place
    one.end = distance_along(one.moved, place, segment_length(one.moved))
    other.begin = distance_along(other.moved, place, 0.0)


def _bridge(one: _Piece, other: _Piece, end: Point, start: Point) -> None:
    """A mitre beside an arc, which cannot itself be lengthened to a point: straight on from its end."""
    place = line_crossing(end, end_tangent(one.moved), start, start_tangent(other.moved))
    if place is None:
        # the line turns straight back on itself, so a mitre would have no end
        place = scale(add(end, start), 0.5)
    one.last, other.first = end, start
    one.end, other.begin = segment_length(one.moved), 0.0
    if isinstance(one.moved, Arc):
        one.bridge = Line(end, place)
    else:
        one.last, one.end = place, distance_along(one.moved, place, 0.0)
    if isinstance(other.moved, Arc):
        other.landing = Line(place, start)
    else:
        other.first, other.begin = place, distance_along(other.moved, place, 0.0)


def distance_along(segment: Segment, place: Point, near: float) -> float:
    """How far along a piece a place on its line lies, mm; on a circle, the turn closest to `near`."""
    if not isinstance(segment, Arc):
        start = segment_start(segment)
        return dot(subtract(place, start), unit(subtract(segment_end(segment), start)))
    spoke = subtract(place, segment.centre)
    turned = math.copysign(1.0, segment.sweep) * (math.atan2(spoke[1], spoke[0]) - segment.begin)
    return near + math.remainder(turned - near / segment.radius, 2 * math.pi) * segment.radius


def carrier_crossings(one: Segment, other: Segment) -> list[Point]:
    """Where the endless lines or full circles that carry two segments meet: up to two points."""
    if isinstance(one, Arc) and isinstance(other, Arc):
        return _circle_crossings(one, other)
    if isinstance(one, Arc):
        return _line_circle(other, one)
    if isinstance(other, Arc):
        return _line_circle(one, other)
    p, q = segment_start(one), segment_start(other)
    place = line_crossing(p, subtract(segment_end(one), p), q, subtract(segment_end(other), q))
    if place is not None:
        return [place]
    off = abs(cross(unit(subtract(segment_end(one), p)), subtract(q, p)))
    return [scale(add(segment_end(one), q), 0.5)] if off <= MEET_MM else []


def segment_crossings(one: Segment, other: Segment) -> list[Point]:
    """Where two lines or arcs themselves meet, within 1e-6 mm of their ends."""
    places = carrier_crossings(one, other)
    return [p for p in places if all(segment_distance(s, p) <= MEET_MM for s in (one, other))]


def _line_circle(line: Segment, arc: Arc) -> list[Point]:
    start = segment_start(line)
    along = unit(subtract(segment_end(line), start))
    foot = add(start, scale(along, dot(subtract(arc.centre, start), along)))
    square = arc.radius**2 - distance(foot, arc.centre) ** 2
    if square < -MEET_MM * arc.radius:
        return []
    half = math.sqrt(max(square, 0.0))
    return [add(foot, scale(along, -half)), add(foot, scale(along, half))]


def _circle_crossings(one: Arc, other: Arc) -> list[Point]:
    between = subtract(other.centre, one.centre)
    apart = norm(between)
    if apart < MEET_MM:
        return []
    along = (apart**2 + one.radius**2 - other.radius**2) / (2 * apart)
    square = one.radius**2 - along**2
    if square < -MEET_MM * one.radius:
        return []
    direction = unit(between)
    foot = add(one.centre, scale(direction, along))
    aside = scale(turn_left(direction), math.sqrt(max(square, 0.0)))
    return [add(foot, aside), subtract(foot, aside)]


def _finish(pieces: Sequence[_Piece]) -> tuple[Named, ...]:
    done: list[Named] = []
    for piece in pieces:
        parts = (piece.landing, _cut(piece), piece.bridge)
        done += [Named(piece.name, part) for part in parts if part is not None]
    return tuple(done)


def _cut(piece: _Piece) -> Segment:
    moved = piece.moved
    if isinstance(moved, Arc):
        turn = math.copysign(1.0, moved.sweep) / moved.radius
        if piece.begin == 0.0 and piece.end == segment_length(moved):
            return moved
        return Arc(moved.centre, moved.radius, moved.begin + turn * piece.begin, turn * (piece.end - piece.begin))
    return Line(piece.first, piece.last)
