"""A hole that takes hardware and goes through a part which has none for it is told by its hardware: that part is punched
through it. By hand."""

import pytest
from short_specs import SHORT_HEAD, hole, piece, rivet, step
from spec_text import Resolve
from step_lines import lines

from docgen.plan import plan_work

LANDS = 'landings = [{ piece = "tab", at = "centre, 20 mm from top" }]\n'
THROUGH = ', through = ["back"]'


@pytest.fixture
def head() -> str:
    return SHORT_HEAD


@pytest.mark.parametrize(
    ("own", "told"), [("", "tab (1, for rivet)"), (hole("centre, 40 mm from top", ""), "tab (1, for back)")]
)
def test_a_hole_is_told_by_what_it_takes_where_nothing_lies_under_it(
    resolve_text: Resolve, own: str, told: str
) -> None:
    """40 mm from the top of the back is 20 mm from that of the tab, which lands 20 mm below it."""
    own = own.replace(', takes = ""', "")
    text = piece("back", 200, 150, LANDS + own, of="hide")
    text += piece("tab", 40, 60, hole("centre, 20 mm from top", more=THROUGH), of="hide") + rivet()
    text += step("Punch.", pieces="tab back") + step("Rivet.", pieces="tab back", hardware="rivet")
    (line,) = [one for one in lines(plan_work(resolve_text(text)), 1) if "tab (" in one]
    assert told in line
