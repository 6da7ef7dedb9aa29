"""How goods are sold: from the spec, else from the shop's file by the name of the goods, else as is usual."""

from pathlib import Path

import pytest
from spec_text import Resolve, Tell

from docgen.calls.outside import read_for_shop
from docgen.checks import resolve_build
from docgen.resolve import Goods
from docgen.resolve.goods.amounts import parse_areas
from docgen.tables.hides import HIDES
from docgen.written.units.numbers import WrittenError

FOOT2 = 304.8**2
SIDE = '[materials.side]\nkind = "leather"\nthickness = "2 mm"\n'
PIECE = '<bag>\n[pieces.a]\nof = "side"\nlike = "back"\n[seams.a]\nstitch = "main"\nmeet = ["a: left", "back: right"]\n'


def goods_of(resolve_text: Resolve, keys: str, shop: str = "") -> Goods:
    """How the side is sold, by the spec's keys and by the shop's file."""
    resolve_text(f"{SIDE}{keys}\n{PIECE}")
    Path("shop.toml").write_text(shop, encoding="utf-8")
    return next(item.goods for item in resolve_build(read_for_shop("a.toml")[0]).materials if item.name == "side")


@pytest.mark.parametrize(
    ("written", "least", "most"),
    [("22-26 sq ft", 22 * FOOT2, 26 * FOOT2), ("24 sq ft", 24 * FOOT2, 24 * FOOT2), ("2 to 2.4 m2", 2e6, 2.4e6)],
)
def test_an_area_is_one_or_from_and_to(written: str, least: float, most: float) -> None:
    """1 ft = 304.8 mm, exact by definition."""
    assert parse_areas(written) == pytest.approx((least, most))


@pytest.mark.parametrize("written", ["24", "24 in", "26-22 sq ft", "0 m2", "30 m2", "large", "2-3"])
def test_what_is_no_area_of_a_hide_is_refused(written: str) -> None:
    with pytest.raises(WrittenError):
        parse_areas(written)


def test_the_spec_comes_before_the_shop_and_that_before_what_is_usual(resolve_text: Resolve) -> None:
    shop = '[goods.side]\nsold = "side"\narea = "20-24 sq ft"\nedge = "2 m"\n'
    own = goods_of(resolve_text, 'sold = "side"\nedge = "1.8 m"', shop)
    assert (own.edge_mm, own.least_mm2) == (1800, pytest.approx(20 * FOOT2))
    usual = HIDES["side"]
    assert own.firm_mm == pytest.approx(usual.firm_mm * (22 / 23.5) ** 0.5)
    assert goods_of(resolve_text, "", shop).edge_mm == 2000
    assert goods_of(resolve_text, 'sold = "side"').edge_mm == usual.edge_mm
    assert goods_of(resolve_text, "") == Goods()


def test_goods_are_found_by_their_title_too_and_not_where_they_are_sold_in_another_way(resolve_text: Resolve) -> None:
    shop = '[goods.thin-side]\nsold = "side"\nedge = "2 m"\n'
    assert goods_of(resolve_text, 'title = "Thin Side"', shop).edge_mm == 2000
    assert goods_of(resolve_text, 'title = "Thick Side"', shop) == Goods()
    assert goods_of(resolve_text, 'title = "Thin Side"\nsold = "butt"', shop).edge_mm == HIDES["butt"].edge_mm
    assert goods_of(resolve_text, 'title = "Thin Side"\nwidth = "1.4 m"', shop).sold == "roll"


def test_how_goods_are_sold_may_stand_in_the_spec_and_what_they_are_like_in_the_shop(resolve_text: Resolve) -> None:
    shop = '[goods.side]\nedge = "2 m"\n'
    assert goods_of(resolve_text, 'sold = "butt"', shop).edge_mm == 2000
    assert goods_of(resolve_text, 'width = "1.4 m"', "[goods.side]\nnap = true\n").has_nap


@pytest.mark.parametrize(
    ("keys", "told"),
    [
        ('sold = "panel"', '"size" is missing of goods sold as a panel'),
        ('sold = "roll"', '"width" is missing of goods sold as a roll'),
        ('sold = "side"\nsize = ["1 m", "2 m"]', "size is said of panels, and these are sold as a side"),
        ('edge = "2 m"', "edge is said of hides, and it is not said how these are"),
        ('sold = "side"\narea = "24"', "24 has no unit"),
        ('sold = "hide"', 'sold cannot be "hide"'),
    ],
)
def test_what_cannot_be_meant_is_told(messages: Tell, keys: str, told: str) -> None:
    assert told in messages(f"{SIDE}{keys}\n{PIECE}")


def test_cloth_is_no_hide(messages: Tell) -> None:
    cloth = '[materials.side]\nkind = "fabric"\nthickness = "1 mm"\nsold = "side"\n'
    assert "fabric is not sold as a side" in messages(cloth + PIECE)


def test_another_version_tells_how_goods_were_sold() -> None:
    side = Goods(sold="side", least_mm2=22 * FOOT2, most_mm2=26 * FOOT2, edge_mm=2133.6, firm_mm=508, faults=0.02)
    assert side.words == "side; 22 to 26 sq ft (204 to 242 dm²); edge 2133.6 mm; firm 508 mm; faults 2 %"
    assert Goods(sold="panel", width_mm=300, length_mm=600, has_nap=True).words == "panel; 300 mm; 600 mm; nap"
    assert Goods().words == "by area"


def test_widths_by_the_tape_tell_area_and_edge(resolve_text: Resolve) -> None:
    """By the trapezoid rule 500 / 2 + 700 + 900 + 600 / 2 = 2150 mm, times 200 mm; four widths are 600 mm long."""
    goods = goods_of(resolve_text, 'sold = "side"\nmeasured = ["50 cm", "70 cm", "90 cm", "60 cm"]')
    assert (goods.least_mm2, goods.most_mm2, goods.edge_mm) == (430_000, 430_000, 600)


def test_two_widths_are_no_outline(messages: Tell) -> None:
    text = f'{SIDE}sold = "side"\nmeasured = ["50 cm", "70 cm"]\n{PIECE}'
    assert "so few widths tell no outline" in messages(text)
