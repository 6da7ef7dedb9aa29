"""Questions about what lies open or in the way, and builds that are right of which nothing is asked. That a pocket is held
at both its sides, and that eyelets lie free, is common practice, no published source."""

from collections.abc import Callable

import pytest

Ask = Callable[..., list[str]]

POCKET = """\
<rectangle panel: ["200 mm", "150 mm"]>
landings = [{ piece = "pocket", at = "0 mm from left, 0 mm from bottom" }]
<rectangle pocket: ["90 mm", "80 mm"]>
<rectangle cover: ["200 mm", "150 mm"]>
<seam side: ["pocket: right", "panel"]>
<seam round: ["panel: left bottom right", "cover: left bottom right"]>
"""
STRAP = """\
<rectangle wall: ["200 mm", "150 mm"]>
holes = [{ at = "centre, 20 mm from top", punch = "6 mm", takes = "eyelet" }]
landings = [{ strap = "sling", at = "centre, 90 mm from top", leads = "up", over = "40 mm", stitch = "main" }]
[straps.sling]
of = "body"
width = "30 mm"
finished = "600 mm"
<hardware eyelet: 1, eyelet>
"""
LOOP = """\
<rectangle panel: ["200 mm", "150 mm"]>
[trimmings.zip]
what = "coil zip"
kind = "zip"
thickness = "0.6 mm"
<rectangle cover: ["200 mm", "150 mm"]>
<rectangle tab: ["32 mm", "44 mm"]>
folds = [{ at = "middle" }]
<seam tab: ["tab: top", "tab: bottom"]>
<seam one: ["panel: top", "zip: left"]>
<seam two: ["cover: top", "zip: right"]>
<step "Fold the tab over the end of the zip.": seams = ["tab"]>
trimmings = ["zip"]
<step "Sew the zip.": seams = ["one", "two"]>
"""
FACING = """\
<rectangle front: ["200 mm", "150 mm"]>
<rectangle rear: ["200 mm", "150 mm"]>
[materials.thin]
title = "pigskin lining"
kind = "leather"
thickness = "0.8 mm"
<strip half of thin: ["40 mm", "110 mm"]>
cut = 2
[joins.facing]
of = ["half", "half"]
overlap = "20 mm"
stitch = "main"
<seam side: ["front: left", "rear: left"]>
<seam mouth: ["front: top", "facing: right"]>
<seam foot: ["facing: left", "front"]>
"""
WALLET = """\
<rectangle outer: ["200 mm", "150 mm"]>
<rectangle inner: ["200 mm", "150 mm"]>
<rectangle room: ["200 mm", "150 mm"]>
<seam mouth: ["outer: top", "inner: top"]>
<seam round: ["outer: left bottom right", "inner: left bottom right", "room: left bottom right"]>
"""
TABS = """\
<rectangle panel: ["200 mm", "150 mm"]>
<rectangle tab: ["20 mm", "60 mm"]>
folds = [{ at = "middle", around = "ring" }]
<rectangle over: ["20 mm", "60 mm"]>
folds = [{ at = "middle" }]
<hardware ring: 1, D ring>
<seam one: ["tab: top", "tab: bottom", "panel: left from top 20 mm to top 40 mm"]>
<seam two: ["over: top", "over: bottom", "panel: right from top 20 mm to top 40 mm"]>
"""


FLAP = """\
<rectangle panel: ["200 mm", "150 mm"]>
landings = [
  { piece = "pocket", at = "centre, 20 mm from bottom" },
  { piece = "slot-flap", at = "centre, 20 mm from top" },
]
<rectangle pocket: ["90 mm", "80 mm"]>
<rectangle slot-flap: ["90 mm", "60 mm"]>
<seam pocket: ["pocket: left bottom right", "panel"]>
<seam flap: ["slot-flap: top", "panel"]>
"""


@pytest.fixture
def ask(ask_only: Callable[..., Ask]) -> Ask:
    return ask_only("open_sides", "left_over", "measures", "entries", "pieces", "setting")


@pytest.fixture
def ask_of_sewn(ask_only: Callable[..., Ask]) -> Ask:
    return ask_only("open_sides", "bindings", "words")


