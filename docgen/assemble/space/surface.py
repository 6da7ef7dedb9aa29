"""A piece in space: its flat outline bent over one straight direction.

A point (x, y) of the piece is `along_mm` along the bends and `across_mm` across them; in space it is the point of a
chain of straight bands at `along_mm`, and `across_mm` times one direction that is the same all over. A flat panel is
one band, a flap two or three, a wall round a curved panel a band for each chord of the curve. What is measured on the
piece is measured in space: nothing stretches, but for chords instead of arcs.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from itertools import pairwise

from docgen.assemble.space.vectors import TINY, Vec, along, direction, inner, minus, outer, plus, times
from docgen.classes import dataclass
from docgen.geometry.shapes import Point
from docgen.geometry.vector import (
    Transform,
    between,
    cross,
    dot,
    subtract,
    transform_point,
    transform_vector,
    turn_left,
    unit,
)

Knot = tuple[float, float]
ACROSS_MM = 0.5  # a line whose ends lie no farther apart along a piece runs straight across it


@dataclass(frozen=True, slots=True)
class Band:
    """A flat stretch between two bends: from `begin_mm` to `end_mm` along the piece, in space from `at` on, `way` for
    each mm."""

    begin_mm: float
    end_mm: float
    at: Vec
    way: Vec


@dataclass(frozen=True, slots=True, kw_only=True)
class Surface:
    """Where the points of a piece lie. `origin`, `along` and `across` measure on the piece (unit vectors at right
    angles; left-handed where the piece lies face down on its host); `aside` is what each mm across is in space. A
    piece that is pleated lengthwise has `pleat`: pairs of mm across on the piece and in space, between which it goes
    evenly. Of a strap that is bent edgewise or twisted, `asides` tell what each mm across is at the ends of every band,
    one more than there are bands; in a band it goes evenly from the one to the other."""

    origin: Point = Point(0.0, 0.0)
    along: Point = Point(1.0, 0.0)
    across: Point = Point(0.0, 1.0)
    bands: tuple[Band, ...]
    aside: Vec
    pleat: tuple[Knot, ...] = ()
    asides: tuple[Vec, ...] = ()

    def bends_as(self, other: Surface) -> bool:
        """Whether it lies where another one does, band by band."""
        pairs = [*zip(self.bands, other.bands, strict=False)] if len(self.bands) == len(other.bands) else []
        return bool(pairs) and all(
            math.isclose(mine, its, abs_tol=TINY)
            for one, two in pairs
            for mine, its in zip((*one.at, *one.way, one.end_mm), (*two.at, *two.way, two.end_mm), strict=True)
        )

    def measure(self, at: Point) -> tuple[float, float]:
        """A point of the piece as mm along and across its bends."""
        x, y = at[0] - self.origin[0], at[1] - self.origin[1]
        return x * self.along[0] + y * self.along[1], x * self.across[0] + y * self.across[1]

    def spot(self, along_mm: float, across_mm: float) -> Point:
        """The point of the piece that lies so far along and across its bends."""
        x = self.origin[0] + self.along[0] * along_mm + self.across[0] * across_mm
        y = self.origin[1] + self.along[1] * along_mm + self.across[1] * across_mm
        return Point(x, y)

    def band_at(self, along_mm: float) -> int:
        """The band at a distance along; beyond the ends the first and the last."""
        if len(self.bands) == 1:
            return 0
        for k, band in enumerate(self.bands[:-1]):
            if along_mm <= band.end_mm + TINY:
                return k
        return len(self.bands) - 1

    def band_of(self, at: Point) -> int:
        """The band that a point of the piece lies in."""
        return self.band_at(self.measure(at)[0])

    def point(self, at: Point, band: int | None = None) -> Vec:
        """Where a point of the piece lies in space; `band` where it lies on a bend and one side is meant."""
        x, y = at[0] - self.origin[0], at[1] - self.origin[1]
        along_mm = x * self.along[0] + y * self.along[1]
        across_mm = x * self.across[0] + y * self.across[1]
        k = self.band_at(along_mm) if band is None else band
        one = self.bands[k]
        on_mm, off_mm = along_mm - one.begin_mm, _pleated(self.pleat, across_mm) if self.pleat else across_mm
        aside = self._aside(k, on_mm / (one.end_mm - one.begin_mm)) if self.asides else self.aside
        (x, y, z), (on_x, on_y, on_z), (off_x, off_y, off_z) = one.at, one.way, aside
        return x + on_x * on_mm + off_x * off_mm, y + on_y * on_mm + off_y * off_mm, z + on_z * on_mm + off_z * off_mm

    def points(self, places: Iterable[Point], band: int) -> tuple[Vec, ...]:
        """Where points of the piece that lie in one band lie in space: as `point` tells, for many at once."""
        if self.asides or self.pleat:
            return tuple(self.point(at, band) for at in places)
        one = self.bands[band]
        (left, low), (along_x, along_y), (across_x, across_y) = self.origin, self.along, self.across
        (x, y, z), (on_x, on_y, on_z), (off_x, off_y, off_z), begin_mm = one.at, one.way, self.aside, one.begin_mm
        found = []
        for at in places:
            far, up = at[0] - left, at[1] - low
            on_mm, off_mm = far * along_x + up * along_y - begin_mm, far * across_x + up * across_y
            found.append(
                (
                    x + on_x * on_mm + off_x * off_mm,
                    y + on_y * on_mm + off_y * off_mm,
                    z + on_z * on_mm + off_z * off_mm,
                )
            )
        return tuple(found)

    def _aside(self, band: int, share: float) -> Vec:
        """What each mm across is in space, that share of the way through a band, where it is not the same all over."""
        return along(times(self.asides[band], 1 - share), self.asides[band + 1], share)

    def foot(self, band: Band, at: Vec) -> tuple[Point | None, float]:
        """The point of the piece that a point in space lies straight over in a band, and how far; None where that is
        beyond the band, or cannot be told back as the piece is pleated, not only creased along its sides."""
        foot, along_mm, lift_mm = self.foot_in_plane(band, at)
        is_first, is_last = band is self.bands[0], band is self.bands[-1]
        is_beyond = (along_mm < band.begin_mm and not is_first) or (along_mm > band.end_mm and not is_last)
        if is_beyond or (self.pleat and not _is_creased(self.pleat)):
            return None, lift_mm
        return foot, lift_mm

    def foot_in_plane(self, band: Band, at: Vec) -> tuple[Point, float, float]:
        """The same where the plane of the band goes on, with how far along the piece it is."""
        far = minus(at, band.at)
        along_mm = band.begin_mm + inner(far, band.way) / (inner(band.way, band.way) or 1.0)
        aside = self._aside(self.bands.index(band), 0.5) if self.asides else self.aside
        across_mm = inner(far, aside)
        if self.pleat and _is_creased(self.pleat):
            across_mm = _unpleated(self.pleat, across_mm)
        lift_mm = inner(far, direction(outer(band.way, aside)))
        return self.spot(along_mm, across_mm), along_mm, lift_mm

    def heading(self, way: Point, band: int) -> Vec:
        """A direction on the piece in space, in that band."""
        aside = self._aside(band, 0.5) if self.asides else self.aside
        return plus(times(self.bands[band].way, dot(way, self.along)), times(aside, dot(way, self.across)))

    def normal(self, band: int | None = None) -> Vec:
        """The way the drawn face of the piece looks in a band, in its longest one where none is told."""
        if band is None:
            band = max(range(len(self.bands)), key=lambda k: (self.bands[k].end_mm - self.bands[k].begin_mm, -k))
        aside, way = self._aside(band, 0.5) if self.asides else self.aside, self.bands[band].way
        return direction(outer(way, aside) if cross(self.along, self.across) > 0 else outer(aside, way))

    def carrying(self, move: Transform) -> Surface:
        """The surface of a piece that lies on this one and bends with it: `move` takes its points to this one's."""
        back = _inverse(move)
        return replace(
            self,
            origin=transform_point(self.origin, back),
            along=transform_vector(self.along, back),
            across=transform_vector(self.across, back),
        )

    def shifted(self, by: Vec) -> Surface:
        """The surface moved in space."""
        return replace(self, bands=tuple(replace(band, at=plus(band.at, by)) for band in self.bands))

    def split(self, points: Sequence[Point]) -> Iterator[tuple[int, Point, Point]]:
        """A line on the piece cut at the bends: band, start and end of each part."""
        for start, end in pairwise(points):
            first, last = self.measure(start)[0], self.measure(end)[0]
            yield from self._split_leg(start, end, first, last)

    def _split_leg(self, start: Point, end: Point, first: float, last: float) -> Iterator[tuple[int, Point, Point]]:
        far = last - first
        cuts = [0.0, 1.0]
        if abs(far) > TINY:
            shares = ((band.end_mm - first) / far for band in self.bands[:-1])
            cuts = sorted([*cuts, *(share for share in shares if TINY < share < 1 - TINY)])
        for begin, finish in pairwise(cuts):
            band = self.band_at(first + far * (begin + finish) / 2)
            yield band, between(start, end, begin), between(start, end, finish)

    def rings(self, ring: Sequence[Point]) -> Iterator[tuple[int, list[Point]]]:
        """The parts of a closed ring of the piece that lie in each band."""
        rest = [*ring]
        for k, band in enumerate(self.bands[:-1]):
            beyond = [self.measure(at)[0] - band.end_mm for at in rest]
            part = clip(rest, [-mm for mm in beyond])
            if len(part) >= 3:
                yield k, part
            rest = clip(rest, beyond)
        if len(rest) >= 3:
            yield len(self.bands) - 1, rest


