"""A panel that one straight edge alone holds is not known to stand square where gussets do not come to it."""

import pytest
from short_specs import piece, seam
from spec_text import Resolve

from docgen.assemble import TakenApart

FOLDED = 'folds = [{ at = "centre", open = true, inside = "grain" }]\n'
WALLET = (
    piece("cover", 210, 200, 'folds = [{ at = "middle", open = true, angle = 180 }]\n')
    + piece("pocket", 210, 86)
    + piece("left", 32, 86, FOLDED)
    + piece("right", 32, 86, FOLDED)
    + seam("left-front", "pocket: right", "left: left")
    + seam("right-front", "pocket: left", "right: right")
    + seam("left-back", "cover: left from bottom 0 mm to bottom 86 mm", "left: right")
    + seam("right-back", "cover: right from bottom 0 mm to bottom 86 mm", "right: left")
    + seam("foot", "pocket: bottom", "cover: bottom")
)
BOX = (
    piece("base", 210, 90)
    + piece("wall", 210, 86)
    + piece("left", 90, 86)
    + piece("right", 90, 86)
    + seam("left-front", "wall: right", "left: left")
    + seam("right-front", "wall: left", "right: right")
    + seam("left-base", "base: right", "left: bottom")
    + seam("right-base", "base: left", "right: bottom")
    + seam("foot", "wall: bottom", "base: bottom")
)


@pytest.mark.parametrize(("text", "is_drawn"), [(WALLET, False), (BOX, True)])
def test_what_one_edge_holds_is_withheld_where_its_gussets_do_not_come_to_it(
    resolve_text: Resolve, text: str, is_drawn: bool
) -> None:
    """The ends of a box come to both and fix them; folded gussets of 32 mm close flat, and the pocket lies on the cover."""
    build = resolve_text(text)
    unsure = {copy.part for copy in TakenApart(build).unsure}  # type: ignore[arg-type]
    assert unsure.isdisjoint({"cover", "pocket", "base", "wall"}) == is_drawn
