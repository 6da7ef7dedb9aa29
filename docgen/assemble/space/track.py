"""Stitch lines as points with true distances: what is compared when edges meet in space."""

from __future__ import annotations

import math
from bisect import bisect_left
from collections.abc import Sequence
from itertools import pairwise

from docgen.classes import dataclass
from docgen.geometry.crossing import leg_distance
from docgen.geometry.segment import arc_point, curve_point, segment_length, segment_start
from docgen.geometry.shapes import Arc, Line, Path, Point, Segment
from docgen.geometry.vector import between, distance, subtract, unit

CHORD_MM = 0.1  # how far a chord may lie off its arc
MOST_CHORDS = 48
MOST_SEGMENTS = 24  # a line of more is a curve in chords
STRAIGHT_MM = 0.05
PLACES = 25  # where two runs are compared, besides their corners
EVEN = tuple(round(k / (PLACES - 1), 9) for k in range(PLACES))


@dataclass(frozen=True, slots=True, kw_only=True)
class Track:
    """A line on a piece as chords, with the true distance of each point along it."""

    points: tuple[Point, ...]
    at_mm: tuple[float, ...]
    is_closed: bool = False
    corners_mm: tuple[float, ...] = (0.0,)

    @property
    def length_mm(self) -> float:
        return self.at_mm[-1]

    @property
    def is_straight(self) -> bool:
        """Whether it runs in one straight line."""
        start, end = self.points[0], self.points[-1]
        reach = distance(start, end)
        return not self.is_closed and reach > STRAIGHT_MM and self.length_mm - reach < STRAIGHT_MM

    @property
    def way(self) -> Point:
        """The direction from the start to the end of a straight line."""
        return unit(subtract(self.points[-1], self.points[0]))

    @property
    def middle(self) -> Point:
        return self.point(self.length_mm / 2)

    def point(self, at_mm: float) -> Point:
        """The point at a distance; before the start and beyond the end these."""
        k = min(max(bisect_left(self.at_mm, at_mm), 1), len(self.at_mm) - 1)
        begin, end = self.at_mm[k - 1], self.at_mm[k]
        share = (at_mm - begin) / (end - begin) if end > begin else 0.0
        return between(self.points[k - 1], self.points[k], min(max(share, 0.0), 1.0))

    def reversed(self) -> Track:
        whole = self.length_mm
        return Track(
            points=self.points[::-1], at_mm=tuple(whole - at for at in self.at_mm[::-1]), is_closed=self.is_closed
        )

    def begun_at(self, at_mm: float) -> Track:
        """A closed line begun elsewhere."""
        if at_mm <= 1e-6:
            return self
        later = [(at - at_mm, p) for at, p in zip(self.at_mm, self.points, strict=True) if at > at_mm + 1e-6]
        before = [(self.length_mm - at_mm + at, p) for at, p in zip(self.at_mm, self.points, strict=True)][1:]
        found = [(0.0, self.point(at_mm)), *later, *((at, p) for at, p in before if at < self.length_mm - 1e-6)]
        found.append((self.length_mm, found[0][1]))
        return Track(points=tuple(p for _, p in found), at_mm=tuple(at for at, _ in found), is_closed=True)

    def spread(self, shares: Sequence[float]) -> list[Point]:
        """Points at shares of its length, which rise from 0 to 1."""
        found: list[Point] = []
        k, last = 1, len(self.at_mm) - 1
        for share in shares:
            at_mm = share * self.at_mm[-1]
            while k < last and self.at_mm[k] < at_mm:
                k += 1
            begin, end = self.at_mm[k - 1], self.at_mm[k]
            part = (at_mm - begin) / (end - begin)
            (x, y), (to_x, to_y) = self.points[k - 1], self.points[k]
            found.append(Point(x + (to_x - x) * part, y + (to_y - y) * part))
        return found

    def share_marks(self, other: Track) -> list[float]:
        """Shares of the length at which two lines are compared: even ones, and the corners and chords of both."""
        return sorted({*EVEN, *self._shares(), *other._shares()})

    def _shares(self) -> list[float]:
        whole = self.at_mm[-1]
        return [round(at / whole, 9) for at in self.at_mm]


def trace(path: Path) -> Track:
    """A path as chords."""
    points: list[Point] = [segment_start(path.segments[0])]
    at_mm, corners = [0.0], []
    for segment in path.segments:
        long = segment_length(segment)
        if long <= 1e-9:
            continue
        corners.append(at_mm[-1])
        legs = _chords(segment)
        chords = [distance(a, b) for a, b in pairwise((points[-1], *legs))]
        scale = long / sum(chords)
        for at, chord in ((at, chord) for at, chord in zip(legs, chords, strict=True) if chord > 1e-9):
            at_mm.append(at_mm[-1] + chord * scale)
            points.append(at)
    if len(path.segments) > MOST_SEGMENTS:
        points, at_mm = _thin_out(points, at_mm)
        corners = []
    return Track(points=tuple(points), at_mm=tuple(at_mm), is_closed=path.closed, corners_mm=tuple(corners) or (0.0,))


def _thin_out(points: Sequence[Point], at_mm: Sequence[float]) -> tuple[list[Point], list[float]]:
    """A curve that comes as many short lines without the points that lie on the chords between others."""
    kept = [0]
    for k in range(2, len(points)):
        chord = points[kept[-1]], points[k]
        if any(leg_distance(chord, at) > CHORD_MM / 2 for at in points[kept[-1] + 1 : k]):
            kept.append(k - 1)
    kept.append(len(points) - 1)
    return [points[k] for k in kept], [at_mm[k] for k in kept]


def _chords(segment: Segment) -> list[Point]:
    """The ends of its chords."""
    if isinstance(segment, Line):
        return [segment.end]
    if isinstance(segment, Arc):
        step = 2 * math.acos(max(1 - CHORD_MM / max(segment.radius, CHORD_MM), 0.0))
        count = min(max(2, math.ceil(abs(segment.sweep) / step - 1e-9)), MOST_CHORDS)
        return [arc_point(segment, segment.begin + segment.sweep * k / count) for k in range(1, count + 1)]
    return [curve_point(segment, k / 24) for k in range(1, 25)]
