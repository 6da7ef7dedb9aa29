"""What a wall holds off the piece on which it is marked lies not on that: a pocket with a bellows."""

import pytest
from short_specs import piece, rivet, seam, step
from spec_text import Resolve, write_out
from step_lines import every_line

from docgen.plan import Plan, plan_work

ROUND = 'round = { bottom-left = "20 mm", bottom-right = "20 mm" }\n'
POCKET = (
    piece(
        "front",
        300,
        240,
        'landings = [{ piece = "pocket", at = "20 mm from left, 20 mm from bottom" }, '
        '{ piece = "pocket", at = "20 mm from right, 20 mm from bottom" }]\n',
    )
    + piece(
        "pocket", 110, 140, ROUND + 'cut = 2\nlandings = [{ piece = "patch", at = "centre, 20 mm from bottom" }]\nHOLES'
    )
    + piece(
        "patch", 20, 40, 'cut = 2\nholes = [{ at = "centre, 10 mm from bottom", punch = "4 mm", takes = "rivet" }]\n'
    )
    + '[pieces.bellows]\nof = "body"\ncut = 2\nshape = "strip"\nsize = ["38 mm", "solve"]\n'
    + 'folds = [{ at = "centre", open = true, note = "inward" }]\n'
    + seam("pocket-bellows", "pocket: left bottom right", "bellows: left")
    + seam("bellows-front", "bellows: right", "front")
)


@pytest.fixture
def plan(resolve_text: Resolve) -> Plan:
    holes = 'holes = [{ at = "centre, 30 mm from bottom", punch = "4 mm" }]\n'
    text = write_out(POCKET.replace("HOLES", holes)) + rivet(2)
    text += step("Rivet on the patches.", pieces="pocket patch", hardware="rivet")
    text += step("Sew the bellows to the front.", seams="bellows-front") + step(
        "Sew the pocket.", seams="pocket-bellows"
    )
    build = resolve_text(text)
    assert [one.check for one in build.cautions] == []
    return plan_work(build)


def test_a_rivet_of_a_pocket_with_a_bellows_goes_not_through_the_panel(plan: Plan) -> None:
    """2 mm of pocket and 2 mm of patch."""
    (fit,) = plan.build.assembly.fastened
    assert (fit.stack.parts, fit.stack.thickest_mm) == (("pocket", "patch"), pytest.approx(4.0))


def test_its_bellows_is_sewn_where_the_pocket_is_marked(plan: Plan) -> None:
    told = every_line(plan)
    assert (
        "Lay the right long edge of bellows on the grain side of front, level with the mark for pocket: "
        "20 mm from left and right, 20 mm from the bottom."
    ) in told
    assert "Hold bellows on front so that it cannot shift; clips do not reach it." in told
    assert not any("lay 2 × pocket" in line for line in told)
    assert {one.copy.part for one in plan.build.space.unplaced}.isdisjoint({"pocket", "bellows"})


def test_a_proposed_order_fixes_no_pocket_on_the_panel(resolve_text: Resolve) -> None:
    text = write_out(POCKET.replace("HOLES", "")) + rivet(2)
    steps = [one.do for one in plan_work(resolve_text(text)).steps]
    assert any(do.startswith("Fix patch to pocket") for do in steps)
    assert not any(do.startswith("Fix pocket to front") for do in steps)
