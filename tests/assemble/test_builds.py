"""Whole builds of kinds that the demos do not have: their figures worked out by hand, layers and thread included."""

import math

import pytest
from built import Built, built, by_machine, range_of

from docgen.assemble import Copy


def copies_of(found: Built, seam: str) -> list[tuple[Copy, ...]]:
    return [once.sides for once in found.made.sewn if once.seam == seam]


def test_a_bucket_on_a_round_base() -> None:
    found = built("bucket")
    round_mm = math.pi * (160 - 2 * 4)  # along the stitch line, 4 mm in
    assert found.seam("foot").length_mm == pytest.approx(round_mm)
    assert found.seam("foot").stitches == round(round_mm / 4) == 119
    assert found.cut("wall") == pytest.approx((1, 220, round_mm + 12)), "one overlap longer than the ring"
    joint = found.run("body")
    assert (joint.runs, joint.length_mm, joint.stitches) == (1, pytest.approx(220 - 8), 53)
    assert range_of(joint.stack) == pytest.approx((2.4, 2.4, 2.4)), "both ends are skived to 1.2 past the overlap"
    assert found.range_of("foot") == pytest.approx((4, 4, 2 + 2.4)), "base 2, wall 2; where its ends lie, 2.4"
    assert found.posts() == [("tab", 2, 6.0, 8.0)], "the tab twice, and the wall: 6, and 2 to 3 more for the post"
    assert [len(group) for group in found.made.groups_before(3)] == [4], "wall, base and both tabs"
    net_mm2 = math.pi * 80**2 + 220 * (round_mm + 12) + 2 * 25 * 80
    assert found.goods("body").net_mm2 == pytest.approx(net_mm2)
    assert found.goods("body").gross_mm2 == pytest.approx(net_mm2 / 0.75), "a quarter of the hide is lost"
    assert found.thread.sewn_mm == pytest.approx(round_mm + 2 * 212), "two rows across the joint"
    assert found.thread.total_mm == pytest.approx(by_machine(round_mm, 119, 4) + 2 * by_machine(212, 53, 2.4))
    assert found.thread.bobbins == 1, "half of 5.3 m, and 22 m on a bobbin"
    assert [(one.hardware.name, one.count, one.posts) for one in found.plan.hardware] == [
        ("ring", 2, ()),
        ("rivet", 2, ((8.0, 2),)),
    ]


def test_a_folded_wallet_with_stacked_pockets() -> None:
    found = built("wallet")
    assert found.range_of("upper") == pytest.approx((2, 2, 2)), "pocket and inside, 1 mm each; the lower comes later"
    assert found.range_of("lower") == pytest.approx((3, 3, 3)), "the upper pocket lies beneath it all along"
    # Round: 86 + 192 + 86 mm. 4 mm thick along the lower pocket (its side 56, its foot 91), 3 along 20 mm of the upper
    # one above it, and 2 along the 197 mm that are left.
    assert found.seam("round").length_mm == pytest.approx(364)
    assert found.range_of("round") == pytest.approx((2, 2, 4))
    assert found.made.stack("round").landed == ("upper", "lower")
    assert [found.seam(name).stitches for name in ("upper", "lower", "round")] == [24, 24, 92], "95/4, and 86/4 + 192/4"
    assert [once.seam for once in found.made.sewn] == ["upper", "lower", "round"], (
        "each once, in the order of the steps"
    )
    assert [len(group) for group in found.made.groups_before(1)] == [2]
    assert [len(group) for group in found.made.groups_before(3)] == [4]
    net_mm2 = 2 * 200 * 90 + 95 * 60 + 95 * 80
    assert found.goods("thin").net_mm2 == pytest.approx(net_mm2)
    assert found.goods("thin").gross_mm2 == pytest.approx(net_mm2 / 0.75)
    assert found.thread.sewn_mm == pytest.approx(95 + 95 + 364)
    thread_mm = by_machine(95, 24, 2) + by_machine(95, 24, 3) + by_machine(364, 92, 2)
    assert found.thread.total_mm == pytest.approx(thread_mm)
    assert (found.thread.bobbins, found.thread.spools) == (1, 1)
    room = found.made.room
    assert room is not None
    assert (room.kind, room.width_mm, room.height_mm) == ("pouch", pytest.approx(192), pytest.approx(86))


