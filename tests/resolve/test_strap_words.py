"""What straps can say of their ends and layers: each word with the arithmetic of what it gives, derived by hand.

The way half round a bar is pi (d + t) / 2 along the middle of the leather (plane geometry), as in test_strap_lengths.
"""

import math
from collections.abc import Callable

import pytest
from shapely.geometry import Polygon
from spec_text import Resolve, Tell

from docgen.geometry.outline import outline_box, outline_path
from docgen.geometry.path import flatten, path_area, path_box, path_length, points_at
from docgen.geometry.shapes import Box
from docgen.resolve import Build, Strap

GOODS = """\
[materials.thick]
kind = "leather"
thickness = "3 mm"
density = "1 g/cm3"
[materials.soft]
kind = "leather"
thickness = "1 mm"
density = "1 g/cm3"
[materials.pad]
kind = "foam"
thickness = "5 mm"
density = "0.1 g/cm3"
[stitches.saddle]
by = "hand"
thread = "Tex 210 waxed polyester"
pitch = "4 mm"
inset = "3 mm"
[hardware.ring]
what = "D ring"
count = 1
inside = "26 mm"
bar = "4 mm"
[hardware.buckle]
what = "buckle"
count = 1
inside = "26 mm"
bar = "5 mm"
tongue = "4 mm"
"""


def strap(lines: str, name: str = "a") -> str:
    return f'[straps.{name}]\nof = "thick"\nwidth = "20 mm"\n{lines}'


def turned(words: str = "") -> str:
    return f'finished = "300 mm"\nends = [{{ shape = "turned", back = "40 mm"{words} }}, {{ shape = "square" }}]\n'


@pytest.fixture
def build(resolve_text: Resolve) -> Callable[[str], Build]:
    return lambda lines: resolve_text(GOODS + lines)


@pytest.fixture
def make(build: Callable[[str], Build]) -> Callable[[str], Strap]:
    return lambda lines: build(lines).straps[0]


def test_two_bars_in_one_fold(make: Callable[[str], Strap]) -> None:
    """Half round the buckle's bar pi (5 + 3) / 2 = 12.566; the ring's 4 mm beside it; 40 back: 56.566 added to 300.
    The fold lies 40 + 4 + 6.283 = 50.283 from the cut end."""
    found = make(strap(turned(', around = ["buckle", "ring"]')))
    assert found.cut_length_mm == pytest.approx(356.566, abs=0.001)
    assert found.piece.marks.folds[0].start.y == pytest.approx(50.283, abs=0.001)
    assert found.ends[0].rings == ("buckle", "ring")


def test_one_bar_in_a_list_is_one_bar(make: Callable[[str], Strap]) -> None:
    alone, listed = (make(strap(turned(f", around = {words}"))).cut_length_mm for words in ('"ring"', '["ring"]'))
    assert alone == listed == pytest.approx(300 + 40 + 10.996, abs=0.001)


def test_a_loop_stands_open_on_both_sides_of_its_fold(make: Callable[[str], Strap]) -> None:
    """40 back, 100 open, and half round nothing, pi x 3 / 2 = 4.712: 144.712 added. The fold is at 140 + 2.356."""
    found = make(strap(turned(', loop = "100 mm"')))
    assert found.cut_length_mm == pytest.approx(444.712, abs=0.001)
    assert found.piece.marks.folds[0].start.y == pytest.approx(142.356, abs=0.001)


@pytest.mark.parametrize(("over", "added_mm"), [("20 mm", 40 + 10.996), ("60 mm", 40 + 7.854)])
def test_a_skive_that_reaches_the_bend_thins_it(make: Callable[[str], Strap], over: str, added_mm: float) -> None:
    """To 1 mm: pi (4 + 1) / 2 = 7.854 round the bar; a skive that ends before the bend leaves pi (4 + 3) / 2 = 10.996."""
    found = make(strap(turned(f', around = "ring", skive = {{ over = "{over}", to = "1 mm" }}')))
    assert found.cut_length_mm == pytest.approx(300 + added_mm, abs=0.001)


