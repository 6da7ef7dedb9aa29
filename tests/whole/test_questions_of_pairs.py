"""What `check` asks of two that are alike but for one figure or word: landings, holes, ends of straps, corners.

That both ends of a strap round one kind of ring, a left and a right strap, and both sides of an even piece are made alike
is common practice, no published source.
"""

from collections.abc import Callable

import pytest

Ask = Callable[..., list[str]]

HARNESS = """\
<back>
round = { top-left = "20 mm", top-right = "20 mm" }
holes = [
  { at = "30 mm from left, 60 mm from top", punch = "4 mm", takes = "rivet", through = ["closer"] },
  { at = "30 mm from right, 60 mm from top", punch = "4 mm", takes = "rivet", through = ["closer"] },
]
hole-rows = [
  { start = "9 mm from left, middle", end = "9 mm from left, 9 mm from top", count = 2, punch = "5 mm", takes = "e" },
  { start = "9 mm from right, middle", end = "9 mm from right, 9 mm from top", count = 2, punch = "5 mm", takes = "e" },
]
landings = [
  { strap = "lead-left", at = "30 mm from left, 60 mm from bottom", leads = "left", over = "25 mm", stitch = "main" },
  { strap = "lead-right", at = "30 mm from right, 60 mm from bottom", leads = "right", over = "25 mm", stitch = "main" },
]
<strap lead-left of body: 20 mm>
finished = "300 mm"
ends = [{ shape = "square" }, { shape = "turned", back = "50 mm", around = "dee", skive = { over = "40 mm", to = "1 mm" } }]
<strap lead-right of body: 20 mm>
finished = "300 mm"
ends = [{ shape = "square" }, { shape = "turned", back = "50 mm", around = "dee", skive = { over = "40 mm", to = "1 mm" } }]
<strap sling of body: 20 mm>
finished = "900 mm"
ends = [
  { shape = "turned", back = "60 mm", around = "dee", takes = "rivet" },
  { shape = "turned", back = "60 mm", around = "dee", takes = "rivet" },
]
punches = [{ at = "centre, 20 mm from start", punch = "4 mm" }, { at = "centre, 20 mm from end", punch = "4 mm" }]
<strap closer of body: 20 mm>
finished = "150 mm"
<hardware rivet: 4, double-cap rivet 8 mm>
<hardware e: 4, eyelet 5 mm>
<hardware dee: 4, D ring 20 mm>
inside = "21 mm"
"""
LAST = '{ shape = "turned", back = "60 mm", around = "dee", takes = "rivet" },\n]'
RIGHT = 'lead-right", at = "30 mm from right, 60 mm from bottom", leads = "right"'
LED = 'leads = "right", over = "25 mm", stitch = "main"'
HOLE = '30 mm from right, 60 mm from top", punch = "4 mm", takes = "rivet", through = ["closer"] }'
ROW = '9 mm from right, 9 mm from top", count = 2, punch = "5 mm", takes = "e" }'
ROUND = 'round = { top-left = "20 mm", top-right = "20 mm" }'
TWIN = '[straps.lead-right]\nof = "body"\nwidth = "20 mm"'
RIGHT_END = f'{TWIN}\nfinished = "300 mm"\nends = [{{ shape = "square" }}, {{ shape = "turned", back = "50 mm"'
SKIVED = f'{RIGHT_END}, around = "dee", skive = {{ over = "40 mm"'
CLOSER = (
    'finished = "150 mm"',
    'finished = "150 mm"\npunches = [{ at = "centre, 15 mm from start", punch = "4 mm" }, '
    '{ at = "centre, 15 mm from end", punch = "4 mm" }]',
)
NOT_SEWN = ('over = "25 mm", stitch = "main" },\n  {', 'over = "25 mm" },\n  {')
RIVETS = 'double-cap rivet 8 mm"\ncount = 4'
EMPTY = HOLE.replace('takes = "rivet", ', "")


def replace(text: str, *edits: tuple[str, str]) -> tuple[tuple[str, str], ...]:
    new = text
    for old, words in edits:
        assert old in new
        new = new.replace(old, words)
    return ((text, new),)


