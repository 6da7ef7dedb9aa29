"""What lies on a part with its end in a seam that is turned right side out: it stands out of that seam then."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import pairwise

from docgen.assemble.assembly import Copy
from docgen.assemble.space.items import Link
from docgen.assemble.space.placed import Placed
from docgen.assemble.space.scene import Scene
from docgen.assemble.space.surface import is_in_ring
from docgen.assemble.space.track import trace
from docgen.assemble.space.vectors import TINY, Vec, direction, inner, minus, plus, times
from docgen.geometry.shapes import Point
from docgen.geometry.vector import between, cross, subtract

ON_MM = 0.6  # what lies no farther off lies on it, as layers without thickness do
LEAST_MM = 0.5  # a shorter stretch of a row is no stitch
BESIDE_MM = 1.0  # from a row, to another that holds no more than that one does

Axis = tuple[Vec, Vec]
"""The ends of the straight row about which a part turns."""


def turn_out(scene: Scene) -> None:
    """Place what only turned seams hold, by one straight row, as it stands once these are turned."""
    for copy, placed in [*scene.placed.items()]:
        if placed.how == "lies on" and not placed.is_inner and not any(hole.takes for hole in placed.item.holes):
            axis = _find_axis(scene, copy, placed)
            if axis is not None:
                scene.move(replace(half_round(placed, axis), how="turned out"))


def half_round(placed: Placed, axis: Axis) -> Placed:
    """A part turned half round about a row."""
    foot, way = axis[0], direction(minus(axis[1], axis[0]))

    def turned(at: Vec) -> Vec:
        return minus(times(way, 2 * inner(way, at)), at)

    surface = placed.surface
    bands = tuple(
        replace(band, at=plus(foot, turned(minus(band.at, foot))), way=turned(band.way)) for band in surface.bands
    )
    return replace(placed, surface=replace(surface, bands=bands, aside=turned(surface.aside)))


def _find_axis(scene: Scene, copy: Copy, placed: Placed) -> Axis | None:
    """The one straight row of turned seams of its host that goes through a part, where nothing holds the part within."""
    own_at = next((at for at, one in enumerate(scene.sewings) if any(link.copy == copy for link in one.links)), 0)
    later = [one for one in scene.sewings[own_at:] if one.seam.is_turned]  # what was sewn before holds nothing of it
    legs = [leg for sewing in later for leg in _cross(scene, placed, sewing.links)]
    if not legs:
        return None
    start, end = max(legs, key=lambda leg: round(math.dist(*leg), 3))
    way = direction(minus(end, start))
    middle = placed.surface.point(placed.item.box.centre)
    inward = minus(minus(middle, start), times(way, inner(minus(middle, start), way)))
    if inner(inward, inward) < TINY:
        return None
    inward = direction(inward)
    rows = [mark for mark in placed.item.marks if mark.kind == "stitch"]
    own = [placed.surface.point(at) for mark in rows for at in trace(mark.path).points]
    is_one = all(abs(inner(minus(at, start), inward)) < BESIDE_MM for leg in legs for at in leg)
    return (start, end) if is_one and all(inner(minus(at, start), inward) < BESIDE_MM for at in own) else None


def _cross(scene: Scene, placed: Placed, links: Sequence[Link]) -> Iterator[Axis]:
    """The stretches in space of the rows of the host of a part that go through it."""
    faces = [*placed.surface.rings(placed.ring)]
    for link in links:
        if link.copy == placed.host and link.track is not None:
            host = scene.placed[link.copy]
            for band, start, end in host.surface.split(link.track.points):
                ends = host.surface.point(start, band), host.surface.point(end, band)
                for number, ring in faces:
                    for leg in lie_in(placed, number, ring, ends):
                        yield placed.surface.point(leg[0], number), placed.surface.point(leg[1], number)


def lie_in(on: Placed, number: int, ring: Sequence[Point], ends: Axis) -> Iterator[tuple[Point, Point]]:
    """The stretches of a straight line in space that lie in a flat part, by its ring on the piece."""
    band = on.surface.bands[number]
    (start, _, off_mm), (end, _, far_mm) = (on.surface.foot_in_plane(band, at) for at in ends)
    if abs(off_mm) > ON_MM or abs(far_mm) > ON_MM:
        return
    cuts = sorted({0.0, 1.0, *_crossings(ring, start, end)})
    for begin, finish in pairwise(cuts):
        leg = between(start, end, begin), between(start, end, finish)
        if math.dist(*leg) > LEAST_MM and is_in_ring(ring, between(*leg, 0.5)):
            yield leg


def _crossings(ring: Sequence[Point], start: Point, end: Point) -> Iterator[float]:
    """The shares of a line at which it crosses a closed ring."""
    way = subtract(end, start)
    for at, to in pairwise((*ring, ring[0])):
        turn = cross(way, subtract(to, at))
        if abs(turn) > TINY:
            share = cross(subtract(at, start), subtract(to, at)) / turn
            if 0 < share < 1:
                yield share
