"""The care card as the spec wants it: what is taken over, and every message whole."""

import pytest

from docgen.resolve import Care

PANEL = "<back>\n"


def test_without_a_table_the_card_is_a_plain_a6_in_english(resolve_text):
    assert resolve_text(PANEL).care == Care(card="A6", sides=1, turn="long", language="en")


def test_everything_that_is_written_comes_through(resolve_text):
    care = resolve_text(
        PANEL + '[care]\ncard = "4x6 in"\nsides = 2\nturn = "short"\nlanguage = "de"\nload = "up to 6 kg"\n'
        'parts = [{ id = "wet", text = "Blot it." }, { id = "brass", text = "Ours is waxed.", instead = true }]\n'
    ).care
    assert (care.card, care.sides, care.turn, care.language, care.load) == ("4x6 in", 2, "short", "de", "up to 6 kg")
    assert [(part.id, part.text, part.is_instead) for part in care.parts] == [
        ("wet", "Blot it.", False),
        ("brass", "Ours is waxed.", True),
    ]


@pytest.mark.parametrize("card", ["ID-1", "A5 folded"])
def test_wallet_and_folded_cards_have_two_sides(resolve_text, card):
    assert resolve_text(PANEL + f'[care]\ncard = "{card}"\n').care.sides == 2


def test_load_and_repair_have_keys_of_their_own(messages):
    said = messages(PANEL + '[care]\nparts = [{ id = "load", text = "6 kg" }]\n')
    assert 'id cannot be "load"' in said
