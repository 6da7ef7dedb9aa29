"""What `check` asks where figures and words of one spec do not agree with each other.

That a slip of one figure or name leaves such a build is plain from the work; how near is near is our choice.
"""

from collections.abc import Callable

import pytest
from spec_text import write_out

from docgen.checks.questions.entries import MOST_ENTRIES

Ask = Callable[..., list[str]]

TWINS = """\
<rectangle left: ["75 mm", "140 mm"]>
round = { top-left = "6 mm" }
<rectangle right: ["75 mm", "140 mm"]>
round = { top-left = "6 mm" }
<seam both: ["left: right", "right: right"]>
"""
SUMS = """\
[measures]
tall = "100 mm"
edge = "4 mm"
<back>
folds = [{ at = "tall + edge from bottom", open = true, angle = 180 }]
holes = [
  { at = "centre, tall + edge + 20 mm from bottom", punch = "5 mm" },
  { at = "centre, tall + edge + 40 mm from bottom", punch = "4 mm" },
]
<bare front>
<seam>
"""
FLAGS = """\
<rectangle cover: ["300 mm", "150 mm"]>
landings = [
  { piece = "one", at = "0 mm from left, 0 mm from bottom", inside = true },
  { piece = "two", at = "0 mm from right, 0 mm from bottom", inside = true },
]
<rectangle one: ["60 mm", "150 mm"]>
<rectangle two: ["60 mm", "150 mm"]>
<seam one: ["one: top left bottom", "cover"]>
<seam two: ["two: bottom right top", "cover"]>
"""
SLEEVE = """\
<rectangle cover: ["200 mm", "140 mm"]>
round = "6 mm"
landings = [{ piece = "sleeve", at = "0 mm from left, 0 mm from bottom" }]
<rectangle sleeve: ["75 mm", "140 mm"]>
round = { top-left = "6 mm", bottom-left = "6 mm" }
<seam sleeve: ["sleeve: right", "cover"]>
"""
HELD = """\
<back>
holes = [{ at = "15 mm from left, 90 mm from bottom", punch = "4 mm" }]
landings = [{ strap = "tether", at = "110 mm from left, 75 mm from bottom", over = "25 mm", leads = "up", stitch = "main" }]
<bare front>
<seam>
<strap tether of body: 14 mm>
finished = "150 mm"
"""
OVER = """\
<back>
landings = [{ piece = "flap", at = "centre, 30 mm from top" }]
<bare front>
<seam>
<rectangle flap: ["200 mm", "120 mm"]>
folds = [{ at = "30 mm from top", open = true, angle = 90 }]
<seam on: ["flap: top", "back"]>
"""
ROUND = """\
<circle>
diameter = "100 mm"
<rectangle cover: ["200 mm", "140 mm"]>
<strip half: ["80 mm", "solve"]>
<strip band: ["30 mm", "solve"]>
<join wall: ["half"], 12 mm>
ring = true
<join foot: ["band"], 12 mm>
ring = true
<seam upper: ["foot: right", "wall"]>
<seam round: ["foot: left", "wall: left", "a: edge"]>
"""
BELLOWS = """\
<back>
landings = [{ piece = "pocket", at = "centre, 30 mm from bottom" }]
<bare front>
<seam>
<rectangle pocket: ["100 mm", "80 mm"]>
<strip wall: ["20 mm", "solve"]>
<seam inner: ["pocket: left bottom right", "wall: left"]>
<seam outer: ["wall: right", "back"]>
"""
POCKET = """\
<hardware stud: 1, snap stud>
<back>
<rectangle pocket: ["100 mm", "80 mm"]>
holes = [{ at = "centre, 20 mm from top", punch = "4 mm", takes = "stud" }]
<seam pocket: ["pocket: left bottom right", "back"]>
"""
WORDS = """\
<bag>
<rectangle welt: ["20 mm", "150 mm"]>
<seam welt: ["welt: left", "back: right"]>
[[steps]]
do = "Punch front and back."
pieces = ["front", "back"]
tools = ["4 mm hole punch"]
"""
READY = """\
<bag>
<zip: coil zip, 30 mm, 0.6 mm>
length = "100 mm"
ready = ["120 mm", "150 mm", "200 mm", "250 mm"]
"""

KEEPERS = """\
<strap belt of body: 20 mm>
finished = "300 mm"
<strap strap of body: 20 mm>
finished = "300 mm"
<strap loop of body: 10 mm>
keeper-for = "belt"
<strap slide of body: 10 mm>
keeper-for = "belt"
layers = 3
"""
BENT = """\
<bag>
<rectangle cover: ["200 mm", "150 mm"]>
folds = [{ at = "30 mm from top", open = true, angle = 90 }]
<rectangle loop: ["200 mm", "150 mm"]>
folds = [{ at = "30 mm from top", open = true }]
<seam a: ["cover: bottom", "loop: bottom"]>
"""
SIDES = """\
<back>
<bare front>
<rectangle wall: ["60 mm", "150 mm"]>
<rectangle lid: ["150 mm", "80 mm"]>
<seam first: ["front: left", "wall: right"]>
turned = true
<seam second: ["back: right", "wall: left"]>
"""


