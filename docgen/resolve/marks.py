"""What is marked on a piece, in its own coordinates, mm.

A kind of mark is one class here, which says how it is drawn, moved and carried to a smaller piece, and a field of `Marks`.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import fields, replace
from typing import Any, ClassVar, Protocol, Self

from docgen.classes import dataclass
from docgen.geometry.overlap import parts_without
from docgen.geometry.path import circle_path, path_box, polyline
from docgen.geometry.shapes import Arc, Box, Line, Path, Point
from docgen.geometry.vector import (
    Transform,
    add,
    between,
    compose,
    cross,
    dot,
    half_round,
    mirror_x,
    scale,
    subtract,
    translation,
    turn_left,
    unit,
)
from docgen.problems import Place
from docgen.resolve.moving import Inset, Move

NOTCH_MM = 4.0  # how far a notch is marked inward


class PieceLine(Protocol):
    """A line on a piece: `kind` is its name in the layouts, `key` tells it from others of its kind, `path` is what is
    drawn, whatever is drawn besides."""

    @property
    def kind(self) -> str: ...

    @property
    def key(self) -> str: ...

    @property
    def path(self) -> Path: ...


class PieceMark(PieceLine, Protocol):
    """What every class of marks offers."""

    def moved(self, move: Move) -> Self: ...

    def inset(self, into: Inset) -> Self | None:
        """The mark as it is carried from a model to a smaller piece; None where it does not come along."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Hole:
    """A round hole; with `slot` (half of the way between the centres of its two ends) an oblong one. `is_middle` marks
    the middle one of a row; `through` names parts that its hardware goes through besides, `meets` are the titles of the
    parts whose holes come to lie on it."""

    kind: ClassVar[str] = "hole"
    at: Point
    diameter_mm: float
    takes: str = ""
    place: Place = Place()
    slot: Point = Point(0.0, 0.0)
    is_middle: bool = False
    through: tuple[str, ...] = ()
    meets: tuple[str, ...] = ()

    @property
    def long_mm(self) -> float:
        """Whole length of an oblong hole; 0 of a round one."""
        half_mm = math.hypot(self.slot.x, self.slot.y)
        return self.diameter_mm + 2 * half_mm if half_mm else 0.0

    @property
    def key(self) -> str:
        return "middle" if self.is_middle else ""

    @property
    def path(self) -> Path:
        """The rim: a circle, or two half circles joined by straight sides."""
        radius = self.diameter_mm / 2
        if self.slot == Point(0.0, 0.0):
            return circle_path(self.at, radius)
        angle = math.atan2(self.slot.y, self.slot.x)
        side = scale(turn_left(unit(self.slot)), radius)
        first, second = add(self.at, self.slot), subtract(self.at, self.slot)
        return Path(
            (
                Arc(first, radius, angle - math.pi / 2, math.pi),
                Line(add(first, side), add(second, side)),
                Arc(second, radius, angle + math.pi / 2, math.pi),
                Line(subtract(second, side), subtract(first, side)),
            ),
            closed=True,
        )

    @property
    def shape(self) -> tuple[float, Point, bool]:
        """What equal holes have in common, wherever they are."""
        return self.diameter_mm, self.slot, self.is_middle

    def room(self, by_mm: float) -> Box:
        """The upright box round the hole, so much larger on every side."""
        (x, y), reach = self.at, self.diameter_mm / 2 + by_mm
        across, up = abs(self.slot.x) + reach, abs(self.slot.y) + reach
        return Box(x - across, y - up, x + across, y + up)

    def wider(self, by_mm: float) -> Hole:
        """The hole with a rim half of `by_mm` farther out all round."""
        return replace(self, diameter_mm=self.diameter_mm + by_mm)

    def moved(self, move: Move) -> Hole:
        return replace(self, at=move.point(self.at), slot=move.vector(self.slot))

    def inset(self, into: Inset) -> Hole | None:
        return self if into.holds(self.at) else None


@dataclass(frozen=True, slots=True, kw_only=True)
class Notch:
    """`inward` is the unit vector from the edge into the piece."""

    kind: ClassVar[str] = "notch"
    at: Point
    inward: Point
    edge: str

    @property
    def key(self) -> str:
        return self.edge

    @property
    def path(self) -> Path:
        return polyline((self.at, add(self.at, scale(self.inward, NOTCH_MM))))

    def moved(self, move: Move) -> Notch:
        return replace(self, at=move.point(self.at), inward=move.vector(self.inward), edge=move.edges(self.edge))

    def inset(self, into: Inset) -> Notch:
        """In at the new edge."""
        return replace(self, at=add(self.at, scale(self.inward, into.by_mm)))


