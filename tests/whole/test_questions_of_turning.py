"""What `check` asks of bags that are sewn face to face until nothing is open: through what they are turned.

That half of an opening, as round as it goes, is all that can be filled is common practice, no published source.
"""

import math
from collections.abc import Callable

import pytest

Ask = Callable[..., list[str]]

BAG = """\
<zip: coil zip, 30 mm, 0.6 mm>
stops = "0 mm"
<rectangle front: ["230 mm", "150 mm"]>
round = "38 mm"
<rectangle rear: ["230 mm", "150 mm"]>
round = "38 mm"
<strip over: ["90 mm", "260 mm"]>
laid = [{ goods = "zip", at = "centre", stitch = "main", window = "10 mm", clear = "80 mm" }]
<strip under: ["90 mm", "solve"]>
[joins.wall]
of = ["over", "under"]
overlap = "12 mm"
ring = true
stitch = "main"
<seam one: ["front: all", "wall: left"]>
turned = true
<seam two: ["rear: all", "wall: right"]>
turned = true
"""
PILLOW = """\
<rectangle one: ["200 mm", "150 mm"]>
<rectangle two: ["200 mm", "150 mm"]>
<seam round: ["one: all", "two: all"]>
turned = true
"""


@pytest.fixture
def ask(ask_only: Callable[..., Ask]) -> Ask:
    return ask_only("turned_through")


def test_a_bag_whose_zip_is_too_short_to_turn_it_through_is_asked_about(ask: Ask) -> None:
    """Its walls are 2 mm thick, and its narrowest way through is 82 by 142 mm, within seams 4 mm in: 2 x (82 + 142) x 2 =
    896 mm2 in half of a circle (2 x length) / pi across. The zip opens 260 - 2 x clear."""
    least_mm = math.sqrt(math.pi * 896 / 0.5)
    assert least_mm == pytest.approx(75.03, abs=0.01)
    assert ask(BAG, ("80 mm", "92.4 mm")) == []  # 75.2 mm
    (told,) = ask(BAG, ("80 mm", "92.6 mm"))  # 74.8 mm
    assert 'what "two" closes is turned through "zip", which opens 74.8 mm' in told
    assert "its walls go through about 75 mm" in told


def test_what_is_sewn_up_with_nothing_to_turn_it_through_is_asked_about(ask: Ask) -> None:
    (told,) = ask(PILLOW)
    assert '"round" closes all that is open of what is sewn face to face, and no zip or slit is left' in told
    assert ask(PILLOW, ("turned = true\n", "")) == []
    assert ask(PILLOW, ('"one: all", "two: all"', '"one: left bottom right", "two: left bottom right"')) == []


def test_which_of_two_notches_of_a_ring_meets_which_is_asked_about(ask_only: Callable[..., Ask]) -> None:
    """The middles of two strips lie half of the ring from each other, as those of bottom and top do of a panel."""
    ask = ask_only("notched_rings")
    own = 'notches = [{ on = "left" }, { on = "right" }]\n'
    text = BAG.replace('"260 mm"]>\n', f'"260 mm"]>\n{own}').replace('"solve"]>\n', f'"solve"]>\n{own}')
    both = text.replace('round = "38 mm"\n', 'round = "38 mm"\nnotches = [{ on = "bottom" }, { on = "top" }]\n')
    (told,) = ask(both)
    assert 'which of "over" and "under" comes to lie at its bottom and top is not said' in told
    assert ask(text.replace('round = "38 mm"\n', 'round = "38 mm"\nnotches = [{ on = "top" }]\n')) == []


LINED = """\
<fabric twill: 0.4 mm>
<zip: coil zip, 25 mm, 0.5 mm>
<rectangle front: ["120 mm", "90 mm"]>
<rectangle back: ["120 mm", "90 mm"]>
<rectangle front-lining of twill: ["120 mm", "90 mm"]>
<rectangle back-lining of twill: ["120 mm", "90 mm"]>
<seam mouth-front: ["front: top", "zip: left", "front-lining: top"]>
turned = true
<seam mouth-back: ["back: top", "zip: right", "back-lining: top"]>
turned = true
<seam round: ["front: left bottom right", "back: left bottom right"]>
turned = true
<seam round-lining: ["front-lining: left bottom right", "back-lining: left bottom right"]>
turned = true
<step "Sew the zip in.": seams = ["mouth-front", "mouth-back"]>
<step "Open the zip and sew both bags.": seams = ["round", "round-lining"]>
"""
BOTH = '<step "Open the zip and sew both bags.": seams = ["round", "round-lining"]>\n'
GAP = BOTH + 'last = ["Leave a hand\'s width open in the foot of the lining."]\n'


def test_a_lined_bag_with_no_gap_to_turn_it_through_is_asked_about(ask: Ask) -> None:
    """The zip opens the bag, and not what lies between it and its lining: common practice, no published source."""
    (told,) = ask(LINED)
    assert '"front", "front-lining", "back", "back-lining" are sewn face to face by all their edges' in told
    assert 'and "round-lining" leaves no gap to turn them through' in told
    twins = [
        (BOTH, GAP),
        (
            '"front-lining: left bottom right", "back-lining: left bottom right"',
            '"front-lining: left bottom", "back-lining: left bottom"',
        ),
        ('"back: top", "zip: right", "back-lining: top"', '"back: top", "zip: right"'),
    ]
    assert [ask(LINED, twin) for twin in twins] == [[], [], []]
