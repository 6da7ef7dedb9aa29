"""A folded tab whose raw ends are sewn to an edge that is turned later stands out of that seam in the end: nothing has to
say on which side it lies. By hand."""

import pytest
from spec_text import Resolve

from docgen.assemble import Copy, TakenApart

POUCH = """\
<back>
<front>
[pieces.lining]
like = "front"
[pieces.tab]
of = "body"
shape = "rectangle"
size = ["60 mm", "30 mm"]
folds = [{ at = "centre" }]
[seams.mouth]
stitch = "main"
turned = true
meet = ["front: top", "lining: top"]
<seam baste: ["tab: left", "tab: right", "front: left from top 2 mm to top 32 mm"]>
[seams.round]
stitch = "main"
%smeet = ["front: left bottom right", "back: left bottom right"]
<step "Sew the mouth.": seams = ["mouth"]>
<step "Baste the tab.": seams = ["baste"]>
<step "Sew it round.": seams = ["round"]>
"""


def test_a_tab_in_a_turned_seam_stands_out_of_it_and_what_was_sewn_before_holds_nothing_of_it(
    resolve_text: Resolve,
) -> None:
    """Its upper edge lies 2 mm below the top, whose row is sewn 4 mm in before it is there."""
    build = resolve_text(POUCH % "turned = true\n")
    tab = build.space.part(Copy("tab"))
    assert tab is not None
    assert tab.how == "turned out"
    xs = [at[0] for _, corners in tab.sheets(tab.ring) for at in corners]
    within, beyond = 4 + 4, 4 - 26  # from the edge: half round about the row, 4 mm in
    assert (min(xs), max(xs)) == pytest.approx((200 - within, 200 - beyond)), "seen from behind, at its right"
    assert Copy("tab") not in TakenApart(build).unsure


def test_a_tab_between_edges_that_stay_outside_may_lie_on_either_side(resolve_text: Resolve) -> None:
    build = resolve_text(POUCH % "")
    assert Copy("tab") in TakenApart(build).unsure
