"""Boxes folded up of one piece each, its corners sewn, and their lids: they bend two ways, which no surface in space does,
and are drawn by themselves in the finished article, a lid on its box."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from functools import cached_property
from itertools import pairwise

from docgen.assemble.apart.bodies import CHORD_MM, BodyFace, BodyHole, BodyLine
from docgen.assemble.apart.metal_bodies import MetalBody
from docgen.assemble.assembled import Assembled
from docgen.assemble.assembly import Copy
from docgen.assemble.space.metal import Metal
from docgen.assemble.space.surface import clip
from docgen.assemble.space.vectors import Vec, along, direction, inner, length, middle, minus, times
from docgen.classes import dataclass
from docgen.geometry.outline import outline_path
from docgen.geometry.path import circle_path, flatten
from docgen.geometry.shapes import Box, Point
from docgen.resolve import Piece

CORNERS = 4
SQUARE = 90.0
LEVEL_MM = 0.1  # so far askew a fold is level still
OFF_MM = 0.5  # so far material may lie within a corner that is cut out
APART_MM = 20.0  # between boxes that stand side by side in the drawing
OVER_MM = 1.5  # a lid over the rim of its box: room is left for the leather
SIDES = ("left", "right", "bottom", "top")
FLOOR = 4  # the face of the floor, after those of the walls


@dataclass(frozen=True, kw_only=True)
class Net:
    """A piece that folds up along the four sides of its floor; `is_grain_out`, and its walls go down where it is a lid."""

    piece: Piece
    floor: Box
    is_grain_out: bool
    is_lid: bool

    @property
    def high_mm(self) -> float:
        """The height of its highest wall."""
        return max(self._beyond(side, at) for at in self.ring for side in SIDES)

    @cached_property
    def ring(self) -> Sequence[Point]:
        return flatten(outline_path(self.piece.outline), CHORD_MM)[:-1]

    def wall(self, side: str) -> list[Point]:
        """The part of the piece beyond one side of its floor."""
        return clip(self.ring, [self._beyond(side, at) for at in self.ring])

    def side_of(self, at: Point) -> int:
        """The face that a point of the piece lies in."""
        return next((k for k, side in enumerate(SIDES) if self._beyond(side, at) > 0), FLOOR)

    def point(self, at: Point, face: int) -> Vec:
        """A point of the piece in space, the floor round (0, 0). A floor seen from its inner side is turned over,
        its front still before it."""
        beyond_mm = 0.0 if face == FLOOR else self._beyond(SIDES[face], at)
        x = min(max(at.x, self.floor.left), self.floor.right) - self.floor.centre.x
        y = min(max(at.y, self.floor.bottom), self.floor.top) - self.floor.centre.y
        return (-x if self.is_grain_out != self.is_lid else x), y, (-beyond_mm if self.is_lid else beyond_mm)

    def _beyond(self, side: str, at: Point) -> float:
        far = at.x if side in ("left", "right") else at.y
        return (far - self.floor.level(side)) * (1.0 if side in ("right", "top") else -1.0)


class BoxBody(MetalBody):
    """A box or its lid: its floor and walls as faces, their edges and folds, the rows of its corners, its holes."""

    is_leather = True

    def __init__(self, net: Net, title: str, at: Vec) -> None:
        part = Copy(net.piece.name)
        super().__init__(
            Metal(hardware="", part=part, shape="bar", at=at, axis=(0.0, 0.0, 1.0), way=(1.0, 0.0, 0.0), wide_mm=1.0),
            title,
        )
        self.net, self.at = net, at

    def point(self, at: Point, band: int) -> Vec:
        return along(self.at, self.net.point(at, band), 1.0)

    def heading(self, way: Point, band: int) -> Vec:
        """A direction on the piece in space, in a face."""
        ring = next(face.ring for face in self.faces if face.band == band)
        spot = Point(sum(x for x, _ in ring) / len(ring), sum(y for _, y in ring) / len(ring))
        return minus(self.point(Point(spot.x + way.x, spot.y + way.y), band), self.point(spot, band))

    @property
    def largest_band(self) -> int:
        return FLOOR

    @cached_property
    def faces(self) -> tuple[BodyFace, ...]:
        floor = self.net.floor
        corners = [
            (floor.left, floor.bottom),
            (floor.right, floor.bottom),
            (floor.right, floor.top),
            (floor.left, floor.top),
        ]
        rings = [*(self.net.wall(side) for side in SIDES), [Point(*at) for at in corners]]
        return tuple(self._face(k, ring) for k, ring in enumerate(rings) if len(ring) > 2)

    def _face(self, band: int, ring: Sequence[Point]) -> BodyFace:
        corners = tuple(self.point(at, band) for at in ring)
        outward = (0.0, 0.0, 1.0 if self.net.is_lid else -1.0)
        if band != FLOOR:
            x, y, _ = middle([self.net.point(at, band) for at in ring])
            outward = (x / abs(x), 0.0, 0.0) if SIDES[band] in ("left", "right") else (0.0, y / abs(y), 0.0)
        return BodyFace(band, tuple(ring), corners, outward if self.net.is_grain_out else times(outward, -1.0))

    @cached_property
    def lines(self) -> tuple[BodyLine, ...]:
        return (*(line for face in self.faces if face.band != FLOOR for line in self._rim(face)), *self._rows())

    def lines_for(self, scale: float) -> Sequence[BodyLine]:
        return self.lines

    def _rim(self, face: BodyFace) -> Iterator[BodyLine]:
        """The edges of a wall, and its fold."""
        centre = middle([*face.corners])
        for start, end in pairwise((*face.corners, face.corners[0])):
            run = minus(end, start)
            if length(run) < OFF_MM:
                continue
            if all(abs(at[2] - self.at[2]) < OFF_MM for at in (start, end)):
                yield BodyLine("bend", "", start, end, (face.band, FLOOR), is_sharp=True)
            else:
                way = direction(run)
                off = minus(centre, start)
                yield BodyLine("edge", "", start, end, (face.band,), direction(minus(off, times(way, inner(off, way)))))

    def _rows(self) -> Iterator[BodyLine]:
        for line in self.net.piece.marks.stitch_lines:
            for start, end in pairwise(flatten(line.path, CHORD_MM)):
                band = self.net.side_of(Point((start.x + end.x) / 2, (start.y + end.y) / 2))
                yield BodyLine("stitch", line.seam, self.point(start, band), self.point(end, band), (band,))

    @cached_property
    def holes(self) -> tuple[BodyHole, ...]:
        found = []
        for hole in self.net.piece.marks.holes:
            band = self.net.side_of(hole.at)
            rim = flatten(circle_path(hole.at, hole.diameter_mm / 2), CHORD_MM)
            found.append(BodyHole(band, self.point(hole.at, band), tuple(self.point(at, band) for at in rim)))
        return tuple(found)


def find_boxes(build: Assembled) -> tuple[BoxBody, ...]:
    """The boxes of a build, side by side, each lid on its box; none where anything is fast on them outside, or the corners
    of one are not sewn."""
    nets = {net.piece.name: net for piece in build.pieces if (net := _find_net(build, piece)) is not None}
    if not nets or _holds_more(build, nets):
        return ()
    at_mm, found, places = 0.0, list[BoxBody](), dict[str, Vec]()
    for name, net in nets.items():
        if net.piece.lid_of not in nets:
            places[name] = (at_mm + net.floor.width / 2, 0.0, 0.0)
            at_mm += net.floor.width + APART_MM
    for name, net in nets.items():
        box = nets.get(net.piece.lid_of)
        if box is not None:
            x, y, _ = places.get(net.piece.lid_of, (0.0, 0.0, 0.0))
            places[name] = (x, y, box.high_mm + OVER_MM)
        found.append(BoxBody(net, build.part_titles[name], places[name]))
    return tuple(found)


def _holds_more(build: Assembled, nets: Mapping[str, Net]) -> bool:
    """Whether boxes are joined to anything but what lies within them."""
    within = {lies.copy.part for lies in build.assembly.lies if lies.is_behind and lies.host.part in nets}
    own = {*nets, *within}
    is_sewn = any(not nets.keys().isdisjoint(seam.parts) and not own.issuperset(seam.parts) for seam in build.seams)
    outside = (lies for lies in build.assembly.lies if lies.host.part in nets or lies.copy.part in nets)
    takes = any(hole.takes for net in nets.values() for hole in net.piece.marks.holes)
    return is_sewn or takes or any(not lies.is_behind for lies in outside)


def _find_net(build: Assembled, piece: Piece) -> Net | None:
    floor, ways = find_floor(piece), {fold.is_grain_in(piece.shows) for fold in piece.own_folds}
    if floor is None or len(ways) != 1 or any(fold.angle_deg not in (0.0, SQUARE) for fold in piece.own_folds):
        return None
    net = Net(piece=piece, floor=floor, is_grain_out=ways == {False}, is_lid=bool(piece.lid_of))
    in_corners = any(
        max(floor.left - x, x - floor.right) > OFF_MM and max(floor.bottom - y, y - floor.top) > OFF_MM
        for x, y in net.ring
    )
    corners = [
        seam
        for seam in build.seams
        if len(seam.sides) == 2 and all(side.part == piece.name and len(side.edges) == 1 for side in seam.sides)
    ]
    return None if in_corners or len(corners) != CORNERS else net


def find_floor(piece: Piece) -> Box | None:
    """What lies between the four folds at which a piece is folded up, two of them upright and two level; None of others."""
    folds = piece.own_folds
    if len(folds) != CORNERS or not all(fold.is_open for fold in folds):
        return None
    upright = sorted(fold.start.x for fold in folds if abs(fold.start.x - fold.end.x) < LEVEL_MM)
    level = sorted(fold.start.y for fold in folds if abs(fold.start.y - fold.end.y) < LEVEL_MM)
    return Box(upright[0], level[0], upright[1], level[1]) if len(upright) == len(level) == CORNERS // 2 else None
