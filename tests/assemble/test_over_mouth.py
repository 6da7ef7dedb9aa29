"""A flat pouch of one piece whose flap goes over the mouth by two bends: that is in front, over all that lies there.
Figures by hand, in mm; layers are drawn 1.6 mm apart."""

import pytest
from short_specs import piece, seam, step
from spec_text import Resolve

from docgen.assemble import Assembled, TakenApart
from docgen.assemble.apart.facing import looks_away

LINED = 'lines = ["body"]\n'


def pouch(
    resolve_text: Resolve,
    side: str,
    roof_mm: int,
    *,
    down_mm: int = 140,
    on_lining: bool = False,
    is_lined: bool = True,
) -> Assembled:
    """Front and back of 110, the flap of 50 beyond a roof at one end, and a pocket on the back or on its lining."""
    deg = ((110, 180), (220, 90), (220 + roof_mm, 90))
    folds = ", ".join(f'{{ at = "{mm} mm from {side}", open = true, angle = {angle} }}' for mm, angle in deg)
    lands = f'landings = [{{ piece = "pocket", at = "centre, {down_mm} mm from {side}" }}]\n'
    halves = [f"from {side} 0 mm to {side} 110 mm", f"from {side} 110 mm to {side} 220 mm"]
    lining = '[pieces.lining]\nlike = "body"\nmirror = true\nmarks = false\n' + LINED + (lands if on_lining else "")
    build = resolve_text(
        piece("body", 160, 270 + roof_mm, f"folds = [{folds}]\n{'' if on_lining else lands}")
        + (lining + seam("edge", "body: all", "lining: all") if is_lined else "")
        + piece("pocket", 80, 50)
        + seam("pocket", "pocket: left bottom right", "lining" if on_lining else "body")
        + "".join(seam(edge, *(f"body: {edge} {half}" for half in halves)) for edge in ("left", "right"))
        + step("Sew the pocket on.", seams="pocket")
        + (step("Line it.", seams="edge") if is_lined else "")
        + step("Sew the sides.", seams="left right")
    )
    assert isinstance(build, Assembled)
    return build


@pytest.mark.parametrize("is_lined", [True, False])
@pytest.mark.parametrize("side", ["top", "bottom"])
@pytest.mark.parametrize(("roof_mm", "down_mm"), [(6, 140), (15, 140), (6, 55)])
def test_its_front_is_where_the_flap_comes_down(
    resolve_text: Resolve, side: str, roof_mm: int, down_mm: int, *, is_lined: bool
) -> None:
    """A pocket that begins 140 from the end is on the back, one that begins 55 from it on the front, before its flap."""
    build = pouch(resolve_text, side, roof_mm, down_mm=down_mm, is_lined=is_lined)
    bodies = {body.copy.part: body for body in TakenApart(build).closed.bodies}
    is_up = bodies["pocket"].faces[0].grain[2] > 0
    assert looks_away(build, [*bodies.values()]) == (is_up == (down_mm == 140))


@pytest.mark.parametrize(("roof_mm", "over_mm"), [(6, 3.2), (9, 3.2), (10, 10 - 6.4), (15, 15 - 6.4)])
def test_its_flap_lies_over_the_front_however_far_the_halves_lie_apart(
    resolve_text: Resolve, roof_mm: int, over_mm: float
) -> None:
    """Pocket and linings hold the halves 4 layers apart, 6.4. The flap lies two layers over the front, 3.2, its own lining
    under it: roofs of 6 and 9 bring it 0.4 below the front and 2.6 above, one of 10 comes 3.6 above by itself."""
    build = pouch(resolve_text, "bottom", roof_mm, on_lining=True)
    (body,) = (one for one in TakenApart(build).bodies if one.copy.part == "body")
    ends = {face.band: face.corners[0][2] for face in body.faces}
    assert ends[0] - ends[3] == pytest.approx(over_mm)