@pytest.fixture
def ask(ask_only: Callable[..., Ask]) -> Ask:
    return ask_only("entries", "laid_nearly", "words", "closing", "likes")


def test_an_entry_like_another_in_all_but_one_figure_is_asked_about(ask: Ask) -> None:
    last = '"75 mm", "140 mm"]\nround = { top-left = "6 mm" }\n[seams'
    assert ask(TWINS) == ask(TWINS, (last, last.replace("75 mm", "77.9 mm"))) == []
    assert ask(TWINS, (last, last.replace("75 mm", "85.1 mm"))) == []
    (told,) = ask(TWINS, (last, last.replace("75 mm", "81 mm")))
    assert told == '22: "right" says 81 mm (3 3/16 in) here, and "left", like it in all else, 75 mm (2 15/16 in)'
    (told,) = ask(TWINS, (last, last.replace("75 mm", "15 mm")))
    assert told.startswith("22: ")
    assert ask(TWINS + '[limits]\nnearly-alike = "5 mm"\n', (last, last.replace("75 mm", "81 mm"))) == []


def test_what_names_another_thing_or_lies_elsewhere_is_no_like_entry(ask: Ask) -> None:
    """A keeper of another strap, a fold elsewhere on another piece, a seam by edges of another kind."""
    keeper = ('[straps.slide]\nof = "body"\nwidth = "10 mm"\nkeeper-for = "belt"', "")
    keeper = (keeper[0], keeper[0].replace("belt", "strap"))
    (told,) = ask(KEEPERS)
    assert told.endswith('nothing says layers of "loop", and all else as of "slide", which says it')
    assert ask(KEEPERS, keeper) == []
    angle = 'nothing says angle of "loop", and all else as of "cover", which says it'
    assert sum(told.endswith(angle) for told in ask(BENT)) == 1
    elsewhere = ask(BENT, ('"30 mm from top", open = true }', '"40 mm from top", open = true }'))
    assert not any(told.endswith(angle) for told in elsewhere)
    (told,) = ask(SIDES)
    assert told.endswith('nothing says turned of "second", and all else as of "first", which says it')
    assert ask(SIDES, ('"back: right", "wall: left"', '"lid: top", "wall: left"')) == []


def test_an_entry_that_leaves_out_what_its_like_says_is_asked_about(ask: Ask) -> None:
    last = 'round = { top-left = "6 mm" }\n[seams'
    (told,) = ask(TWINS, (last, "[seams"))
    assert told == '19: nothing says round of "right", and all else as of "left", which says it'
    third = '<rectangle third: ["75 mm", "140 mm"]>\n<seam third: ["third: right", "left: right"]>\n'
    assert ask(TWINS + third, (last, "[seams")) == []


def test_one_figure_in_two_units_is_asked_about(ask: Ask) -> None:
    skives = 'skives = [{ edges = "left", width = "12 mm", to = "1 mm" }]\n'
    text = write_out(TWINS).replace("[pieces.right]", f"{skives}[pieces.right]").replace("[seams.", f"{skives}[seams.")
    assert ask(text) == []
    assert ask(text, (f"{skives}[seams", f"{skives.replace('1 mm', '1 oz')}[seams")) == [
        '25: "1 oz" stands here, and "1 mm" in line 19 of its like'
    ]


def test_a_sum_with_another_sign_or_side_than_its_like_is_asked_about(ask: Ask) -> None:
    assert ask(SUMS) == []
    at = "tall + edge + 40 mm from bottom"
    (told,) = ask(SUMS, (at, "tall - edge + 40 mm from bottom"))
    assert told.startswith('24: "tall - edge + 40 mm from bottom" of "back" has the measures of "tall + edge')
    assert ask(SUMS, (at, "tall + 40 mm from bottom")) == []


def test_a_flag_that_says_false_where_its_like_say_true_is_asked_about(ask: Ask) -> None:
    assert ask(FLAGS) == []
    last = 'right, 0 mm from bottom", inside = true'
    assert ask(FLAGS, (last, last.replace("true", "false"))) == [
        "20: inside = false says what counts without it, and true stands in line 19"
    ]


