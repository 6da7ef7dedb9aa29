"""The build: no holes left, every length in mm, every outline there, every seam matched."""

# ruff: noqa: RUF009 - `Place` is immutable.

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from typing import Literal

from docgen.problems import Place, Problem
from docgen.read import Picture
from docgen.resolve.piece import Piece
from docgen.tables.limits import Limits
from docgen.written.units import Show

Turn = Literal["long", "short"]
WorkKind = Literal["skives", "joins", "seams", "straps", "hardware"]
WORK_KINDS: tuple[WorkKind, ...] = ("skives", "joins", "seams", "straps", "hardware")
SAME_PITCH_MM = 1e-6
Per = Literal["area", "length", "each", "hour"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Shop:
    """`mark` is the name mark, None where the shop has none."""

    name: str = ""
    contact: str = ""
    link: str = ""
    mark: Picture | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Price:
    """`amount` for one mm2 (`per` "area"), one mm ("length"), one item ("each") or one hour ("hour"), without a
    currency; `words` as written."""

    amount: float
    per: Per
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Material:
    """`waste` is the share of the hide or cloth that is lost; `roll_width_mm` is 0 for goods sold by area."""

    name: str
    title: str
    kind: str
    tannage: str
    finish: str
    thickness_mm: float
    thickness_words: str
    waste: float
    roll_width_mm: float
    note: str
    density_g_cm3: float = 0.0
    price: Price | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Machine:
    """`lifts_mm` is what fits under the raised foot; needles in 1/100 mm; 0 for what is not known."""

    name: str
    title: str
    lifts_mm: float = 0.0
    needle_from_nm: int = 0
    needle_to_nm: int = 0
    longest_stitch_mm: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Stitch:
    """`needle_nm` is the blade in 1/100 mm. `point` of a machine needle is "leather" or "round", "" by hand.
    `thread_strength_n` is what the thread breaks at, 0 where it is not known."""

    name: str
    by: str
    type: str
    thread_words: str
    thread_tex: float
    thread_fibre: str
    needle_nm: int
    pitch_mm: float
    inset_mm: float
    rows: int
    row_gap_mm: float
    back_tack_mm: float
    bobbin_mm: float = 0.0  # what the spec says a bobbin and a spool hold; 0 where it says nothing
    spool_mm: float = 0.0
    machine: str = ""
    point: str = ""
    is_point_given: bool = False
    thread_strength_n: float = 0.0
    thread_price: Price | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Join:
    """Strips end to end: `length_mm` is the whole after overlaps; a ring closes on itself."""

    name: str
    title: str
    pieces: tuple[str, ...]
    overlap_mm: float
    stitch: str
    rows: int
    length_mm: float
    width_mm: float
    stack_mm: float = 0.0
    is_ring: bool = False

    @property
    def joints(self) -> int:
        """Places where two ends lie over each other."""
        return len(self.pieces) - (0 if self.is_ring else 1)


@dataclass(frozen=True, slots=True, kw_only=True)
class Layer:
    """One layer of a stack, after skiving: as thick as it mostly is there, and at its thinnest and thickest
    place (None: as mostly). What lies under a part of a seam only is 0 at its thinnest."""

    part: str
    material: str
    thickness_mm: float
    thinnest_mm: float | None = None
    thickest_mm: float | None = None

    @property
    def least_mm(self) -> float:
        return self.thickness_mm if self.thinnest_mm is None else self.thinnest_mm

    @property
    def most_mm(self) -> float:
        return self.thickness_mm if self.thickest_mm is None else self.thickest_mm


@dataclass(frozen=True, slots=True, kw_only=True)
class SeamSide:
    """One partner: a piece, join or strap by name; `edges` empty where it lies flat beneath (then no
    length). `stitches` are the seam's; on a side that is eased in, as many as fill it, a hole on each of its sharp
    corners. `copy` is the one that is meant of those that are cut, from 1; 0 where it is not said. Of a lapped seam
    `lap_mm` is how far the first partner lies over this one; 0 elsewhere."""

    part: str
    edges: tuple[str, ...]
    length_mm: float
    stitches: int = 0
    copy: int = 0
    lap_mm: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Seam:
    """`pitch_mm` is the true length of a stitch on the whole, so that `stitches` of them fill `length_mm`.

    `layers` from the top down, with pieces that land under its stitch line; `stack_mm` their sum, `thinnest_mm` and
    `thickest_mm` at the thinnest and thickest place of the seam, and `landed` those pieces at the thickest.
    `ease_mm` is what the other sides may be longer than the first, `eased_mm` what the longest is.
    `strength_n` is the thread-limited estimate for all rows, 0 where no load is named or no strength known.
    `times` is how often the spec says that it is sewn, 0 where it does not; `ease_span_mm` is the stretch of the first
    side's stitch line along which the rest is eased in, None for all of it.
    """

    name: str
    title: str
    stitch: str
    sides: tuple[SeamSide, ...]
    length_mm: float
    stitches: int
    pitch_mm: float
    stack_mm: float
    holes_mm: tuple[float, ...] = ()
    layers: tuple[Layer, ...] = ()
    thinnest_mm: float = 0.0
    thickest_mm: float = 0.0
    landed: tuple[str, ...] = ()
    ease_mm: float = 0.0
    eased_mm: float = 0.0
    load_n: float = 0.0
    load_words: str = ""
    strength_n: float = 0.0
    place: Place = Place()
    times: int = 0
    is_turned: bool = False
    ease_span_mm: tuple[float, float] | None = None

    def holes_on(self, length_mm: float) -> tuple[float, ...]:
        """The seam's holes along a side of that length: what it is longer is eased in where that is said, else spread."""
        if not self.holes_mm or self.ease_span_mm is None:
            return tuple(hole * length_mm / self.holes_mm[-1] for hole in self.holes_mm)
        begin, end = self.ease_span_mm
        more = length_mm - self.holes_mm[-1]
        return tuple(hole + more * min(max((hole - begin) / (end - begin), 0.0), 1.0) for hole in self.holes_mm)

    @property
    def pitches_mm(self) -> tuple[float, ...]:
        """The true length of a stitch in each span between sharp corners; alike neighbours told once."""
        steps = [after - before for before, after in pairwise(self.holes_mm)]
        return tuple(step for k, step in enumerate(steps) if k == 0 or abs(step - steps[k - 1]) > SAME_PITCH_MM)


@dataclass(frozen=True, slots=True, kw_only=True)
class StrapEnd:
    """`takes_mm` is the length a turned end adds: what lies back, and what goes round the bar. `number` of the
    hardware `takes` close it."""

    shape: str
    back_mm: float
    around: str
    takes_mm: float
    takes: str = ""
    number: int = 0
    place: Place = Place()

    @property
    def fold_mm(self) -> float:
        """From the cut end to the fold: the middle of what goes round the bar."""
        return (self.back_mm + self.takes_mm) / 2


@dataclass(frozen=True, slots=True, kw_only=True)
class Strap:
    """Cut length and what follows from it. `worn_mm` is shortest, middle, longest; empty without holes.
    `hole_tips_mm` are distances of the holes from the tip. `thickness_mm` is that of all its layers. A doubled strap
    has a second layer of the material `lining`, `lining_length_mm` long and as wide. A keeper says whose it is in
    `keeper_for`."""

    name: str
    title: str
    material: str
    cut: int
    width_mm: float
    cut_length_mm: float
    finished_mm: float
    worn_mm: tuple[float, ...]
    hole_tips_mm: tuple[float, ...]
    punch_mm: float
    ends: tuple[StrapEnd, StrapEnd]
    partner: str
    stitch: str
    piece: Piece
    note: str
    thickness_mm: float = 0.0
    lining: str = ""
    lining_length_mm: float = 0.0
    keeper_for: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Hardware:
    name: str
    what: str
    count: int
    finish: str
    inside_mm: float
    bar_mm: float
    posts_mm: tuple[float, ...]
    note: str
    kind: str = "other"
    hole_mm: float = 0.0
    weight_g: float = 0.0
    price: Price | None = None
    place: Place = Place()


@dataclass(frozen=True, slots=True, kw_only=True)
class Fitting:
    """Hardware in its place: `count` of them for one make, through these layers of `part` and of what lies there.

    A post of `post_least_mm` to `post_most_mm` is wanted; `post_mm` is the one chosen from the drawer, 0 where none
    is named, or none will do. `around` is the hardware that the end of a strap turns round there; empty elsewhere.
    """

    hardware: str
    part: str
    count: int
    layers: tuple[Layer, ...]
    stack_mm: float
    around: str = ""
    post_least_mm: float = 0.0
    post_most_mm: float = 0.0
    post_mm: float = 0.0
    place: Place = Place()


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """`work` is what is done, in the order in which it is written."""

    do: str
    group: str = ""
    pieces: tuple[str, ...] = ()
    skives: tuple[str, ...] = ()
    joins: tuple[str, ...] = ()
    seams: tuple[str, ...] = ()
    straps: tuple[str, ...] = ()
    hardware: tuple[str, ...] = ()
    tools: tuple[str, ...] = ()
    note: str = ""
    place: Place = Place()
    minutes: int = 0
    work: tuple[tuple[WorkKind, str], ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Inside:
    """Room inside, after lining and foam."""

    width_mm: float
    height_mm: float
    depth_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Held:
    """A thing that goes in: its size as written, width, height, depth; whether it fits, turned as need be."""

    what: str
    size_mm: tuple[float, float, float]
    fits: bool
    place: Place = Place()


@dataclass(frozen=True, slots=True, kw_only=True)
class Weight:
    """What one material, or one kind of hardware, weighs in one make."""

    name: str
    grams: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Costs:
    """`currency` is a word that stands beside the sums; `labour` for one hour, None where it is not said."""

    currency: str = ""
    labour: Price | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Accepted:
    """A caution that the maker accepts, and why."""

    problem: Problem
    reason: str


@dataclass(frozen=True, slots=True, kw_only=True)
class CarePart:
    """Advice in the shop's own words, in place of the card's (`is_instead`) or after them."""

    id: str
    text: str
    is_instead: bool = False
    place: Place = Place()


@dataclass(frozen=True, slots=True, kw_only=True)
class Care:
    """The care card as the shop wants it: size, sides, the paper's edge it is turned about, and its own words.

    `load` is what the shop says it may carry, "" where it says nothing.
    """

    card: str = "A6"
    sides: int = 1
    turn: Turn = "long"
    language: str = "en"
    load: str = ""
    extra: str = ""
    repair: str = ""
    parts: tuple[CarePart, ...] = ()
    place: Place = Place()
    extra_place: Place = Place()
    repair_place: Place = Place()


@dataclass(frozen=True, slots=True, kw_only=True)
class Printing:
    """How a pattern is printed, as far as it was said; None where it was not. `join` is "trim" or "overlap"."""

    paper: str | None = None
    margin_mm: float | None = None
    overlap_mm: float | None = None
    join: str | None = None
    has_full_straps: bool | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Build:
    """Everything known about the build, in mm; `cautions` are printed on the pages they concern; `files` are
    name and bytes of the drawings it was made from; `accepted` the cautions that the maker accepts; `unweighed` hardware
    whose weight is not said; `solved_measures` the measures that a seam gave, in mm."""

    code: str
    title: str
    version: str
    changed: str
    show: Show
    makes: int
    digest: str
    source_name: str
    source: bytes
    shop: Shop
    printing: Printing
    materials: tuple[Material, ...]
    stitches: tuple[Stitch, ...]
    pieces: tuple[Piece, ...]
    joins: tuple[Join, ...]
    seams: tuple[Seam, ...]
    straps: tuple[Strap, ...]
    hardware: tuple[Hardware, ...]
    steps: tuple[Step, ...]
    care: Care
    cautions: tuple[Problem, ...]
    files: tuple[tuple[str, bytes], ...] = ()
    limits: Limits = Limits()
    variant: str = ""  # name of the variant, "" for the spec's own measures
    accepted: tuple[Accepted, ...] = ()
    machines: tuple[Machine, ...] = ()
    fittings: tuple[Fitting, ...] = ()
    inside: Inside | None = None
    holds: tuple[Held, ...] = ()
    weights: tuple[Weight, ...] = ()
    unweighed: tuple[str, ...] = ()
    costs: Costs = Costs()
    solved_measures: tuple[tuple[str, float], ...] = ()
    front: str = ""

    @property
    def weight_g(self) -> float:
        """Weight of one make in grams, without thread and without the hardware in `unweighed`."""
        return sum(weight.grams for weight in self.weights)
