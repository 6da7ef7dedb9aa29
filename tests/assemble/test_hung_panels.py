"""A panel that a row of rivets holds on a strip: its holes fit half round as well, and nothing says which way is up."""

import pytest
from short_specs import piece, rivet, seam, step
from spec_text import Resolve

from docgen.assemble import Assembled, Copy
from docgen.assemble.space.placed import WAY_UNTOLD

ROW = 'hole-rows = [{{ start = "10 mm from left, {0} mm from {1}", end = "10 mm from right, {0} mm from {1}"{2} }}]\n'
TAKES = ', count = 3, punch = "4 mm", takes = "rivet", through = ["panel"]'


@pytest.mark.parametrize(("low_mm", "is_placed"), [(200, False), (10, True)])
def test_a_panel_is_placed_only_where_its_holes_fit_one_way(
    resolve_text: Resolve, low_mm: int, is_placed: bool
) -> None:
    """A panel 100 wide and high on a strip as wide; what is no larger than its host leads off that, as tabs do."""
    build = resolve_text(
        piece("front", 100, 100)
        + piece("back", 100, 100, 'landings = [{ piece = "bridge", at = "centre, 0 from bottom" }]\n')
        + piece("bridge", 100, 60, ROW.format(20, "top", TAKES))
        + piece("panel", 100, low_mm, ROW.format(5, "top", ', count = 3, punch = "4 mm"'))
        + rivet(3)
        + seam("on", "bridge: bottom", "back")
        + seam("round", "front: left bottom right", "back: left bottom right")
        + step("Sew.", pieces="bridge", seams="on round")
        + step("Rivet the panel on.", pieces="panel", hardware="rivet")
    )
    assert isinstance(build, Assembled)
    assert {one.copy: one.why for one in build.space.unplaced} == ({} if is_placed else {Copy("panel"): WAY_UNTOLD})
