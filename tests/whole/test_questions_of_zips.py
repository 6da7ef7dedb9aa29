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
