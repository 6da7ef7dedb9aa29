"""Sizes of thread and needle as written, and every message about them whole."""

import pytest

from docgen.written.threads import Thread, parse_needle, parse_thread
from docgen.written.units.numbers import WrittenError

MOST_THICK = "write a thickness between 0.2 and 1.5 mm"
LIKE_A_THREAD = 'write its Tex, ticket or V number first, like "Tex 135 bonded nylon" or "V138 bonded nylon"'
ONE_OF_THESE = "write its Tex number, or one of V46, V69, V92, V138, V207, V277, V346"
LIKE_A_NEEDLE = 'write the metric size, like "130/21" or "130"'


@pytest.mark.parametrize(
    ("text", "thread"),
    [
        ("Tex 135 bonded nylon", Thread(tex=135.0, size="Tex 135", words="bonded nylon", fibre="nylon")),
        ("tex 70, polyester", Thread(tex=70.0, size="Tex 70", words="polyester", fibre="polyester")),
        ("Tex 46.7 polyamide 6.6", Thread(tex=46.7, size="Tex 46.7", words="polyamide 6.6", fibre="nylon")),
        ("TEX198 waxed linen, 3 cord", Thread(tex=198.0, size="Tex 198", words="waxed linen, 3 cord", fibre="linen")),
        ("Tex 60 Cotton", Thread(tex=60.0, size="Tex 60", words="Cotton", fibre="cotton")),
        ("Tex 90", Thread(tex=90.0, size="Tex 90", words="", fibre="")),
    ],
)
def test_thread_is_read_by_tex_and_fibre(text, thread):
    assert parse_thread(text) == thread


@pytest.mark.parametrize(
    ("text", "tex", "size", "words"),
    [
        ("Tkt 75 polyester", 40.0, "Tkt 75 (Tex 40)", "polyester"),
        ("ticket 20, spun polyester", 150.0, "Tkt 20 (Tex 150)", "spun polyester"),
        ("Tkt. 120 cotton", 25.0, "Tkt 120 (Tex 24)", "cotton"),
        # Tickets of bonded thread are rounded: 20 is V138, 140 tex, and not 3000 / 20.
        ("Tkt 20 bonded nylon", 140.0, "Tkt 20 (Tex 135)", "bonded nylon"),
        ("Tkt 30 bonded polyester", pytest.approx(93.33, abs=0.01), "Tkt 30 (Tex 90)", "bonded polyester"),
        ("Tkt 25 bonded nylon", 120.0, "Tkt 25 (Tex 120)", "bonded nylon"),
        ("V138 bonded nylon", 140.0, "V138 (Tex 135)", "bonded nylon"),
        ("v 69 nylon", 70.0, "V69 (Tex 70)", "nylon"),
        ("V-346", 350.0, "V346 (Tex 350)", ""),
    ],
)
def test_thread_is_read_by_ticket_and_v_number_and_printed_with_its_label(text, tex, size, words):
    thread = parse_thread(text)
    assert (thread.tex, thread.size, thread.words) == (tex, size, words)


def test_a_hand_thread_is_read_by_its_thickness():
    """Linen "532" of 25/3, 198 tex, is 0.57 mm thick (cuir-tissu.odoo.com, product page)."""
    thread = parse_thread("0.57 mm waxed linen")
    assert (thread.size, thread.words, thread.fibre) == ("0.57 mm", "waxed linen", "linen")
    assert thread.tex == pytest.approx(198, rel=0.01)


@pytest.mark.parametrize(
    ("text", "size"), [("130/21", 130), ("130", 130), ("Nm 130", 130), ("NM 90 / 14", 90), ("60", 60), ("300", 300)]
)
def test_needle_is_read_by_its_metric_size(text, size):
    assert parse_needle(text) == size


@pytest.mark.parametrize(
    ("parse", "text", "what", "mend"),
    [
        (parse_needle, "21", "21 is not a metric needle size (60 to 300)", LIKE_A_NEEDLE),
        (parse_needle, "301", "301 is not a metric needle size (60 to 300)", LIKE_A_NEEDLE),
        (parse_needle, "thick", '"thick" cannot be read as a needle size', LIKE_A_NEEDLE),
        (parse_needle, "130/", '"130/" cannot be read as a needle size', LIKE_A_NEEDLE),
        (parse_thread, "linen", '"linen" does not say the size of the thread', LIKE_A_THREAD),
        (parse_thread, "135", '"135" does not say the size of the thread', LIKE_A_THREAD),
        (parse_thread, "Tex nylon", '"Tex nylon" does not say the size of the thread', LIKE_A_THREAD),
        (parse_thread, "Tex 2 silk", "Tex 2 is no size of sewing thread", "write a Tex number between 5 and 2000"),
        (parse_thread, "Tkt 0 nylon", "Tkt 0 is no size of sewing thread", "write a ticket number between 2 and 600"),
        (parse_thread, "Tkt 601", "Tkt 601 is no size of sewing thread", "write a ticket number between 2 and 600"),
        (parse_thread, "5 mm waxed linen", "5 mm is no thickness of sewing thread", MOST_THICK),
        (parse_thread, "0.1 mm linen", "0.1 mm is no thickness of sewing thread", MOST_THICK),
        (parse_thread, "0.8 mm", '"0.8 mm" does not say the size of the thread', LIKE_A_THREAD),
        (parse_thread, "V100 nylon", "V100 is not a V number known here", ONE_OF_THESE),
    ],
)
def test_size_that_cannot_be_meant_says_what_and_mend(parse, text, what, mend):
    with pytest.raises(WrittenError) as caught:
        parse(text)
    assert (caught.value.what, caught.value.mend) == (what, mend)
