"""The other half of what is folded is punched through its first, unless that has its hole already. By hand: folded in its
middle, a tab of 80 mm has holes 12 mm from both ends on each other."""

import pytest
from short_specs import SHORT_HEAD, piece, rivet, step
from spec_text import Resolve
from step_lines import lines

from docgen.plan import plan_work

FIRST = '{ at = "centre, 12 mm from bottom", punch = "4 mm", takes = "rivet", through = ["plate"] }'
LANDS = 'landings = [{ piece = "tab", at = "centre, 40 mm from bottom" }]\n'


@pytest.fixture
def head() -> str:
    return SHORT_HEAD


@pytest.mark.parametrize(
    ("other", "is_told"),
    [
        ("", True),
        (', { at = "centre, 12 mm from top", punch = "4 mm" }', False),
        (', { at = "centre, 12 mm from top", punch = "6 mm" }', True),
    ],
)
def test_a_half_that_has_its_hole_is_not_punched_again(resolve_text: Resolve, other: str, is_told: bool) -> None:
    tab = piece("tab", 25, 80, f'folds = [{{ at = "middle" }}]\nholes = [{FIRST}{other}]\n', of="hide")
    text = piece("plate", 200, 150, LANDS, of="hide") + tab + rivet()
    plan = plan_work(resolve_text(text + step("Rivet the tab.", pieces="tab plate", hardware="rivet")))
    assert any("punch on through the layer beneath" in line for line in lines(plan, 1)) == is_told
