"""Whether seams close in space: how far the runs of their partners lie apart, and the holes of straps off their buckles."""

from __future__ import annotations

import math
from collections.abc import Collection, Iterator, Sequence
from dataclasses import replace
from itertools import combinations, pairwise

from docgen.assemble.assembly import Copy
from docgen.assemble.space.items import Link, Sewing
from docgen.assemble.space.metal import Metal
from docgen.assemble.space.placed import Buckled, Gap, Placed
from docgen.assemble.space.scene import Scene
from docgen.assemble.space.surface import is_in_ring
from docgen.assemble.space.track import Track
from docgen.assemble.space.vectors import Vec, apart, direction, inner, minus, outer
from docgen.geometry.shapes import Point
from docgen.resolve import Seam

CLOSED_MM = 0.5  # runs that lie no farther apart meet
OTHER_HOLE_MM = 15.0  # a hole farther off is not the one that the tongue goes into


def find_gaps(scene: Scene) -> Iterator[Gap]:
    """The gap of every seam between the parts that are placed, each time that it is sewn."""
    for sewing in scene.sewings:
        links = [link for link in sewing.links if link.copy in scene.placed]
        with_line = [link for link in links if link.track is not None]
        for one, other in combinations(with_line, 2):
            yield _gap(scene, sewing, one, other)
        for one in with_line:
            for flat in (link for link in links if link.track is None and link.copy != one.copy):
                yield _gap_beneath(scene, sewing, one, flat.copy)


def settle(scene: Scene) -> bool:
    """Settle which copies meet in seams that are sewn several times to copies of two parts: those that lie nearest to each
    other. False where it is settled already."""
    if scene.is_settled:
        return False
    loose: dict[str, list[Sewing]] = {}
    for sewing in scene.sewings:
        if sewing.is_loose:
            loose.setdefault(sewing.seam.name, []).append(sewing)
    if not loose:
        return False
    paired = {name: iter(_pair(scene, found)) for name, found in loose.items()}
    scene.settle(tuple(next(paired[one.seam.name]) if one.is_loose else one for one in scene.sewings))
    return True


def _pair(scene: Scene, sewings: list[Sewing]) -> Iterator[Sewing]:
    """Each first copy with the second one that is free and lies nearest."""
    left = [sewing.links[1] for sewing in sewings]
    for sewing in sewings:
        one = sewing.links[0]
        near = min(left, key=lambda other: _apart(scene, sewing, one, other))
        left.remove(near)
        yield replace(sewing, links=(one, near))


def _apart(scene: Scene, sewing: Sewing, one: Link, other: Link) -> float:
    both = one.copy in scene.placed and other.copy in scene.placed
    return _gap(scene, sewing, one, other).apart_mm if both else math.inf


def _gap(scene: Scene, sewing: Sewing, one: Link, other: Link) -> Gap:
    assert one.track is not None
    assert other.track is not None
    apart_mm, along_mm = math.inf, 0.0
    for mine in _beginnings(one.track):
        for its in (other.track.reversed(), other.track):
            if apart_mm > CLOSED_MM:
                apart_mm, along_mm = min((apart_mm, along_mm), _compare(scene, (one.copy, mine), (other.copy, its)))
    slips = "folds between" in (scene.placed[one.copy].how, scene.placed[other.copy].how)
    hosts = [link.copy for link in (one, other) if scene.placed[link.copy].how != "folds between"]
    allowed_mm = eased_mm(scene, sewing.seam, (one.copy, other.copy)) + (scene.slip_mm(hosts) if slips else 0.0)
    return Gap(
        seam=sewing.seam.name,
        one=one.copy,
        other=other.copy,
        apart_mm=apart_mm,
        along_mm=along_mm,
        allowed_mm=allowed_mm,
    )


def eased_mm(scene: Scene, seam: Seam, copies: Collection[Copy]) -> float:
    """How far off each other its lines may lie besides what leather gives: those of two linings as far as they lie in from
    the edge, since each lies behind what it lines, and is mostly sewn farther in than that."""
    are_inner = all(scene.item(copy).is_inner for copy in copies)
    return seam.eased_mm + (scene.goods.stitches[seam.stitch].inset_mm if are_inner else 0.0)


def _beginnings(track: Track) -> list[Track]:
    return [track.begun_at(at) for at in track.corners_mm] if track.is_closed else [track]