def test_what_is_sewn_beside_its_like_and_lands_nowhere_is_asked_about(ask: Ask) -> None:
    edges = FLAGS.replace('bottom", "cover"', 'bottom", "cover: left"').replace('top", "cover"', 'top", "cover: right"')
    edges = edges.replace("one: top left bottom", "one: left").replace("two: bottom right top", "two: right")
    assert ask(edges) == []
    gone = '  { piece = "two", at = "0 mm from right, 0 mm from bottom", inside = true },\n'
    told = ['14: "one" lies on "cover", and nothing says where "two", as large, lies there']
    assert ask(edges, (gone, "")) == told


def test_what_lines_another_or_is_sewn_to_it_all_round_lies_where_that_does(ask: Ask) -> None:
    """A seam of one edge sews two beside each other, or end to end."""
    given = FLAGS.replace('  { piece = "two", at = "0 mm from right, 0 mm from bottom", inside = true },\n', "")
    flap = given.replace('"one: top left bottom", "cover"', '"one: top", "two: top", "cover"')
    flap = flap.replace('"two: bottom right top", "cover"', '"one: left", "two: left"')
    (told,) = ask(flap)
    assert told == '14: "one" lies on "cover", and nothing says where "two", as large, lies there'
    assert ask(flap, ('"one: left", "two: left"', '"one: left bottom", "two: left bottom"')) == []
    lining = write_out(flap).replace("[pieces.two]", '[pieces.two]\nlines = ["one"]')
    assert ask(lining) == []


def test_a_round_corner_that_lies_in_one_of_another_radius_is_asked_about(ask: Ask) -> None:
    assert ask(SLEEVE) == ask(SLEEVE, ('bottom-left = "6 mm"', 'bottom-left = "8 mm"')) == []
    (told,) = ask(SLEEVE, ('bottom-left = "6 mm"', 'bottom-left = "9 mm"'))
    assert told == (
        '24: the bottom-left corner of "sleeve" is rounded by 9 mm (11/32 in), and lies in that of "cover", of '
        "6 mm (1/4 in)"
    )


def test_what_lies_beside_the_edge_that_it_is_sewn_to_is_asked_about(ask: Ask) -> None:
    sewn = ('"sleeve: right", "cover"', '"sleeve: left", "cover: left"')
    assert ask(SLEEVE, sewn, ("0 mm from left", "2.9 mm from left")) == []
    assert ask(SLEEVE, ("0 mm from left", "3 mm from left")) == []
    assert ask(SLEEVE, sewn, ("0 mm from left", "3 mm from left")) == [
        '19: "sleeve" is sewn to the left of "cover", and lies 3 mm (1/8 in) from it'
    ]


def test_a_hole_half_beneath_the_end_of_a_strap_is_asked_about(ask: Ask) -> None:
    assert ask(HELD) == []
    assert ask(HELD, ("110 mm from left", "15 mm from left")) == []
    assert ask(HELD, ("110 mm from left", "24.5 mm from left")) == []
    assert ask(HELD, ("110 mm from left", "22 mm from left")) == [
        '19: a hole of "back" (line 18) lies half beneath the edge of "tether"'
    ]


def test_a_pocket_behind_bellows_that_lies_nowhere_is_asked_about(ask: Ask) -> None:
    assert ask(BELLOWS) == []
    gone = 'landings = [{ piece = "pocket", at = "centre, 30 mm from bottom" }]\n'
    assert ask(BELLOWS, (gone, "")) == [
        '14: "wall" is sewn on "back", and nothing says where "pocket", which it holds, lies'
    ]


def test_a_snap_nearer_to_the_foot_of_its_pocket_than_to_its_mouth_is_asked_about(ask: Ask) -> None:
    lid = '[pieces.lid]\nof = "body"\nshape = "rectangle"\nsize = ["100 mm", "90 mm"]\n'
    lid += 'holes = [{ at = "centre, 10 mm from top", punch = "4 mm", takes = "stud" }]\n'
    near = [
        [one for one in ask(POCKET + lid, ("20 mm from top", f"{mm} mm from top")) if "the snap of" in one]
        for mm in (20, 40, 41)
    ]
    assert near[:2] == [[], []]
    (told,) = near[2]
    assert told.startswith('25: the snap of "pocket" is 39 mm (1 17/32 in) from its bottom, by which it is sewn')
    flap = '[pieces.flap]\nof = "body"\nshape = "rectangle"\nsize = ["100 mm", "90 mm"]\n'
    flap += 'folds = [{ at = "middle", open = true, angle = 180 }]\n'
    flap += 'holes = [{ at = "centre, 10 mm from top", punch = "4 mm", takes = "stud" }]\n'
    assert ask(POCKET + flap, ("20 mm from top", "41 mm from top")) == []


