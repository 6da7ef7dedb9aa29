"""How a pattern is printed, from a spec's [pattern] and from the shop's own file, with the limits of each figure."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

from docgen.problems import Problem, SpecRejected, has_errors
from docgen.read import Length, PatternSpec, PrinterSpec, ShopFile
from docgen.resolve.goods.prices import ShopPrices, read_shop_prices
from docgen.resolve.goods.values import Printing
from docgen.resolve.values import Reader, words
from docgen.tables.paper import check_paper
from docgen.written.units import WrittenError, format_mm, format_number, parse_length

MARGINS_MM: Final = (0.0, 25.4)
OVERLAPS_MM: Final = (3.0, 40.0)
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
class ShopSettings:
    """What the shop's own file says of printing and prices; `path` is "" when there is no such file."""

    path: str = ""
    printing: Printing = Printing()  # noqa: RUF009 - it is immutable
    printers: tuple[Printer, ...] = ()
    prices: ShopPrices = ShopPrices()  # noqa: RUF009 - it is immutable


def resolve_shop_file(shop: ShopFile) -> ShopSettings:
    """What the shop's file says. Raises SpecRejected with every problem in it."""
    problems: list[Problem] = list(shop.problems)
    reader = Reader({}, problems)
    printing = read_printing(reader, shop.pattern)
    printers = [_read_printer(reader, spec) for spec in shop.printers]
    prices = read_shop_prices(reader, shop.costs, shop.prices)
    if has_errors(problems):
        raise SpecRejected(problems)
    found = tuple(printer for printer in printers if printer is not None)
    return ShopSettings(path=shop.path, printing=printing, printers=found, prices=prices)


def _read_printer(reader: Reader, spec: PrinterSpec) -> Printer | None:
    across_mm = reader.read(spec.across, parse_measured) if spec.across else None
    down_mm = reader.read(spec.down, parse_measured) if spec.down else None
    if across_mm is None or down_mm is None:
        return None
    return Printer(name=spec.name, across_mm=across_mm, down_mm=down_mm, date=words(spec.date))


def read_printing(reader: Reader, spec: PatternSpec | None) -> Printing:
    """What a [pattern] table says; None for what it leaves open."""
    if spec is None:
        return Printing()
    margin_mm = _within(reader, spec.margin, check_margin)
    overlap_mm = _within(reader, spec.overlap, check_overlap)
    join = spec.join.value if spec.join else None
    if join == "overlap" and spec.overlap is not None and overlap_mm is not None:
        try:
            check_join_overlap(overlap_mm)
        except WrittenError as error:
            reader.error(spec.overlap.place, error.what, error.mend)
    return Printing(
        paper=reader.read(spec.paper, check_paper) if spec.paper else None,
        margin_mm=margin_mm,
        overlap_mm=overlap_mm,
        join=join,
        has_full_straps=spec.full_straps.value if spec.full_straps else None,
    )


def _within(reader: Reader, value: Length, check: Callable[[float], float]) -> float | None:
    length_mm = reader.length(value, zero=True)
    if value is None or length_mm is None:
        return None
    try:
        return check(length_mm)
    except WrittenError as error:
        reader.error(value.place, error.what, error.mend)
        return None


def check_margin(length_mm: float) -> float:
    """The margin itself; raises WrittenError outside 0 to 25.4 mm."""
    return _check_range(length_mm, "margin", MARGINS_MM)


def check_overlap(length_mm: float) -> float:
    """The overlap itself; raises WrittenError outside 3 to 40 mm."""
    return _check_range(length_mm, "overlap", OVERLAPS_MM)


def _check_range(length_mm: float, what: str, limits_mm: tuple[float, float]) -> float:
    least, most = limits_mm
    if not least <= length_mm <= most:
        raise WrittenError(f"the {what} cannot be {format_mm(length_mm, 2)}", f"use {least:g} to {most:g} mm")
    return length_mm


def check_join_overlap(overlap_mm: float) -> None:
    """Raises WrittenError when sheets joined by overlapping share too little for their match marks."""
    if overlap_mm < LEAST_JOIN_OVERLAP_MM:
        raise WrittenError(
            f"an overlap of {format_mm(overlap_mm, 2)} has no room for the match marks of sheets that overlap",
            f'use {LEAST_JOIN_OVERLAP_MM:g} mm or more, or join = "trim"',
        )


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