def test_a_sheath_with_a_welt_along_both_sides() -> None:
    found = built("sheath")
    assert found.range_of("welt") == found.range_of("other-welt") == pytest.approx((4, 4, 4))
    # Along both sides, 156 mm each, one welt lies between front and back; along most of the foot, 42 mm, there is none,
    # and nowhere are there two.
    assert found.seam("edge").length_mm == pytest.approx(156 + 42 + 156)
    assert found.range_of("edge") == pytest.approx((4, 6, 6))
    assert [layer.part for layer in found.made.stack("edge").layers] == ["front", "back", "welt", "welt"]
    assert [found.seam(name).stitches for name in ("welt", "other-welt", "edge")] == [40, 40, 89]
    assert found.posts() == [("back", 1, 6.0, 0.0)], "the loop twice, and the back; front and welts are not on yet"
    assert found.made.fastened[0].post_least_mm == pytest.approx(6 + 2.5), "a copper rivet is cut off above its burr"
    assert [found.made.times(name) for name in ("welt", "other-welt", "edge")] == [1, 1, 1]
    assert copies_of(found, "welt") == [(Copy("welt", 1), Copy("back", 1))]
    assert copies_of(found, "other-welt") == [(Copy("welt", 2), Copy("back", 1))]
    assert [[len(group) for group in found.made.groups_before(step)] for step in (1, 2, 3)] == [[2], [4], [5]]
    net_mm2 = 2 * 50 * 160 + 2 * 12 * 160 + 40 * 120
    assert found.goods("body").net_mm2 == pytest.approx(net_mm2)
    assert found.goods("body").gross_mm2 == pytest.approx(net_mm2 / 0.75)
    assert found.thread.sewn_mm == pytest.approx(2 * 160 + 354)
    assert found.thread.total_mm == pytest.approx(2 * by_machine(160, 40, 4) + by_machine(354, 89, 6))


def test_an_open_tote_round_two_sides() -> None:
    found = built("tote")
    # From the fold of the mouth, 290 mm up, to the corner of 20 mm: 270; two quarters of a circle of 20 less 4 mm; the
    # foot between the corners: 80.
    side_mm = 2 * 270 + math.pi * 16 + 80
    assert found.seam("left").length_mm == found.seam("right").length_mm == pytest.approx(side_mm)
    assert found.cut("body") == pytest.approx((1, 300, side_mm + 2 * 30)), "and a hem at both ends"
    assert [found.made.times(name) for name in ("mouth-front", "mouth-back", "mouth-side", "left")] == [1, 1, 2, 1]
    assert copies_of(found, "mouth-side") == [(Copy("side", 1),) * 2, (Copy("side", 2),) * 2]
    assert found.range_of("mouth-front") == pytest.approx((2, 2, 2)), "skived to 1 mm where it is turned, and beneath"
    # Below the fold both parts are 1 + 1 mm for 10 mm, where the band still is, 2 + 1 for 20 mm, then 2.
    assert found.range_of("left") == pytest.approx((4, 4, 6))
    handle = found.run("handle")
    assert (handle.runs, handle.length_mm, handle.stitches) == (4, pytest.approx(500), 125), "two edges of two handles"
    assert found.posts() == [("body", 4, 5.0, 8.0)], "body 2, its hem skived to 1, handle 2: a post of 7 to 8 mm"
    side_mm2 = 120 * 320 - 2 * (1 - math.pi / 4) * 20**2
    net_mm2 = 300 * (side_mm + 60) + 2 * side_mm2 + 2 * 25 * 500
    assert found.goods("body").net_mm2 == pytest.approx(net_mm2)
    assert found.goods("body").gross_mm2 == pytest.approx(net_mm2 / 0.75)
    assert found.thread.sewn_mm == pytest.approx(2 * 300 + 2 * 120 + 2 * side_mm + 4 * 500)
    hems_mm = 2 * by_machine(300, 75, 2) + 2 * by_machine(120, 30, 2)
    sides_mm = 2 * by_machine(side_mm, 168, 4)
    assert found.thread.total_mm == pytest.approx(hems_mm + sides_mm + 4 * by_machine(500, 125, 2))


