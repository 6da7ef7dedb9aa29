"""How long glue waits: by the words of a tool, as figures and whole sentences."""

import pytest

from docgen.tables.adhesives import ADHESIVE_TO_WAIT, Wait, find_wait, format_wait

TOUCH = "until dry to the touch"


@pytest.mark.parametrize(
    ("words", "told"),
    [
        # winenfood.com and perryspowerhouse.com agree on 15 to 30 min for cement with solvent.
        ("solvent contact cement", f"15 to 30 min, {TOUCH}"),
        # 30 to 40 (a maker's bulletin), 30 to 45 and 60 to 120 min (two pages): sources differ.
        ("Water-based contact cement", f"30 to 120 min, {TOUCH} (see the tin)"),
        ("contact cement", f"15 to 120 min, {TOUCH} (see the tin)"),
        ("spray adhesive", "10 s to 5 min, until it is tacky, not wet (see the tin)"),
        ("leather dye", "12 to 24 h, before you finish or glue (see the tin)"),
        ("edge dye", "30 min to 12 h, before you burnish or finish (see the tin)"),
        ("black edge paint", "30 to 120 min, before the next coat (see the tin)"),
        ("white glue", "15 to 30 min, under weights, before you go on; at full strength after a day (see the tin)"),
    ],
)
def test_a_wait_is_told_whole(words: str, told: str) -> None:
    wait = find_wait(words)
    assert wait is not None
    assert format_wait(wait) == told


@pytest.mark.parametrize(
    "words", ["", "skiving knife", "cement spreader", "edge paint roller", "glue brush", "wax", "double-sided tape"]
)
def test_what_is_not_left_to_dry_has_no_wait(words: str) -> None:
    assert find_wait(words) is None


def test_the_longest_words_decide() -> None:
    assert find_wait("solvent contact cement") == Wait(15, 30, TOUCH, is_agreed=True)
    assert find_wait("edge dye") != find_wait("dye")


def test_every_wait_is_a_span_and_found_by_its_own_words() -> None:
    for words, wait in ADHESIVE_TO_WAIT.items():
        assert 0 < wait.least_min < wait.most_min
        assert find_wait(words) == wait
