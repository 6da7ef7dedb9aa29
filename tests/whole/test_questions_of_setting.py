"""What `check` asks of holes, rivets and steps that do not agree, and of what holds a part that lies on another.

That a slip of one figure, name or line leaves such a build is plain from the work; how near is near is our choice.
"""

from collections.abc import Callable

import pytest
from slipped_specs import BOTH, COPIES, FLAP, LINED, LOOPS, POCKET, RINGS, SHEATH, TAIL, TWIN

Ask = Callable[..., list[str]]

CASES = {
    "half a snap": (
        FLAP,
        ('holes = [{ at = "centre, 30 mm from bottom", punch = "4 mm", takes = "snap" }]\n', ""),
        "23:",
        "one half is set nowhere",
        ("snap line 20", "cap of a snap"),
    ),
    "a snap beside the hinge of its flap": (
        FLAP,
        ('"flap: top"', '"flap: left"'),
        "31:",
        "amid the way across",
        ('"flap: top"', '"flap: bottom"'),
    ),
    "a part of a part that is folded": (
        FLAP,
        ("snap line 20", "snap, line 20"),
        "19:",
        'folds "flap"',
        ("Fold the flap's end", "Press the flap's end"),
    ),
    "hardware that no step sets": (
        FLAP.replace(" and set the snap", "").replace('tools = ["contact cement"]\n', ""),
        ('hardware = ["snap"]\n', ""),
        "32:",
        'no step sets "snap"',
        ("line 20", "line 24"),
    ),
    "another part in a seam than in the words of its step": (
        f'{TWIN}<step "Sew the gusset to the back.": seams = ["side-left"]>\n',
        ('"back: left"', '"front: left"'),
        "31:",
        'sews "gusset" to "back", and "side-left" sews it to "front"',
        ("to the back", "in"),
    ),
    "a seam unlike its twin": (
        TWIN,
        ('"gusset: right"', '"tongue: right"'),
        "34:",
        'sews "tongue", and "side-left" does not',
        ("[seams.side-right]", "[seams.far]"),
    ),
    "a seam that lacks what its twin has": (
        TWIN,
        ('"gusset: right"', '"front: right"'),
        "34:",
        'sews nothing like "gusset", which "side-left" on line 31 sews',
        ("[seams.side-right]", "[seams.far]"),
    ),
    "a loop with its ends on two parts": (
        SHEATH,
        ("[seams.welt]", '<seam loop-top: ["loop: top", "welt"]>\n[seams.welt]'),
        "35:",
        'sews it flat on "welt"',
        ("[seams.welt]", '<seam loop-top: ["loop: top", "back"]>\n[seams.welt]'),
    ),
    "a hole without its like across": (
        LOOPS,
        (
            '  { at = "50 mm from right, 40 mm from bottom", punch = "4 mm", takes = "rivet", through = ["loop"] },\n',
            "",
        ),
        "14:",
        "none across from it",
        ('"50 mm from left, 40 mm', '"60 mm from left, 40 mm'),
    ),
    "both ends on one ring": (
        BOTH,
        ("count = 2", "count = 1"),
        "24:",
        "one ring for both",
        ('sewn = "main" },\n]', 'sewn = "main", loop = "5 mm" },\n]'),
    ),
    "a copy more than rivets hold": (
        LOOPS,
        ("cut = 2", "cut = 3"),
        "31:",
        "4 holes wait",
        ('"centre, 13 mm', '"centre, 14 mm'),
    ),
    "another number in the words of a step": (
        LOOPS,
        ("the two loops", "the three loops"),
        "31:",
        "speaks of three",
        ("the two loops", "both loops"),
    ),
    "several in the words of a step": (
        LOOPS,
        ("cut = 2\n", ""),
        "27:",
        'speaks of two "loop"',
        ("cut = 2\n", 'cut = 2\nnote = "x"\n'),
    ),
    "punched when it is riveted": (
        LOOPS,
        (
            'hardware = ["rivet"]\n',
            'hardware = ["rivet"]\n[[steps]]\ndo = "Punch the loops again."\npieces = ["loop"]\n',
        ),
        "46:",
        "which only step 3 punches",
        ('hardware = ["rivet"]\n', 'hardware = ["rivet"]\n[[steps]]\ndo = "Press the loops."\npieces = ["loop"]\n'),
    ),
    "two like holes on one half": (
        LOOPS,
        ('"50 mm from right, 40', '"120 mm from right, 40'),
        "22:",
        "lie on one half",
        ('"50 mm from right, 40', '"95 mm from right, 40'),
    ),
    "hardware that no hole takes": (
        TAIL,
        ("screw post", "screw posts"),
        "34:",
        "no hole says that it takes",
        ('kind = "screw-post"', 'kind = "other"'),
    ),
    "one punch among others": (
        TAIL,
        ('80 mm from end", punch = "9 mm"', '80 mm from end", punch = "3 mm"'),
        "31:",
        "is 3 mm",
        ('80 mm from end", punch = "9 mm"', '80 mm from end", punch = "9.2 mm"'),
    ),
    "a hole from the other end": (
        TAIL,
        ('"centre, 40 mm from end"', '"centre, 40 mm from start"'),
        "21:",
        "from its two ends",
        ('"centre, 40 mm from end"', '"centre, 41 mm from start"'),
    ),
    "a rivet that a step leaves out": (
        RINGS,
        ('["two"]\nhardware = ["ring", "rivet"]', '["two"]\nhardware = ["ring"]'),
        "43:",
        "does not name it",
        ('["two"]\nhardware = ["ring", "rivet"]', '["two"]\nhardware = ["rivet"]'),
    ),
    "a pocket across the fold of its host": (
        POCKET,
        ("0 mm from bottom", "0 mm from top"),
        "22:",
        "runs across",
        ("0 mm from bottom", "60 mm from bottom"),
    ),
    "a pocket hardly wider than its rows": (
        POCKET,
        ('["300 mm", "160 mm"]', '["25 mm", "160 mm"]'),
        "26:",
        "17 mm (21/32 in) wide between",
        ('["300 mm", "160 mm"]', '["27 mm", "160 mm"]'),
    ),
    "a raw edge of cloth": (
        POCKET,
        ('[pieces.pocket]\nof = "body"', '[pieces.pocket]\nof = "linen"'),
        "24:",
        "raw edge of cloth",
        ('[pieces.pocket]\nof = "body"', '[pieces.pocket]\nhems = [{ edges = "top", turn = "10 mm" }]\nof = "linen"'),
    ),
    "an edge in two flat seams": (
        POCKET,
        ("[[steps]]", '<seam foot: ["pocket: bottom", "body"]>\n[[steps]]'),
        "32:",
        'as "pocket" does',
        ("[[steps]]", '<seam foot: ["body: bottom"]>\n[[steps]]'),
    ),
    "a seam that sews a loop to another part": (
        SHEATH,
        ('["loop: bottom", "back"]', '["loop: bottom", "welt"]'),
        "32:",
        'sews it flat on "welt"',
        ('"centre, 40 mm from bottom"', '"centre, 41 mm from bottom"'),
    ),
    "a welt that is sewn by its end": (
        SHEATH,
        ('"welt: left"', '"welt: top"'),
        "35:",
        "sewn by its top alone",
        ('"welt: left"', '"welt: right"'),
    ),
    "a seam called by another part": (
        SHEATH,
        ('"welt: left"', '"loop: left"'),
        "35:",
        "not the piece of that name",
        ('"welt: left"', '"welt: right"'),
    ),
    "a part that is sewn already": (
        SHEATH,
        ('pieces = ["front"]', 'pieces = ["loop"]'),
        "45:",
        'names "loop" in pieces',
        ('pieces = ["front"]', 'pieces = ["back"]'),
    ),
    "a lining like another part than it is named for": (
        LINED.replace("cloth", "lining"),
        ('like = "back"', 'like = "front"'),
        "27:",
        "for which it is named",
        ('of = "linen"\nlike = "back"', 'of = "linen"\nnote = "x"\nlike = "back"'),
    ),
    "a part of the cloth that lines it": (
        LINED,
        ('[pieces.back]\nof = "body"', '[pieces.back]\nof = "linen"'),
        "18:",
        "as its lining",
        ('like = "back"\nlines', 'like = "front"\nlines'),
    ),
    "a copy more than seams name": (
        COPIES,
        ("cut = 2", "cut = 3"),
        "25:",
        'no more than "side 2"',
        ("cut = 2", 'cut = 2\nnote = "x"'),
    ),
    "a left seam that sews the right": (
        COPIES,
        (
            "[seams.left]",
            '[pieces.side-right]\nlike = "side"\n<seam side-left: ["side-right: top", "side: top"]>\n[seams.left]',
        ),
        "30:",
        'sews "side-right"',
        ("[seams.left]", "[seams.other]"),
    ),
    "a seam for one side that sews the part for the other": (
        COPIES,
        (
            "[seams.left]",
            '[pieces.side-right]\nlike = "side"\n<seam side-left: ["side-right: top", "side: top"]>\n[seams.left]',
        ),
        "30:",
        'sews "side-right"',
        (
            "[seams.left]",
            '[pieces.side-left]\nlike = "side"\n<seam side-left: ["side-left: top", "side: top"]>\n[seams.left]',
        ),
    ),
    "a sheet of paper that is too small": (COPIES, ('"210 mm"', '"21 mm"'), "40:", "A5 is", ('"210 mm"', '"207 mm"')),
}


