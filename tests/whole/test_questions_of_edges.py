"""What `check` asks where parts are sewn by another edge than is meant, hang by the wrong end, or are not as they are
called.

That a slip of one edge leaves such a build is plain from the work; how low a ring hangs before it is asked is our choice.
"""

from collections.abc import Callable

import pytest

Ask = Callable[..., list[str]]
OF_EDGES = (
    "hangs",
    "no seam sews its own",
    "but not round its",
    "held until sewn",
    "is said to line",
    "is in two seams",
    "nothing says stitch",
    "faces out",
    "its words say",
    "is called",
    "degrees",
    "eyelets it may go",
    "takes nothing",
    "longer than the other",
    "round to the other half",
)


@pytest.fixture
def ask(ask: Ask) -> Ask:
    return lambda text, *edits: [told for told in ask(text, *edits) if any(words in told for words in OF_EDGES)]


SLING = """\
<circle>
diameter = "90 mm"
<strip wall: ["190 mm", "solve"]>
holes = [
  { at = "30 mm from right, 80 mm from start", punch = "4 mm" },
  { at = "30 mm from right, 215 mm from start", punch = "4 mm" },
]
<join tube: ["wall"], 12 mm>
ring = true
<seam foot: ["a: edge", "tube: left"]>
<strip tab: ["20 mm", "80 mm"]>
cut = 2
folds = [{ at = "middle", around = "ring" }]
holes = [
  { at = "centre, 10 mm from start", punch = "4 mm", takes = "rivet", through = ["wall"] },
  { at = "centre, 10 mm from end", punch = "4 mm", takes = "rivet" },
]
<strap>
finished = "900 mm"
stitch = "main"
ends = [{ shape = "turned", back = "40 mm", around = "ring" }, { shape = "turned", back = "40 mm", around = "ring" }]
<hardware ring: 2, D-ring>
inside = "21 mm"
bar = "3 mm"
<hardware rivet: 2, double-cap rivet>
"""


def test_rings_of_a_strap_that_hang_near_the_foot_are_asked_about(ask: Ask) -> None:
    assert ask(SLING) == []
    told = ask(SLING, ("tube: left", "tube: right"))
    assert told == [
        '39: the ring that "tab" holds hangs 26 mm (1 1/32 in) above the foot of what is 186 mm (7 5/16 in) high: '
        "it would turn over"
    ]


LINED = """\
<bag>
<leather soft: 1 mm>
<rectangle flap: ["200 mm", "120 mm"]>
<rectangle inner of soft: ["200 mm", "120 mm"]>
lines = ["flap"]
<seam inner: ["inner: left bottom right", "flap: left bottom right"]>
<seam flap: ["flap: top", "back: top"]>
"""


def test_a_lining_that_is_sewn_to_another_part_than_it_lines_is_asked_about(ask: Ask) -> None:
    assert ask(LINED) == ask(LINED, ('["flap"]', '["flap", "back"]')) == []
    assert ask(LINED, ('["flap"]', '["back"]')) == ['34: "inner" is said to line "back", and is sewn to "flap" alone']


COVER = """\
<rectangle cover: ["200 mm", "140 mm"]>
<rectangle one: ["60 mm", "140 mm"]>
<rectangle other: ["80 mm", "140 mm"]>
<seam one: ["cover: left", "one: right"]>
<seam other: ["cover: right", "other: left"]>
"""


def test_an_edge_in_two_seams_whose_like_across_is_in_none_is_asked_about(ask: Ask) -> None:
    slip = ("cover: right", "cover: left"), ("other: left", "other: right")
    size = '["80 mm", "140 mm"]'
    assert ask(COVER) == ask(COVER, *slip, (f"size = {size}", f'size = {size}\nlines = ["cover"]')) == []
    assert ask(COVER, *slip) == ['31: left of "cover" is in two seams (line 28), and right, as long, in none']


KEEPERS = """\
<strap>
finished = "900 mm"
stitch = "main"
ends = [{ shape = "turned", back = "60 mm", around = "buckle", keeper = "held" }, { shape = "pointed" }]
[straps.held]
of = "body"
width = "12 mm"
keeper-for = "s"
[straps.loose]
of = "body"
width = "12 mm"
keeper-for = "s"
stitch = "main"
<hardware buckle: 1, roller buckle>
bar = "3 mm"
"""


def test_a_keeper_that_lies_in_a_fold_needs_no_stitch_as_the_loose_one_does(ask: Ask) -> None:
    assert ask(KEEPERS) == []
    (told,) = ask(KEEPERS, (', keeper = "held"', ""))
    assert told.startswith('20: nothing says stitch of "held"')


