"""What `check` asks of rows and ends that do not go with what is beside them, each with a silent twin near its limit.

That no foreman would let them pass unasked is plain from the work; how near is near is our choice.
"""

from collections.abc import Callable

import pytest

Ask = Callable[..., Callable[..., list[str]]]

WALLS = """\
<rectangle front: ["200 mm", "150 mm"]>
landings = [{ piece = "pocket", at = "centre, 20 mm from bottom" }]
<rectangle back: ["200 mm", "150 mm"]>
<rectangle pocket: ["120 mm", "80 mm"]>
<seam pocket: ["pocket: left bottom right", "front"]>
<seam round: ["front: left bottom right", "back: left bottom right"]>
"""
BAND = """\
<rectangle front: ["200 mm", "150 mm"]>
landings = [{ piece = "band", at = "centre, 20 mm from bottom" }]
<rectangle back: ["200 mm", "150 mm"]>
<rectangle band: ["120 mm", "30 mm"]>
<seam one: ["band: left", "front"]>
<seam two: ["band: right", "front"]>
<seam round: ["front: left bottom right", "back: left bottom right"]>
"""
ROLL = """\
<rectangle back: ["400 mm", "150 mm"]>
landings = [
  { strap = "belt", at = "60 mm from left, middle", over = "40 mm", leads = "left", stitch = "main" },
  { strap = "chape", end = "second", at = "90 mm from left, middle", over = "30 mm", leads = "right", stitch = "main" },
]
<strap belt of body: 20 mm>
finished = "500 mm"
holes = { count = 5, pitch = "25 mm", punch = "4 mm", tip = "60 mm" }
<strap chape of body: 20 mm>
finished = "80 mm"
title = "Tab"
ends = [{ shape = "turned", back = "40 mm", around = "buckle", takes = "rivet" }, { shape = "square" }]
punches = [{ at = "centre, 30 mm from start", punch = "4 mm" }]
<hardware buckle: 1, buckle>
inside = "21 mm"
bar = "3 mm"
<hardware rivet: 1, rivet>
"""
TIED = """\
<rectangle outside: ["400 mm", "200 mm"]>
landings = [{ strap = "tie", at = "middle, 30 mm from right", leads = "right", over = "30 mm", stitch = "main" }]
<strap tie of body: 12 mm>
finished = "300 mm"
"""
BUCKET = """\
<circle>
diameter = "100 mm"
<strip wall: ["150 mm", "solve"]>
landings = [
  { strap = "handle", at = "60 mm from right, 60 mm from start", over = "40 mm", leads = "right", stitch = "main" },
  { strap = "handle", end = "second", at = "60 mm from right, 200 mm from start", over = "40 mm", leads = "right" },
]
[joins.body]
of = ["wall"]
overlap = "10 mm"
stitch = "main"
ring = true
<seam foot: ["a: edge", "body: left"]>
<strap handle of body: 20 mm>
finished = "300 mm"
"""
HUNG = """\
<circle>
diameter = "150 mm"
<strip wall: ["230 mm", "solve"]>
hole-rows = [{ start = "20 mm from right, 40 mm from start", end = "20 mm from right, 40 mm from end", count = 12, \
punch = "8 mm" }]
[joins.body]
of = ["wall"]
overlap = "10 mm"
stitch = "main"
ring = true
<seam foot: ["a: edge", "body: left"]>
"""
TAIL = """\
<rectangle front: ["60 mm", "300 mm"]>
<rectangle tail: ["30 mm", "200 mm"]>
holes = [
  { at = "centre, 20 mm from bottom", punch = "5 mm" },
  { at = "centre, 45 mm from bottom", punch = "5 mm" },
  { at = "centre, 70 mm from bottom", punch = "5 mm" },
]
<seam tail: ["tail: top", "front"]>
"""
PLATE = """\
<rectangle plate: ["50 mm", "120 mm"]>
holes = [
  { at = "centre, 25 mm from top", punch = "4 mm", takes = "rivet" },
  { at = "centre, 25 mm from bottom", punch = "4 mm", takes = "rivet" },
]
<hardware rivet: 2, rivet>
"""
LEAD = """\
<strap lead of body: 20 mm>
finished = "900 mm"
ends = [{ shape = "turned", back = "60 mm", around = "hook", takes = "rivet", number = 2 }, { shape = "square" }]
punches = [
  { at = "centre, 12 mm from start", punch = "4 mm" },
  { at = "centre, 44 mm from start", punch = "4 mm" },
]
<hardware hook: 1, hook>
inside = "21 mm"
bar = "4 mm"
<hardware rivet: 2, rivet>
"""
SHEATH = """\
<rectangle front: ["60 mm", "160 mm"]>
[pieces.back]
like = "front"
landings = [{ piece = "welt", at = "0 mm from right, 0 mm from top", inside = true }]
<rectangle welt: ["10 mm", "150 mm"]>
<seam side: ["front: left bottom right", "back: left bottom right"]>
"""
WALLET = """\
<rectangle inside: ["200 mm", "90 mm"]>
landings = [
  { piece = "upper", at = "0 from left, 0 from bottom" },
  { piece = "lower", at = "0 from left, 0 from bottom" },
]
<rectangle upper: ["95 mm", "80 mm"]>
<rectangle lower: ["95 mm", "60 mm"]>
"""
FOLDER = """\
<rectangle liner: ["520 mm", "300 mm"]>
landings = [
  { piece = "pocket", at = "0 from left, 0 from bottom" },
  { piece = "pocket-right", at = "0 from right, 0 from bottom" },
]
<rectangle pocket: ["240 mm", "180 mm"]>
[pieces.pocket-right]
like = "pocket"
mirror = true
"""
FLAPPED = """\
<rectangle cover: ["520 mm", "300 mm"]>
folds = [
  { at = "150 mm from left", open = true, angle = 90 },
  { at = "150 mm from right", open = true, angle = 90 },
]
"""
NEAR = """\
[stitches.fine]
by = "hand"
thread = "Tex 45 waxed polyester"
pitch = "3 mm"
inset = "2 mm"
<leather thin: 1 mm>
<rectangle front of thin: ["100 mm", "80 mm"]>
<rectangle back of thin: ["100 mm", "80 mm"]>
[seams.s]
stitch = "fine"
meet = ["front: left", "back: left"]
"""
RIM = """\
<circle>
diameter = "150 mm"
<strip wall: ["200 mm", "solve"]>
holes = [
  { at = "50 mm from right, 120 mm from start", punch = "4 mm" },
  { at = "50 mm from right, 360 mm from start", punch = "4 mm" },
]
[joins.body]
of = ["wall"]
overlap = "10 mm"
stitch = "main"
ring = true
<seam foot: ["a: edge", "body: left"]>
"""
COVER = """\
<rectangle cover: ["390 mm", "200 mm"]>
folds = [
  { at = "150 mm from left", open = true, angle = 90 },
  { at = "170 mm from left", open = true, angle = 90 },
  { at = "70 mm from right", open = true, angle = 90 },
]
"""
CUP = """\
<fabric velvet: 1 mm>
<circle>
diameter = "88 mm"
<strip wall: ["95 mm", "solve"]>
<strip lining of velvet: ["83 mm", "265 mm"]>
lines = ["wall"]
[joins.cup]
of = ["wall"]
overlap = "12 mm"
stitch = "main"
ring = true
<seam floor: ["a: edge", "cup: left"]>
<step "Sew the wall.": joins = ["cup"]>
<step "Sew the floor in.": seams = ["floor"]>
<step "Glue the velvet inside.": pieces = ["lining"]>
"""
RING = '<back>\n<front>\n<seam>\n<hardware ring: 1, split ring, 32 mm>\ninside = "30 mm"\nbar = "3 mm"\n'

