"""How this pattern is printed: what a person chooses for a printer and a paper, apart from what is built."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, Literal

from docgen.resolve import Printer, Printing

JoinWay = Literal["trim", "overlap"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Choices:
    """`paper` is a name, "WxH", or "roll W"; `pieces` empty for all; `is_mirrored` for tracing on the flesh side.

    The defaults: a margin of 1/4 in clears the unprintable edge of common home printers; an overlap of 3/8 in.
    """

    paper: str = "letter"
    margin_mm: float = 6.35
    overlap_mm: float = 9.525
    join: JoinWay = "trim"
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
