from __future__ import annotations

import pytest

from docgen.tables.cautions import HAZARDS, WORDS_TO_HAZARDS, find_hazards


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
        "Vapours can harm and can catch fire. Work in moving fresh air, away from flames, sparks and "
        "heaters; keep lids on. Gloves, breathing protection and waste: as the supplier's data sheet says.",
    )
    assert "data sheet" in HAZARDS["spray"][1]
    assert "manual" in HAZARDS["press"][1]
    assert "local code" in HAZARDS["press"][1]
