"""What is sewn on the lining of a flat pouch lies between front and back, and is not seen from outside. By hand."""

import pytest
from short_specs import piece, seam, step
from spec_text import Resolve

from docgen.assemble import Copy, TakenApart


@pytest.mark.parametrize(("sewn_on", "is_buried"), [("lining-front", True), ("front", False)])
def test_a_pocket_on_a_hung_lining_is_within_the_pouch(resolve_text: Resolve, sewn_on: str, is_buried: bool) -> None:
    lands = 'landings = [{ piece = "slip", at = "centre, 40 mm from bottom" }]\n'
    text = (
        piece("front", 200, 150, lands if sewn_on == "front" else "")
        + piece("back", 200, 150)
        + piece("lining-front", 200, 150, 'lines = ["front"]\n' + (lands if sewn_on != "front" else ""))
        + piece("lining-back", 200, 150, 'lines = ["back"]\n')
        + piece("slip", 90, 60)
        + seam("slip", "slip: left bottom right", sewn_on)
        + seam("inner", "lining-front: left bottom right", "lining-back: left bottom right")
        + seam("outer", "front: left bottom right", "back: left bottom right")
        + seam("mouth-front", "front: top", "lining-front: top")
        + seam("mouth-back", "back: top", "lining-back: top")
        + step("Sew the pocket on.", seams="slip")
        + step("Sew the lining.", seams="inner")
        + step("Sew the outside.", seams="outer")
        + step("Hang the lining in.", seams="mouth-front mouth-back")
    )
    apart = TakenApart(resolve_text(text))
    slip = Copy("slip")
    assert slip in {body.copy for body in apart.closed.bodies}
    assert (slip in apart.lined.buried) == is_buried
