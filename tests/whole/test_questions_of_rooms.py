"""What `check` asks of rooms between dividing lines, of the sides on which like things lie, and of shares of a measure.

That a slip of one figure or word leaves such a build is plain from the work; how much wider a room is asked is our choice.
"""

from collections.abc import Callable

import pytest

AskOnly = Callable[..., Callable[..., list[str]]]
Ask = Callable[..., list[str]]

ROLL = """\
[measures]
slot = "50 mm"
half = "slot / 2"
<rectangle body: ["200 mm", "150 mm"]>
landings = [
  { piece = "row", at = "0 from left, 0 from bottom", inside = true },
  { piece = "cover", at = "0 from left, 0 from top", inside = true },
]
<rectangle row: ["200 mm", "90 mm"]>
dividers = [
  { at = "slot from left", stitch = "main", on = "body" },
  { at = "2 * slot from left", stitch = "main", on = "body" },
  { at = "3 * slot from left", stitch = "main", on = "body" },
]
<rectangle cover: ["200 mm", "40 mm"]>
<seam row: ["row: left bottom right", "body: left bottom right from bottom 90 mm to bottom 90 mm"]>
<seam cover: ["cover: top", "body: top"]>
[inside]
width = "48 mm"
height = "80 mm"
depth = "20 mm"
[[holds]]
what = "awl"
size = ["20 mm", "70 mm", "10 mm"]
"""


@pytest.fixture
def ask(ask_only: AskOnly) -> Ask:
    return ask_only("rooms", "sides", "measures")


def test_a_row_of_rooms_that_leaves_a_wide_one_is_asked_about(ask: Ask) -> None:
    assert ask(ROLL) == ask(ROLL, ('slot = "50 mm"', 'slot = "40 mm"')) == []
    told = ask(ROLL, ('slot = "50 mm"', 'slot = "20 mm"'))
    assert told == ['32: a room at the end of "row" is 140 mm (5 1/2 in) wide, and the others 20 mm (25/32 in)']


@pytest.mark.parametrize(
    ("size", "told"),
    [
        ('["49 mm", "70 mm", "10 mm"]', []),
        ('["55 mm", "70 mm", "10 mm"]', ["awl is 55 mm (2 5/32 in) across, and the widest room of"]),
        ('["20 mm", "160 mm", "10 mm"]', ["awl is 160 mm (6 5/16 in) long, and"]),
    ],
)
def test_a_thing_that_no_room_of_a_row_takes_is_asked_about(ask: Ask, size: str, told: list[str]) -> None:
    asked = ask(ROLL, ('size = ["20 mm", "70 mm", "10 mm"]', f"size = {size}"))
    assert len(asked) == len(told)
    assert all(words in line for words, line in zip(told, asked, strict=True))


def test_a_room_higher_than_any_piece_is_asked_about(ask: Ask) -> None:
    assert ask(ROLL, ('height = "80 mm"', 'height = "151 mm"')) == []
    told = ask(ROLL, ('height = "80 mm"', 'height = "180 mm"'))
    assert told == [
        '46: [inside] is 180 mm (7 3/32 in) high, and no piece is: the highest is "body", 150 mm (5 29/32 in)'
    ]


def test_a_share_that_its_name_does_not_say_is_asked_about(ask: Ask) -> None:
    assert ask(ROLL, ('half = "slot / 2"', 'half = "slot / 2 - 1 mm"')) == []
    assert ask(ROLL, ('half = "slot / 2"', 'half = "slot / 3"')) == ['16: "half" is written "slot / 3"']


def test_a_row_on_the_other_side_than_its_cover_is_asked_about(ask: Ask) -> None:
    row = '{ piece = "row", at = "0 from left, 0 from bottom", inside = true }'
    cover = '{ piece = "cover", at = "0 from left, 0 from top", inside = true }'
    outside = [(line, line.replace(", inside = true", "")) for line in (row, cover)]
    assert ask(ROLL, *outside) == []
    assert ask(ROLL, outside[0]) == ['22: "row" lies outside on "body", and "cover", as wide, inside']


FOLDED = """\
<rectangle back: ["200 mm", "300 mm"]>
folds = [
  { at = "150 mm from bottom", open = true, angle = 90, inside = "flesh" },
  { at = "200 mm from bottom", open = true, angle = 90, inside = "flesh" },
]
"""


def test_two_folds_with_unlike_sides_inside_are_asked_about(ask: Ask) -> None:
    flesh = '"200 mm from bottom", open = true, angle = 90, inside = "flesh"'
    grain = flesh.replace("flesh", "grain")
    assert ask(FOLDED) == ask(FOLDED, (flesh, grain.replace("90", "60"))) == []
    assert ask(FOLDED, (flesh, grain)) == ['20: a fold of "back" has grain inside, and the one in line 19 flesh']


COVER = """\
<rectangle cover: ["240 mm", "TALL"]>
folds = [
  { at = "110 mm from left", open = true, angle = 90 },
  { at = "110 mm from right", open = true, angle = 90 },
]
landings = [
  { piece = "sleeve", at = "0 from left, 0 from bottom", inside = true },
  { piece = "other", at = "0 from right, 0 from bottom", inside = true },
]
<rectangle sleeve: ["60 mm", "TALL"]>
<rectangle other: ["60 mm", "TALL"]>
<seam one: ["cover: top left bottom from right 180 mm to right 180 mm", "sleeve: top right bottom"]>
<seam two: ["cover: bottom right top from left 180 mm to left 180 mm", "other: bottom left top"]>
[inside]
width = "220 mm"
height = "150 mm"
depth = "20 mm"
[[holds]]
what = "book"
size = ["105 mm", "148 mm", "18 mm"]
"""


def test_a_book_higher_than_the_room_between_the_rows_of_its_sleeves_is_asked_about(ask: Ask) -> None:
    """The rows lie 4 mm in from the edges: of 158 mm they leave 150 mm."""
    assert ask(COVER.replace("TALL", "158 mm")) == []
    (told,) = ask(COVER.replace("TALL", "156 mm"))
    assert told.split(": ", 1)[1] == (
        "[inside] says 150 mm (5 29/32 in), and between the rows at bottom and top of "
        '"sleeve" there are 148 mm (5 13/16 in)'
    )
    (told,) = ask(COVER.replace("TALL", "155 mm"))
    assert "book is 148 mm (5 13/16 in) one way" in told


def test_a_pocket_sewn_flat_on_a_bag_is_no_sleeve(ask: Ask) -> None:
    flat = ('"cover: top left bottom from right 180 mm to right 180 mm"', '"cover"')
    other = ('"cover: bottom right top from left 180 mm to left 180 mm"', '"cover"')
    assert ask(COVER.replace("TALL", "155 mm"), flat, other) == []
