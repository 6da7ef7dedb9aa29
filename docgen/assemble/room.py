"""The room inside, worked out from the pieces: an estimate, by plane geometry.

A bag on a wall: as wide and high as its panel between the stitch lines, as deep as the wall between its seams. A round
one: as wide as its base within the stitch line. A pouch has no depth of its own: what goes in is as wide and thick
together as it is wide, but in a cover, whose spine takes the thickness; so does a panel that lands on one as wide, which
is no part of a larger one. Lining and foam are taken off; leather bends at its stitches, and is not. What is of none of
these kinds is not worked out. A pouch whose back goes on to the fold of a flap is as high as that.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace
from itertools import permutations

from docgen.assemble.assembly import Room, RoomKind
from docgen.assemble.between_folds import between_folds
from docgen.assemble.goods import Goods
from docgen.assemble.sewn_round import is_sewn_round
from docgen.geometry.outline import RIM, WHOLE, outline_box
from docgen.geometry.path import flatten, path_box, ring_area
from docgen.geometry.shapes import Path, Point
from docgen.geometry.vector import distance
from docgen.resolve import Build, Piece, Seam, SeamSide
from docgen.written.units.telling import Show, format_short

SQUARE_SHARE = 0.9  # a panel that fills less of its width times its height has no one width: our choice
MOUTH_SHARE = 0.5  # of its width, that a room is open at least between the ends of its row: our choice
CHORDS_MM = 0.05  # how far chords may lie off a stitch line: nothing to an estimate
TINY_MM = 1e-6
SAME_MM = 0.5
MORE_AREA = 1.2  # so many times as large is what a piece is a part of: our choice
WELT_MM = 26.0  # a welt is no wider: our choice
BESIDE_AND_FOOT = 3  # edges by which a pocket is sewn
BAG_DEEP_MM = 20.0  # a room that is written and so deep is a bag's: our choice
AS_WIDE = 0.9  # a panel as wide as its host leaves the room of the whole: our choice


def find_room(goods: Goods) -> Room | None:
    """The largest room that follows from the pieces; None where none does."""
    found = [*_boxes(goods), *_rounds(goods)] or [*_pouches(goods)] or [*_landed(goods)]
    return max(found, key=lambda room: room.width_mm * room.height_mm * max(room.depth_mm, 1.0), default=None)


def room_words(room: Room, show: Show) -> str:
    """The room that is worked out, as an estimate; of a box the longer way across first, then its height."""
    deep_mm, wide_mm = sorted((room.width_mm, room.depth_mm)) if room.kind == "box" else (room.depth_mm, room.width_mm)
    sizes = [format_short(length_mm, show) for length_mm in (wide_mm, room.height_mm, deep_mm)]
    if room.kind == "pouch":
        return f"about {sizes[0]} of width and thickness together x {sizes[1]}"
    if room.kind == "round":
        return f"about {sizes[0]} across x {sizes[1]}"
    return f"about {' x '.join(sizes)}"


def is_of_whole(build: Build, room: Room) -> bool:
    """Whether a room is that of the whole: not of one of the pockets of a roll, whose dividing lines part it, nor of one of
    the sleeves of a cover."""
    if room.kind != "pouch":
        return True
    is_parted = any(not line.goods for one in build.pieces if one.name in room.parts for line in one.dividers)
    sleeves = [
        seam
        for seam in build.seams
        if any(side.part in room.parts and side.stretch_mm for side in seam.sides)
        and sum(len(side.edges) >= BESIDE_AND_FOOT for side in seam.sides) > 1
    ]
    return not is_parted and len(sleeves) < 2


def is_bag(build: Build, room: Room | None) -> bool:
    """Whether a build keeps its shape when it is filled: its room has a depth, and is no cover's; where no room is known,
    a part is sewn to others by its left and its right edge."""
    if build.inside is not None:
        return build.inside.depth_mm >= BAG_DEEP_MM
    if room is not None:
        return room.kind != "pouch" and not room.closes
    sewn = {
        (side.part, side.edges)
        for seam in build.seams
        for side in seam.sides
        if any(other.edges and other.part != side.part for other in seam.sides)
    }
    return any((part, ("right",)) in sewn for part, edges in sewn if edges == ("left",))


def goes_in_room(size_mm: tuple[float, float, float], room: Room) -> bool:
    """Whether a box goes in, turned as need be; what is as deep as wide may be round, and is taken for that in a round
    room."""
    for a, b, up in permutations(size_mm):
        if room.kind == "box":
            across = a <= room.width_mm + TINY_MM and b <= room.depth_mm + TINY_MM
        elif room.kind == "pouch":
            across = a + b <= room.width_mm + TINY_MM
        else:
            across = (a if math.isclose(a, b) else math.hypot(a, b)) <= room.width_mm + TINY_MM
        if across and up <= room.height_mm + TINY_MM:
            return True
    return False


def _boxes(goods: Goods) -> Iterator[Room]:
    """Rooms between two panels on both edges of one wall."""
    for wall in (*goods.pieces, *goods.joins):
        if _is_behind(goods, wall):
            continue  # a lining is sewn in with the wall that it lines
        side_mm, foot_mm = _behind_wall_mm(goods, wall)
        lefts, rights = (_panels(goods, wall, edge) for edge in ("left", "right"))
        for seam, panel, (width_mm, height_mm) in lefts:
            for other_seam, other, _ in rights:
                deep_mm = _across_mm(goods, wall) - _rows_mm(goods, seam) - _rows_mm(goods, other_seam)
                deep_mm -= _faced_mm(goods, seam, panel) + _faced_mm(goods, other_seam, other)
                yield from _room(
                    "box",
                    width_mm - side_mm,
                    height_mm - foot_mm * (2 if WHOLE in _edges_of(seam, panel) else 1),
                    deep_mm - _behind_mm(goods, panel) - _behind_mm(goods, other),
                    (panel, other, wall),
                )


def _panels(goods: Goods, wall: str, edge: str) -> list[tuple[Seam, str, tuple[float, float]]]:
    """Panels that are sewn along one edge of a wall, each with what lies within its stitch line."""
    found = []
    for seam, side in _partners(goods, wall, edge):
        size = None if _is_behind(goods, side.part) else _within_mm(goods, seam, side)
        if size is not None:
            found.append((seam, side.part, size))
    return found


def _edges_of(seam: Seam, part: str) -> tuple[str, ...]:
    return next(side.edges for side in seam.sides if side.part == part)


def _partners(goods: Goods, part: str, edge: str) -> Iterator[tuple[Seam, SeamSide]]:
    for seam in goods.seams.values():
        if any(side.part == part and side.edges == (edge,) for side in seam.sides):
            yield from ((seam, side) for side in seam.sides if side.part != part and side.edges)


def _within_mm(goods: Goods, seam: Seam, side: SeamSide) -> tuple[float, float] | None:
    """Width and height within a stitch line round three sides of a piece or all of it; None for what is not square
    enough."""
    piece = goods.pieces.get(side.part)
    rows = [line.path for line in piece.marks.stitch_lines if line.seam == seam.name] if piece else []
    lines = [between_folds(piece, row) for row in rows] if piece else []
    inner = min(lines, key=lambda path: abs(ring_area(flatten(path)))) if len(lines) > 1 else next(iter(lines), None)
    if inner is not None and inner.closed:
        box = path_box(inner)
        is_square = abs(ring_area(flatten(inner, CHORDS_MM))) >= SQUARE_SHARE * box.width * box.height
        return (box.width, box.height) if is_square else None
    return None if inner is None or len(side.edges) < 3 else _square(inner)


def _over_mouth_mm(goods: Goods, seam: Seam, side: SeamSide) -> float:
    """How far a piece goes on over the ends of its stitch line to an open fold, as a back does up to its flap."""
    piece = goods.pieces[side.part]
    row = next(line.path for line in piece.marks.stitch_lines if line.seam == seam.name)
    line = flatten(between_folds(piece, row))
    first, last = line[0], line[-1]
    foot = max(line, key=lambda at: abs(_cross(first, last, at)))
    folds = [Point((f.start.x + f.end.x) / 2, (f.start.y + f.end.y) / 2) for f in piece.marks.folds if f.is_open]
    away = [_cross(first, last, at) for at in folds if _cross(first, last, at) * _cross(first, last, foot) < 0]
    nearest = min((abs(area) for area in away), default=0.0)
    return nearest / distance(first, last)


def _square(line: Path) -> tuple[float, float] | None:
    points = flatten(line, CHORDS_MM)
    first, last = points[0], points[-1]
    width_mm = distance(first, last)
    box = path_box(line)
    if width_mm < max(MOUTH_SHARE * min(box.width, box.height), TINY_MM):
        return None  # sewn up but for a corner: nothing goes in
    height_mm = max(abs(_cross(first, last, at)) for at in points) / width_mm
    is_square = abs(ring_area(points)) >= SQUARE_SHARE * width_mm * height_mm
    return (width_mm, height_mm) if is_square else None


def _cross(a: Point, b: Point, at: Point) -> float:
    return (b.x - a.x) * (at.y - a.y) - (b.y - a.y) * (at.x - a.x)


def _pouches(goods: Goods) -> Iterator[Room]:
    """Rooms between two panels that are sewn to each other round three sides."""
    for seam in goods.seams.values():
        sides = [side for side in seam.sides if side.edges and not _is_behind(goods, side.part)]
        sides = [side for side in sides if not _is_welt(goods, side)]
        sizes = [_within_mm(goods, seam, side) for side in sides]
        whole = [size for size in sizes if size is not None]
        if any(WHOLE in side.edges for side in sides):
            continue  # sewn up all round: nothing goes in
        if any(_lies_inside(goods, side.part) for side in sides):
            continue  # a pocket that hangs in something
        if len(sides) == 2 and all(_is_shut(goods, one.part, other.part) for one, other in permutations(sides)):
            continue  # a lining all over
        if len(sides) == 2 and len(whole) == 2 and not any(side.lap_mm for side in seam.sides):
            behind_mm = sum(_behind_mm(goods, side.part) for side in sides)
            width_mm, height_mm = (min(size[k] for size in whole) for k in (0, 1))
            height_mm += max(_over_mouth_mm(goods, seam, side) for side in sides)
            spine_mm, parts = max(_spine_mm(goods, side) for side in sides), tuple(side.part for side in sides)
            rooms = _room("box" if spine_mm else "pouch", width_mm - behind_mm, height_mm, spine_mm, parts)
            yield from (replace(room, closes=spine_mm > 0) for room in rooms)


def _is_shut(goods: Goods, part: str, other: str) -> bool:
    """Whether seams, none of them a zip's, take a panel by all its edges, right along, to another one."""
    sewn = {
        edge
        for seam in goods.seams.values()
        if not seam.trimmings and any(side.part == other and side.edges for side in seam.sides)
        for side in seam.sides
        if side.part == part and not side.ends
        for edge in side.edges
    }
    piece = goods.pieces.get(part)
    return piece is not None and {edge.name for edge in piece.outline.edges if not edge.corner} <= sewn


