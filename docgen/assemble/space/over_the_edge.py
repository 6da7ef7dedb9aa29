"""Flaps that are written to bend a little within the edge that they go over: leather bends at the edge itself."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import pairwise

from docgen.assemble.assembly import Copy
from docgen.assemble.space.placed import ALIKE, BY_AN_END, ON_FACE_MM, Placed
from docgen.assemble.space.scene import Scene
from docgen.assemble.space.surface import Band, is_in_ring
from docgen.assemble.space.vectors import Vec, inner, minus, plus, times
from docgen.geometry.shapes import Point
from docgen.geometry.vector import add, cross, scale, subtract

WITHIN_MM = 15.0  # farther within the edge a bend is not meant to lie at it: our choice
NEAR_MM = 6.0  # what comes no farther off a part lies on it: our choice
TURNS_IN = 0.5  # the cosine between the way that a flap goes on and the inner side of what it lies on


def bend_at_edges(scene: Scene) -> None:
    """Bend each such flap at the edge of its host, with all that bends as it does; it comes so much less far down."""
    for copy, placed in [*scene.placed.items()]:
        if placed.how != "lies on" or not placed.is_free:
            continue
        for bend, hand in _bends_beside(placed):
            within_mm = _within_mm(scene, placed, bend, hand)
            if within_mm > ON_FACE_MM:
                _bend_later(scene, copy, bend, hand * within_mm)


def _bends_beside(placed: Placed) -> Iterator[tuple[int, int]]:
    """The bends on both sides of the band that lies on the host, each with the way there along the part."""
    home, last = placed.surface.band_of(placed.anchor), len(placed.surface.bands) - 1
    if home < last:
        yield home, 1
    if home > 0:
        yield home - 1, -1


def _within_mm(scene: Scene, placed: Placed, bend: int, hand: int) -> float:
    """How far a part bends within the edge of its host, or of what it comes over beyond the depth of that: it goes on
    behind its own plane by an open fold; 0 where it does not. What is laid inside goes over no edge of its host."""
    surface = placed.surface
    home, beyond = (bend, bend + 1) if hand > 0 else (bend + 1, bend)
    folds, out, last = [*placed.folds_at(bend)], placed.out(home), bend + hand
    if not folds or not all(fold.is_open for fold in folds) or surface.pleat or surface.asides:
        return 0.0
    is_back = inner(placed.out(beyond), out) < -ALIKE and not placed.folds_out(bend)
    if not is_back and inner(times(surface.bands[beyond].way, hand), out) > -TURNS_IN:
        return 0.0
    way = times(surface.bands[home].way, hand)
    at = surface.point(folds[0].middle, home)
    found = [_past_mm(scene.placed[placed.host], at, way, out)] if placed.host and placed.level > 0 else []
    if 0 <= last < len(surface.bands) - 1 and inner(placed.out(beyond + hand), out) < -ALIKE:
        across_mm = surface.measure(folds[0].middle)[1]
        there = surface.point(surface.spot(surface.bands[min(last, beyond)].end_mm, across_mm), beyond)
        others = [one for one in scene.placed.values() if _is_apart(placed, one)]
        found += [_past_mm(one, there, way, out) for one in others]
    within_mm = max(found, default=0.0)
    return within_mm if within_mm < min(_reach_mm(surface.bands[beyond]), WITHIN_MM) else 0.0


def _is_apart(placed: Placed, other: Placed) -> bool:
    """Whether another part neither holds it nor lies on it, and is no lining."""
    is_on = placed.copy in (other.copy, other.host) or placed.host == other.copy
    return not is_on and not other.is_inner and other.how not in BY_AN_END


def _past_mm(other: Placed, at: Vec, way: Vec, out: Vec) -> float:
    """How far a place that lies on a part is from where a way along that leaves it; 0 where it does not lie there."""
    for k, band in enumerate(other.surface.bands):
        foot, off_mm = other.surface.foot(band, at)
        ahead = other.surface.foot(band, plus(at, way))[0]
        if abs(inner(other.out(k), out)) > ALIKE and foot is not None and ahead is not None and abs(off_mm) < NEAR_MM:
            return _way_out_mm(foot, subtract(ahead, foot), other.ring)
    return 0.0


def _reach_mm(band: Band) -> float:
    """How long a band is; the last one of a part goes on beyond its bend."""
    return band.end_mm - band.begin_mm or math.inf


def _way_out_mm(at: Point, way: Point, ring: Sequence[Point]) -> float:
    """How far a point inside a ring is from where a straight way, a unit vector, leaves that first; 0 from outside."""
    if not is_in_ring(ring, at):
        return 0.0
    found = []
    for start, end in pairwise((*ring, ring[0])):
        leg, far = subtract(end, start), subtract(start, at)
        turn = cross(way, leg)
        if turn and 0 <= cross(far, way) / turn <= 1 and cross(far, leg) / turn > 0:
            found.append(cross(far, leg) / turn)
    return min(found, default=0.0)


def _bend_later(scene: Scene, copy: Copy, bend: int, by_mm: float) -> None:
    """A part bent so much farther along, with what bends as it does; what lies beyond the bend goes with it."""
    placed = scene.placed[copy]
    old = placed.surface.bands
    home = bend if by_mm > 0 else bend + 1
    bands = tuple(_later(old, k, home, by_mm) for k in range(len(old)))
    for guest in [*scene.placed.values()]:
        surface = guest.surface
        if surface.bands == old:
            way = scale(surface.along, by_mm)
            beyond = [k for k in range(len(old) - 1) if (k >= bend if by_mm > 0 else k <= bend)]
            gone = {fold for k in beyond for fold in guest.folds_at(k)}
            moved = tuple(
                replace(fold, start=add(fold.start, way), end=add(fold.end, way)) if fold in gone else fold
                for fold in guest.item.folds
            )
            item = replace(guest.item, folds=moved)
            scene.move(replace(guest, surface=replace(surface, bands=bands), item=item))
        elif guest.host == copy:
            on = _band_under(placed, guest)
            if on != home and (on > home) == (by_mm > 0):
                shift = times(minus(old[home].way, old[on].way), by_mm)
                scene.move(replace(guest, surface=surface.shifted(shift)))


def _band_under(host: Placed, guest: Placed) -> int:
    """The band of a host on which a part lies."""
    at = guest.surface.point(guest.anchor)
    feet = ((k, host.surface.foot(band, at)) for k, band in enumerate(host.surface.bands))
    near = [(abs(lift_mm), k) for k, (foot, lift_mm) in feet if foot is not None]
    return min(near)[1] if guest.host_band is None and near else guest.host_band or 0


def _later(bands: Sequence[Band], k: int, home: int, by_mm: float) -> Band:
    one, by = bands[k], times(bands[home].way, by_mm)
    if k == home:
        return (
            replace(one, end_mm=one.end_mm + by_mm)
            if by_mm > 0
            else replace(one, begin_mm=one.begin_mm + by_mm, at=plus(one.at, by))
        )
    if (k > home) == (by_mm > 0):
        return Band(one.begin_mm + by_mm, one.end_mm + by_mm, plus(one.at, by), one.way)
    return one
