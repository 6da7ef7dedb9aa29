"""What is said where one stitch follows another: the thread and the needle that are changed, or neither."""

import pytest
from short_specs import piece, seam, step
from spec_text import Resolve
from step_lines import lines

from docgen.pages.lists.supply_list import needles_to_buy
from docgen.plan import plan_work

PANEL = piece("back", 200, 150) + piece("front", 200, 150)
ROWS = seam("foot", "front: bottom", "back: bottom") + seam("side", "front: left", "back: left").replace(
    "main", "other"
)
OTHER = (
    '[stitches.other]\nby = "machine"\nthread = "THREAD"\npitch = "4 mm"\ninset = "4 mm"\n'
    'needle = "NEEDLE"\npoint = "POINT"\n'
)


@pytest.mark.parametrize(
    ("thread", "needle", "point", "told"),
    [
        ("Tex 135 bonded nylon", "130/21", "leather", "Set stitch other, same thread and needle. Sew "),
        (
            "Tex 135 bonded nylon",
            "130/21",
            "round",
            "Change the needle, same thread: stitch other, 130/21, round point. ",
        ),
        (
            "Tex 135 bonded nylon",
            "140/22",
            "leather",
            "Change the needle, same thread: stitch other, 140/22, leather point. ",
        ),
        ("Tex 90 bonded nylon", "130/21", "leather", "Change thread and needle: stitch other, Tex 90 bonded nylon"),
    ],
)
def test_what_is_changed_between_two_stitches(
    resolve_text: Resolve, thread: str, needle: str, point: str, told: str
) -> None:
    """Needles of one size may have unlike points: one for leather cuts, a round one pushes threads of cloth aside."""
    own = OTHER.replace("THREAD", thread).replace("NEEDLE", needle).replace("POINT", point)
    text = PANEL + ROWS + own + step("Sew the foot, then the side.", seams="foot side")
    plan = plan_work(resolve_text(text))
    (needles,) = plan.needles
    words = needles_to_buy(needles, {"machine_needles": "machine needles"})
    assert ("round point" in words) == (point == "round"), "of one size with two points both are bought"
    assert any(line.startswith(told) for line in lines(plan, 1))
