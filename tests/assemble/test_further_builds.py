"""Builds of further kinds, written from README and `docgen keys` alone: an apron, a quiver, a bottle sling, a passport
cover, a pair of panniers, a camera strap. Their figures worked out by hand, before they were run."""

import math
from pathlib import Path

import pytest
from built import Built, range_of, strap_of

from docgen.assemble import Copy, pile_seam
from docgen.checks import resolve_build
from docgen.geometry.shapes import Point
from docgen.read import read_spec

FURTHER = Path(__file__).parent / "further"


def built(name):
    return Built(resolve_build(read_spec(FURTHER / f"{name}.toml")))


def test_an_apron_with_a_divided_pocket_and_a_neck_strap_in_two_parts() -> None:
    found = built("apron")
    # 160 - 15 down both sides, corners of 15 mm with stitches 11 mm round, 320 - 30 along the foot.
    pocket_mm = 2 * 145 + math.pi * 11 + 290
    assert found.seam("pocket").length_mm == pytest.approx(pocket_mm)
    divider = found.run("pocket")
    assert (divider.runs, divider.length_mm, divider.stitches) == (1, pytest.approx(160 - 4), 39)
    assert range_of(divider.stack) == pytest.approx((3.2, 3.2, 3.2))
    # 50 mm back, and half round a bar of 3 mm in leather of 2.5 mm.
    assert strap_of(found.build, "stay").cut_length_mm == pytest.approx(150 + 50 + math.pi * 5.5 / 2)
    # 500 mm worn, less the 150 of the other part; three holes beyond the middle one, and 50 mm to the tip.
    assert strap_of(found.build, "neck").cut_length_mm == pytest.approx(350 + 75 + 50)
    assert [fit.stack.usual_mm for fit in found.made.fastened if fit.hardware == "rivet"] == pytest.approx([4.1] * 3)
    assert sum(fit.count for fit in found.made.fastened if fit.hardware == "rivet") == 4
    assert found.build.cautions == ()


def test_a_quiver_of_one_ring_with_a_sling() -> None:
    found = built("quiver")
    round_mm = math.pi * (110 - 2 * 5)
    assert found.seam("foot").length_mm == pytest.approx(round_mm)
    assert found.cut("tube") == pytest.approx((1, 520, round_mm + 14))
    joint = found.run("body")
    assert (joint.runs, joint.length_mm) == (1, pytest.approx(520 - 10))
    assert range_of(joint.stack) == pytest.approx((2.8, 2.8, 2.8)), "both ends are skived to 1.4 mm"
    # The rounded end: 30 mm of both edges, and a half circle of 15 mm, 5 mm in from the strap of 40.
    sewn_on = [run for run in found.made.runs if run.kind == "landings"]
    assert [run.length_mm for run in sewn_on] == [pytest.approx(60 + math.pi * 15)] * 2
    (rim,) = found.plan.trimmings
    # Round the rim at the cut edge: once round, for the strip closes on itself; 15 mm more at each end.
    assert [cut.length_mm for cut, _ in rim.cuts] == [pytest.approx(round_mm + 30)]
    assert [item.problem.at for item in found.build.accepted] == ["tube"]


def test_a_bottle_sling_riveted_to_two_rings() -> None:
    found = built("bottle")
    assert found.seam("foot").length_mm == pytest.approx(math.pi * 75)
    assert found.cut("wall") == pytest.approx((1, 60, math.pi * 75 + 12))
    assert strap_of(found.build, "upright").cut_length_mm == pytest.approx(150 + 40 + math.pi * 5 / 2)
    keeper = strap_of(found.build, "loops-keeper")
    assert keeper.cut_length_mm == pytest.approx(2 * (20 + 4) + math.pi * 1 + 2 + 12), "1 mm of leather, 2 of room"
    assert {fit.stack.usual_mm for fit in found.made.fastened if fit.hardware == "rivet"} == {4.0}
    assert sum(fit.count for fit in found.made.fastened if fit.hardware == "rivet") == 8
    assert found.build.cautions == ()


