"""How far a wall leans: by the corner in which it meets the next wall on the same floor."""

from __future__ import annotations

import math
from collections.abc import Sequence

from docgen.assemble.space.scene import Scene, Tie
from docgen.assemble.space.track import Track
from docgen.assemble.space.vectors import Vec, along, direction, inner, minus, times
from docgen.geometry.shapes import Point
from docgen.geometry.vector import cross, distance, dot, scale, subtract


def find_lean(scene: Scene, tie: Tie, track: Sequence[tuple[float, Vec]], upright: Vec) -> Vec | None:
    """The way a wall goes up from its line on a floor, so that its side comes to lie on that of its neighbour; None where
    no neighbour tells. Both sides start in one corner and make known angles with two known lines there: the line that
    does so with both is the edge between the walls."""
    run = direction(minus(track[-1][1], track[0][1]))
    for edge in scene.ties_of(tie.own):
        base = next((one for one in scene.ties_of(edge.other) if one.other == tie.other and one.its.is_straight), None)
        if base is None or not (edge.mine.is_straight and edge.its.is_straight and base.mine.is_straight):
            continue
        corner = _crossing(tie.its, base.its)
        if corner is None:
            continue
        surface = scene.placed[tie.other].surface
        band = surface.band_of(tie.its.middle)
        ways = [surface.heading(_away(line, corner), band) for line in (tie.its, base.its)]
        cosines = _cosine(tie.mine, edge.mine), _cosine(base.mine, edge.its)
        rising = _rise(ways, cosines, upright)
        if rising is not None:
            return direction(minus(rising, times(run, inner(rising, run))))
    return None


def _crossing(one: Track, other: Track) -> Point | None:
    """Where two straight lines cross; None for those that are parallel."""
    turn = cross(one.way, other.way)
    if abs(turn) < 1e-6:
        return None
    far = cross(subtract(other.points[0], one.points[0]), other.way) / turn
    return Point(one.points[0].x + one.way.x * far, one.points[0].y + one.way.y * far)


def _away(line: Track, corner: Point) -> Point:
    """The way along a line from the end that is nearer to a corner to the other."""
    is_start = distance(line.points[0], corner) < distance(line.points[-1], corner)
    return line.way if is_start else scale(line.way, -1.0)


def _cosine(line: Track, side: Track) -> float:
    """Of the angle between a wall's line on the floor and its side, both away from the corner between them."""
    corner = _crossing(line, side)
    return dot(_away(line, corner), _away(side, corner)) if corner is not None else 2.0


def _rise(ways: Sequence[Vec], cosines: tuple[float, float], upright: Vec) -> Vec | None:
    """The direction that makes these angles with two directions of a plane, on the side of `upright`; None where there
    is none."""
    (one, other), (first, second) = ways, cosines
    turn = inner(one, other)
    whole = 1 - turn * turn
    x, y = (first - turn * second) / whole, (second - turn * first) / whole
    left = 1 - x * x - y * y - 2 * x * y * turn
    if left <= 0:
        return None
    return along(along(times(one, x), other, y), upright, math.sqrt(left))
