"""A strap through a buckle lies over the tab that holds it, and under the buckle's far side; its tip goes straight on."""

import math
from itertools import pairwise
from pathlib import Path

import pytest

from docgen.assemble import TakenApart
from docgen.assemble.space.arch import Hold
from docgen.assemble.space.ribbons import lead
from docgen.checks import resolve_build
from docgen.read import read_spec

FIELD_BAG = Path(__file__).parents[2] / "specs" / "field-bag.toml"


def test_it_lies_over_the_bar_and_under_the_far_side() -> None:
    lifted = TakenApart(resolve_build(read_spec(FIELD_BAG))).lifted
    (one, *_) = [one for one in lifted.buckled if one.part.part == "closing"]
    tab, strap = (lifted.part(copy) for copy in (one.host, one.part))
    assert tab is not None
    assert strap is not None
    (buckle,) = [metal for metal in lifted.metal if metal.part == one.host and metal.shape == "buckle"]
    bar, far = (math.hypot(*buckle.lift_at(at)) for at in (buckle.at, buckle.far))
    over = math.hypot(*strap.lifts[-1])
    assert max(math.hypot(*lift) for lift in tab.lifts) < bar < over < far


@pytest.mark.parametrize(("bends_mm", "corners"), [(1000.0, 3), (150.0, 3), (90.0, 2)])
def test_a_tip_beyond_its_holes_bends_round_nothing(bends_mm: float, corners: int) -> None:
    """A strap leads down 100 mm to the lower edge of a box: it goes round that, unless all its holes lie before it."""
    box = [
        ((-50.0, 0.0, 0.0), (50.0, 0.0, 0.0), (50.0, 0.0, 100.0), (-50.0, 0.0, 100.0)),
        ((-50.0, 40.0, 0.0), (50.0, 40.0, 0.0), (50.0, 40.0, 100.0), (-50.0, 40.0, 100.0)),
    ]
    hold = Hold(at=(0.0, 0.0, 100.0), way=(0.0, 0.0, -1.0), out=(0.0, -1.0, 0.0))
    line = lead(box, hold, 130.0, bends_mm)
    assert len(line) == corners
    assert sum(math.dist(at, to) for at, to in pairwise(line)) == pytest.approx(130)
