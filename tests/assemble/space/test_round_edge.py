"""A flap that is lapped over an edge and bends beyond it lies back on the other side; a cloth with leather on its hidden
side is the outside of a roll, and no lining of that."""

from collections.abc import Callable

import pytest
from short_specs import piece, seam

from docgen.assemble import Copy, inner
from docgen.assemble.space import Space

CLOTH = '[materials.canvas]\nkind = "fabric"\nthickness = "0.9 mm"\nwidth = "1450 mm"\n'
BODY = piece(
    "body",
    300,
    400,
    'landings = [{ piece = "sheet", at = "0 from left, 0 from bottom", inside = true }]\n',
    of="canvas",
)
SHEET = piece("sheet", 300, 150)
FLAP = piece("flap", 300, 120, 'folds = [{ at = "20 mm from bottom", open = true, angle = 180, inside = "flesh" }]\n')
SEAMS = seam("foot", "sheet: left bottom right", "body: left bottom right from top 250 mm to top 250 mm") + seam(
    "flap", "flap: bottom", "body: top", more='lap = "14 mm"\n'
)
ROLL = CLOTH + BODY + SHEET + FLAP + SEAMS


def test_a_cloth_with_leather_on_its_hidden_side_is_an_outside(place: Callable[[str], Space]) -> None:
    parts = {placed.copy.part: placed for placed in place(ROLL).parts}
    assert {name: placed.is_inner for name, placed in parts.items()} == dict.fromkeys(("body", "sheet", "flap"), False)
    body, sheet = parts["body"], parts["sheet"]
    assert inner(sheet.out(0), body.out(0)) == pytest.approx(-1)
    assert inner(sheet.lifts[0], body.out(0)) < inner(body.lifts[0], body.out(0))


def test_a_cloth_no_larger_than_the_leather_it_is_sewn_to_lines_it(place: Callable[[str], Space]) -> None:
    """The leather is as large as the cloth: a pocket on the hidden side makes that no outside."""
    as_large = ROLL.replace('"300 mm", "150 mm"', '"300 mm", "400 mm"').replace(" from top 250 mm to top 250 mm", "")
    (body,) = (placed for placed in place(as_large).parts if placed.copy == Copy("body"))
    assert body.is_inner


@pytest.mark.parametrize(("high_mm", "is_inner"), [(200, False), (400, True)])
def test_a_pocket_of_cloth_on_the_hidden_side_of_a_cloth_is_seen(
    place: Callable[[str], Space], high_mm: int, is_inner: bool
) -> None:
    """It lies over the leather there; one as large as the cloth, which leather on its outside tells, is its lining."""
    landings = "".join(
        f'{{ piece = "{name}", at = "0 from left, 0 from bottom"{side} }}, '
        for name, side in (("sheet", ", inside = true"), ("pocket", ", inside = true"), ("plate", ""))
    )
    body = piece("body", 300, 400, f"landings = [{landings}]\n", of="canvas")
    sewn = f"left bottom right from top {400 - high_mm} mm to top {400 - high_mm} mm" if high_mm < 400 else "all"
    rows = seam("plate", "plate: all", "body") + seam(
        "pocket", "pocket: left bottom right" if high_mm < 400 else "pocket: all", f"body: {sewn}"
    )
    pocket = piece("pocket", 300, high_mm, of="canvas")
    parts = {one.copy.part: one for one in place(CLOTH + body + SHEET + pocket + piece("plate", 60, 60) + rows).parts}
    assert parts["pocket"].is_inner == is_inner
    assert not parts["sheet"].is_inner
    out = parts["body"].out(0)
    assert inner(parts["pocket"].lifts[0], out) < inner(parts["sheet"].lifts[0], out)


def test_a_lapped_flap_comes_back_on_the_other_side_of_its_host(place: Callable[[str], Space]) -> None:
    """By hand, from the outside of the body: strip, body, sheet, flap. What lies on the body is lifted one layer, what lies
    back lies beneath the sheet."""
    parts = {placed.copy.part: placed for placed in place(ROLL).parts}
    body, flap = parts["body"], parts["flap"]
    heights = {
        round(inner(flap.out(band), body.out(0))): inner(flap.lifts[band], body.out(0))
        for band in range(len(flap.surface.bands))
    }
    assert heights == {1: 1, -1: -2}


def test_a_flap_that_bends_on_its_host_stays_on_that(place: Callable[[str], Space]) -> None:
    """Its fold lies 6 mm inside the edge of the body, within the lap of 26."""
    text = ROLL.replace('lap = "14 mm"', 'lap = "26 mm"')
    flap = next(placed for placed in place(text).parts if placed.copy.part == "flap")
    body = next(placed for placed in place(text).parts if placed.copy.part == "body")
    assert min(inner(lift, body.out(0)) for lift in flap.lifts) > 0