def clip(ring: Sequence[Point], insides: Sequence[float]) -> list[Point]:
    """The part of a closed ring where the figure given for its points, which runs evenly between them, is not less
    than nothing (Sutherland and Hodgman, Reentrant polygon clipping, 1974)."""
    kept: list[Point] = []
    for k, (at, inside) in enumerate(zip(ring, insides, strict=True)):
        after = (k + 1) % len(ring)
        if inside >= 0:
            kept.append(at)
        if inside * insides[after] < 0:
            kept.append(between(at, ring[after], inside / (inside - insides[after])))
    return kept


def is_in_ring(ring: Sequence[Point], at: Point) -> bool:
    """Whether a point lies inside a closed ring: a line from it crosses that an odd number of times."""
    inside, (x, y) = False, at
    x1, y1 = ring[-1]
    for x2, y2 in ring:
        if (y1 > y) != (y2 > y) and x < (x2 - x1) * (y - y1) / (y2 - y1) + x1:
            inside = not inside
        x1, y1 = x2, y2
    return inside


def flat(at: Vec, right: Vec, up: Vec) -> Surface:
    """A piece that lies flat: its (0, 0) at a point, its x and y along two directions."""
    return Surface(bands=(Band(0.0, 0.0, at, right),), aside=up)


def bend(surface: Surface, bends: Sequence[tuple[Point, Point, float]], anchor: Point) -> Surface:
    """A flat surface bent at lines that are parallel, each with the degrees by which it turns towards the back of the
    drawn face. The part where the anchor is stays."""
    if not bends:
        return surface
    start, end, _ = bends[0]
    across = unit(subtract(end, start))
    way = Point(across[1], -across[0])
    right, up = surface.heading(way, 0), surface.heading(across, 0)
    zero = surface.point(Point(0.0, 0.0))
    cuts = sorted((dot(line[0], way), line[2]) for line in bends)
    home = next((k for k, (at, _) in enumerate(cuts) if dot(anchor, way) <= at), len(cuts))
    low = cuts[home - 1][0] if home else cuts[0][0]
    bands = {home: Band(low, cuts[home][0] if home < len(cuts) else low, along(zero, right, low), right)}
    normal = direction(outer(right, up))
    point, heading, face = along(zero, right, cuts[home][0] if home < len(cuts) else low), right, normal
    for k in range(home, len(cuts)):
        heading, face = _turn(heading, face, -cuts[k][1])
        far = cuts[k + 1][0] if k + 1 < len(cuts) else cuts[k][0]
        bands[k + 1] = Band(cuts[k][0], far, point, heading)
        point = along(point, heading, far - cuts[k][0])
    point, heading, face = along(zero, right, low), right, normal
    for k in range(home - 1, -1, -1):
        heading, face = _turn(heading, face, cuts[k][1])
        near = cuts[k - 1][0] if k else cuts[0][0]
        point = along(point, heading, near - cuts[k][0])
        bands[k] = Band(near, cuts[k][0], point, heading)
    return Surface(along=way, across=turn_left(way), bands=tuple(bands[k] for k in sorted(bands)), aside=up)


