"""Questions about match marks that stand on one side alone: common practice, no published source."""

from collections.abc import Callable

import pytest

Ask = Callable[..., list[str]]

GUSSET = """\
<rectangle front: ["200 mm", "150 mm"]>
notches = [{ on = "bottom" }]
[pieces.back]
like = "front"
<strip base: ["60 mm", "solve"]>
notches = [{ on = "left" }, { on = "right" }]
<seam front: ["front: left bottom right", "base: left"]>
<seam back: ["back: left bottom right", "base: right"]>
"""
LEFT = ('notches = [{ on = "left" }, { on = "right" }]', 'notches = [{ on = "left" }]')


@pytest.fixture
def ask(ask_only: Callable[..., Ask]) -> Ask:
    return ask_only("lone_notches")


def test_a_notch_without_its_like_across_is_asked_about(ask: Ask) -> None:
    assert ask(GUSSET) == []
    (told,) = ask(GUSSET, LEFT)
    assert told.endswith(
        '"base" has a notch on its left and none on its right, and in the seam "back" that meets one of "back" (line 18)'
    )


def test_a_side_that_meets_no_notch_needs_none(ask: Ask) -> None:
    assert ask(GUSSET, LEFT, ('like = "front"', 'like = "front"\nmarks = false')) == []