def test_a_skived_end_is_marked_and_weighs_less(build: Callable[[str], Build]) -> None:
    """20 x 15 mm thinned from 3 to 1 mm: 600 mm3 less of 20 x 300 x 3 = 18000, 17.4 g at 1 g/cm3."""
    found = build(
        strap(
            'finished = "300 mm"\n'
            'ends = [{ shape = "square" }, { shape = "square", skive = { over = "15 mm", to = "1 mm" } }]\n'
        )
    )
    (skive,) = found.straps[0].piece.marks.skives
    box = path_box(skive.band)
    assert (skive.edges, box.bottom, box.top, box.left, box.right) == ("end", 285, 300, 0, 20)
    assert found.weights[0].grams == pytest.approx(17.4)


def test_a_slot_for_the_tongue_comes_by_itself(make: Callable[[str], Strap]) -> None:
    """Eye of the tongue 5 + 2 x 4 = 13 across; half round it pi (13 + 3) / 2 = 25.133 long; 4 + 1 = 5 mm wide; its middle
    at the fold, 40 + 6.283 from the cut end. Width, and usual lengths of 20 to 28 mm: common
    practice, no published source."""
    (slot,) = make(strap(turned(', around = "buckle"'))).piece.marks.holes
    assert (slot.at.x, slot.at.y) == pytest.approx((10, 46.283), abs=0.001)
    assert (slot.diameter_mm, slot.long_mm) == pytest.approx((5, 25.133), abs=0.001)


def test_a_slot_may_have_its_own_length(make: Callable[[str], Strap]) -> None:
    (slot,) = make(strap(turned(', around = "buckle", slot = "30 mm"'))).piece.marks.holes
    assert (slot.diameter_mm, slot.long_mm) == pytest.approx((5, 30))


def test_an_oblong_punch_at_the_fold_takes_the_place_of_the_slot(make: Callable[[str], Strap]) -> None:
    punches = 'punches = [{ at = "centre, at the fold", punch = "4 mm", long = "22 mm" }]\n'
    (slot,) = make(strap(turned(', around = "buckle"') + punches)).piece.marks.holes
    assert (slot.diameter_mm, slot.long_mm) == pytest.approx((4, 22))


def test_an_end_is_sewn_through_both_layers_with_holes_that_meet(make: Callable[[str], Strap]) -> None:
    """From 3 mm to 40 mm along both edges, 37 mm; what lies beneath is mirrored about the fold at 42.356."""
    found = make(strap(turned(', sewn = "saddle"')))
    lines = found.piece.marks.stitch_lines
    assert [line.seam for line in lines] == ["a first end"] * 4
    assert {round(path_length(line.path), 6) for line in lines} == {37}
    assert sorted({round(path_box(line.path).left, 6) for line in lines}) == [3, 17]
    holes = [[at for at, _ in points_at(line.path, line.holes_mm)] for line in lines]
    for above, beneath in ((holes[0], holes[1]), (holes[2], holes[3])):
        for one, other in zip(above, beneath, strict=True):
            assert (one.x, 2 * 42.35619 - one.y) == pytest.approx((other.x, other.y), abs=0.001)


def test_the_straps_own_stitching_ends_where_that_of_the_end_begins(make: Callable[[str], Strap]) -> None:
    """Cut 344.712 long; 44.712 are turned, and 40 lie under what lies back: 300 - 40 = 260 are left on either edge."""
    found = make(strap('stitch = "saddle"\n' + turned(', sewn = "saddle"')))
    own = [line for line in found.piece.marks.stitch_lines if line.seam == "a"]
    assert [path_length(line.path) for line in own] == pytest.approx([260, 260])
    assert {round(path_box(line.path).bottom, 3) for line in own} == {84.712}


TAPERED = '{ shape = "rounded", width = "12 mm", straight = "50 mm", taper = "30 mm" }'


