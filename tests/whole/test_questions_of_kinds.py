"""What `check` asks of words, of pieces by what they are called, and of straps that close over a flap.

That a slip of one word or figure leaves such a build is plain from the work; how near is near is our choice.
"""

from collections.abc import Callable

import pytest

Ask = Callable[..., list[str]]


@pytest.fixture
def ask(ask_only: Callable[..., Ask]) -> Ask:
    return ask_only("spelling", "pieces", "straps_closing", "entries", "words")


WORDS = """\
<bag>
<leather suede: 1 mm>
edges = "left as cut"
colour = "chestnut"
[variants.black]
axis = "colour"
materials.body = { colour = "black" }
"""


def test_a_free_word_that_looks_misspelt_is_asked_about(ask: Ask) -> None:
    assert ask(WORDS) == ask(WORDS, ('"chestnut"', '"oxblood"')) == ask(WORDS, ('"colour"', '"color"')) == []
    assert ask(WORDS, ('"chestnut"', '"chesnut"')) == [
        '27: "chesnut" stands here, and "chestnut" is what is usual, or stands elsewhere'
    ]
    assert ask(WORDS, ('"colour"', '"clour"')) == [
        '29: "clour" stands here, and "colour" is what is usual, or stands elsewhere'
    ]
    (told,) = ask(WORDS, ("left as cut", "bottom as cut"))
    assert told.startswith('26: "bottom as cut" stands here for what is done with cut edges')


LININGS = """\
<leather soft: 1 mm>
<rectangle front: ["200 mm", "150 mm"]>
<rectangle back: ["200 mm", "150 mm"]>
<seam s: ["back: left", "front: left"]>
<rectangle front-lining of soft: ["200 mm", "150 mm"]>
<rectangle back-lining of soft: ["200 mm", "150 mm"]>
"""


def test_a_lining_of_what_it_lines_and_a_front_and_back_of_two_leathers_are_asked_about(ask: Ask) -> None:
    assert ask(LININGS) == []
    size = '["200 mm", "150 mm"]>'
    told = ask(LININGS, (f"<rectangle back-lining of soft: {size}", f"<rectangle back-lining: {size}"))
    assert told == ['33: "back-lining" is of "body", as what it lines is, and the other linings are of "soft"']
    assert ask(LININGS.replace("lining of soft", "lining")) == []
    (told,) = ask(LININGS, (f"<rectangle back: {size}", f"<rectangle back of soft: {size}"))
    assert told.endswith('"front" is of "body", and "back" of "soft"')


LOOP = """\
<bag>
<rectangle loop: ["50 mm", "25 mm"]>
folds = [{ at = "centre" }]
<seam loop: ["loop: left", "back"]>
<step "Fold the pen loop and sew its edge to the back.": seams = ["loop"]>
"""


def test_a_piece_that_a_step_folds_without_a_fold_is_asked_about(ask: Ask) -> None:
    assert ask(LOOP) == []
    assert ask(LOOP, ('folds = [{ at = "centre" }]\n', ""), ("Fold the pen loop", "Lay the pen loop down")) == []
    (told,) = ask(LOOP, ('folds = [{ at = "centre" }]\n', ""))
    assert told.endswith('folds "loop", which has no fold')


PEN = """\
<rectangle pen: ["50 mm", "25 mm"]>
title = "Pen loop"
folds = [{ at = "centre" }]
<seam pen: ["pen: left", "back"]>
"""
WITHIN = """\
<bag>
<rectangle pocket: ["80 mm", "60 mm"]>
<rectangle back-lining: ["190 mm", "140 mm"]>
landings = [{ piece = "pocket", at = "centre, 30 mm from bottom" }]
<seam hem: ["pocket: top", "pocket"]>
<seam pocket: ["pocket: left bottom right", "back-lining"]>
<seam lining: ["back-lining: top", "front"]>
<step "Turn the hem, sew the pocket to the back lining.": seams = ["hem", "pocket"]>
"""


