"""What the lines of a step take is among its tools, also where the name of a glue has a tool's word in it. That leather is
damped with a sponge and water before it is bent is common practice, no published source."""

import pytest
from short_specs import piece
from spec_text import Resolve

from docgen.plan import plan_work

FOLDS = 'folds = [{ at = "middle", open = true, angle = 90 }]\n'


@pytest.mark.parametrize(("own", "more"), [("water-based cement", 1), ("sponge and water", 0), ("bone folder", 1)])
def test_water_based_cement_is_no_water_for_the_sponge(resolve_text: Resolve, own: str, more: int) -> None:
    text = (
        '<leather side: 3 mm>\ntannage = "vegetable"\n'
        + piece("box", 100, 200, FOLDS, "side")
        + piece("floor", 80, 90, of="side")
        + f'[[steps]]\ndo = "Fold up the box."\npieces = ["box", "floor"]\ntools = ["{own}"]\n'
    )
    build = resolve_text(text)
    (told,) = [one.tools for one in plan_work(build).steps]
    assert len([tool for tool in told if "sponge" in tool and tool != own]) == more
