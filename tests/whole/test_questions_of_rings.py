"""What `check` asks of a ring with a notch, sewn round a base that has none: nothing says where on that it lies."""

from collections.abc import Callable

import pytest

Ask = Callable[..., list[str]]

BASE = '<rectangle base: ["200 mm", "120 mm"]>\nround = "20 mm"\n'
RING = (
    BASE
    + """\
<strip wall: ["150 mm", "solve"]>
cut = 2
notches = [{ on = "left" }]
<join tube: ["wall", "wall"], 10 mm>
ring = true
<seam foot: ["base: all", "tube: left"]>
"""
)


@pytest.fixture
def ask(ask_only: Callable[..., Ask]) -> Ask:
    return ask_only("begun_rings")


def test_a_ring_whose_notch_has_no_mate_on_its_base_is_asked_about(ask: Ask) -> None:
    (told,) = ask(RING)
    assert told.endswith(
        '"tube" has a notch where the seam "foot" sews it round "base", which has none: nothing says where on that it lies'
    )


@pytest.mark.parametrize(
    "edit",
    [
        ('round = "20 mm"', 'round = "20 mm"\nnotches = [{ on = "top" }, { on = "bottom" }]'),
        ('notches = [{ on = "left" }]\n', ""),
        ('notches = [{ on = "left" }]', 'notches = [{ on = "right" }]'),
        (BASE, '[pieces.base]\nof = "body"\nshape = "circle"\ndiameter = "200 mm"\n'),
    ],
    ids=["mates", "no notch", "a notch at the mouth", "a round base"],
)
def test_a_ring_that_begins_somewhere_or_anywhere_is_not(ask: Ask, edit: tuple[str, str]) -> None:
    assert ask(RING, edit) == []
