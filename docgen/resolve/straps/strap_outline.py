"""The outline of a strap: a standing strip with square, rounded or pointed ends, tapered or not. mm."""

import math
from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

from docgen.geometry.shapes import Arc, Edge, Line, Outline, Path, Point
from docgen.geometry.vector import Transform, compose, translation
from docgen.resolve.piece import WAYS
from docgen.resolve.straps.strap import Ends, Strap, StrapEnd

SQUARE = StrapEnd(shape="square", back_mm=0.0, around="", takes_mm=0.0)


def shaped_end_mm(end: StrapEnd, width_mm: float) -> float:
    """Length that the shape of an end takes."""
    if not is_shaped(end.shape):
        return 0.0
    return (end.taper.width_mm if end.taper else width_mm) / 2


def is_shaped(shape: str) -> bool:
    """Whether an end is rounded or pointed."""
    return shape in ("pointed", "rounded")


def stitch_runs(first: str, second: str, *, is_doubled: bool) -> tuple[tuple[str, ...], ...]:
    """Edges that each run of stitching follows: the two long edges, and round a shaped end where two layers would lie
    open there. One layer has nothing to close."""
    if is_doubled and is_shaped(first) and is_shaped(second):
        return (("all",),)
    if is_doubled and is_shaped(second):
        return (("left", "end", "right"),)
    if is_doubled and is_shaped(first):
        return (("left", "start", "right"),)
    return ("left",), ("right",)


def strap_outline(width_mm: float, length_mm: float, ends: Ends) -> Outline:
    """A standing strap, start at the bottom: edges start, right, end, left.

    A pointed end comes to a point at half its width from its shoulders; a rounded one is a half circle;
    square and turned ends are cut square. A tapered end keeps its width for a while and then widens evenly. Both ends
    must fit: `end_length_mm` of both is at most the length.
    """
    middle = width_mm / 2
    low = _profile(ends[0], width_mm)
    high = [(length_mm - up, half) for up, half in reversed(_profile(ends[1], width_mm))]
    sides = [*low, *(high[1:] if high[0] == low[-1] and len(high) > 1 else high)]
    right, left = ([Point(middle + way * half, up) for up, half in sides] for way in (1, -1))
    return Outline(
        (
            Edge("start", _end_path(ends[0].shape, left[0], right[0], -1.0)),
            Edge("right", _side(right)),
            Edge("end", _end_path(ends[1].shape, right[-1], left[-1], 1.0)),
            Edge("left", _side(left[::-1])),
        )
    )


def lying_outline(strap: Strap, which: int, over_mm: float) -> Outline:
    """An end of a strap that lies fast, by itself: `over_mm` of it, the end at the bottom, its lower left at (0, 0). A
    turned end is square as it lies, and so is one of which less lies fast than its shape takes."""
    end, wide_mm = replace(strap.ends[which], taper=None), strap.end_width_mm(which)
    lies = SQUARE if over_mm < shaped_end_mm(end, wide_mm) else end
    return strap_outline(wide_mm, over_mm, (lies, SQUARE))


def onto_piece(strap: Strap, which: int, at: Point, leads: str) -> Transform:
    """From an end by itself to where it lies on a piece: its middle at a point, and up becomes the way it leads."""
    way = WAYS[leads]
    middle, turn = translation(-strap.end_width_mm(which) / 2, 0.0), Transform(way.y, -way.x, way.x, way.y)
    return compose(compose(middle, turn), translation(*at))


def end_length_mm(end: StrapEnd, width_mm: float) -> float:
    """Length from the cut end on to where the strap has its own width."""
    return _profile(end, width_mm)[-1][0]


def _profile(end: StrapEnd, width_mm: float) -> list[tuple[float, float]]:
    """Corners of a side near an end: how far from the cut end, and half the width there."""
    shaped_mm, taper = shaped_end_mm(end, width_mm), end.taper
    if taper is None:
        return [(shaped_mm, width_mm / 2)]
    half_mm, straight_mm = taper.width_mm / 2, max(taper.straight_mm, shaped_mm)
    corners = [(shaped_mm, half_mm)] if straight_mm > shaped_mm else []
    return [*corners, (straight_mm, half_mm), (straight_mm + taper.long_mm, width_mm / 2)]


def _side(points: Sequence[Point]) -> Path:
    return Path(tuple(Line(a, b) for a, b in pairwise(points)))


def _end_path(shape: str, begin: Point, end: Point, outward: float) -> Path:
    middle = Point((begin.x + end.x) / 2, begin.y)
    radius = abs(end.x - begin.x) / 2
    if shape == "pointed":
        tip = Point(middle.x, middle.y + outward * radius)
        return Path((Line(begin, tip), Line(tip, end)))
    if shape == "rounded":
        return Path((Arc(middle, radius, math.pi if outward < 0 else 0.0, math.pi),))
    return Path((Line(begin, end),))
