"""The way of a strap that is held by one end: it leaves the way it leads and goes round what it comes to."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import accumulate, pairwise

from docgen.assemble.space.arch import Hold, cut_line
from docgen.assemble.space.scene import Scene
from docgen.assemble.space.vectors import Vec, along, apart, inner, minus, outer

TINY_MM = 1e-6
FLAT_MM = 0.5
FAR_MM = 1e4
Section = list[tuple[float, float]]
Sheets = Sequence[tuple[Vec, ...]]


def outer_sheets(scene: Scene) -> Sheets:
    """The corners of every flat part of the outer parts that are placed, straps left out."""
    straps = scene.goods.straps
    found = (copy for copy, one in scene.placed.items() if not one.is_inner and copy.part not in straps)
    return [corners for copy in found for _, corners in scene.sheets(copy)]


def lead(sheets: Sheets, hold: Hold, length_mm: float, bends_mm: float) -> tuple[Vec, ...]:
    """The line of a strap from its end that is held on, so long; it goes straight on from the corner that comes next once
    it is so far along."""
    start = hold.lying[0] if hold.lying else hold.at
    corners = _round(sheets, start, hold)
    line = [start, *(along(along(start, hold.way, up), hold.out, off) for up, off in corners)]
    reach = accumulate(apart(at, to) for at, to in pairwise(line))
    count = next((k for k, mm in enumerate(reach, 2) if mm > bends_mm), len(line))
    return cut_line(line[:count], 0.0, length_mm)


def lead_back(sheets: Sheets, hold: Hold, length_mm: float) -> tuple[Vec, ...] | None:
    """The line of a strap that goes on over the edge of what lies flat where it is held, and back on the other side of
    that; None where it does not come so far."""
    start = hold.lying[0] if hold.lying else hold.at
    edge_mm = max((up for up, off in _cut(sheets, start, hold) if abs(off) <= FLAT_MM), default=0.0)
    if not 0.0 < edge_mm < length_mm:
        return None
    return start, along(start, hold.way, edge_mm), along(start, hold.way, 2 * edge_mm - length_mm)


def _round(sheets: Sheets, start: Vec, hold: Hold) -> Section:
    """The corners that a strap goes round, as mm along its way and out: the convex hull of what lies in its plane, from
    its start on. Where nothing turns it, it goes straight on."""
    points = {(0.0, 0.0), *_cut(sheets, start, hold)}
    hull = _hull(sorted((up, off) for up, off in points if off <= TINY_MM))
    if len(hull) < 3:
        return [(FAR_MM, 0.0)]
    first = max((at for at in hull if at[1] > -TINY_MM), key=lambda at: at[0], default=(FAR_MM, 0.0))
    begin = hull.index(first)
    return [*hull[begin:], *hull[:begin]]


def _cut(sheets: Sheets, start: Vec, hold: Hold) -> Iterator[tuple[float, float]]:
    """Where the plane of a strap cuts the outer parts."""
    across = outer(hold.out, hold.way)
    far = inner(start, across)
    for corners in sheets:
        sides = [inner(at, across) - far for at in corners]
        if min(sides) > 0 or max(sides) < 0:
            continue
        legs = pairwise((*zip(corners, sides, strict=True), (corners[0], sides[0])))
        for (at, before), (to, after) in legs:
            if before * after < 0 or before == 0:
                found = along(at, minus(to, at), before / (before - after)) if before else at
                off = minus(found, start)
                yield round(inner(off, hold.way), 6), round(inner(off, hold.out), 6)


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
