"""What `check` asks of tabs that are folded round a ring and caught by both ends, by no row or by two, of bags behind the
window of a zip, and of dividing lines that go across each other.

That a slip of one figure or edge leaves such a build is plain from the work; how unlike is unlike is our choice.
"""

from collections.abc import Callable

import pytest

Ask = Callable[..., list[str]]

TAB = """\
<rectangle back: ["200 mm", "150 mm"]>
landings = [{ piece = "tab", at = "0 mm from right, 20 mm from top" }]
<bare front>
<rectangle tab: ["80 mm", "14 mm"]>
folds = [{ at = "centre", around = "ring" }]
skives = [
  { edges = "left", width = "12 mm", to = "0.6 mm" },
  { edges = "right", width = "12 mm", to = "0.6 mm" },
]
<seam s: ["back: left bottom right", "front: left bottom right"]>
<hardware ring: 1, ring, 15 mm>
inside = "15 mm"
bar = "2.5 mm"
"""


@pytest.mark.parametrize(
    ("old", "new", "told"),
    [
        (
            'edges = "right"',
            'edges = "top"',
            '"tab" is folded round "ring", and is skived along its left and not its right',
        ),
        (
            'edges = "right", width = "12 mm"',
            'edges = "right", width = "41 mm"',
            'the band along the right of "tab" is 41 mm (1 5/8 in) wide, and its fold lies 40 mm (1 9/16 in) from there',
        ),
        (
            'at = "centre", around',
            'at = "30 mm from left", around',
            'the fold of "tab" lies 30 mm (1 3/16 in) from its left and 50 mm (1 31/32 in) from its right: '
            "one is caught alone",
        ),
    ],
)
def test_a_tab_with_unlike_ends_is_asked_about(ask_only: Callable[..., Ask], old: str, new: str, told: str) -> None:
    ask = ask_only("tabs")
    assert ask(TAB) == []
    (found,) = ask(TAB, (old, new))
    assert found.split(": ", 1)[1] == told


def test_a_tab_whose_ends_differ_by_little_or_are_both_thin_is_not(ask_only: Callable[..., Ask]) -> None:
    ask = ask_only("tabs")
    assert ask(TAB, ('at = "centre", around', 'at = "38 mm from left", around')) == []
    assert ask(TAB, ('edges = "right", width = "12 mm"', 'edges = "right", width = "39 mm"')) == []


LABEL = """\
<rectangle label: ["50 mm", "22 mm"]>
<seam label: ["label: all", "back"]>
"""
BESIDE = '\nlandings = [{ piece = "tab", at = "0 mm from right, 20 mm from top" }'


def test_a_tab_that_no_row_or_two_rows_catch_is_asked_about(ask_only: Callable[..., Ask]) -> None:
    """The seams lie 4 mm in from the edge, and the folded tab is 40 mm by 14 mm."""
    ask = ask_only("tabs")
    (loose,) = ask(TAB, ("0 mm from right", "5 mm from right"))
    assert loose.endswith('"tab" has no hole and lies on "back", and no row of a seam goes through it there')
    assert ask(TAB, ("0 mm from right", "3 mm from right")) == []
    top = TAB + '<seam top: ["back: top", "front: top"]>\n'
    (twice,) = ask(top, ("20 mm from top", "3 mm from top"))
    assert twice.endswith('"tab" is caught on "back" by two rows, those of "s" and of "top"')
    assert ask(top, ("20 mm from top", "5 mm from top")) == []


def test_a_tab_beneath_what_is_sewn_on_beside_it_is_asked_about(ask_only: Callable[..., Ask]) -> None:
    ask = ask_only("tabs")
    label = (BESIDE, BESIDE + ', { piece = "label", at = "45 mm from right, 20 mm from top" }')
    assert ask(TAB + LABEL, label) == []
    (told,) = ask(TAB + LABEL, label, ("45 mm from right", "30 mm from right"))
    assert told.split("rows, ")[1] in ('those of "s" and of "label"', 'those of "label" and of "s"')


CROSSED = """\
<rectangle body: ["200 mm", "150 mm"]>
landings = [{ piece = "row", at = "0 from left, 0 from bottom" }]
<rectangle row: ["200 mm", "90 mm"]>
dividers = [
  { at = "60 mm from left", stitch = "main", on = "body" },
  { at = "120 mm from left", stitch = "main", on = "body" },
]
<seam row: ["row: left bottom right", "body"]>
"""


def test_dividing_lines_that_cross_are_asked_about(ask_only: Callable[..., Ask]) -> None:
    ask = ask_only("rooms")
    assert ask(CROSSED) == []
    (told,) = ask(CROSSED, ("120 mm from left", "50 mm from top"))
    assert told.endswith('two dividing lines of "row" go across each other')


# A window of 12 by 140 mm, 40 to 52 mm from the top and 30 mm from both sides, and a bag that begins 20 mm from the top.
BAGGED = """\
<zip: coil zip no. 5, 30 mm, 1 mm>
<rectangle front: ["200 mm", "180 mm"]>
laid = [{ goods = "zip", at = "46 mm from top", stitch = "main", window = "12 mm", clear = "30 mm" }]
landings = [{ piece = "bag", at = "centre, 20 mm from top", inside = true }]
<rectangle bag: ["170 mm", "120 mm"]>
<seam bag: ["bag: all", "front"]>
"""


def test_a_bag_that_does_not_reach_round_the_window_of_its_zip_is_asked_about(ask_only: Callable[..., Ask]) -> None:
    ask = ask_only("zips")
    assert ask(BAGGED) == []
    for slip in (
        ("centre, 20 mm from top", "centre, 50 mm from top"),
        ('["170 mm"', '["130 mm"'),
        ("46 mm from", "19 mm from"),
    ):
        (told,) = ask(BAGGED, slip)
        assert told.endswith('"bag" lies behind "front", and does not reach all round the window of its zip')


def test_what_is_sewn_on_the_like_of_its_host_is_asked_about(ask_only: Callable[..., Ask]) -> None:
    """A label that lands on the front, and is sewn to the back, which is like that and takes no marks of it."""
    text = """\
<rectangle front: ["200 mm", "150 mm"]>
landings = [{ piece = "label", at = "centre, middle" }]
[pieces.back]
like = "front"
marks = false
<rectangle label: ["50 mm", "22 mm"]>
<seam label: ["label: all", "front"]>
<seam s: ["front: left bottom right", "back: left bottom right"]>
"""
    ask = ask_only("held")
    words = '"label" lies on "front", and "label" sews it flat on "back"'
    assert not any(words in told for told in ask(text))
    assert any(words in told for told in ask(text, ('"label: all", "front"', '"label: all", "back"')))