def test_a_crossbody_with_piping_and_a_turned_seam() -> None:
    found = built("crossbody")
    # Two sides of 140 mm, two quarters of a circle of 20 less 4 mm, and 180 mm of foot.
    run_mm = 2 * 140 + math.pi * 16 + 180
    rounds = ("pipe-front", "pipe-back", "round-front", "round-back")
    assert [found.seam(name).length_mm for name in rounds] == pytest.approx([run_mm] * 4)
    assert [found.seam(name).stitches for name in rounds] == [128] * 4
    assert found.cut("pipe") == pytest.approx((2, 16, run_mm))
    assert found.cut("gusset") == pytest.approx((1, 50, run_mm))
    assert found.range_of("pipe-front") == pytest.approx((3, 3, 3)), "panel 1, piping 1 + 1"
    assert found.range_of("mouth-front") == pytest.approx((1.5, 1.5, 1.5))
    assert found.range_of("round-front") == pytest.approx((4.5, 4.5, 4.5)), "panel, lining, piping twice, gusset"
    assert found.range_of("round-back") == pytest.approx((4, 4, 4)), "its lining comes in later"
    assert found.made.stack("round-front").landed == ("lining", "pipe")
    assert copies_of(found, "pipe-back") == [(Copy("back", 1), Copy("pipe", 2))], "each panel has its own piping"
    assert [seam.name for seam in found.build.seams if seam.is_turned] == ["round-front", "round-back"]
    panel_mm2 = 220 * 160 - 2 * (1 - math.pi / 4) * 20**2
    assert found.goods("thin").net_mm2 == pytest.approx(2 * panel_mm2 + 50 * run_mm + 2 * 16 * run_mm)
    assert found.goods("cloth").gross_mm2 == pytest.approx(2 * panel_mm2 / 0.9), "a tenth of the cloth is lost"
    # The mouth of the back is sewn last, through 1.5 mm; only at its ends the seams that are turned lie on it.
    assert found.range_of("mouth-back") == pytest.approx((1.5, 1.5, 5.5))
    thread_mm = 2 * by_machine(run_mm, 128, 3) + by_machine(run_mm, 128, 4.5) + by_machine(run_mm, 128, 4)
    assert found.thread.total_mm == pytest.approx(thread_mm + 2 * by_machine(220, 55, 1.5))


def test_a_box_with_a_lid() -> None:
    found = built("box")
    feet = ("foot-front", "foot-back", "foot-left", "foot-right")
    corners = ("corner", "corner-right", "corner-back", "corner-far")
    assert [found.seam(name).length_mm for name in feet] == pytest.approx([200, 200, 120, 120])
    assert [found.seam(name).length_mm for name in corners] == pytest.approx([60] * 4)
    assert [found.seam(name).stitches for name in (*feet, *corners)] == [50, 50, 30, 30, 15, 15, 15, 15]
    assert all(found.made.times(name) == 1 for name in (*feet, *corners))
    assert all(found.range_of(name) == pytest.approx((4, 4, 4)) for name in (*feet, *corners))
    assert found.posts() == [("back", 2, 3.0, 6.0), ("lid", 2, 3.0, 6.0)], "leather 2, a hinge 1; a post of 5 to 6"
    assert found.made.is_proposed, "no steps are written"
    assert found.cut("short") == pytest.approx((2, 120, 60))
    assert found.strap("hinge").count == 2
    assert found.strap("hinge").length_mm == pytest.approx(40)
    assert found.goods("body").net_mm2 == pytest.approx(200 * 120 + 2 * 200 * 60 + 2 * 120 * 60 + 204 * 124)
    assert found.goods("thin").gross_mm2 == pytest.approx(2 * 15 * 40 / 0.75)
    assert found.thread.sewn_mm == pytest.approx(2 * 200 + 2 * 120 + 4 * 60)
    thread_mm = 2 * by_machine(200, 50, 4) + 2 * by_machine(120, 30, 4) + 4 * by_machine(60, 15, 4)
    assert found.thread.total_mm == pytest.approx(thread_mm)


