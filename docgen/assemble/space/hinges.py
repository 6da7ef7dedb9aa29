"""Lids that straps hold to a part: hardware goes through the strap in both. They are put as they close."""

from __future__ import annotations

from collections.abc import Iterator

from docgen.assemble.assembly import Copy
from docgen.assemble.space.arch import cut_line
from docgen.assemble.space.hung_on import free_way
from docgen.assemble.space.scene import Scene
from docgen.assemble.space.surface import flat
from docgen.assemble.space.vectors import Vec, along, apart, direction, minus, outer, times
from docgen.geometry.fitting import middle_of
from docgen.geometry.shapes import Point
from docgen.geometry.vector import add, turn_left, unit
from docgen.resolve import Strap

MID_MM = 0.5


def hinge(scene: Scene, copy: Copy) -> bool:
    """Place a part that straps without a landing join to a placed one: its edge on that one's edge, square to it and over
    its inside, as a lid closes."""
    for strap in _hinges(scene):
        own = [hole.at for hole in scene.item(copy).holes if strap in hole.through]
        host, under = next(((one, at) for one, at in holes_by_part(scene, strap) if one != copy), (None, []))
        if own and host is not None:
            _close(scene, copy, middle_of(own), host, middle_of(under))
            return True
    return False


def _hinges(scene: Scene) -> list[str]:
    """Straps that land nowhere."""
    landing = {one.strap for piece in scene.goods.pieces.values() for one in piece.strap_landings}
    return [name for name in scene.goods.straps if name not in landing]


def holes_by_part(scene: Scene, strap: str) -> Iterator[tuple[Copy, list[Point]]]:
    """Placed pieces with holes for what goes through a strap, and these holes."""
    for copy, placed in scene.placed.items():
        found = [hole.at for hole in placed.item.holes if strap in hole.through]
        if found and copy.part in scene.goods.pieces:
            yield copy, found


def _close(scene: Scene, copy: Copy, own: Point, host: Copy, under: Point) -> None:
    placed = scene.placed[host]
    way, its_way = free_way(scene, copy, own), free_way(scene, host, under)
    band = placed.surface.band_of(under)
    edge = placed.surface.point(add(under, its_way), band)
    up, out = direction(placed.surface.heading(its_way, band)), placed.out(band)
    ahead = unit(way)
    beside = turn_left(ahead)
    face = up if scene.item(copy).is_grain_out else times(up, -1.0)
    aside = outer(face, out)
    right, high = (along(times(out, one), aside, other) for one, other in zip(ahead, beside, strict=True))
    at = add(own, way)
    zero = along(along(edge, right, -at.x), high, -at.y)
    scene.put(copy, "hinges", scene.bent(copy, flat(zero, right, high), own), host, is_free=True)


def hinge_line(scene: Scene, strap: Strap, number: int) -> tuple[tuple[Vec, ...], Vec, Copy] | None:
    """The line of a strap that joins two placed parts over their edges, by its holes: from its first end, with the way that
    its outer face looks there and the part it begins on. None where it joins no two."""
    found = [*holes_by_part(scene, strap.name)]
    holes = sorted(hole.at.y for hole in strap.piece.marks.holes)
    if len(found) != 2 or len(holes) < 2 or number > len(found[0][1]):
        return None
    (one, points), (other, its_points) = found
    at = points[number - 1]
    first = scene.placed[one].surface.point(at)
    its_at = min(its_points, key=lambda to: round(apart(scene.placed[other].surface.point(to), first), 6))
    edges = [_edge_and_way(scene, *pivot) for pivot in ((one, at), (other, its_at))]
    (edge, way), (far_edge, its_way) = edges
    start = along(first, way, -holes[0])
    corners = [start, edge, far_edge, along(far_edge, its_way, -strap.cut_length_mm)]
    line = [to for k, to in enumerate(corners) if k == 0 or apart(to, corners[k - 1]) > MID_MM]
    band = scene.placed[one].surface.band_of(at)
    return cut_line(line, 0.0, strap.cut_length_mm), scene.placed[one].out(band), one


def _edge_and_way(scene: Scene, copy: Copy, at: Point) -> tuple[Vec, Vec]:
    """The point of an edge straight on from a hole of a placed part, and the way there."""
    surface, way = scene.placed[copy].surface, free_way(scene, copy, at)
    band = surface.band_of(at)
    edge = surface.point(add(at, way), band)
    return edge, direction(minus(edge, surface.point(at, band)))