def _lies_inside(goods: Goods, part: str) -> bool:
    """Whether a part has its place on the inner side of another."""
    marks = (mark for piece in goods.pieces.values() for mark in piece.marks.landings)
    return any(mark.is_inside and mark.piece == part for mark in marks)


def _spine_mm(goods: Goods, side: SeamSide) -> float:
    """How wide the spine is of a cover with a sleeve on either half, between its two open folds: as thick is what goes in;
    0 of any other piece."""
    piece = goods.pieces[side.part]
    folds = [fold for fold in piece.own_folds if fold.is_open]
    sleeves = [it for seam in goods.seams.values() for it in seam.sides if it.part == piece.name and it.stretch_mm]
    if len(folds) != 2 or sum(len(it.edges) >= BESIDE_AND_FOOT for it in sleeves) != 2:
        return 0.0
    return abs(folds[0].off_mm(folds[1].middle))


def _is_welt(goods: Goods, side: SeamSide) -> bool:
    """Whether a partner is a narrow strip that lies between the others by its long edge."""
    piece = goods.pieces.get(side.part)
    is_strip = piece is not None and piece.shape == "strip" and side.edges in (("left",), ("right",))
    return is_strip and piece is not None and outline_box(piece.outline).width <= WELT_MM


def _landed(goods: Goods) -> Iterator[Room]:
    """Rooms between a panel that is sewn round three sides and the one as wide on which it lands."""
    for seam in goods.seams.values():
        edged = [side for side in seam.sides if side.edges and side.part in goods.pieces]
        flat = [goods.pieces[it.part] for it in seam.sides if not it.edges and it.part in goods.pieces]
        hosts = [host for host in flat if not (_is_behind(goods, host.name) or _is_within(goods, host))]
        if len(edged) != 1 or len(hosts) != 1 or edged[0].lap_mm or _is_behind(goods, edged[0].part):
            continue
        size, host, name = _within_mm(goods, seam, edged[0]), hosts[0], edged[0].part
        wide_mm = [outline_box(piece.sewn_outline).width for piece in (goods.pieces[name], host)]
        marks = [mark for mark in host.marks.landings if mark.piece == name]
        if size is None or len(marks) != 1 or wide_mm[0] < AS_WIDE * wide_mm[1]:
            continue
        is_open = bool(host.marks.slits or goods.pieces[name].marks.slits)
        if not is_open and is_sewn_round(goods.pieces[name], goods.seams.values(), host.name):
            continue
        behind_mm = sum(_behind_mm(goods, part) for part in (name, host.name))
        top_mm = path_box(marks[0].outline).top
        folds = [(fold.start.y + fold.end.y) / 2 for fold in host.marks.folds if fold.is_open]
        more_mm = min((at - top_mm for at in folds if at > top_mm), default=0.0)
        yield from _room("pouch", size[0] - behind_mm, size[1] + more_mm, 0.0, (name, host.name))


