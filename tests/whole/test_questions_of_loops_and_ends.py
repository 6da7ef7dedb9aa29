"""What `check` asks of belt loops on the wrong side or sewn shut, of ends of straps that nothing holds, of studs over which
nothing goes, and of a punch for another size of holes.

That a slip of one name, figure or line leaves such a build is plain from the work.
"""

from collections.abc import Callable

AskOnly = Callable[..., Callable[..., list[str]]]

POUCH = """\
<rectangle front: ["120 mm", "150 mm"]>
holes = [{ at = "centre, 90 mm from bottom", punch = "4 mm", takes = "stud" }]
<rectangle back: ["120 mm", "260 mm"]>
folds = [
  { at = "150 mm from bottom", open = true, angle = 90 },
  { at = "190 mm from bottom", open = true, angle = 90 },
]
holes = [{ at = "centre, 10 mm from top", punch = "6 mm" }]
landings = [{ piece = "loop", at = "centre, 40 mm from bottom" }]
<strip gusset: ["48 mm", "solve"]>
<rectangle loop: ["50 mm", "80 mm"]>
title = "Belt loop"
<hardware stud: 1, collar stud>
<seam loop: ["loop: top", "back"]>
<seam foot: ["loop: bottom", "back"]>
<seam a: ["front: left bottom right", "gusset: left"]>
<seam b: ["back: left bottom right from bottom 150 mm to bottom 150 mm", "gusset: right"]>
"""
ROLL = """\
<rectangle back: ["400 mm", "200 mm"]>
landings = [{ strap = "belt", at = "60 mm from left, 100 mm from bottom", over = "50 mm", leads = "left", stitch = "main" }]
<bare front>
<seam>
<strap belt of body: 20 mm>
finished = "500 mm"
holes = { count = 5, pitch = "25 mm", punch = "4 mm", tip = "60 mm" }
ends = [{ shape = "square" }, { shape = "pointed" }]
<step "Cut the belt and punch it.": straps = ["belt"]>
tools = ["4 mm hole punch"]
"""
ROW = """\
<back>
<rectangle pocket: ["200 mm", "90 mm"]>
dividers = [
  { at = "40 mm from left", stitch = "main", on = "back" },
  { at = "80 mm from left", stitch = "main", on = "back" },
  { at = "120 mm from left", stitch = "main", on = "back" },
  { at = "160 mm from left", stitch = "main", on = "back" },
  { at = "180 mm from left", stitch = "main", on = "back" },
]
<seam a: ["pocket: left bottom right", "back"]>
"""


def test_a_belt_loop_inside_is_asked_about(ask_only: AskOnly) -> None:
    ask = ask_only("sizes")
    inside = ('40 mm from bottom" }]', '40 mm from bottom", inside = true }]')
    assert ask(POUCH) == ask(POUCH, inside, ('title = "Belt loop"', 'title = "Pen loop"')) == []
    assert ask(POUCH, inside) == ['28: "loop" is called "Belt loop", and lies on the inside of "back"']


def test_a_belt_loop_that_is_sewn_all_round_is_asked_about(ask_only: AskOnly) -> None:
    ask = ask_only("shut")
    assert ask(POUCH) == ask(POUCH, ("loop: top", "loop: left top right")) == []
    (told,) = ask(POUCH, ("loop: top", "loop: all"))
    assert told.endswith('the seam "loop" sews "loop" to "back" all round, and nothing opens into it')


def test_a_stud_over_which_nothing_goes_is_asked_about(ask_only: AskOnly) -> None:
    ask = ask_only("closing")
    words = '"stud" is set in "front", and no other part has a hole that goes over it'
    hole = 'holes = [{ at = "centre, 10 mm from top", punch = "6 mm" }]\n'
    assert not [one for one in ask(POUCH) if words in one]
    assert [one for one in ask(POUCH, (hole, "")) if words in one] == [f"18: {words}"]
    assert not [one for one in ask(POUCH, (hole, ""), ("collar stud", "double-cap rivet")) if words in one]


