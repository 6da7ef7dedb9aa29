"""How large the hides of a purchase are, and what a lay asks for of several that differ in area."""

from dataclasses import replace

import pytest
from laid import box, find_wrongs, goods_of, make_part, strap

from docgen.lay import Effort, lay_usual
from docgen.lay.sizes import list_sizes, list_totals
from docgen.resolve import Goods
from docgen.tables.limits import Limits

LIMITS = Limits()
FOOT2 = 304.8**2
SKIN = goods_of("skin")  # 5 to 9 sq ft


def in_feet(areas_mm2: list[float]) -> list[float]:
    return [area / FOOT2 for area in areas_mm2]


def alike(goods: Goods) -> Goods:
    """The same, all of the middle area."""
    return replace(goods, least_mm2=goods.middle_mm2, most_mm2=goods.middle_mm2)


def test_sizes_lie_evenly_about_their_mean_as_far_as_hides_go() -> None:
    """Four skins of 7 on average are spread over all of 5 to 9; two of 6 over 5 to 7, since none is smaller than 5."""
    assert sorted(in_feet(list_sizes(SKIN, 4, 28 * FOOT2, 1))) == pytest.approx([5.5, 6.5, 7.5, 8.5])
    assert sorted(in_feet(list_sizes(SKIN, 2, 12 * FOOT2, 1))) == pytest.approx([5.5, 6.5])
    orders = {tuple(list_sizes(SKIN, 4, 28 * FOOT2, seed)) for seed in range(8)}
    assert len(orders) > 1, "in an order by chance"


@pytest.mark.parametrize(
    ("left", "feet"),
    [
        (0.45, [28, 32]),  # enough, and not too much
        (0.7, [26.6, 28, 32]),  # a fifth of 7 more than the half that is to be left at most
        (0.2, [29.4, 32]),  # a fifth less than two fifths, which are to be left at least
    ],
)
def test_more_is_asked_for_where_little_of_the_last_is_left(left: float, feet: list[float]) -> None:
    """Four skins of 5 to 9 sq ft: no more than 8 are asked for on average, nor less than 6."""
    assert in_feet(list(list_totals(SKIN, 4, left * 7 * FOOT2))) == pytest.approx(feet)


def test_no_more_is_asked_for_than_hides_have() -> None:
    """Two skins are 12 to 16 sq ft together, by half of what one may be smaller or larger."""
    assert [in_feet(list(list_totals(SKIN, 2, left * FOOT2)))[0] for left in (7, 0)] == pytest.approx([12, 16])


def test_several_hides_are_laid_on_as_they_would_be_bought() -> None:
    """Six pieces of 300 by 250 mm hardly begin a second skin, so that two small ones do."""
    lay = lay_usual([make_part(1, box(300.0, 250.0), 6)], LIMITS, SKIN, effort=Effort(0))
    sizes = in_feet([sheet.hide.area_mm2 for sheet in lay.sheets])
    assert (len(sizes), lay.missing) == (2, ())
    assert all(5 <= size <= 9 for size in sizes)
    assert 12 - 1e-6 <= sum(sizes) < 14


def test_hides_alike_are_laid_on_as_they_are() -> None:
    lay = lay_usual([make_part(1, box(300.0, 250.0), 6)], LIMITS, alike(SKIN), effort=Effort(0))
    assert in_feet([sheet.hide.area_mm2 for sheet in lay.sheets]) == pytest.approx([7, 7])


def test_large_hides_among_several_hold_what_one_of_the_middle_area_hardly_does() -> None:
    """A skin of 7 sq ft is 900 mm long on its backbone: few rows hold a strap of 860; those of 8 and 9 hold many."""
    straps = [strap(1, 38.0, 860, 40)]
    counts = [len(lay_usual(straps, LIMITS, goods, effort=Effort(0)).sheets) for goods in (alike(SKIN), SKIN)]
    assert counts[1] < counts[0]
    lay = lay_usual(straps, LIMITS, SKIN, effort=Effort(0))
    assert not lay.missing
    assert not list(find_wrongs(lay, straps))
