"""Which side the knob of a stud is on, and which side of a ring lies in a tab. Common practice, no published source."""

import pytest
from short_specs import piece, seam, step
from spec_text import Resolve, write_out
from step_lines import good, lines

from docgen.plan import plan_work

HOLED = 'holes = [{ at = "centre, 70 mm from bottom", punch = "4 mm", takes = "stud" }]\n'
PATCHED = 'landings = [{ piece = "patch", at = "centre, 50 mm from bottom" }]\n'
PATCH = piece("patch", 40, 40, 'holes = [{ at = "centre, 20 mm from bottom", punch = "4 mm", takes = "stud" }]\n')
STUD = "<hardware stud: 1, WHAT>\n"


@pytest.mark.parametrize(
    ("what", "do", "told"),
    [
        ("button stud, 8 mm", "Set the stud.", True),
        ("button stud, 8 mm", "Set the stud, its knob on the grain side.", False),
        ("turn lock, 8 mm", "Set the lock.", False),
    ],
)
def test_a_knob_is_on_the_side_that_is_seen(resolve_text: Resolve, what: str, do: str, *, told: bool) -> None:
    text = piece("front", 160, 140, HOLED) + write_out(STUD.replace("WHAT", what))
    (line,) = lines(plan_work(resolve_text(text + step(do, pieces="front", hardware="stud"))), 1)[-1:]
    assert line.startswith("Set ")
    assert line.endswith(", knob on the grain side.") == told


def test_a_knob_through_several_layers_is_on_the_outermost(resolve_text: Resolve) -> None:
    text = piece("front", 160, 140, PATCHED) + PATCH + write_out(STUD.replace("WHAT", "button stud"))
    text += seam("patch", "patch: all", "front") + step("Sew the patch on.", seams="patch")
    found = lines(plan_work(resolve_text(text + step("Set it.", pieces="front patch", hardware="stud"))), 2)
    assert found[-1].endswith(", knob on patch.")


@pytest.mark.parametrize(("what", "told"), [("D ring, 25 mm", True), ("dee ring", True), ("rectangular ring", False)])
def test_the_straight_side_of_a_d_ring_lies_in_the_fold_of_its_tab(
    resolve_text: Resolve, what: str, *, told: bool
) -> None:
    tab = piece("tab", 20, 80, 'folds = [{ at = "middle", around = "ring" }]\n')
    text = tab + write_out(f'<hardware ring: 1, {what}>\nbar = "3 mm"\n')
    (line,) = lines(
        plan_work(resolve_text(text + step("Fold the tab round the ring.", pieces="tab", hardware="ring"))), 1
    )
    assert line.startswith("tab: ")
    called = what.split(",")[0]
    assert line.endswith(f"round the {called}, its straight side in the fold.") == told
    assert line.endswith(f"round the {called}.") != told


OWN = '[stitches.own]\nby = "hand"\nthread = "0.6 mm linen"\npitch = "4 mm"\ninset = "4 mm"\n'
GRIP = '[straps.grip]\nof = "body"\nwidth = "20 mm"\nfinished = "200 mm"\nstitch = "own"\ndoubled = true\n'


@pytest.mark.parametrize(("rows", "each"), [("", False), ("rows = 2\n", True)])
def test_one_row_is_not_each(resolve_text: Resolve, rows: str, *, each: bool) -> None:
    text = (
        OWN + rows + GRIP + 'ends = [{ shape = "square" }, { shape = "rounded" }]\n' + step("Make it.", straps="grip")
    )
    assert good(plan_work(resolve_text(text)), 1)[0].endswith("stitches are counted" + " in each row" * each)


@pytest.mark.parametrize(("cut", "case"), [("", "in the whole row"), ("cut = 2\n", "in each whole row")])
def test_a_row_round_a_point_is_counted_from_corner_to_corner(resolve_text: Resolve, cut: str, case: str) -> None:
    """20 mm wide, sewn 4 mm in: its point, 12 mm across, is two legs of 2 stitches."""
    text = OWN + GRIP + cut + 'ends = [{ shape = "square" }, { shape = "pointed" }]\n' + step("Make it.", straps="grip")
    plan = plan_work(resolve_text(text))
    (job,) = plan.steps[0].jobs
    side = (job.stitches - 4) // 2
    assert (
        good(plan, 1)[0] == f"{job.stitches} stitches are counted {case}, {side}, 2, 2 and {side} from corner to corner"
    )
