"""Plan, paper and layouts -> documents of pages of marks at fixed places in mm; nothing is decided later.

Only `lay_out` and what is in `page` may be used by later phases.
"""

from __future__ import annotations

from docgen.pages.build_sheet import lay_out_build_sheet
from docgen.pages.care_card import lay_out_care_card
from docgen.pages.cutting_list import lay_out_cutting_list
from docgen.pages.page import Packet
from docgen.pages.pattern import lay_out_pattern
from docgen.pages.setup import Setup
from docgen.pages.templates import load_page_style
from docgen.plan import Plan
from docgen.tables.paper import find_paper

__all__ = ["Packet", "lay_out"]


def lay_out(plan: Plan, *, paper: str, date: str) -> Packet:
    """All documents of a plan on one paper (a name or "WxH"), for one day (YYYY-MM-DD).

    Raises WrittenError for an unknown paper, SpecRejected when something cannot be laid out.
    """
    build = plan.build
    width_mm, height_mm = sorted(find_paper(paper))
    setup = Setup(
        paper_width_mm=width_mm, paper_height_mm=height_mm, margin_mm=build.printing.margin_mm, date=date,
        style=load_page_style(),
    )  # fmt: skip
    documents = (
        lay_out_pattern(plan, setup, paper),
        lay_out_cutting_list(plan, setup),
        lay_out_build_sheet(plan, setup),
        lay_out_care_card(plan, setup),
    )
    return Packet(
        documents=documents, title=build.title, author=build.shop.name, source_name=build.source_name,
        source=build.source, date=date,
    )  # fmt: skip
