"""Straps that lie straight on far beyond all else are broken off there, so that the rest is large enough to be seen."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from itertools import pairwise

from docgen.assemble import Body, BodyLine, MetalBody, Vec, inner, plus
from docgen.classes import dataclass
from docgen.geometry.shapes import Point
from docgen.geometry.vector import between, distance
from docgen.pages.drawn.straps_on import break_points
from docgen.pages.pictures.legs import Leg
from docgen.pages.pictures.view import View

OVER, KEPT = 0.6, 0.25  # of the size of all else: what goes on farther is broken off, and how much of it is kept
LEAST_OUT = 1e-6


@dataclass(frozen=True, slots=True, kw_only=True)
class Broken:
    """A strap as far as it is drawn, the corners where it is broken off, and the way that it goes on from there."""

    body: Body
    corners: tuple[Vec, Vec]
    way: Vec

    def out_mm(self, at: Vec) -> float:
        """How far beyond its break a point lies; less than nothing for one that is drawn."""
        x, y, z = self.corners[0]
        return inner((at[0] - x, at[1] - y, at[2] - z), self.way)


def trim(broken: Broken | None, line: BodyLine) -> BodyLine | None:
    """As much of a line of a strap as is drawn; nothing of the line where it is broken off. The line, where it is not."""
    if broken is None:
        return line
    start, end = broken.out_mm(line.start), broken.out_mm(line.end)
    if start > -LEAST_OUT and end > -LEAST_OUT:
        return None
    if max(start, end) < LEAST_OUT:
        return line
    share, (x, y, z), (to_x, to_y, to_z) = start / (start - end), line.start, line.end
    at = x + (to_x - x) * share, y + (to_y - y) * share, z + (to_z - z) * share
    return replace(line, start=at) if start > 0 else replace(line, end=at)


def break_straps(drawn: Sequence[tuple[Body | MetalBody, Vec]], view: View) -> Mapping[int, Broken]:
    """The straps that are broken off, by their places in a drawing: straight ones with nothing at their free end. `drawn`
    are bodies, each with its shift."""
    firm = [
        view.flat(plus(at, shift))[:2]
        for body, shift in drawn
        if isinstance(body, Body) and not body.is_strap
        for face in body.faces
        for at in face.corners
    ]
    if not firm:
        return {}
    low = Point(min(x for x, _ in firm), min(y for _, y in firm))
    high = Point(max(x for x, _ in firm), max(y for _, y in firm))
    straps = (
        (place, _break(body, shift, view, (low, high)))
        for place, (body, shift) in enumerate(drawn)
        if isinstance(body, Body) and body.placed.how == "leads from"
    )
    return {place: one for place, one in straps if one is not None and not _bears(one, [body for body, _ in drawn])}


def _bears(broken: Broken, drawn: Sequence[Body | MetalBody]) -> bool:
    """Whether anything lies on a strap, hangs in it or is punched in it beyond its break."""
    own = broken.body.copy
    on = (one for one in drawn if (one.placed.host if isinstance(one, Body) else one.copy) == own)
    holes = (hole.middle for hole in broken.body.holes)
    return any(broken.out_mm(at) > 0 for at in (*holes, *(line.start for one in on for line in one.lines)))


def _break(body: Body, shift: Vec, view: View, firm: tuple[Point, Point]) -> Broken | None:
    placed, box = body.placed, body.placed.item.box
    if len(placed.surface.bands) > 1 or placed.ring != placed.item.ring:
        return None
    far_y = box.top if box.top - placed.anchor.y > placed.anchor.y - box.bottom else box.bottom
    ends = [body.point(Point(box.centre.x, y), 0) for y in (placed.anchor.y, far_y)]
    start, end = (Point(*view.flat(plus(at, shift))[:2]) for at in ends)
    (left, bottom), (right, top) = firm
    size = max(right - left, top - bottom)
    beyond = max(left - end.x, end.x - right, bottom - end.y, end.y - top)
    if beyond <= OVER * size:
        return None
    gains = [
        (limit - begin) / (finish - begin)
        for begin, finish, limit in (
            (start.x, end.x, right if end.x > start.x else left),
            (start.y, end.y, top if end.y > start.y else bottom),
        )
        if abs(finish - begin) > LEAST_OUT
    ]
    share = max(min(gains), 0.0) + KEPT * size / distance(start, end)
    cut_y = placed.anchor.y + (far_y - placed.anchor.y) * share
    ring = tuple(_keep(placed.ring, cut_y, keeps_low=far_y > placed.anchor.y))
    short = body.with_place(replace(placed, ring=ring))
    one, other = (body.point(Point(x, cut_y), 0) for x in (box.left, box.right))
    (ax, ay, az), (bx, by, bz) = ends
    long_mm = math.dist(*ends)
    way = ((bx - ax) / long_mm, (by - ay) / long_mm, (bz - az) / long_mm)
    return Broken(body=short, corners=(one, other), way=way)


def _keep(ring: Sequence[Point], cut_y: float, *, keeps_low: bool) -> Iterator[Point]:
    """The part of a ring on one side of a level line."""
    for at, to in pairwise((*ring, ring[0])):
        inside, next_in = ((p.y <= cut_y) == keeps_low for p in (at, to))
        if inside:
            yield at
        if inside != next_in:
            yield between(at, to, (cut_y - at.y) / (to.y - at.y))


def break_legs(start: Point, end: Point) -> Iterator[Leg]:
    """The line on paper where a strap is broken off, from one corner to the other."""
    yield from (("run on", at, to) for at, to in pairwise(break_points(start, end)))
