"""A flap whose half of a snap names the part with the other one is not riveted to that. By hand: the front of 110 by 190 mm
has one hole, and reaches 55 mm to either side of it; that of the flap lies 15 mm from its edge."""

import pytest
from short_specs import piece, rivet, seam
from spec_text import Resolve

SNAP = '[hardware.snap]\nwhat = "line snap, 12 mm cap"\ncount = 1\nposts = ["4 mm"]\n'
FOLDS = ", ".join(f'{{ at = "{up} mm from bottom", open = true, angle = 90 }}' for up in (190, 220))


@pytest.mark.parametrize(("takes", "told"), [("snap", 0), ("rivet", 1)])
def test_the_other_half_of_a_snap_hangs_over_no_edge(resolve_text: Resolve, takes: str, told: int) -> None:
    hole = f'holes = [{{ at = "centre, 15 mm from top", punch = "4 mm", takes = "{takes}", through = ["front"] }}]\n'
    text = (
        piece("front", 110, 190, 'holes = [{ at = "centre, 60 mm from top", punch = "4 mm" }]\n')
        + piece("back", 110, 295, f"folds = [{FOLDS}]\n{hole}")
        + '[pieces.gusset]\nof = "body"\nshape = "strip"\nsize = ["30 mm", "solve"]\n'
        + seam("near", "front: left bottom right", "gusset: left")
        + seam("far", "back: left bottom right from bottom 190 mm to bottom 190 mm", "gusset: right")
        + (SNAP if takes == "snap" else rivet())
    )
    found = [one for one in resolve_text(text).cautions if one.check == "tab-over-seam"]
    assert len(found) == told