def test_a_step_that_speaks_of_another_piece_than_it_lists_is_asked_about(ask: Ask) -> None:
    assert ask(WORDS) == []
    assert ask(WORDS, ('"front", "back"]\n', '"front", "welt"]\n')) == [
        '32: a step names "welt" in pieces, and its words speak of "back"'
    ]
    assert ask(WORDS, ('"front", "back"]\n', '"front", "welt"]\n'), ("front and back", "the front")) == []
    assert ask(WORDS, ('pieces = ["front", "back"]\n', "")) == [
        '30: a step speaks of "back" and "front", and has nothing in hand'
    ]


def test_words_for_a_side_or_an_end_name_no_piece(ask: Ask) -> None:
    text = (
        WORDS.replace("welt", "side")
        .replace("front and back", "both sides")
        .replace('pieces = ["front", "back"]\n', "")
    )
    assert ask(text) == []


def test_goods_without_their_width_and_lengths_out_of_order_are_asked_about(ask: Ask) -> None:
    assert ask(READY) == []
    assert ask(READY, ('width = "30 mm"\n', "")) == ['23: nothing says how wide "zip" is (coil zip)']
    assert ask(READY, ('"250 mm"', '"25 mm"')) == ['29: "zip" is sold in lengths that rise, but for 25 mm']


def test_a_deeper_hem_at_the_mouth_of_a_pocket_is_as_meant(ask: Ask) -> None:
    hems = """\
<rectangle pocket: ["100 mm", "150 mm"]>
hems = [{{ edges = "top", turn = "{0}" }}, {{ edges = "bottom", turn = "{1}" }}]
<seam mouth: ["pocket: top", "pocket"]>
<seam foot: ["pocket: bottom", "pocket"]>
"""
    assert ask(hems.format("20 mm", "10 mm")) == []
    told = '"pocket" says 20 mm (25/32 in) here, and "pocket", like it in all else, 10 mm (13/32 in)'
    assert [one for one in ask(hems.format("10 mm", "20 mm")) if told in one] != []


def test_of_a_list_of_a_stranger_nothing_is_asked(ask: Ask) -> None:
    hole = '{{ at = "{0} mm from left, middle", punch = "2 mm" }}'
    two = "<back>\nholes = [{}]\n<bare front>\nholes = [{}]\n<seam>\n"
    many = ", ".join(hole.format(10 + k / 2) for k in range(MOST_ENTRIES))
    assert ask(two.format(hole.format(20), hole.format(26))) == [
        '22: "front" says 26 mm (1 1/32 in) here, and "back", like it in all else, 20 mm (25/32 in)'
    ]
    assert ask(two.format(hole.format(20), many)) == []


def test_a_flap_that_bends_within_the_edge_by_twice_its_inset_is_asked_about(ask: Ask) -> None:
    """Stitches 4 in: turned about them its own edge lies 38 below the top, and its fold 8 below it; with a lap of 38, or
    laid 22 below, it bends at the edge."""
    (told,) = ask(OVER)
    assert told == (
        '18: "flap" bends 8 mm (5/16 in) within the top edge of "back": turned half round about its stitches, its own '
        "edge lies so much farther in than is written"
    )
    assert ask(OVER, ('"30 mm from top", open', '"38 mm from top", open')) == []
    assert ask(OVER, ('"centre, 30 mm', '"centre, 22 mm')) == []
    assert ask(OVER, ('"30 mm from top", open', '"20 mm from top", open')) == []


@pytest.mark.parametrize(("at", "count"), [("42", 1), ("34", 0)])
def test_the_edge_of_a_hemmed_back_is_the_fold_of_its_hem(ask: Ask, at: str, count: int) -> None:
    """Its hem of 12 mm is turned over: laid 30 mm below the fold, or 22 mm, which is 34 mm below the cut edge."""
    hems = 'hems = [{ edges = "top", turn = "12 mm" }]\n'
    text = (
        write_out(OVER)
        .replace("[pieces.back]\n", f"[pieces.back]\n{hems}")
        .replace('"centre, 30 mm', f'"centre, {at} mm')
    )
    text = text.replace("marks = false\n", f"marks = false\n{hems}")
    assert sum("bends 8 mm" in one for one in ask(text)) == count


def test_a_ring_round_a_ring_of_its_length_is_asked_about(ask: Ask) -> None:
    """Round 2 mm, 2 mm thick: 2 pi x 2 = 12.6 mm longer than a base of 100 across takes; of that, it is stretched
    on round a base of 600."""
    (told,) = ask(ROUND)
    assert told.startswith(
        '40: "foot" is a ring as long as "wall", round which it is sewn: as thick as both are, it goes round'
    )
    assert told.endswith("that if it is 12.6 mm (1/2 in) longer")
    assert (
        ask(ROUND, ('"100 mm"', '"600 mm"'))
        == ask(ROUND, ('["foot: right", "wall"]', '["foot: right", "cover"]'))
        == []
    )
