"""How many hides and panels are bought, and what decides it: by a wholesaler's chart, and by hand."""

import math
import random
from dataclasses import replace
from itertools import islice

import pytest
from by_hand import make_piece, make_strap

from docgen.geometry.outline import rectangle_outline, strip_outline
from docgen.plan import MaterialPlan, plan_work
from docgen.plan.hides import clean_share, list_sizes
from docgen.resolve import Goods, Piece, Strap
from docgen.tables.hides import HIDES
from docgen.tables.limits import Limits

INCH = 25.4
FOOT = 304.8
USUAL = Limits()
NO_TRIM = Limits(edge_trim_mm=0.0, knife_gap_mm=0.0)
SIDE = Goods(sold="side", least_mm2=22 * FOOT**2, most_mm2=26 * FOOT**2, edge_mm=7 * FOOT, firm_mm=20 * INCH)
ALIKE = replace(SIDE, least_mm2=24 * FOOT**2, most_mm2=24 * FOOT**2)


def straps_of(width_mm: float, length_mm: float, cut: int, cut_from: str = "") -> tuple[Strap, ...]:
    piece = make_piece("belt", strip_outline(width_mm, length_mm), shape="strip")
    return (make_strap(piece, cut=cut, cut_from=cut_from),)


def rectangle(name: str, width_mm: float, height_mm: float, **more: object) -> Piece:
    return make_piece(name, rectangle_outline(width_mm, height_mm), **more)


@pytest.fixture
def buy(make_build, body):
    """What is bought of goods, for pieces and straps."""

    def bought(
        goods: Goods, limits: Limits = USUAL, roll_mm: float = 0.0, waste: float = 0.25, **parts: object
    ) -> MaterialPlan:
        material = replace(body, goods=goods, waste=waste, roll_width_mm=roll_mm)
        (plan,) = plan_work(make_build(materials=(material,), limits=limits, **parts)).materials
        return plan

    return bought


@pytest.mark.parametrize(
    ("width_in", "feet", "firm_in", "straps"), [(1.25, 7, 20, 16), (1.25, 8, 10, 8), (1.5, 7, 20, 13), (1.5, 8, 10, 6)]
)
def test_a_side_gives_as_many_straps_as_the_chart_says(buy, width_in, feet, firm_in, straps) -> None:
    """A 35 in side gives 10 in of width at 8 ft and 20 in at 7 ft (weaverleathersupply.com, "strap yield chart"), with no
    room for the knife, nor for trimming."""
    goods = replace(ALIKE, edge_mm=feet * FOOT, firm_mm=firm_in * INCH)
    full, more = (
        buy(goods, NO_TRIM, straps=straps_of(width_in * INCH, feet * FOOT, cut=count)).bought
        for count in (straps, straps + 1)
    )
    assert (full.count, more.count, more.decides) == (1, 2, "straps")


@pytest.mark.parametrize(("belts", "butts"), [(12, 1), (48, 4), (144, 12)])
def test_belts_take_rows_of_the_firm_part_and_not_only_area(buy, belts, butts) -> None:
    """By hand: a butt 1426 mm long and 500 firm, 10 off for the edge, takes 12 rows of 38 mm with 2 for the knife between;
    straps of 1200 lie once in a row. By area 144 belts of 0.049 sq m over 0.75 are 7.3 butts of 13 sq ft."""
    goods = Goods(sold="butt", least_mm2=13 * FOOT**2, most_mm2=13 * FOOT**2, edge_mm=1426, firm_mm=500)
    bought = buy(goods, straps=straps_of(38, 1200, cut=belts)).bought
    assert (bought.count, bought.decides) == (butts, "straps" if belts > 12 else bought.decides)