def bend_on(surface: Surface, bends: Sequence[tuple[Point, Point, float]]) -> Surface:
    """A surface of bands bent on, beyond its last band and before its first, at lines that run straight across it."""
    bands = [*surface.bands]
    cuts = sorted(
        (surface.measure(start)[0], degrees) for start, end, degrees in bends if _is_across(surface, start, end)
    )
    heading, face = direction(bands[-1].way), surface.normal(len(bands) - 1)
    for at_mm, degrees in [cut for cut in cuts if cut[0] > bands[-1].end_mm - ACROSS_MM]:
        last = bands[-1]
        bands[-1] = replace(last, end_mm=at_mm)
        heading, face = _turn(heading, face, -degrees)
        bands.append(Band(at_mm, at_mm, along(last.at, last.way, at_mm - last.begin_mm), heading))
    heading, face = direction(bands[0].way), surface.normal(0)
    for at_mm, degrees in [cut for cut in reversed(cuts) if cut[0] < bands[0].begin_mm + ACROSS_MM]:
        first = bands[0]
        corner = along(first.at, first.way, at_mm - first.begin_mm)
        bands[0] = replace(first, begin_mm=at_mm, at=corner)
        heading, face = _turn(heading, face, degrees)
        bands.insert(0, Band(at_mm, at_mm, corner, heading))
    return replace(surface, bands=tuple(bands))