@pytest.mark.parametrize("name", CASES)
def test_what_does_not_agree_is_asked_about(name: str, ask: Ask) -> None:
    text, slip, line, words, twin = CASES[name]
    (told,) = [one for one in ask(text, slip) if words in one]
    assert told.startswith(line), told
    assert not [one for one in ask(text, twin) if words in one]


TAB = """\
<back>
holes = [{ at = "centre, middle", punch = "3.5 mm", takes = "rivet", through = ["tab"] }]
<bare front>
<rectangle tab: ["40 mm", "12 mm"]>
folds = [{ at = "centre", around = "ring" }]
holes = [{ at = "8 mm from left, middle", punch = "3.5 mm" }, { at = "8 mm from right, middle", punch = "3.5 mm" }]
<seam a: ["back: bottom", "front: bottom"]>
<hardware ring: 1, rectangular ring>
inside = "12 mm"
bar = "3 mm"
<hardware rivet: 1, double-cap rivet>
"""


def test_a_tab_that_one_rivet_holds_far_from_every_edge_is_asked_about(ask: Ask) -> None:
    """75 mm from the top and bottom, and it reaches 12; 30 mm from an edge it leads over that."""
    asked = '22: nothing says which way "tab" points from the hole by which it is riveted'
    assert [one for one in ask(TAB) if '"tab"' in one] == [asked]
    assert asked not in ask(TAB, ("centre, middle", "centre, 30 mm from top"))