def test_the_name_of_a_part_within_the_title_of_another_is_not_that_part(ask: Ask) -> None:
    flat = LOOP.replace('folds = [{ at = "centre" }]\n', "")
    assert any(told.endswith('folds "loop", which has no fold') for told in ask(flat))
    assert not any("which has no fold" in told for told in ask(flat + PEN))
    assert not any("the step in line" in told for told in ask(WITHIN))
    other = ask(WITHIN, ('right", "back-lining"', 'right", "front"'), ('{ piece = "pocket",', '{ piece = "back",'))
    assert [told.partition(" sews ")[2] for told in other if "the step in line" in told] == [
        '"pocket" to "back-lining", and "pocket" sews it to "front"'
    ]


def test_a_step_that_punches_pieces_and_lists_none_is_asked_about(ask: Ask) -> None:
    text = '<bag>\n<strap tab of body: 20 mm>\nfinished = "100 mm"\n'
    text += '<step "Punch front and back, and the tab.": straps = ["tab"]>\n'
    (told,) = ask(text)
    assert told.endswith('a step punches or cuts "back" and "front", and lists no piece')
    assert ask(text, ("Punch front and back", "Glue front and back")) == []
    assert ask(text, ('straps = ["tab"]', 'straps = ["tab"]\npieces = ["front", "back"]')) == []


DIVIDED = """\
<rectangle sheet: ["300 mm", "200 mm"]>
landings = [{ piece = "pocket", at = "0 mm from left, 0 mm from bottom" }]
<rectangle pocket: ["300 mm", "80 mm"]>
dividers = [
  { at = "50 mm from left", stitch = "main", on = "sheet" },
  { at = "100 mm from left", stitch = "main", on = "sheet" },
  { at = "150 mm from left", stitch = "main", on = "sheet" },
  { at = "200 mm from left", stitch = "main", on = "sheet" },
]
<seam s: ["pocket: left bottom right", "sheet: left bottom right from bottom 80 mm to bottom 80 mm"]>
"""


def test_a_dividing_line_off_its_even_place_is_asked_about(ask: Ask) -> None:
    assert ask(DIVIDED) == ask(DIVIDED, ("200 mm from left", "220 mm from left")) == []
    (told,) = ask(DIVIDED, ("150 mm from left", "140 mm from left"))
    assert told.startswith('26: a dividing line of "pocket" lies 40 mm (1 9/16 in) from one neighbour and 60 mm')
    uneven = ("50 mm from left", "40 mm from left"), ("100 mm", "85 mm")
    assert ask(DIVIDED.replace("150 mm from", "145 mm from"), *((f'at = "{a}', f'at = "{b}') for a, b in uneven)) == []


CLOSING = """\
<hardware buckle: 1, buckle>
bar = "3 mm"
<rectangle front: ["200 mm", "150 mm"]>
landings = [{ piece = "tab", at = "centre, 30 mm from bottom" }]
holes = [{ at = "centre, 40 mm from bottom", punch = "4 mm" }]
<rectangle back: ["200 mm", "150 mm"]>
landings = [{ piece = "flap", at = "centre, 25 mm from top" }]
<rectangle flap: ["180 mm", "125 mm"]>
folds = [
  { at = "25 mm from top", open = true, angle = 90 },
  { at = "55 mm from top", open = true, angle = 90 },
]
landings = [{ strap = "closing", at = "centre, 30 mm from bottom", leads = "down", over = "30 mm", stitch = "main" }]
<strip wall: ["30 mm", "solve"]>
<rectangle tab: ["20 mm", "60 mm"]>
folds = [{ at = "middle", around = "buckle" }]
<seam flap: ["flap: top", "back"]>
<seam tab: ["tab: bottom", "front"]>
<seam front: ["front: left bottom right", "wall: left"]>
<seam back: ["back: left bottom right", "wall: right"]>
<strap closing of body: 20 mm>
wears = "50 mm"
holes = { count = 3, pitch = "10 mm", punch = "4 mm", tip = "20 mm" }
ends = [{ shape = "rounded" }, { shape = "pointed" }]
"""