def test_two_panels_open_at_one_side_are_asked_by_the_seam_for_the_third_edge(ask: Ask) -> None:
    pouch = '<back>\n<front>\n<seam s: ["back: left bottom right", "front: left bottom right"]>\n'
    assert ask(pouch) == []
    slip = ('["back: left bottom right", "front: left bottom right"]', '["back: left bottom", "front: left bottom"]')
    (told,) = ask(pouch, slip)
    assert told.startswith('22: nothing says which side of "front" faces out')
    sides = [("<back>", '<back>\nshows = "grain"'), ("<front>", '<front>\nshows = "grain"')]
    assert ask(pouch.replace("<back>", sides[0][1]).replace("<front>", sides[1][1]), slip) == []


NAMED = """\
<bag>
<leather soft: 1 mm>
<rectangle back-felt of soft: ["200 mm", "150 mm"]>
lines = ["back"]
<rectangle front-felt of soft: ["200 mm", "150 mm"]>
lines = ["front"]
"""


def test_a_lining_that_lines_another_than_it_is_named_for_is_asked_about(ask: Ask) -> None:
    assert ask(NAMED) == []
    assert ask(NAMED, ('["back"]', '["front"]')) == [
        '30: "back-felt" is said to line "front", and nothing lines "back"'
    ]


BOXED = """\
<leather soft: 1 mm>
[pieces.front]
of = "body"
shape = "outline"
points = [
  { at = ["30 mm", "0 mm"], edge = "foot" },
  { at = ["170 mm", "0 mm"], edge = "riser" },
  { at = ["170 mm", "30 mm"], edge = "step" },
  { at = ["200 mm", "30 mm"], edge = "right" },
  { at = ["200 mm", "150 mm"], edge = "top" },
  { at = ["0 mm", "150 mm"], edge = "left" },
]
[pieces.lining]
like = "front"
of = "soft"
lines = ["front"]
<seam corner: ["front: riser", "front: step"]>
<seam mouth: ["front: top", "lining: top"]>
<seam own: ["lining: riser", "lining: step"]>
"""


def test_a_corner_of_a_lining_that_stays_open_is_asked_about(ask: Ask) -> None:
    assert ask(BOXED) == []
    told = '"lining" lines "front", whose riser, step are sewn to each other, and no seam sews its own'
    assert [one.partition(": ")[2] for one in ask(BOXED, ('<seam own: ["lining: riser", "lining: step"]>', ""))] == [
        told
    ]


SIZES = """\
<rectangle back: ["200 mm", "150 mm"]>
landings = [{ piece = "inner", at = "centre, 30 mm from top", inside = true }]
<bare front>
<seam s: ["back: bottom", "front: bottom"]>
<rectangle inner: ["80 mm", "60 mm"]>
title = "Inner pocket"
<rectangle tray: ["200 mm", "200 mm"]>
folds = [
  { at = "40 mm from left", open = true, angle = 90 },
  { at = "40 mm from right", open = true, angle = 90 },
  { at = "40 mm from top", open = true, angle = 90 },
  { at = "40 mm from bottom", open = true, angle = 90 },
]
[trimmings.belt]
what = "webbing, 38 mm"
kind = "webbing"
width = "38 mm"
thickness = "1.8 mm"
length = "900 mm"
<hardware ring: 1, D-ring of steel, 25 mm>
inside = "26 mm"
"""


def test_goods_that_are_not_as_wide_as_their_words_say_are_asked_about(ask: Ask) -> None:
    assert ask(SIZES) == ask(SIZES, ('inside = "26 mm"', 'inside = "31.2 mm"')) == []
    (told,) = ask(SIZES, ('inside = "26 mm"', 'inside = "62 mm"'))
    assert told.endswith('"ring" inside is 62 mm (2 7/16 in) wide, and its words say "D-ring of steel, 25 mm"')
    (told,) = ask(SIZES, ('width = "38 mm"', 'width = "83 mm"'))
    assert told.endswith('"belt" is 83 mm (3 9/32 in) wide, and its words say "webbing, 38 mm"')


def test_an_inner_pocket_outside_and_one_fold_of_four_at_another_angle_are_asked_about(ask: Ask) -> None:
    assert ask(SIZES, ("inside = true", "inside = false")) == [
        '18: "inner" is called "Inner pocket", and lies on the outside of "back"'
    ]
    slip = ('"40 mm from top", open = true, angle = 90', '"40 mm from top", open = true, angle = 60')
    (told,) = ask(SIZES, slip)
    assert told.endswith('a fold of "tray" bends by 60 degrees, and the other 3 by 90')