def test_a_pocket_that_no_row_holds_at_one_side_is_asked_about(ask: Ask) -> None:
    assert ask(POCKET) == []
    open_ = ('"pocket: right"', '"pocket: bottom"')
    (told,) = ask(POCKET, open_)
    assert told.endswith('rows hold "pocket" on "panel" at its foot and its left, and none at its right')
    assert told.startswith("29:")  # the seam that sews it there, and not its landing
    assert ask(POCKET.replace("pocket", "patch"), tuple(word.replace("pocket", "patch") for word in open_)) == []


def test_a_pocket_on_a_panel_that_lies_under_a_row_is_held_by_that(ask: Ask) -> None:
    """The panel lands on a liner at its left; the row round that goes through liner, panel and pocket."""
    deep = POCKET.replace("<rectangle cover", '<rectangle liner: ["300 mm", "150 mm"]>\n%s<rectangle cover').replace(
        '["200 mm", "150 mm"]>\n<seam side', '["300 mm", "150 mm"]>\n<seam side'
    )
    deep = deep.replace('"panel: left bottom right", "cover', '"liner: left bottom right", "cover')
    deep += '<seam middle: ["panel: right", "liner"]>\n'
    lands = 'landings = [{ piece = "panel", at = "%s, 0 mm from bottom" }]\n'
    assert ask(deep % (lands % "0 mm from left")) == []
    (told,) = ask(deep % (lands % "50 mm from left"))
    assert told.endswith('rows hold "pocket" on "panel" at its foot and its right, and none at its left')


def test_the_rows_of_what_lies_beneath_hold_no_flap(ask: Ask) -> None:
    """The rows of the pocket run up 30 mm beneath the sides of the flap, which lands over it and is sewn later."""
    assert ask(FLAP) == []
    rows = 'meet = ["slot-flap: top", "panel"]', 'meet = ["slot-flap: left top", "panel"]'
    (told,) = ask(FLAP, rows)
    assert told.endswith('rows hold "slot-flap" on "panel" at its top and its left, and none at its foot')


def test_an_eyelet_under_a_strap_that_goes_over_it_is_asked_about(ask: Ask) -> None:
    (told,) = ask(STRAP)
    assert told.endswith('"eyelet" in "wall" (line 18) lies under "sling", which goes over it')
    assert ask(STRAP, ('"centre, 20 mm from top"', '"40 mm from left, 20 mm from top"')) == []
    assert ask(STRAP, ('leads = "up"', 'leads = "down"')) == []


def test_a_tab_over_the_end_of_a_zip_that_its_step_has_in_hand_is_no_lone_loop(ask: Ask) -> None:
    assert ask(LOOP) == []
    (told,) = ask(LOOP, ('\ntrimmings = ["zip"]\n', "\n"))
    assert told.endswith('"tab" sews "tab" to itself alone, and nothing else holds it')


def test_a_facing_may_be_of_what_is_called_a_lining(ask: Ask) -> None:
    assert ask(FACING) == []
    (told,) = ask(FACING, ('<seam foot: ["facing: left", "front"]>\n', ""))
    assert told.endswith('"half" is of "thin", which is called a lining')


def test_the_open_mouth_of_what_lies_inside_a_wallet_is_not_asked_about(ask: Ask) -> None:
    assert ask(WALLET) == []
    welt = (
        '"inner: left bottom right", "room: left bottom right"',
        '"room: left bottom right", "inner: left bottom right"',
    )
    (told,) = ask(WALLET, welt)
    assert told.endswith('the seam "mouth" leaves out "room", which "round" sews between the same parts')


def test_tabs_of_other_sizes_need_not_hold_a_ring_each(ask: Ask) -> None:
    (told,) = ask(TABS)
    assert told.endswith('nothing says around of "over", and all else as of "tab", which says it')
    assert ask(TABS, ('<rectangle over: ["20 mm", "60 mm"]>', '<rectangle over: ["20 mm", "44 mm"]>')) == []


