"""Hardware is set by the name under which it was bought and taken in hand."""

import pytest
from short_specs import hole, piece, seam, step
from spec_text import Resolve
from step_lines import lines

from docgen.plan import plan_work


@pytest.mark.parametrize(
    ("what", "told"), [("bag foot", "Set 1 × bag foot in "), ("screw post", "Set 1 screw post in ")]
)
def test_what_is_set_is_called_as_it_is_taken(resolve_text: Resolve, what: str, told: str) -> None:
    """A bag foot is held by a screw post, and nobody who has a bag foot in hand looks for a screw post."""
    item = f'[hardware.foot]\nwhat = "{what}"\nkind = "screw-post"\ncount = 1\nposts = ["3 mm", "4 mm"]\n'
    text = piece("base", 200, 100, hole("centre, 50 mm from bottom", "foot")) + piece("front", 200, 150)
    text += item + seam("one", "front: bottom", "base: top") + step("Set it.", pieces="base", hardware="foot")
    found = lines(plan_work(resolve_text(text)), 1)
    assert any(line.startswith(told) for line in found)
