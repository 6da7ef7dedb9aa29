"""A strap that is sewn on a band which is sewn on a panel before: the needle goes through the panel too, but under a pocket
that is open at its top a hand goes between. Thicknesses by hand: 2 mm of leather each, as `short_specs` has it."""

import pytest
from short_specs import piece, seam, step
from spec_text import Resolve

STRAP = '[straps.tie]\nof = "body"\nwidth = "25 mm"\nfinished = "300 mm"\n'


@pytest.mark.parametrize(
    ("edges", "first", "parts"),
    [
        ("all", "band", ["tie", "band", "panel"]),
        ("left bottom right", "band", ["tie", "band"]),
        ("all", "tie", ["tie", "band"]),
    ],
)
def test_a_row_goes_through_all_that_is_fast_beneath(
    resolve_text: Resolve, edges: str, first: str, parts: list[str]
) -> None:
    place = 'at = "60 mm from left, middle", leads = "left", over = "50 mm"'
    lands = f'landings = [{{ strap = "tie", {place}, stitch = "main" }}]\n'
    steps = [step("Sew the band on.", seams="band"), step("Sew the strap on.", straps="tie")]
    text = (
        piece("panel", 200, 150, 'landings = [{ piece = "band", at = "centre, 10 mm from top" }]\n')
        + piece("band", 180, 50, lands)
        + STRAP
        + seam("band", f"band: {edges}", "panel")
        + "".join(steps if first == "band" else steps[::-1])
    )
    build = resolve_text(text)
    (run,) = [run for run in build.assembly.runs if run.kind == "landings"]
    assert {layer.part for layer in run.stack.layers} == {*parts}
    thick_mm = {item.name: item.thickness_mm for item in build.materials}["body"]
    assert run.stack.usual_mm == pytest.approx(len(parts) * thick_mm)


def test_a_band_sewn_all_round_holds_nothing(resolve_text: Resolve) -> None:
    """As wide as its panel and open at its top it is a pocket: 180 less two insets of 4 mm each wide."""
    rooms = []
    for edges in ("all", "left bottom right"):
        text = (
            piece("panel", 180, 150, 'landings = [{ piece = "band", at = "0 from left, 10 mm from top" }]\n')
            + piece("band", 180, 50)
            + seam("band", f"band: {edges}", "panel")
        )
        rooms.append(resolve_text(text).assembly.room)
    assert rooms[0] is None
    assert rooms[1] is not None
    assert rooms[1].width_mm == pytest.approx(172)