def test_smaller_hides_hold_fewer_rows(buy) -> None:
    """By hand: of butts of 11 to 15 sq ft one of 13 is 500 mm firm, for 12 rows of 38 with 2 between them, one of 11.5
    sqrt(11.5 / 13) of that, 470, for 11. The areas go by multiples of the golden section: 13, 11.5, 13.9, 12.4 sq ft."""
    goods = Goods(sold="butt", least_mm2=11 * FOOT**2, most_mm2=15 * FOOT**2, edge_mm=1426, firm_mm=500)
    feet = [13 * scale**2 for scale in islice(list_sizes(goods), 4)]
    assert feet == pytest.approx([13, 11.472, 13.944, 12.416], abs=0.001)
    assert [int((500 * math.sqrt(each / 13) - 10 + 2) // 40) for each in feet] == [12, 11, 12, 12]
    assert [buy(goods, straps=straps_of(38, 1200, cut=cut)).bought.count for cut in (47, 48)] == [4, 5]


def test_the_edge_is_trimmed_before_rows_are_counted(buy) -> None:
    """20 in of firm leather hold ten rows of 2 in, and nine once 10 mm are gone."""
    straps = straps_of(2 * INCH, 6 * FOOT, cut=10)
    trimmed = Limits(knife_gap_mm=0.0)
    assert [buy(ALIKE, limits, straps=straps).bought.count for limits in (NO_TRIM, trimmed)] == [1, 2]


def test_rows_leave_room_for_the_knife_as_the_lay_does(buy) -> None:
    """Ten rows of 2 in take all of 20 in; with 2 mm between them nine are left."""
    gap = Limits(edge_trim_mm=0.0, knife_gap_mm=2.0)
    straps = straps_of(2 * INCH, 6 * FOOT, cut=10)
    assert [buy(ALIKE, limits, straps=straps).bought.count for limits in (NO_TRIM, gap)] == [1, 2]


def test_where_an_edge_is_struck_nothing_is_trimmed(buy) -> None:
    """A whole hide, firm 20 in wide, holds ten rows of 2 in: its edge is struck where it is firm already."""
    whole = replace(ALIKE, sold="whole")
    straps = straps_of(2 * INCH, 6 * FOOT, cut=10)
    assert buy(whole, Limits(knife_gap_mm=0.0), straps=straps).bought.count == 1
    assert buy(ALIKE, Limits(knife_gap_mm=0.0), straps=straps).bought.count == 2


def test_rows_behind_the_edge_may_be_longer_than_it(buy) -> None:
    """A side is longest in the middle of its firm depth, 1.05 of the edge (tables/hides.py): two straps of 1,090 lie in a
    row of 2,184 to 2,240, and one in a row along the edge of 2,134."""
    straps = straps_of(50, 1090, cut=14)
    assert buy(ALIKE, NO_TRIM, straps=straps).bought.count == 1
    assert buy(replace(ALIKE, edge_mm=2070), NO_TRIM, straps=straps).bought.count == 2


def test_only_straps_that_must_be_firm_take_rows_of_the_firm_part(buy) -> None:
    """Twelve of 1 1/2 in by 7 ft take 18 of the 20 in that are firm, and 14 take 21; from anywhere 14 are 12.25 sq ft."""
    bought = [buy(ALIKE, NO_TRIM, straps=straps_of(1.5 * INCH, 7 * FOOT, 14, part)).bought for part in ("", "any")]
    assert [(one.count, one.decides) for one in bought] == [(2, "straps"), (1, "area")]


def test_several_hides_that_differ_are_told_with_their_area_together(buy) -> None:
    """Two sides of 22 to 26 sq ft are reckoned as 48; one is one, and of hides that are all alike nothing need be said."""
    pieces = (rectangle("a", FOOT, FOOT, cut=19),)
    assert buy(SIDE, pieces=pieces).bought.together_mm2 == pytest.approx(48 * FOOT**2)
    assert buy(SIDE, pieces=(rectangle("a", FOOT, FOOT),)).bought.together_mm2 == 0
    alike = replace(SIDE, least_mm2=24 * FOOT**2, most_mm2=24 * FOOT**2)
    assert buy(alike, pieces=pieces).bought.together_mm2 == 0


def test_bags_are_bought_by_area_and_the_rest_is_told(buy) -> None:
    """Twelve pieces of 1 sq ft over 0.75 are 16 of the 24 sq ft of a side, of which 83 % are good, 19.9; 8 are left."""
    one, more = (buy(SIDE, pieces=(rectangle("a", FOOT, FOOT, cut=cut),)).bought for cut in (12, 19))
    assert (one.count, one.decides, one.left_mm2) == (1, "area", pytest.approx(8 * FOOT**2))
    assert (more.count, more.decides) == (2, "area")


def test_faults_take_their_share_of_every_hide(buy) -> None:
    """14.75 sq ft over 0.75 are 19.7 of 19.9 that are good: one side without faults, two where a fiftieth of it is."""
    pieces = (rectangle("a", FOOT, FOOT / 4, cut=59),)
    assert buy(SIDE, pieces=pieces).bought.count == 1
    assert buy(replace(SIDE, faults=0.02), pieces=pieces).bought.count == 2


def test_what_is_hidden_comes_out_of_the_belly(buy) -> None:
    """16 sq ft over 0.75 are 21.3 of 24: two sides where all of it shows, one where a quarter is hidden."""
    shown = (rectangle("a", FOOT, FOOT / 4, cut=64),)
    assert buy(SIDE, pieces=shown).bought.count == 2
    some = (rectangle("a", FOOT, FOOT / 4, cut=48), rectangle("b", FOOT, FOOT / 4, cut=16, cut_from="any"))
    assert buy(SIDE, pieces=some).bought.count == 1


def test_a_row_holds_as_many_straps_as_find_a_clean_stretch() -> None:
    """By hand: at 3 % 0.03 (38 + 65) / 2800 faults come on a mm of row. A strap of 900 mm has none with the chance
    exp(-0.993) at the row's end and behind 1.29 faults, two in a row exp(-1.986), behind 0.30: 0.85 + 0.18 of 2 straps."""
    assert clean_share(0.03, 38, 900, 2133.6) == pytest.approx((0.848 + 0.178) / 2, abs=1e-3)
    assert clean_share(0.0, 38, 900, 2133.6) == 1
    assert clean_share(0.03, 38, 450, 2133.6) > 0.75


@pytest.mark.parametrize(("width_mm", "length_mm", "row_mm"), [(38, 900, 2133), (25, 400, 2133), (45, 1100, 1400)])
def test_the_share_is_that_of_rows_with_faults_thrown_on_them(width_mm: float, length_mm: float, row_mm: float) -> None:
    """Against chance itself: faults 65 mm long thrown on 4,000 rows, straps laid clean between them."""
    chance, rate, held = random.Random(1), 0.02 / 2800 * (width_mm + 65), 0
    for _ in range(4000):
        begin, at = 0.0, chance.expovariate(rate)
        while at < row_mm:
            held += int(max(0.0, at - begin) // length_mm)
            begin, at = at + 65, at + chance.expovariate(rate)
        held += int(max(0.0, row_mm - begin) // length_mm)
    share = held / 4000 / (row_mm // length_mm)
    assert clean_share(0.02, width_mm, length_mm, row_mm) == pytest.approx(share, rel=0.05)


def test_long_straps_ask_for_more_where_faults_are_usual(buy) -> None:
    """13 rows of two straps lie on a side without faults; with 3 % they hold about half as many."""
    counts = [
        buy(replace(ALIKE, faults=share), NO_TRIM, straps=straps_of(38, 900, cut=26)).bought.count
        for share in (0.0, 0.03)
    ]
    assert counts == [1, 2]
    many = buy(replace(ALIKE, faults=0.03), NO_TRIM, straps=straps_of(38, 900, cut=2600)).bought.count
    assert many == pytest.approx(100 / clean_share(0.03, 38, 900, 2133.6), rel=0.03)


def test_large_pieces_need_their_place(buy) -> None:
    """Two of 1.07 x 0.53 m are 1.42 sq m with 20 % waste, for which a side has the area; they lie neither beside nor above
    each other where it is 2.13 m long and 1.05 deep."""
    bought = buy(ALIKE, waste=0.2, pieces=(rectangle("a", 1070, 530, cut=2),)).bought
    assert (bought.count, bought.decides) == (2, "piece")


def test_more_of_the_rim_is_lost_to_large_pieces(buy) -> None:
    """By hand: round a side of 2134 by 1045 mm 0.1 of a piece's side is lost: 0.25 sq m of squares of 400, of 100 0.06.
    The rest, 83 % of 2.23 less that, holds 1.1 times its area with waste: 1.76 and 1.97 sq m, for 1.44 / 0.75 = 1.92."""
    large, small = ((rectangle("a", side, side, cut=cut),) for side, cut in ((400, 9), (100, 144)))
    assert [buy(ALIKE, pieces=pieces).bought.count for pieces in (large, small)] == [2, 1]


def test_what_is_too_wide_for_the_belly_does_not_come_out_of_it(buy) -> None:
    """The belly of a side is 17 % of 2.23 sq m along 2134 mm, 178 mm deep: squares of 170 lie in it, of 190 do not."""
    counts = [
        buy(ALIKE, pieces=(rectangle("b", side, side, cut=int(0.75 * 2.1e6 / side**2), cut_from="any"),)).bought.count
        for side in (170, 190)
    ]
    assert counts == [1, 2]


def test_panels_take_rows_whichever_way_holds_more(buy) -> None:
    """By hand: 300 x 600 mm holds two of 290 x 250 in rows; of 100 x 590 three stand beside each other, none lies."""
    goods = Goods(sold="panel", width_mm=300, length_mm=600)
    assert buy(goods, pieces=(rectangle("a", 290, 250, cut=18),)).bought.count == 9
    narrow = (rectangle("a", 98, 590, cut=7),)
    assert buy(goods, pieces=narrow).bought.count == 3
    left_mm2 = buy(goods, pieces=(rectangle("a", 300, 250, cut=1),)).bought.left_mm2
    assert left_mm2 == pytest.approx(300 * 350)


def test_a_nap_keeps_pieces_upright(buy) -> None:
    """Beside each other two of 290 x 140 fit once turned by a quarter (2 x 140 + 2 in 300 across); upright one a row."""
    free = Goods(sold="panel", width_mm=300, length_mm=290)
    pieces = (rectangle("a", 290, 140, cut=4),)
    assert buy(free, pieces=pieces).bought.count == 2
    lined = Goods(sold="roll", width_mm=740)
    lining = (rectangle("a", 735, 235),)
    runs = [buy(replace(lined, has_nap=nap), roll_mm=740, pieces=lining).run_mm for nap in (False, True)]
    assert runs == pytest.approx([735 * 235 / 0.75 / 740] * 2)
    tall = (rectangle("a", 235, 735),)
    runs = [buy(replace(lined, has_nap=nap), roll_mm=740, pieces=tall).run_mm for nap in (False, True)]
    assert runs == pytest.approx([735 * 235 / 0.75 / 740, 735])


def test_goods_that_say_nothing_are_bought_by_area_alone(buy) -> None:
    assert buy(Goods(), pieces=(rectangle("a", 100, 100),)).bought is None


def test_a_usual_hide_holds_its_own_straps() -> None:
    """The edge and the firm depth of each kind lie within its area, and a larger hide of it is longer."""
    for kind in HIDES.values():
        assert kind.edge_mm * kind.firm_mm < kind.area_mm2[0] * 1.05
        assert kind.scale(4 * kind.middle_mm2) == pytest.approx(2)