def test_a_strap_that_does_not_come_to_its_buckle_and_a_fold_beneath_its_end_are_asked_about(ask: Ask) -> None:
    """Laid half round about its row, 4 in, the flap's own top lies 33 below that of the back: it goes 33 up to the mouth,
    where it bends, 30 over it and 62 down, with the strap 32 below the mouth and the buckle 90."""
    assert ask(CLOSING) == ask(CLOSING, ('wears = "50 mm"', 'wears = "58 mm"')) == []
    (told,) = ask(CLOSING, ('wears = "50 mm"', 'wears = "90 mm"'))
    words = '37: closed, the buckle of "closing" lies {} from where the strap begins on "flap"'
    assert told == words.format("58 mm (2 9/32 in)") + ", and its holes 80 mm (3 5/32 in) to 100 mm (3 15/16 in)"
    (same,) = ask(CLOSING, ('wears = "50 mm"', 'finished = "120 mm"'))
    assert ask(CLOSING, ('wears = "50 mm"', 'finished = "80 mm"')) == []
    assert same == told
    (told,) = ask(CLOSING, ('centre, 30 mm from bottom" }', 'centre, 60 mm from bottom" }'))
    assert (
        told == words.format("28 mm (1 3/32 in)") + ", beneath the flap, whose edge lies 30 mm (1 3/16 in) from there"
    )
    told = ask(CLOSING, ('"55 mm from top"', '"112 mm from top"'))[0]
    assert told.startswith('35: a fold of "flap" runs beneath the end of "closing" (line 37), 13 mm')


def test_a_sum_whose_figure_is_taken_away_where_others_are_added_is_asked_about(ask: Ask) -> None:
    text = """\
[measures]
tall = "80 mm"
<back>
holes = [
  { at = "20 mm from left, tall + 20 mm from bottom", punch = "5 mm" },
  { at = "centre, tall + 35 mm from bottom", punch = "4 mm" },
  { at = "20 mm from right, tall + 50 mm from bottom", punch = "3 mm" },
  { at = "50 mm from right, tall + 60 mm from bottom", punch = "2 mm" },
]
<bare front>
<seam>
"""
    assert ask(text) == ask(text, ("tall + 20 mm", "tall - 20 mm"), ("tall + 35 mm", "tall - 35 mm")) == []
    (told,) = ask(text, ("tall + 35 mm", "tall - 35 mm"))
    assert told.startswith('22: "tall - 35 mm from bottom" of "back" has the measures of "tall + 20 mm from bottom"')


STIFF = """\
<leather soft: 1 mm>
title = "pig lining"
[materials.card]
kind = "board"
thickness = "2 mm"
<rectangle base: ["200 mm", "100 mm"]>
landings = [{ piece = "plate", at = "20 mm from left, 20 mm from bottom", inside = true }]
<rectangle plate of card: ["160 mm", "60 mm"]>
lines = ["base"]
[pieces.core]
of = "card"
like = "base"
inset = "17 mm"
[pieces.lining]
of = "soft"
like = "base"
marks = false
mirror = true
<seam s: ["base: all", "lining: all"]>
"""


def test_a_board_on_the_side_that_shows_and_one_hardly_half_as_large_are_asked_about(ask: Ask) -> None:
    assert ask(STIFF) == []
    assert ask(STIFF, (", inside = true", "")) == [
        '25: "plate" is said to line "base", and lands on the side of it that shows'
    ]
    (told,) = ask(STIFF, ('"17 mm"', '"18 mm"'))
    assert told.startswith('34: "core" is 36 mm (1 13/32 in) smaller than "base", which is 100 mm')


def test_a_piece_of_the_goods_that_are_called_its_lining_is_asked_about(ask: Ask) -> None:
    (told,) = ask(STIFF, ('[pieces.base]\nof = "body"', '[pieces.base]\nof = "soft"'))
    assert told == '22: "base" is of "soft", which is called a lining'


def test_a_lining_of_leather_that_is_not_said_to_be_one_is_asked_about(ask: Ask) -> None:
    sewn = LININGS + '<seam lined: ["front: top", "front-lining: top"]>\n'
    (told,) = ask(sewn)
    assert told.endswith(
        '"front-lining" is leather, and nothing says that it lines "front": what is set there misses it'
    )
    lined = '<rectangle front-lining of soft: ["200 mm", "150 mm"]>'
    assert ask(sewn, (lined, f'{lined}\nlines = ["front"]')) == []