# The module, the slip, words of what is asked, and a silent twin.
CASES = {
    "a hole that takes nothing": (
        "pairs",
        ((HOLE, EMPTY),),
        '"rivet" is counted 4 times, and 3 of its places are known',
        ((HOLE, EMPTY), (RIVETS, RIVETS.replace("4", "3"))),
    ),
    "a row that takes nothing": (
        "pairs",
        replace(ROW, (', takes = "e"', "")),
        '"e" is counted 4 times, and 2 of its places are known',
        replace(ROW, (', takes = "e"', ""), ("count = 2", "count = 3")),
    ),
    "a hole that goes through nothing": (
        "pairs",
        replace(HOLE, (', through = ["closer"]', "")),
        'goes through "closer" too, and its like across "back" does not',
        replace(HOLE, (', through = ["closer"]', ""), ("60 mm", "75 mm")),
    ),
    "a hole farther in than its like": (
        "pairs",
        replace(HOLE, ("30 mm", "40 mm")),
        'the two like holes of "back" lie 30 mm from left and 40 mm from right',
        replace(HOLE, ("30 mm", "40 mm"), ("60 mm", "65 mm")),
    ),
    "a hole beside a fold that runs along the way in which they are apart": (
        "pairs",
        (
            *replace(HOLE, ("30 mm", "40 mm")),
            (ROUND, f'{ROUND}\nfolds = [{{ at = "20 mm from bottom", open = true }}]'),
        ),
        "the two like holes",
        (*replace(HOLE, ("30 mm", "40 mm")), (ROUND, f'{ROUND}\nfolds = [{{ at = "centre", open = true }}]')),
    ),
    "a right strap that lands higher": (
        "pairs",
        replace(RIGHT, ("60 mm", "80 mm")),
        'two ends of "lead-left" and "lead-right" lie 60 mm from bottom and 80 mm from bottom on "back"',
        replace(RIGHT, ("60 mm", "80 mm"), ("30 mm", "40 mm")),
    ),
    "a right strap that leads as the left one": (
        "pairs",
        replace(RIGHT, ('leads = "right"', 'leads = "left"')),
        'two ends of "lead-left" and "lead-right" lie mirrored on "back", and lead left (line',
        (('leads = "left"', 'leads = "up"'), ('leads = "right"', 'leads = "up"')),
    ),
    "one of two that is not sewn": (
        "pairs",
        replace(LED, (', stitch = "main"', "")),
        'is sewn with "main"',
        (NOT_SEWN, *replace(LED, (', stitch = "main"', ""))),
    ),
    "an end that lies back farther than the other": (
        "ends_unlike",
        replace(LAST, ("60 mm", "84 mm")),
        'both ends of "sling" are turned round "dee", and lie back 60 mm',
        replace(LAST, ("60 mm", "83 mm")),
    ),
    "the end of a right strap that lies back farther": (
        "ends_unlike",
        replace(RIGHT_END, ("50 mm", "100 mm")),
        'the second ends of "lead-left" and "lead-right" are turned round one fitting, and lie back 50 mm',
        (*replace(RIGHT_END, ("50 mm", "100 mm"), ("20 mm", "18 mm")),),
    ),
    "the end of a right strap that is skived over less": (
        "ends_unlike",
        replace(SKIVED, ("40 mm", "28 mm")),
        "and are skived over 40 mm",
        replace(SKIVED, ("40 mm", "29 mm")),
    ),
    "a hole nearer to its end than its like": (
        "ends_unlike",
        (("20 mm from end", "14 mm from end"),),
        'of the holes at both ends of "sling" one lies 20 mm',
        (("20 mm from end", "16 mm from end"),),
    ),
    "a hole of a strap with square ends nearer than its like": (
        "ends_unlike",
        (CLOSER, ("15 mm from end", "9 mm from end")),
        'of the holes at both ends of "closer" one lies 15 mm',
        (CLOSER, ("15 mm from end", "11 mm from end")),
    ),
    "a corner that stays sharp": (
        "lone_corners",
        replace(ROUND, (', top-right = "20 mm"', "")),
        'the outline of "back" is even but for the corner 200 mm (7 7/8 in) from its left and 150 mm',
        replace(ROUND, ('top-right = "20 mm"', 'top-right = "15 mm"')),
    ),
    "an only corner, and one that is a shape of its own": (
        "lone_corners",
        replace(ROUND, ('top-left = "20 mm", top-right = "20 mm"', 'bottom-left = "37 mm"')),
        "is even but for the corner",
        replace(ROUND, ('top-left = "20 mm", top-right = "20 mm"', 'bottom-left = "38 mm"')),
    ),
}


@pytest.mark.parametrize("name", CASES)
def test_what_is_unlike_its_like_is_asked_about(name: str, ask_only: Callable[..., Ask]) -> None:
    module, slip, words, twin = CASES[name]
    ask = ask_only(module)
    (told,) = ask(HARNESS, *slip)
    assert words in told
    assert ask(HARNESS) == ask(HARNESS, *twin) == []


def test_one_of_four_corners_that_stays_sharp_beside_an_end_round_from_side_to_side(
    ask_only: Callable[..., Ask],
) -> None:
    """Half of an end of 60 mm is round by 30 mm: the arc ends in the middle, where no point lacks its like."""
    ask = ask_only("lone_corners")
    tag = '<rectangle tag: ["60 mm", "150 mm"]>\n'
    tag += 'round = { top-left = "30 mm", bottom-left = "9 mm", bottom-right = "9 mm" }\n'

    assert len(ask(tag)) == 1
    assert ask(tag, ('top-left = "30 mm"', 'top-left = "30 mm", top-right = "30 mm"')) == []
    assert ask(tag, ('top-left = "30 mm", bottom-left = "9 mm", ', 'top-right = "9 mm", ')) == [], "round at one side"


def test_a_pocket_round_in_the_corner_where_it_lies_is_no_odd_one(ask_only: Callable[..., Ask]) -> None:
    """It lies along two edges of its panel; along three, as wide as that, one round corner lacks its like."""
    text = '<back>\nlandings = [{ piece = "card", at = "0 from left, 0 from bottom" }]\n'
    text += '<rectangle card: ["90 mm", "60 mm"]>\nround = { bottom-left = "6 mm" }\n'
    ask = ask_only("lone_corners")

    assert ask(text) == []
    assert len(ask(text, ('["90 mm", "60 mm"]', '["200 mm", "60 mm"]'))) == 1
