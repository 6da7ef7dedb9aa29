"""Parts that lie on others: where they land, behind what they line, by their seams, by a hole."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import islice, pairwise, permutations

from docgen.assemble.assembly import Copy, Lies
from docgen.assemble.space.first import anchor_of
from docgen.assemble.space.matched import MEETS_MM, fits, match
from docgen.assemble.space.placed import ALIKE, Placed
from docgen.assemble.space.pleat import pleated_mm
from docgen.assemble.space.posts import match_holes, post_line
from docgen.assemble.space.scene import Scene, Tie
from docgen.assemble.space.surface import Surface, flat, stand
from docgen.assemble.space.track import Track, trace
from docgen.assemble.space.vectors import TINY, Vec, apart, direction, inner, minus, outer, times
from docgen.geometry.measure import distance_to_path
from docgen.geometry.outline import WHOLE, edge_names, edge_path, outline_path
from docgen.geometry.shapes import Point
from docgen.geometry.vector import (
    Transform,
    between,
    compose,
    cross,
    distance,
    dot,
    scale,
    subtract,
    transform_point,
    transform_vector,
    translation,
    unit,
)
from docgen.resolve import Hole

HOLES_MM = 2.0  # holes that lie no farther apart are there for one post
RIM_PLACES = 12
SPOTS_MOST = 64  # pairs of holes that are looked at
ALL_ROUND_MM = 1.0  # how far a rim may lie off its host's for one to follow the other


Spot = tuple[Point, Copy, Point]
"""A hole of a part, and a host with the hole of it that the first may lie on."""

Held = tuple[tuple[int, float], Transform, tuple[Point, Copy]]
"""A way in which two holes of a part lie on two of a host: how well, the movement, and which hole is held by whom."""


def carry(scene: Scene, copy: Copy, host: Copy, move: Transform, anchor: Point | None = None) -> Surface:
    """The surface of a copy that lies on a placed host: bent with it, or at its own folds where it has any and the host
    has none there."""
    under = scene.placed[host].surface
    bends = scene.bends(copy)
    if not bends or (len(under.bands) > 1 and _bends_alike(scene, copy, host, move)):
        return under.carrying(move)
    anchor = anchor or anchor_of(scene, copy)
    band = under.band_of(transform_point(anchor, move))
    right = under.heading(transform_vector(Point(1.0, 0.0), move), band)
    up = under.heading(transform_vector(Point(0.0, 1.0), move), band)
    at = under.point(transform_point(anchor, move), band)
    zero = minus(minus(at, times(right, anchor.x)), times(up, anchor.y))
    return scene.bent(copy, flat(zero, right, up), anchor)


def _bends_alike(scene: Scene, copy: Copy, host: Copy, move: Transform) -> bool:
    """Whether the folds of a copy lie on those of its host."""
    under = scene.placed[host].surface
    cuts = [band.end_mm for band in under.bands[:-1]]
    ends = [transform_point(end, move) for fold in scene.item(copy).folds for end in (fold.start, fold.end)]
    return all(any(abs(under.measure(end)[0] - cut) < MEETS_MM for cut in cuts) for end in ends)


def land(scene: Scene, copy: Copy) -> bool:
    """Place a copy where it lands."""
    for lies in scene.assembly.lies:
        if lies.copy == copy and not lies.is_cover:
            found = _find_host(scene, lies)
            if found is not None:
                host, move = found
                move = compose(_face_up(scene, copy, host, is_inside=lies.is_inside), move)
                anchor = _anchor_on(scene, copy, host) or _hole_on(scene, copy, host, move)
                surface = carry(scene, copy, host, move, anchor)
                off_mm = _stand_off(scene, copy, host)
                placed = scene.placed[host]
                band = placed.surface.band_at(
                    placed.surface.measure(transform_point(scene.item(copy).box.centre, move))[0]
                )
                surface = surface.shifted(times(placed.out(band), off_mm)) if off_mm > TINY else surface
                scene.put(copy, "lies on", surface, host, side=-1 if lies.is_inside else 1, is_free=lies.is_over)
                return True
    return False


def _face_up(scene: Scene, copy: Copy, host: Copy, *, is_inside: bool) -> Transform:
    """What turns a part over about its upright middle, where it shows the other side than its host, or is seen from
    behind it."""
    item = scene.item(copy)
    if (item.is_grain_out == scene.item(host).is_grain_out) != is_inside:
        return Transform()
    return Transform(a=-1.0, e=2 * item.box.centre.x)


def _find_host(scene: Scene, lies: Lies) -> tuple[Copy, Transform] | None:
    """The placed host of what lands, and the movement on to it; of a strip, the join that it is part of."""
    if lies.host in scene.placed:
        return lies.host, lies.move
    for join in scene.goods.joined_strips.get(lies.host.part, ()):
        host = Copy(join)
        if host in scene.placed:
            strip = next(one for one in scene.item(host).strips if one.piece.name == lies.host.part)
            return host, compose(lies.move, strip.move)
    return None


def _anchor_on(scene: Scene, copy: Copy, host: Copy) -> Point | None:
    """The middle of the line along which a copy is sewn on its host."""
    return next((track.middle for _, track, beneath in scene.flat_ties(copy) if beneath == host), None)


def _hole_on(scene: Scene, copy: Copy, host: Copy, move: Transform) -> Point | None:
    """The hole of a copy that comes to lie on one of its host which is there for it too: that part of it stays."""
    under = [hole.at for hole in scene.item(host).holes if hole.takes or copy.part in hole.through]
    own = [hole.at for hole in scene.item(copy).holes]
    return next((at for at in own if any(math.dist(transform_point(at, move), to) < HOLES_MM for to in under)), None)


def _stand_off(scene: Scene, copy: Copy, host: Copy) -> float:
    """How far a bellows, sewn to a copy and flat on its host, keeps the copy off the host."""
    for tie in scene.ties_of(copy):
        for seam, track, beneath in scene.flat_ties(tie.other):
            is_other = seam is not tie.seam  # a seam through all three lays them flat on each other
            if is_other and beneath == host and tie.its.is_straight and track.is_straight:
                return pleated_mm(scene, tie.other, tie.its)
    return 0.0


def follow_rim(scene: Scene, copy: Copy) -> bool:
    """Place a part that is sewn flat on a placed one as wide as itself, and whose lines run along that one's rim from its
    lower end: they lie back to back."""
    for _, track, host in scene.flat_ties(copy):
        if host in scene.placed:
            box, under = scene.item(copy).box, scene.item(host).box
            moves = (
                Transform(a=-1.0, e=under.left + box.right, f=under.bottom - box.bottom),
                translation(under.left - box.left, under.bottom - box.bottom),
            )
            for move in moves if abs(box.width - under.width) < ALL_ROUND_MM else ():
                if _follows(scene, (copy, host), track, move):
                    scene.put(copy, "back to back", carry(scene, copy, host, move), host, side=-1)
                    return True
    return False


def _follows(scene: Scene, pair: tuple[Copy, Copy], track: Track, move: Transform) -> bool:
    """Whether a line keeps as far from the rim of the part beneath as from its own."""
    own, under = (outline_path(scene.item(copy).outline) for copy in pair)
    points = [track.point(track.length_mm * k / RIM_PLACES) for k in range(1, RIM_PLACES)]
    return all(
        abs(distance_to_path(own, at) - distance_to_path(under, transform_point(at, move))) < ALL_ROUND_MM
        for at in points
    )


def line(scene: Scene, copy: Copy) -> bool:
    """Place a lining or what else lies behind an outer part: by its seams, else as it lies behind what it lines."""
    ties = scene.placed_ties(copy)
    hosts = dict.fromkeys(tie.other for tie in ties)
    for host in sorted(hosts, key=lambda one: (scene.item(one).is_inner, -sum(tie.other == one for tie in ties))):
        first, *rest = mine = [tie for tie in ties if tie.other == host]
        ways = WAYS_BEHIND if _do_show_alike(scene, copy, host) else WAYS_BEHIND[::-1]
        tries = (match([one, *rest], [way]) for way in ways for one in first.beginnings())
        alone = (match([tie], [way]) for tie in mine for way in ways)
        move = next((move for move, off_mm in tries if off_mm <= MEETS_MM), None)
        move = move or next((move for move, off_mm in alone if off_mm <= MEETS_MM and fits(mine, move)), None)
        if move is not None:
            scene.put(copy, "lies behind", carry(scene, copy, host, move), host, side=-1)
            return True
    for lies in scene.assembly.lies:
        is_there = lies.copy == copy and lies.is_cover and lies.host in scene.placed and not scene.ties_of(copy)
        if is_there and not _is_one_of_several(scene, copy):
            scene.put(copy, "lies behind", _behind(scene, copy, lies.host), lies.host, side=-1)
            return True
    return False


def _is_one_of_several(scene: Scene, copy: Copy) -> bool:
    """Whether more copies of a part are cut than there are parts for it to lie behind: not all are in the middle."""
    places = [lies for lies in scene.assembly.lies if lies.copy.part == copy.part and lies.is_cover]
    return scene.goods.counts[copy.part] > len(places)


def _behind(scene: Scene, copy: Copy, host: Copy) -> Surface:
    """A part of its host's shape lies where that does, any other in its middle; the side that it shows away from the host
    where its shape lets it."""
    pieces, middle = scene.goods.pieces, scene.item(copy).box.centre
    cover, base = pieces.get(copy.part), pieces.get(host.part)
    is_alike = cover is not None and base is not None and cover.model == base.model
    by = subtract(scene.item(host).box.centre, middle)
    is_over = _do_show_alike(scene, copy, host) and scene.items.is_even(copy)
    turn = Transform(a=-1.0, e=2 * middle.x) if is_over else Transform()
    return scene.placed[host].surface.carrying(turn if is_alike else compose(turn, translation(by.x, by.y)))


def _do_show_alike(scene: Scene, one: Copy, other: Copy) -> bool:
    """Whether both show the side that they are drawn from, or neither does."""
    return scene.item(one).is_grain_out == scene.item(other).is_grain_out


# Whether the run of the copy is gone through the other way round, and whether it lies face down on its host. Its inside
# is on the same side as that of its host in these two.
BACK_TO_BACK, SAME_FACE = (True, True), (False, False)
GOES_ON = (True, False)
WAYS_BEHIND = (BACK_TO_BACK, SAME_FACE)


def faced(scene: Scene, tie: Tie, way: tuple[bool, bool]) -> tuple[bool, bool]:
    """The way in which a copy lies on its partner when one of them has its flesh side out: turned over once more."""
    if _do_show_alike(scene, tie.own, tie.other):
        return way
    return not way[0], not way[1]


def lie_between(scene: Scene, copy: Copy) -> bool:
    """Place a welt on the inner side of the first of its panels that is placed, either side up, once both are."""
    panels = scene.welts.get(copy, frozenset())
    host = next((one for one in scene.placed if one in panels), None)
    if host is None or not panels <= scene.placed.keys():
        return False
    ties = [tie for tie in scene.placed_ties(copy) if tie.other == host]
    move, off_mm = match(ties, (BACK_TO_BACK, SAME_FACE))
    if off_mm > max(MEETS_MM, *(tie.seam.eased_mm for tie in ties)):
        return False
    scene.put(copy, "lies on", carry(scene, copy, host, move), host, side=-1)
    beside = sum(scene.welts.get(one) == panels for one in scene.placed if one != copy)
    scene.placed[copy] = replace(scene.placed[copy], level=-1 - beside)  # next to its host, under the other panel
    return True


def hang(scene: Scene, copy: Copy) -> bool:
    """Place a part that is riveted on: its holes lie on those of another part that its hardware goes through. Held by one,
    it leads from there over the nearest edge that nothing is sewn to; by two, it leads there if it can."""
    spots = [*islice(_free_spots(scene, copy), SPOTS_MOST)]
    if not spots:
        return False
    pairs = [*_held_twice(scene, copy, spots)]
    pair = max(pairs, key=lambda found: found[0], default=None)
    if pair is not None and _hangs_both_ways(scene, copy, pair, pairs):
        scene.both_ways.add(copy)
        return False
    if pair is None and not scene.item(copy).folds and len({own for own, _, _ in spots}) > 1:
        return _bow_over(scene, copy, spots)  # by one hole alone it would lie otherwise than the others tell
    own, host, at = spots[0]
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
    """Holes of placed parts that share their hardware with one of a copy, and that no part hangs on yet."""
    for host, placed in scene.placed.items():
        names = {host.part, *(strip.piece.name for strip in placed.item.strips)}
        is_through = bool(own.takes) and not names.isdisjoint(own.through)
        for hole in placed.item.holes:
            if (not hole.takes and is_through) or (hole.takes and not own.takes and copy.part in hole.through):
                at = placed.surface.point(hole.at)
                if not any(_lies_on(other, at) for other in _hanging(scene, placed)):
                    yield host, hole.at


def _hanging(scene: Scene, host: Placed) -> Iterator[Placed]:
    """What hangs on a part already, or on one that looks the same way: the panels of a flat pouch have their holes in one
    place, and each its own tabs."""
    for other in scene.placed.values():
        its = scene.placed[other.host] if other.how == "hangs on" and other.host in scene.placed else None
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
