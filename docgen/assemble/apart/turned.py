"""What of a part lies inside once a seam is turned right side out, and is not seen."""

from __future__ import annotations

import math
from collections.abc import Container, Iterator, Mapping, Sequence
from dataclasses import replace
from itertools import pairwise

from docgen.assemble.apart.bodies import CHORD_MM, Body, Row, parts_inside
from docgen.assemble.apart.bonds import step_of
from docgen.assemble.apart.laid_flat import band_under
from docgen.assemble.apart.through import find_elsewhere
from docgen.assemble.apart.under_hems import Covered, find_hemmed
from docgen.assemble.assembled import Assembled
from docgen.assemble.assembly import Copy
from docgen.assemble.space.placed import Placed, Space
from docgen.assemble.space.track import trace
from docgen.assemble.space.turned_out import half_round
from docgen.assemble.space.vectors import minus, times
from docgen.geometry.path import flatten, ring_area
from docgen.geometry.shapes import Point
from docgen.geometry.vector import between

LAID_ON = ("lies on", "turned out")
CLOSED_MM = 1.0  # a row whose ends lie no farther apart goes round
TINY_MM = 1e-6


def find_turned(build: Assembled) -> Mapping[str, int]:
    """The seams that are turned right side out, and the last step that sews each of them. One that only tacks a tab on a
    panel turns nothing: it goes in with another."""
    names = {seam.name for seam in build.seams if seam.is_turned}
    hosts = {placed.copy: placed.host for placed in build.space.parts if placed.how in LAID_ON}
    sewn = [
        (once.seam, step_of(build, once.event))
        for once in build.assembly.sewn
        if once.seam in names and not any(hosts.get(side) in once.sides for side in once.sides)
    ]
    return dict(sorted(sewn, key=lambda one: one[1]))


class TurnedRings:
    """The outlines of parts without what lies inside once their seams are turned, and those of parts that lie on them,
    which the needle goes `through`; `turned` tells the last step (from 0) that sews each of those, `elsewhere` which of
    them sew other copies of a part alone, and `hemmed` what is seen of parts under a hem. What is worked out once is
    kept."""

    def __init__(
        self,
        turned: Mapping[str, int],
        through: Mapping[Copy, Sequence[Row]],
        elsewhere: Mapping[Copy, frozenset[str]],
        hemmed: Mapping[Copy, Covered],
    ) -> None:
        self.turned, self.through, self.elsewhere, self.hemmed = turned, through, elsewhere, hemmed
        self._known: dict[tuple[Copy, tuple[int, ...], bool], tuple[Point, ...]] = {}

    @property
    def last(self) -> int:
        """The last step (from 0) that turns any of them in; -1 for none."""
        return max((*self.turned.values(), *(step for step, _ in self.hemmed.values())), default=-1)

    def of(self, placed: Placed, step: int | None = None) -> tuple[Point, ...]:
        """That of a part once all its seams are turned, or those that steps before one do."""
        rows = [(name, points) for name, points in self._rows_of(placed) if name in self.turned]
        done = tuple(k for k, (name, _) in enumerate(rows) if step is None or self.turned[name] < step)
        at, seen = self.hemmed.get(placed.copy, (0, ()))
        is_under = bool(seen) and (step is None or at < step)
        key = (placed.copy, done, is_under)
        if key not in self._known:
            ring = seen if is_under else placed.ring
            for k in done:
                row = rows[k][1] if ring is placed.item.ring else _within(ring, rows[k][1])
                ring = turn_in(ring, row) if row else ring
            self._known[key] = ring
        return self._known[key]

    def _rows_of(self, placed: Placed) -> Iterator[tuple[str, Sequence[Point]]]:
        """The rows on a part: its own, and those that go through it, stretch by stretch."""
        not_its = self.elsewhere.get(placed.copy, frozenset())
        for mark in placed.item.marks:
            if mark.kind == "stitch" and mark.name in self.turned and mark.name not in not_its:
                yield mark.name, flatten(mark.path, CHORD_MM)
        chain: list[Point] = []
        legs = self.through.get(placed.copy, ())
        for k, (name, _, start, end) in enumerate(legs):
            chain = [*chain, end] if chain else [start, end]
            if k + 1 == len(legs) or legs[k + 1][0] != name or math.dist(legs[k + 1][2], end) > CHORD_MM:
                yield name, chain
                chain = []


