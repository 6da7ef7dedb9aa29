"""Where the parts of a build lie in space: the values that checks look at and pictures are drawn from."""

from __future__ import annotations

import math
from collections.abc import Collection, Iterable, Iterator
from itertools import pairwise
from typing import Literal

from docgen.assemble.assembly import Copy
from docgen.assemble.space.item import Item
from docgen.assemble.space.metal import Metal
from docgen.assemble.space.surface import Surface
from docgen.assemble.space.track import trace
from docgen.assemble.space.vectors import Vec, inner, minus, plus, times
from docgen.classes import dataclass
from docgen.geometry.nearby import near_finder
from docgen.geometry.shapes import Point
from docgen.problems import Problem
from docgen.resolve import Fold

How = Literal[
    "begun with",
    "stands on",
    "closes",
    "lies on",
    "turned out",
    "lies behind",
    "back to back",
    "goes on",
    "folds between",
    "hangs on",
    "rolled",
    "leads from",
    "arches",
    "hinges",
    "laid out",
]
ON_FACE_MM, LEAST_BOW_MM, ALIKE = 0.5, 3.0, 0.999  # a lower bow is what leather does by itself; cosine between ways
PLANE = 0.99  # between those of a strap that twists on its way
LAYER_MM = 1.6  # by which layers are lifted off each other in a picture
ON_HOLE_MM = 1.0  # from a hole, what lies on it
BY_AN_END: Collection[How] = ("leads from", "arches", "laid out")  # straps, by what holds their ends
Kind = Literal["standing", "on its floor", "tube", "lying"]

# Why a part cannot be drawn where the spec could say more; the maker is asked for it.
FACES_UNTOLD = "nothing says which of its sides faces out"
LINE_UNTOLD = "nothing says on which side of its seam it lies"
SPOT_UNTOLD = "it is sewn flat on a part, and no landing says where"
FOLDS_TWO_WAYS = "its folds run two ways, as those of a tray, and it is drawn flat alone"
PLACE_UNTOLD = "no seam, landing or hole says where it lies"
ON_STRIP = "it lands on a strip of a join, and no hole of its own goes through that"
NOT_TAKEN = "no hole, fold or strap end takes it"
OTHER_HALF = "no hole takes its other half"
NO_HOLD = "nothing that is placed holds it"
WAY_UNTOLD = "its holes fit both ways round, and no landing says which way it leads"
POINTS_UNTOLD = "one hole holds it, far from every edge, and no landing says which way it points"
NO_HOLE = "the part that it is riveted to has no hole for it"