RING = """\
<rectangle base: ["320 mm", "130 mm"]>
round = "30 mm"
<strip wall: ["300 mm", "solve"]>
cut = 2
landings = [{ piece = "pouch", at = "120 mm from right, middle", inside = true }]
<rectangle pouch: ["130 mm", "170 mm"]>
<join tube: ["wall", "wall"], 12 mm>
ring = true
[seams.pouch]
stitch = "main"
meet = ["pouch: bottom left top", "wall"]
times = 1
<seam base: ["base: all", "tube: left"]>
"""


def test_a_pocket_on_the_wall_of_a_ring_that_opens_to_the_base_is_asked_about(ask_of_sewn: Ask) -> None:
    """Laid inside it is turned over about its upright middle, so that its right comes to lie on the left."""
    (told,) = ask_of_sewn(RING)
    assert told.endswith(
        '"pouch" opens to the left of "wall", where "base" is sewn on, and not to its right: it lies inside, turned over'
    )
    assert ask_of_sewn(RING, ('"pouch: bottom left top"', '"pouch: bottom right top"')) == []
    assert ask_of_sewn(RING, (", inside = true", "")) == []
    (outside,) = ask_of_sewn(RING, (", inside = true", ""), ('"pouch: bottom left top"', '"pouch: bottom right top"'))
    assert outside.endswith('where "base" is sewn on, and not to its right')
    assert ask_of_sewn(RING, ('"pouch: bottom left top"', '"pouch: left top right"')) == []
    lid = '<rectangle lid: ["320 mm", "130 mm"]>\nround = "30 mm"\n<seam lid: ["lid: all", "tube: right"]>\n'
    assert ask_of_sewn(f"{RING}{lid}") == []


BINDING = """\
<rectangle panel: ["200 mm", "150 mm"]>
<rectangle cover: ["200 mm", "150 mm"]>
[trimmings.tape]
what = "binding"
kind = "binding"
width = "22 mm"
thickness = "0.5 mm"
<seam mouth: ["tape", "panel: top"]>
<seam round: ["panel: left bottom right", "cover: left bottom right"]>
"""


def test_a_binding_that_hangs_loose_beyond_its_row_is_asked_about(ask_of_sewn: Ask) -> None:
    """Round 2 mm of leather it comes (22 - 2) / 2 = 10 mm down, 6 mm beyond a row 4 mm in; of 20 mm it is 5 mm."""
    (told,) = ask_of_sewn(BINDING)
    assert '"tape" comes 10 mm' in told
    assert told.endswith("of it hangs loose")
    assert ask_of_sewn(BINDING, ('"22 mm"', '"20 mm"')) == []
    assert ask_of_sewn(BINDING, ('width = "22 mm"', 'layers = 4\nwidth = "22 mm"')) == []


PANELS = """\
<rectangle left: ["90 mm", "90 mm"]>
landings = [{ piece = "face", at = "0 mm from left, 0 mm from bottom" }]
<rectangle right: ["90 mm", "90 mm"]>
landings = [{ piece = "slant", at = "0 mm from right, 0 mm from bottom" }]
<rectangle face: ["90 mm", "50 mm"]>
<rectangle slant: ["90 mm", "60 mm"]>
<seam inner-left: ["face: right", "left"]>
<seam inner-right: ["slant: left", "right"]>
<rectangle cover: ["190 mm", "90 mm"]>
<seam round-left: ["left: left bottom", "cover: left bottom from top to right 100 mm"]>
<seam round-right: ["right: bottom right", "cover: bottom right from left 100 mm to top"]>
"""


def test_panels_with_unlike_pockets_are_sewn_as_their_landings_say(ask_of_sewn: Ask) -> None:
    """Each pocket is said to lie where its seam sews it; one that is said to lie nowhere may be another's name."""
    twin = "does not"
    assert not [told for told in ask_of_sewn(PANELS) if twin in told]
    nowhere = ('landings = [{ piece = "slant", at = "0 mm from right, 0 mm from bottom" }]\n', "")
    assert [told for told in ask_of_sewn(PANELS, nowhere) if twin in told]


