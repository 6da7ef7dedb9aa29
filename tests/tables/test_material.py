import pytest

from docgen.tables.limits import Limits
from docgen.tables.material import WASTE_BY_KIND


def test_leather_waste_agrees_with_the_hide_rule():
    # Common practice, no published source: 25 % of the hide; 18 sq ft bought for 13.5 needed is the same
    # share.
    waste = Limits().waste("leather")
    assert waste == 0.25
    assert 1 / (1 - waste) == pytest.approx(18 / 13.5)


def test_other_materials_lose_a_tenth():
    assert {Limits().waste(kind) for kind in ("fabric", "foam", "board")} == {0.10}
    assert set(WASTE_BY_KIND) == {"leather", "fabric", "foam", "board"}
