"""Flaps that bend round more than lies there: what goes in makes room for them, and it is not drawn."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace

from docgen.assemble.apart.bodies import Body
from docgen.assemble.assembly import Copy
from docgen.assemble.space.metal import Metal
from docgen.assemble.space.placed import ALIKE, LAYER_MM
from docgen.assemble.space.surface import is_in_ring, lower_end
from docgen.assemble.space.vectors import Vec, inner, length, minus, times
from docgen.geometry.shapes import Point

MEETS_MM = 10.0  # the halves of a snap on a flap that goes round something lie no farther aside: our choice
SQUARE = 0.1  # the cosine of the angle between a flap and the band that stands up to it, which is square


def lay_flaps_down(bodies: Mapping[Copy, Body], closers: Iterable[Metal]) -> dict[Copy, Body]:
    """The bodies with each flap that a snap or a stud closes lying on what that is set in; what it bends round is drawn
    only as high as the layers there."""
    found = {**bodies}
    for stud in closers:
        for copy in bodies:
            for hole in found[copy].holes:
                end = _end_over(found[copy], hole.band, hole.middle, stud)
                if end is not None:
                    _lay_down(found, found[copy], end, stud)
    return found


def _end_over(body: Body, band: int, at: Vec, stud: Metal) -> tuple[int, int] | None:
    """The last band of a flap with a hole that lies over a stud, higher than layers do, and the one that leads up to it."""
    bands, placed = body.placed.surface.bands, body.placed
    if len(bands) < 3 or band not in (0, len(bands) - 1) or inner(placed.out(band), stud.axis) < ALIKE:
        return None
    beside = 1 if band == 0 else band - 1
    far = minus(at, stud.at)
    over_mm = inner(far, stud.axis)
    is_met = length(minus(far, times(stud.axis, over_mm))) < MEETS_MM
    is_square = abs(inner(placed.out(beside), stud.axis)) < SQUARE
    return (band, beside) if is_met and is_square and over_mm > 0 else None


def _lay_down(bodies: dict[Copy, Body], body: Body, end: tuple[int, int], stud: Metal) -> None:
    """A flap, with all that bends as it does, one layer over the uppermost that lies under it."""
    old = body.placed
    shared = [copy for copy, one in bodies.items() if one.placed.surface.bands == old.surface.bands]
    under = max(_heights_under(bodies.values(), body, end[0], stud.axis), default=0.0)
    lowest = min(inner(bodies[copy].lifts[end[0]], stud.axis) for copy in shared)
    high_mm = inner(minus(old.surface.bands[end[0]].at, stud.at), stud.axis)
    down_mm = high_mm - (under - inner(stud.at, stud.axis) + LAYER_MM - lowest)
    if not 0 < down_mm < high_mm:
        return
    bands = lower_end(old.surface.bands, end, times(stud.axis, -down_mm))
    for copy in shared:
        placed = bodies[copy].placed
        bodies[copy] = bodies[copy].with_place(replace(placed, surface=replace(placed.surface, bands=bands)))


def _heights_under(bodies: Iterable[Body], flap: Body, end: int, axis: Vec) -> Iterator[float]:
    """How high along an axis what lies under the end of a flap is drawn, at its corners and in its middle."""
    corners = next(face.ring for face in flap.faces if face.band == end)
    middle = Point(sum(at.x for at in corners) / len(corners), sum(at.y for at in corners) / len(corners))
    inward = [Point((at.x + middle.x) / 2, (at.y + middle.y) / 2) for at in corners]
    places = [flap.placed.surface.point(at, end) for at in (middle, *inward)]
    for body in bodies:
        surface = body.placed.surface
        if surface.bands == flap.placed.surface.bands and body is not flap:
            continue
        for k, band in enumerate(surface.bands):
            if abs(inner(surface.normal(k), axis)) > ALIKE and not (body is flap and k == end):
                for at in places:
                    foot, _ = surface.foot(band, at)
                    high = inner(surface.point(foot, k), axis) if foot is not None else 0.0
                    if foot is not None and is_in_ring(body.placed.ring, foot) and high < inner(at, axis):
                        yield high + inner(body.lifts[k], axis)
