"""Whole builds that are straps: their figures worked out by hand."""

import math

import pytest
from built import Built, built, by_hand, by_machine, range_of, strap_of
from in_space import meetings

from docgen.plan import join_plans


def threads_of(found: Built) -> list[tuple[str, int, float]]:
    return [(one.title, one.count, one.length_mm) for one in found.thread.hand]


@pytest.mark.parametrize(("variant", "waist", "makes"), [(0, 800, 2), (1, 900, 3), (2, 1000, 1)])
def test_a_belt_in_three_sizes(variant: int, waist: float, makes: int) -> None:
    found = built("belt", variant)
    belt, keeper = strap_of(found.build, "belt"), strap_of(found.build, "loop")
    assert found.build.makes == makes
    # Two holes after the middle one, 25 mm apart, and 90 mm of tip.
    assert belt.finished_mm == pytest.approx(waist + 2 * 25 + 90)
    # Its end is 2.5 mm thick to beyond the bar: half round that at the middle of the leather.
    cut_mm = waist + 140 + 75 + math.pi * (4 + 2.5) / 2
    assert belt.cut_length_mm == pytest.approx(cut_mm)
    assert belt.worn_mm == pytest.approx((waist - 50, waist, waist + 50))
    assert belt.hole_tips_mm == pytest.approx((90, 115, 140, 165, 190))
    slot = belt.piece.marks.holes[-1]
    assert slot.diameter_mm == pytest.approx(4 + 1)
    assert slot.long_mm == pytest.approx(math.pi * (4 + 2 * 4 + 2.5) / 2), "half way round the eye of the tongue"
    assert keeper.cut_length_mm == pytest.approx(2 * (35 + 2 * 3.5) + math.pi * 3.5 + 2)
    end = found.run("belt")
    assert (end.runs, end.length_mm, end.stitches) == (2, pytest.approx(75 - 3), 18), (
        "both edges, 3 mm from the cut end"
    )
    assert range_of(end.stack) == pytest.approx((6, 6, 9.5)), "2.5 on 3.5; at the fold the keeper's ends between"
    assert threads_of(found) == [("belt, first end", 2 * makes, pytest.approx(by_hand(72, 18, 6, 8)))]
    point_mm2 = 17.5**2  # what is cut away on both sides of the point
    one_mm2 = 35 * cut_mm - point_mm2 + 12 * keeper.cut_length_mm
    assert found.goods("butt").gross_mm2 == pytest.approx(makes * one_mm2 / 0.85)


def test_the_sizes_of_a_belt_are_cut_from_one_butt() -> None:
    sizes = [built("belt", variant) for variant in range(3)]
    joint = join_plans([size.plan for size in sizes], "Belt")
    (butt,) = joint.materials
    assert butt.net_mm2 == pytest.approx(sum(size.goods("butt").net_mm2 for size in sizes))
    assert [(item.title, item.count) for item in butt.straps] == [
        ("belt (large)", 1),
        ("belt (medium)", 3),
        ("belt (small)", 2),
        ("loop", 6),
    ]
    (buckle,) = joint.hardware
    assert buckle.count == 6
    assert joint.threads[0].total_mm == pytest.approx(12 * by_hand(72, 18, 6, 8))


def test_a_lead_and_its_collar() -> None:
    found = built("lead")
    lead, collar, keeper = (strap_of(found.build, name) for name in ("lead", "collar", "loop"))
    hook_mm = 50 + math.pi * (5 + 4) / 2
    hand_mm = 60 + 140 + math.pi * 4 / 2  # the loop stands open round nothing
    assert lead.cut_length_mm == pytest.approx(1200 + hook_mm + hand_mm)
    assert lead.ends[0].takes_mm == pytest.approx(hook_mm)
    assert lead.ends[1].takes_mm == pytest.approx(hand_mm)
    # The ring lies in the fold beside the buckle: as much longer as its wire is thick.
    assert collar.cut_length_mm == pytest.approx(400 + 50 + 60 + 60 + 4 + math.pi * (4 + 4) / 2)
    assert collar.finished_mm == pytest.approx(400 + 110)
    assert collar.worn_mm == pytest.approx((350, 400, 450))
    slot = collar.piece.marks.holes[-1]
    assert (slot.diameter_mm, slot.long_mm) == (pytest.approx(4), pytest.approx(math.pi * (4 + 6 + 4) / 2))
    assert keeper.cut_length_mm == pytest.approx(2 * (20 + 8) + math.pi * 4 + 2)
    posts = [("lead", 2, 8.0, 12.0), ("lead", 2, 8.0, 12.0), ("collar", 2, 8.0, 12.0)]
    assert found.posts() == posts, "the strap twice, and 2.5 more before it is cut off: 10 is short"
    assert [(one.hardware.name, one.count) for one in found.plan.hardware] == [
        ("hook", 1),
        ("buckle", 1),
        ("ring", 1),
        ("rivet", 6),
    ]
    net_mm2 = 20 * (lead.cut_length_mm + collar.cut_length_mm) - 10**2 + 10 * keeper.cut_length_mm
    assert found.goods("bridle").net_mm2 == pytest.approx(net_mm2)
    assert found.goods("bridle").gross_mm2 == pytest.approx(net_mm2 / 0.85)
    edge = found.goods("bridle").edge
    assert edge is not None
    assert (edge.least_mm, edge.depth_mm) == (pytest.approx(lead.cut_length_mm), pytest.approx(20 + 20 + 10))
    assert found.plan.threads == (), "nothing is sewn"