@dataclass(frozen=True, slots=True, kw_only=True)
class Fold:
    """`turned_mm` is how far the fold lies from the edge it is measured from; 0 where it is measured from a middle.
    One that `is_open` only bends, by `angle_deg` where that is said: its halves do not lie on each other. `around` is
    the hardware that the piece is folded round. One `of_hem` is a fold of a hem, which tells what it turns over. What lies
    `inside` is "grain" or "flesh", "" where that is not said."""

    kind: ClassVar[str] = "fold"
    start: Point
    end: Point
    note: str = ""
    turned_mm: float = 0.0
    is_open: bool = False
    angle_deg: float = 0.0
    around: str = ""
    of_hem: bool = False
    inside: str = ""
    place: Place = Place()

    @property
    def key(self) -> str:
        return ", ".join(filter(None, (self.note, self.inside and f"{self.inside} side in")))

    def is_grain_in(self, shows: str) -> bool:
        """Whether it lays the grain side of its piece inside: as is said, else where the piece shows its flesh side."""
        return (self.inside or ("grain" if shows == "flesh" else "flesh")) == "grain"

    @property
    def path(self) -> Path:
        return polyline((self.start, self.end))

    @property
    def middle(self) -> Point:
        return between(self.start, self.end, 0.5)

    def off_mm(self, at: Point) -> float:
        """How far a point lies from its line, mm: above 0 on the left of it."""
        way = subtract(self.end, self.start)
        return cross(way, subtract(at, self.start)) / (math.hypot(*way) or 1.0)

    def across(self, at: Point) -> Point:
        """The point where one comes to lie once it is folded flat."""
        away = turn_left(unit(subtract(self.end, self.start)))
        return add(at, scale(away, -2 * dot(subtract(at, self.start), away)))

    def moved(self, move: Move) -> Fold:
        return replace(self, start=move.point(self.start), end=move.point(self.end))

    def inset(self, into: Inset) -> None:
        return None


@dataclass(frozen=True, slots=True, kw_only=True)
class Slit:
    """A straight cut; it `is_apart` where it goes right across the piece and cuts it in two."""

    kind: ClassVar[str] = "slit"
    start: Point
    end: Point
    is_apart: bool = False

    @property
    def key(self) -> str:
        return ""

    @property
    def path(self) -> Path:
        return polyline((self.start, self.end))

    def moved(self, move: Move) -> Slit:
        return replace(self, start=move.point(self.start), end=move.point(self.end))

    def inset(self, into: Inset) -> Slit | None:
        return self if into.holds(self.start, self.end) else None


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawn:
    """A line taken from a drawing; `name` is its id there."""

    kind: ClassVar[str] = "drawn"
    name: str
    path: Path

    @property
    def key(self) -> str:
        return self.name

    def moved(self, move: Move) -> Drawn:
        return replace(self, path=move.path(self.path))

    def inset(self, into: Inset) -> Drawn | None:
        return self if into.holds_line(self.path) else None


@dataclass(frozen=True, slots=True, kw_only=True)
class Skive:
    """`band` is the closed path of the part that is thinned."""

    kind: ClassVar[str] = "skive"
    edges: str
    band: Path
    width_mm: float
    to_mm: float
    to_words: str

    @property
    def key(self) -> str:
        return self.edges

    @property
    def path(self) -> Path:
        return self.band

    def moved(self, move: Move) -> Skive:
        return replace(self, band=move.path(self.band), edges=move.edges(self.edges))

    def inset(self, into: Inset) -> None:
        return None


