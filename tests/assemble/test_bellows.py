"""A pocket with a bellows that lies shut, inside a cover that is folded: where both are drawn. By hand."""

from collections.abc import Callable

import pytest
from short_specs import piece, seam, step

from docgen.assemble import Assembled, Copy, TakenApart, UnsureError, pile_seam

Resolve = Callable[[str], Assembled]
FOLD = 'folds = [{ at = "centre", open = true, angle = 180, inside = "flesh" }]\n'
POCKET = 'landings = [{ piece = "pocket", at = "20 mm from right, 20 mm from bottom", inside = true }]\n'
COVER = (
    piece("cover", 220, 98, FOLD + POCKET)
    + piece("pocket", 70, 50)
    + '[pieces.bellows]\nof = "body"\nshape = "strip"\nsize = ["24 mm", "solve"]\n'
    + 'folds = [{ at = "centre", open = true }]\n'
    + seam("fore", "pocket: left bottom right", "bellows: left")
    + seam("aft", "bellows: right", "cover")
    + step("Sew the bellows to the cover.", seams="aft")
    + step("Sew the pocket to the bellows.", seams="fore")
)


def test_a_pocket_and_its_bellows_lie_between_the_halves_of_their_cover(resolve_text: Resolve) -> None:
    """What the pleat leaves is nothing: both were drawn on the outside of the closed cover."""
    lifted = TakenApart(resolve_text(COVER)).lifted
    cover, pocket, bellows = (lifted.part(Copy(name)) for name in ("cover", "pocket", "bellows"))
    assert cover is not None
    assert pocket is not None
    assert bellows is not None
    low, high = sorted(lift[2] for lift in cover.lifts)
    assert low < pocket.lifts[1][2] < high
    assert {lift[2] for lift in bellows.lifts} <= {pocket.lifts[1][2], pocket.lifts[1][2] + 1, pocket.lifts[1][2] - 1}


def test_a_bellows_is_not_drawn_while_it_is_sewn(resolve_text: Resolve) -> None:
    """It is sewn open, and lies shut between its seams at last: a line was drawn of it, out beyond the edge."""
    with pytest.raises(UnsureError, match="bellows is placed as it lies folded flat, and is sewn open"):
        TakenApart(resolve_text(COVER)).heaps(0)


def test_a_bellows_that_stays_open_is_drawn(resolve_text: Resolve) -> None:
    flat = COVER.replace(FOLD, "").replace(", inside = true", "")
    open_ = flat.replace("open = true }", "open = true, angle = 90 }")
    _, (heap,) = TakenApart(resolve_text(open_)).heaps(0)
    assert Copy("bellows") in heap.new
    with pytest.raises(UnsureError, match="folded flat"):
        TakenApart(resolve_text(flat)).heaps(0)


@pytest.mark.parametrize(("inside", "grain"), [("", "up"), (", inside = true", "down")])
def test_what_holds_a_pocket_off_a_panel_lies_on_the_side_where_that_has_its_place(
    resolve_text: Resolve, inside: str, grain: str
) -> None:
    text = (
        piece("panel", 300, 200, f'landings = [{{ piece = "face", at = "centre, 30 mm from bottom"{inside} }}]\n')
        + piece("face", 200, 120)
        + '[pieces.strip]\nof = "body"\nshape = "strip"\nsize = ["35 mm", "solve"]\n'
        + seam("face", "face: left bottom right", "strip: left")
        + seam("on", "strip: right", "panel")
    )
    build = resolve_text(text)
    once = next(one for one in build.assembly.sewn if one.seam == "on")
    (pile,) = pile_seam(build, once)
    assert [(ply.part, ply.grain) for ply in pile] == [("strip", "up"), ("panel", grain)]
    assert "seam-off-host" not in {one.check for one in build.cautions}  # 355 mm of strip on a panel of 300 mm
