"""Parts that lie on others: where they land, behind what they line, by their seams."""

from __future__ import annotations

import math
from dataclasses import replace

from docgen.assemble.assembly import Copy, Lies
from docgen.assemble.space.first import anchor_of, find_kept
from docgen.assemble.space.matched import MEETS_MM, fits, match
from docgen.assemble.space.pleat import pleated_mm
from docgen.assemble.space.scene import Scene, Tie, do_cross
from docgen.assemble.space.surface import Surface, flat, is_in_ring
from docgen.assemble.space.track import Track
from docgen.assemble.space.vectors import TINY, minus, times
from docgen.geometry.folding import part_beside
from docgen.geometry.measure import distance_to_path
from docgen.geometry.outline import outline_path
from docgen.geometry.path import path_box
from docgen.geometry.shapes import Point
from docgen.geometry.vector import Transform, compose, subtract, transform_point, transform_vector, translation
from docgen.resolve import turns_out

HOLES_MM = 2.0  # holes that lie no farther apart are there for one post
RIM_PLACES = 12
RIGHT = Point(1.0, 0.0)
LOOKS = 11  # places each way at which it is looked whether a part lies on its host
ALL_ROUND_MM = 1.0  # how far a rim may lie off its host's for one to follow the other


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
    """Whether the folds of a copy lie on those of its host; where these run two ways, also on those that do not bend it."""
    under, beneath = scene.placed[host].surface, scene.item(host).folds
    cuts = [band.end_mm for band in under.bands[:-1]]
    folds = [(transform_point(fold.start, move), transform_point(fold.end, move)) for fold in scene.item(copy).folds]
    if do_cross(beneath):
        return all(any(all(abs(fold.off_mm(end)) < MEETS_MM for end in ends) for fold in beneath) for ends in folds)
    return all(any(all(abs(under.measure(end)[0] - cut) < MEETS_MM for end in ends) for cut in cuts) for ends in folds)


def land(scene: Scene, copy: Copy) -> bool:
    """Place a copy where it lands."""
    for lies in scene.assembly.lies:
        if lies.copy == copy and not lies.is_cover:
            found = _find_host(scene, lies)
            if found is not None:
                host, move = found
                if not move.is_mirror:  # what is another shape turned over lands so
                    is_round = lies.is_over and turns_out(scene.item(copy).folds, scene.goods.pieces[copy.part].shows)
                    is_turned = lies.is_inside and not is_round
                    move = compose(_face_up(scene, copy, host, is_turned=is_turned), move)
                held = None if find_kept(scene, copy) else _anchor_on(scene, copy, host)
                anchor = held or _hole_on(scene, copy, host, move) or _place_on(scene, copy, host, move)
                surface = carry(scene, copy, host, move, anchor)
                off_mm = _stand_off(scene, copy, host)
                placed = scene.placed[host]
                band = placed.surface.band_at(placed.surface.measure(transform_point(_middle(scene, copy), move))[0])
                surface = surface.shifted(times(placed.out(band), off_mm)) if off_mm > TINY else surface
                side = -1 if lies.is_inside else 1
                scene.put(copy, "lies on", surface, host, side=side, is_free=lies.is_over, anchor=anchor)
                if len(surface.bands) > 1 and len(placed.surface.bands) > 1:
                    on = placed.surface.band_of(transform_point(anchor, move))
                    scene.move(replace(scene.placed[copy], host_band=on))
                return True
    return False


def _face_up(scene: Scene, copy: Copy, host: Copy, *, is_turned: bool) -> Transform:
    """What turns a part over about its upright middle, where it shows the other side than its host, or is seen from
    behind it; what lands folded across that about its level one, so that its fold stays on the side where it is said."""
    item = scene.item(copy)
    if (item.is_grain_out == scene.item(host).is_grain_out) != is_turned:
        return Transform()
    kept, middle = find_kept(scene, copy), _middle(scene, copy)
    way = subtract(kept.fold.end, kept.fold.start) if kept is not None else RIGHT
    if abs(way.y) > abs(way.x):
        return Transform(d=-1.0, f=2 * middle.y)
    return Transform(a=-1.0, e=2 * middle.x)


