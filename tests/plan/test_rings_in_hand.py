"""A step takes the part that has a ring in hand, once that is there, round which it turns the end of a strap. By hand."""

import pytest
from short_specs import piece, seam
from spec_text import Resolve
from step_lines import words_of

from docgen.plan import plan_work

TEXT = (
    piece("back", 200, 150, 'landings = [{ piece = "tab", at = "centre, 20 mm from top" }]\n')
    + piece("tab", 20, 60, 'folds = [{ at = "middle", around = "ring" }]\n')
    + seam("tab", "tab: bottom", "back")
    + '[hardware.ring]\nwhat = "D ring"\ncount = 1\ninside = "21 mm"\nbar = "3 mm"\n'
    + '[straps.sling]\nof = "body"\nwidth = "20 mm"\nfinished = "400 mm"\n'
    + 'ends = [{ shape = "turned", back = "40 mm", around = "ring", sewn = "main" }, { shape = "square" }]\n'
)
TAB = '[[steps]]\ndo = "Sew the tab on."\nseams = ["tab"]\n'
SLING = '[[steps]]\ndo = "Turn the sling round the ring and sew it."\nstraps = ["sling"]\n'


@pytest.mark.parametrize(("steps", "number", "is_taken"), [(TAB + SLING, 1, True), (SLING + TAB, 0, False)])
def test_what_has_the_ring_is_taken_once_it_is_there(
    resolve_text: Resolve, steps: str, number: int, is_taken: bool
) -> None:
    step = plan_work(resolve_text(TEXT + steps)).steps[number]
    assert any(one.startswith("back") for one in words_of(step.takes)) == is_taken
