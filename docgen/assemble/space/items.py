"""What is to be placed: of each part its outline, folds, holes and lines, and the lines along which it is sewn."""

from __future__ import annotations

import math
from collections.abc import Collection, Iterator, Sequence
from dataclasses import replace
from functools import cached_property

from docgen.assemble.assembly import Assembly, Copy
from docgen.assemble.goods import Goods
from docgen.assemble.space.hem_rings import ring_of
from docgen.assemble.space.item import Item, Mark, Strip
from docgen.assemble.space.rolled_up import roll_up
from docgen.assemble.space.track import Track, trace
from docgen.assemble.work_order import is_hem
from docgen.classes import dataclass
from docgen.geometry.nearby import near_finder
from docgen.geometry.outline import outline_box, outline_path, strip_outline, transform_outline
from docgen.geometry.path import flatten, part_of, path_box, polyline, transform_path
from docgen.geometry.run import is_whole, run_edges
from docgen.geometry.shapes import Line, Path, Point
from docgen.geometry.vector import Transform, transform_point
from docgen.resolve import Fold, Hole, Join, Piece, Seam, SeamSide, divider_name, lay_out_strips

SAME_MM = 0.1  # outlines that lie no farther off each other are the same
EDGE_MM = 0.05  # so near to an edge a fold lies on it


@dataclass(frozen=True, slots=True, kw_only=True)
class Link:
    """One side of a seam that is sewn: a copy and its stitch line, anticlockwise on its outline; None where it lies
    flat beneath."""

    copy: Copy
    track: Track | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Sewing:
    """A seam sewn once: its sides that are pieces or joins. It `is_loose` where it is sewn several times to copies of
    two parts, and which of them meet follows from their places alone."""

    seam: Seam
    links: tuple[Link, ...]
    is_loose: bool = False


