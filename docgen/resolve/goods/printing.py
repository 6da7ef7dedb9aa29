"""How a pattern is printed: what is chosen for a printer and a paper, apart from what is built.

It is said in a call, else in a spec's [pattern], else in the shop's own file; here is how each is read, with its limits,
and what stands where none says anything.
"""

from dataclasses import fields
from typing import Any, Final, Literal

from docgen.classes import dataclass
from docgen.problems import shorten, suggest
from docgen.read import Length, PatternSpec
from docgen.resolve.values import Reader
from docgen.tables.defaults import HAS_FULL_STRAPS, JOIN, MARGIN_MM, OVERLAP_MM, PAPER
from docgen.tables.paper import check_paper
from docgen.told import told
from docgen.written.units.lengths import parse_length
from docgen.written.units.numbers import WrittenError
from docgen.written.units.telling import format_mm, format_number

JoinWay = Literal["trim", "overlap"]
JOINS: Final = ("trim", "overlap")
RANGES_MM: Final = {"margin": (0.0, 25.4), "overlap": (3.0, 40.0)}
LEAST_JOIN_OVERLAP_MM: Final = 6.0
"""A match mark is 5.2 mm across and stands whole in the middle of the strip that two sheets share."""

SQUARE_MM: Final = 100.0
MOST_CORRECTION: Final = 0.05
"""How far a printer may be out; common practice, no published source. Pages that were fitted are out by more."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Printer:
    """What the 100 mm test square of an uncorrected pattern measured on a printer, across and down the sheet; and
    when, in words."""

    name: str
    across_mm: float
    down_mm: float
    date: str = ""

    @property
    def stretch(self) -> tuple[float, float]:
        """What drawings are multiplied by, across and down, so that 100 mm come out as 100 mm."""
        return SQUARE_MM / self.across_mm, SQUARE_MM / self.down_mm


@dataclass(frozen=True, slots=True, kw_only=True)
class Printing:
    """How a pattern is printed, as far as it was said; None where it was not. `join` is "trim" or "overlap"."""

    paper: str | None = told("paper", default=None)
    margin_mm: float | None = told("margin", "length", default=None)
    overlap_mm: float | None = told("overlap of sheets", "length", default=None)
    join: str | None = told("join", default=None)
    has_full_straps: bool | None = told("full straps", default=None)


@dataclass(frozen=True, slots=True, kw_only=True)
class Choices:
    """How this pattern is printed: every field of `Printing` with what stands where nothing is said, and what only a
    call chooses. `paper` is a name, "WxH", or "roll W"; `pieces` empty for all; `is_mirrored` for tracing on the flesh
    side."""

    paper: str = PAPER
    margin_mm: float = MARGIN_MM
    overlap_mm: float = OVERLAP_MM
    join: JoinWay = JOIN
    has_full_straps: bool = HAS_FULL_STRAPS
    is_mirrored: bool = False
    pieces: tuple[str, ...] = ()
    printer: Printer | None = None


def choices_of(*printings: Printing) -> Choices:
    """What the first of some printings says that says it; the default where none does."""
    said: dict[str, Any] = {}
    for printing in reversed(printings):
        for field in fields(Printing):
            if getattr(printing, field.name) is not None:
                said[field.name] = getattr(printing, field.name)
    return Choices(**said)


def parse_printing(
    *,
    paper: str | None = None,
    margin: str | None = None,
    overlap: str | None = None,
    join: str | None = None,
    full_straps: bool | None = None,
) -> Printing:
    """What a call says, by the keys of [pattern]. Raises WrittenError for what cannot be meant."""
    if join not in (None, *JOINS):
        mend = suggest(join or "", JOINS) or 'there are "trim" and "overlap"'
        raise WrittenError(f'sheets cannot be joined by "{shorten(join or "")}"', mend)
    return Printing(
        paper=None if paper is None else check_paper(paper),
        margin_mm=_parse_within("margin", margin),
        overlap_mm=_parse_within("overlap", overlap),
        join=join,
        has_full_straps=full_straps,
    )


def _parse_within(what: str, written: str | None) -> float | None:
    """The margin or overlap in mm within its limits."""
    if written is None:
        return None
    try:
        length_mm = parse_length(written)
    except WrittenError as error:
        raise WrittenError(f"the {what}: {error.what}", error.mend) from error
    return check_range(what, length_mm)


def read_printing(reader: Reader, spec: PatternSpec | None) -> Printing:
    """What a [pattern] table says; None for what it leaves open."""
    if spec is None:
        return Printing()
    margin_mm = _within(reader, "margin", spec.margin)
    overlap_mm = _within(reader, "overlap", spec.overlap)
    join = spec.join.value if spec.join else None
    if join == "overlap" and spec.overlap is not None and overlap_mm is not None:
        try:
            check_join_overlap(overlap_mm)
        except WrittenError as error:
            reader.error(spec.overlap.place, error.what, error.mend)
    return Printing(
        paper=reader.read(spec.paper, check_paper),
        margin_mm=margin_mm,
        overlap_mm=overlap_mm,
        join=join,
        has_full_straps=spec.full_straps.value if spec.full_straps else None,
    )


def _within(reader: Reader, what: str, value: Length) -> float | None:
    length_mm = reader.length(value, zero=True)
    if value is None or length_mm is None:
        return None
    try:
        return check_range(what, length_mm)
    except WrittenError as error:
        reader.error(value.place, error.what, error.mend)
        return None


def check_range(what: str, length_mm: float) -> float:
    """The margin (0 to 25.4 mm) or overlap (3 to 40 mm) itself; raises WrittenError outside its range."""
    least, most = RANGES_MM[what]
    if not least <= length_mm <= most:
        raise WrittenError(f"the {what} cannot be {format_mm(length_mm, 2)}", f"use {least:g} to {most:g} mm")
    return length_mm


def check_join_overlap(overlap_mm: float) -> None:
    """Raises WrittenError when sheets joined by overlapping share too little for their match marks."""
    if overlap_mm < LEAST_JOIN_OVERLAP_MM:
        what = f"an overlap of {format_mm(overlap_mm, 2)} has no room for the match marks of sheets that overlap"
        raise WrittenError(what, f'use {LEAST_JOIN_OVERLAP_MM:g} mm or more, or join = "trim"')


def parse_measured(text: str) -> float:
    """What a 100 mm square measured on paper, in mm. Raises WrittenError for anything that no printer does."""
    measured_mm = parse_length(text)
    if abs(measured_mm - SQUARE_MM) > MOST_CORRECTION * SQUARE_MM:
        out = format_number(abs(measured_mm / SQUARE_MM - 1) * 100, 1)
        raise WrittenError(
            f"the 100 mm square measured {format_mm(measured_mm, 2)}, which is {out} % out: "
            f"more than {MOST_CORRECTION * 100:g} % is no printer's stretch",
            'it was printed with "fit to page": print page 1 again at 100 % ("actual size") and measure that',
        )
    return measured_mm
