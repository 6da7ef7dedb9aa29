"""Lines that more than one command tells."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from docgen.resolve import Accepted, Printer


def describe_worked_out(name: str, length: str) -> str:
    """One line: a measure that a seam gave."""
    return f"worked out: {name} = {length}"


def describe_edge(edge: str) -> str:
    """One line: an edge of a drawing by the name it goes by, and where it lies."""
    return f"edge of {edge}"


def describe_iron(told: str) -> str:
    """One line: what an iron of a fixed pitch marks along a seam, and which length would come out whole."""
    return f"by the iron, {told}"


def describe_accepted(accepted: Accepted) -> str:
    """One line: the check, the part it concerns, and the reason."""
    from docgen.problems import shorten

    at = f", at {shorten(accepted.problem.at)}" if accepted.problem.at else ""
    return f"accepted: {accepted.problem.check}{at}: {shorten(accepted.reason)}"


def describe_printer(printer: Printer) -> str:
    """Its name and what its 100 mm square measured."""
    from docgen.written.units.telling import format_mm

    across, down = format_mm(printer.across_mm, 2), format_mm(printer.down_mm, 2)
    when = f", {printer.date}" if printer.date else ""
    return f'"{printer.name}": its 100 mm square measured {across} across and {down} down{when}'
