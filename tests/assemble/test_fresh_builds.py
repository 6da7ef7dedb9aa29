"""Whole builds whose figures were worked out by hand before they were first put together."""

import math

import pytest
from built import Built, built, by_hand, by_machine, range_of

from docgen.assemble import Run


def landing_of(found: Built, part: str) -> Run:
    return next(run for run in found.made.runs if run.part == part and run.kind == "landings")


def test_a_roll_top_pack() -> None:
    found = built("rolltop")
    # From the fold of the mouth, 495 mm up, to a corner of 40 mm, whose stitches are 35 mm round; 220 mm of foot.
    round_mm = 2 * (495 - 40) + math.pi * 35 + 220
    assert found.seam("round-front").length_mm == found.seam("round-back").length_mm == pytest.approx(round_mm)
    assert found.seam("round-front").stitches == round(round_mm / 4) == 310
    assert found.cut("gusset") == pytest.approx((1, 120, round_mm + 2 * 25)), "and a hem at both ends"
    pocket_mm = 2 * (160 - 20) + math.pi * 15 + 160  # its hem of 20 mm is turned over
    assert found.seam("pocket").length_mm == pytest.approx(pocket_mm)
    assert found.seam("pocket").stitches == 122
    assert found.range_of("pocket") == pytest.approx((3.2, 3.2, 4.8)), "beside its mouth the hem as well"
    assert found.range_of("round-front") == pytest.approx((3.2, 3.2, 6.4)), "beside the mouth both are hemmed"
    assert found.range_of("gusset-ends") == pytest.approx((3.2, 3.2, 3.2))
    sewn_on = landing_of(found, "shoulder")
    assert (sewn_on.runs, sewn_on.length_mm, sewn_on.stitches) == (2, pytest.approx(2 * (50 - 5) + 40 - 10), 30)
    assert range_of(sewn_on.stack) == pytest.approx((3.2, 3.2, 3.2))
    panel_mm2 = 300 * 520 - 2 * (1 - math.pi / 4) * 40**2
    small_mm2 = 200 * 180 - 2 * (1 - math.pi / 4) * 20**2 + 2 * 40 * 420
    net_mm2 = 2 * panel_mm2 + 120 * (round_mm + 50) + small_mm2
    assert found.goods("hide").net_mm2 == pytest.approx(net_mm2)
    assert found.goods("hide").gross_mm2 == pytest.approx(net_mm2 / 0.75)
    (web,) = found.plan.trimmings
    assert [(count, cut.length_mm) for cut, count in web.cuts] == [(2, pytest.approx(500))]
    assert web.gross_mm == pytest.approx(1050), "5 % to spare"
    hems_mm = by_machine(200, 50, 3.2) + 2 * by_machine(300, 75, 3.2) + 2 * by_machine(120, 30, 3.2)
    rest_mm = by_machine(pocket_mm, 122, 3.2) + 2 * by_machine(round_mm, 310, 3.2) + 2 * by_machine(120, 30, 3.2)
    assert found.thread.total_mm == pytest.approx(hems_mm + rest_mm)
    room = found.made.room
    assert room is not None
    assert (room.width_mm, room.height_mm, room.depth_mm) == pytest.approx((290, 490, 110)), "between the stitches"


def test_a_wrist_strap_with_a_cuff() -> None:
    found = built("wrist")
    # 220 by 50 mm with corners of 12: 4 mm in, 196 and 26 mm between them, 8 mm round.
    round_mm = 2 * 196 + 2 * 26 + math.pi * 16
    assert found.seam("round").length_mm == pytest.approx(round_mm)
    assert found.seam("round").stitches == round(round_mm / 4) == 124
    assert found.range_of("round") == pytest.approx((2.2, 2.2, 3.6)), "the tether goes out over the upper edge"
    assert found.strap("tether").length_mm == pytest.approx(150 + 30 + math.pi * (3 + 1.4) / 2)
    sewn_on = landing_of(found, "tether")
    assert (sewn_on.runs, sewn_on.length_mm, sewn_on.stitches) == (1, pytest.approx(2 * (25 - 4) + 14 - 8), 12)
    assert range_of(sewn_on.stack) == pytest.approx((2.8, 2.8, 2.8)), "the pad comes on later"
    # The snap closes the cuff on itself: cap and stud each go through cuff and lining, clear of the pad.
    assert found.posts() == [("tether", 1, 2.8, 5.0), ("cuff", 1, 2.2, 5.0), ("cuff", 1, 2.2, 5.0)]
    assert [one.half for one in found.made.fastened] == ["", "cap", "stud"]
    assert sum(one.items for one in found.made.fastened if one.hardware == "snap") == 1
    cuff_mm2 = 220 * 50 - (4 - math.pi) * 12**2
    assert found.goods("calf").net_mm2 == pytest.approx(cuff_mm2 + 14 * found.strap("tether").length_mm)
    assert found.goods("suede").net_mm2 == pytest.approx(cuff_mm2)
    assert found.goods("foam").gross_mm2 == pytest.approx(160 * 34 / 0.9)
    assert [one.length_mm for one in found.thread.hand] == pytest.approx(
        [by_hand(round_mm, 124, 2.2, 8), by_hand(48, 12, 2.8, 8)]
    )


