"""Demos and starters as a maker would try them with the pieces in the hand: straps reach, hands fit, tabs go into their
buckles. The arithmetic stands beside each; what a hand or a finger needs is common practice, no published source."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
from demos import PATHS, demo_build

from docgen.geometry.outline import outline_box
from docgen.geometry.path import start_point
from docgen.geometry.shapes import Point
from docgen.geometry.vector import distance
from docgen.plan.sewing import list_jobs
from docgen.resolve import Build, Fold, Hole, Piece, by_name

IN_MM = 25.4
HAND_MM = (95.0, 35.0)  # a large hand, how broad and how thick at the palm: from memory


def piece_of(build: Build, name: str) -> Piece:
    return by_name(build.pieces)[name]


def height_mm(piece: Piece) -> float:
    return outline_box(piece.outline).height


def fold_of(piece: Piece) -> Fold:
    (fold,) = piece.marks.folds
    return fold


@pytest.mark.parametrize("name", PATHS)
def test_what_goes_round_a_ring_or_buckle_is_narrower_than_its_inside(name: str) -> None:
    build = demo_build(name)
    hardware = by_name(build.hardware)
    folds = [(fold.around, distance(fold.start, fold.end)) for piece in build.pieces for fold in piece.marks.folds]
    ends = [(end.around, strap.width_mm) for strap in build.straps for end in strap.ends]
    for around, wide_mm in folds + ends:
        if around:
            assert 0 < wide_mm < hardware[around].inside_mm
    bare = [item.name for item in build.hardware if item.kind in ("ring", "buckle")]
    assert set(bare) <= {around for around, _ in folds + ends if around}


def test_the_closing_straps_of_the_bag_reach_their_buckles() -> None:
    """2 3/4 in up the back, 3 1/2 in over the top, 1 5/8 in down the front, and a quarter turn of a strap 2 mm thick over
    each of the two edges: 7 7/8 in and 3 mm, 203 mm."""
    build = demo_build("field-bag")
    back, front, tab = (piece_of(build, name) for name in ("back", "front", "buckle-tab"))
    (strap,) = (strap for strap in build.straps if strap.name == "closing")
    landings = [landing for landing in back.strap_landings if landing.strap == "closing"]
    assert [round((landing.at.x - 6 * IN_MM) / IN_MM, 6) for landing in landings] == [-3.5, 3.5]
    up_mm = height_mm(back) - landings[0].at.y
    (on_front, _) = (landing for landing in front.marks.landings if landing.piece == "buckle-tab")
    down_mm = height_mm(front) - (fold_of(tab).start.y + on_front.dy_mm)
    over_mm = 3.5 * IN_MM
    bends_mm = 2 * math.pi / 2 * strap.thickness_mm / 2
    assert (up_mm, down_mm) == (pytest.approx(2.75 * IN_MM), pytest.approx(1.625 * IN_MM))
    needed_mm = up_mm + over_mm + down_mm + bends_mm
    assert needed_mm == pytest.approx(203.1, abs=0.1)
    assert strap.worn_mm[1] == pytest.approx(needed_mm, abs=1.0)
    buckle = by_name(build.hardware)["small-buckle"]
    assert strap.width_mm < buckle.inside_mm


def test_the_rivet_rows_of_the_bag_s_straps_meet_those_of_its_back() -> None:
    """The end of a strap lies 2 3/4 in below the top: its holes at 1/2 and 1 1/4 in lie 2 1/4 and 1 1/2 in below it."""
    build = demo_build("field-bag")
    back = piece_of(build, "back")
    tops_mm = sorted({round(height_mm(back) - hole.at.y, 3) for hole in back.marks.holes})
    for strap in build.straps:
        if strap.name in ("closing", "handle"):
            ends_mm = sorted(hole.at.y for hole in strap.piece.marks.holes)[:2]
            assert sorted(round(2.75 * IN_MM - end_mm, 3) for end_mm in ends_mm) == tops_mm


def test_a_hand_fits_under_the_handle_of_the_bag() -> None:
    """14 in, less 2 3/4 in of each end on the back, are 8 1/2 in over a span of 7 in. An arc of that length rises
    2.03 in: r = 4.06 in, half its angle 60 degrees, 2 * 4.06 * 1.04 = 8.44 in. Beneath the middle of the arch that leaves
    49 mm above the edge, and at both sides of a hand, 47.5 mm from the middle, 37 mm."""
    build = demo_build("field-bag")
    (handle,) = (strap for strap in build.straps if strap.name == "handle")
    span_mm, arch_mm = 7 * IN_MM, handle.cut_length_mm - 2 * 2.75 * IN_MM
    assert arch_mm == pytest.approx(8.5 * IN_MM)
    half = next(angle / 1e4 for angle in range(1, 31000) if angle / 1e4 / math.sin(angle / 1e4) >= arch_mm / span_mm)
    radius_mm = arch_mm / (2 * half)
    rise_mm = radius_mm * (1 - math.cos(half))
    assert rise_mm == pytest.approx(2.03 * IN_MM, abs=1.5)
    wide, high = HAND_MM
    above_mm = radius_mm - rise_mm  # the centre of the arc lies so far below the edge
    room_mm = math.sqrt((radius_mm - handle.thickness_mm) ** 2 - (wide / 2) ** 2) - above_mm
    assert room_mm > high


def test_the_room_inside_the_bag_is_what_leather_lining_and_foam_leave() -> None:
    """3 1/2 in less two seams of 5/32 in are 81.0 mm; foam of 3 mm and lining of 0.6 mm on both sides leave 73.8 mm."""
    build = demo_build("field-bag")
    assert build.inside is not None
    assert build.inside.depth_mm <= 3.5 * IN_MM - 2 * 5 / 32 * IN_MM - 2 * (3 + 0.6)
    assert sum(held.size_mm[2] for held in build.holds) < build.inside.depth_mm


def test_the_flap_of_the_sleeve_comes_down_on_its_stud() -> None:
    """The flap bends round book and front, 5 + 1.8 mm between the middles of back and flap, 1.8 mm: 8.6 mm in all. Its hole
    is 48.5 mm past the fold, so 39.9 mm below the top of the book, where the stud is: 214 - 39.9 = 174.1 mm."""
    build = demo_build("notebook-sleeve")
    back, front, tab = (piece_of(build, name) for name in ("back", "front", "tab"))
    thick_mm = build.materials[0].thickness_mm
    (held,) = build.holds
    round_mm = held.size_mm[2] + 2 * thick_mm
    assert round_mm == pytest.approx(8.6)
    (hole,), (stud,), (own,) = back.marks.holes, front.marks.holes, tab.marks.holes
    fold_mm = fold_of(back).start.y
    assert fold_mm - (hole.at.y - fold_mm - round_mm) == pytest.approx(stud.at.y, abs=0.5)
    (landing,) = front.marks.landings
    assert distance(Point(own.at.x + landing.dx_mm, own.at.y + landing.dy_mm), stud.at) < 0.1
    assert height_mm(front) - (stud.at.y + 15) > 8  # leather between patch and mouth
    assert {seam.name for seam in build.seams for side in seam.sides if side.part == "tab"} == {"patch"}
    (slit,) = back.marks.slits
    # The pull of the flap is towards its fold: the slit lies on that side, so that the stud does not slip into it.
    assert hole.at.y > slit.start.y > slit.end.y > fold_mm


def test_the_pockets_of_the_roll_are_sewn_all_round_but_the_top() -> None:
    """Four pockets of 64 mm between five lines: three dividers and the seam up both sides."""
    build = demo_build("cable-roll")
    pocket = piece_of(build, "pocket")
    (seam,) = build.seams
    assert next(side.edges for side in seam.sides if side.part == "pocket") == ("left", "bottom", "right")
    lines_mm = [0.0, *(divider.start.x for divider in pocket.dividers), 256.0]
    assert [far - near for near, far in pairwise(lines_mm)] == [64.0] * 4
    (landing,) = piece_of(build, "body").marks.landings
    assert (landing.dx_mm, landing.dy_mm) == pytest.approx((12.0, 0.0), abs=1e-6)
    # The body is pricked beneath the dividers: 12 mm in, and 64 mm from one to the next.
    own, beneath = (
        [line for line in piece_of(build, name).marks.stitch_lines if line.seam == "pocket dividers"]
        for name in ("pocket", "body")
    )
    assert [start_point(line.path).x for line in beneath] == pytest.approx([76.0, 140.0, 204.0])
    # The last stitch goes over the mouth of the pocket, 76 mm up: there the body has a hole, and the pocket has none.
    assert [line.holes_mm[:-1] for line in beneath] == [line.holes_mm for line in own]
    assert [line.holes_mm[-1] for line in beneath] == pytest.approx([76.0] * 3)
    # From the seam, 4 mm up, to the top, over the edge there: 80 - 4 = 76 mm, 22 stitches of 3.45 mm, a hole at the seam.
    assert [start_point(line.path).y for line in own] == pytest.approx([4.0] * 3)
    (told,) = (job for _, job in list_jobs(build) if job.is_across)
    assert (told.length_mm, told.stitches) == (pytest.approx(76), 22)
    assert [len(line.holes_mm) for line in own] == [told.holes] * 3 == [22] * 3


def test_a_bank_card_goes_into_the_pocket_of_the_sleeve_to_start_from() -> None:
    """95 mm less two seams of 4 mm are 87 mm, and 60 less 4 are 56 mm: a card of 85.60 x 53.98 mm (ISO/IEC 7810, ID-1)."""
    card = piece_of(demo_build("sleeve"), "card")
    assert height_mm(card) - 4 > 53.98
    assert outline_box(card.outline).width - 2 * 4 > 85.60


def test_the_tab_of_the_bag_to_start_from_holds_its_ring_clear_of_the_rivet() -> None:
    """The rivet is 3/4 in from the fold, the cap 9 mm wide and the bar 4 mm: 19.05 - 4.5 - 4 leave 10.5 mm of loop."""
    build = demo_build("bag")
    tab = piece_of(build, "tab")
    fold = fold_of(tab)
    low, high = sorted(tab.marks.holes, key=lambda hole: hole.at.y)
    assert fold.start.y - low.at.y == pytest.approx(high.at.y - fold.start.y)
    assert fold.start.y - low.at.y - 4.5 - by_name(build.hardware)["ring"].bar_mm > 10


def test_keeper_and_screws_of_the_belt_clear_each_other() -> None:
    """Screw posts 3/4 and 2 1/4 in from the end stand 1 1/2 in apart: a keeper of 1/2 in, heads of 1/4 in, and room."""
    build = demo_build("belt")
    belt, keeper = (by_name(build.straps)[name] for name in ("belt", "keeper"))
    screws = [hole for hole in belt.piece.marks.holes[len(belt.hole_tips_mm) :] if not hole.long_mm]
    assert gap_mm(*screws) - IN_MM / 4 > keeper.width_mm
    assert belt.width_mm < by_name(build.hardware)["buckle"].inside_mm


def gap_mm(first: Hole, second: Hole) -> float:
    return abs(first.at.y - second.at.y)
