"""What lands on the inner side of a strip lies beneath the lining of the whole wall that is laid later, and over one that
is there already. By hand."""

import pytest
from short_specs import piece, seam, step
from spec_text import Resolve
from step_lines import lines

from docgen.assemble import Copy, TakenApart
from docgen.plan import plan_work

ROUND = 'round = { bottom-left = "20 mm", bottom-right = "20 mm" }\n'
PANEL = "{}: left bottom right"
BAG = (
    piece("front", 220, 160, ROUND)
    + '[pieces.back]\nlike = "front"\n[pieces.side]\nof = "body"\ncut = 2\nshape = "strip"\nsize = ["50 mm", "150 mm"]\n'
    + 'landings = [{ piece = "foam", at = "centre, 30 mm from start", inside = true }]\n'
    + '[pieces.base]\nof = "body"\nshape = "strip"\nsize = ["50 mm", "solve"]\n'
    + '[pieces.foam]\nof = "pad"\ncut = 2\nshape = "rectangle"\nsize = ["30 mm", "80 mm"]\n'
    + '[pieces.cloth]\nof = "cloth"\nlines = ["gusset"]\nshape = "strip"\nsize = ["50 mm", "solve"]\n'
    + '[joins.gusset]\nof = ["side", "base", "side"]\noverlap = "12 mm"\nstitch = "main"\n'
    + seam("to-front", PANEL.format("front"), "gusset: left", "cloth: left")
    + seam("to-back", PANEL.format("back"), "gusset: right", "cloth: right")
)
FOAM = step("Glue the foam on the sides.", pieces="foam", joins="gusset")
SEWN = step("Lay the lining in and sew it all.", seams="to-front to-back")
AFTER = step("Glue the foam on the lining.", pieces="foam")


@pytest.mark.parametrize(
    ("steps", "levels"), [(FOAM + SEWN, {"foam": -1, "cloth": -2}), (SEWN + AFTER, {"foam": -2, "cloth": -1})]
)
def test_foam_on_a_strip_and_the_lining_of_the_join(resolve_text: Resolve, steps: str, levels: dict[str, int]) -> None:
    lifted = TakenApart(resolve_text(BAG + steps)).lifted  # type: ignore[arg-type]
    found = {one.copy: one.level for one in lifted.parts}
    assert found[Copy("cloth")] == levels["cloth"]
    assert {found[Copy("foam", number)] for number in (1, 2)} == {levels["foam"]}


def test_foam_has_no_right_side(resolve_text: Resolve) -> None:
    """Which side of it looks up is not told; that of what is made of leather in its place is."""
    told = {
        of: [
            line
            for line in lines(plan_work(resolve_text(BAG.replace('"pad"', f'"{of}"') + FOAM + SEWN)), 1)
            if "Lay" in line
        ]
        for of in ("pad", "thin")
    }
    assert told["pad"] == [
        "Lay foam on the flesh side of side, upright: in the middle between left and right, 30 mm from the start."
    ]
    assert told["thin"] == [told["pad"][0].replace(", upright", ", grain side up, upright")]
