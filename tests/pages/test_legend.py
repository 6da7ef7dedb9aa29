"""The first sheet of a pattern lists the lines that it has, and the cutting list the signs that stand in it."""

import pytest
from demos import demo_plan
from on_paper import make_setup, texts
from short_specs import piece, seam, step
from spec_text import Resolve, write_out

from docgen.pages.lists.cutting_list import lay_out_cutting_list
from docgen.pages.pattern.pattern import lay_out_pattern
from docgen.plan import Plan, plan_work

HEAD = write_out("""\
<spec bag: Bag, version 1>
<leather body: 2 mm>
<stitch main: by machine, Tex 135 bonded nylon, 4 mm, 4 mm>
""")
PANELS = piece("a", 100, 80, of="body") + piece("b", 100, 80, of="body") + seam("s", "a: left", "b: left")


@pytest.fixture
def head() -> str:
    return HEAD


def pattern_of(plan: Plan) -> list[str]:
    return texts(lay_out_pattern(plan, make_setup(), make_setup()))


def tells_of_arrows(plan: Plan) -> bool:
    return "double arrow" in " ".join(texts(lay_out_cutting_list(plan, make_setup())))


def test_an_arrow_in_the_middle_that_is_left_out_is_not_in_the_legend(resolve_text: Resolve) -> None:
    """A strap of 2 m is printed by its two ends; one of 200 mm whole, with the arrow."""
    strap = '[straps.tie]\nof = "body"\nwidth = "20 mm"\nfinished = "{} mm"\n'
    for long_mm, has_arrow in ((2000, False), (200, True)):
        plan = plan_work(resolve_text(PANELS + strap.format(long_mm) + step("Sew.", seams="s", straps="tie")))
        assert ("leather stretches least" in pattern_of(plan)) == has_arrow


def test_arrows_are_told_of_where_there_are_some(resolve_text: Resolve) -> None:
    assert tells_of_arrows(demo_plan("field-bag"))
    assert not tells_of_arrows(plan_work(resolve_text(PANELS + step("Sew.", seams="s"))))