def test_an_end_that_nothing_holds_or_that_lies_fast_by_its_tip_is_asked_about(ask_only: AskOnly) -> None:
    ask = ask_only("strap_ends")
    turned = ('[{ shape = "square" }, { shape = "pointed" }]', '[{ shape = "pointed" }, { shape = "square" }]')
    assert ask(ROLL) == []
    assert ask(ROLL, (', stitch = "main" }]', " }]")) == [
        '18: nothing sews or rivets the end of "belt" that lies fast on "back"'
    ]
    (told,) = ask(ROLL, turned)
    assert told.endswith('"belt" lies fast by its pointed end, and has its holes at the square one')


def test_a_punch_of_no_size_where_straps_are_punched_is_asked_about(ask_only: AskOnly) -> None:
    ask = ask_only("tools")
    other = ROLL + '<step "Punch what else there is.": pieces = ["back"]>\ntools = ["4 mm hole punch"]\n'
    assert ask(ROLL) == []
    (told,) = ask(other.replace('tools = ["4 mm', 'tools = ["5 mm', 1))
    assert told.endswith('a step names the tool "5 mm hole punch", and the holes of its straps are of 4 mm')


def test_a_dividing_line_that_is_left_out_of_few_is_asked_about(ask_only: AskOnly) -> None:
    ask = ask_only("shapes")
    even = ROW.replace('  { at = "180 mm from left", stitch = "main", on = "back" },\n', "")
    wide = '  { at = "80 mm from left", stitch = "main", on = "back" },\n'
    five = even.replace('["200 mm", "90 mm"]', '["240 mm", "90 mm"]').replace("160 mm from left", "200 mm from left")
    assert ask(even) == []
    assert ask(even, (wide, "")) == []  # three lines tell too little
    (told,) = ask(five)
    assert told.endswith('"pocket" stand 40 mm (1 9/16 in) apart, and two of them 80 mm (3 5/32 in)')
    assert ask(five, ('"200 mm from left"', '"160 mm from left"')) == []  # the last room is as wide as is left


BILLET = """\
<back>
holes = [
  { at = "30 mm from left, 60 mm from bottom", punch = "4 mm", takes = "rivet", through = ["billet"] },
  { at = "30 mm from left, 90 mm from bottom", punch = "4 mm", takes = "rivet", through = ["billet"] },
  { at = "90 mm from left, 60 mm from bottom", punch = "4 mm", takes = "rivet", through = ["billet"] },
  { at = "90 mm from left, 90 mm from bottom", punch = "4 mm", takes = "rivet", through = ["billet"] },
]
<bare front>
<seam>
<strap billet of body: 20 mm>
cut = 2
finished = "120 mm"
punches = [
  { at = "centre, 10 mm from start", punch = "4 mm" },
  { at = "centre, 40 mm from start", punch = "4 mm" },
]
<hardware rivet: 4, double-cap rivet>
<step "Punch the back.": pieces = ["back"]>
"""


def test_straps_of_which_more_are_cut_than_are_riveted_are_asked_about(ask_only: AskOnly) -> None:
    ask = ask_only("strap_figures")
    assert ask(BILLET) == []
    (told,) = ask(BILLET, ("cut = 2", "cut = 3"))
    assert told.endswith('3 of "billet" are cut, and the holes that go through it are for 2')


def test_a_step_that_punches_nothing_is_asked_about(ask_only: AskOnly) -> None:
    ask = ask_only("steps")
    assert ask(BILLET) == []
    (told,) = ask(BILLET, ('pieces = ["back"]', 'tools = ["mallet"]'))
    assert told.endswith("step 1 punches, and nothing says which part")
    assert ask(BILLET, ('pieces = ["back"]', 'tools = ["mallet"]'), ("Punch the back", "Wax the back")) == []
