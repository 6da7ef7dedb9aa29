"""What `check` asks of cards against the pockets of a cover, of bends over a mouth against the wall there, and of joints.

A flat thing needs its width and its thickness between the rows of a pocket (plane geometry: the leather goes round it);
how far bends may be off, and how near rows may come, is our choice.
"""

from collections.abc import Callable

import pytest

AskOnly = Callable[..., Callable[..., list[str]]]
Ask = Callable[..., list[str]]

# Rows 4 mm in on either side: a pocket cut 98 mm wide has 90 mm between them.
COVER = """\
<rectangle cover: ["210 mm", "100 mm"]>
folds = [{ at = "centre", open = true, angle = 180 }]
<rectangle inner: ["210 mm", "100 mm"]>
landings = [{ piece = "pocket", at = "0 from left, 0 from bottom" }]
<rectangle pocket: ["98 mm", "70 mm"]>
<seam inner: ["pocket: right", "inner"]>
<seam round: ["cover: all", "inner: all"]>
[inside]
width = "100 mm"
height = "90 mm"
depth = "10 mm"
[[holds]]
what = "card"
size = ["89 mm", "54 mm", "1 mm"]
"""


@pytest.fixture
def ask(ask_only: AskOnly) -> Ask:
    return ask_only("pocket_widths", "flap_bends", "round_joints", "ends_unlike")


@pytest.mark.parametrize(
    ("size", "is_asked"),
    [
        ('["89 mm", "54 mm", "1 mm"]', False),
        ('["89 mm", "54 mm", "2 mm"]', True),
        ('["95 mm", "60 mm", "1 mm"]', True),
        ('["66 mm", "89 mm", "1 mm"]', False),
        ('["95 mm", "20 mm", "1 mm"]', False),
        ('["95 mm", "60 mm", "9 mm"]', False),
    ],
)
def test_a_card_wider_than_the_room_between_rows_is_asked_about(ask: Ask, size: str, *, is_asked: bool) -> None:
    """89 + 1 go into 90, 89 + 2 do not within half a millimetre; what is long and narrow, or thick, is no card."""
    told = ask(COVER, ('["89 mm", "54 mm", "1 mm"]', size))
    assert len(told) == is_asked


def test_the_room_of_the_widest_pocket_is_told_with_its_line(ask: Ask) -> None:
    assert ask(COVER, ('["98 mm", "70 mm"]', '["97 mm", "70 mm"]')) == [
        '40: card is 89 mm (3 1/2 in) wide and 1 mm (1/32 in) thick, and between the rows at the sides of "pocket" '
        "(line 27), the widest pocket, there are 89 mm (3 1/2 in)"
    ]


def test_nothing_is_asked_where_a_side_of_a_pocket_is_held_by_no_row(ask: Ask) -> None:
    assert ask(COVER, ('["98 mm", "70 mm"]', '["80 mm", "70 mm"]'), ("pocket: right", "pocket: bottom")) == []


CASE = """\
<rectangle front: ["150 mm", "80 mm"]>
<rectangle body: ["150 mm", "180 mm"]>
folds = [
  { at = "80 mm from bottom", open = true, angle = 90 },
  { at = "120 mm from bottom", open = true, angle = 90 },
]
<strip wall: ["40 mm", "solve"]>
<seam a: ["front: left bottom right", "wall: left"]>
<seam b: ["body: left bottom right from top 100 mm to top 100 mm", "wall: right"]>
"""


LANDED = """\
<rectangle front: ["150 mm", "80 mm"]>
<rectangle body: ["150 mm", "80 mm"]>
landings = [{ piece = "flap", at = "centre, 50 mm from bottom" }]
<rectangle flap: ["150 mm", "150 mm"]>
folds = [
  { at = "30 mm from bottom", open = true, angle = 90 },
  { at = "70 mm from bottom", open = true, angle = 90 },
]
<strip wall: ["40 mm", "solve"]>
<seam a: ["front: left bottom right", "wall: left"]>
<seam b: ["body: left bottom right", "wall: right"]>
<seam c: ["flap: bottom", "body"]>
"""