def test_where_copies_without_a_place_lie_is_told_once(ask: Ask) -> None:
    """That there is one place for two of them is a caution: no question stands beside it."""
    text = TAB.replace("folds", "cut = 2\nfolds").replace(', through = ["tab"]', "")
    text = text.replace(
        'takes = "rivet" }]', 'takes = "rivet" }]\nlandings = [{ piece = "tab", at = "centre, middle" }]'
    )
    assert not any('where "tab" lies' in one for one in ask(text))


KEEPERS = """\
<belt>
finished = "600 mm"
[straps.keeper]
title = "Fixed keeper"
of = "body"
width = "8 mm"
keeper-for = "belt"
[straps.slide]
title = "Sliding keeper"
of = "body"
width = "8 mm"
keeper-for = "belt"
<step "Make both keepers.": straps = ["keeper", "slide"]>
"""


def test_two_that_are_called_alike_are_counted_together(ask: Ask) -> None:
    """Two keepers of which one is named so: both are meant; without the other's title one is too few, told once."""
    words = 'speaks of both "keeper", and 1 is cut'
    assert not [one for one in ask(KEEPERS) if "speaks of" in one]
    told = [one for one in ask(KEEPERS, ("Sliding keeper", "Loop")) if "speaks of" in one]
    assert len(told) == 1
    assert told[0].endswith(words)
