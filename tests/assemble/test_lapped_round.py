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
ENDS = seam("ends", "base: left from bottom to middle", "base: left from middle to top")
OVER_BOTH = [("base", "up"), ("front", "up"), ("back", "down"), ("base", "down")]


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


@pytest.mark.parametrize(
    ("feet", "more", "name", "layers"),
    [
        ("one two", SIDES, "left", OVER_BOTH),
        ("one two", ENDS, "ends", OVER_BOTH),
        ("one", SIDES, "left", OVER_BOTH[:3]),
    ],
    ids=["side seams of the panels", "ends of the base", "lapped on one panel alone"],
)
def test_under_the_needle_it_lies_on_each_panel_that_it_is_lapped_to(
    resolve_text: Resolve, feet: str, more: str, name: str, layers: list[tuple[str, str]]
) -> None:
    """Its halves of 50 mm lie 14 mm over the panels, whose grain looks out as its own does; all are of 2 mm."""
    build = resolve_text(BAG + more + step("Base.", seams=feet) + step("Sides.", seams=name))
    (once,) = (once for once in build.assembly.sewn if once.seam == name)
    (pile,) = pile_seam(build, once)
    assert [(ply.part, ply.grain) for ply in pile] == layers
    assert once.stack.thickest_mm == pytest.approx(2 * len(layers))
