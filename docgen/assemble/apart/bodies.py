"""Placed parts -> what can be drawn of them, in space: faces, edges, bends, stitches, holes."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace
from functools import cached_property
from itertools import pairwise

from docgen.assemble.apart.stretched import find_stretched, lift_between
from docgen.assemble.assembly import Copy
from docgen.assemble.space.item import Mark
from docgen.assemble.space.placed import ALIKE, BY_AN_END, LAYER_MM, Placed
from docgen.assemble.space.spread import TURNED_BACK
from docgen.assemble.space.surface import is_in_ring
from docgen.assemble.space.vectors import Vec, along, apart, inner, plus, times
from docgen.classes import dataclass
from docgen.geometry.crossing import leg_distance
from docgen.geometry.path import flatten, ring_area
from docgen.geometry.shapes import Point
from docgen.geometry.vector import add, between, cross, scale, subtract, turn_left, unit

MOST_HOLES = 5000  # of one part; more of them are a grey that nobody tells apart, and take memory
CREASE = math.cos(math.radians(35))  # a sharper bend is drawn as an edge
ON_BEND_MM = 1e-6
CHORD_MM = 0.1  # how far a chord may lie off its curve
INWARD_MM = 0.5  # from its edge, where it is looked up whether that is seen: what stands on a face begins beside it
LARGE_HOLE_MM = 6.0  # hatching ends at the rim of a larger one
ON_EDGE_MM = 0.3  # a stitch line so near to the outline lies on it


Row = tuple[str, int, Point, Point]
"""A stretch of a seam that goes through a part: the seam, the band, and where it runs on the piece."""


@dataclass(frozen=True, slots=True)
class BodyLine:
    """A straight line on a part: edge, bend, stitch, slit or joint, with what it belongs to (an edge that a row lies on:
    its seam), the bands that it lies on, and the way in from an edge; of a bend whether it `is_sharp`, of a stitch line
    whether it runs along the edge, whether it is where that begins, and whether it is one of other parts that goes
    `through` this one."""

    kind: str
    name: str
    start: Vec
    end: Vec
    bands: tuple[int, ...]
    inward: Vec = (0.0, 0.0, 0.0)
    is_sharp: bool = False
    is_edge: bool = False
    is_start: bool = False
    is_through: bool = False


@dataclass(frozen=True, slots=True)
class BodyHole:
    """A hole: the band that it is in, its middle, and its rim, closed."""

    band: int
    middle: Vec
    rim: tuple[Vec, ...]


@dataclass(frozen=True, slots=True)
class BodyFace:
    """A flat part: its band, its ring on the piece, its corners in space, the way the grain looks."""

    band: int
    ring: tuple[Point, ...]
    corners: tuple[Vec, ...]
    grain: Vec


class Body:
    """A placed part as it is drawn, in its own place. Nothing in it changes; what is worked out once is kept."""

    def __init__(
        self,
        placed: Placed,
        *,
        is_leather: bool,
        title: str,
        through: Sequence[Row] = (),
        untold: frozenset[str] = frozenset(),
    ) -> None:
        """`through` are rows of seams of other parts that go through this one too; of `untold` seams no row is drawn:
        nothing says where it lies, or they sew other copies of the part."""
        self.placed, self.is_leather, self.title, self.through = placed, is_leather, title, through
        self.untold = untold
        self.copy: Copy = placed.copy
        self._stretched = find_stretched(placed)
        self._margins: dict[Mark, tuple[tuple[Point, ...], ...]] = {}

    @property
    def largest_band(self) -> int:
        return max(self.faces, key=lambda face: (round(abs(ring_area(face.ring)), 3), -face.band)).band

    @property
    def is_strap(self) -> bool:
        return self.placed.how in BY_AN_END

    @property
    def wide_mm(self) -> float:
        """Its shorter side."""
        return self.placed.item.sizes_mm[0]

    @property
    def held_band(self) -> int:
        """The band along which a part is held: that of its first stitch line; of a strap that of the end that is held."""
        if self.is_strap:
            return self.placed.surface.band_of(self.placed.anchor)
        return next((line.bands[0] for line in self.lines if line.kind == "stitch"), self.largest_band)

    def flattened(self, home: int) -> Body:
        """The part with every bend straightened; the band `home` stays. What is turned back at the end of a strap lies
        back still, a layer behind."""
        surface, lift = self.placed.surface, self.placed.lift_in_plane(home)
        stays, turns = surface.bands[home], [*self._turned_ends()]
        ahead = [math.prod(turns[min(k, home) : max(k, home)]) for k in range(len(surface.bands))]
        at, bands = stays.at, [stays]
        for k in range(home + 1, len(surface.bands)):
            at = along(at, bands[-1].way, bands[-1].end_mm - bands[-1].begin_mm)
            bands.append(replace(surface.bands[k], at=at, way=times(stays.way, ahead[k])))
        for k in range(home - 1, -1, -1):
            way, band = times(stays.way, ahead[k]), surface.bands[k]
            bands.insert(0, replace(band, at=along(bands[0].at, way, band.begin_mm - band.end_mm), way=way))
        flat = replace(surface, bands=tuple(bands))
        if surface.asides:
            flat = replace(flat, aside=surface.asides[home], asides=())
        behind = along(lift, self.placed.out(home), -1.0)
        lifts = tuple(lift if hand > 0 else behind for hand in ahead)
        return self.with_place(replace(self.placed, surface=flat, lifts=lifts))

    @property
    def is_flat(self) -> bool:
        """Whether it bends nowhere."""
        return all(inner(self.placed.out(0), self.placed.out(face.band)) > ALIKE for face in self.faces)

    @property
    def is_bent(self) -> bool:
        """Whether it bends anywhere but where the end of a strap is turned."""
        return 1.0 in self._turned_ends()

    @property
    def is_folded_over(self) -> bool:
        """Whether a strap lies back over the edge of what it is held on, as a tongue does that closes."""
        if not self.is_strap:
            return False
        outs = [self.placed.out(band) for band in range(len(self.placed.surface.bands))]
        bends = zip(pairwise(outs), self._turned_ends(), strict=True)
        return any(hand > 0 and inner(*pair) < TURNED_BACK for pair, hand in bends)

    def _turned_ends(self) -> Iterator[float]:
        """For every bend whether it is straightened (1) or, as the turned end of a strap is, stays turned back (-1)."""
        surface = self.placed.surface
        turned = [surface.measure(fold.start)[0] for fold in self.placed.item.folds] if self.is_strap else []
        for band in surface.bands[:-1]:
            yield -1.0 if any(abs(at_mm - band.end_mm) < ON_EDGE_MM for at_mm in turned) else 1.0

    def with_place(self, placed: Placed) -> Body:
        """The same part, placed otherwise."""
        return Body(placed, is_leather=self.is_leather, title=self.title, through=self.through, untold=self.untold)

    @cached_property
    def lifts(self) -> tuple[Vec, ...]:
        return tuple(times(lift, LAYER_MM) for lift in self.placed.lifts)

    def point(self, at: Point, band: int) -> Vec:
        """A point of the piece in space, lifted as its band is."""
        ends = self._stretched.get(band)
        lift = self.lifts[band] if ends is None else lift_between(self.placed, band, ends, at)
        return plus(self.placed.surface.point(at, band), lift)

    @cached_property
    def faces(self) -> tuple[BodyFace, ...]:
        """What lines a part has the side that it shows away from that, whichever way its shape fits there."""
        surface, placed = self.placed.surface, self.placed
        is_turned = placed.how == "lies behind" and placed.is_grain_out != placed.item.is_grain_out
        hand = -1.0 if is_turned else 1.0
        return tuple(
            BodyFace(band, tuple(ring), tuple(self.point(at, band) for at in ring), times(surface.normal(band), hand))
            for band, ring in surface.rings(self.placed.ring)
        )

    @cached_property
    def _there(self) -> frozenset[int]:
        """The bands that it reaches into: what ends at a bend has an edge there."""
        return frozenset(face.band for face in self.faces)

    @cached_property
    def lines(self) -> tuple[BodyLine, ...]:
        return (*self._outlines(), *self._marks())

    def _outlines(self) -> Iterator[BodyLine]:
        """Edges, and the lines at which the part bends: these on both bands where one of them is lifted off the other."""
        surface = self.placed.surface
        for face in self.faces:
            band = face.band
            cuts = (surface.bands[band].begin_mm, band - 1), (surface.bands[band].end_mm, band + 1)
            bends = [(cut, beyond) for cut, beyond in cuts if beyond in self._there]
            hand = 1.0 if ring_area(face.ring) > 0 else -1.0
            corners = zip((*face.ring, face.ring[0]), (*face.corners, face.corners[0]), strict=True)
            for (at, start), (to, end) in pairwise(corners):
                along = surface.measure(at)[0], surface.measure(to)[0]
                beyond = next((other for cut, other in bends if _both_on(along, cut)), None)
                way = Point(hand * (at[1] - to[1]), hand * (to[0] - at[0]))
                if beyond is None:
                    seam = self._seam_at(between(Point(*at), Point(*to), 0.5))
                    yield BodyLine("edge", seam, start, end, (band,), _unit(surface.heading(way, band)))
                elif self._is_spread(band, beyond):
                    yield BodyLine("edge", "", start, end, (band,), _unit(surface.heading(way, band)))
                elif beyond > band or apart(self.point(at, beyond), start) > ON_EDGE_MM:
                    is_sharp = inner(surface.normal(band), surface.normal(beyond)) < CREASE
                    yield BodyLine("bend", "", start, end, (band, beyond), is_sharp=is_sharp)
        for face in self.bridges:
            first, second, under_second, under_first = face.corners
            yield BodyLine("edge", "", first, under_first, ())
            yield BodyLine("edge", "", second, under_second, ())
            yield BodyLine("edge", "", first, second, ())
            yield BodyLine("edge", "", under_first, under_second, ())

    def _is_spread(self, band: int, beyond: int) -> bool:
        """Whether a fold is closed over what a picture lifts its halves off each other for."""
        is_closed = inner(self.placed.surface.normal(band), self.placed.surface.normal(beyond)) < TURNED_BACK
        return is_closed and self.lifts[beyond] != self.lifts[band]

    @cached_property
    def bridges(self) -> tuple[BodyFace, ...]:
        """The leather round such a fold, from the one half to the other: a face for each, without a ring on the piece."""
        found, surface = [], self.placed.surface
        for face in self.faces:
            cut, beyond = surface.bands[face.band].end_mm, face.band + 1
            if beyond not in self._there or not self._is_spread(face.band, beyond):
                continue
            for at, to in pairwise((*face.ring, face.ring[0])):
                if _both_on((surface.measure(at)[0], surface.measure(to)[0]), cut):
                    ends = [self.point(one, band) for one, band in ((at, face.band), (to, face.band))]
                    over = [self.point(one, beyond) for one in (to, at)]
                    out = _unit(surface.heading(surface.along, face.band))
                    found.append(BodyFace(face.band, (), (*ends, *over), out))
        return tuple(found)

    def _marks(self) -> Iterator[BodyLine]:
        for mark in self.placed.item.marks:
            if mark.kind != "fold" and not (mark.kind == "stitch" and mark.name in self.untold):
                points = flatten(mark.path, CHORD_MM)
                is_edge = mark.kind == "stitch" and self._is_on_edge(points)
                for k, (band, start, end) in enumerate(self._within(points)):
                    ends = self.point(start, band), self.point(end, band)
                    yield BodyLine(mark.kind, mark.name, *ends, (band,), is_edge=is_edge, is_start=not k)
        for points in self.placed.item.hems:
            for at, to in pairwise((*points, points[0])):
                inside = () if self._is_on_edge((at, to)) else parts_inside(self.placed.ring, at, to)
                for band, start, end in (found for leg in inside for found in self.placed.surface.split(leg)):
                    yield BodyLine("hem", "", self.point(start, band), self.point(end, band), (band,))
        for name, band, start, end in (row for row in self.through if row[1] in self._there):  # not turned in
            ends = self.point(start, band), self.point(end, band)
            yield BodyLine("stitch", name, *ends, (band,), is_edge=self._is_on_edge((start, end)), is_through=True)

    def _within(self, points: Sequence[Point]) -> Iterator[tuple[int, Point, Point]]:
        """A line on the piece cut at the bends, without what of it lies where the piece is turned in."""
        ring, split = self.placed.ring, self.placed.surface.split
        if ring == self.placed.item.ring:
            yield from split(points)
            return
        for start, end in pairwise(points):
            for leg in parts_inside(ring, start, end):
                yield from split(leg)

    @cached_property
    def middle(self) -> tuple[BodyLine, ...]:
        """The line along its middle, the long way: all that is drawn of it where it is no wider than two lines."""
        box = self.placed.item.box
        upright = [Point(box.centre.x, box.bottom), Point(box.centre.x, box.top)]
        level = [Point(box.left, box.centre.y), Point(box.right, box.centre.y)]
        legs = self.placed.surface.split(upright if box.height > box.width else level)
        return tuple(BodyLine("edge", "", self.point(at, band), self.point(to, band), (band,)) for band, at, to in legs)

    @cached_property
    def plain(self) -> tuple[tuple[Point, ...], ...]:
        """What of its inner side is no flesh side: what hems lay back there, windows that are cut out, large holes, what is
        sewn to itself."""
        slits = [flatten(mark.path, CHORD_MM) for mark in self.placed.item.marks if mark.kind == "slit"]
        holes = (hole for hole in self.placed.item.holes if hole.diameter_mm > LARGE_HOLE_MM)
        rims = (tuple(flatten(hole.path, CHORD_MM)[:-1]) for hole in holes)
        rolled = [self.placed.item.rolled] if self.placed.item.rolled else []
        return (*self.placed.item.hems, *_close_up(slits), *rims, *rolled)

    def margins(self, seams: frozenset[str]) -> Iterator[tuple[Point, ...]]:
        """What lies outside of the rows of some seams, along the edge, in quadrilaterals."""
        for mark in self.placed.item.marks:
            if mark.kind == "stitch" and mark.name in seams:
                yield from self._margins_of(mark)

    def _margins_of(self, mark: Mark) -> tuple[tuple[Point, ...], ...]:
        known = self._margins.get(mark)
        if known is None:
            known = self._margins[mark] = tuple(_strips(flatten(mark.path, CHORD_MM), self.placed.ring))
        return known

    @cached_property
    def holes(self) -> tuple[BodyHole, ...]:
        drawn = self.placed.item.holes if len(self.placed.item.holes) <= MOST_HOLES else ()
        rims = (flatten(hole.path, CHORD_MM) for hole in drawn)
        return tuple(hole for rim in rims for hole in self._holes_of(rim) if hole.band in self._there)

    def _holes_of(self, rim: Sequence[Point]) -> Iterator[BodyHole]:
        """A hole; one that lies across a bend, as the slot at a fold does, in each band that it reaches into."""
        surface = self.placed.surface
        reach = [surface.measure(at)[0] for at in rim] if len(surface.bands) > 1 else [0.0]
        if surface.band_at(min(reach) + INWARD_MM) == surface.band_at(max(reach) - INWARD_MM):
            middle = _middle(rim[:-1])
            yield self._hole(rim, middle, surface.band_of(middle))
            return
        for band, part in surface.rings(rim[:-1]):
            yield self._hole((*part, part[0]), _middle(part), band)

    def _hole(self, rim: Sequence[Point], middle: Point, band: int) -> BodyHole:
        return BodyHole(band, self.point(middle, band), tuple(self.point(at, band) for at in rim))

    @cached_property
    def _edge_rows(self) -> tuple[tuple[str, tuple[tuple[Point, Point], ...]], ...]:
        marks = [mark for mark in self.placed.item.marks if mark.kind == "stitch" and mark.name not in self.untold]
        rows = ((mark.name, flatten(mark.path, CHORD_MM)) for mark in marks)
        return tuple((name, tuple(pairwise(points))) for name, points in rows if self._is_on_edge(points))

    def _seam_at(self, at: Point) -> str:
        """The seam whose row lies on the outline at a point."""
        found = (name for name, legs in self._edge_rows if any(leg_distance(leg, at) < ON_EDGE_MM for leg in legs))
        return next(found, "")

    def _is_on_edge(self, points: Sequence[Point]) -> bool:
        """Whether a stitch line lies along the outline, as that of a wall does, whose edge is turned beyond it."""
        ring = (*self.placed.ring, self.placed.ring[0])
        half = len(points) // 2
        middle = between(points[half - 1], points[half], 0.5)  # the end of a row lies on the outline wherever it runs
        return any(leg_distance(leg, middle) < ON_EDGE_MM for leg in pairwise(ring))


def _middle(points: Sequence[Point]) -> Point:
    return Point(sum(x for x, _ in points) / len(points), sum(y for _, y in points) / len(points))


def _both_on(along: tuple[float, float], cut: float) -> bool:
    return abs(along[0] - cut) < ON_BEND_MM and abs(along[1] - cut) < ON_BEND_MM


def parts_inside(ring: Sequence[Point], start: Point, end: Point) -> Iterator[tuple[Point, Point]]:
    """The parts of a straight line inside of a ring, or on it."""
    cuts = [0.0, 1.0]
    far = subtract(end, start)
    for p, q in pairwise((*ring, ring[0])):
        leg = subtract(q, p)
        over = cross(far, leg)
        if over:
            share, its = cross(subtract(p, start), leg) / over, cross(subtract(p, start), far) / over
            cuts += [share] if 0 < share < 1 and 0 <= its <= 1 else []
    legs = [*pairwise((*ring, ring[0]))]
    for begin, finish in pairwise(sorted(cuts)):
        middle = between(start, end, (begin + finish) / 2)
        if is_in_ring(ring, middle) or min(leg_distance(leg, middle) for leg in legs) < ON_EDGE_MM:
            yield between(start, end, begin), between(start, end, finish)


def _close_up(slits: Sequence[Sequence[Point]]) -> Iterator[tuple[Point, ...]]:
    """The rings that slits make which end at each other."""
    left = [tuple(slit) for slit in slits]
    while left:
        ring = list(left.pop(0))
        while math.dist(ring[0], ring[-1]) > ON_EDGE_MM:
            ends = ((k, slit) for k, slit in enumerate(left) for slit in (slit, slit[::-1]))
            k, after = next(((k, slit) for k, slit in ends if math.dist(slit[0], ring[-1]) < ON_EDGE_MM), (-1, ()))
            if k < 0:
                break
            ring += after[1:]
            left.pop(k)
        else:
            yield tuple(ring[:-1])


def _strips(row: Sequence[Point], ring: Sequence[Point]) -> Iterator[tuple[Point, ...]]:
    """The strip between a row and the edge that it runs along, leg by leg, each a little longer, so that none is left out
    at a corner."""
    legs = [*pairwise((*ring, ring[0]))]
    for start, end in pairwise(row):
        ahead = unit(subtract(end, start))
        middle, aside = between(start, end, 0.5), turn_left(ahead)
        wide_mm = min(leg_distance(leg, middle) for leg in legs)
        over = scale(aside, wide_mm + ON_EDGE_MM)
        beyond = add(middle, over)
        over = over if not is_in_ring(ring, beyond) else scale(over, -1.0)
        begin, finish = add(start, scale(ahead, -wide_mm)), add(end, scale(ahead, wide_mm))
        yield begin, finish, add(finish, over), add(begin, over)


def _unit(way: Vec) -> Vec:
    long = (way[0] ** 2 + way[1] ** 2 + way[2] ** 2) ** 0.5 or 1.0
    return way[0] / long, way[1] / long, way[2] / long
