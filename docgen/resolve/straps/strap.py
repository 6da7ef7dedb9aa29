"""A strap: what it is cut to, what follows from that, and its ends."""

from docgen.classes import dataclass
from docgen.problems import Place
from docgen.resolve.piece import Piece
from docgen.told import told, untold


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


Ends = tuple[StrapEnd, StrapEnd]


@dataclass(frozen=True, slots=True, kw_only=True)
class Strap:
    """Cut length and what follows from it. `worn_mm` is shortest, middle, longest; empty without holes.
    `hole_tips_mm` are distances of the holes from the tip. `thickness_mm` is that of all its layers. A doubled strap
    has a second layer of the material `lining`, `lining_length_mm` long and as wide. A keeper says whose it is in
    `keeper_for`."""

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
