"""The words of the care card: whole in every language, and the shop's own words among them."""

import re
from dataclasses import replace

import pytest
from demos import PATHS, ROOT, demo_build, demo_plan

from docgen.assemble import is_bag
from docgen.checks import resolve_build
from docgen.fonts import missing_characters
from docgen.layout_files import layouts_folder, list_languages
from docgen.pages.care.care_words import list_advice, list_closing, load_care_words
from docgen.read import read_spec
from docgen.resolve import Care, CarePart, Inside, Shop
from docgen.tables.care import ADVICE_IDS, find_care

LANGUAGES = list_languages()
LONGEST_TEXT, LONGEST_SHORT, LONGEST_HEADING = 190, 95, 26


def test_the_languages_are_the_files_of_the_folder():
    assert LANGUAGES == ("de", "en", "es", "fr", "it")
    assert {path.stem for path in (layouts_folder() / "care").iterdir()} == set(LANGUAGES)


@pytest.mark.parametrize("language", LANGUAGES)
def test_no_phrase_is_missing_too_long_or_unprintable(language):
    said = load_care_words(language)
    assert set(said.labels) == {
        "card",
        "for",
        "on",
        "serial",
        "version",
        "draft",
        "extra",
        "repair",
        "maker",
        "contact",
    }
    assert tuple(said.advice) == ADVICE_IDS
    for name, phrase in said.advice.items():
        assert len(phrase.text) <= LONGEST_TEXT, name
        assert len(phrase.short) <= LONGEST_SHORT, name
        assert len(phrase.heading) <= LONGEST_HEADING, name
        assert phrase.text.endswith("{contact}" if name == "repair" else "."), name
        assert missing_characters(phrase.heading + phrase.text + phrase.short) == (), name
        assert bool(phrase.bag) == bool(phrase.bag_short) == (name in ("dry", "keep")), name
        assert len(phrase.bag) <= LONGEST_TEXT, name
        assert len(phrase.bag_short) <= LONGEST_SHORT, name
        assert missing_characters(phrase.bag + phrase.bag_short) == (), name


@pytest.mark.parametrize("language", LANGUAGES)
def test_only_humidity_load_and_contact_are_put_in(language):
    for name, phrase in load_care_words(language).advice.items():
        wanted = {"keep": ["{humidity}"], "load": ["{load}"], "repair": ["{contact}"]}.get(name, [])
        assert re.findall(r"\{.*?\}", phrase.text) == wanted, name
        assert re.findall(r"\{.*?\}", phrase.short) == ([] if name == "keep" else wanted), name


def test_french_signs_of_two_parts_stand_behind_a_thin_no_break_space():
    for name, phrase in load_care_words("fr").advice.items():
        for words in (phrase.heading, phrase.text, phrase.short, phrase.bag, phrase.bag_short):
            assert not re.search(r"(?<!\u202f)[:;!?»]|«(?!\u202f)", words), name


@pytest.mark.parametrize("language", ["de", "es", "it", "en"])
def test_no_other_language_parts_signs_from_their_word(language):
    for name, phrase in load_care_words(language).advice.items():
        assert not re.search(r"\s[,.:;!?]|'|\"", phrase.heading + phrase.text + phrase.short), name


@pytest.mark.parametrize("language", [language for language in LANGUAGES if language != "en"])
def test_every_language_has_words_of_its_own(language):
    english, said = load_care_words("en"), load_care_words(language)
    assert not [name for name in ADVICE_IDS if said.advice[name].text == english.advice[name].text]


def say(care_plan, language="en", **more):
    said = load_care_words(language)
    return [(advice.heading, advice.text) for advice in list_advice(care_plan, said, **more)]


def dress(plan, care=None, shop=None, ids=("wet", "never")):
    build = replace(plan.build, care=care or Care(), shop=shop or Shop())
    return replace(plan, build=build, care=ids)


def test_the_shop_may_follow_or_replace_any_part(care_plan):
    english = load_care_words("en").advice
    parts = (CarePart(id="wet", text="Then hang it up."), CarePart(id="never", text="No soap.", is_instead=True))
    assert say(dress(care_plan, Care(parts=parts))) == [
        (english["wet"].heading, f"{english['wet'].text} Then hang it up."),
        (english["never"].heading, "No soap."),
    ]


def test_a_part_that_the_materials_do_not_call_for_is_added_in_its_place(care_plan):
    plan = dress(care_plan, Care(parts=(CarePart(id="brass", text="Ours is waxed.", is_instead=True),)))
    assert [heading for heading, _ in say(plan)] == ["If it gets wet", "Please do not", "Brass and copper"]


@pytest.mark.parametrize("language", LANGUAGES)
def test_only_a_bag_is_filled_when_it_dries_and_when_it_is_kept(language):
    """Told of what has walls, between panels or over a round base, and of nothing flat."""
    said = load_care_words(language)
    for name in ("bag", "bucket", "crossbody", "duffel", "field-bag", "satchel", "tote"):
        texts = {advice.text for advice in list_advice(demo_plan(name), said)}
        assert said.advice["dry"].bag in texts, name
        assert said.advice["dry"].text not in texts, name
    for name in ("belt", "lead", "strap", "wallet", "sleeve", "notebook-sleeve", "sheath", "cable-roll"):
        texts = {advice.text for advice in list_advice(demo_plan(name), said)}
        assert said.advice["dry"].text in texts, name
        assert said.advice["dry"].bag not in texts, name


def test_a_room_that_is_written_makes_a_bag_where_it_is_deep():
    """Our choice: 20 mm."""
    build = demo_build("sleeve")
    flat, deep = (replace(build, inside=Inside(width_mm=200, height_mm=100, depth_mm=mm)) for mm in (19, 20))
    assert [is_bag(one, one.assembly.room) for one in (flat, deep)] == [False, True]


def test_what_is_sewn_to_others_by_both_its_sides_is_a_wall():
    """The market tote, of which no room is worked out; a halter has straps alone."""
    builds = ROOT / "tests/bench/slips/builds"
    tote, halter = (resolve_build(read_spec(builds / f"{name}.toml")) for name in ("market-tote", "halter"))
    assert tote.assembly.room is None
    assert is_bag(tote, None)
    assert not is_bag(halter, None)


def test_load_is_printed_as_the_shop_wrote_it(care_plan):
    plan = dress(care_plan, Care(load="Up to {6} kg"), ids=find_care([], [], has_load=True))
    assert say(plan)[0][1].startswith("Up to {6} kg, as stated by the workshop.")


def test_closing_words_are_the_shops_own_or_its_contact(care_plan):
    said = load_care_words("de")
    shop = Shop(name="Alder Lane Leather", contact="bench@alder-lane.example")
    plain = list_closing(dress(care_plan, shop=shop), said)
    assert [advice.text for advice in plain] == [said.advice["repair"].text.replace("{contact}", shop.contact)]
    own = list_closing(dress(care_plan, Care(extra="Mit Bienenwachs.", repair="Bitte schreiben."), shop), said)
    assert [(a.heading, a.text, a.rank) for a in own] == [
        ("Aus der Werkstatt", "Mit Bienenwachs.", 0),
        ("Reparatur", "Bitte schreiben.", 0),
    ]
    assert list_closing(dress(care_plan), said) == ()


def test_leather_alone_has_a_finish_where_none_is_said() -> None:
    materials = [material for name in PATHS for material in demo_build(name).materials]
    assert {material.kind for material in materials} > {"leather"}
    assert all(bool(material.finish) == (material.kind == "leather") for material in materials)
