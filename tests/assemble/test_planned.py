"""What the plan takes from the assembly: how often a seam is sewn, and the order of the work within a step."""

from collections.abc import Callable

import pytest
from short_specs import hole, piece, rivet, seam, step

from docgen.assemble import Assembled
from docgen.plan import Act, plan_work

Resolve = Callable[[str], Assembled]

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
    assert job.stack_range_mm == pytest.approx((4, 4)), "neither pocket lies under the other"
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


RIVETED = (
    piece("front", 200, 150)
    + piece("back", 200, 150, hole("middle, 20 mm from left"))
    + piece("pad", 192, 142, of="pad")
    + seam("round", "back: left", "front: left")
    + seam("top", "back: top", "front: top")
    + rivet()
)


def settings(build: Assembled) -> list[str]:
    """What a step sews and sets, line by line."""
    (planned,) = plan_work(build).steps
    return [_told(act) for act in planned.acts if act.case == "set" or act.case.startswith("sew")]


def _told(line: Act) -> str:
    title = dict(line.values).get("title", "double-cap rivet")
    return str(dict(title.values)["title"] if isinstance(title, Act) else title)


@pytest.mark.parametrize(
    ("keys", "wanted"),
    [
        ({"seams": "round top", "hardware": "rivet"}, ["round", "top", "double-cap rivet"]),
        ({"hardware": "rivet", "seams": "round top"}, ["double-cap rivet", "round", "top"]),
        ({"seams": "round top", "hardware": "rivet", "order": "rivet"}, ["double-cap rivet", "round", "top"]),
        ({"seams": "round top", "hardware": "rivet", "order": "round rivet"}, ["round", "double-cap rivet", "top"]),
        ({"seams": "round top", "hardware": "rivet", "order": "top rivet round"}, ["top", "double-cap rivet", "round"]),
    ],
)
def test_a_step_tells_its_order(resolve_text: Resolve, keys: dict[str, str], wanted: list[str]) -> None:
    build = resolve_text(RIVETED + step("Sew and rivet.", pieces="back", **keys))
    assert settings(build) == wanted


@pytest.mark.parametrize(
    ("order", "thick_mm"), [("rivet on", 5), ("foam on rivet", 7), ("rivet foam on", 2), ("on rivet foam", 4)]
)
def test_what_lies_under_a_post_follows_the_order(resolve_text: Resolve, order: str, thick_mm: float) -> None:
    """The back, 2 mm; a pocket of 2 mm over its hole, from its seam on; foam of 3 mm from where it is glued in: first of
    all, where the order does not name it."""
    at = 'landings = [{ piece = "pocket", at = "centre, 20 mm from bottom" }]\n'
    build = resolve_text(
        piece("back", 200, 150, at + hole("centre, 40 mm from bottom"))
        + piece("pocket", 80, 60)
        + '[pieces.foam]\nlike = "back"\nof = "pad"\nmarks = false\n'
        + ON
        + rivet()
        + step("Sew, glue and rivet.", pieces="foam back", seams="on", hardware="rivet", order=order)
    )
    (set_here,) = build.assembly.fastened
    assert set_here.stack.usual_mm == pytest.approx(thick_mm)
