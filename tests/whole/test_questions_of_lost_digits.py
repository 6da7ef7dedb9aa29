"""What `check` asks of figures in another unit, and of those that have lost a digit or are measured from another end.

That a slip of one figure leaves such a build is plain from the work; from which figures on it is asked is our choice.
"""

from collections.abc import Callable

import pytest
from slipped_specs import BAND, BOX, FOLDS, HOOP, INCHES, KEPT, RING, SPINE, STEPS, TURN, WELT

Ask = Callable[..., list[str]]

CASES = {
    "one of three that has lost a digit": (
        STEPS,
        ('["90 mm", "100', '["9 mm", "100'),
        "30:",
        "others in its corner",
        ('["90 mm", "100', '["46 mm", "100'),
    ),
    "a row nearer to one end": (
        STEPS,
        ('"9 mm from left, 40 mm from end"', '"9 mm from left, 34 mm from end"'),
        "41:",
        "from its end",
        ('"9 mm from left, 40 mm from end"', '"9 mm from left, 38 mm from end"'),
    ),
    "hardly anything between two rows": (
        STEPS,
        ('["40 mm", "490 mm"]\n[[pieces.wall', '["17.9 mm", "490 mm"]\n[[pieces.wall'),
        "38:",
        "between the rows",
        ('["40 mm", "490 mm"]\n[[pieces.wall', '["18.1 mm", "490 mm"]\n[[pieces.wall'),
    ),
    "a bar too thick": (
        TURN,
        ('bar = "4 mm"', 'bar = "11 mm"'),
        "32:",
        "its bar 11 mm",
        ('bar = "4 mm"', 'bar = "10 mm"'),
    ),
    "a strap that lies fast nearly whole": (
        BAND,
        ('"300 mm"', '"49 mm"'),
        "39:",
        "lies fast over 30 mm",
        ('"300 mm"', '"51 mm"'),
    ),
    "a strap hardly longer than what lies back": (
        TURN,
        (
            'wears = "850 mm"\nholes = { count = 5, pitch = "25 mm", punch = "4 mm", tip = "80 mm" }',
            'finished = "120 mm"',
        ),
        "25:",
        "lies back at its ends",
        (
            'wears = "850 mm"\nholes = { count = 5, pitch = "25 mm", punch = "4 mm", tip = "80 mm" }',
            'finished = "121 mm"',
        ),
    ),
    "the first length of a list": (
        TURN,
        ('"350 mm"', '"1351 mm"'),
        "40:",
        "in lengths that rise",
        ('"350 mm"', '"1350 mm"'),
    ),
    "a skive to nothing": (TURN, ('to = "0.8', 'to = "0.29'), "18:", "is skived to", ('to = "0.8', 'to = "0.3')),
    "holes in what lies back": (TURN, ('"850 mm"', '"100 mm"'), "25:", "at its first hole", ('"850 mm"', '"111 mm"')),
    "the last length of a list": (
        TURN,
        ('"450 mm"', '"45 mm"'),
        "40:",
        "in lengths that rise",
        ('"450 mm"', '"390 mm"'),
    ),
    "ends of straps out of line": (
        BAND,
        ("40 mm from right, 84 mm", "44 mm from right, 84 mm"),
        "22:",
        "up from each other",
        ("40 mm from right, 84 mm", "40 mm from left, 84 mm"),
    ),
    "corners hardly round": (
        BOX,
        ('"20 mm", bottom-right = "20 mm"', '"2 mm", bottom-right = "2 mm"'),
        "18:",
        "sews a strip round corners of 2 mm",
        ('"20 mm", bottom-right = "20 mm"', '"5 mm", bottom-right = "5 mm"'),
    ),
    "a pocket that has lost a digit": (
        BOX,
        ('["60 mm", "80', '["12 mm", "80'),
        "22:",
        "is 12 mm",
        ('["60 mm", "80', '["18 mm", "80'),
    ),
    "a strip that has lost a digit": (
        BOX,
        ('["60 mm", "solve', '["8.9 mm", "solve'),
        "26:",
        '"wall" is 8.9 mm',
        ('["60 mm", "solve', '["9 mm", "solve'),
    ),
    "piping without its fold": (
        BOX,
        ('folds = [{ at = "centre" }]\n', ""),
        "27:",
        "for piping",
        ("[pieces.pipe]", "[pieces.strap]"),
    ),
    "a turned seam with nothing beyond it": (
        BOX,
        ('inset = "8 mm"', 'inset = "2.9 mm"'),
        "36:",
        "are turned",
        ('inset = "8 mm"', 'inset = "3 mm"'),
    ),
    "places of a strap from opposite edges": (
        BAND,
        ("84 mm from bottom", "84 mm from top"),
        "22:",
        "lie 60 mm from bottom and 84 mm from top",
        ("84 mm from bottom", "60 mm from top"),
    ),
    "hems of one piece": (
        BAND,
        ('"right", turn = "12 mm"', '"right", turn = "21 mm"'),
        "31:",
        '"flap" says 21 mm',
        ('"right", turn = "12 mm"', '"right", turn = "12 mm", double = true'),
    ),
    "a strap as wide as it is long": (BAND, ('"300 mm"', '"30 mm"'), "37:", "is 20 mm", ('"300 mm"', '"50 mm"')),
    "a measure called by a thing": (
        BAND,
        ('card = "86 mm"', 'card = "8 mm"'),
        "15:",
        '"card" is 8 mm',
        ('card = "86 mm"', 'card = "54 mm"'),
    ),
    "a size of which nothing is said": (
        BAND,
        ('measures = { card = "80 mm" }\n', ""),
        "43:",
        'other in "small"',
        ("[variants.small]", "[variants.plain]"),
    ),
    "a long stitch in mm among inches": (
        INCHES,
        ('"6 per inch"', '"6 mm"'),
        "15:",
        "4.2 per inch",
        ('"6 per inch"', '"5 mm"'),
    ),
    "one length in mm among inches": (
        INCHES,
        ('["wide", "tall"]', '["wide + 2 mm", "tall"]'),
        "20:",
        "is in mm, and the",
        ('["wide", "tall"]', '["wide + 2 in", "tall"]'),
    ),
    "a leather thicker than its animal": (INCHES, ('"4 oz"', '"4 mm"'), "11:", "and goat mostly", ('"4 oz"', '"5 oz"')),
    "a ring as narrow as it is thick": (
        RING,
        ('"80 mm"', '"8 mm"'),
        "22:",
        "closes to a ring 8 mm",
        ('"80 mm"', '"20 mm"'),
    ),
    "a strip that its laps take up": (
        HOOP,
        ('["72 mm", "240', '["72 mm", "24'),
        "21:",
        "and its laps",
        ('["72 mm", "240', '["72 mm", "44'),
    ),
    "two folds nearer than they bend": (
        SPINE,
        ('"175 mm from', '"160 mm from'),
        "20:",
        "5 mm (3/16 in) apart (line 19)",
        ('"175 mm from', '"162 mm from'),
    ),
    "a cover that bends once": (
        SPINE,
        ('  { at = "155 mm from left", open = true, angle = 90 },\n', ""),
        "14:",
        "does not come down",
        ("angle = 90 },\n]", "angle = 180 },\n]"),
    ),
    "a fold out of its order": (
        FOLDS,
        ('"150 mm from top"', '"90 mm from top"'),
        "21:",
        "the folds of",
        ('"150 mm from top"', '"140 mm from top"'),
    ),
    "a welt that the row misses": (
        WELT,
        ('"10 mm", "140', '"4 mm", "140'),
        "24:",
        "the needle goes past it",
        ('"10 mm", "140', '"5 mm", "140'),
    ),
    "a keeper wider than its strap": (KEPT, ('"14 mm"', '"31 mm"'), "23:", "is 31 mm", ('"14 mm"', '"30 mm"')),
    "a keeper of another leather": (
        KEPT,
        ('[straps.belt]\nof = "body"', '[straps.belt]\nof = "soft"'),
        "22:",
        "the keeper",
        ('[straps.loop]\nof = "body"', '[straps.loop]\nof = "soft"'),  # thinner than what it holds
    ),
    "a row without a middle hole": (
        KEPT,
        ('finished = "900 mm"', 'finished = "900 mm"\nholes = { count = 6, punch = "4 mm" }'),
        "21:",
        "no middle one",
        ('finished = "900 mm"', 'finished = "900 mm"\nholes = { count = 5, punch = "4 mm" }'),
    ),
    "a handle as long as a sling": (KEPT, ('"450 mm"', '"901 mm"'), "30:", "such handles", ('"450 mm"', '"900 mm"')),
    "straps left and right far apart": (
        KEPT,
        ('"700 mm"', '"200 mm"'),
        "38:",
        '"left" is 600 mm',
        ('"700 mm"', '"201 mm"'),
    ),
}