class Items:
    """The parts of a build as items, each made once; pieces that are `turned` are read as if drawn on the flesh side."""

    def __init__(self, goods: Goods, assembly: Assembly, turned: Collection[str] = ()) -> None:
        self.goods, self.assembly, self.turned = goods, assembly, frozenset(turned)
        self._made: dict[tuple[str, bool], Item] = {}
        self._of: dict[Copy, Item] = {}

    @cached_property
    def covers(self) -> frozenset[Copy]:
        """Copies that lie behind another part."""
        return frozenset(lies.copy for lies in self.assembly.lies if lies.is_cover)

    @cached_property
    def has_leather(self) -> bool:
        return any(self.goods.is_leather(part) for part in (*self.goods.pieces, *self.goods.joins))

    @cached_property
    def fabric_walls(self) -> frozenset[str]:
        """Parts of fabric that are walls and no linings: none of their edges is sewn to leather, and leather or a strap
        lies on their outside, or they are sewn to such a wall round a corner; or leather lies on their hidden side, and
        none to which they are sewn is as large."""
        goods, lies = self.goods, self.assembly.lies
        edged = [[side for side in seam.sides if side.edges] for seam in goods.seams.values()]
        ruled_out = {one.copy.part for one in lies if one.is_behind}
        backed = {one.host.part for one in lies if one.is_inside and goods.is_leather(one.copy.part)}
        for sides in edged:
            leathers = [side.part for side in sides if goods.is_leather(side.part)]
            if leathers:
                ruled_out |= {
                    side.part for side in sides if side.part not in backed or not self._is_larger(side.part, leathers)
                }
        free = {
            part
            for part in (*goods.pieces, *goods.joins)
            if not goods.is_leather(part)
            and part not in ruled_out
            and not any(strip.lines for strip in goods.strips(part))
        }
        faced = {
            one.host.part
            for one in lies
            if not one.is_behind and (one.copy.part in goods.straps or goods.is_leather(one.copy.part))
        }
        walls = (faced | backed) & free
        for sides in edged if walls else ():
            if any(side.part in walls for side in sides):
                walls |= {side.part for side in sides if len(side.edges) > 1} & free
        return frozenset(walls)

    @cached_property
    def fabric_pockets(self) -> frozenset[str]:
        """Parts of fabric that lie on the inner side of a larger wall of fabric, where that is written."""
        return frozenset(
            one.copy.part
            for one in self.assembly.lies
            if one.is_inside
            and not one.is_cover
            and one.host.part in self.fabric_walls
            and not self.goods.is_leather(one.copy.part)
            and self._is_larger(one.host.part, [one.copy.part])
        )

    def _is_larger(self, part: str, others: Sequence[str]) -> bool:
        own_mm2 = math.prod(self.goods.size_mm(part))
        return all(math.prod(self.goods.size_mm(other)) < own_mm2 for other in others)

    @cached_property
    def copies(self) -> tuple[Copy, ...]:
        """All that is to be placed: copies of pieces and joins, without strips that are joined."""
        parts = [*(name for name in self.goods.pieces if name not in self.goods.joined_strips), *self.goods.joins]
        return tuple(copy for part in parts for copy in self.goods.copies(part))

    def of(self, copy: Copy) -> Item:
        """The item of a copy; of a pair the second half of the copies is mirrored."""
        if copy not in self._of:
            self._of[copy] = self._find(copy)
        return self._of[copy]

    def _find(self, copy: Copy) -> Item:
        strap = self.goods.straps.get(copy.part)
        piece = strap.piece if strap else self.goods.pieces.get(copy.part)
        is_second = piece is not None and piece.is_pair and copy.number > piece.cut // 2
        is_mirrored = is_second != (copy.part in self.turned)
        key = copy.part, is_mirrored
        if key not in self._made:
            is_fabric = self.has_leather and not self.goods.is_leather(copy.part)
            is_wall = copy.part in self.fabric_walls or copy.part in self.fabric_pockets
            is_inner = copy in self.covers or (is_fabric and not is_wall) or copy.part in self.goods.hung_walls
            if piece is None:
                self._made[key] = _read_join(self.goods, self.goods.joins[copy.part], is_inner)
            else:
                item = _read_piece(piece, is_inner, is_mirrored)
                self._made[key] = roll_up(self.goods, item, strap) if strap else item
        return self._made[key]

    def may_turn(self, part: str) -> bool:
        """Whether a piece is the same turned over, so that its left may be meant for its right: its outline, holes and
        folds are, and nothing lands on it; nor does it land itself, but for the inside of its host, where a maker sees it
        from behind."""
        piece = self.goods.pieces.get(part)
        lies = [one for one in self.assembly.lies if not one.is_cover]
        names = {one.host.part for one in lies} | {one.copy.part for one in lies if not one.is_inside}
        if piece is None or piece.is_pair or part in names:
            return False
        middle = outline_box(piece.outline).centre.x
        holes = tuple(hole.at for hole in piece.marks.holes)
        ends = tuple(at for fold in piece.marks.folds for at in (fold.start, fold.end))
        return self.is_even(Copy(part)) and all(_is_even(points, middle) for points in (holes, ends))

    def is_even(self, copy: Copy) -> bool:
        """Whether the outline of a part is the same turned over about its upright middle."""
        item = self.of(copy)
        return _is_even(item.ring, item.box.centre.x)

    @cached_property
    def sewings(self) -> tuple[Sewing, ...]:
        """Every time that a seam is sewn, with the stitch lines of its sides."""
        seams = self.goods.seams
        return tuple(
            Sewing(
                seam=seams[one.seam],
                links=tuple(self._links(seams[one.seam], one.sides)),
                is_loose=self._is_loose(seams[one.seam]),
            )
            for one in self.assembly.sewn
        )

    def _is_loose(self, seam: Seam) -> bool:
        sides = [side for side in seam.sides if side.edges and not side.copy]
        parts = {side.part for side in sides if self.goods.counts[side.part] > 1 and self.goods.is_leather(side.part)}
        return self.assembly.times(seam.name) > 1 and len(sides) == 2 and len(parts) == 2

    def _links(self, seam: Seam, copies: tuple[Copy, ...]) -> Iterator[Link]:
        known = set(self.copies)
        for index, side in enumerate(seam.sides):
            copy = copies[index] if side.edges else self.goods.as_joined(copies[index])
            if copy in known:
                yield Link(copy=copy, track=self._track(seam, side, index, copy) if side.edges else None)

    def _track(self, seam: Seam, side: SeamSide, index: int, copy: Copy) -> Track | None:
        if copy.part in self.goods.joins:
            stitch = self.goods.stitches[seam.stitch]
            inset_mm = side.line_mm(stitch.inset_mm)
            join = self.goods.joins[copy.part]
            return _join_track(join, self.goods.folded_across(join), side, inset_mm)
        piece = self.goods.pieces[copy.part]
        before = sum(other.part == side.part and bool(other.edges) for other in seam.sides[:index])
        lines = [line for line in piece.marks.stitch_lines if line.seam == seam.name and line.row == 0]
        if before >= len(lines):
            return None
        path = lines[before].path
        is_backward = not is_whole(piece.sewn_outline, side.edges) and run_edges(piece.sewn_outline, side.edges)[1]
        item = self.of(copy)
        if item.is_mirrored:
            path = transform_path(path, _mirror(piece))
        track = trace(path)
        if track.length_mm < SAME_MM:
            return None
        return track.reversed() if is_backward != item.is_mirrored else track


def _is_even(points: Sequence[Point], middle: float) -> bool:
    """Whether each point, turned about an upright middle, comes to lie on one of them."""
    near = near_finder(points, SAME_MM)
    return all(near(Point(2 * middle - at.x, at.y)) for at in points)


def _mirror(piece: Piece) -> Transform:
    middle = outline_box(piece.outline).centre.x
    return Transform(a=-1.0, e=2 * middle)