@dataclass(frozen=True, slots=True, kw_only=True)
class Face:
    """A flat part of a placed part: its corners in order, the way its grain side looks, and by how many layers, and
    which way, a picture lifts it, so that what lies on it or beneath is told apart."""

    corners: tuple[Vec, ...]
    grain: Vec
    lift: Vec = (0.0, 0.0, 0.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class LineInSpace:
    """A line on a placed part: edge, stitch, fold, slit, joint or hole, with the name of what it belongs to (a stitch
    line its seam), in one flat part each, lifted as `Face` tells."""

    kind: str
    name: str
    points: tuple[Vec, ...]
    lift: Vec = (0.0, 0.0, 0.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Placed:
    """A copy in its place. `how` it came there, by `host`. Parts have no thickness here: `level` says how they lie over
    each other, 1 and more on the outer face of the host, -1 and less behind it, and `lifts` by how many layers a picture
    lifts each band, and which way. `ring` is what is seen of the outline; what is turned in at a seam of a wall is left
    out. One that `is_free` is held along one line only, about which it may turn: by what angle it lies there is our
    choice. Its `anchor` stays where it is when it is bent. Of a strap that lands, and of a wall,
    `host_band` is the band of the host on which it does."""

    copy: Copy
    how: How
    host: Copy | None = None
    surface: Surface
    ring: tuple[Point, ...]
    level: int = 0
    is_grain_out: bool = True
    is_inner: bool = False
    item: Item
    is_free: bool = False
    anchor: Point = Point(0.0, 0.0)
    lifts: tuple[Vec, ...] = ()
    host_band: int | None = None

    def out(self, band: int) -> Vec:
        """The way its outer face looks in a band: the grain side, or the flesh side of what shows that."""
        normal = self.surface.normal(band)
        return normal if self.is_grain_out else times(normal, -1.0)

    def folds_at(self, bend: int) -> Iterator[Fold]:
        """The folds that lie between a band and the next."""
        at_mm = self.surface.bands[bend].end_mm
        for fold in self.item.folds:
            if all(abs(self.surface.measure(end)[0] - at_mm) < ON_FACE_MM for end in (fold.start, fold.end)):
                yield fold

    def folds_out(self, bend: int) -> bool:
        """Whether the fold between a band and the next lays the outer side inside."""
        return any(self.item.is_grain_in(fold) == self.is_grain_out for fold in self.folds_at(bend))

    def looks_as(self, other: Placed) -> bool:
        """Whether another part that lies along it looks the same way all over."""
        bands = range(len(self.surface.bands))
        return len(bands) == len(other.surface.bands) and all(inner(self.out(k), other.out(k)) > 0 for k in bands)

    def lift_in_plane(self, home: int) -> Vec:
        """By how many layers a band is lifted; of a strap as far as any that lies on in its plane: there it is clear of all
        beneath, also once it is straight."""
        out, lift, at = self.out(home), self.lifts[home], self.surface.bands[home].at
        beside = [
            inner(one, out)
            for k, one in enumerate(self.lifts if self.how in BY_AN_END else ())
            if inner(self.out(k), out) > PLANE and abs(inner(minus(self.surface.bands[k].at, at), out)) < ON_FACE_MM
        ]
        high = max([inner(lift, out), *beside])
        return plus(lift, times(out, high - inner(lift, out)))

    @property
    def is_creased_in(self) -> bool:
        """Whether it is a wall with flanges that are creased inward, its outer side on what they are sewn to: the wall
        stands beyond their rows then."""
        is_creased = any(at == to for (_, at), (_, to) in pairwise(self.surface.pleat))
        item = self.item
        return is_creased and any(item.is_grain_in(fold) != item.is_grain_out for fold in item.folds if fold.is_open)

    @property
    def bow_mm(self) -> float:
        """How high a strip stands up between its ends, which both lie on one face; 0 where it does not."""
        high_mm = max(self._heights) if self.is_held_twice else 0.0
        return high_mm if high_mm > LEAST_BOW_MM else 0.0

    @property
    def is_held_twice(self) -> bool:
        """Whether both ends of a strip lie on one face."""
        if self.how != "arches":
            return False
        first, last = self.surface.band_of(self.anchor), len(self.surface.bands) - 1
        return abs(self._heights[-1]) < ON_FACE_MM and abs(inner(self.out(last), self.out(first))) > ALIKE

    @property
    def _heights(self) -> list[float]:
        """How far its bands begin off the face that its anchor lies on."""
        first = self.surface.band_of(self.anchor)
        out, base = self.out(first), self.surface.point(self.anchor, first)
        return [inner(minus(band.at, base), out) for band in self.surface.bands]

    @property
    def faces(self) -> tuple[Face, ...]:
        """Its flat parts, one for each band, then what hems lay back, with the grain side away from it."""
        return (*self._faces(self.ring, 1.0), *(face for hem in self.item.hems for face in self._faces(hem, -1.0)))

    def sheets(self, ring: tuple[Point, ...]) -> Iterator[tuple[int, tuple[Vec, ...]]]:
        """The corners in space of what lies in each band of a closed ring of the piece, with the band."""
        for band, part in self.surface.rings(ring):
            yield band, self.surface.points(part, band)

    def _faces(self, ring: tuple[Point, ...], hand: float) -> Iterator[Face]:
        for band, corners in self.sheets(ring):
            grain = times(self.surface.normal(band), hand)
            behind = times(self.surface.normal(band), (hand - 1) / 2)  # a hem lies one layer behind
            yield Face(corners=corners, grain=grain, lift=plus(self.lifts[band], behind))

    @property
    def lines(self) -> tuple[LineInSpace, ...]:
        """Its edge and its marks in space."""
        edge = ("edge", "", (*self.ring, self.ring[0]))
        marks = ((mark.kind, mark.name, trace(mark.path).points) for mark in self.item.marks)
        return tuple(line for drawn in (edge, *marks) for line in self._lines(*drawn))

    def _lines(self, kind: str, name: str, points: tuple[Point, ...]) -> Iterator[LineInSpace]:
        parts: list[tuple[int, list[Vec]]] = []
        for band, start, end in self.surface.split(points):
            if not parts or parts[-1][0] != band:
                parts.append((band, [self.surface.point(start, band)]))
            parts[-1][1].append(self.surface.point(end, band))
        yield from (
            LineInSpace(kind=kind, name=name, points=tuple(found), lift=self.lifts[band]) for band, found in parts
        )


def held_band(host: Placed, guest: Placed) -> int | None:
    """The band of a host on which a guest lands, or in which the hole is that is there for it, as either part says, where
    this lies on one: bands that come to lie on each other are as near. None where no such place tells."""
    if guest.host == host.copy and guest.host_band is not None:
        return guest.host_band
    names = {host.copy.part, *(strip.piece.name for strip in host.item.strips)}
    is_through = any(not names.isdisjoint(hole.through) for hole in guest.item.holes)
    holes = [
        hole.at
        for hole in host.item.holes
        if guest.copy.part in hole.through or (is_through and not hole.takes and not hole.through)
    ]
    return hole_band(host.surface, holes, [guest.surface.point(hole.at) for hole in guest.item.holes], ON_HOLE_MM)


def hole_band(surface: Surface, holes: Iterable[Point], spots: Iterable[Vec], near_mm: float) -> int | None:
    """The band in which that of some holes is that lies nearest to one of some spots; None where none is so near."""
    there, here = [*spots], [(surface.point(hole), surface.band_of(hole)) for hole in holes]
    find = near_finder(there, near_mm)
    found = ((round(math.dist(at, there[number]), 3), band) for at, band in here for number in find(at))
    off_mm, band = min(found, default=(math.inf, 0))
    return band if off_mm < near_mm else None


@dataclass(frozen=True, slots=True, kw_only=True)
class Gap:
    """How far the runs of two partners of a seam lie apart at most, of the places compared, and how far along the first
    run that is. `allowed_mm` is what is eased in there."""

    seam: str
    one: Copy
    other: Copy
    apart_mm: float
    along_mm: float
    allowed_mm: float = 0.0

    @property
    def over_mm(self) -> float:
        """What is left of the gap when what is eased in is taken off."""
        return max(0.0, self.apart_mm - self.allowed_mm)


@dataclass(frozen=True, slots=True, kw_only=True)
class Buckled:
    """A strap with a row of holes that comes past the buckle of another part, and how far from the bar of that, where the
    tongue hangs, the nearest hole of the row lies."""

    part: Copy
    host: Copy
    takes: str
    apart_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Unplaced:
    """A copy whose place does not follow from the spec, and why; of a strap that is too short the way between what holds
    it."""

    copy: Copy
    why: str
    way_mm: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Unset:
    """So many of some hardware have no place, and why."""

    hardware: str
    count: int
    why: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Space:
    """All copies of a build in their places. x runs to the right, y to the back, z up; `kind` says how the first part,
    `front`, is put: standing with its outer face to the viewer, as a floor with it down, as the end of a tube, or lying
    with it up. `parts` are pieces and joins in the order of the spec, then straps from what lies beneath on, `order` how
    one came after the other; `metal` is the hardware, `unset` what of it has no place. `hung` are straps of which an end
    goes round a ring for good, each with the part in whose fold that lies. `doubtful` are parts whose place is in doubt: a
    picture of them may be wrong; of those that are `darted` it is once a dart in them is sewn."""

    kind: Kind = "lying"
    front: Copy | None = None
    parts: tuple[Placed, ...] = ()
    order: tuple[Copy, ...] = ()
    gaps: tuple[Gap, ...] = ()
    buckled: tuple[Buckled, ...] = ()
    unplaced: tuple[Unplaced, ...] = ()
    metal: tuple[Metal, ...] = ()
    unset: tuple[Unset, ...] = ()
    hung: tuple[tuple[Copy, Copy], ...] = ()
    doubtful: tuple[Copy, ...] = ()
    doubts: tuple[Problem, ...] = ()
    darted: tuple[Copy, ...] = ()

    def part(self, copy: Copy) -> Placed | None:
        """A copy where it is placed."""
        return next((placed for placed in self.parts if placed.copy == copy), None)

    def faced_by(self, placed: Placed) -> Placed | None:
        """What a part is sewn to all along and shows the same way as, so that one of them must be meant turned over."""
        host = self.part(placed.host) if placed.host and placed.how == "back to back" else None
        return host if host is not None and placed.looks_as(host) else None

    @property
    def widest_mm(self) -> float:
        """The largest gap of all seams, without what is eased in."""
        return max((gap.over_mm for gap in self.gaps), default=0.0)
