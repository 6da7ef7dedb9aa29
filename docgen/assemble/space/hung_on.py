"""Parts that are riveted on others: by one hole of each or two, or in a bow between them."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import islice, pairwise, permutations

from docgen.assemble.assembly import Copy
from docgen.assemble.fasten import list_told
from docgen.assemble.space.lay import carry
from docgen.assemble.space.matched import MEETS_MM
from docgen.assemble.space.placed import ALIKE, POINTS_UNTOLD, WAY_UNTOLD, Placed
from docgen.assemble.space.posts import match_holes, post_line
from docgen.assemble.space.scene import Scene
from docgen.assemble.space.surface import stand
from docgen.assemble.space.track import trace
from docgen.assemble.space.vectors import Vec, apart, direction, inner, minus, outer, times
from docgen.geometry.outline import WHOLE, edge_names, edge_path
from docgen.geometry.shapes import Point
from docgen.geometry.vector import (
    Transform,
    between,
    cross,
    distance,
    dot,
    scale,
    subtract,
    transform_point,
    transform_vector,
    unit,
)
from docgen.resolve import Hole

FAR_IN = 3.0  # so many times as far from an edge as a tab reaches, that is not why it is there: our choice
SPOTS_MOST = 64  # pairs of holes that are looked at


Spot = tuple[Point, Copy, Point]
"""A hole of a part, and a host with the hole of it that the first may lie on."""

Held = tuple[tuple[int, float], Transform, tuple[Point, Copy]]
"""A way in which two holes of a part lie on two of a host: how well, the movement, and which hole is held by whom."""


def hang(scene: Scene, copy: Copy) -> bool:
    """Place a part that is riveted on: its holes lie on those of another part that its hardware goes through. Held by one,
    it leads from there over the nearest edge that nothing is sewn to; by two, it leads there if it can."""
    spots = [*islice(_free_spots(scene, copy), SPOTS_MOST)]
    if not spots:
        return False
    pairs = [*_held_twice(scene, copy, spots)]
    pair = max(pairs, key=lambda found: found[0], default=None)
    if pair is not None and _hangs_both_ways(scene, copy, pair, pairs):
        scene.untold_ways[copy] = WAY_UNTOLD
        return False
    if pair is None and not scene.item(copy).folds and len({own for own, _, _ in spots}) > 1:
        return _bow_over(scene, copy, spots)  # by one hole alone it would lie otherwise than the others tell
    own, host, at = spots[0]
    if pair is None and _is_far_in(scene, copy, own, host, at):
        scene.untold_ways[copy] = POINTS_UNTOLD
        return False
    move = pair[1] if pair else _turn_on(own, _reach(scene, copy, own), at, free_way(scene, host, at))
    own, host = pair[2] if pair else (own, host)
    scene.put(copy, "hangs on", carry(scene, copy, host, move, own), host, side=1)
    return True


def _hangs_both_ways(scene: Scene, copy: Copy, best: Held, pairs: Sequence[Held]) -> bool:
    """Whether the holes of what is larger than its host, as a panel on a strip is, fit turned half round as well: a tab
    leads off its host, of a panel nothing tells."""
    (count, _), move, (_, host) = best
    ways = [other for (meeting, _), other, _ in pairs if meeting == count]
    is_larger = scene.item(copy).area_mm2 > scene.item(host).area_mm2
    return is_larger and any(move.a * other.a + move.b * other.b < 0 for other in ways)


def _is_far_in(scene: Scene, copy: Copy, own: Point, host: Copy, at: Point) -> bool:
    """Whether a tab that one hole holds, folded round a ring, comes nowhere near the edge over which it would lead. One
    with a buckle points to where its strap comes from, one on a wall of strips along that."""
    if host.part in scene.goods.joins:
        return False
    rings = {item.name for item in scene.goods.build.hardware if item.kind == "ring"}
    is_round = any(fold.around in rings and not fold.is_open for fold in scene.item(copy).folds)
    return is_round and math.hypot(*free_way(scene, host, at)) > FAR_IN * math.hypot(*_reach(scene, copy, own))


def has_spots(scene: Scene, copy: Copy) -> bool:
    """Whether a placed part has a hole for what goes through one of a part."""
    return any(True for _ in _free_spots(scene, copy))


def _bow_over(scene: Scene, copy: Copy, spots: Sequence[Spot]) -> bool:
    """Place a strip whose holes lie farther from each other than those that it is riveted to: it stands up in a bow."""
    (_, host, _), *_ = spots
    row = match_holes((own for own, _, _ in spots), (at for _, one, at in spots if one == host))
    if row is None or any(one != host for _, one, _ in spots):
        return False
    (start, _), (end, _) = row[0], row[-1]
    way = unit(subtract(end, start))
    reach = [dot(subtract(at, start), way) for at in scene.item(copy).ring]
    line = post_line(scene, host, row, (-min(reach), max(reach) - distance(start, end)))
    if line is None:
        return False
    placed = scene.placed[host]
    out = placed.out(placed.surface.band_of(row[0][1]))
    face = out if scene.item(copy).is_grain_out else times(out, -1.0)
    aside = direction(outer(face, minus(line[1][1], line[0][1])))
    scene.put(copy, "arches", stand(start, way, line, aside, ()), host, side=1, is_free=True, anchor=start)
    return True


def _held_twice(scene: Scene, copy: Copy, spots: Sequence[Spot]) -> Iterator[Held]:
    """The ways in which two holes of a part, on one side of its folds, lie on two of one host as far apart: how many of
    its holes then do, and whether it leads to the free edge; the movement, and which hole is held by whom."""
    for (own, host, at), (other, its, to) in permutations(spots, 2):
        is_one = host == its and distance(own, other) > MEETS_MM and not _parts(scene, copy, own, other)
        if is_one and abs(distance(own, other) - distance(at, to)) <= MEETS_MM:
            move = _turn_on(own, subtract(other, own), at, subtract(to, at))
            meeting = {one for one, under, spot in spots if under == host and _is_at(one, move, spot)}
            leads = dot(transform_vector(_reach(scene, copy, own), move), unit(free_way(scene, host, at)))
            yield (len(meeting), round(leads, 6)), move, (own, host)


def _is_at(hole: Point, move: Transform, spot: Point) -> bool:
    return distance(transform_point(hole, move), spot) <= MEETS_MM


def _parts(scene: Scene, copy: Copy, one: Point, other: Point) -> bool:
    """Whether a fold of a part lies between two of its points."""
    return any(
        cross(subtract(fold.end, fold.start), subtract(one, fold.start))
        * cross(subtract(fold.end, fold.start), subtract(other, fold.start))
        < 0
        for fold in scene.item(copy).folds
    )


def _free_spots(scene: Scene, copy: Copy) -> Iterator[Spot]:
    for hole in scene.item(copy).holes:
        yield from ((hole.at, host, at) for host, at in _free_holes(scene, copy, hole))


def _free_holes(scene: Scene, copy: Copy, own: Hole) -> Iterator[tuple[Copy, Point]]:
    """Holes of placed parts that share their hardware with one of a copy, and that no part hangs on yet; those too that
    name it themselves, where they are as many as go through them."""
    for host, placed in scene.placed.items():
        names = {host.part, *(strip.piece.name for strip in placed.item.strips)}
        is_through = bool(own.takes) and not names.isdisjoint(own.through)
        for hole in placed.item.holes:
            is_same = is_through and hole.takes == own.takes and not hole.through and _is_told(scene, names, own.takes)
            if (
                (not hole.takes and is_through)
                or is_same
                or (hole.takes and not own.takes and copy.part in hole.through)
            ):
                at = placed.surface.point(hole.at)
                if not any(_lies_on(other, at) for other in _hanging(scene, placed, copy.part)):
                    yield host, hole.at


def _is_told(scene: Scene, names: set[str], takes: str) -> bool:
    """Whether the holes of a part for some hardware are those that others name it for."""
    return not list_told(scene.goods).isdisjoint((name, takes) for name in names)


def _hanging(scene: Scene, host: Placed, part: str) -> Iterator[Placed]:
    """What hangs on a part already, or on one that looks the same way, and what of copies of a `part` has landed there: the
    panels of a flat pouch have their holes in one place, and each its own tabs."""
    for other in scene.placed.values():
        is_held = other.how == "hangs on" or (other.how == "lies on" and other.copy.part == part)
        its = scene.placed[other.host] if is_held and other.host in scene.placed else None
        if its is not None and (its is host or inner(its.out(0), host.out(0)) > -ALIKE):
            yield other


def _lies_on(other: Placed, at: Vec) -> bool:
    return any(apart(other.surface.point(hole.at), at) < MEETS_MM for hole in other.item.holes)


def _reach(scene: Scene, copy: Copy, hole: Point) -> Point:
    """The way from a hole to the fold of its part, else to the middle."""
    item = scene.item(copy)
    to = item.box.centre
    if item.folds:
        fold = item.folds[0]
        to = Point((fold.start.x + fold.end.x) / 2, (fold.start.y + fold.end.y) / 2)
    way = subtract(to, hole)
    return way if distance(to, hole) > MEETS_MM else Point(0.0, 1.0)


def _turn_on(hole: Point, way: Point, at: Point, out: Point) -> Transform:
    """The movement that lays a hole on a point, and a way from there on another."""
    long = math.hypot(*way) * math.hypot(*out)
    cos, sin = (way.x * out.x + way.y * out.y) / long, (way.x * out.y - way.y * out.x) / long
    return Transform(cos, sin, -sin, cos, at.x - cos * hole.x + sin * hole.y, at.y - sin * hole.x - cos * hole.y)


def free_way(scene: Scene, host: Copy, at: Point) -> Point:
    """The way from a point of a part to the nearest of its edges that no outer part is sewn to, as long as it is to the
    line that this edge lies on; of all where there is none."""
    outline = scene.item(host).outline
    taken = _taken_edges(scene, host)
    free = [name for name in edge_names(outline) if name not in taken and WHOLE not in taken]
    legs = [leg for name in free or edge_names(outline) for leg in pairwise(trace(edge_path(outline, name)).points)]
    start, end = min(legs, key=lambda leg: round(_off_leg(leg, at), 6))
    out = unit(Point(end.y - start.y, start.x - end.x))
    return scale(out, dot(subtract(start, at), out))


def _taken_edges(scene: Scene, host: Copy) -> set[str]:
    found: set[str] = set()
    for sewing in scene.sewings:
        links = [link for link in sewing.links if link.copy != host]
        if len(links) < len(sewing.links) and not all(scene.item(link.copy).is_inner for link in links):
            found |= {edge for side in sewing.seam.sides if side.part == host.part for edge in side.edges}
    return found


def _off_leg(leg: tuple[Point, Point], at: Point) -> float:
    start, end = leg
    far = subtract(end, start)
    share = dot(subtract(at, start), far) / (dot(far, far) or 1.0)
    return distance(at, between(start, end, min(max(share, 0.0), 1.0)))
