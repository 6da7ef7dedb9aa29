"""How many hides and panels are bought, and what decides it: by a wholesaler's chart, and by hand."""

from dataclasses import replace

import pytest
from by_hand import make_piece, make_strap

from docgen.geometry.outline import rectangle_outline, strip_outline
from docgen.plan import MaterialPlan, plan_work
from docgen.resolve import Goods, Piece, Strap
from docgen.tables.hides import HIDES
from docgen.tables.limits import Limits

INCH = 25.4
FOOT = 304.8
USUAL = Limits()
NO_TRIM = Limits(edge_trim_mm=0.0)
SIDE = Goods(sold="side", least_mm2=22 * FOOT**2, most_mm2=26 * FOOT**2, edge_mm=7 * FOOT, firm_mm=20 * INCH)


def straps_of(width_mm: float, length_mm: float, cut: int, cut_from: str = "") -> tuple[Strap, ...]:
    piece = make_piece("belt", strip_outline(width_mm, length_mm), shape="strip")
    return (make_strap(piece, cut=cut, cut_from=cut_from),)


def rectangle(name: str, width_mm: float, height_mm: float, **more: object) -> Piece:
    return make_piece(name, rectangle_outline(width_mm, height_mm), **more)


@pytest.fixture
def buy(make_build, body):
    """What is bought of goods, for pieces and straps."""

    def bought(goods: Goods, limits: Limits = USUAL, roll_mm: float = 0.0, **parts: object) -> MaterialPlan:
        material = replace(body, goods=goods, waste=0.25, roll_width_mm=roll_mm)
        (plan,) = plan_work(make_build(materials=(material,), limits=limits, **parts)).materials
        return plan

    return bought


@pytest.mark.parametrize(
    ("width_in", "feet", "firm_in", "straps"), [(1.25, 7, 20, 16), (1.25, 8, 10, 8), (1.5, 7, 20, 13), (1.5, 8, 10, 6)]
)
def test_a_side_gives_as_many_straps_as_the_chart_says(buy, width_in, feet, firm_in, straps) -> None:
    """A 35 in side gives 10 in of width at 8 ft and 20 in at 7 ft (weaverleathersupply.com, "strap yield chart")."""
    goods = replace(SIDE, edge_mm=feet * FOOT, firm_mm=firm_in * INCH)
    full, more = (
        buy(goods, NO_TRIM, straps=straps_of(width_in * INCH, feet * FOOT, cut=count)).bought
        for count in (straps, straps + 1)
    )
    assert (full.count, more.count, more.decides) == (1, 2, "straps")


@pytest.mark.parametrize(("belts", "butts"), [(12, 1), (48, 4), (144, 12)])
def test_belts_take_rows_of_the_firm_part_and_not_only_area(buy, belts, butts) -> None:
    """By hand: a butt 1426 mm long and 634 firm, 10 off for the edge, takes 16 rows of 38 mm; straps of 1200 lie once in
    a row. By area 144 belts of 0.049 sq m over 0.75 are 7.3 butts of 13 sq ft."""
    goods = Goods(sold="butt", least_mm2=11 * FOOT**2, most_mm2=15 * FOOT**2, edge_mm=1426, firm_mm=500)
    bought = buy(goods, straps=straps_of(38, 1200, cut=belts)).bought
    assert (bought.count, bought.decides) == (butts, "straps" if belts > 12 else bought.decides)


def test_the_edge_is_trimmed_before_rows_are_counted(buy) -> None:
    """20 in of firm leather hold ten rows of 2 in, and nine once 10 mm are gone."""
    straps = straps_of(2 * INCH, 6 * FOOT, cut=10)
    assert [buy(SIDE, limits, straps=straps).bought.count for limits in (NO_TRIM, Limits())] == [1, 2]


def test_only_straps_that_must_be_firm_take_rows_of_the_firm_part(buy) -> None:
    """Twelve of 1 1/2 in by 7 ft take 18 of the 20 in that are firm, and 14 take 21; from anywhere 14 are 12.25 sq ft."""
    bought = [buy(SIDE, NO_TRIM, straps=straps_of(1.5 * INCH, 7 * FOOT, 14, part)).bought for part in ("", "any")]
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


def test_long_straps_miss_more_clean_places_than_short_ones(buy) -> None:
    """At 3 % of faults a strap of 38 by 900 mm has 0.03 (38 + 50) (900 + 80) / 3100 = 0.83 of them on it, and exp(0.83) =
    2.3 rows are needed for one (Poisson's law): 30 for 26 straps, two in a row. A side holds 13 rows."""
    counts = [buy(replace(SIDE, faults=share), straps=straps_of(38, 900, cut=26)).bought.count for share in (0.0, 0.03)]
    assert counts == [1, 3]


def test_large_pieces_need_their_place(buy) -> None:
    """Two of 1.2 x 0.55 m are 1.76 of 1.85 good sq m with waste, and lie neither beside nor above each other on a
    side of 2.13 m that is 1.05 deep."""
    bought = buy(SIDE, pieces=(rectangle("a", 1200, 550, cut=2),)).bought
    assert (bought.count, bought.decides) == (2, "piece")


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
