import pytest

from docgen.tables.care import ADVICE_IDS, ALWAYS_KEPT, FINISHES, HUMIDITY, IMPORTANCE, PART_IDS, find_care

LEATHER = ["wet", "dry", "light", "keep", "never"]


def test_waxed_vegetable_leather_gets_its_own_advice_in_order():
    found = find_care([("leather", "vegetable", "waxed")], [])
    assert found == ("first-waxed", "clean-waxed", "vegetable", *LEATHER)


@pytest.mark.parametrize("finish", FINISHES)
def test_every_finish_has_first_care_and_cleaning(finish):
    assert find_care([("leather", "", finish)], [])[:2] == (f"first-{finish}", f"clean-{finish}")


@pytest.mark.parametrize("tannage", ["vegetable", "chrome", "combination"])
def test_every_tannage_has_advice_of_its_own(tannage):
    assert tannage in find_care([("leather", tannage, "plain")], [])


def test_leather_without_a_finish_counts_as_plain():
    assert find_care([("leather", "", "")], []) == ("first-plain", "clean-plain", *LEATHER)


def test_same_material_twice_is_advised_once():
    leather = ("leather", "vegetable", "oiled")
    assert find_care([leather, leather], []) == find_care([leather], [])


@pytest.mark.parametrize(
    ("metal", "ids"),
    [
        ("nickel-plated", ("plated", "nickel")),
        ("nickel-free plating", ("plated",)),
        ("solid brass", ("brass",)),
        ("brass-plated", ("plated",)),
        ("copper", ("brass",)),
        ("black steel", ("steel",)),
        ("stainless steel", ("stainless",)),
        ("Nickel", ("nickel",)),
        ("", ()),
    ],
)
def test_metal_is_advised_by_the_words_that_name_it(metal, ids):
    assert find_care([], [metal]) == ids


def test_foam_and_board_keep_their_shape_and_cloth_is_brushed():
    assert find_care([("foam", "", ""), ("board", "", "")], []) == ("inside",)
    assert find_care([("fabric", "", "")], []) == ("keep", "lining")


def test_load_is_spoken_of_only_where_the_shop_states_one():
    assert find_care([], [], has_load=True) == ("load",)
    assert find_care([], [], has_load=False) == ()


def test_every_advice_has_its_rank_and_may_be_reworded():
    assert sorted(IMPORTANCE) == sorted(ADVICE_IDS)
    assert set(ALWAYS_KEPT) == {"nickel", "never", "wet", "load"}
    assert set(ADVICE_IDS) - set(PART_IDS) == {"load", "repair"}


def test_humidity_is_that_of_the_conservation_manual():
    # Western Australian Museum, conservation manual, leather: relative humidity 45 to 65 %.
    assert HUMIDITY == "45–65\u00a0%"
