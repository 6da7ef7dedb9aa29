"""How this pattern is printed: what a person chooses for a printer and a paper, apart from what is built."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, Literal

from docgen.resolve import Printer, Printing
from docgen.tables.defaults import JOIN, MARGIN_MM, OVERLAP_MM, PAPER

JoinWay = Literal["trim", "overlap"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Choices:
    """`paper` is a name, "WxH", or "roll W"; `pieces` empty for all; `is_mirrored` for tracing on the flesh side."""

    paper: str = PAPER
    margin_mm: float = MARGIN_MM
    overlap_mm: float = OVERLAP_MM
    join: JoinWay = JOIN
    has_full_straps: bool = False
    is_mirrored: bool = False
    pieces: tuple[str, ...] = ()
    printer: Printer | None = None


def choices_of(*printings: Printing) -> Choices:
    """What the first of some printings says that says it; the default where none does."""
    said: dict[str, Any] = {}
    for printing in reversed(printings):
        for name in ("paper", "margin_mm", "overlap_mm", "join", "has_full_straps"):
            if getattr(printing, name) is not None:
                said[name] = getattr(printing, name)
    return Choices(**said)
