"""A base folded at its middle and lapped over the feet of two panels: it lies outside of both. By hand."""

import pytest
from short_specs import piece, seam, step
from spec_text import Resolve

from docgen.assemble import Assembled, Copy, TakenApart, pile_seam
from docgen.assemble.space import inner

BASE = piece("base", 200, 100, 'folds = [{ at = "middle", open = true, angle = 180 }]\n')
LAP = 'lap = "14 mm"\n'
LAPPED = seam("one", "base: bottom", "front: bottom", more=LAP) + seam("two", "base: top", "back: bottom", more=LAP)
BAG = piece("front", 200, 160) + '[pieces.back]\nlike = "front"\n' + BASE + LAPPED
SIDES = seam("left", "front: left", "back: right") + seam("right", "front: right", "back: left")


def outward(build: Assembled) -> list[tuple[str, bool]]:
    """The flat parts from the innermost of the back's side to the front: each with whether its grain looks to the front."""
    lifted = TakenApart(build).lifted
    front = lifted.part(Copy("front"))
    assert front is not None
    out = front.out(0)
    faces = [
        (round(inner(face.lift, out), 3), one.copy.part, inner(face.grain, out) > 0)
        for one in lifted.parts
        for face in one.faces
    ]
    return [(part, is_out) for _, part, is_out in sorted(faces)]


@pytest.mark.parametrize("more", ["", SIDES], ids=["feet alone", "sides sewn first"])
def test_it_lies_outside_of_both_with_its_grain_out(resolve_text: Resolve, more: str) -> None:
    """From behind: half of the base and the back look to the back, front and the other half to the front; under each
    needle the base lies with its flesh on the grain of its panel."""
    steps = (step("Sides.", seams="left right") if more else "") + step("Base.", seams="one two")
    build = resolve_text(BAG + more + steps)
    assert outward(build) == [("base", False), ("back", False), ("front", True), ("base", True)]
    sewn = {once.seam: once for once in build.assembly.sewn}
    for name, panel in (("one", "front"), ("two", "back")):
        (pile,) = pile_seam(build, sewn[name])
        assert [(ply.part, ply.grain) for ply in pile] == [("base", "up"), (panel, "up")]