@dataclass(frozen=True, slots=True, kw_only=True)
class Landing:
    """`outline` is the other piece's, folded up, where it comes to lie on this one; `title` is that piece's; `holes`
    are those of it that hardware goes through and this one does not have. It lies (dx, dy) from its own place; a flap
    that goes over the edge half round besides (`is_over`), and its outline is what lies flat, up to its fold. One that
    `is_inside` lies on the side that does not show, turned over about its upright middle: the same, or `is_turned`."""

    kind: ClassVar[str] = "landing"
    piece: str
    outline: Path
    dx_mm: float
    dy_mm: float
    is_inside: bool = False
    title: str = ""
    holes: tuple[Hole, ...] = ()
    is_over: bool = False
    is_turned: bool = False
    place: Place = Place()

    @property
    def move(self) -> Transform:
        """What lays the other piece on this one."""
        return self._laid(is_turned=self.is_turned)

    @property
    def move_of_lines(self) -> Transform:
        """What lays lines of the other piece on this one, turned over with it where it lies inside."""
        return self._laid(is_turned=self.is_inside)

    def _laid(self, *, is_turned: bool) -> Transform:
        laid = half_round(self.dx_mm, self.dy_mm) if self.is_over else translation(self.dx_mm, self.dy_mm)
        return compose(laid, mirror_x(path_box(self.outline).centre.x)) if is_turned else laid

    @property
    def key(self) -> str:
        return self.piece

    @property
    def path(self) -> Path:
        return self.outline

    def moved(self, move: Move) -> Landing:
        """The other piece is turned over too, about its own middle."""
        outline = move.path(self.outline)
        by = subtract(path_box(outline).centre, path_box(self.outline).centre)
        holes = tuple(hole.moved(move) for hole in self.holes)
        return replace(self, outline=outline, dx_mm=self.dx_mm + by.x, dy_mm=self.dy_mm + by.y, holes=holes)

    def inset(self, into: Inset) -> None:
        return None


@dataclass(frozen=True, slots=True, kw_only=True)
class StitchLine:
    """`holes_mm` are distances of the holes along the path, both ends and sharp corners included; of a closed path the
    last one falls on the first. Of a strip in a join they are its share of the whole seam's holes, and empty where
    its copies would need different ones. By hand there is none on the cut edge, where the thread goes over it.
    `ticked_mm` are those to tick. `row` counts from the edge.
    Where several seams run on one line `turn` counts them from 1, and `shared_mm` are the stretches, as distances along
    the path, that an earlier one has drawn; 0 and none of a line that is a seam's own."""

    kind: ClassVar[str] = "stitch"
    seam: str
    stitch: str
    path: Path
    holes_mm: tuple[float, ...] = ()
    ticked_mm: tuple[float, ...] = ()
    by: str = "machine"
    row: int = 0
    turn: int = 0
    shared_mm: tuple[tuple[float, float], ...] = ()

    @property
    def own_parts(self) -> tuple[Path, ...]:
        """The line without what an earlier seam has drawn of it."""
        return parts_without(self.path, self.shared_mm)

    @property
    def key(self) -> str:
        return f"{self.seam} row {self.row + 1}" if self.row else self.seam

    def moved(self, move: Move) -> StitchLine:
        return replace(self, path=move.path(self.path))

    def inset(self, into: Inset) -> None:
        return None


@dataclass(frozen=True, slots=True, kw_only=True)
class Marks:
    """Every kind of mark, in the order in which they are drawn, holes over all."""

    skives: tuple[Skive, ...] = ()
    landings: tuple[Landing, ...] = ()
    stitch_lines: tuple[StitchLine, ...] = ()
    drawn: tuple[Drawn, ...] = ()
    folds: tuple[Fold, ...] = ()
    slits: tuple[Slit, ...] = ()
    notches: tuple[Notch, ...] = ()
    holes: tuple[Hole, ...] = ()

    def __iter__(self) -> Iterator[PieceMark]:
        for field in fields(self):
            yield from getattr(self, field.name)

    def each(self, change: Callable[[Any], Any]) -> Marks:
        """All marks changed; those that become None are left out."""
        changed = {field.name: map(change, getattr(self, field.name)) for field in fields(self)}
        return Marks(**{name: tuple(mark for mark in marks if mark is not None) for name, marks in changed.items()})

    def moved(self, move: Move) -> Marks:
        return self.each(lambda mark: mark.moved(move))

    def inset(self, into: Inset) -> Marks:
        """Those that come along to a smaller piece."""
        return self.each(lambda mark: mark.inset(into))

    def __add__(self, other: Marks) -> Marks:
        return Marks(**{each.name: getattr(self, each.name) + getattr(other, each.name) for each in fields(self)})
