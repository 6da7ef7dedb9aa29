"""A piece as it is cut: its outline and everything marked on it, in its own coordinates, mm."""

# ruff: noqa: RUF009 - `Place` is immutable.

from __future__ import annotations

import math
from dataclasses import dataclass

from docgen.geometry import Outline, Path, Point
from docgen.problems import Place
from docgen.told import told, untold


@dataclass(frozen=True, slots=True, kw_only=True)
class Hole:
    """A round hole; with `slot` (half of the way between the centres of its two ends) an oblong one. `is_middle` marks
    the middle one of a row; `through` names parts that its hardware goes through besides."""

    at: Point
    diameter_mm: float
    takes: str = ""
    place: Place = Place()
    slot: Point = Point(0.0, 0.0)
    is_middle: bool = False
    through: tuple[str, ...] = ()

    @property
    def long_mm(self) -> float:
        """Whole length of an oblong hole; 0 of a round one."""
        half_mm = math.hypot(self.slot.x, self.slot.y)
        return self.diameter_mm + 2 * half_mm if half_mm else 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Notch:
    """`inward` is the unit vector from the edge into the piece."""

    at: Point
    inward: Point
    edge: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Fold:
    """`turned_mm` is how far the fold lies from the edge it is measured from; 0 where it is measured from a middle.
    One that `is_open` only bends: its halves do not lie on each other."""

    start: Point
    end: Point
    note: str = ""
    turned_mm: float = 0.0
    is_open: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Slit:
    start: Point
    end: Point


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawn:
    """A line taken from a drawing; `name` is its id there."""

    name: str
    path: Path


@dataclass(frozen=True, slots=True, kw_only=True)
class Skive:
    """`band` is the closed path of the part that is thinned."""

    edges: str
    band: Path
    width_mm: float
    to_mm: float
    to_words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Landing:
    """`outline` is the other piece's outline where it comes to lie on this one."""

    piece: str
    outline: Path
    dx_mm: float
    dy_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class StitchLine:
    """`holes_mm` are distances of the holes along the path, both ends and sharp corners included; of a closed path the
    last one falls on the first. Of a strip in a join they are its share of the whole seam's holes, and empty where
    its copies would need different ones. By hand there is none on the cut edge, where the thread goes over it.
    `ticked_mm` are those to tick. `row` counts from the edge."""

    seam: str
    stitch: str
    path: Path
    holes_mm: tuple[float, ...] = ()
    ticked_mm: tuple[float, ...] = ()
    by: str = "machine"
    row: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """One piece to cut: `cut` counts all of one make, half of them mirrored when `is_pair`. `centre_lines` holds "up"
    and "across"; `least_stretch` is the way the leather must stretch least, "up", "across", or empty."""

    name: str = untold()
    title: str = told("title")
    material: str = told("cut from")
    cut: int = told("number to cut", "count")
    is_pair: bool = told("half of them mirrored")
    shape: str = untold()
    outline: Outline = untold()
    holes: tuple[Hole, ...] = untold(default=())
    notches: tuple[Notch, ...] = untold(default=())
    folds: tuple[Fold, ...] = untold(default=())
    slits: tuple[Slit, ...] = untold(default=())
    skives: tuple[Skive, ...] = untold(default=())
    landings: tuple[Landing, ...] = untold(default=())
    stitch_lines: tuple[StitchLine, ...] = untold(default=())
    drawn: tuple[Drawn, ...] = untold(default=())
    centre_lines: tuple[str, ...] = told("centre lines", default=())
    least_stretch: str = told("least stretch", default="")
    note: str = told("note", default="")
    place: Place = untold(default=Place())
    is_strap: bool = untold(default=False)
    is_solved: bool = untold(default=False)
