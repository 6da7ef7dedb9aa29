"""Bobbins and spools against the weight of thread; what counts as used up."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from docgen.tables.consumables import is_consumable
from docgen.tables.winding import count_full, find_bobbin_mm, find_spool_mm


def test_a_bobbin_holds_three_grams() -> None:
    """Tex is grams per 1,000 m (ISO 1144): 3 g of Tex 30 are 100 m, of Tex 300 10 m."""
    assert find_bobbin_mm(30.0) == pytest.approx(100_000)
    assert find_bobbin_mm(300.0) == pytest.approx(10_000)


def test_spools_of_machine_and_hand() -> None:
    """4 oz are 113.4 g (NIST SP 811, B.8), a tenth of it finish; 50 g of Tex 250 are 200 m."""
    assert find_spool_mm(102.06, "machine") == pytest.approx(1_000_000)
    assert find_spool_mm(250.0, "hand") == pytest.approx(200_000)


@pytest.mark.parametrize(("need", "count"), [(0.0, 0), (1.0, 1), (100.0, 1), (100.1, 2), (300.0, 3)])
def test_full_ones_are_counted_up(need: float, count: int) -> None:
    assert count_full(need, 100.0) == count


@given(st.floats(0.1, 1e6), st.floats(1.0, 1e5))
def test_so_many_hold_it_and_one_less_does_not(need: float, each: float) -> None:
    count = count_full(need, each)
    assert count * each >= need * (1 - 1e-6)
    assert (count - 1) * each < need


@pytest.mark.parametrize(
    "words", ["contact cement", "Contact Cement", "spray adhesive", "beeswax", "edge dye", "glue", "thread lock"]
)
def test_goods_that_are_used_up(words: str) -> None:
    assert is_consumable(words)


@pytest.mark.parametrize(
    "words", ["glue brush", "wax pot", "turn lock", "skiving knife", "mallet", "spray gun", "", "5/32 in hole punch"]
)
def test_tools_are_not_used_up(words: str) -> None:
    assert not is_consumable(words)
