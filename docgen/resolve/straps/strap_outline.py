"""The outline of a strap: a standing strip with square, rounded or pointed ends. mm."""

import math

from docgen.geometry.shapes import Arc, Edge, Line, Outline, Path, Point


def shaped_ends_mm(width_mm: float, first: str, second: str) -> float:
    """Length that the shaped ends of a strap take together."""
    return _end_mm(width_mm, first) + _end_mm(width_mm, second)


def _end_mm(width_mm: float, shape: str) -> float:
    return width_mm / 2 if is_shaped(shape) else 0.0


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


def strap_outline(width_mm: float, length_mm: float, first: str, second: str) -> Outline:
    """A standing strap, start at the bottom: edges start, right, end, left.

    A pointed end comes to a point at half the width from its shoulders; a rounded one is a half circle;
    square and turned ends are cut square. Both ends must fit: `shaped_ends_mm` is at most the length.
    """
    low = _end_mm(width_mm, first)
    high = length_mm - _end_mm(width_mm, second)
    return Outline(
        (
            Edge("start", _end_path(first, Point(0, low), Point(width_mm, low), -1.0)),
            Edge("right", Path((Line(Point(width_mm, low), Point(width_mm, high)),))),
            Edge("end", _end_path(second, Point(width_mm, high), Point(0, high), 1.0)),
            Edge("left", Path((Line(Point(0, high), Point(0, low)),))),
        )
    )


def _end_path(shape: str, begin: Point, end: Point, outward: float) -> Path:
    middle = Point((begin.x + end.x) / 2, begin.y)
    radius = abs(end.x - begin.x) / 2
    if shape == "pointed":
        tip = Point(middle.x, middle.y + outward * radius)
        return Path((Line(begin, tip), Line(tip, end)))
    if shape == "rounded":
        return Path((Arc(middle, radius, math.pi if outward < 0 else 0.0, math.pi),))
    return Path((Line(begin, end),))