@pytest.mark.parametrize(
    ("second", "is_asked"), [("104 mm", False), ("103 mm", True), ("132 mm", False), ("133 mm", True), ("150 mm", True)]
)
def test_bends_farther_apart_than_the_wall_is_wide_are_asked_about(ask: Ask, second: str, *, is_asked: bool) -> None:
    """A wall of 40 mm, rows 4 mm in, leather of 2 mm: 40 - 8 - 8 = 24 to 40 + 4 + 8 = 52."""
    told = ask(CASE, ("120 mm from bottom", f"{second} from bottom"))
    assert len(told) == is_asked


def test_the_bends_of_a_flap_that_lands_are_held_against_the_wall_too(ask: Ask) -> None:
    assert ask(LANDED) == []
    told = ask(LANDED, ("70 mm from bottom", "110 mm from bottom"))
    assert [line.partition(" lie ")[2] for line in told] == [
        '80 mm (3 5/32 in) apart (line 28), and "wall", over which it comes, is 40 mm (1 9/16 in) wide'
    ]


RING = """\
<rectangle base: ["100 mm", "60 mm"]>
<strip wall: ["80 mm", "330 mm"]>
[[pieces.wall.hole-rows]]
start = "15 mm from right, 25 mm from start"
end = "15 mm from right, 305 mm from start"
count = 8
punch = "6 mm"
takes = "eyelet"
<join ring: ["wall"], 10 mm>
ring = true
rows = 2
<hardware eyelet: 8, eyelet>
"""


@pytest.mark.parametrize(
    ("end", "is_asked"),
    [
        ("305 mm", False),
        ("309 mm", False),
        ("310 mm", True),
        ("280 mm", False),
        ("275 mm", True),
        ("262 mm", True),
        ("235 mm", False),
    ],
)
def test_holes_that_stand_unevenly_over_the_joint_of_a_ring_are_asked_about(
    ask: Ask, end: str, *, is_asked: bool
) -> None:
    """320 mm round, from 25 mm on: 40 apart and 40 over the joint; to 310 mm 40.7 and 35 (0.86), to 309 mm 40.6 and 36
    (0.89); to 280 mm 36.4 and 65 (1.78), to 275 mm 35.7 and 70 (1.96); to 235 mm 30 and 110, left free."""
    told = [line for line in ask(RING, ("305 mm from start", f"{end} from start")) if "eyelet" in line]
    assert len(told) == is_asked


@pytest.mark.parametrize(("overlap", "is_asked"), [("7.2 mm", False), ("7.1 mm", True), ("6 mm", True)])
def test_rows_of_a_joint_nearer_to_its_ends_than_elsewhere_are_asked_about(
    ask: Ask, overlap: str, *, is_asked: bool
) -> None:
    """Two rows share the overlap in thirds: 2.4 mm are six tenths of the 4 mm by which the stitch lies in."""
    told = [line for line in ask(RING, ('overlap = "10 mm"', f'overlap = "{overlap}"')) if "share" in line]
    assert len(told) == is_asked


def test_one_turned_end_of_several_that_is_not_skived_is_asked_about(ask: Ask) -> None:
    turned = 'shape = "turned", back = "40 mm", around = "ring", sewn = "main"'
    thin = 'skive = { over = "40 mm", to = "1 mm" }'
    text = f"""\
<bag>
<hardware ring: 3, D ring>
inside = "20 mm"
bar = "3 mm"
<strap one of body: 20 mm>
finished = "200 mm"
ends = [{{ {turned}, {thin} }}, {{ {turned}, {thin} }}]
<strap other of body: 20 mm>
finished = "300 mm"
ends = [{{ {turned}, {thin} }}, {{ shape = "square" }}]
"""
    assert ask(text) == []
    told = ask(text, (f', {thin} }}, {{ shape = "square"', ' }, { shape = "square"'))
    assert told == [
        '37: an end of "other" is turned back at its full 2 mm (3/32 in), and all other ends of "body" that are turned are '
        'skived, as those of "one" (line 28)'
    ]
