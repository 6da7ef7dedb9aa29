"""What is sewn flat on a strip that is closed to a ring by itself hangs on that ring, and bends as it is sewn. By hand."""

import pytest
from spec_text import Resolve

from docgen.assemble import Copy

CANISTER = """\
[pieces.base]
of = "body"
shape = "circle"
diameter = "80 mm"
[pieces.wall]
of = "body"
shape = "strip"
size = ["100 mm", "solve"]
landings = [{ piece = "tongue", at = "60 mm from left, 40 mm from start" }]
[pieces.tongue]
of = "body"
shape = "rectangle"
size = ["150 mm", "30 mm"]
folds = [{ at = "40 mm from left", open = true, angle = 90 }, { at = "115 mm from left", open = true, angle = 90 }]
[joins.tube]
of = ["wall"]
overlap = "14 mm"
stitch = "main"
ring = true
<seam foot: ["base: edge", "tube: left"]>
<seam tongue: ["tongue: left", "wall"]>
<step "Sew the tongue on.": seams = ["tongue"]>
<step "Close the tube.": joins = ["tube"]>
<step "Sew the base in.": seams = ["foot"]>
"""


def test_a_tongue_on_a_tube_hangs_on_it_and_comes_down_over_its_mouth(resolve_text: Resolve) -> None:
    """Its left end lies 60 mm up on a wall of 100 mm: it bends at the mouth, goes over it, and its last 35 mm hang down."""
    build = resolve_text(CANISTER)
    assert "parts-in-two" not in {one.check for one in build.cautions}
    tongue = build.space.part(Copy("tongue"))
    assert tongue is not None
    heights = [at[2] for _, corners in tongue.sheets(tongue.ring) for at in corners]
    foot_mm = 4  # the wall stands on the row of the base
    assert max(heights) == pytest.approx(100, abs=foot_mm)
    assert min(heights) == pytest.approx(60, abs=foot_mm)