@pytest.mark.parametrize("name", CASES)
def test_a_figure_that_has_slipped_is_asked_about(name: str, ask: Ask) -> None:
    text, slip, line, words, twin = CASES[name]
    (told,) = [one for one in ask(text, slip) if words in one]
    assert told.startswith(line), told
    assert not [one for one in (*ask(text), *ask(text, twin)) if words in one]


def test_the_measures_of_a_figure_are_named_with_their_lines(ask: Ask) -> None:
    (told,) = [one for one in ask(RING, ('"80 mm"', '"8 mm"')) if "closes to a ring" in one]
    assert told.endswith('; "inside" on line 15')


HANDLE = """\
<back>
landings = [
  { strap = "handle", at = "50 mm left of centre, 40 mm from top", over = "30 mm", stitch = "main" },
  { strap = "handle", end = "second", at = "50 mm right of centre, 40 mm from top", over = "30 mm", stitch = "main" },
]
<bare front>
<seam>
<strap handle of body: 20 mm>
cut = 2
finished = "300 mm"
"""


def test_a_handle_that_is_held_by_one_end_alone_is_asked_about(ask: Ask) -> None:
    def told(*edits: tuple[str, str]) -> list[str]:
        return [one for one in ask(HANDLE, *edits) if "end alone" in one]

    assert told() == told(('end = "second", ', ""), ("[straps.handle]", "[straps.tie]"), *TIES) == []
    assert told(('end = "second", ', "")) == ['20: the handle "handle" is held by its first end alone']


TIES = (
    ('strap = "handle", at = "50 mm left', 'strap = "tie", at = "50 mm left'),
    ('strap = "handle", at = "50 mm right', 'strap = "tie", at = "50 mm right'),
)


def test_two_folds_from_opposite_sides_name_the_measures_of_the_size_between_them(ask: Ask) -> None:
    """By hand: 155 mm from either side of 2 x 155 + spine lie as far apart as the spine is wide."""
    folded = SPINE.replace('"330 mm"', '"2 * 155 mm + spine"').replace('"175 mm from left"', '"155 mm from right"')
    folded = '[measures]\nspine = "20 mm"\n' + folded

    def told(*edits: tuple[str, str]) -> list[str]:
        return [one for one in ask(folded, *edits) if "two folds" in one]

    assert told() == []
    (asked,) = told(('spine = "20 mm"', 'spine = "2 mm"'))
    assert "2 mm (3/32 in) apart" in asked
    assert 'in its size "spine" on line ' in asked
