"""Plane shapes as immutable values: points, boxes, segments, paths, outlines. All in mm, y up.

Angles are radians, anticlockwise from the x axis.
"""

from collections.abc import Callable
from functools import partial
from typing import NamedTuple

from docgen.classes import dataclass


class GeometryError(ValueError):
    """The shape asked for does not exist; the message says why, in plain words."""


class RoundedCurveError(GeometryError):
    """A corner beside a curve is to be rounded."""


class Point(NamedTuple):
    """A point, or a vector, in mm."""

    x: float
    y: float


make_point: Callable[[tuple[float, float]], Point] = partial(tuple.__new__, Point)
"""The point of two figures, where very many are made: in half of the time that the class takes."""


@dataclass(frozen=True, slots=True)
class Box:
    """An upright rectangle from (left, bottom) to (right, top)."""

    left: float
    bottom: float
    right: float
    top: float

    def level(self, side: str) -> float:
        """Where a side (left, bottom, right, top) lies: x of an upright one, y of the others."""
        return {"left": self.left, "bottom": self.bottom, "right": self.right, "top": self.top}[side]

    def off(self, at: tuple[float, float], side: str) -> float:
        """How far a point lies from the line of a side, to whichever hand."""
        return abs(at[side not in ("left", "right")] - self.level(side))

    @property
    def width(self) -> float:
        return self.right - self.left

    @property
    def height(self) -> float:
        return self.top - self.bottom

    @property
    def centre(self) -> Point:
        return Point((self.left + self.right) / 2, (self.bottom + self.top) / 2)

    @property
    def corners(self) -> tuple[Point, Point, Point, Point]:
        """Anticlockwise from the bottom left."""
        low, high = self.bottom, self.top
        return Point(self.left, low), Point(self.right, low), Point(self.right, high), Point(self.left, high)


@dataclass(frozen=True, slots=True)
class Line:
    """A straight segment."""

    start: Point
    end: Point


@dataclass(frozen=True, slots=True)
class Arc:
    """A part of a circle: begins at angle `begin`, turns by `sweep` (positive: anticlockwise)."""

    centre: Point
    radius: float
    begin: float
    sweep: float


@dataclass(frozen=True, slots=True)
class Curve:
    """A cubic Bezier curve: two ends and two handles."""

    start: Point
    handle_1: Point
    handle_2: Point
    end: Point


Segment = Line | Arc | Curve


@dataclass(frozen=True)
class Path:
    """Segments end to end; `closed` when the last one ends where the first begins."""

    segments: tuple[Segment, ...]
    closed: bool = False


@dataclass(frozen=True, slots=True)
class Edge:
    """A named stretch of an outline.

    `corner` marks the arc that rounds a corner; its name is the corner's.
    """

    name: str
    path: Path
    corner: bool = False


@dataclass(frozen=True)
class Outline:
    """A closed shape as its edges in order, anticlockwise; each begins where the one before ends."""

    edges: tuple[Edge, ...]
