"""What `check` asks of shapes that are nearly even, and of what lies open: asked once, and silence where it is even.

That a slip of one figure leaves such a shape is plain from the work.
"""

from collections.abc import Callable

import pytest

Ask = Callable[..., list[str]]

BIB = """\
[pieces.bib]
of = "body"
shape = "outline"
points = [
  { at = ["0 mm", "0 mm"], edge = "foot" },
  { at = ["300 mm", "0 mm"], edge = "right" },
  { at = ["300 mm", "200 mm"], edge = "arm-right", curve = ["250 mm", "200 mm", "230 mm", "260 mm"] },
  { at = ["220 mm", "320 mm"], edge = "brow" },
  { at = ["80 mm", "320 mm"], edge = "arm-left", curve = ["70 mm", "260 mm", "50 mm", "200 mm"] },
  { at = ["0 mm", "200 mm"], edge = "left" },
]
[pieces.other]
of = "body"
like = "bib"
<seam a: ["bib: foot", "other: foot"]>
"""
PAIR = """\
[pieces.side]
of = "body"
cut = 2
pair = true
shape = "outline"
points = [
  { at = ["0 mm", "0 mm"], edge = "foot" },
  { at = ["200 mm", "0 mm"], edge = "fore" },
  { at = ["200 mm", "150 mm"], edge = "brow" },
  { at = ["0 mm", "120 mm"], edge = "aft" },
]
[pieces.other]
like = "side"
cut = 2
pair = true
<seam a: ["side: foot", "other: foot"]>
"""
ROW = """\
<back>
landings = [{ piece = "pocket", at = "centre, 20 mm from bottom" }]
<rectangle pocket: ["190 mm", "80 mm"]>
dividers = [
  { at = "30 mm from left", stitch = "main", on = "back" },
  { at = "60 mm from left", stitch = "main", on = "back" },
  { at = "90 mm from left", stitch = "main", on = "back" },
  { at = "120 mm from left", stitch = "main", on = "back" },
  { at = "150 mm from left", stitch = "main", on = "back" },
  { at = "180 mm from left", stitch = "main", on = "back" },
]
<seam a: ["pocket: left bottom right", "back"]>
"""


@pytest.fixture
def ask(ask_only: Callable[..., Ask]) -> Ask:
    return ask_only("shapes")


def test_an_outline_that_is_even_but_for_one_corner_is_asked_about(ask: Ask) -> None:
    (told,) = ask(BIB, ('["0 mm", "200 mm"]', '["0 mm", "190 mm"]'))
    assert '"bib" is even left and right of its middle but for two corners: 300 mm (11 13/16 in) across, 200 mm' in told
    (told,) = ask(BIB, ('"50 mm", "200 mm"]', '"50 mm", "210 mm"]'))
    assert '"bib" is even left and right of its middle but for two curves: ' in told
    assert ask(BIB) == []
    assert ask(BIB, ('["0 mm", "200 mm"]', '["0 mm", "199.6 mm"]')) == []


def test_what_is_meant_to_be_turned_over_is_not_asked_about(ask: Ask) -> None:
    assert ask(PAIR) == []
    (told,) = ask(PAIR, ("cut = 2\npair = true\nshape", "cut = 2\nshape"))
    assert told.endswith('all 2 of "side" are cut one way round, and half of "other" the other')


def test_a_row_of_dividing_lines_with_one_left_out_is_asked_about(ask: Ask) -> None:
    assert ask(ROW) == []
    (told,) = ask(ROW, ('  { at = "60 mm from left", stitch = "main", on = "back" },\n', ""))
    words = 'the dividing lines of "pocket" stand 30 mm (1 3/16 in) apart, and two of them 60 mm (2 3/8 in)'
    assert told == f"25: {words}"


def test_a_pocket_that_is_sewn_by_two_neighbouring_edges_is_asked_about(ask: Ask) -> None:
    plain = ROW[: ROW.index("dividers")] + '<seam a: ["pocket: left bottom right", "back"]>\n'
    assert ask(plain) == []
    (told,) = ask(plain, ("left bottom right", "left bottom"))
    assert told.endswith('"pocket" is sewn on by its left and bottom alone, and stays open above and at one side')


ROUNDED = """\
<back>
round = { bottom-left = "20 mm", bottom-right = "20 mm" }
<bare front>
<seam a: ["back: left bottom right", "front: left bottom right"]>
"""


def test_one_round_corner_of_two_that_a_seam_goes_round_is_asked_about(ask: Ask) -> None:
    assert ask(ROUNDED) == []
    (told,) = ask(ROUNDED, (', bottom-right = "20 mm"', ""))
    assert told == '18: "back" is sewn round its corners at bottom, bottom-left round and bottom-right square'
    (told,) = ask(ROUNDED, ("bottom-right =", "top-right ="))
    assert told.endswith("bottom-left round and bottom-right square, and is round at top-right too")


def test_corners_that_no_seam_goes_round_together_are_not_asked_about(ask: Ask) -> None:
    assert ask(ROUNDED, ('round = { bottom-left = "20 mm", bottom-right', "round = { top-left")) == []
    assert (
        ask(
            ROUNDED,
            (', bottom-right = "20 mm"', ""),
            ('["back: left bottom right", "front: left bottom right"]', '["back: left", "front: left"]'),
        )
        == []
    )