def _compare(scene: Scene, one: tuple[Copy, Track], other: tuple[Copy, Track]) -> tuple[float, float]:
    """How far two runs lie apart at most, and where along the first."""
    (mine, track), (its, under) = one, other
    shares = track.share_marks(under)
    first, second = scene.placed[mine].surface, scene.placed[its].surface
    pairs = zip(track.spread(shares), under.spread(shares), strict=True)
    found = [round(apart(first.point(a), second.point(b)), 6) for a, b in pairs]
    worst = max(range(len(found)), key=lambda k: (found[k], -k))
    return found[worst], round(shares[worst] * track.length_mm, 6)


def _gap_beneath(scene: Scene, sewing: Sewing, one: Link, beneath: Copy) -> Gap:
    """How far a run lies off a part that is sewn through beneath it. Where it goes on over that part's edge, as that of a
    wider flap does, the way straight up counts, so long as its middle lies on the part. What lands on a part of the
    seam that has a run is met where it reaches, and so at its nearest."""
    assert one.track is not None
    surface, host = scene.placed[one.copy].surface, scene.placed[beneath]
    shares = one.track.share_marks(one.track)
    measure = _lift_over if distance_to_part(host, surface.point(one.track.middle)) <= CLOSED_MM else distance_to_part
    found = [round(measure(host, surface.point(at)), 6) for at in one.track.spread(shares)]
    edged = {link.copy for link in sewing.links if link.track is not None}
    hosts = {lies.host for lies in scene.assembly.lies if lies.copy == beneath and not lies.is_cover}
    is_landed = not edged.isdisjoint(hosts)
    worst = (min if is_landed else max)(range(len(found)), key=lambda k: (found[k], -k))
    along_mm = round(shares[worst] * one.track.length_mm, 6)
    return Gap(seam=sewing.seam.name, one=one.copy, other=beneath, apart_mm=found[worst], along_mm=along_mm)


def _lift_over(placed: Placed, at: Vec) -> float:
    """How far a point lies over the flat part that is nearest to it, or over what that would be beyond its edge."""
    feet = [placed.surface.foot(band, at) for band in placed.surface.bands]
    return min((abs(lift_mm) for own, lift_mm in feet if own is not None), default=distance_to_part(placed, at))


def distance_to_part(placed: Placed, at: Vec) -> float:
    """How far a point lies from a placed part."""
    for band in placed.surface.bands:
        own, lift_mm = placed.surface.foot(band, at)
        if abs(lift_mm) <= CLOSED_MM and own is not None and is_in_ring(placed.ring, own):
            return abs(lift_mm)
    return min(distance_to_face(face.corners, at) for face in placed.faces)


def distance_to_face(face: Sequence[Vec], at: Vec) -> float:
    """How far a point lies from a flat part."""
    sides = [to_side(start, end, at) for start, end in zip(face, (*face[1:], face[0]), strict=True)]
    normal = face_normal(face)
    lift = inner(minus(at, face[0]), normal)
    return abs(lift) if is_over(face, normal, at) else min(sides)


def face_normal(face: Sequence[Vec]) -> Vec:
    """The normal of a flat part (Newell's method)."""
    total = (0.0, 0.0, 0.0)
    for start, end in pairwise(face[1:]):
        one = outer(minus(start, face[0]), minus(end, face[0]))
        total = total[0] + one[0], total[1] + one[1], total[2] + one[2]
    return direction(total)


def is_over(face: Sequence[Vec], normal: Vec, at: Vec) -> bool:
    """Whether a point lies over a flat part: inside it when looked at straight on."""
    right = direction(minus(face[1], face[0]))
    up = outer(normal, right)
    flat = [Point(inner(minus(p, face[0]), right), inner(minus(p, face[0]), up)) for p in (*face, at)]
    return is_in_ring(flat[:-1], flat[-1])


def to_side(start: Vec, end: Vec, at: Vec) -> float:
    """How far a point lies from the line between two."""
    way = minus(end, start)
    whole = inner(way, way) or 1.0
    share = min(max(inner(minus(at, start), way) / whole, 0.0), 1.0)
    return apart(at, (start[0] + way[0] * share, start[1] + way[1] * share, start[2] + way[2] * share))


def find_buckled(scene: Scene, metal: Sequence[Metal]) -> Iterator[Buckled]:
    """Every strap with a row of holes that comes past a buckle of another part."""
    for copy, placed in scene.placed.items():
        strap = scene.goods.straps.get(copy.part)
        spots = [hole.at for hole in placed.item.holes[: len(strap.hole_tips_mm)]] if strap else []
        for one in (one for one in metal if one.shape == "buckle" and one.part != copy and spots):
            off_mm = min(apart(placed.surface.point(spot), one.at) for spot in spots)
            if off_mm <= OTHER_HOLE_MM:
                yield Buckled(part=copy, host=one.part, takes=one.hardware, apart_mm=round(off_mm, 6))