def test_a_satchel_with_flap_and_bellows_pocket() -> None:
    found = built("satchel")
    assert found.seam("bellows-pocket").length_mm == pytest.approx(2 * 116 + 152)
    assert found.seam("bellows-front").length_mm == pytest.approx(2 * 116 + 152)
    assert found.seam("front").length_mm == pytest.approx(2 * 216 + 292)
    assert found.cut("gusset") == pytest.approx((1, 80, 724))
    assert found.cut("bellows") == pytest.approx((1, 30, 384))
    assert found.range_of("bellows-pocket") == pytest.approx((2, 2, 2))
    assert found.range_of("bellows-front") == pytest.approx((3, 3, 3)), "bellows 1, front 2; no pocket there"
    assert found.range_of("flap") == pytest.approx((4, 4, 4))
    assert found.range_of("mouth") == pytest.approx((2.5, 2.5, 2.5))
    # The flap lies over the top edge of the back from 10 mm below it, 5 mm in from both sides: the seam along the
    # sides, 4 mm in, passes beside it.
    assert found.range_of("front") == found.range_of("back") == pytest.approx((4.5, 4.5, 4.5))
    assert found.posts() == [("pocket", 1, 1.0, 3.0), ("flap", 1, 2.0, 4.0)], "a snap's post is 2 to 3 mm longer"
    assert [one.half for one in found.made.fastened] == ["stud", "cap"]
    assert all(found.made.times(seam.name) == 1 for seam in found.build.seams)
    assert found.goods("body").net_mm2 == pytest.approx(2 * 300 * 220 + 290 * 200 + 80 * 724)
    assert found.goods("thin").gross_mm2 == pytest.approx((160 * 120 + 30 * 384) / 0.75)
    bellows_mm = by_machine(384, 96, 2) + by_machine(384, 96, 3)
    rest_mm = by_machine(290, 73, 4) + 2 * by_machine(300, 75, 2.5) + 2 * by_machine(724, 181, 4.5)
    assert found.thread.total_mm == pytest.approx(bellows_mm + rest_mm)


def test_a_duffel_with_round_ends_and_a_zip() -> None:
    found = built("duffel")
    round_mm = math.pi * (240 - 2 * 4)
    assert [found.seam(name).length_mm for name in ("left", "right", "pipe-left")] == pytest.approx([round_mm] * 3)
    assert found.seam("left").stitches == round(round_mm / 4) == 182
    # Wall and tape lie over each other by 10 mm at both joints of the ring.
    assert found.cut("wall") == pytest.approx((1, 450, round_mm - 32 + 2 * 10))
    assert found.cut("pipe") == pytest.approx((2, 16, round_mm))
    joint = found.run("tube")
    assert (joint.runs, joint.length_mm, joint.stitches) == (2, pytest.approx(442), 111)
    assert range_of(joint.stack) == pytest.approx((3, 3, 3)), "wall 2, tape 1"
    # End 2, piping twice 1, wall 2; over the bare tape (12 mm) 1 in place of it, over both joints 3.
    assert found.range_of("left") == pytest.approx((5, 6, 7))
    assert found.range_of("pipe-left") == pytest.approx((4, 4, 4))
    assert found.posts() == [("wall", 4, 4.0, 6.0)], "wall 2, handle 2"
    handle = found.run("carry")
    assert (handle.runs, handle.length_mm, handle.stitches) == (4, pytest.approx(480), 120)
    wall_mm2 = 450 * (round_mm - 12)
    assert found.goods("body").net_mm2 == pytest.approx(2 * math.pi * 120**2 + wall_mm2 + 2 * 30 * 480)
    assert found.goods("thin").gross_mm2 == pytest.approx(2 * 16 * round_mm / 0.75)
    (zip_cut,) = found.plan.trimmings
    assert [(cut.run_mm, cut.between_mm, cut.length_mm, count) for cut, count in zip_cut.cuts] == [
        (450, 432, 500, 1)
    ], "stops 5 mm in from the stitch lines of the ends, 4 mm in; 25 mm over at each end"
    ends_mm = 2 * by_machine(round_mm, 182, 4) + 2 * by_machine(round_mm, 182, 6)
    thread_mm = ends_mm + 2 * by_machine(442, 111, 3) + 4 * by_machine(480, 120, 2)
    assert found.thread.total_mm == pytest.approx(thread_mm)
    assert found.thread.bobbins == math.ceil(thread_mm / 2 / (3 / 135 * 1e6)) == 1, "3 g of Tex 135"
