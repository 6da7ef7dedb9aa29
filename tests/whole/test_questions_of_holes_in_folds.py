"""What `check` asks of rows by hand that begin in the fold itself: by the distance of their first hole from its line. That
a row begins a stitch inside of a fold is common practice, no published source."""

from collections.abc import Callable

import pytest

Ask = Callable[..., list[str]]

POUCH = """\
<rectangle pouch: ["120 mm", "200 mm"]>
folds = [{ at = "100 mm from bottom", open = true, angle = 180, note = "foot" }]
<seam left: ["pouch: left from bottom 100 mm to bottom 0 mm", "pouch: left from bottom 100 mm to bottom 200 mm"]>
<seam right: ["pouch: right from bottom 100 mm to bottom 0 mm", "pouch: right from bottom 100 mm to bottom 200 mm"]>
<step "Fold it and sew.": seams = ["left", "right"]>
"""


HAND = ('by = "machine"', 'by = "hand"')


@pytest.fixture
def ask(ask_only: Callable[..., Ask]) -> Ask:
    return ask_only("holes_in_folds")


def test_a_hole_in_the_fold_itself_is_asked_about_once(ask: Ask) -> None:
    (told,) = ask(POUCH, HAND)
    assert 'the hole at the end of "left", "right" lies in the fold "foot" of "pouch" itself' in told


@pytest.mark.parametrize("by_mm", [1.1, 4])
def test_rows_that_begin_inside_of_it_are_not(ask: Ask, by_mm: float) -> None:
    ends = {"0": 100 - by_mm, "200": 100 + by_mm}
    runs = [
        (f"{edge} from bottom 100 mm to bottom {end} mm", f"{edge} from bottom {begin} mm to bottom {end} mm")
        for edge in ("left", "right")
        for end, begin in ends.items()
    ]
    assert ask(POUCH, HAND, *runs) == []


def test_a_row_that_ends_at_no_fold_is_not(ask: Ask) -> None:
    assert ask(POUCH, HAND, ("100 mm from bottom", "50 mm from bottom")) == []


def test_a_row_by_machine_is_not(ask: Ask) -> None:
    assert ask(POUCH) == []