def test_a_folder_with_stacked_pockets() -> None:
    found = built("folder")
    assert found.seam("edge").length_mm == pytest.approx(2 * 470 + 2 * 310)
    assert found.seam("edge").stitches == 2 * 118 + 2 * 78, "470 / 4 and 310 / 4, from corner to corner"
    # Binding on both sides 0.8, cover 1.5. Three pockets along the foot and 145 mm of the side, two and one along 50 mm.
    assert found.range_of("edge") == pytest.approx((3.1, 3.1, 6.1))
    assert found.range_of("high") == pytest.approx((2.5, 2.5, 2.5))
    assert found.range_of("middle") == pytest.approx((3.5, 3.5, 3.5)), "the high one lies beneath"
    assert found.range_of("sides") == pytest.approx((4.5, 4.5, 4.5)), "and the middle one"
    assert [found.seam(name).stitches for name in ("high", "middle", "sides")] == [56, 56, 38]
    (binding,) = found.plan.trimmings
    assert [(count, cut.length_mm) for cut, count in binding.cuts] == [(1, pytest.approx(2 * 480 + 2 * 320 + 2 * 15))]
    assert binding.gross_mm == pytest.approx(1630 * 1.05), "5 % to spare"
    assert found.goods("cover").gross_mm2 == pytest.approx(480 * 320 / 0.75)
    assert found.goods("pocket").gross_mm2 == pytest.approx(225 * (250 + 200 + 150) / 0.75)
    assert found.thread.sewn_mm == pytest.approx(1560 + 225 + 225 + 150)
    feet_mm = by_machine(225, 56, 2.5) + by_machine(225, 56, 3.5) + by_machine(150, 38, 4.5)
    assert found.thread.total_mm == pytest.approx(feet_mm + by_machine(1560, 392, 3.1))


def test_a_tool_roll_with_ties() -> None:
    found = built("toolroll")
    assert found.seam("round").length_mm == pytest.approx(2 * 156 + 492)
    assert found.seam("round").stitches == 39 + 123 + 39
    assert found.range_of("round") == pytest.approx((2.6, 2.6, 2.6)), "the pocket is skived to 1 mm along the seam"
    lines = next(run for run in found.made.runs if run.kind == "dividers")
    assert (lines.runs, lines.length_mm, lines.stitches) == (4, pytest.approx(160 - 4), 39), "down to the seam"
    assert range_of(lines.stack) == pytest.approx((2.6, 3.2, 3.2)), "thinner where the foot is skived"
    ties = landing_of(found, "tie")
    assert (ties.runs, ties.length_mm, ties.stitches) == (2, pytest.approx(2 * (40 - 4) + 12 - 8), 19)
    assert range_of(ties.stack) == pytest.approx((3.2, 3.2, 3.2))
    assert (found.strap("tie").count, found.strap("tie").length_mm) == (2, pytest.approx(600))
    net_mm2 = 500 * 300 + 500 * 160 + 2 * 12 * 600
    assert found.goods("hide").net_mm2 == pytest.approx(net_mm2)
    assert found.goods("hide").gross_mm2 == pytest.approx(net_mm2 / 0.75)
    assert found.thread.sewn_mm == pytest.approx(804 + 4 * 156 + 2 * 76)
    thread_mm = by_machine(804, 201, 2.6) + 4 * by_machine(156, 39, 3.2) + 2 * by_machine(76, 19, 3.2)
    assert found.thread.total_mm == pytest.approx(thread_mm)