def test_a_passport_cover_with_sleeves_and_a_card_pocket() -> None:
    """Sleeves of 70 by 140 mm, stitches 3 mm in: 67 along the foot, 134 up, 67 back, in stitches of 3 mm. The card pocket,
    70 by 60, is sewn by its inner side of 60, and caught along 67 of the foot and 57 of the side."""
    found = built("passport")
    for name in ("left", "right"):
        assert (found.seam(name).length_mm, found.seam(name).stitches) == (pytest.approx(268), 22 + 45 + 22)
    assert (found.seam("card").length_mm, found.seam("card").stitches) == (pytest.approx(60), 20)
    assert found.range_of("card") == pytest.approx((1.6, 1.6, 1.6))
    assert found.range_of("left") == pytest.approx((2.0, 2.0, 2.0))
    assert found.range_of("right") == pytest.approx((2.0, 2.0, 2.8)), "124 of 268 mm go through the card pocket too"
    assert found.goods("hide").net_mm2 == pytest.approx(200 * 140)
    assert found.goods("thin").net_mm2 == pytest.approx(2 * 70 * 140 + 70 * 60)
    assert found.thread.sewn_mm == pytest.approx(2 * 268 + 60)
    # Closed as a book, both sleeves between the halves of the cover, their outer edges on each other.
    cover, left, right = (found.build.space.part(Copy(name)) for name in ("cover", "left-sleeve", "right-sleeve"))
    assert cover is not None
    assert left is not None
    assert right is not None
    corners = left.surface.point(Point(0, 0)), right.surface.point(Point(70, 0))
    assert math.dist(*corners) == pytest.approx(0, abs=1e-6)
    assert math.dist(*(cover.surface.point(Point(x, 0)) for x in (0, 200))) == pytest.approx(0, abs=1e-6)
    assert (len(found.build.space.parts), found.build.space.widest_mm) == (4, pytest.approx(0, abs=1e-6))
    # The half of it under a sleeve is that in which its row is: flesh to flesh, the card pocket on the face of its sleeve.
    for name, over in (("left", ()), ("right", (("card", "up"),))):
        (pile,) = pile_seam(found.build, next(once for once in found.made.sewn if once.seam == name))
        assert [(ply.part, ply.grain) for ply in pile] == [*over, (f"{name}-sleeve", "up"), ("cover", "down")]
    assert found.build.cautions == ()


def test_a_pair_of_panniers_under_a_yoke() -> None:
    """Panels of 220 by 180 mm with corners of 30: stitches 5 mm in run 150 down, a quarter round of 25, 160 across."""
    found = built("pannier")
    wall_mm = 2 * 150 + 160 + math.pi * 25
    assert found.cut("gusset") == pytest.approx((2, 60, wall_mm))
    for name in ("front", "back"):
        assert (found.seam(name).length_mm, found.seam(name).stitches) == (pytest.approx(wall_mm), 135)
        assert found.made.times(name) == 2
    for name in ("near", "off"):
        assert (found.seam(name).length_mm, found.seam(name).stitches) == (pytest.approx(220), 55)
        assert found.range_of(name) == pytest.approx((4.8, 4.8, 4.8))
    assert found.range_of("front") == pytest.approx((4.8, 4.8, 4.8))
    assert found.range_of("back") == pytest.approx((4.8, 4.8, 7.2)), "the yoke laps 20 mm over the top of each back"
    assert found.posts() == [("yoke", 4, 4.8, 7.0)]
    corner_mm2 = 2 * 30**2 * (1 - math.pi / 4)
    net_mm2 = 4 * (220 * 180 - corner_mm2) + 2 * 60 * wall_mm + 220 * 300
    assert found.goods("side").net_mm2 == pytest.approx(net_mm2)
    assert found.thread.sewn_mm == pytest.approx(4 * wall_mm + 2 * 220)
    room = found.made.room
    assert room is not None
    assert (room.width_mm, room.height_mm, room.depth_mm) == pytest.approx((210, 175, 50))
    assert (len(found.build.space.parts), found.build.space.widest_mm) == (7, pytest.approx(0, abs=1e-6))
    assert found.build.cautions == ()


def test_a_camera_strap_with_tapered_ends() -> None:
    """Each end of the shoulder strap takes 35 mm back and half round a bar of 2 mm in leather of 2.4; its fold is in the
    middle of that, and what a hole 15 from the cut end meets lies as far beyond."""
    found = built("camera")
    bend_mm = math.pi * (2 + 2.4) / 2
    shoulder, tail = strap_of(found.build, "shoulder"), strap_of(found.build, "tail")
    assert shoulder.cut_length_mm == pytest.approx(700 + 2 * (35 + bend_mm))
    assert [end.fold_mm for end in shoulder.ends] == pytest.approx([35 + bend_mm / 2] * 2)
    places = sorted(hole.at.y for hole in shoulder.piece.marks.holes)
    assert places[0] == pytest.approx(15)
    assert places[-1] == pytest.approx(shoulder.cut_length_mm - 15)
    assert tail.cut_length_mm == pytest.approx(150 + 25 + math.pi * (2 + 1.6) / 2)
    assert [post for post in found.posts() if post[0] == "shoulder"] == [("shoulder", 2, 4.8, 7.0)]
    # Along both edges of what lies back, from 3 mm in on, on both tails.
    run = found.run("tail")
    assert (run.runs, run.length_mm, run.stitches) == (4, pytest.approx(22), 7)
    assert range_of(run.stack) == pytest.approx((3.2, 3.2, 3.2))
    # 12 wide for 50 at either end and all that is turned, 25 on average over 60, 38 between.
    narrow_mm = 2 * (50 + 35 + bend_mm)
    assert found.goods("bridle").net_mm2 == pytest.approx(12 * narrow_mm + 2 * 60 * 25 + 38 * (700 - 2 * 110))
    assert found.build.cautions == ()