def _middle(scene: Scene, copy: Copy) -> Point:
    """The middle of what of a part its landing shows: of what lands folded once that of the half that stays."""
    item, kept = scene.item(copy), find_kept(scene, copy)
    if kept is None:
        return item.box.centre
    return path_box(part_beside(outline_path(item.outline), kept.fold.start, kept.fold.end, kept.at)).centre


def _place_on(scene: Scene, copy: Copy, host: Copy, move: Transform) -> Point:
    """The usual place of a part that stays where it is, or where that lies beyond its host the middle of what lies on it:
    what stands over the edge bends there."""
    usual, item, under, kept = anchor_of(scene, copy), scene.item(copy), scene.item(host).ring, find_kept(scene, copy)
    if is_in_ring(under, transform_point(usual, move)) or not item.folds:
        return usual
    box, shares = item.box, [(2 * k + 1) / (2 * LOOKS) for k in range(LOOKS)]
    grid = (Point(box.left + box.width * across, box.bottom + box.height * up) for across in shares for up in shares)
    held = (at for at in grid if kept is None or kept.holds(at))
    on = [at for at in held if is_in_ring(item.ring, at) and is_in_ring(under, transform_point(at, move))]
    return Point(sum(at.x for at in on) / len(on), sum(at.y for at in on) / len(on)) if on else usual


def _find_host(scene: Scene, lies: Lies) -> tuple[Copy, Transform] | None:
    """The placed host of what lands, and the movement on to it; of a strip, the join that it is part of."""
    if lies.host in scene.placed:
        return lies.host, lies.move
    for join in scene.goods.joined_strips.get(lies.host.part, ()):
        host = Copy(join)
        if host in scene.placed:
            strips = [one for one in scene.item(host).strips if one.piece.name == lies.host.part]
            strip = strips[max(lies.host.number, 1) - 1]
            return host, compose(lies.move, strip.move)
    return None


def _anchor_on(scene: Scene, copy: Copy, host: Copy) -> Point | None:
    """The middle of the line along which a copy is sewn on its host."""
    return next((track.middle for _, track, beneath in scene.flat_ties(copy) if beneath == host), None)


def _hole_on(scene: Scene, copy: Copy, host: Copy, move: Transform) -> Point | None:
    """The hole of a copy that comes to lie on one of its host, which is there for what either takes: that part of it
    stays."""
    for own in scene.item(copy).holes:
        at = transform_point(own.at, move)
        for hole in scene.item(host).holes:
            is_shared = own.takes or hole.takes or copy.part in hole.through
            if is_shared and math.dist(at, hole.at) < HOLES_MM:
                return own.at
    return None


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
    """Place a lining or what else lies behind an outer part: by its seams, first to what it lines, else as it lies behind
    that."""
    ties = scene.placed_ties(copy)
    hosts = dict.fromkeys(tie.other for tie in ties)
    lined = {lies.host for lies in scene.assembly.lies if lies.copy == copy and lies.is_cover}

    def rank(host: Copy) -> tuple[bool, bool, int]:
        return host not in lined, scene.item(host).is_inner, -sum(tie.other == host for tie in ties)

    for host in sorted(hosts, key=rank):
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
        is_its = lies.copy == copy and lies.is_cover and not scene.ties_of(copy)
        found = _find_host(scene, lies) if is_its and not _is_one_of_several(scene, copy) else None
        if found is not None:
            host, move = found
            surface = _behind(scene, copy, host) if host == lies.host else _behind_strip(scene, copy, host, move)
            scene.put(copy, "lies behind", surface, host, side=-1)
            return True
    return False


def _behind_strip(scene: Scene, copy: Copy, host: Copy, move: Transform) -> Surface:
    """What lies behind a strip of a join lies where that does."""
    middle, is_over = scene.item(copy).box.centre, _do_show_alike(scene, copy, host)
    turn = Transform(a=-1.0, e=2 * middle.x) if is_over and scene.items.is_even(copy) else Transform()
    return scene.placed[host].surface.carrying(compose(turn, move))


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