def test_a_tapered_end(make: Callable[[str], Strap]) -> None:
    """12 mm wide for 50 mm with a half circle of 6, then 30 mm to 20: pi 6^2 / 2 + 12 x 44 + 16 x 30 + 20 x 220 =
    5464.549 mm2 (areas by hand, and by shapely from the corners)."""
    found = make(strap(f'finished = "300 mm"\nends = [{TAPERED}, {{ shape = "square" }}]\n'))
    box = outline_box(found.piece.outline)
    assert (box.width, box.height) == pytest.approx((20, 300))
    by_hand = math.pi * 18 + 12 * 44 + 16 * 30 + 20 * 220
    assert path_area(outline_path(found.piece.outline)) == pytest.approx(by_hand)
    corners = [(at.x, at.y) for at in flatten(outline_path(found.piece.outline), 0.001)]
    assert Polygon(corners).area == pytest.approx(by_hand, abs=0.5)


def test_a_tapered_turned_end_is_measured_from_its_fold_on(make: Callable[[str], Strap]) -> None:
    """44.712 turned (4.712 round) and 60 straight: the taper begins 104.712 from the cut end; left out, after what lies
    under the 40 back: 84.712."""
    for words, up_mm in ((', straight = "60 mm"', 104.712), ("", 84.712)):
        found = make(strap(turned(f', width = "12 mm", taper = "30 mm"{words}')))
        assert found.ends[0].taper is not None
        assert found.ends[0].taper.straight_mm == pytest.approx(up_mm, abs=0.001)
        fold = found.piece.marks.folds[0]
        assert (fold.start.x, fold.end.x) == pytest.approx((4, 16))


def test_a_tapered_lining_is_cut_without_what_is_turned(make: Callable[[str], Strap]) -> None:
    """Of 344.712 mm, 12 mm wide for 84.712 with 44.712 of it turned: 12 x 40 + 16 x 30 + 20 x 230 = 5560 mm2."""
    found = make(strap('doubled = true\nlining = "soft"\n' + turned(', width = "12 mm", taper = "30 mm"')))
    assert found.lining_area_mm2 == pytest.approx(12 * 40 + 16 * 30 + 20 * 230)
    assert found.lining_length_mm == 300


ROWS = """\
wears = "500 mm"
ends = [
  { shape = "rounded", holes = { count = 3, pitch = "20 mm", punch = "3 mm", tip = "50 mm" } },
  { shape = "pointed", holes = { count = 5, pitch = "20 mm", punch = "4 mm", tip = "60 mm" } },
]
"""


def test_holes_at_both_ends(make: Callable[[str], Strap]) -> None:
    """Middle holes 70 and 100 mm from their tips, 500 apart: 670 in all. Worn 500 less 20 and 40, to 500 and as much."""
    found = make(strap(ROWS))
    assert (found.finished_mm, found.worn_mm) == (pytest.approx(670), pytest.approx((440, 500, 560)))
    heights = {hole.diameter_mm: [] for hole in found.piece.marks.holes}
    for hole in found.piece.marks.holes:
        heights[hole.diameter_mm].append(hole.at.y)
    assert heights == {3.0: pytest.approx([50, 70, 90]), 4.0: pytest.approx([610, 590, 570, 550, 530])}
    assert [hole.at.y for hole in found.piece.marks.holes if hole.is_middle] == pytest.approx([570, 70])


def test_holes_of_the_second_end_are_those_of_the_strap(make: Callable[[str], Strap]) -> None:
    row = 'holes = { count = 3, pitch = "20 mm", punch = "3 mm", tip = "50 mm" }'
    own = make(strap(f'wears = "500 mm"\nends = [{{ shape = "square" }}, {{ shape = "square", {row} }}]\n'))
    strap_s = make(strap(f'wears = "500 mm"\n{row}\n'))
    assert own.piece.marks.holes[0].at == strap_s.piece.marks.holes[0].at
    assert own.hole_tips_mm == strap_s.hole_tips_mm


PADDED = 'doubled = true\nlining = "soft"\npadding = { of = "pad", width = "12 mm"%s }\n'


def test_padding_is_clear_of_edges_and_ends(build: Callable[[str], Build]) -> None:
    """300 - 40 back - (20 - 12) = 252 mm long. 12 x 252 x 5 mm3 at 0.1 g/cm3: 1.512 g of foam."""
    found = build(strap(PADDED % "" + turned()))
    assert (found.straps[0].padding, found.straps[0].padding_length_mm) == ("pad", pytest.approx(252))
    assert {weight.name: weight.grams for weight in found.weights}["pad"] == pytest.approx(1.512)


