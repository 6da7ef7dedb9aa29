"""Straps that are held by one end: they leave the way they lead and go round what they come to, as long as they are."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from docgen.assemble.assembly import Copy
from docgen.assemble.landing import Slot, find_slots
from docgen.assemble.space.placed import Placed, Unplaced
from docgen.assemble.space.scene import Scene
from docgen.assemble.space.surface import stand
from docgen.assemble.space.vectors import Vec, along, apart, inner, minus, outer
from docgen.geometry.shapes import Point
from docgen.resolve import Strap, StrapLanding

TINY_MM = 1e-6
Section = list[tuple[float, float]]


def place_straps(scene: Scene) -> Iterator[Unplaced]:
    """Place the straps that one landing holds, and tell of all others why they are not placed."""
    slots = find_slots(scene.goods)
    for strap in scene.goods.straps.values():
        for copy in scene.goods.copies(strap.name):
            held = [slot for slot in slots.get(strap.name, ()) if slot.copy == copy]
            if len(held) > 1:
                yield Unplaced(copy=copy, why="it is held at both ends, and nothing says how it arches between")
            elif not held or not _lead(scene, strap, held[0]):
                yield Unplaced(copy=copy, why="no landing of a part that is placed holds it")


def _lead(scene: Scene, strap: Strap, slot: Slot) -> bool:
    host = scene.placed.get(slot.host)
    piece = scene.goods.pieces[slot.host.part]
    landing = next((one for one in piece.strap_landings if one.outline is slot.lying.outline), None)
    if host is None or landing is None or slot.copy is None:
        return False
    start, (way, out) = host.surface.point(landing.at), _ways(host, landing)
    track = [(0.0, start)]
    for at in [along(along(start, way, up), out, off) for up, off in _round(scene, start, way, out)]:
        left_mm, step_mm = strap.cut_length_mm - track[-1][0], apart(at, track[-1][1])
        if step_mm > TINY_MM:
            share = min(1.0, left_mm / step_mm)
            track.append((track[-1][0] + step_mm * share, along(track[-1][1], minus(at, track[-1][1]), share)))
        if track[-1][0] >= strap.cut_length_mm - TINY_MM:
            break
    end_mm = strap.cut_length_mm if landing.end else 0.0
    surface = stand(
        Point(strap.width_mm / 2, end_mm), Point(0.0, -1.0 if landing.end else 1.0), track, outer(out, way), ()
    )
    scene.put(slot.copy, "leads from", surface, slot.host, side=1, is_free=True)
    return True


def _ways(host: Placed, landing: StrapLanding) -> tuple[Vec, Vec]:
    """The way a strap leads from its landing, and the way out from the face that it lies on."""
    band = host.surface.band_at(host.surface.measure(landing.at)[0])
    return host.surface.heading(landing.way, band), host.out(band)


def _round(scene: Scene, start: Vec, way: Vec, out: Vec) -> Section:
    """The corners that a strap goes round, as mm along its way and out: the convex hull of what lies in its plane, from
    its landing on. Where nothing turns it, it goes straight on."""
    points = {(0.0, 0.0), *_cut(scene, start, way, out)}
    hull = _hull(sorted((up, off) for up, off in points if off <= TINY_MM))
    if len(hull) < 3:
        return [(1e4, 0.0)]
    first = max((at for at in hull if at[1] > -TINY_MM), key=lambda at: at[0], default=(1e4, 0.0))
    begin = hull.index(first)
    return [*hull[begin:], *hull[:begin]]


def _cut(scene: Scene, start: Vec, way: Vec, out: Vec) -> Iterator[tuple[float, float]]:
    """Where the plane of a strap cuts the outer parts."""
    across = outer(out, way)
    for placed in scene.placed.values():
        for face in placed.faces if not placed.is_inner and placed.how != "leads from" else ():
            sides = [inner(minus(at, start), across) for at in face.corners]
            legs = pairwise((*zip(face.corners, sides, strict=True), (face.corners[0], sides[0])))
            for (at, before), (to, after) in legs:
                if before * after < 0 or before == 0:
                    found = along(at, minus(to, at), before / (before - after)) if before else at
                    far = minus(found, start)
                    yield round(inner(far, way), 6), round(inner(far, out), 6)


def _hull(points: Section) -> Section:
    """The convex hull, clockwise (Andrew's monotone chain, Information Processing Letters 9, 1979)."""
    halves: list[Section] = []
    for ordered in (points, points[::-1]):
        half: Section = []
        for at in ordered:
            while len(half) > 1 and _turn(half[-2], half[-1], at) >= 0:
                half.pop()
            half.append(at)
        halves.append(half[:-1])
    return [*halves[0], *halves[1]]


def _turn(a: tuple[float, float], b: tuple[float, float], c: tuple[float, float]) -> float:
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])


def strap_copies(scene: Scene) -> tuple[Copy, ...]:
    """The straps that are placed."""
    return tuple(copy for copy, placed in scene.placed.items() if placed.how == "leads from")
