"""Rows of stitches beneath what lies on a part: the needle goes through that too, and the row is seen on it alone. Layers
are drawn apart, so that a row beneath would be seen beside them."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence

from docgen.assemble import Body, BodyLine, MetalBody, Span, Vec, inner, parts_inside
from docgen.geometry.shapes import Point
from docgen.pages.pictures.hide import rest_of


def list_over(drawn: Sequence[tuple[Body | MetalBody, Vec]]) -> Mapping[int, Sequence[Body]]:
    """The parts that lie on others, and are not lifted off them, through which rows of these go: by the place of each such
    host in a drawing. `drawn` are bodies, each with its shift."""
    places = {body.copy: place for place, (body, _) in enumerate(drawn) if isinstance(body, Body)}
    found: dict[int, list[Body]] = {}
    for body, shift in drawn:
        if isinstance(body, Body) and body.through and body.placed.level and body.placed.host in places:
            place = places[body.placed.host]
            if drawn[place][1] == shift:
                found.setdefault(place, []).append(body)
    return found


def bare_spans(body: Body, line: BodyLine, over: Sequence[Body], eye: Vec) -> list[Span]:
    """The shares of a row on a part that do not lie beneath those parts, as they are seen."""
    return rest_of([span for one in over for span in _spans_under(body, line, one, eye)])


def both(spans: Iterable[Span], others: Sequence[Span]) -> Iterator[Span]:
    """The shares that lie in both, those of one and the others."""
    for begin, finish in spans:
        for at, to in others:
            if min(finish, to) > max(begin, at):
                yield max(begin, at), min(finish, to)


def _spans_under(body: Body, line: BodyLine, one: Body, eye: Vec) -> Iterator[Span]:
    own = line.bands[0]
    names = {(name, band) for name, band, _, _ in one.through}
    bends_with = 1 < len(one.placed.surface.bands) == len(body.placed.surface.bands)
    for face in one.faces if inner(body.placed.out(own), eye) * one.placed.level > 0 else ():
        if (line.name, face.band) in names and (face.band == own or not bends_with):
            yield from _within(one, face.band, face.ring, line)


def _within(one: Body, number: int, ring: Sequence[Point], line: BodyLine) -> Iterator[Span]:
    surface = one.placed.surface
    start, end = (surface.foot_in_plane(surface.bands[number], at)[0] for at in (line.start, line.end))
    long_mm = math.dist(start, end)
    for at, to in parts_inside(ring, start, end) if long_mm else ():
        yield math.dist(start, at) / long_mm, math.dist(start, to) / long_mm
