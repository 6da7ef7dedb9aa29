"""A strap: what it is cut to, what follows from that, and its ends."""

from __future__ import annotations

from docgen.classes import dataclass
from docgen.geometry.outline import outline_path
from docgen.geometry.path import path_area, path_box
from docgen.geometry.shapes import Point
from docgen.geometry.vector import distance
from docgen.problems import Place
from docgen.resolve.marks import Hole
from docgen.resolve.piece import Piece
from docgen.tables.sewing import HOLES_MEET_MM
from docgen.told import told, untold

END_NAMES = ("first end", "second end")
AT_END = 1.5  # widths from its end, within which a hole is there for the end: our choice


@dataclass(frozen=True, slots=True, kw_only=True)
class Thinned:
    """An end that is skived, from the cut end in."""

    over_mm: float
    to_mm: float
    to_words: str
    place: Place


@dataclass(frozen=True, slots=True, kw_only=True)
class Taper:
    """An end of another width: `straight_mm` of it from the cut end on, then over `long_mm` to the strap's width."""

    width_mm: float
    straight_mm: float
    long_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class StrapEnd:
    """`takes_mm` is the length a turned end adds: what lies back, what stands apart from the strap between there and the
    bend (`apart_mm`: an open loop, and further bars in the fold), and what goes round the bar. `around` lies at the fold
    itself, `further` beside it in the same fold. `number` of the hardware `takes` close it, `sewn` is the stitch that
    does, `keeper` a keeper whose ends lie in the fold. A slot for a tongue is 0 x 0 where there is none."""

    shape: str
    back_mm: float
    around: str
    takes_mm: float
    takes: str = ""
    number: int = 0
    place: Place = Place()
    further: tuple[str, ...] = ()
    loop_mm: float = 0.0
    apart_mm: float = 0.0
    keeper: str = ""
    slot_long_mm: float = 0.0
    slot_wide_mm: float = 0.0
    sewn: str = ""
    skive: Thinned | None = None
    taper: Taper | None = None

    @property
    def fold_mm(self) -> float:
        """From the cut end to the fold: the middle of what goes round the bar."""
        return (self.back_mm + self.apart_mm + self.takes_mm) / 2

    @property
    def meets_mm(self) -> float:
        """From the cut end to where, beyond the fold, the strap lies on what is turned back again: as far from the fold as
        that bends round the bar and stands apart."""
        return 2 * self.fold_mm - self.back_mm

    @property
    def rings(self) -> tuple[str, ...]:
        """All that lies in the fold, from the fold on."""
        return (*((self.around,) if self.around else ()), *self.further)


Ends = tuple[StrapEnd, StrapEnd]


