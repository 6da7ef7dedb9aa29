import pytest

from docgen.tables.cautions import HAZARDS, STRUCK_TO_SETTER, WORDS_TO_HAZARDS, find_hazards
from docgen.tables.hardware import HARDWARE_KINDS


@pytest.mark.parametrize(
    ("words", "hazards"),
    [
        ("Rotary cutter", ("blade",)),
        ("skiving knives", ("blade",)),
        ("hole punch, 3/16 in", ("punch",)),
        ("hole punches", ("punch",)),
        ("arbor press", ("press",)),
        ("contact-cement", ("solvent",)),
        ("Spray adhesive", ("spray",)),
        ("hot creaser", ("heat",)),
        ("lighter", ("heat",)),
        ("sewing machine, mallet", ("hammer", "needle")),
        ("belt sander and bell skiver", ("blade", "dust")),
        ("awl", ("awl",)),
        ("saddler's needles", ("awl",)),
        ("rivets, nickel-plated", ("nickel",)),
    ],
)
def test_hazards_are_found_by_the_words_of_a_tool(words, hazards):
    assert find_hazards(words) == hazards


@pytest.mark.parametrize(
    "words", ["", "steel rule", "pressure gauge", "crawl", "spray bottle of water", "creaser", "edge paint"]
)
def test_hazards_are_found_by_whole_words_only(words):
    assert find_hazards(words) == ()


def test_every_hazard_can_be_called_for_and_every_word_leads_to_one():
    assert set(WORDS_TO_HAZARDS.values()) == set(HAZARDS)
    for phrase, hazard in WORDS_TO_HAZARDS.items():
        assert phrase == phrase.lower()
        assert hazard in find_hazards(phrase)


def test_cautions_are_short_and_whole_sentences():
    for title, text in HAZARDS.values():
        assert len(title) <= 32
        assert text.endswith(".")
        assert len(text) <= 220


def test_chemical_cautions_defer_to_the_supplier():
    assert HAZARDS["solvent"] == (
        "Contact cement, solvents, dyes",
        "Work in moving fresh air, away from flames, sparks and heaters: vapours can harm and catch fire. "
        "Keep lids on. Gloves, breathing protection and waste: as the supplier's data sheet says.",
    )
    assert "data sheet" in HAZARDS["spray"][1]
    assert "manual" in HAZARDS["press"][1]
    assert "local code" in HAZARDS["press"][1]


@pytest.mark.parametrize(
    ("hazard", "words"),
    [
        ("blade", "away from the hand"),
        ("punch", "solid block"),
        ("hammer", "eye protection"),
        ("press", "Fingers"),
        ("needle", "fingers"),
        ("awl", "hand"),
        ("solvent", "fresh air, away from flames"),
        ("spray", "flame"),
        ("heat", "stand"),
        ("dust", "dust mask"),
        ("nickel", "skin"),
    ],
)
def test_the_first_sentence_alone_says_what_to_do(hazard, words):
    assert words in HAZARDS[hazard][1].split(". ")[0]


def test_what_is_struck_has_a_setter_whose_name_calls_for_the_caution():
    for kind, setter in STRUCK_TO_SETTER.items():
        assert kind in HARDWARE_KINDS
        assert "hammer" in find_hazards(f"{setter} setter")
