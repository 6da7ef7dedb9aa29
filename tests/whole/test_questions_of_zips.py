"""What `check` asks of zips that do not go with the edges along which they are sewn.

That a slip of one figure or switch leaves such a build is plain from the work; how short is short is our choice.
"""

from collections.abc import Callable

import pytest

Ask = Callable[..., list[str]]

# A mouth of 200 mm: its rows run from edge to edge.
CASE = """\
<zip: coil zip no. 5, 26 mm, 1 mm>
length = "200 mm"
<back>
<bare front>
<seam a: ["back: top", "zip: left"]>
turned = true
<seam b: ["front: top", "zip: right"]>
turned = true
"""


@pytest.fixture
def ask(ask_only: Callable[..., Ask]) -> Ask:
    return ask_only("zips")


def test_a_zip_longer_than_its_mouth_or_far_shorter_is_asked_about(ask: Ask) -> None:
    assert ask(CASE) == []
    (told,) = ask(CASE, ('length = "200 mm"', 'length = "204 mm"'))
    assert told.endswith(
        '"zip" is 204 mm (8 1/32 in) long between its stops, and what it is sewn along 200 mm (7 7/8 in)'
    )
    (told,) = ask(CASE, ('length = "200 mm"', 'length = "150 mm"'))
    assert '"zip" is 150 mm' in told
    assert ask(CASE, ('length = "200 mm"', 'length = "160 mm"')) == []


def test_a_zip_of_which_one_side_is_turned_is_asked_about(ask: Ask) -> None:
    (told,) = ask(CASE, ('"zip: right"]\nturned = true', '"zip: right"]'))
    assert told.endswith('one side of "zip" is sewn face to face and turned, in "a", and the other, in "b", is not')
    assert (
        ask(CASE, ('"zip: left"]\nturned = true', '"zip: left"]'), ('"zip: right"]\nturned = true', '"zip: right"]'))
        == []
    )


# A window 25 mm clear of both sides, 40 mm below the top of the panel, and a bag as wide as that over it.
BAG = """\
<zip: coil zip, 30 mm, 0.6 mm>
<rectangle panel: ["300 mm", "250 mm"]>
laid = [{ goods = "zip", at = "40 mm from top", window = "10 mm", clear = "25 mm", stitch = "main" }]
landings = [{ piece = "bag", at = "centre, 20 mm from top" }]
<rectangle bag: ["300 mm", "150 mm"]>
<rectangle back: ["300 mm", "250 mm"]>
<seam s: ["panel: bottom", "back: bottom"]>
"""


def test_a_bag_laid_over_the_window_of_a_zip_is_asked_about(ask: Ask) -> None:
    lands = '{ piece = "bag", at = "centre, 20 mm from top" }'
    (told,) = ask(BAG)
    assert told.endswith('"bag" lies on the side of "panel" that shows, and covers the window of its zip')
    assert ask(BAG, (lands, '{ piece = "bag", at = "centre, 20 mm from top", inside = true }')) == []
    assert ask(BAG, (lands, '{ piece = "bag", at = "centre, 80 mm from top" }')) == []


def test_a_flap_over_the_window_is_not(ask: Ask) -> None:
    hung = (
        '<seam s: ["panel: bottom", "back: bottom"]>',
        '<seam s: ["panel: bottom", "back: bottom"]>\n<seam hang: ["bag: top", "panel"]>',
    )
    assert ask(BAG, hung) == []


FOLDED = BAG.replace('20 mm from top" }]', '20 mm from top", inside = true }]').replace(
    '<rectangle bag: ["300 mm", "150 mm"]>\n', '<rectangle bag: ["300 mm", "300 mm"]>\nfolds = [{ at = "middle" }]\n'
)


def test_a_bag_that_is_folded_behind_its_zip_and_not_sewn_is_asked_about(ask: Ask) -> None:
    (told,) = ask(FOLDED)
    assert told.split(": ", 1)[1] == (
        '"bag" is folded behind the window of the zip in "panel", and nothing joins its two layers: what is put in falls '
        "out at its sides"
    )
    assert ask(FOLDED, ('folds = [{ at = "middle" }]\n', "")) == []  # one layer, which is glued all round
    halves = '"bag: left from bottom 0 mm to bottom 149 mm", "bag: left from bottom 300 mm to bottom 151 mm"'
    assert ask(FOLDED + f"<seam side: [{halves}]>\n") == []
    assert ask(FOLDED, ("inside = true", "inside = false")) != [told]
