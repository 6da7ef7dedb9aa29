"""The state of placing: what there is, what is placed so far. It does not leave this room."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import replace
from functools import cached_property

from docgen.assemble.assembly import Assembly, Copy, Lies
from docgen.assemble.goods import Goods
from docgen.assemble.space.begun_rings import turn_ring
from docgen.assemble.space.item import Item
from docgen.assemble.space.items import Items, Sewing
from docgen.assemble.space.placed import How, Kind, Placed
from docgen.assemble.space.surface import Surface, bend
from docgen.assemble.space.track import Track
from docgen.assemble.space.vectors import TINY, Vec, inner
from docgen.assemble.space.welts import find_welts
from docgen.classes import dataclass
from docgen.geometry.shapes import Point
from docgen.geometry.vector import cross, dot, subtract, unit
from docgen.resolve import Fold, Seam

Sheet = tuple[int, tuple[Vec, ...]]
PARALLEL = 0.02  # the sine of the angle between folds that count as parallel
OFF_MM = 0.5
CORNER = Point(0.0, 0.0)
RIM_MM = 3.0  # what lies on another reaches no farther beyond it, so that nothing of it is seen: our choice


@dataclass(frozen=True, slots=True, kw_only=True)
class Tie:
    """A seam between a copy and another one, along lines of both."""

    seam: Seam
    own: Copy
    mine: Track
    other: Copy
    its: Track

    def beginnings(self) -> Iterator[Tie]:
        """The tie with its own line begun at each of its corners, where that is closed."""
        for at_mm in self.mine.corners_mm if self.mine.is_closed else (0.0,):
            yield replace(self, mine=self.mine.begun_at(at_mm))


class Scene:
    """The parts of a build while they are placed one by one."""

    def __init__(self, goods: Goods, assembly: Assembly, turned: Collection[str] = ()) -> None:
        self.goods, self.assembly = goods, assembly
        self.items = Items(goods, assembly, turned)
        self.placed: dict[Copy, Placed] = {}
        self._sheets: dict[Copy, tuple[Sheet, ...]] = {}
        self.kind: Kind = "lying"
        self.sewings = tuple(turn_ring(goods, one) for one in self.items.sewings)
        self.is_settled = False
        self.short_straps: dict[Copy, float] = {}  # the way between the holds of a strap that is shorter than that, mm
        self.low_handles: list[tuple[Copy, Copy, float]] = []  # a handle, its host, and the room under it, mm
        self.hung: list[tuple[Copy, Copy]] = []  # a strap, and a part in whose fold its ring lies
        self.untold_ways: dict[Copy, str] = {}  # what is riveted on and may lie more than one way, and why
        self.held_straight: list[tuple[Copy, Fold, Seam, Copy]] = []

    def item(self, copy: Copy) -> Item:
        return self.items.of(copy)

    def sheets(self, copy: Copy) -> tuple[Sheet, ...]:
        """The flat parts of a placed copy by their corners in space, with the band of each."""
        if copy not in self._sheets:
            placed = self.placed[copy]
            self._sheets[copy] = tuple(placed.sheets(placed.ring))
        return self._sheets[copy]

    def box(self, copy: Copy) -> tuple[Vec, Vec]:
        """The lowest and the highest corner of the upright box round a placed copy."""
        return box_round([at for _, corners in self.sheets(copy) for at in corners])

    def settle(self, sewings: tuple[Sewing, ...]) -> None:
        """From now on these copies are taken as sewn to each other."""
        self.sewings, self.is_settled = sewings, True
        del self.ties, self._firm_ties

    @cached_property
    def landing_order(self) -> dict[str, tuple[int, int]]:
        """Of parts that land on a piece the event that lays them there, and how many are written before: what comes first
        lies beneath."""
        pieces, made = self.goods.pieces.values(), self.assembly
        return {
            part: (made.laid_at(piece.name, part), k) for piece in pieces for k, part in enumerate(piece.landing_names)
        }

    @cached_property
    def ties(self) -> dict[Copy, tuple[Tie, ...]]:
        """Copy -> the seams that join it to other copies along lines of both, in the order of the work."""
        return self._tie(self.sewings)

    @cached_property
    def _firm_ties(self) -> dict[Copy, tuple[Tie, ...]]:
        return self._tie(tuple(one for one in self.sewings if self.is_settled or not one.is_loose))

    def _tie(self, sewings: tuple[Sewing, ...]) -> dict[Copy, tuple[Tie, ...]]:
        found: dict[Copy, list[Tie]] = {}
        for sewing in sewings:
            for mine in sewing.links:
                for its in sewing.links:
                    if mine is not its and mine.track and its.track and mine.copy != its.copy:
                        tie = Tie(seam=sewing.seam, own=mine.copy, mine=mine.track, other=its.copy, its=its.track)
                        found.setdefault(mine.copy, []).append(tie)
        return {copy: tuple(ties) for copy, ties in found.items()}

    def placed_ties(self, copy: Copy) -> list[Tie]:
        """Those of a copy to copies that are placed. While it is not settled which of several copies meet, their seams
        tie nothing."""
        return [tie for tie in self._firm_ties.get(copy, ()) if tie.other in self.placed]

    def ties_of(self, copy: Copy) -> tuple[Tie, ...]:
        return self.ties.get(copy, ())

    @cached_property
    def welts(self) -> Mapping[Copy, frozenset[Copy]]:
        """The copies that lie between two panels, with these: no part has its place from them."""
        return find_welts(self.items)

    def outer_partners(self, copy: Copy) -> dict[Copy, list[Tie]]:
        """The outer parts but for welts that are sewn to a copy, each with its seams."""
        found: dict[Copy, list[Tie]] = {}
        for tie in self.ties_of(copy):
            if not self.item(tie.other).is_inner and tie.other not in self.welts:
                found.setdefault(tie.other, []).append(tie)
        return found

    def comes_back(self, copy: Copy, host: Copy) -> bool:
        """Whether a part that is sewn to an edge of its host lies on that: its other side is sewn flat there, or it lands
        there."""
        is_sewn = any(beneath == host for _, _, beneath in self.flat_ties(copy))
        return is_sewn or any(True for _ in self.landings_of(copy, host))

    def landings_of(self, copy: Copy, host: Copy) -> Iterator[Lies]:
        """Where a part, or a strip that it is joined of, lands on another one, or on a strip of that."""
        own, its = ({one.part, *(strip.piece.name for strip in self.item(one).strips)} for one in (copy, host))
        for lies in self.assembly.lies:
            if lies.copy.part in own and lies.host.part in its and not lies.is_cover:
                yield lies

    def flat_ties(self, copy: Copy) -> Iterator[tuple[Seam, Track, Copy]]:
        """Seams of a copy along a line of it, on parts that lie flat beneath."""
        for sewing in self.sewings:
            mine = next((link.track for link in sewing.links if link.copy == copy and link.track), None)
            if mine is not None:
                yield from (
                    (sewing.seam, mine, link.copy) for link in sewing.links if link.track is None and link.copy != copy
                )

    def own_ties(self, copy: Copy) -> Iterator[tuple[Seam, Track, Track]]:
        """Seams that join a copy to itself."""
        for sewing in self.sewings:
            tracks = [link.track for link in sewing.links if link.copy == copy and link.track]
            if len(tracks) == 2:
                yield sewing.seam, tracks[0], tracks[1]

    def put(
        self,
        copy: Copy,
        how: How,
        surface: Surface,
        host: Copy | None = None,
        *,
        side: int = 0,
        ring: Sequence[Point] = (),
        is_free: bool = False,
        anchor: Point = CORNER,
    ) -> None:
        """Place a copy; `side` 1 on the outer face of its host, -1 behind it; `is_free` where it may turn about a line.
        Of a strap the `anchor` is where it is held."""
        item = self.item(copy)
        self.placed[copy] = Placed(
            copy=copy,
            how=how,
            host=host,
            surface=surface,
            ring=tuple(ring) or item.ring,
            level=self._level(copy, host, side, surface),
            is_grain_out=self._is_grain_out(copy, how, surface, host),
            is_inner=item.is_inner,
            item=item,
            is_free=is_free,
            anchor=anchor,
            lifts=((0.0, 0.0, 0.0),) * len(surface.bands),
        )

    def move(self, placed: Placed) -> None:
        """Place a copy otherwise than it is."""
        self.placed[placed.copy] = placed
        self._sheets.pop(placed.copy, None)

    def _is_grain_out(self, copy: Copy, how: How, surface: Surface, host: Copy | None) -> bool:
        """Whether the drawn side of a part is its outer one; what lines a part has its outer side away from that."""
        if how != "lies behind" or host is None:
            return self.item(copy).is_grain_out
        under, middle = self.placed[host], self.item(copy).box.centre
        own = surface.band_of(middle)
        feet = ((k, under.surface.foot(band, surface.point(middle))) for k, band in enumerate(under.surface.bands))
        near = ((round(abs(lift_mm), 3), k) for k, (foot, lift_mm) in feet if foot is not None)
        band = own if surface.bands == under.surface.bands else min(near, default=(0.0, 0))[1]
        return inner(surface.normal(own), under.out(band)) < 0

    def _level(self, copy: Copy, host: Copy | None, side: int, surface: Surface) -> int:
        """Linings lie in the order in which they come in; anything else over what lies there already."""
        if host is None or not side:
            return 0
        covers = [lies.copy for lies in self.assembly.lies if lies.host == host and lies.is_cover]
        if copy in covers:
            return side * (1 + covers.index(copy))
        beside = [one for one in self.placed.values() if one.host == host and one.level * side > 0]
        ring = self.item(copy).ring
        room = box_round([surface.point(at) for at in ring])
        under = [one for one in beside if rooms_meet(room, self.box(one.copy))]
        if under and len(surface.bands) > 1:  # the halves of what is folded lie in one place: a half counts by itself
            rooms = {band: box_round([surface.point(at, band) for at in its]) for band, its in surface.rings(ring)}
            alike = [one for one in beside if one.surface.bands == surface.bands]
            under = [one for one in under if one.surface.bands != surface.bands]
            under += [one for one in alike if self._meets(rooms, one)]
        return side * (1 + max((abs(one.level) for one in under), default=0))

    def _meets(self, rooms: Mapping[int, tuple[Vec, Vec]], other: Placed) -> bool:
        """Whether another part is in any of these rooms that bands take, in the same band."""
        return any(
            band in rooms and rooms_meet(rooms[band], box_round(corners)) for band, corners in self.sheets(other.copy)
        )

    def slip_mm(self, copies: Collection[Copy]) -> float:
        """How far what is sewn across lapped seams of these copies may slip along: their edges do not lie evenly there."""
        insets = self.goods.stitches
        seams = {tie.seam.name: tie.seam for copy in copies for tie in self.ties_of(copy)}
        laps = [
            (side.lap_mm, insets[seam.stitch].inset_mm) for seam in seams.values() for side in seam.sides if side.lap_mm
        ]
        return max((lap_mm - 2 * inset_mm for lap_mm, inset_mm in laps), default=0.0)

    def bent(self, copy: Copy, surface: Surface, anchor: Point) -> Surface:
        """A flat surface bent at the folds of the copy."""
        return bend(surface, self.bends(copy), anchor)

    def bends(self, copy: Copy) -> list[tuple[Point, Point, float]]:
        """The folds at which a copy is bent, with their angles: those that are parallel to the first."""
        return [(fold.start, fold.end, angle) for fold, angle in self.angles(copy)]

    def angles(self, copy: Copy) -> list[tuple[Fold, float]]:
        """The same by their folds: by how many degrees each turns to the flesh side, less than nothing to the grain."""
        item = self.item(copy)
        folds = [fold for fold in item.folds if not self.crosses_wall(copy, fold)]
        folds = [fold for fold in folds if is_parallel(fold, folds[0])]
        unsaid = sum(fold.is_open and not fold.angle_deg for fold in folds)
        turns = [(fold.angle_deg or 180 / unsaid) if fold.is_open else 180.0 for fold in folds]
        return [(fold, -turn if item.is_grain_in(fold) else turn) for fold, turn in zip(folds, turns, strict=True)]

    def crosses_wall(self, copy: Copy, fold: Fold) -> bool:
        """Whether a fold goes through a curved line along which a wall stands: it cannot bend there."""
        return any(
            not tie.mine.is_straight and tie.its.is_straight and crosses(fold, tie.mine)
            for ties in self.outer_partners(copy).values()
            for tie in ties
        )


def is_parallel(one: Fold, other: Fold) -> bool:
    """Whether two folds run the same way, so that a part bends at both."""
    return abs(cross(unit(subtract(one.end, one.start)), unit(subtract(other.end, other.start)))) < PARALLEL


def do_cross(folds: Sequence[Fold]) -> bool:
    """Whether folds run two ways, as those of a tray."""
    return not all(is_parallel(fold, folds[0]) for fold in folds)


def crosses(fold: Fold, track: Track) -> bool:
    """Whether a line goes from one side of a fold to the other, and not only touches it."""
    across = unit(subtract(fold.end, fold.start))
    sides = [cross(across, subtract(at, fold.start)) for at in track.points]
    reach = [dot(across, subtract(at, fold.start)) for at in track.points]
    whole = dot(across, subtract(fold.end, fold.start))
    spans = any(-OFF_MM <= at <= whole + OFF_MM for at in reach)
    return spans and min(sides) < -OFF_MM and max(sides) > OFF_MM


def box_round(points: Sequence[Vec]) -> tuple[Vec, Vec]:
    """The lowest and the highest corner of the upright box round some points."""
    axes = [*zip(*points, strict=True)]
    (x, y, z), (to_x, to_y, to_z) = map(min, axes), map(max, axes)
    return (x, y, z), (to_x, to_y, to_z)


def rooms_meet(one: tuple[Vec, Vec], other: tuple[Vec, Vec], near_mm: float = TINY) -> bool:
    """Whether two upright boxes, each by its lowest and highest corner, lie no farther from each other."""
    (x, y, z), (to_x, to_y, to_z) = one
    (its_x, its_y, its_z), (its_to_x, its_to_y, its_to_z) = other
    return (
        x <= its_to_x + near_mm
        and its_x <= to_x + near_mm
        and y <= its_to_y + near_mm
        and its_y <= to_y + near_mm
        and z <= its_to_z + near_mm
        and its_z <= to_z + near_mm
    )


def room_holds(one: tuple[Vec, Vec], other: tuple[Vec, Vec]) -> bool:
    """Whether an upright box reaches as far as another all round, but for a rim."""
    (low, high), (its_low, its_high) = one, other
    return all(low[k] - RIM_MM <= its_low[k] and its_high[k] <= high[k] + RIM_MM for k in range(3))