def _read_piece(piece: Piece, is_inner: bool, is_mirrored: bool) -> Item:
    piece = piece.turned_over() if is_mirrored else piece
    path = outline_path(piece.sewn_outline)
    ring = ring_of(path)
    return Item(
        part=piece.name,
        outline=piece.sewn_outline,
        ring=ring,
        box=path_box(path),
        is_inner=is_inner,
        is_grain_out=piece.shows != "flesh",
        folds=tuple(fold for fold in piece.own_folds if _parts(fold, ring)),
        holes=piece.marks.holes,
        strips=(Strip(piece=piece, move=Transform()),),
        is_mirrored=is_mirrored,
    )


def _parts(fold: Fold, ring: Sequence[Point]) -> bool:
    """Whether some of a piece lies on both sides of a fold: beyond one along its edge there is nothing to bend."""
    off = [fold.off_mm(at) for at in ring]
    return min(off) < -EDGE_MM and max(off) > EDGE_MM


def _read_join(goods: Goods, join: Join, is_inner: bool) -> Item:
    across = goods.folded_across(join)
    outline = transform_outline(strip_outline(across[1] - across[0], join.length_mm), Transform(e=across[0]))
    path = outline_path(outline)
    strips = tuple(_strips(goods, join))
    holes = tuple(_carry(hole, strip.move) for strip in strips for hole in strip.piece.marks.holes)
    seams = [seam for seam in goods.seams.values() if join.name in seam.parts]
    lines = [(seam, side) for seam in seams for side in seam.sides if side.part == join.name and side.edges]
    tracks = [(seam, _join_track(join, across, side, goods.stitches[seam.stitch].inset_mm)) for seam, side in lines]
    marks = [
        Mark(kind="stitch", name=seam.name, path=polyline(track.points)) for seam, track in tracks if track is not None
    ]
    marks += _strip_marks(goods, join, strips)
    for strip in strips[1:]:
        ends = Point(across[0], strip.begin_mm), Point(across[1], strip.begin_mm)
        marks.append(Mark(kind="joint", name=join.name, path=polyline(ends)))
    return Item(
        part=join.name,
        outline=outline,
        ring=ring_of(path),
        box=path_box(path),
        is_inner=is_inner,
        is_grain_out=all(strip.piece.shows != "flesh" for strip in strips),
        holes=holes,
        strips=strips,
        lines=tuple(marks),
        is_ring=join.is_ring,
    )


def _strip_marks(goods: Goods, join: Join, strips: Sequence[Strip]) -> Iterator[Mark]:
    """The rows of hems and of what is laid along the strips of a join, and windows cut in them, as far as it reaches
    after its overlaps."""
    hems = {seam.name for seam in goods.seams.values() if is_hem(seam.sides)}
    for strip in strips:
        marks, rows = strip.piece.marks, {divider_name(strip.piece.name), *(hems if strip.piece.hems else ())}
        found = [("stitch", line.seam, line.path) for line in marks.stitch_lines if line.seam in rows]
        found += [("slit", "", slit.path) for slit in marks.slits]
        for kind, name, path in found:
            points = (transform_point(at, strip.move) for at in flatten(path))
            kept = polyline([Point(x, min(max(y, 0.0), join.length_mm)) for x, y in points])
            yield Mark(kind=kind, name=name, path=kept)


def _carry(hole: Hole, move: Transform) -> Hole:
    return replace(hole, at=transform_point(hole.at, move))


def _strips(goods: Goods, join: Join) -> Iterator[Strip]:
    for laid in lay_out_strips(join, goods.pieces):
        piece = goods.pieces[laid.name]
        box = outline_box(piece.outline)
        if laid.is_turned:
            move = Transform(a=-1.0, d=-1.0, e=box.right, f=laid.offset_mm + box.top)
        else:
            move = Transform(e=-box.left, f=laid.offset_mm - box.bottom)
        yield Strip(piece=piece, move=move, begin_mm=laid.offset_mm)


def _join_track(join: Join, across: tuple[float, float], side: SeamSide, inset_mm: float) -> Track | None:
    """The stitch line along one edge of a join that reaches so far across, or a part of it, anticlockwise; None for what
    is no single edge."""
    edges = side.edges
    (left, right), whole = across, join.length_mm
    lines = {
        "left": (Point(left + inset_mm, whole), Point(left + inset_mm, 0.0)),
        "right": (Point(right - inset_mm, 0.0), Point(right - inset_mm, whole)),
        "start": (Point(left, inset_mm), Point(right, inset_mm)),
        "end": (Point(right, whole - inset_mm), Point(left, whole - inset_mm)),
    }
    ends = lines.get(edges[0]) if len(edges) == 1 else None
    if ends is None:
        return None
    line = Path((Line(*ends),))
    return trace(line if side.stretch_mm is None else part_of(line, *side.stretch_mm))
