"""Lines that more than one command tells."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from docgen.calls.outside import Checked
    from docgen.resolve import Printer


def describe_checked(checked: Checked) -> list[str]:
    """A line for each measure that a seam gave and for what is accepted: the check, the part it concerns, and the
    reason; what is asked of the maker; then the cautions."""
    from docgen.problems import render_problems, shorten, show_plain

    lines = [f"worked out: {name} = {length}" for name, length in checked.worked_out]
    lines += [f"edge of {edge}" for edge in checked.drawn_edges]
    lines += [f"by the iron, {told}" for told in checked.irons]
    lines += [f"not drawn: {told}" for told in checked.undrawn]
    for question in checked.asked:
        lines.append(f"{show_plain(question.place.path)}:{question.place.line}: ask: {question.what}")
        lines.append(f"    answer:  {question.answer}")
    for item in checked.accepted:
        at = f", at {shorten(item.problem.at)}" if item.problem.at else ""
        lines.append(f"accepted: {item.problem.check}{at}: {shorten(item.reason)}")
    return lines + ([render_problems(checked.cautions)] if checked.cautions else [])


def describe_printer(printer: Printer) -> str:
    """Its name and what its 100 mm square measured."""
    from docgen.written.units.telling import format_mm

    across, down = format_mm(printer.across_mm, 2), format_mm(printer.down_mm, 2)
    when = f", {printer.date}" if printer.date else ""
    return f'"{printer.name}": its 100 mm square measured {across} across and {down} down{when}'
