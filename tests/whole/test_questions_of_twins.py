"""What `check` asks of words that say another edge, place or way than is written, and of what its like has and it has not.

That a slip of one name or figure leaves such a build is plain from the work; from where on it is asked is our choice.
"""

from collections.abc import Callable

import pytest
from spec_text import Edit

Ask = Callable[..., list[str]]
Case = tuple[str, Edit, str, str, Edit]

SIZES = """\
[measures]
wide = "100 mm"
tall = "84 mm"
<rectangle face: ["wide", "tall"]>
"""
YOKE = """\
[pieces.yoke]
of = "body"
shape = "outline"
points = [
  { at = ["0", "0"], edge = "foot" },
  { at = ["300 mm", "0"], edge = "arm-right" },
  { at = ["250 mm", "100 mm"], edge = "top-right" },
  { at = ["162 mm", "100 mm"], edge = "cut", curve = ["161 mm", "86 mm", "139 mm", "86 mm"] },
  { at = ["138 mm", "100 mm"], edge = "top-left" },
  { at = ["50 mm", "100 mm"], edge = "arm-left" },
]
slits = [{ start = "50 mm from left, 20 mm from bottom", end = "50 mm from left, 60 mm from bottom" }]
"""
SLIPS = """\
<back>
landings = [
  { piece = "one", at = "0 from left, 80 mm from bottom" },
  { piece = "two", at = "0 from left, 40 mm from bottom" },
  { piece = "three", at = "0 from left, 0 from bottom" },
]
<rectangle one: ["200 mm", "60 mm"]>
dividers = [{ at = "60 mm from left", stitch = "main" }, { at = "60 mm from right", stitch = "main" }]
<rectangle two: ["200 mm", "60 mm"]>
<rectangle three: ["200 mm", "60 mm"]>
<bare front>
<seam foot: ["one: bottom", "back"]>
title = "Foot of the first"
<seam two: ["two: bottom", "back"]>
<seam round: ["front: left bottom right", "back: left bottom right"]>
<step "Sew the first and second on.": seams = ["foot", "two"]>
<step "Glue the third over them.": pieces = ["three"]>
<step "Sew round.": seams = ["round"]>
"""
LATE = SLIPS.replace("Glue the third over them", "Look at it") + '<step "Burnish the third.": pieces = ["three"]>\n'
ROWS = """\
<back>
holes = [
  { at = "60 mm from left, 60 mm from bottom", punch = "4 mm" },
  { at = "60 mm from left, 99 mm from bottom", punch = "4 mm" },
]
[[pieces.back.hole-rows]]
start = "35 mm from left, 30 mm from top"
end = "35 mm from right, 30 mm from top"
count = 4
punch = "6 mm"
<bare front>
holes = [
  { at = "60 mm from left, 6 cm from bottom", punch = "4 mm" },
  { at = "60 mm from left, 9.9 cm from bottom", punch = "4 mm" },
]
[[pieces.front.hole-rows]]
start = "35 mm from left, 30 mm from top"
end = "35 mm from right, 30 mm from top"
count = 4
punch = "6 mm" # of the front
<seam>
[inside]
width = "190 mm"
height = "140 mm"
depth = "12 mm"
[[holds]]
what = "tablet"
size = ["150 mm", "100 mm", "8 mm"]
"""
BUCKLED = """\
<leather butt: 3 mm>
<back>
<strap long of body: 20 mm>
finished = "400 mm"
holes = { count = 3, pitch = "20 mm", punch = "4 mm", tip = "60 mm" }
<strap chape of body: 20 mm>
finished = "90 mm"
ends = [{ shape = "turned", back = "40 mm", around = "buckle", takes = "rivet" }, { shape = "square" }]
<hardware buckle: 1, buckle>
inside = "21 mm"
bar = "3 mm"
<hardware rivet: 1, double-cap rivet>
"""
LINED = """\
<leather thin: 1 mm>
<back>
hems = [{ edges = "top", turn = "10 mm" }]
<rectangle front: ["200 mm", "150 mm"]>
hems = [{ edges = "top", turn = "10 mm" }]
<rectangle in-b of thin: ["200 mm", "140 mm"]>
lines = ["back"]
<rectangle in-f of thin: ["200 mm", "140 mm"]>
lines = ["front"]
<seam hem: ["back: top", "back"]>
title = "Hem of the back"
<seam front-hem: ["front: top", "front"]>
<seam foot: ["front: bottom", "in-f: bottom"]>
<seam round: ["front: left bottom right", "in-f: left bottom right", "in-b: left bottom right", "back: left bottom right"]>
turned = true
<step "Glue the linings in.": pieces = ["in-f", "in-b"]>
<step "Sew.": seams = ["hem", "front-hem", "foot"]>
<step "Sew round, face to face, and turn.": seams = ["round"]>
"""
LINED_LATE = LINED.replace('<step "Glue the linings in.": pieces = ["in-f", "in-b"]>\n', "") + (
    '<step "Fold the linings in.": pieces = ["in-f", "in-b"]>\n'
)
ROLL = """\
<rectangle body: ["300 mm", "200 mm"]>
landings = [{ piece = "pockets", at = "0 from left, 0 from bottom", inside = true }]
<rectangle pockets: ["300 mm", "80 mm"]>
<seam round: ["pockets: left bottom right", "body"]>
<step "Lay the pockets on the inside of the body and sew.": seams = ["round"]>
"""
LOOP = """\
<rectangle back: ["200 mm", "260 mm"]>
folds = [{ at = "60 mm from top" }]
holes = [
  { at = "40 mm from left, 15 mm from top", punch = "4 mm", takes = "rivet" },
  { at = "centre, 15 mm from top", punch = "4 mm", takes = "rivet" },
  { at = "40 mm from right, 15 mm from top", punch = "4 mm", takes = "rivet" },
  { at = "40 mm from left, 105 mm from top", punch = "4 mm" },
  { at = "centre, 105 mm from top", punch = "4 mm" },
  { at = "40 mm from right, 105 mm from top", punch = "4 mm" },
]
<hardware rivet: 3, double-cap rivet>
"""
WALL = """\
<strip half: ["80 mm", "200 mm"]>
[pieces.half-b]
like = "half"
<join wall: ["half", "half-b"], 14 mm>
ring = true
"""
CROSS = """\
[pieces.front]
of = "body"
shape = "outline"
points = [
  { at = ["20 mm", "0"], edge = "foot" },
  { at = ["180 mm", "0"], edge = "right" },
  { at = ["200 mm", "100 mm"], edge = "top" },
  { at = ["0", "100 mm"], edge = "left" },
]
[pieces.back]
like = "front"
<seam sides: ["front: right", "back: left"]>
<seam others: ["front: left", "back: right"]>
<seam top: ["front: top", "back: top"]>
<seam foot: ["front: foot", "back: foot"]>
"""
COVER = """\
<rectangle cover: ["220 mm", "140 mm"]>
folds = [{ at = "centre", open = true }]
<rectangle one: ["70 mm", "140 mm"]>
<rectangle two: ["70 mm", "140 mm"]>
<seam left: ["cover: left", "one: left"]>
<seam right: ["cover: right", "two: right"]>
"""
WELTED = """\
<leather pig: 0.6 mm>
<back>
<bare front>
<strip welt: ["10 mm", "150 mm"]>
<seam side: ["back: left", "welt: left", "front: left"]>
<strap grip of body: 20 mm>
cut = 2
finished = "300 mm"
ends = [{ shape = "turned", back = "40 mm", around = "ring", takes = "rivet" }, { shape = "square" }]
<hardware ring: 2, ring>
inside = "21 mm"
bar = "3 mm"
<hardware rivet: 2, double-cap rivet>
"""
TABBED = """\
<back>
holes = [{ at = "30 mm from left, 40 mm from bottom", punch = "4 mm", through = ["tab"] }]
<bare front>
<rectangle tab: ["20 mm", "60 mm"]>
holes = [{ at = "centre, 10 mm from bottom", punch = "4 mm", takes = "rivet", through = ["back"] }]
<seam round: ["back: left bottom right", "front: left bottom right"]>
<hardware rivet: 1, double-cap rivet>
<rectangle loop: ["60 mm", "30 mm"]>
folds = [{ at = "centre" }]
<seam loop: ["front: top from left 20 mm to left 50 mm", "loop: left", "loop: right"]>
"""
CLASP = """\
<rectangle cover: ["240 mm", "140 mm"]>
folds = [{ at = "centre", open = true }]
holes = [{ at = "20 mm from right, middle", punch = "4 mm", takes = "snap" }]
landings = [{ strap = "clasp", at = "50 mm from left, middle", leads = "left", over = "30 mm", stitch = "main" }]
<strap clasp of body: 20 mm>
finished = "90 mm"
ends = [{ shape = "square" }, { shape = "rounded" }]
punches = [{ at = "centre, 15 mm from end", punch = "4 mm", takes = "snap" }]
<hardware snap: 1, line 20 snap>
"""
LINES = """\
<rectangle outer: ["200 mm", "150 mm"]>
<rectangle inner: ["200 mm", "150 mm"]>
landings = [{ piece = "row", at = "0 from left, 0 from bottom" }]
<rectangle row: ["200 mm", "60 mm"]>
dividers = [{ at = "centre", stitch = "main", on = "inner" }]
<seam round: ["inner: left bottom right", "outer: left bottom right"]>
<step "Sew the line of the row.": pieces = ["row", "inner"]>
<step "Sew round.": seams = ["round"]>
"""
CLOTH = """\
[materials.felt]
kind = "fabric"
thickness = "2 mm"
width = "90 cm"
edges = "bevelled, left raw"
<rectangle pad of felt: ["100 mm", "80 mm"]>
cut = 2
<step "Lay the pads in.": pieces = ["pad"]>
"""
CASES: dict[str, Case] = {
    "a height for a width": (
        SIZES,
        ('["wide", "tall"]', '["tall", "wide"]'),
        "20:",
        "is the width of",
        ('["wide", "tall"]', '["tall", "90 mm"]'),
    ),
    "an edge called nearly as its twin": (
        YOKE,
        ('"arm-right"', '"am-right"'),
        "19:",
        "and its twin",
        ('"arm-right"', '"bow-right"'),
    ),
    "a cut that ends from the other side": (
        YOKE,
        ('60 mm from bottom" }', '30 mm from top" }'),
        "25:",
        "a cut of",
        ('60 mm from bottom" }', '50 mm from bottom" }'),
    ),
    "a corner beyond all others": (
        YOKE,
        ('["250 mm", "100 mm"]', '["350 mm", "100 mm"]'),
        "20:",
        "two corners",
        ('["250 mm", "100 mm"]', '["250.3 mm", "100 mm"]'),
    ),
    "a handle of a curve": (
        YOKE,
        ('"161 mm", "86 mm"', '"161 mm", "114 mm"'),
        "21:",
        "two curves",
        ('"161 mm", "86 mm"', '"161 mm", "86.3 mm"'),
    ),
    "a pocket from the other side": (
        SLIPS,
        ("40 mm from bottom", "40 mm from top"),
        "20:",
        "pieces of one size",
        ("40 mm from bottom", "45 mm from bottom"),
    ),
    "a dividing line nearer": (
        SLIPS,
        ('"60 mm from left"', '"6 mm from left"'),
        "27:",
        "from its side",
        ('"60 mm from left"', '"31 mm from left"'),
    ),
    "an edge that its words do not say": (
        SLIPS,
        ('"one: bottom"', '"one: right"'),
        "41:",
        "and says bottom",
        ('"Foot of the first"', '"The first"'),
    ),
    "what is glued on too late": (
        LATE,
        ("Burnish the third", "Glue the third over them"),
        "55:",
        "comes in hand",
        ("Burnish", "Wax"),
    ),
    "one figure of a row": (
        ROWS,
        ('count = 4\npunch = "6 mm" #', 'count = 3\npunch = "6 mm" #'),
        "37:",
        "its model",
        ('"8 mm"]', '"9 mm"]'),
    ),
    "a hole that meets none": (
        ROWS,
        ("9.9 cm from bottom", "9.9 cm from top"),
        "32:",
        "meets none of",
        ("9.9 cm from bottom", "100 mm from bottom"),
    ),
    "a thing that is too thin": (ROWS, ('"8 mm"]', '"1 mm"]'), "48:", "thick here", ('"8 mm"]', '"2 mm"]')),
    "a chape of another leather": (
        BUCKLED,
        ('[straps.chape]\nof = "body', '[straps.chape]\nof = "butt'),
        "27:",
        "with the buckle",
        ('"21 mm"', '"22 mm"'),
    ),
    "a buckle far wider than its strap": (
        BUCKLED,
        ("<strap long of body: 20 mm>", "<strap long of body: 14 mm>"),
        "23:",
        "it may go through",
        ("<strap long of body: 20 mm>", "<strap long of body: 17 mm>"),
    ),
    "the lining of the other part": (
        LINED,
        ('"in-f: bottom"', '"in-b: bottom"'),
        "46:",
        "which lines",
        ('"in-f: bottom"', '"in-f: top"'),
    ),
    "a hem of what has none there": (
        LINED,
        ('["back: top", "back"]', '["back: left", "back"]'),
        "39:",
        "turned over",
        ("Hem of the back", "Upper edge"),
    ),
    "a hem that no seam sews": (
        LINED,
        ('"front: top", "front"]', '"back: top", "back"]'),
        "26:",
        "no seam sews the hem",
        ("Hem of the back", "Turned edge"),
    ),
    "a seam that is said to be turned": (
        LINED,
        ("turned = true", "turned = false"),
        "50:",
        "is not turned",
        (", and turn", ""),
    ),
    "a lining glued in too late": (
        LINED_LATE,
        ("Fold the linings", "Glue the linings"),
        "54:",
        "is to lay in",
        ("Fold the linings", "Wax the linings"),
    ),
    "pockets on the outside": (ROLL, (", inside = true", ""), "18:", "on the inside of", ("on the inside of", "over")),
    "a hole beyond a fold that meets none": (
        LOOP,
        ('"centre, 15 mm from top"', '"centre, 25 mm from top"'),
        "24:",
        "folded, a hole",
        ('"centre, 15 mm from top"', '"centre, 16 mm from top"'),
    ),
    "a strip in no join": (WALL, ('["half", "half-b"]', '["half"]'), "20:", "in no seam", ('"200 mm"]', '"210 mm"]')),
    "an open foot": (
        CROSS,
        ('<seam foot: ["front: foot", "back: foot"]>\n', ""),
        "14:",
        "whose other edges",
        ('["20 mm", "0"]', '["21 mm", "0"]'),
    ),
    "a cover that is folded shut": (
        COVER,
        (", open = true", ""),
        "18:",
        "nothing holds",
        ("centre", "100 mm from left"),
    ),
    "a welt of thin lining": (
        WELTED,
        ('[pieces.welt]\nof = "body"', '[pieces.welt]\nof = "pig"'),
        "25:",
        "lies between parts",
        ('"0.6 mm"', '"1.3 mm"'),
    ),
    "one ring for two": (
        WELTED,
        ("count = 2\ninside", "count = 1\ninside"),
        "39:",
        "are turned round",
        ("count = 2\ninside", "count = 3\ninside"),
    ),
    "a strap of cloth": (
        WELTED,
        ("<strap grip of body: 20 mm>", '<fabric felt: 3 mm>\nwidth = "90 cm"\n<strap grip of felt: 20 mm>'),
        "36:",
        "is of fabric",
        ('"300 mm"', '"310 mm"'),
    ),
    "a loop of board": (
        TABBED,
        (
            '[pieces.loop]\nof = "body"',
            '[materials.card]\nkind = "board"\nthickness = "1 mm"\n[pieces.loop]\nof = "card"',
        ),
        "37:",
        "is of board",
        ('"60 mm", "30 mm"', '"62 mm", "30 mm"'),
    ),
    "a hole through what has none": (
        TABBED,
        ('through = ["tab"]', 'through = ["front"]'),
        "18:",
        "which has none",
        ("10 mm from bottom", "12 mm from bottom"),
    ),
    "a loop sewn to nothing": (
        TABBED,
        ('"front: top from left 20 mm to left 50 mm", ', ""),
        "40:",
        "to itself alone",
        ("10 mm from bottom", "12 mm from bottom"),
    ),
    "a stud on the side of the strap": (
        CLASP,
        ('"20 mm from right', '"20 mm from left'),
        "19:",
        "same side of the fold",
        ('"90 mm"', '"95 mm"'),
    ),
    "lines sewn too late": (
        LINES.replace('<step "Sew round.": seams = ["round"]>\n', "").replace("Sew the", "Crease the"),
        (
            '<step "Crease the line of the row.": pieces = ["row", "inner"]>',
            '<step "Sew round.": seams = ["round"]>\n<step "Sew the line of the row.": pieces = ["row", "inner"]>',
        ),
        "31:",
        "through both then",
        ("Crease", "Sew"),
    ),
    "cloth as narrow as a ribbon": (CLOTH, ('"90 cm"', '"9 cm"'), "17:", "cloth mostly", ('"90 cm"', '"40 cm"')),
    "a side of a piece for what is left raw": (CLOTH, ("left raw", "top raw"), "18:", '"left"', ("left raw", "raw")),
    "pads of which one is cut": (CLOTH, ("cut = 2", "cut = 1"), "23:", "one is cut", ("cut = 2", "cut = 3")),
}


@pytest.fixture
def ask(ask_only: Callable[..., Ask]) -> Ask:
    return ask_only("straps_closing", "unsuited", "said", "twins", "left_over", "shapes", "goods", "words", "spelling")


@pytest.mark.parametrize("name", CASES)
def test_what_is_not_as_its_like_or_its_words_is_asked_about(name: str, ask: Ask) -> None:
    text, slip, line, words, twin = CASES[name]
    (told,) = [one for one in ask(text, slip) if words in one]
    assert told.startswith(line), told
    assert not [one for one in (*ask(text), *ask(text, twin)) if words in one]