CORD = """\
<rectangle back: ["300 mm", "150 mm"]>
[[pieces.back.hole-rows]]
start = "20 mm from left, 20 mm from top"
end = "20 mm from right, 20 mm from top"
count = 6
punch = "8 mm"
takes = "eyelet"
<bare front>
<seam s: ["back: bottom", "front: bottom"]>
[trimmings.cord]
what = "cotton cord, 6 mm"
kind = "cord"
thickness = "6 mm"
length = "900 mm"
<hardware eyelet: 6, eyelet>
<strap>
finished = "300 mm"
stitch = "main"
ends = [
  { shape = "turned", back = "40 mm", around = "ring", takes = "rivet" },
  { shape = "turned", back = "40 mm", around = "ring", takes = "rivet" },
]
punches = [{ at = "centre, 20 mm from start", punch = "4 mm" }, { at = "centre, 20 mm from end", punch = "4 mm" }]
<hardware rivet: 2, double-cap rivet>
<hardware ring: 2, D-ring>
bar = "3 mm"
"""


def test_a_cord_that_is_not_as_its_words_or_its_row_say_is_asked_about(ask: Ask) -> None:
    assert ask(CORD) == ask(CORD, ('"900 mm"', '"261 mm"')) == []
    (told,) = ask(CORD, ('"900 mm"', '"90 mm"'))
    assert told.endswith("lie 260 mm (10 1/4 in) from the first to the last")
    (told,) = ask(CORD, ('thickness = "6 mm"', 'thickness = "16 mm"'))
    assert told.endswith('"cord" is 16 mm (5/8 in) thick, and its words say "cotton cord, 6 mm"')


def test_a_turned_end_with_a_hole_for_nothing_is_asked_about(ask: Ask) -> None:
    end = '  { shape = "turned", back = "40 mm", around = "ring", takes = "rivet" },\n]'
    (told,) = ask(CORD, (end, end.replace(', takes = "rivet"', "")))
    assert told.endswith('takes nothing, as the other takes "rivet"')


PEN = """\
<bag>
<rectangle pen: ["50 mm", "40 mm"]>
folds = [{ at = "25 mm from left" }]
<seam pen: ["pen: right", "back: right from bottom 60 mm to bottom 100 mm"]>
"""


def test_a_loop_that_is_folded_off_its_middle_is_asked_about(ask: Ask) -> None:
    assert ask(PEN) == ask(PEN, ("25 mm from left", "23.6 mm from left")) == []
    (told,) = ask(PEN, ("25 mm from left", "23.4 mm from left"))
    assert told.endswith("its fold makes one half 3.2 mm (1/8 in) longer than the other")


CLOSED = """\
<rectangle cover: ["348 mm", "230 mm"]>
folds = [
  { at = "162 mm from left", open = true, angle = 90 },
  { at = "162 mm from right", open = true, angle = 90 },
]
holes = [{ at = "25 mm from right, middle", punch = "4 mm", takes = "stud" }]
landings = [{ strap = "s", at = "60 mm from left, middle", leads = "left", over = "40 mm", stitch = "main" }]
<strap>
finished = "120 mm"
ends = [{ shape = "square" }, { shape = "rounded" }]
punches = [{ at = "centre, 15 mm from end", punch = "4 mm", takes = "cap" }]
<hardware cap: 1, snap cap>
<hardware stud: 1, snap stud>
"""


def test_a_strap_whose_snap_does_not_come_round_to_the_other_half_is_asked_about(ask: Ask) -> None:
    """45 mm along the faces and the cover of 2 mm at both edges, 49 mm less the 2 mm that it gives; 69 mm with the spine
    full, and 12 mm are what leather gives. A book of 30 mm adds that to the least: 49 + 30 = 79 mm."""
    assert ask(CLOSED) == ask(CLOSED, ("120 mm", "135.9 mm")) == ask(CLOSED, ("120 mm", "102.1 mm")) == []
    (told,) = ask(CLOSED, ("120 mm", "150 mm"))
    assert "and round to the other half it is 49 mm (1 15/16 in) to 69 mm (2 23/32 in): 4 mm" in told
    held = CLOSED + '[inside]\nwidth = "150 mm"\nheight = "220 mm"\ndepth = "31 mm"\n'
    held += '[[holds]]\nwhat = "book"\nsize = ["100 mm", "200 mm", "30 mm"]\n'
    assert "round to the other half it is 79 mm (3 1/8 in): 34 mm" in "".join(ask(held, ("120 mm", "131.9 mm")))
    assert "round to the other half" not in "".join(ask(held, ("120 mm", "132.1 mm")))
    assert len(ask(CLOSED, ("120 mm", "136.1 mm"))) == len(ask(CLOSED, ("120 mm", "101.9 mm"))) == 1


