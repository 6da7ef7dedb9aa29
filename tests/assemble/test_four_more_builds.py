"""Four whole builds whose figures were worked out by hand before they were first put together."""

import math

import pytest
from built import Built, built, by_hand, by_machine, range_of

from docgen.assemble import Copy, Run
from docgen.geometry.shapes import Point


def run_of(found: Built, part: str, kind: str) -> Run:
    return next(run for run in found.made.runs if run.part == part and run.kind == kind)


def sewn(run: Run) -> tuple[int, float, int]:
    return run.runs, run.length_mm, run.stitches


def test_an_apron() -> None:
    """A pocket of 242 by 200 mm with 30 folded down at its top: 5 mm in, 165 up to the fold, 232 across."""
    found = built("apron")
    assert (found.seam("hem").length_mm, found.seam("hem").stitches) == (pytest.approx(560), 140)
    assert found.range_of("hem") == pytest.approx((3.6, 3.6, 3.6))
    assert (found.seam("pocket").length_mm, found.seam("pocket").stitches) == (pytest.approx(562), 41 + 58 + 41)
    assert found.range_of("pocket") == pytest.approx((3.6, 3.6, 5.4)), "beside its top twice the pocket"
    line = run_of(found, "pocket", "dividers")
    assert sewn(line) == (1, pytest.approx(165), 41)
    assert range_of(line.stack) == pytest.approx((3.6, 3.6, 5.4))
    neck, tie = run_of(found, "neck", "landings"), run_of(found, "tie", "landings")
    assert sewn(neck)[1:] == (pytest.approx(2 * (40 - 5) + 25 - 10), 9 + 4 + 9)
    assert sewn(tie)[1:] == (pytest.approx(2 * (60 - 5) + 25 - 10), 14 + 4 + 14)
    assert [sum(run.runs for run in found.made.runs if run.part == name) for name in ("neck", "tie")] == [2, 2]
    assert range_of(neck.stack) == range_of(tie.stack) == pytest.approx((3.6, 3.6, 3.6))
    net_mm2 = 560 * 800 + 242 * 200 + 25 * 600 + 2 * 25 * 700
    assert found.goods("hide").net_mm2 == pytest.approx(net_mm2)
    assert found.goods("hide").gross_mm2 == pytest.approx(net_mm2 / 0.75)
    assert found.thread.sewn_mm == pytest.approx(560 + 562 + 165 + 2 * 85 + 2 * 125)
    flat_mm = by_machine(560, 140, 3.6) + by_machine(562, 140, 3.6) + by_machine(165, 41, 3.6)
    ends_mm = 2 * by_machine(85, 22, 3.6) + 2 * by_machine(125, 32, 3.6)
    assert found.thread.total_mm == pytest.approx(flat_mm + ends_mm)


def test_a_hip_bag_whose_wall_closes_on_itself() -> None:
    """Panels of 240 by 130 mm with two corners of 40: 4 mm in, 232 by 122 with corners of 36."""
    found = built("hipbag")
    round_mm = 2 * (232 + 122) - 2 * (2 - math.pi / 2) * 36
    assert found.seam("front").length_mm == found.seam("back").length_mm == pytest.approx(round_mm)
    # From where the outline begins, beside the lower left corner, to the upper right one, across, and back.
    legs_mm = (240 - 80 + 18 * math.pi + 126 - 40, 232, 126 - 40 + 18 * math.pi)
    assert sum(legs_mm) == pytest.approx(round_mm)
    assert found.seam("front").stitches == sum(round(leg / 4) for leg in legs_mm) == 170
    assert found.cut("base") == pytest.approx((1, 72, round_mm + 2 * 10 - 240)), "and an overlap at both joints"
    assert sewn(found.run("wall")) == (2, pytest.approx(72 - 8), 16)
    assert range_of(found.run("wall").stack) == pytest.approx((3.2, 3.2, 3.2))
    assert found.range_of("front") == pytest.approx((3.2, 3.2, 4.8)), "over the joints both strips"
    for name in ("loop-top", "loop-foot"):
        assert found.made.times(name) == 2
        assert (found.seam(name).length_mm, found.seam(name).stitches) == (pytest.approx(32), 8)
        assert found.range_of(name) == pytest.approx((3.2, 3.2, 3.2)), "each on the bare back"
    cut_mm = 850 + 2 * 25 + 80 + 60 + math.pi * (4 + 1.6) / 2
    assert found.strap("belt").length_mm == pytest.approx(cut_mm)
    assert found.posts() == [("belt", 2, 3.2, 6.0)]
    panel_mm2 = 240 * 130 - 2 * (1 - math.pi / 4) * 40**2
    net_mm2 = 2 * panel_mm2 + 72 * (round_mm + 20) + 2 * 32 * 80 + 30 * cut_mm - 15 * 15
    assert found.goods("hide").net_mm2 == pytest.approx(net_mm2), "the point of the belt is cut off"
    assert found.thread.sewn_mm == pytest.approx(2 * round_mm + 2 * 64 + 4 * 32)
    small_mm = 2 * by_machine(64, 16, 3.2) + 4 * by_machine(32, 8, 3.2)
    assert found.thread.total_mm == pytest.approx(2 * by_machine(round_mm, 170, 3.2) + small_mm)
    room = found.made.room
    assert room is not None
    assert (room.width_mm, room.height_mm, room.depth_mm) == pytest.approx((232, 122, 64))
    front, back = (found.space.part(Copy(name)) for name in ("front", "back"))
    assert front is not None
    assert back is not None
    assert abs(front.surface.point(Point(0, 0))[1] - back.surface.point(Point(0, 0))[1]) == pytest.approx(72 - 8)