def test_a_watch_strap_in_two_halves() -> None:
    found = built("watch")
    short, long = strap_of(found.build, "short"), strap_of(found.build, "long")
    bar_mm, buckle_mm = 10 + math.pi * (1.5 + 0.6) / 2, 14 + math.pi * (1.6 + 0.6) / 2  # both bends skived to 0.6
    assert short.cut_length_mm == pytest.approx(70 + bar_mm + buckle_mm)
    # Seven holes, 7 mm apart: 21 mm from the middle one to the last, and 35 of tip.
    assert long.finished_mm == pytest.approx(190 - 70 + 21 + 35)
    assert long.cut_length_mm == pytest.approx(176 + bar_mm)
    assert (short.lining_length_mm, long.lining_length_mm) == pytest.approx((70, 176))
    assert long.worn_mm == pytest.approx((169, 190, 211))
    slot = short.piece.marks.holes[-1]
    assert (slot.diameter_mm, slot.long_mm) == pytest.approx((1.4 + 1, math.pi * (1.6 + 2.8 + 0.6) / 2))
    assert strap_of(found.build, "fixed").cut_length_mm == pytest.approx(2 * (20 + 4) + math.pi * 1.2 + 2)
    assert strap_of(found.build, "free").cut_length_mm == pytest.approx(2 * (22 + 4) + math.pi * 1.2 + 2 + 8)
    # Between what lies back, 46 mm, of which 30 taper by 1 mm to each side. The long half goes round its point in one
    # run: 36 mm straight, 30 tapering, 90 to the shoulder, the point at 45 degrees; 2 mm in, shoulders take 2 tan 22.5
    # off both sides of them and the tip 2 tan 45.
    taper_mm, corner_mm = math.hypot(30, 1), 2 * math.tan(math.pi / 8)
    short_mm = 16 + taper_mm
    long_mm = 2 * (36 + taper_mm + 90 - corner_mm + math.hypot(10, 10) - corner_mm - 2)
    runs = [(run.part, run.runs, run.length_mm, run.stitches) for run in found.made.runs]
    assert runs == [
        ("short", 2, pytest.approx(short_mm), 18),
        ("short", 2, pytest.approx(10 - 2), 3),
        ("short", 2, pytest.approx(14 - 2), 5),
        ("long", 1, pytest.approx(long_mm, abs=0.001), 134),
        ("long", 2, pytest.approx(10 - 2), 3),
    ]
    stacks = [range_of(run.stack) for run in found.made.runs]
    assert stacks[0] == stacks[3] == pytest.approx((2, 2, 2))
    assert stacks[1] == stacks[4] == pytest.approx((2.6, 2.6, 2.6)), "1.2, its lining, and 0.6 turned back"
    assert stacks[2] == pytest.approx((2.6, 2.6, 3.8)), "and the keeper in the fold"
    assert found.thread.total_mm == pytest.approx(
        2 * by_hand(short_mm, 18, 2, 5)
        + 4 * by_hand(8, 3, 2.6, 5)
        + 2 * by_hand(12, 5, 2.6, 5)
        + by_hand(long_mm, 134, 2, 5),
        abs=0.01,
    )
    assert [(one.hardware.name, one.count) for one in found.plan.hardware] == [("bar", 2), ("buckle", 1)]


def test_an_instrument_strap_from_a_drawing() -> None:
    found = built("instrument")
    # Drawn 600 by 70 mm with a half circle at one end. 4 mm in: 561 mm along both sides, 62 across, half round 31 mm.
    round_mm = 2 * 561 + 62 + math.pi * 31
    assert found.cut("shoulder") == pytest.approx((1, 600, 70))
    assert found.seam("round").length_mm == pytest.approx(round_mm)
    assert found.seam("round").stitches == 16 + round((2 * 561 + math.pi * 31) / 4) == 321, "from corner to corner"
    assert found.range_of("round") == pytest.approx((3, 3, 5)), "2 and 1; along the end that is held the tail between"
    tail = strap_of(found.build, "tail")
    assert tail.cut_length_mm == pytest.approx(500 + 3 * 30 + 80)
    assert tail.worn_mm == pytest.approx((410, 500, 590))
    assert found.posts() == [("shoulder", 2, 4.0, 6.0)], "both circles of the drawing; the lining comes later"
    assert [hole.diameter_mm for hole in found.build.pieces[0].marks.holes] == pytest.approx([4, 4, 8])
    area_mm2 = 565 * 70 + math.pi * 35**2 / 2
    tail_mm2 = 50 * (670 - 25) + math.pi * 25**2 / 2
    assert found.goods("body").net_mm2 == pytest.approx(area_mm2 + tail_mm2)
    assert found.goods("soft").gross_mm2 == pytest.approx(area_mm2 / 0.75)
    assert found.thread.sewn_mm == pytest.approx(round_mm)
    assert found.thread.total_mm == pytest.approx(by_machine(round_mm, 321, 3))
    assert meetings(found.space) == [("shoulder", "tail", pytest.approx(0, abs=0.1))] * 2
