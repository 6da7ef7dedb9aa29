"""What `check` asks of what lies on the wrong side, is sewn on too late, or lies across a joint.

That a slip of one figure, name or switch leaves such a build is plain from the work; how low and how deep is too
much is our choice.
"""

from collections.abc import Callable

Ask = Callable[..., list[str]]
AskOnly = Callable[..., Ask]

CASE = """\
<zip: coil zip no. 5, 30 mm, 1 mm>
<rectangle front: ["240 mm", "200 mm"]>
laid = [{ goods = "zip", at = "50 mm from top", stitch = "main", window = "12 mm", clear = "40 mm" }]
landings = [{ piece = "bag", at = "centre, 30 mm from top", inside = true }]
<rectangle back: ["240 mm", "200 mm"]>
<rectangle bag: ["200 mm", "150 mm"]>
<seam bag: ["bag: left bottom right", "front"]>
<seam a: ["front: left bottom right", "back: left bottom right"]>
<step "Sew the bag behind the zip.": seams = ["bag"]>
<step "Sew both panels to each other.": seams = ["a"]>
"""
BUCKET = """\
<strip wall: ["200 mm", "260 mm"]>
cut = 2
holes = [{ at = "30 mm from right, middle", punch = "4 mm", takes = "stud", through = ["tab"] }]
<join ring: ["wall", "wall"], 12 mm>
ring = true
<rectangle tab: ["24 mm", "60 mm"]>
cut = 2
holes = [{ at = "centre, 12 mm from top", punch = "4 mm" }]
<hardware stud: 2, screw post>
"""
FLAP = """\
<rectangle front: ["200 mm", "150 mm"]>
holes = [{ at = "centre, 60 mm from bottom", punch = "5 mm", takes = "snap" }]
[pieces.back]
like = "front"
marks = false
landings = [{ piece = "flap", at = "centre, 12 mm from top" }]
<strip gusset: ["48 mm", "solve"]>
<rectangle flap: ["190 mm", "180 mm"]>
folds = [
  { at = "20 mm from top", open = true, angle = 90 },
  { at = "60 mm from top", open = true, angle = 90 },
]
holes = [{ at = "centre, 30 mm from bottom", punch = "5 mm", takes = "snap" }]
<seam a: ["front: left bottom right", "gusset: left"]>
<seam b: ["back: left bottom right", "gusset: right"]>
<seam flap: ["flap: top", "back"]>
<hardware snap: 1, line snap>
"""
PUNCHED = """\
<back>
holes = [
  { at = "30 mm from left, 30 mm from top", punch = "3 mm" },
  { at = "60 mm from left, 30 mm from top", punch = "4 mm" },
  { at = "90 mm from left, 30 mm from top", punch = "5 mm" },
]
<bare front>
<seam>
<step "Punch the back.": pieces = ["back"]>
tools = ["3 mm hole punch", "4 mm hole punch", "5 mm hole punch"]
"""
DEEP = """\
<rectangle back: ["200 mm", "150 mm"]>
<bare front>
<strip gusset: ["400 mm", "solve"]>
<seam a: ["back: left bottom right", "gusset: left"]>
<seam b: ["front: left bottom right", "gusset: right"]>
"""


def test_a_pocket_that_is_sewn_inside_what_is_closed_is_asked_about(ask_only: AskOnly) -> None:
    ask = ask_only("late")
    late = (('seams = ["bag"]', 'pieces = ["bag"]'), ('seams = ["a"]', 'seams = ["a", "bag"]'))
    assert ask(CASE) == []
    assert ask(CASE, *late) == ['44: "bag" sews "bag" to the inside of "front", which "a" has closed before']
    assert ask(CASE, late[0], ('seams = ["a"]', 'seams = ["bag", "a"]')) == []
    assert ask(CASE, *late, (", inside = true", "")) == []


def test_the_window_of_a_zip_that_lies_low_on_its_bag_is_asked_about(ask_only: AskOnly) -> None:
    ask = ask_only("zips")
    assert ask(CASE) == []
    (told,) = ask(CASE, ('"50 mm from top", stitch', '"50 mm from bottom", stitch'))
    assert told == '23: the window of the zip in "front" lies 24 mm (15/16 in) above the foot of "bag" behind it'


def test_a_tab_across_the_edge_of_a_lap_is_asked_about(ask_only: AskOnly) -> None:
    ask = ask_only("misfits")
    assert ask(BUCKET) == ask(BUCKET, ("right, middle", "right, 6 mm from start")) == []
    assert ask(BUCKET, ("right, middle", "right, 24 mm from start")) == []
    assert ask(BUCKET, ("right, middle", "right, 20 mm from start")) == [
        '19: "tab" is riveted 20 mm (25/32 in) from the end of "wall", across the edge of its lap of 12 mm (15/32 in)'
    ]


def test_a_bag_far_deeper_than_wide_is_asked_about(ask_only: AskOnly) -> None:
    ask = ask_only("rooms")
    assert ask(DEEP, ('["400 mm"', '["390 mm"')) == []
    (told,) = ask(DEEP)
    assert told.startswith('24: with "gusset" the bag is ')
    assert told.endswith(" deep inside, more than twice what it is wide or high")


def test_a_flap_inside_whose_snap_does_not_close_is_asked_about(ask_only: AskOnly) -> None:
    """It comes over the front from inside as well as from outside, but not where its folds lay the grain side in."""
    ask = ask_only("untold")
    inside = '12 mm from top" }', '12 mm from top", inside = true }'
    assert ask(FLAP) == ask(FLAP, inside) == []
    (told,) = ask(FLAP, inside, ('"20 mm from top", open = true', '"20 mm from top", inside = "grain", open = true'))
    assert told.startswith('22: "flap" lies on the inside of "back", and as it bends its snap does not come to')


def test_one_size_of_holes_without_a_punch_beside_others_is_asked_about(ask_only: AskOnly) -> None:
    ask = ask_only("tools")
    assert ask(PUNCHED) == ask(PUNCHED, (', "4 mm hole punch", "5 mm hole punch"', "")) == []
    assert ask(PUNCHED, (', "4 mm hole punch"', "")) == [
        "32: steps name punches for holes of 3 mm and 5 mm, and none for those of 4 mm"
    ]