# The module, a right build, the slip, words of what is asked then, and a change near the limit of which nothing is asked.
CASES = {
    "a pocket as wide as its panel": (
        "one_line",
        WALLS,
        ('["120 mm", "80 mm"]', '["200 mm", "80 mm"]'),
        '"pocket" is as wide as "front", and "pocket" sews its left and right on that, on the line of "round"',
        ('["120 mm", "80 mm"]', '["196 mm", "80 mm"]'),
    ),
    "a band as long as its panel, by two seams": (
        "one_line",
        BAND,
        ('["120 mm", "30 mm"]', '["200 mm", "30 mm"]'),
        '"band" is as wide as "front", and "one" and "two" sew its left and right on that, on the line of "round"',
        ('["120 mm", "30 mm"]', '["196 mm", "30 mm"]'),
    ),
    "a buckle that leads as its strap does": (
        "led_together",
        ROLL,
        ('leads = "right"', 'leads = "left"'),
        '"chape" with the buckle and "belt" with the holes (line 19) lie on one line of "back", and both lead left',
        (
            'at = "90 mm from left, middle", over = "30 mm", leads = "right"',
            'at = "90 mm from left, 72 mm from bottom", over = "30 mm", leads = "left"',
        ),
    ),
    "an end of which nothing says which way it leads": (
        "led_together",
        TIED,
        ('leads = "right", ', ""),
        '"tie" lies on "outside" 30 mm (1 3/16 in) from its right, and leads up, as nothing else is said',
        ('30 mm from right", leads = "right"', '45 mm from right"'),
    ),
    "a handle that leads to the base": (
        "led_together",
        BUCKET,
        ('"body: left"', '"body: right"'),
        'both ends of "handle" lead to the right of "body", and "foot" sews "a" in there',
        (
            'over = "40 mm", leads = "right", stitch = "main" },\n  { strap = "handle", end',
            'over = "40 mm", leads = "left", stitch = "main" },\n  { strap = "handle", end',
        ),
    ),
    "a row round a wall, uneven over its joint": (
        "odd_rows",
        HUNG,
        ("40 mm from end", "80 mm from end"),
        'the holes round "wall" lie 30.6 mm (1 3/16 in) from each other, and over its joint 110 mm',
        ("40 mm from end", "44 mm from end"),
    ),
    "a row of holes at the sewn end": (
        "odd_rows",
        TAIL,
        ('"tail: top"', '"tail: bottom"'),
        '"tail" is sewn on by its bottom, and all its holes lie in the half there',
        ("70 mm from bottom", "70 mm from top"),
    ),
    "a hole of another size": (
        "odd_rows",
        TAIL,
        ('45 mm from bottom", punch = "5 mm"', '45 mm from bottom", punch = "3 mm"'),
        'a hole of "tail" is 3 mm (1/8 in) across, and the 2 others in its row 5 mm',
        ('70 mm from bottom", punch = "5 mm"', '72 mm from bottom", punch = "3 mm"'),
    ),
    "holes of a plate unlike far from its ends": (
        "even_marks",
        PLATE,
        ("25 mm from bottom", "44 mm from bottom"),
        'the two holes of "plate" for "rivet" lie 44 mm (1 23/32 in) from its bottom and 25 mm',
        ("25 mm from bottom", "29 mm from bottom"),
    ),
    "a hole in the bend of an end": (
        "ends_unlike",
        LEAD,
        ("44 mm from start", "60 mm from start"),
        'a hole of "lead" lies 60 mm (2 3/8 in) from its end, which lies back over 60 mm',
        ("44 mm from start", "57 mm from start"),
    ),
    "a short welt": (
        "welts",
        SHEATH,
        ('"150 mm"]', '"96 mm"]'),
        '"welt" is 96 mm (3 25/32 in) long, and the right of "back"',
        ('"150 mm"]', '"138 mm"]'),
    ),
    "a tier far narrower than its like": (
        "tiers",
        WALLET,
        ('["95 mm", "80 mm"]', '["47.5 mm", "80 mm"]'),
        '"upper" is 47.5 mm (1 7/8 in) wide, and "lower" (line 29), at the same corner of "inside", 95 mm',
        ('["95 mm", "80 mm"]', '["77 mm", "80 mm"]'),
    ),
    "two pockets over each other": (
        "tiers",
        FOLDER,
        ('"240 mm", "180 mm"', '"300 mm", "180 mm"'),
        '"pocket" and "pocket-right" lie over each other by 80 mm (3 5/32 in) on "liner"',
        ('"240 mm", "180 mm"', '"272 mm", "180 mm"'),
    ),
    "halves of a cover": (
        "halves",
        COVER,
        ("70 mm from right", "100 mm from right"),
        'beside the spine of "cover", 20 mm (25/32 in) wide, one half is 150 mm (5 29/32 in) and the other 120 mm',
        ("70 mm from right", "66 mm from right"),
    ),
    "two folds by unlike figures": (
        "halves",
        FLAPPED,
        ("150 mm from left", "15 mm from left"),
        '"cover" is folded 15 mm (19/32 in) from its left (line 19) and 150 mm (5 29/32 in) from its right',
        ("150 mm from left", "146 mm from left"),
    ),
    "a row too near to the edge": (
        "likes",
        NEAR,
        ('inset = "2 mm"', 'inset = "1.4 mm"'),
        'the row of "fine" lies 1.4 mm (1/16 in) from the edge of leather 1 mm',
        ('inset = "2 mm"', 'inset = "1.5 mm"'),
    ),
    "holes of the rim beside the base": (
        "led_together",
        RIM,
        ('"body: left"', '"body: right"'),
        'the holes of "body" lie beside its right, where "foot" sews "a" in',
        ("50 mm from right, 360 mm", "50 mm from left, 360 mm"),
    ),
    "a lining too short to go round": (
        "glued_linings",
        CUP,
        ('diameter = "88 mm"', 'diameter = "104 mm"'),
        '"lining" is 265 mm (10 7/16 in) long, and inside "cup" (line 20), which it lines, there are',
        ('diameter = "88 mm"', 'diameter = "90 mm"'),
    ),
    "a lining over the row": (
        "glued_linings",
        CUP,
        ('"83 mm", "265 mm"', '"95 mm", "265 mm"'),
        '"lining" is 95 mm (3 3/4 in) wide, and beside the row of "floor"',
        ('"83 mm", "265 mm"', '"91 mm", "265 mm"'),
    ),
    "a tab as long as a strap": (
        "strap_figures",
        ROLL,
        ('finished = "80 mm"', 'finished = "260 mm"'),
        '"chape" is a tab for a buckle by its words, and 260 mm (10 1/4 in) long',
        ('finished = "80 mm"', 'finished = "250 mm"'),
    ),
    "a split ring wider inside than it is outside": (
        "sizes",
        RING,
        ('inside = "30 mm"', 'inside = "34.5 mm"'),
        '"ring" inside is 34.5 mm (1 11/32 in) wide, and its words say "split ring, 32 mm"',
        ('inside = "30 mm"', 'inside = "33.9 mm"'),
    ),
}


def test_a_strap_and_its_buckle_on_either_side_of_a_fold_may_lead_alike(ask_only: Ask) -> None:
    """Over the ridge of a saddle bag both lead up, and meet there; on a flat back they do not."""
    slip = ('leads = "right"', 'leads = "left"')
    ask = ask_only("led_together")
    folded = ROLL.replace(
        "landings = [", 'folds = [{ at = "200 mm from left", open = true, angle = 180 }]\nlandings = [', 1
    )
    assert len(ask(ROLL, slip)) == 1
    assert not ask(folded, slip)


@pytest.mark.parametrize("case", CASES)
def test_what_does_not_go_together_is_asked_about_and_its_silent_twin_is_not(ask_only: Ask, case: str) -> None:
    module, text, slip, words, twin = CASES[case]
    ask = ask_only(module)
    assert not ask(text)
    (told,) = [one for one in ask(text, slip) if words in one]
    assert told.partition(":")[0].isdigit()
    assert not ask(text, twin)
