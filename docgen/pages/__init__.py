"""Plan, paper and layouts -> documents of pages of marks at fixed places in mm; nothing is decided later.

Only what is exported here, and what is in `page`, may be used by later phases.
"""

from __future__ import annotations

from docgen.pages.build_sheet import lay_out_build_sheet
from docgen.pages.care_card import lay_out_care_card
from docgen.pages.choices import MOST_CORRECTION, NOMINAL_MM, Choices, JoinWay, Printer, choices_of
from docgen.pages.cutting_list import lay_out_cutting_list
from docgen.pages.page import Packet
from docgen.pages.pattern import lay_out_pattern, pattern_pieces
from docgen.pages.setup import Setup
from docgen.pages.templates import load_page_style
from docgen.plan import Plan
from docgen.tables.paper import find_paper, find_roll

__all__ = [
    "MOST_CORRECTION", "NOMINAL_MM", "Choices", "JoinWay", "Packet", "Printer", "choices_of", "lay_out",
    "pattern_pieces",
]  # fmt: skip


def lay_out(plan: Plan, *, choices: Choices, date: str) -> Packet:
    """All documents of a plan, printed as chosen, for one day (YYYY-MM-DD).

    Pages of words go on the same paper; where it is larger than an office printer takes, on letter or A4. Raises
    WrittenError for an unknown paper, SpecRejected when something cannot be laid out.
    """
    build = plan.build
    sheets = _set_up(choices.paper, choices.margin_mm, date)
    if sheets.is_large:
        pages = _set_up("letter" if build.show == "in" else "a4", choices.margin_mm, date)
    else:
        pages = sheets
    documents = (
        lay_out_pattern(plan, _correct(sheets, choices), _correct(pages, choices), choices),
        lay_out_cutting_list(plan, pages),
        lay_out_build_sheet(plan, pages),
        lay_out_care_card(plan, pages),
    )
    return Packet(
        documents=documents, title=build.title, author=build.shop.name, source_name=build.source_name,
        source=build.source, date=date,
    )  # fmt: skip


def _set_up(paper: str, margin_mm: float, date: str) -> Setup:
    """Paper upright; of a roll the width is known, and the height comes from what is laid on it."""
    roll_mm = find_roll(paper)
    width_mm, height_mm = (roll_mm, roll_mm) if roll_mm else sorted(find_paper(paper))
    return Setup(
        paper_width_mm=width_mm, paper_height_mm=height_mm, margin_mm=margin_mm, date=date, style=load_page_style(),
        is_roll=bool(roll_mm),
    )  # fmt: skip


def _correct(setup: Setup, choices: Choices) -> Setup:
    """The paper as a stretching printer sees it: what is drawn is multiplied later and fits the true paper again."""
    if choices.printer is None:
        return setup
    across, down = choices.printer.stretch
    return Setup(
        paper_width_mm=setup.paper_width_mm / across, paper_height_mm=setup.paper_height_mm / down,
        margin_mm=setup.margin_mm / min(across, down), date=setup.date, style=setup.style, is_roll=setup.is_roll,
    )  # fmt: skip
