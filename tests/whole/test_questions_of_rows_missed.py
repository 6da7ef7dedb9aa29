"""Questions about rows that pass close by what lies there: plane geometry, with rows 4 mm in from the edge."""

from collections.abc import Callable

import pytest

Ask = Callable[..., list[str]]

LOOP = """\
<rectangle panel: ["200 mm", "150 mm"]>
landings = [{ piece = "loop", at = "4.5 mm from right, 60 mm from bottom" }]
<rectangle loop: ["60 mm", "45 mm"]>
folds = [{ at = "middle" }]
<rectangle cover: ["200 mm", "150 mm"]>
<seam round: ["panel: left bottom right", "cover: left bottom right"]>
<step "Fold the loop and glue it down.": pieces = ["loop"]>
tools = ["contact cement"]
<step "Sew right round.": seams = ["round"]>
"""


@pytest.fixture
def ask(ask_only: Callable[..., Ask]) -> Ask:
    return ask_only("rows_missed")


def test_what_a_row_passes_close_beside_is_asked_about(ask: Ask) -> None:
    (told,) = ask(LOOP)
    assert told.startswith('18: the row of "round" passes 0.5 mm (1/32 in) beside the right of "loop" on "panel"')


@pytest.mark.parametrize("at", ["3.5 mm", "7.5 mm"])
def test_not_where_the_row_goes_through_it_or_passes_farther_off(ask: Ask, at: str) -> None:
    assert ask(LOOP, ("4.5 mm from right", f"{at} from right")) == []


def test_not_of_what_lies_clear_of_several_rows_or_is_sewn(ask: Ask) -> None:
    assert ask(LOOP, ('"4.5 mm from right, 60 mm from bottom"', '"4.5 mm from right, 4.5 mm from bottom"')) == []
    sewn = LOOP.replace("<seam round", '<seam loop: ["loop: bottom", "panel"]>\n<seam round')
    assert ask(sewn) == []
