"""A panel that one straight edge alone holds is not known to stand square where gussets do not come to it."""

import pytest
from short_specs import piece, seam, step
from spec_text import Resolve

from docgen.assemble import TakenApart
from docgen.plan import plan_work

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


LANDED = WALLET.replace(
    "angle = 180 }]",
    'angle = 180 }]\nlandings = [{ piece = "pocket", at = "0 from left, 0 from bottom", inside = true }]',
    1,
)


def test_a_gusset_that_lies_folded_between_two_parts_is_withheld(resolve_text: Resolve) -> None:
    """Its edges lie level with those of pocket and cover, so that its fold goes in between: it was drawn beyond the sides,
    and 10 mm on either side were added to the width."""
    build = resolve_text(LANDED)
    unsure = TakenApart(build).unsure  # type: ignore[arg-type]
    assert {copy.part for copy in unsure} == {"left", "right"}
    assert {*unsure.values()} == {"it lies folded between the parts that it joins"}
    (width,) = [dict(one.due)["length"] for one in plan_work(build).finished if one.case == "width"]
    assert width.startswith("210 mm")


@pytest.mark.parametrize(("pieces", "is_there"), [("panel", False), ("panel cover", True)])
def test_what_is_taped_before_its_host_is_in_hand_is_not_drawn_on_that(
    resolve_text: Resolve, pieces: str, is_there: bool
) -> None:
    """Tape and a line that lays something are there for the goods behind the window of a panel."""
    lands = 'landings = [{ piece = "panel", at = "0 from left, 0 from bottom", inside = true }]\n'
    laid = 'laid = [{ goods = "zip", at = "24 mm from top", stitch = "main", window = "10 mm", clear = "18 mm" }]\n'
    text = piece("cover", 210, 200, lands) + piece("panel", 210, 80, laid)
    text += '[trimmings.zip]\nwhat = "coil zip"\nkind = "zip"\nwidth = "28 mm"\nthickness = "0.6 mm"\n'
    text += seam("round", "panel: left top right bottom", "cover")
    text += (
        step("Cut the window, and lay the zip behind it.", pieces=pieces, trimmings="zip")
        + 'tools = ["double-sided tape"]\n'
    )
    apart = TakenApart(resolve_text(text + step("Sew it on.", seams="round", pieces="cover")))  # type: ignore[arg-type]
    drawn = apart.heaps(0)[1]
    assert bool(drawn) == is_there
