from __future__ import annotations

import pytest

from docgen.tables.care import ADVICE, LONGEST_ADVICE, MOST_ADVICE, find_care


def list_ids(materials, metals=()):
    return [advice.id for advice in find_care(materials, metals)]


def test_waxed_vegetable_leather_gets_its_own_advice_in_order():
    assert list_ids([("leather", "vegetable", "waxed")]) == ["clean-waxed", "darkens", "wet", "keep", "never"]


@pytest.mark.parametrize("finish", ["plain", "waxed", "oiled", "coated", "suede"])
def test_every_finish_has_cleaning_advice(finish):
    assert list_ids([("leather", "chrome", finish)])[0] == f"clean-{finish}"


def test_leather_without_a_finish_counts_as_plain():
    assert list_ids([("leather", "", "")]) == ["clean-plain", "wet", "keep", "never"]


def test_same_material_twice_is_advised_once():
    leather = ("leather", "vegetable", "oiled")
    assert find_care([leather, leather], []) == find_care([leather], [])


@pytest.mark.parametrize(
    ("metal", "ids"),
    [
        ("nickel-plated", ["plated", "nickel"]),
        ("solid brass", ["brass"]),
        ("brass-plated", ["plated"]),
        ("copper", ["brass"]),
        ("black steel", ["steel"]),
        ("stainless steel", []),
        ("Nickel", ["nickel"]),
    ],
)
def test_metal_is_advised_by_the_words_that_name_it(metal, ids):
    assert list_ids([], [metal]) == ids


def test_foam_and_board_keep_their_shape_and_cloth_is_brushed():
    assert list_ids([("foam", "", ""), ("board", "", "")]) == ["inside"]
    assert list_ids([("fabric", "", "")]) == ["keep", "fabric"]


def test_card_never_holds_more_than_fits_and_keeps_the_cautions():
    leathers = [("leather", "vegetable", finish) for finish in ("plain", "waxed", "oiled", "coated", "suede")]
    ids = list_ids(
        [*leathers, ("fabric", "", ""), ("foam", "", "")], ["nickel-plated", "solid brass", "steel"]
    )
    assert len(ids) == MOST_ADVICE
    assert {"nickel", "never", "wet", "keep"} <= set(ids)
    assert ids == [advice.id for advice in ADVICE if advice.id in ids]


def test_every_advice_is_short_enough_for_a_small_card():
    for advice in ADVICE:
        assert len(advice.text) <= LONGEST_ADVICE, advice.id
        assert len(advice.heading) <= 24
        assert advice.text.endswith(".")
    assert len({advice.id for advice in ADVICE}) == len(ADVICE)
