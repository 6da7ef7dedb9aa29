"""Pen loops laid folded into the edge of a cover, 11 mm of it under their 31 mm: by hand, in mm."""

import pytest
from short_specs import piece, seam, step
from spec_text import Resolve

from docgen.assemble import Assembled, TakenApart

COVER = piece("cover", 200, 150)
LINING = '[pieces.lining]\nlike = "cover"\nmarks = false\nmirror = true\nlines = ["cover"]\n'
ROUND = seam("round", "cover: left bottom right top", "lining: right bottom left top")


def loop_on(resolve_text: Resolve, at: str, fold: str = "") -> Assembled:
    lands = f'landings = [{{ piece = "loop", at = "{at}, 60 mm from bottom", inside = true }}]\n'
    text = COVER + lands + LINING + piece("loop", 62, 24, f'folds = [{{ at = "centre"{fold} }}]\n') + ROUND
    build = resolve_text(text + step("Loop.", pieces="loop") + step("Line.", pieces="lining", seams="round"))
    assert isinstance(build, Assembled)
    return build


def halves_of(build: Assembled) -> list[tuple[float, float]]:
    """How far each half of the loop reaches across the cover, from its left edge."""
    cover, loop = (next(one for one in build.space.parts if one.copy.part == name) for name in ("cover", "loop"))
    left = min(at[0] for _, corners in cover.sheets(cover.ring) for at in corners)
    return [(min(at[0] for at in half) - left, max(at[0] for at in half) - left) for _, half in loop.sheets(loop.ring)]


@pytest.mark.parametrize("fold", ["", ", open = true, angle = 180"], ids=["closed", "open"])
def test_both_halves_lie_in_the_edge_and_go_20_beyond_it(resolve_text: Resolve, fold: str) -> None:
    """From 200 - 11 = 189 to 189 + 31 = 220."""
    assert halves_of(loop_on(resolve_text, "189 mm from left", fold)) == [pytest.approx((189, 220))] * 2


def test_one_at_the_left_lies_as_its_landing_is_drawn(resolve_text: Resolve) -> None:
    """Its right side 189 from the right edge, 11 from the left one: from 11 - 31 = -20 on."""
    assert halves_of(loop_on(resolve_text, "189 mm from right")) == [pytest.approx((-20, 11))] * 2


def test_one_that_lies_on_its_cover_whole_stays_where_it_is(resolve_text: Resolve) -> None:
    assert halves_of(loop_on(resolve_text, "100 mm from left")) == [pytest.approx((100, 131))] * 2


def test_what_lines_the_cover_lies_over_both_halves(resolve_text: Resolve) -> None:
    """Three layers behind the cover: the loop takes two."""
    lifted = TakenApart(loop_on(resolve_text, "189 mm from left")).lifted
    deep = {one.copy.part: sorted(abs(lift[2]) for lift in one.lifts) for one in lifted.parts}
    assert deep["loop"] == [1, 2]
    assert deep["lining"] == [3]
