"""A strip that posts hold on one face at several of its holes: flat where these lie as far from each other as those of the
face, and where they lie farther in a bow off it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise

from docgen.assemble.assembly import Copy
from docgen.assemble.space.arch import Hold, stand_up
from docgen.assemble.space.scene import Scene
from docgen.assemble.space.vectors import Vec, along, apart, direction, minus, times
from docgen.geometry.nearby import near_finder
from docgen.geometry.shapes import Point
from docgen.geometry.vector import cross, distance, subtract, unit

SAME_MM = 0.01  # holes so near to each other are written from two sides: one hole
MEETS_MM = 0.5  # distances that differ by no more are one
AMID = 0.3  # of the width of a face: nearer to an edge a strap may lead over that: our choice
ON_LINE_MM = 1.0  # so far a hole may lie off the line of the others
Row = list[tuple[Point, Point]]
"""Holes of a strip from one end to the other, each with that of the face on which it lies."""


def match_holes(own: Iterable[Point], under: Iterable[Point]) -> Row | None:
    """The holes of a strip in a line, with those of a face, as many, on which they lie; None where there are not as many,
    or a stretch between two is shorter than that beneath."""
    return next(match_both_ways(own, under), None)


def match_both_ways(own: Iterable[Point], under: Iterable[Point]) -> Iterator[Row]:
    """The same for either way round on which they fit."""
    mine, its = _in_line(own), _in_line(under)
    if len(mine) < 2 or len(mine) != len(its):
        return
    rows = ([*zip(mine, way, strict=True)] for way in (its, its[::-1]))
    yield from (row for row in rows if all(before >= after - MEETS_MM for before, after in _gaps(row)))


def bows(row: Row) -> bool:
    """Whether a strip stands off between any of its holes."""
    return any(before > after + MEETS_MM for before, after in _gaps(row))


def _is_amid(scene: Scene, host: Copy, row: Row) -> bool:
    """Whether holes lie about in the middle of a face, across their line."""
    (_, start), (_, end) = row[0], row[-1]
    way = unit(subtract(end, start))
    sides = [cross(way, subtract(at, start)) for at in scene.item(host).ring]
    return min(max(sides), -min(sides)) > AMID * (max(sides) - min(sides))


def _gaps(row: Row) -> Iterator[tuple[float, float]]:
    """Between each hole of a strip and the next, and between those beneath."""
    for (one, at), (other, to) in pairwise(row):
        yield distance(one, other), distance(at, to)


def _in_line(points: Iterable[Point]) -> list[Point]:
    """Points along the line through the first and the one farthest from it; none where they do not lie on it."""
    every = [*points]
    near, kept = near_finder(every, SAME_MM), dict[int, Point]()
    for number, at in enumerate(every):
        if kept.keys().isdisjoint(near(at)):
            kept[number] = at
    found = [*kept.values()]
    if len(found) < 2:
        return found
    start = max(found, key=lambda at: round(distance(at, found[0]), 6))
    far = max(found, key=lambda at: round(distance(at, start), 6))
    way = unit(subtract(far, start))
    if any(abs(cross(way, subtract(at, start))) > ON_LINE_MM for at in found):
        return []
    ordered = sorted(found, key=lambda at: round(distance(at, start), 6))
    return ordered if ordered[0] == found[0] else ordered[::-1]


def post_line(scene: Scene, host: Copy, row: Row, ends_mm: tuple[float, float]) -> Sequence[tuple[float, Vec]] | None:
    """The line of the middle of a strip over a placed face: points with how far along it they are from its first hole on;
    straight on for so far beyond its first and its last hole. None where the face bends between; or where what stands up
    might as well lie over an edge that is near, as that of an apron's neck does."""
    placed = scene.placed[host]
    if bows(row) and not _is_amid(scene, host, row):
        return None
    band = placed.surface.band_of(row[0][1])
    if any(placed.surface.band_of(at) != band for _, at in row):
        return None
    out, spots = placed.out(band), [placed.surface.point(at, band) for _, at in row]
    line = [(0.0, spots[0])]
    for (at, to), (own_mm, _) in zip(pairwise(spots), _gaps(row), strict=True):
        way = direction(minus(to, at))
        if own_mm <= apart(at, to) + MEETS_MM:
            line.append((line[-1][0] + own_mm, to))
            continue
        bow = stand_up(Hold(at=at, way=way, out=out), Hold(at=to, way=times(way, -1.0), out=out), own_mm) or []
        begin_mm = line[-1][0]
        line += [(begin_mm + own_mm * k / (len(bow) - 1), point) for k, point in enumerate(bow) if k]
    ways = [direction(minus(*pair)) for pair in ((spots[0], spots[1]), (spots[-1], spots[-2]))]
    first, last = (
        along(spot, way, end_mm) for spot, way, end_mm in zip((spots[0], spots[-1]), ways, ends_mm, strict=True)
    )
    return [(-ends_mm[0], first), *line, (line[-1][0] + ends_mm[1], last)]
