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
    One that `is_open` only bends, by `angle_deg` where that is said: its halves do not lie on each other. `around` is
    the hardware that the piece is folded round. One `of_hem` is a fold of a hem, which tells what it turns over."""

    start: Point
    end: Point
    note: str = ""
    turned_mm: float = 0.0
    is_open: bool = False
    angle_deg: float = 0.0
    around: str = ""
    of_hem: bool = False
    place: Place = Place()


@dataclass(frozen=True, slots=True, kw_only=True)
class Hem:
    """Edges that are turned over by `turned_mm`, twice when `is_double`."""

    edges: tuple[str, ...]
    turned_mm: float
    is_double: bool = False
    place: Place = Place()

    @property
    def depth_mm(self) -> float:
        """From the cut edge to the fold that becomes the edge."""
        return self.turned_mm * (2 if self.is_double else 1)


@dataclass(frozen=True, slots=True, kw_only=True)
class Divider:
    """A line of stitches right across a piece, through the piece `on` beneath it where one is named."""

    start: Point
    end: Point
    stitch: str
    on: str = ""
    place: Place = Place()


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
class StrapLanding:
    """Where an end of a strap, 0 the first or 1 the second, lies fast on this piece: the middle of that end at `at`, from
    there `over_mm` long the way it `leads`; `outline` is the part that lies fast."""

    strap: str
    end: int
    at: Point
    leads: str
    over_mm: float
    outline: Path
    place: Place = Place()


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
    and "across"; `least_stretch` is the way the leather must stretch least, "up", "across", or empty.

    `folded` is the outline between the folds of its `hems`, None without any. `lines` are parts behind which it lies,
    as they are written; `model` is the piece whose shape it takes, at `inset_mm`, itself for its own.
    """

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
    hems: tuple[Hem, ...] = untold(default=())
    folded: Outline | None = untold(default=None)
    dividers: tuple[Divider, ...] = untold(default=())
    strap_landings: tuple[StrapLanding, ...] = untold(default=())
    lines: tuple[str, ...] = told("lies behind", default=())
    shows: str = told("side that faces out", default="grain")
    model: str = untold(default="")
    inset_mm: float = untold(default=0.0)

    @property
    def sewn_outline(self) -> Outline:
        """The outline that seams run along: between the folds of its hems."""
        return self.folded or self.outline
