"""Seams as they are sewn: how a stitch is set, strips joined end to end, the sides of a seam and its holes."""

from itertools import pairwise

from docgen.classes import dataclass
from docgen.problems import Place
from docgen.resolve.goods.values import Price
from docgen.told import told, untold

SAME_PITCH_MM = 1e-6
INSET_CHECK = "inset-too-deep"  # what is told once for a stitch


@dataclass(frozen=True, slots=True, kw_only=True)
class Stitch:
    """`needle_nm` is the blade in 1/100 mm. `point` of a machine needle is "leather" or "round", "" by hand.
    `thread_strength_n` is what the thread breaks at, `bobbin_mm` and `spool_mm` what the spec says they hold; 0 where
    it is not known. `thread_words` have the colour in them, `thread_label` has not. `iron` is the pricking iron in
    words, "" where the pitch may adjust."""

    name: str = untold()
    by: str = told("sewn by")
    type: str = told("type")
    thread_words: str = told("thread")
    thread_label: str = untold(default="")
    thread_tex: float = untold()
    thread_fibre: str = untold()
    needle_nm: int = told("needle", "needle")
    pitch_mm: float = told("stitch length", "pitch")
    inset_mm: float = told("line in from the edge", "length")
    rows: int = told("rows", "count")
    row_gap_mm: float = told("rows apart", "length")
    back_tack_mm: float = told("back-tack", "length")
    bobbin_mm: float = told("bobbin", "length", default=0.0)
    spool_mm: float = told("spool", "length", default=0.0)
    machine: str = told("machine", default="")
    point: str = told("point", default="")
    is_point_given: bool = untold(default=False)
    thread_strength_n: float = untold(default=0.0)
    thread_price: Price | None = told("thread price", default=None)
    iron: str = told("pricking iron", default="")


@dataclass(frozen=True, slots=True, kw_only=True)
class Join:
    """Strips end to end: `length_mm` is the whole after overlaps; it and the width are 0 before the strips are known. A
    ring closes on itself. Each lies over the next, but that those `over` lie over both their neighbours."""

    name: str = untold()
    pieces: tuple[str, ...] = told("strips")
    title: str = told("title")
    overlap_mm: float = told("overlap", "length")
    stitch: str = told("stitch")
    rows: int = told("rows", "count")
    length_mm: float = told("length", "length", default=0.0)
    width_mm: float = told("width", "length", default=0.0)
    stack_mm: float = told("all layers together", "length", default=0.0)
    is_ring: bool = told("closes on itself", default=False)
    over: tuple[str, ...] = told("lie over both neighbours", default=())
    place: Place = untold(default=Place())
    overlap_place: Place = untold(default=Place())

    @property
    def joints(self) -> int:
        """Places where two ends lie over each other."""
        return len(self.pieces) - (0 if self.is_ring else 1)

    @property
    def neighbours(self) -> tuple[tuple[str, str], ...]:
        """Of each joint the strip whose end and the one whose start lie there."""
        return (*pairwise((*self.pieces, *(self.pieces[:1] if self.is_ring else ()))),)

    def lies_under(self, one: str, other: str) -> bool:
        """Whether the end of one strip lies under the start of the next, `other`."""
        return other in self.over and one not in self.over


