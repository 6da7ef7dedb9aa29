"""Type large enough for where it is read, on every page of every demo and starter, on both papers.

A capital wants 16 minutes of arc or more (ISO 9241-3, as repeated in guides for workplaces with screens): its height in
mm times 3438, divided by the distance. Capitals of the face are 0.689 of the type size. What is read at the bench, 500 mm
away, is 10 pt or larger; a care card, in the hand, 350 mm away, 7 pt or larger. The white sign of exclamation in the
triangle of a caution is a drawing.
"""

from dataclasses import replace

import pytest
from demos import PATHS, demo_plan
from on_paper import visible_marks

from docgen.pages import choices_of, lay_out
from docgen.pages.marks.page import TextMark
from docgen.written.units.table import MM_PER_POINT

CAPITAL = 0.689
LEAST_MINUTES = 16.0
LEAST_PT = {"care-card": 7.0}
FAR_MM = {"care-card": 350.0}
ROUNDING_PT = 1e-6


@pytest.mark.parametrize("paper", ["letter", "a4"])
@pytest.mark.parametrize("name", sorted(PATHS))
def test_no_type_is_too_small_for_where_it_is_read(name: str, paper: str) -> None:
    plan = demo_plan(name)
    packet = lay_out(
        plan, choices=replace(choices_of(plan.build.printing), paper=paper), date="2026-03-31", is_draft=True
    )
    small, seen = [], 0
    for document in packet.documents:
        for page in document.pages:
            for mark, *_ in visible_marks(page.marks):
                if isinstance(mark, TextMark) and mark.grey < 1.0:
                    seen += 1
                    size_pt = mark.size_mm / MM_PER_POINT
                    minutes = 3438 * CAPITAL * mark.size_mm / FAR_MM.get(document.name, 500.0)
                    if size_pt < LEAST_PT.get(document.name, 10.0) - ROUNDING_PT or minutes < LEAST_MINUTES:
                        small.append((document.name, page.label, mark.text, round(size_pt, 2)))
    assert seen > 100
    assert small == []