@dataclass(frozen=True, slots=True, kw_only=True)
class Strap:
    """Cut length and what follows from it. `worn_mm` is shortest, middle, longest; empty without holes.
    `hole_tips_mm` are distances of the holes from the tip, `first_tips_mm` those of a row at the first end; both rows come
    first among the holes of its piece. `width_mm` is that at its widest. `thickness_mm` is that of strap and second layer.
    A doubled strap has a second layer of the material `lining`, `lining_length_mm` long and as wide, and may have
    `padding` between the two, in its middle. A keeper says whose it is in `keeper_for`. `cut_from` is the
    part of a hide it comes from, "firm", "good", "any", or empty."""

    name: str = untold()
    title: str = told("title")
    material: str = told("cut from")
    cut: int = told("number to cut", "count")
    width_mm: float = told("width", "length")
    cut_length_mm: float = told("cut length", "length")
    finished_mm: float = told("finished length", "length")
    worn_mm: tuple[float, ...] = untold()
    hole_tips_mm: tuple[float, ...] = untold()
    punch_mm: float = told("punch", "length")
    ends: Ends = untold()
    partner: str = told("partner")
    stitch: str = told("stitch")
    piece: Piece = untold()
    note: str = told("note")
    thickness_mm: float = untold(default=0.0)
    lining: str = told("lining", default="")
    lining_length_mm: float = untold(default=0.0)
    keeper_for: str = told("keeper for", default="")
    first_tips_mm: tuple[float, ...] = untold(default=())
    first_punch_mm: float = told("punch at the first end", "length", default=0.0)
    padding: str = told("padding", default="")
    padding_width_mm: float = told("width of the padding", "length", default=0.0)
    padding_length_mm: float = told("length of the padding", "length", default=0.0)
    cut_from: str = told("part of the hide", default="")

    @property
    def row_holes(self) -> int:
        """How many of its holes are those of its rows."""
        return len(self.hole_tips_mm) + len(self.first_tips_mm)

    @property
    def middle_tip_mm(self) -> float:
        """How far from the tip its middle hole is, midway between two where their count is even; 0 without holes."""
        tips, half = sorted(self.hole_tips_mm), len(self.hole_tips_mm) // 2
        return (tips[half] + tips[~half]) / 2 if tips else 0.0

    @property
    def has_end_hole(self) -> bool:
        """Whether a hole besides those of its rows lies near its first end, as for a stud or button."""
        low_mm = path_box(outline_path(self.piece.outline)).bottom
        return any(hole.at.y - low_mm < AT_END * self.width_mm for hole in self.piece.marks.holes[self.row_holes :])

    @property
    def lining_area_mm2(self) -> float:
        """Area of the second layer as it is cut: square, or of a tapered strap all that is not turned back."""
        if not any(end.taper for end in self.ends):
            return self.lining_length_mm * self.width_mm
        turned_mm2 = sum(end.takes_mm * self.end_width_mm(which) for which, end in enumerate(self.ends))
        return path_area(outline_path(self.piece.outline)) - turned_mm2

    def end_width_mm(self, which: int) -> float:
        """Width at the first (0) or second (1) end."""
        taper = self.ends[which].taper
        return taper.width_mm if taper else self.width_mm


def closing_spots(strap: Strap, which: int) -> list[Point]:
    """Round holes on the part of a turned end, first (0) or second (1), that lies back, across and from the cut end;
    those that meet through both layers once. Oblong holes and the rows for buckles close nothing."""
    end = strap.ends[which]
    spots: list[Point] = []
    for hole in strap.piece.marks.holes[strap.row_holes :]:
        away_mm = from_end_mm(strap, which, hole.at)
        spot = Point(hole.at.x, min(away_mm, 2 * end.fold_mm - away_mm))
        is_meant = hole.slot == Point(0.0, 0.0) and hole.takes in ("", end.takes)
        is_there = is_meant and 0 < spot.y <= end.back_mm
        if is_there and all(distance(spot, other) > HOLES_MEET_MM for other in spots):
            spots.append(spot)
    return spots


def closes_end(strap: Strap, hole: Hole) -> bool:
    """Whether what a hole of a strap takes closes one of its turned ends: that is told with the end, and counted there."""
    ends = enumerate(strap.ends)
    return any(end.takes == hole.takes and from_end_mm(strap, which, hole.at) < 2 * end.fold_mm for which, end in ends)


def from_end_mm(strap: Strap, which: int, at: Point) -> float:
    """Distance of a point from the cut end, first (0) or second (1), along the strap."""
    return strap.cut_length_mm - at.y if which else at.y


def end_name(strap: str, which: int) -> str:
    """What the stitching that closes the first (0) or second (1) end of a strap goes by among stitch lines: no seam can
    be called so."""
    return f"{strap} {END_NAMES[which]}"


def end_names(strap: str) -> tuple[str, ...]:
    """The names of the stitching that closes either end of a strap."""
    return tuple(end_name(strap, which) for which in range(len(END_NAMES)))


def sewn_on_name(strap: str, which: int, piece: str) -> str:
    """What the stitching that holds an end of a strap on a piece goes by among stitch lines."""
    return f"{end_name(strap, which)} on {piece}"