def joint_gap_mm(join: Join) -> float:
    """How far the rows of a joint lie apart, and the outer ones from the ends of its strips: they share the overlap."""
    return join.overlap_mm / (join.rows + 1)


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
    `lap_mm` is how far the first partner lies over this one; 0 elsewhere. One that `is_unturned` runs along the cut edge:
    the seam is sewn before the hem beside it is turned over; `lost_mm` is what of its row, where it begins
    and where it ends, lies in seams or a joint that are sewn before. `stretch_mm` is the part of the edges that is
    sewn, from where to where along the cut edge in their direction, None for the whole; `ends` tell it in words."""

    part: str
    edges: tuple[str, ...]
    length_mm: float = 0.0
    stitches: int = 0
    copy: int = 0
    lap_mm: float = 0.0
    is_unturned: bool = False
    lost_mm: tuple[float, float] = (0.0, 0.0)
    stretch_mm: tuple[float, float] | None = None
    ends: tuple[str, str] | None = None
    place: Place = Place()

    @property
    def edge_words(self) -> str:
        """`left bottom`, `left from top 2 in to bottom`."""
        told = " ".join(self.edges)
        return f"{told} from {self.ends[0]} to {self.ends[1]}" if self.ends else told

    def line_mm(self, inset_mm: float) -> float:
        """From its own edge to the stitch line, which lies `inset_mm` in from the edge of what laps over it."""
        return self.lap_mm - inset_mm if self.lap_mm else inset_mm


@dataclass(frozen=True, slots=True, kw_only=True)
class SeamTrimming:
    """Goods by length that a seam sews in: of a zip the `side`, "left" or "right", else "", and how far its tape lies
    under the edges of the parts, 0 where that is not written; `above` counts the partners that lie above it."""

    name: str
    side: str = ""
    above: int = 0
    lap_mm: float = 0.0
    place: Place = Place()


@dataclass(frozen=True, slots=True, kw_only=True)
class Seam:
    """`pitch_mm` is the true length of a stitch on the whole, so that `stitches` of them fill `length_mm`.

    How it lies is known when the build is put together (docgen.assemble): `layers` from the first partner on, with all
    that lies under its stitch line; `stack_mm` their sum, `thinnest_mm` and `thickest_mm` at the thinnest and thickest
    place of the seam, `landed` what lies there besides the partners at the thickest, and `at_most` the layers there.
    `ease_mm` is what the other sides may be longer than the first, `eased_mm` what the longest is.
    `strength_n` is the thread-limited estimate for all rows, 0 where no load is named or no strength known.
    `times` is how often the spec says that it is sewn, 0 where it does not; `ease_span_mm` is the stretch of the first
    side's stitch line along which the rest is eased in, None for all of it, and `ease_edges` its edges there.
    `spans_mm` are the lengths between its ends and sharp corners.
    """

    name: str = untold()
    title: str = told("title")
    stitch: str = told("stitch")
    sides: tuple[SeamSide, ...] = untold()
    length_mm: float = told("length", "length")
    stitches: int = told("stitches", "count")
    pitch_mm: float = untold()
    stack_mm: float = told("all layers together", "length")
    holes_mm: tuple[float, ...] = untold(default=())
    layers: tuple[Layer, ...] = untold(default=())
    thinnest_mm: float = untold(default=0.0)
    thickest_mm: float = untold(default=0.0)
    landed: tuple[str, ...] = untold(default=())
    at_most: tuple[Layer, ...] = untold(default=())
    ease_mm: float = told("ease", "length", default=0.0)
    eased_mm: float = untold(default=0.0)
    load_n: float = told("load in newtons", "number", default=0.0)
    load_words: str = told("load", default="")
    strength_n: float = untold(default=0.0)
    place: Place = untold(default=Place())
    times: int = told("times sewn", "count", default=0)
    is_turned: bool = told("turned right side out", default=False)
    ease_span_mm: tuple[float, float] | None = untold(default=None)
    ease_edges: tuple[str, ...] = untold(default=())
    trimmings: tuple[SeamTrimming, ...] = untold(default=())
    spans_mm: tuple[float, ...] = untold(default=())

    def holes_on(self, length_mm: float) -> tuple[float, ...]:
        """The seam's holes along a side of that length: what it is longer is eased in where that is said, else spread."""
        if not self.holes_mm or self.ease_span_mm is None:
            return spread_over(self.holes_mm, length_mm)
        begin, end = self.ease_span_mm
        more = length_mm - self.holes_mm[-1]
        return tuple(hole + more * min(max((hole - begin) / (end - begin), 0.0), 1.0) for hole in self.holes_mm)

    def place_of(self, side: SeamSide) -> Place:
        """Where one of its sides is written; the seam's own place where that is not known."""
        return side.place if side.place.line else self.place

    @property
    def parts(self) -> frozenset[str]:
        """The names of the parts that it sews."""
        return frozenset(side.part for side in self.sides)

    @property
    def pitches_mm(self) -> tuple[float, ...]:
        """The true length of a stitch in each span between sharp corners; alike neighbours told once."""
        steps = [after - before for before, after in pairwise(self.holes_mm)]
        return tuple(step for k, step in enumerate(steps) if k == 0 or abs(step - steps[k - 1]) > SAME_PITCH_MM)


def side_words(side: SeamSide) -> str:
    """A seam side as a person would say it."""
    return f"{side.part} {side.edge_words}".strip()


def spread_over(holes_mm: tuple[float, ...], length_mm: float) -> tuple[float, ...]:
    """Holes in proportion to another length; of a row without any, along an edge that round corners leave none of, all
    lie in its beginning."""
    whole_mm = holes_mm[-1] if holes_mm else 0.0
    return tuple(hole * length_mm / whole_mm if whole_mm else 0.0 for hole in holes_mm)
