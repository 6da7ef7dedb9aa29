"""What the plan takes from the assembly: how often a seam is sewn, and the order of the work within a step."""

from collections.abc import Callable

import pytest
from short_specs import piece, seam, step

from docgen.plan import plan_work
from docgen.resolve import Build

Resolve = Callable[[str], Build]

PLACES = ", ".join(f'{{ piece = "pocket", at = "{x} mm from left, 20 mm from bottom" }}' for x in (10, 110))
BACK = piece("back", 200, 150, f"landings = [{PLACES}]\n")
POCKET = piece("pocket", 80, 60, "cut = 2\n")
ON = seam("on", "pocket: left bottom right", "back")


def test_a_seam_sewn_twice_takes_thread_twice(resolve_text: Resolve) -> None:
    """Each pocket: two sides of 60 mm less 4, and a foot of 80 less 8: 184 mm in 46 stitches of 4 mm, through 2 + 2."""
    plan = plan_work(resolve_text(BACK + POCKET + ON + step("Sew the pockets on.", seams="on")))
    (need,) = plan.threads
    ((job,),) = [planned.jobs for planned in plan.steps]
    assert (job.runs, job.length_mm, job.stitches) == (2, pytest.approx(184), 46)
    assert need.sewn_mm == pytest.approx(368)
    # Lockstitch: needle and bobbin each take the pitch and the stack, 4 + 4 mm a stitch, both 16 mm for 4 mm sewn (TC,
    # "Calculate amount of sewing thread consumption", from stitch geometry); back-tacks of 1/2 in, 15 % waste, 400 mm of
    # tails, all of it twice.
    once_mm = (184 + 2 * 12.7) * (2 + 2 * 4 / 4) * 1.15 + 400
    assert need.total_mm == pytest.approx(2 * once_mm)


def test_the_seams_of_a_step_are_sewn_in_the_order_in_which_it_names_them(resolve_text: Resolve) -> None:
    bag = BACK + POCKET + piece("front", 200, 150) + ON + seam("round", "back: left", "front: left")
    for order in ("on round", "round on"):
        (planned,) = plan_work(resolve_text(bag + step("Sew.", seams=order))).steps
        assert [job.seam.name for job in planned.jobs if job.seam] == order.split()