def test_a_pocket_whose_side_is_sewn_to_below_its_mouth_is_asked_about(ask: Ask) -> None:
    """80 mm high, its right sewn up to so far above its foot, its left by the row round all: 10 mm may stay open."""
    side = '"pocket: right from top {0} to bottom 0 mm"'
    assert not [one for one in ask(POCKET) if "below its mouth" in one]
    assert not [one for one in ask(POCKET, ('"pocket: right"', side.format("9 mm"))) if "below its mouth" in one]
    (told,) = [one for one in ask(POCKET, ('"pocket: right"', side.format("12 mm"))) if "below its mouth" in one]
    assert 'rows hold the right of "pocket" on "panel", and end about 12 mm' in told


def test_a_pocket_whose_side_is_sewn_from_above_its_foot_on_is_asked_about(ask: Ask) -> None:
    """80 mm high, its right sewn from so far above its foot up to its mouth; the row round goes by its foot, 4 mm in, and
    is its lowest hold at that side: 10 mm above that may stay open."""
    side = '"pocket: right from top to bottom {0} mm"'
    told = [
        [one for one in ask(POCKET, ('"pocket: right"', side.format(up_mm))) if "of it open below" in one]
        for up_mm in (12, 20, 50)
    ]
    assert [len(one) for one in told] == [0, 1, 1]
    assert 'rows hold the right of "pocket" on "panel", and leave about 16 mm' in told[1][0]
    assert "leave about 46 mm" in told[2][0]


ROUND = """\
<rectangle inner: ["200 mm", "150 mm"]>
round = "8 mm"
<rectangle cover: ["200 mm", "150 mm"]>
round = "8 mm"
<seam round: ["inner: left bottom right", "cover: left bottom right"]>
<seam head: ["inner: top", "cover: top"]>
"""


def test_round_corners_between_two_seams_are_asked_about(ask_only: Callable[..., Ask]) -> None:
    """A quarter of a circle of 8 mm is 12.6 mm long, of 2 mm 3.1 mm and shorter than a stitch of 4 mm (plane geometry)."""
    ask = ask_only("sewn")
    (told,) = ask(ROUND)
    words = (
        '"round" and "head" sew the edges of "inner" on both sides of its round corner top-right, 12.6 mm (1/2 in) long'
    )
    assert words in told
    assert ask(ROUND.replace('"8 mm"', '"2 mm"')) == []
    assert ask(ROUND, ('<seam head: ["inner: top", "cover: top"]>\n', "")) == []


def test_a_pocket_whose_mouth_lies_under_a_row_is_asked_about(ask: Ask) -> None:
    """The rows lie 4 mm from the edges of the panel: a mouth 2 mm below its top is under one, and one at 5 mm is clear."""
    shut = '"pocket" on "panel" (line 18) at all four sides'
    sewn = (POCKET.replace("left bottom right", "left bottom right top"), ('"90 mm", "80 mm"', '"90 mm", "148 mm"'))
    assert shut in "".join(ask(sewn[0], sewn[1]))
    assert "four sides" not in "".join(ask(sewn[0], ('"90 mm", "80 mm"', '"90 mm", "145 mm"')))
    cut = '["90 mm", "148 mm"]\nslits = [{ start = "20 mm from left, middle", end = "70 mm from left, middle" }]'
    assert "four sides" not in "".join(ask(sewn[0], ('["90 mm", "80 mm"]', cut)))


def test_a_pocket_that_hangs_from_a_row_is_asked_about(ask: Ask) -> None:
    upside = POCKET.replace("left bottom right", "left bottom right top").replace("0 mm from bottom", "0 mm from top")
    told = 'rows hold "pocket" on "panel" at its top and its '
    assert told in "".join(ask(upside))
    assert told not in "".join(ask(upside, ("0 mm from top", "10 mm from top")))


def test_a_hem_under_the_row_of_another_seam_is_asked_about(ask: Ask) -> None:
    """The foot, turned 10 mm, lies on the edge of the panel and under its row, 4 mm in; 5 mm up it is clear of that."""
    hemmed = POCKET.replace('["90 mm", "80 mm"]>', '["90 mm", "80 mm"]>\nhems = [{ edges = "bottom", turn = "10 mm" }]')
    told = 'the hem along the bottom of "pocket" lies under the row of "round", at the edge of "panel"'
    assert told in "".join(ask(hemmed))
    assert told not in "".join(ask(hemmed, ("0 mm from bottom", "5 mm from bottom")))
    assert told not in "".join(ask(POCKET))
