"""Lines of a drawing on paper: broken off at a height, cut to a window, joined end to end."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import pairwise

from docgen.assemble import Flat
from docgen.geometry.measure import cut_to_box
from docgen.geometry.shapes import Box, Point
from docgen.geometry.vector import between
from docgen.pages.pictures.hide import rest_of

BREAK_MM = 1.0  # on paper, of a break line beyond the strap
STRAP_MM = 5.0  # on paper: ends of lines no farther apart are of one strap
TINY = 1e-9  # a share of a leg that is none
JOIN_MM = 0.02  # legs whose ends lie no farther apart are one line

Leg = tuple[str, Point, Point]
"""A kind of line, and where it runs on paper."""


def break_off(legs: Sequence[Leg], high: float) -> Iterator[Leg]:
    """What lies below a height, and a break line, a zigzag, across each strap that goes on."""
    ends: list[float] = []
    for kind, start, end in legs:
        low, top = (start, end) if start.y <= end.y else (end, start)
        if top.y <= high:
            yield kind, start, end
        elif low.y < high:
            share = (high - low.y) / (top.y - low.y)
            at = Point(low.x + (top.x - low.x) * share, high)
            yield kind, low, at
            ends += [at.x] if kind.endswith(("outline", "edge")) else []
    for group in _near_each_other(sorted(ends)):
        left, right = group[0] - BREAK_MM, group[-1] + BREAK_MM
        middle = (left + right) / 2
        points = [
            (left, 0.0),
            (middle - 0.5, 0.0),
            (middle - 0.2, 0.7),
            (middle + 0.2, -0.7),
            (middle + 0.5, 0.0),
            (right, 0.0),
        ]
        for (x, y), (to_x, to_y) in pairwise(points):
            yield "break", Point(x, high + y), Point(to_x, high + to_y)


def _near_each_other(places: Sequence[float]) -> Iterator[list[float]]:
    group: list[float] = []
    for x in places:
        if group and x - group[-1] > STRAP_MM:
            yield group
            group = []
        group.append(x)
    if group:
        yield group


def chain_legs(legs: Sequence[Leg]) -> Iterator[tuple[str, list[Point]]]:
    """Legs end to end as one line, so that dashes run on."""
    kind, chain = "", list[Point]()
    for name, start, end in legs:
        if name == kind and chain and math.dist(chain[-1], start) < JOIN_MM:
            chain.append(end)
            continue
        if chain:
            yield kind, chain
        kind, chain = name, [start, end]
    if chain:
        yield kind, chain


def clear_hatching(legs: Sequence[Leg], boxes: Sequence[Box]) -> Iterator[Leg]:
    """The legs, those of hatching without what of them lies in some boxes."""
    for kind, start, end in legs:
        spans = [cut_to_box(start, end, box) for box in boxes] if "hatch" in kind else []
        for begin, finish in rest_of([span for span in spans if span is not None]) if any(spans) else [(0.0, 1.0)]:
            yield kind, between(start, end, begin), between(start, end, finish)


def frame_legs(legs: Sequence[Leg], wide: float, high: float) -> Iterator[Leg]:
    """What of the legs lies within a window from (0, 0) on, and a frame round it."""
    window = Box(0.0, 0.0, wide, high)
    for kind, start, end in legs:
        begin, finish = cut_to_box(start, end, window) or (0.0, 0.0)
        if finish - begin > TINY:
            yield kind, between(start, end, begin), between(start, end, finish)
    yield from (("frame", start, end) for start, end in pairwise((*window.corners, window.corners[0])))


def is_beyond(window: tuple[float, float, float, float], start: Flat, end: Flat) -> bool:
    """Whether a line lies on one side of a window, from left to right and from bottom to top."""
    left, right, bottom, top = window
    is_beside = max(start[0], end[0]) < left or min(start[0], end[0]) > right
    return is_beside or max(start[1], end[1]) < bottom or min(start[1], end[1]) > top