def _is_round(edges: tuple[str, ...]) -> bool:
    """Whether a run goes right round a circle: by its only edge, or by all."""
    return edges in ((WHOLE,), (RIM,))


def _is_within(goods: Goods, piece: Piece) -> bool:
    """Whether a piece is sewn by an edge to a larger one, as the pocket of a cover is: that is what holds things."""
    own = outline_box(piece.outline)
    mates = {
        side.part
        for seam in goods.seams.values()
        if any(side.part == piece.name and side.edges for side in seam.sides)
        for side in seam.sides
        if side.edges and side.part in goods.pieces
    }
    boxes = (outline_box(goods.pieces[name].outline) for name in mates - {piece.name})
    return any(box.width * box.height > MORE_AREA * own.width * own.height for box in boxes)


def _rounds(goods: Goods) -> Iterator[Room]:
    """Rooms over a round base; where the wall has one at both ends, between them."""
    for piece in goods.pieces.values():
        if piece.shape != "circle" or _is_behind(goods, piece.name):
            continue
        for seam in goods.seams.values():
            sides = {side.part: side.edges for side in seam.sides}
            for wall, edges in sides.items():
                is_foot = (
                    wall != piece.name and edges in (("left",), ("right",)) and _is_round(sides.get(piece.name, ()))
                )
                if is_foot and not _is_behind(goods, wall):
                    inset_mm = _rows_mm(goods, seam)
                    across_mm = outline_box(piece.outline).width - 2 * inset_mm - 2 * _behind_mm(goods, wall)
                    far = "right" if edges == ("left",) else "left"
                    ends = [other for other, side in _partners(goods, wall, far) if _is_round(side.edges)]
                    up_mm = _across_mm(goods, wall) - inset_mm - sum(_rows_mm(goods, end) for end in ends[:1])
                    up_mm -= _behind_mm(goods, piece.name) * (2 if ends else 1)
                    yield from _room("round", across_mm, up_mm, across_mm, (piece.name, wall))