ROOMS = """\
<rectangle front: ["200 mm", "150 mm"]>
<rectangle middle: ["200 mm", "150 mm"]>
<rectangle back: ["200 mm", "150 mm"]>
<strip wall: ["60 mm", "solve"]>
cut = 2
<seam fore: ["front: left bottom right", "wall 1: left"]>
<seam mid: ["wall 1: right", "middle: left bottom right", "wall 2: left"]>
<seam aft: ["wall 2: right", "back: left bottom right"]>
"""


def test_an_edge_of_a_numbered_copy_is_sewn_once(ask: Ask) -> None:
    assert ask(ROOMS) == []
    (told,) = ask(ROOMS, ("wall 2: left", "wall 2: right"))
    assert 'right of "wall 2" is in two seams' in told
    assert told.endswith("left, as long, in none")


def test_a_row_that_stops_before_a_rounded_corner_is_asked_about(ask: Ask) -> None:
    """All four edges of a pad by their names, from the top of its left one on: the corner between is not named."""
    pad = '<back>\nround = "20 mm"\n[pieces.front]\nlike = "back"\n<seam pad: ["back: EDGES", "front: EDGES"]>'
    told = [line for line in ask(pad.replace("EDGES", "left bottom right top")) if "not round its" in line]
    assert len(told) == 1
    assert 'goes along all edges of "back" but not round its top-left' in told[0]
    square = pad.replace("EDGES", "left bottom right top").replace('round = "20 mm"\n', "")
    for silent in (pad.replace("EDGES", "all"), pad.replace("EDGES", "left bottom right"), square):
        assert not any("not round its" in line for line in ask(silent))


def test_what_clips_do_not_reach_is_asked_about_once(ask: Ask) -> None:
    """Two pockets in the middle of a back, in steps that name nothing to hold them with; clips reach 30 mm (our choice)."""
    text = """<back>
landings = [{ piece = "high", at = "40 mm from top, centre" }, { piece = "low", at = "35 mm from bottom, centre" }]
<rectangle high: ["60 mm", "30 mm"]>
<rectangle low: ["60 mm", "30 mm"]>
<seam one: ["high: left bottom right", "back"]>
<seam two: ["low: left bottom right", "back"]>
<step "Sew the high one.": seams = ["one"]>
<step "Sew the low one.": seams = ["two"]>
"""
    told = [line for line in ask(text) if "held until sewn" in line]
    assert [line.partition(": ")[2] for line in told] == [
        'nothing says how "high" and "low" are held until sewn, where clips do not reach'
    ]
    taped = [(f'seams = ["{name}"]', f'seams = ["{name}"]\ntools = ["double-sided tape"]') for name in ("one", "two")]
    pinned = [(f"Sew the {name} one", f"Pin and sew the {name} one") for name in ("high", "low")]
    level = [("40 mm from top", "20 mm from top"), ("35 mm from bottom", "10 mm from bottom")]
    for edits in (taped, pinned, level):
        assert not any("held until sewn" in line for line in ask(text, *edits))


PARTNER = """\
<strap>
finished = "300 mm"
ends = [{ shape = "turned", back = "40 mm", around = "ring" }, { shape = "turned", back = "40 mm", around = "buckle" }]
<strap over of body: 20 mm>
wears = "600 mm"
partner = "s"
holes = { count = 3, pitch = "20 mm", punch = "4 mm", tip = "60 mm" }
ends = [{ shape = "square" }, { shape = "pointed" }]
<hardware buckle: 1, roller buckle>
inside = "21 mm"
bar = "3 mm"
"""


def test_low_rings_of_a_strap_that_buckles_with_one_held_higher_up_are_not_asked_about(ask: Ask) -> None:
    """So the lower straps of a backpack hang; its shoulder straps, held in the upper half, carry it."""
    own = SLING[SLING.index("<strap>") : SLING.index("<hardware ring")]
    hole = '  { at = "30 mm from right, 215 mm from start", punch = "4 mm" },\n]\n'
    landed = (
        'landings = [{ strap = "over", at = "40 mm from left, 80 mm from start", over = "30 mm", stitch = "main" }]\n'
    )
    text = SLING.replace(own, PARTNER).replace(hole, hole + landed)
    slip = ("tube: left", "tube: right")
    assert not any("turn over" in told for told in ask(text, slip))
    assert any("turn over" in told for told in ask(text.replace("40 mm from left, 80", "60 mm from right, 80"), slip))