def lower_end(bands: Sequence[Band], end: tuple[int, int], by: Vec) -> tuple[Band, ...]:
    """The bands with the first or last one moved in space, and the one beside it, its second, shorter or longer there."""
    last, beside = end
    found = [*bands]
    found[last] = replace(bands[last], at=plus(bands[last].at, by))
    long_mm = bands[beside].end_mm - bands[beside].begin_mm
    way = along(bands[beside].way, by, (1 if last > beside else -1) / long_mm)
    at = bands[beside].at if last > beside else plus(bands[beside].at, by)
    found[beside] = replace(bands[beside], at=at, way=way)
    return tuple(found)


def _is_across(surface: Surface, start: Point, end: Point) -> bool:
    return abs(surface.measure(start)[0] - surface.measure(end)[0]) < ACROSS_MM


def _turn(heading: Vec, face: Vec, degrees: float) -> tuple[Vec, Vec]:
    """A direction and its normal turned in their plane, by degrees from the first to the second."""
    cos, sin = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
    return plus(times(heading, cos), times(face, sin)), minus(times(face, cos), times(heading, sin))


def stand(start: Point, way: Point, track: Sequence[tuple[float, Vec]], aside: Vec, pleat: tuple[Knot, ...]) -> Surface:
    """A piece that stands along a line in space: from `start` on, along `way` on the piece, by the points of the line
    with how far along the piece each of them is."""
    bands = [
        Band(begin, end, at, times(minus(to, at), 1 / (end - begin)))
        for (begin, at), (end, to) in pairwise(track)
        if end - begin > 1e-6
    ]
    return Surface(origin=start, along=way, across=turn_left(way), bands=tuple(bands), aside=aside, pleat=pleat)


def _pleated(pleat: Sequence[Knot], across_mm: float) -> float:
    """How far across in space: evenly between the pairs, and as it lies beyond them."""
    if across_mm <= pleat[0][0]:
        return pleat[0][1] + across_mm - pleat[0][0]
    for (low, at), (high, to) in pairwise(pleat):
        if across_mm <= high:
            return at + (to - at) * (across_mm - low) / (high - low)
    return pleat[-1][1] + across_mm - pleat[-1][0]


def _is_creased(pleat: Sequence[Knot]) -> bool:
    """Whether a wall is as wide between the folds along its sides as it is cut, and its flanges stand off it square."""
    return all(min(abs(to - at), abs(high - low - to + at)) < TINY for (low, at), (high, to) in pairwise(pleat))


def _unpleated(pleat: Sequence[Knot], off_mm: float) -> float:
    """How far across on a creased piece what lies so far across in space is: where a flange is, at its edge."""
    if off_mm >= pleat[-1][1] - TINY:
        return pleat[-1][0] + off_mm - pleat[-1][1]
    knots = [(low, at) for (low, at), (_, to) in pairwise(pleat) if to - at > TINY and off_mm > at + TINY]
    return knots[-1][0] + off_mm - knots[-1][1] if knots else pleat[0][0] + off_mm - pleat[0][1]


def _inverse(move: Transform) -> Transform:
    """What takes a rigid movement back."""
    e, f = move.e, move.f
    return Transform(move.a, move.c, move.b, move.d, -(move.a * e + move.b * f), -(move.c * e + move.d * f))
