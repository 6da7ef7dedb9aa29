"""How this pattern is printed: what a person chooses for a printer and a paper, apart from what is built."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from docgen.resolve import Printing

NOMINAL_MM = 100.0
MOST_CORRECTION = 0.05

JoinWay = Literal["trim", "overlap"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Printer:
    """What the 100 mm test square of an uncorrected pattern measured on a printer, across and down the sheet."""

    name: str
    across_mm: float
    down_mm: float

    @property
    def stretch(self) -> tuple[float, float]:
        """What drawings are multiplied by, across and down, so that 100 mm come out as 100 mm."""
        return NOMINAL_MM / self.across_mm, NOMINAL_MM / self.down_mm


@dataclass(frozen=True, slots=True, kw_only=True)
class Choices:
    """`paper` is a name, "WxH", or "roll W"; `pieces` empty for all; `is_mirrored` for tracing on the flesh side."""

    paper: str = "letter"
    margin_mm: float = 6.35
    overlap_mm: float = 9.525
    join: JoinWay = "trim"
    has_full_straps: bool = False
    is_mirrored: bool = False
    pieces: tuple[str, ...] = ()
    printer: Printer | None = None


def choices_of(printing: Printing) -> Choices:
    """The choices that a spec makes."""
    return Choices(paper=printing.paper, margin_mm=printing.margin_mm, overlap_mm=printing.overlap_mm)
