"""What `check` asks of a keeper that the words of a step lay in a fold, where no end says so.

That such a keeper is not laid out for the step follows from what the sheet is told.
"""

from collections.abc import Callable

import pytest
from short_specs import BELT, BUCKLE, KEEPER

AskOnly = Callable[..., Callable[..., list[str]]]

TURNED = (
    BUCKLE
    + BELT
    + KEEPER
    + '<step "Cut the belt.": straps = ["belt", "loop"]>\n'
    + '<step "Turn the end with the keeper in the fold.": hardware = ["buckle", "rivet"]>\n'
)


@pytest.mark.parametrize(
    ("edit", "asked"),
    [
        (None, 1),
        (("number = 2 }", 'number = 2, keeper = "loop" }'), 0),
        (("with the keeper in the fold", "and slide the keeper on"), 0),
        (("with the keeper in the fold", "and try the keeper; crease it in the fold"), 0),
        (('shape = "turned", back = "60 mm", around = "buckle", takes = "rivet", number = 2', 'shape = "rounded"'), 0),
    ],
)
def test_a_keeper_in_the_fold_by_words_alone_is_asked_about(
    ask_only: AskOnly, edit: tuple[str, str] | None, asked: int
) -> None:
    told = ask_only("keepers")(TURNED, *([edit] if edit else []))
    assert len(told) == asked
    assert all('"loop" in a fold' in line for line in told)


def test_one_that_slides_on_another_strap_is_not_the_one_that_is_meant(ask_only: AskOnly) -> None:
    """Beside a fixed keeper in the fold of the belt a second one is for its tail."""
    tail = BELT.replace("straps.belt", "straps.tail") + KEEPER.replace("straps.loop", "straps.slide")
    both = TURNED + tail.replace('keeper-for = "belt"', 'keeper-for = "tail"')
    assert len(ask_only("keepers")(both)) == 2
    assert ask_only("keepers")(both.replace("number = 2 }", 'number = 2, keeper = "loop" }', 1)) == []
