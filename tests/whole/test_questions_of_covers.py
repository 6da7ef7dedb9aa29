"""What `check` asks of panels on what folds: sleeves of a cover and the front of a pouch lie within the fold.

That sleeves lie inside a cover is plain from the work; how far a panel reaches that is taken for one is our choice.
"""

from collections.abc import Callable

import pytest

AskOnly = Callable[..., Callable[..., list[str]]]
Ask = Callable[..., list[str]]

LEFT = '{ piece = "left", at = "0 from left, 0 from bottom" }'
RIGHT = '{ piece = "right", at = "0 from right, 0 from bottom" }'
COVER = f"""\
<rectangle cover: ["200 mm", "140 mm"]>
folds = [{{ at = "centre", open = true }}]
landings = [{LEFT}, {RIGHT}]
<rectangle left: ["60 mm", "140 mm"]>
<rectangle right: ["60 mm", "140 mm"]>
<seam left: ["left: top left bottom", "cover"]>
<seam right: ["right: bottom right top", "cover"]>
"""
INSIDE = [(one, one.replace(" }", ", inside = true }")) for one in (LEFT, RIGHT)]
POUCH = """\
<rectangle back: ["100 mm", "200 mm"]>
folds = [{ at = "120 mm from bottom", open = true }]
landings = [{ piece = "front", at = "centre, 0 from bottom" }]
<rectangle front: ["100 mm", "70 mm"]>
<seam round: ["front: left bottom right", "back"]>
"""


@pytest.fixture
def ask(ask_only: AskOnly) -> Ask:
    return ask_only("sides")


def test_sleeves_on_the_outside_of_a_cover_are_asked_about(ask: Ask) -> None:
    assert ask(COVER) == [
        '19: "left" and "right" lie on the outside of "cover", level with its edges, and that folds flesh side in'
    ]
    assert ask(COVER, *INSIDE) == []
    assert ask(COVER, ("open = true", 'open = true, inside = "grain"')) == []


@pytest.mark.parametrize(("high_mm", "is_told"), [(60, True), (59, False)])
def test_a_front_that_reaches_half_way_to_a_flap_is_asked_about(ask: Ask, high_mm: int, is_told: bool) -> None:
    """120 mm lie below the fold: less than half of that is a band along the foot."""
    assert bool(ask(POUCH, ('"70 mm"', f'"{high_mm} mm"'))) is is_told


def test_a_pocket_beside_the_edges_is_no_front(ask: Ask) -> None:
    assert ask(POUCH, ('["100 mm", "70 mm"]', '["96 mm", "70 mm"]')) == []
