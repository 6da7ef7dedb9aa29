import pytest

from docgen.tables.limits import Limits
from docgen.tables.material import WASTE_BY_KIND, find_gross_mm2
from docgen.written.units.table import MM2_PER_SQFT, MM_PER_OUNCE


def test_waste_is_a_share_of_the_whole_and_not_on_top():
    # 5.00 sq ft of pieces at 20 % of the hide: 5.00 / 0.80 = 6.25, not 6.00.
    assert find_gross_mm2(5.0 * MM2_PER_SQFT, 0.20) / MM2_PER_SQFT == pytest.approx(6.25)


def test_leather_waste_agrees_with_the_hide_rule():
    # Common practice, no published source: 25 % of the hide; 18 sq ft bought for 13.5 needed is the same
    # share.
    waste = Limits().waste("leather")
    assert waste == 0.25
    assert 1 / (1 - waste) == pytest.approx(18 / 13.5)


def test_other_materials_lose_a_tenth():
    assert {Limits().waste(kind) for kind in ("fabric", "foam", "board")} == {0.10}
    assert set(WASTE_BY_KIND) == {"leather", "fabric", "foam", "board"}


def test_ounce_agrees_with_astm_d1814():
    # ASTM D1814-70(2000), 1.2: 0.396 mm; sixteen ounces are 1/4 in.
    assert pytest.approx(0.396, abs=0.001) == MM_PER_OUNCE
    assert pytest.approx(25.4 / 4) == MM_PER_OUNCE * 16