def read_rings(build: Assembled, lifted: Space, through: Mapping[Copy, Sequence[Row]]) -> TurnedRings:
    """The outlines of the parts of a build; `through` tells the rows of others on each."""
    return TurnedRings(find_turned(build), through, find_elsewhere(build), find_hemmed(build, lifted))


def lead_inward(body: Body, turned: Container[str]) -> Body:
    """A tab that stands out of a turned seam as it lies before that is turned: half round about its row, so that it leads
    inward."""
    surface = body.placed.surface
    own = (trace(mark.path).points for mark in body.placed.item.marks if mark.kind == "stitch" and mark.name in turned)
    rows = [(surface.point(points[0]), surface.point(points[-1])) for points in own]
    rows += [
        (surface.point(at, band), surface.point(to, band)) for name, band, at, to in body.through if name in turned
    ]
    return body.with_place(half_round(body.placed, rows[0])) if rows else body


def lay_back(body: Body, host: Placed, turned: Container[str]) -> Body:
    """What stands out of a turned seam as it is laid on its host before: on the outside of that."""
    before = lead_inward(body, turned).placed
    under = times(host.lifts[band_under(host, before)], 2.0)
    lifts = tuple(minus(under, lift) for lift in before.lifts)
    return body.with_place(replace(before, how="lies on", level=-before.level, lifts=lifts))


def turn_in(ring: Sequence[Point], row: Sequence[Point]) -> tuple[Point, ...]:
    """An outline without the strip between its edge and a row: the row, and what of the outline is on the same side of it
    as most of the part."""
    if math.dist(row[0], row[-1]) < CLOSED_MM:  # what of a row is left within other allowances may be a mere point
        return tuple(row[:-1]) if abs(ring_area(row)) > CLOSED_MM**2 else tuple(ring)
    first, last = _foot(ring, row[-1]), _foot(ring, row[0])
    ways = [(*row, *_walk(ring, first, last)), (*row, *reversed(_walk(ring, last, first)))]
    return max(ways, key=lambda way: round(abs(ring_area(way)), 6))


def _within(ring: Sequence[Point], row: Sequence[Point]) -> Sequence[Point]:
    """What of a row lies in an outline that others are turned in of already: its longest part; nothing of one that lies
    in what is turned in."""
    chains: list[list[Point]] = []
    for leg in pairwise(row):
        for start, end in parts_inside(ring, *leg):
            if not chains or math.dist(chains[-1][-1], start) > TINY_MM:
                chains.append([start])
            chains[-1].append(end)
    return max(chains, key=lambda chain: round(math.dist(chain[0], chain[-1]), 3), default=())


Foot = tuple[int, float]
"""A place on an outline: the number of its leg, and the share of that."""


def _foot(ring: Sequence[Point], at: Point) -> Foot:
    """The place on an outline that is nearest to a point."""

    def off(number: int) -> tuple[float, float]:
        start, end = ring[number], ring[(number + 1) % len(ring)]
        dx, dy = end[0] - start[0], end[1] - start[1]
        share = ((at[0] - start[0]) * dx + (at[1] - start[1]) * dy) / (dx * dx + dy * dy or 1.0)
        share = min(max(share, 0.0), 1.0)
        return math.dist(between(start, end, share), at), share

    number = min(range(len(ring)), key=lambda k: round(off(k)[0], 6))
    return number, off(number)[1]


def _walk(ring: Sequence[Point], first: Foot, last: Foot) -> list[Point]:
    """The corners of an outline from one place to another, with both, the way that it goes."""
    count = (last[0] - first[0]) % len(ring)
    if not count and last[1] < first[1]:
        count = len(ring)
    corners = [ring[(first[0] + k) % len(ring)] for k in range(1, count + 1)]
    places = [_place(ring, first), *corners, _place(ring, last)]
    return [at for k, at in enumerate(places) if k == 0 or math.dist(at, places[k - 1]) > TINY_MM]


def _place(ring: Sequence[Point], foot: Foot) -> Point:
    return between(ring[foot[0]], ring[(foot[0] + 1) % len(ring)], foot[1])
