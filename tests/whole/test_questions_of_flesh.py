"""Leather laid on the inside of a piece that stands out over its edge: its flesh side is seen there, as two pieces flesh to
flesh tell. How far is seen is our choice."""

from collections.abc import Callable

import pytest

Ask = Callable[..., list[str]]

TAB = """\
<rectangle back: ["200 mm", "150 mm"]>
landings = [{ piece = "tab", at = "centre, 120 mm from bottom", inside = true }]
<rectangle tab: ["30 mm", "70 mm"]>
<bare front>
<seam tab: ["tab: left bottom right", "back"]>
<seam round: ["back: left bottom right", "front: left bottom right"]>
"""


@pytest.fixture
def ask(ask_only: Callable[..., Ask]) -> Ask:
    return ask_only("bared")


def test_leather_that_shows_its_flesh_side_over_the_edge_is_asked_about(ask: Ask) -> None:
    assert ask(TAB, ("120 mm from bottom", "90 mm from bottom")) == []
    (told,) = ask(TAB)
    assert told.split(": ", 1)[1] == (
        '"tab" lies inside "back", flesh on flesh, and stands out over its edge by 40 mm (1 9/16 in): its flesh side is '
        "seen from outside there"
    )


@pytest.mark.parametrize(
    "edit",
    [
        ('<rectangle tab: ["30 mm", "70 mm"]>', '<rectangle tab: ["30 mm", "70 mm"]>\nshows = "flesh"'),
        ('<rectangle tab: ["30 mm", "70 mm"]>', '<rectangle tab: ["30 mm", "70 mm"]>\nfolds = [{ at = "middle" }]'),
        (", inside = true", ""),
        ("<bare front>", '<rectangle own: ["30 mm", "70 mm"]>\nlines = ["tab"]\n<bare front>'),
    ],
    ids=["its grain side looks out", "folded", "on the outside", "lined"],
)
def test_one_that_does_not_is_not(ask: Ask, edit: tuple[str, str]) -> None:
    assert ask(TAB, edit) == []