def test_a_glasses_case_from_one_piece() -> None:
    """Front 70, base 25, back 70, top 25 and flap 40 mm; ends of 31 by 73, 3 mm in: 70, 25 and 70 round."""
    found = built("glasses")
    for name in ("left", "right"):
        assert (found.seam(name).length_mm, found.seam(name).stitches) == (pytest.approx(165), 14 + 5 + 14)
        assert found.range_of(name) == pytest.approx((4, 4, 4))
    assert [(once.seam, once.sides[0].number) for once in found.made.sewn] == [("left", 1), ("right", 2)]
    assert found.posts() == [("wrap", 1, 2.0, 4.5)] * 2, "2 mm, and 2 to 3 more for the post"
    assert [one.half for one in found.made.fastened] == ["cap", "stud"]
    assert found.goods("hide").net_mm2 == pytest.approx(160 * 230 + 2 * 31 * 73)
    assert found.cut("end") == pytest.approx((2, 31, 73))
    assert found.thread.sewn_mm == pytest.approx(2 * 165)
    assert [(one.count, one.length_mm) for one in found.thread.hand] == [
        (1, pytest.approx(by_hand(165, 33, 4, 12.7)))
    ] * 2
    assert (len(found.space.parts), found.space.unplaced) == (3, ())
    assert found.space.widest_mm < 0.5
    cap, stud = (metal.at for metal in found.space.metal)
    assert math.dist(cap, stud) == pytest.approx(0, abs=1e-6), "the flap closes over the front"


def test_a_journal_cover() -> None:
    """Flaps of 80 by 232 mm: 4 mm in, 76 along the foot, 224 up, 76 back. A tab of 20 by 64 folded in the middle: 28 up,
    12 across, 28 up. The band lies over the left edge."""
    found = built("journal")
    for name in ("left", "right"):
        assert (found.seam(name).length_mm, found.seam(name).stitches) == (pytest.approx(376), 19 + 56 + 19)
    assert found.range_of("left") == pytest.approx((2.4, 2.4, 3.6)), "the band between"
    assert found.range_of("right") == pytest.approx((2.4, 2.4, 2.4))
    assert [once.sides[0].number for once in found.made.sewn if once.seam != "tab"] == [1, 2]
    assert (found.seam("tab").length_mm, found.seam("tab").stitches) == (pytest.approx(68), 7 + 3 + 7)
    assert found.range_of("tab") == pytest.approx((3.6, 3.6, 3.6)), "both halves of it, and the cover"
    band = run_of(found, "band", "landings")
    assert sewn(band) == (1, pytest.approx(2 * (40 - 4) + 16 - 8), 9 + 2 + 9)
    assert range_of(band.stack) == pytest.approx((2.4, 2.4, 2.4)), "before the flap comes in"
    assert found.goods("hide").net_mm2 == pytest.approx(330 * 232 + 2 * 80 * 232 + 20 * 64 + 16 * 150)
    assert found.thread.sewn_mm == pytest.approx(2 * 376 + 68 + 80)
    thread_mm = 2 * by_machine(376, 94, 2.4) + by_machine(68, 17, 3.6) + by_machine(80, 20, 2.4)
    assert found.thread.total_mm == pytest.approx(thread_mm)
    assert (len(found.space.parts), found.space.unplaced) == (5, ())
    assert found.space.widest_mm < 0.5
