"""What `check` asks of words that say another edge, place or way than is written, and of what its like has and it has not.

That a slip of one name or figure leaves such a build is plain from the work; from where on it is asked is our choice.
"""

from collections.abc import Callable

import pytest
from spec_text import Edit
from twin_specs import (
    BUCKLED,
    CLASP,
    CLOTH,
    COVER,
    CROSS,
    FLARED,
    HELD,
    LATE,
    LINED,
    LINED_LATE,
    LINES,
    LOOP,
    ROLL,
    ROWS,
    SIZES,
    SLIPS,
    TABBED,
    WALL,
    WELTED,
    YOKE,
)

Ask = Callable[..., list[str]]
Case = tuple[str, Edit, str, str, Edit]

CASES: dict[str, Case] = {
    "a side that no seam sews": (
        SLIPS,
        (
            '[seams.two]\nstitch = "main"\nmeet = ["two: bottom"',
            '[seams.two-left]\nstitch = "main"\nmeet = ["two: left"',
        ),
        "43:",
        "none that sews",
        ('"two: bottom", "back"', '"two: left", "back"'),
    ),
    "an end held over next to nothing": (
        HELD,
        ('over = "25 mm"', 'over = "3 mm"'),
        "19:",
        "lies fast on",
        ('over = "25 mm"', 'over = "6 mm"'),
    ),
    "two linings for one part": (
        ROWS,
        ("<bare front>", '<rectangle inner: ["200 mm", "150 mm"]>\ncut = 2\nlines = ["back"]\n<bare front>'),
        "32:",
        'lines "back" alone',
        ("<bare front>", '<rectangle inner: ["200 mm", "150 mm"]>\nlines = ["back"]\n<bare front>'),
    ),
    "a corner of four that is a little off": (
        FLARED,
        ('["180 mm", "100 mm"]', '["186 mm", "100 mm"]'),
        "21:",
        "but for 6 mm",
        ('["180 mm", "100 mm"]', '["191 mm", "100 mm"]'),
    ),
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


GUSSET = """\
<fabric lining: 0.5 mm>
[materials.pad]
kind = "foam"
thickness = "4 mm"
<strip wall of body: ["60 mm", "200 mm"]>
<strip base of body: ["60 mm", "250 mm"]>
<strip inner of lining: ["60 mm", "426 mm"]>
lines = ["gusset"]
<strip stuffing of pad: ["40 mm", "150 mm"]>
lines = ["wall"]
[joins.gusset]
of = ["wall", "base"]
overlap = "12 mm"
stitch = "main"
<seam ends: ["wall: start", "inner: start"]>
"""


def test_a_lining_of_a_join_is_that_of_its_strips_too(ask: Ask) -> None:
    """The foam behind the strip is no lining that is sewn to its end in place of the join's own."""
    assert not [one for one in ask(GUSSET) if "which lines" in one]
    (told,) = [one for one in ask(GUSSET, ('["gusset"]', '["base"]')) if "which lines" in one]
    assert told.endswith('"ends" sews "wall" to "inner", which lines "base"')