def _room(kind: RoomKind, width_mm: float, height_mm: float, depth_mm: float, parts: tuple[str, ...]) -> Iterator[Room]:
    if min(width_mm, height_mm) > 0 and (depth_mm > 0 or kind == "pouch"):
        yield Room(kind=kind, width_mm=width_mm, height_mm=height_mm, depth_mm=depth_mm, parts=parts)


def _is_behind(goods: Goods, part: str) -> bool:
    """Whether a part is a lining, foam or board behind another."""
    return any(goods.covers(part, other) for other in (*goods.pieces, *goods.joins) if other != part)


def _behind_mm(goods: Goods, part: str) -> float:
    """Thickness of all that lies behind a part."""
    covers = (other for other in (*goods.pieces, *goods.joins) if other != part and goods.covers(other, part))
    strips = {name for join in goods.joins.values() for name in join.pieces}
    return math.fsum(goods.whole_layer(cover).thickness_mm for cover in covers if cover not in strips)


def _behind_wall_mm(goods: Goods, wall: str) -> tuple[float, float]:
    """Thickness of all that lies behind a wall at both sides together, and at its foot: behind the whole of it, and behind
    the first and last of its strips and those between them."""
    whole_mm = _behind_mm(goods, wall)
    own_mm = [_behind_mm(goods, strip) for strip in goods.strips_of_join(wall) if strip in goods.pieces]
    sides_mm = [own_mm[0], own_mm[-1]] if own_mm else [0.0, 0.0]
    return 2 * whole_mm + sum(sides_mm), whole_mm + max(own_mm[1:-1] or own_mm or [0.0])


def _faced_mm(goods: Goods, seam: Seam, panel: str) -> float:
    """Thickness of the facings that a seam sews in along a panel, as wide and high within their rows as that, and written
    to line nothing: of all such layers the thickest is the panel."""
    sizes = {side.part: _within_mm(goods, seam, side) for side in seam.sides if not _is_behind(goods, side.part)}
    layers = [part for part, size in sizes.items() if size is not None and _is_same(size, sizes[panel])]
    thick_mm = [goods.whole_layer(part).thickness_mm for part in layers]
    return math.fsum(thick_mm) - max(thick_mm, default=0.0)


def _is_same(one: tuple[float, float], other: tuple[float, float] | None) -> bool:
    return other is not None and all(abs(a - b) < SAME_MM for a, b in zip(one, other, strict=True))


def _across_mm(goods: Goods, wall: str) -> float:
    """Width of a wall, from its left to its right edge, its hems turned."""
    if wall in goods.joins:
        left, right = goods.folded_across(goods.joins[wall])
        return right - left
    return outline_box(goods.pieces[wall].sewn_outline).width


def _rows_mm(goods: Goods, seam: Seam) -> float:
    """How far from the edge the innermost row of a seam lies."""
    stitch = goods.stitches[seam.stitch]
    return stitch.inset_mm + (stitch.rows - 1) * stitch.row_gap_mm
