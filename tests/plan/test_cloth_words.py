"""Cloth has a right and a wrong side, board and foam none that differ: no line speaks of their grain or flesh side."""

import pytest
from short_specs import piece, seam, step
from spec_text import Resolve, write_out
from step_lines import lines

from docgen.plan import plan_work

GOODS = '<fabric cloth: 0.5 mm>\nwidth = "1 m"\n[materials.card]\nkind = "board"\nthickness = "1 mm"\nwidth = "1 m"\n'
HOLE = 'holes = [{ at = "20 mm from top, centre", punch = "4 mm" }]\n'


@pytest.mark.parametrize(
    ("of", "up"), [("body", "Grain side up, mark"), ("cloth", "Right side up, mark"), ("card", "Mark")]
)
def test_a_hole_is_marked_on_a_side_that_there_is(resolve_text: Resolve, of: str, up: str) -> None:
    text = write_out(GOODS + piece("bag", 200, 150, HOLE, of=of)) + step("Punch.", pieces="bag")
    told = f"{up} the centres through the template; punch 4 mm (5/32 in): bag (1)."
    assert lines(plan_work(resolve_text(text)), 1) == [told]


@pytest.mark.parametrize(("of", "side"), [("body", "flesh side"), ("cloth", "wrong side")])
def test_a_hem_is_turned_to_a_side_that_there_is(resolve_text: Resolve, of: str, side: str) -> None:
    text = GOODS + piece("bag", 200, 150, 'hems = [{ edges = "top", turn = "10 mm" }]\n', of=of)
    text += seam("hem", "bag: top", "bag")
    told = lines(plan_work(resolve_text(write_out(text) + step("Fold.", pieces="bag", seams="hem"))), 1)
    assert told[0] == f"bag: turn top over to the {side} by 10 mm and press the fold down."