@pytest.mark.parametrize(
    ("shapes", "clear_mm"),
    [
        (("square", "square"), 4),
        # 12 mm wide in a strap of 20: 4 mm off both edges, and off a half circle of 10 mm where it is 10 mm in.
        (("rounded", "square"), 10),
        # A point of 45 degrees is 4 mm away from a corner 6 mm off the middle at 6 + 4 x 2 ** 0.5: 12 mm, to 1/2 mm.
        (("rounded", "pointed"), 12),
    ],
)
def test_padding_is_clear_of_shaped_ends_and_drawn_where_it_lies(
    make: Callable[[str], Strap], shapes: tuple[str, str], clear_mm: float
) -> None:
    ends = ", ".join(f'{{ shape = "{shape}" }}' for shape in shapes)
    found = make(strap(PADDED % "" + f'finished = "300 mm"\nends = [{ends}]\n'))
    assert found.padding_length_mm == pytest.approx(300 - 2 * clear_mm)
    (landing,) = found.piece.marks.landings
    box = path_box(landing.outline)
    assert (landing.title, box) == ("padding", Box(4, clear_mm, 16, 300 - clear_mm))


def test_padding_that_sticks_out_of_a_point_is_told(messages: Tell) -> None:
    told = messages(
        GOODS
        + strap(
            PADDED % ', length = "295 mm"'
            + 'finished = "300 mm"\nends = [{ shape = "pointed" }, { shape = "square" }]\n'
        )
    )
    # Its corners, 6 mm off the middle, are within a point of 45 degrees from 6 mm on.
    assert "the padding is 295 mm long, and has room for 288 mm between the ends as wide as it is, 12 mm (line" in told
    assert "make it narrower or shorter, or the strap longer" in told


def test_padding_may_be_shorter(make: Callable[[str], Strap]) -> None:
    assert make(strap(PADDED % ', length = "200 mm"' + turned())).padding_length_mm == 200


KEEPER = '[straps.k]\nof = "soft"\nwidth = "10 mm"\nkeeper-for = "a"\noverlap = "0"\n%s'


@pytest.mark.parametrize(
    ("end", "words", "long_mm"),
    [
        ("", "", 2 * (20 + 9) + math.pi + 2),  # three layers of 3 mm
        (', keeper = "k"', "", 2 * (20 + 6) + math.pi + 2),  # its ends in the fold: strap and tip
        (', keeper = "k"', "layers = 3\n", 2 * (20 + 9) + math.pi + 2),
        ("", 'inside = "24 mm"\n', 2 * (24 + 9) + math.pi + 2),  # its own width
        (', keeper = "k", width = "12 mm", taper = "30 mm"', "", 2 * (12 + 6) + math.pi + 2),
    ],
)
def test_what_a_keeper_goes_round(build: Callable[[str], Build], end: str, words: str, long_mm: float) -> None:
    """2 (width + stack) + pi x 1 mm of its own thickness + 2 mm of room (see test_strap_lengths)."""
    keeper = build(strap(turned(end)) + KEEPER % words).straps[1]
    assert keeper.cut_length_mm == pytest.approx(long_mm)


@pytest.mark.parametrize(("tip", "long_mm"), [("", 2 * (20 + 6 + 3)), ('doubled = true\nlining = "soft"\n', 58 + 2)])
def test_a_keeper_leaves_room_for_the_tip_of_the_other_part(
    build: Callable[[str], Build], tip: str, long_mm: float
) -> None:
    """Round the part with the buckle, 3 mm twice, and the tip that buckles on, 3 mm or 4 mm with its lining; the same where
    it slides on that tip: 2 (20 + stack) + pi x 1 mm of its own thickness + 2 mm of room (arithmetic)."""
    row = 'holes = { count = 3, pitch = "20 mm", punch = "3 mm", tip = "50 mm" }\n'
    pair = strap(turned()) + strap(f'wears = "500 mm"\npartner = "a"\n{tip}{row}', "b")
    for held in ("a", "b"):
        keeper = build(pair + (KEEPER % "").replace('"a"', f'"{held}"')).straps[2]
        assert keeper.cut_length_mm == pytest.approx(long_mm + math.pi + 2)
