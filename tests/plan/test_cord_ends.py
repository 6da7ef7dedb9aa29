"""The end of a cord is told so that its step is understood by itself. Common practice, no published source."""

import pytest
from short_specs import piece, step
from spec_text import Resolve
from step_lines import every_line

from docgen.plan import plan_work

GOODS = '[trimmings.{0}]\nwhat = "{0}"\nkind = "{0}"\nwidth = "10 mm"\nthickness = "1 mm"\nlength = "500 mm"\n'


@pytest.mark.parametrize(("kind", "is_taped"), [("cord", True), ("webbing", False)])
def test_the_tape_on_a_cord_is_that_which_it_is_cut_through(resolve_text: Resolve, kind: str, is_taped: bool) -> None:
    text = piece("base", 200, 150) + GOODS.format(kind) + step("Put it on.", pieces="base", trimmings=kind)
    told = [line for line in every_line(plan_work(resolve_text(text))) if "the ends" in line]
    assert told
    assert all(("tape that was wound round to cut it" in line) == is_taped for line in told)
