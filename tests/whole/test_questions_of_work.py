"""What `check` asks of tools that the work has no use for, of pockets that are sewn shut, of an order that what is sewn
does not bear, and of ends of straps that nothing holds.

That a slip of one figure, name or line leaves such a build is plain from the work; how near is near is our choice.
"""

from collections.abc import Callable

import pytest

Ask = Callable[..., list[str]]

TOOLS = """\
<stitch hand: by hand, 0.6 mm waxed linen, 4 mm, 4 mm>
<back>
holes = [{ at = "centre, 30 mm from top", punch = "4 mm", takes = "rivet", through = ["front"] }]
<bare front>
<strap belt of body: 20 mm>
finished = "300 mm"
punches = [{ at = "centre, 100 mm from start", punch = "3 mm", long = "18 mm" }]
<hardware rivet: 1, double-cap rivet>
posts = ["6 mm"]
<hardware eyelet: 1, eyelet>
[seams.a]
stitch = "hand"
meet = ["back: left bottom right", "front: left bottom right"]
<step "Punch and rivet.": pieces = ["back", "front"]>
hardware = ["rivet"]
tools = ["4 mm hole punch", "rivet setter", "mallet"]
<step "Sew.": seams = ["a"]>
tools = ["pricking iron 4 mm", "awl"]
<step "Cut the belt.": straps = ["belt"]>
tools = ["18 mm slot punch"]
"""
UPPER = '  { piece = "upper", at = "centre, 60 mm from bottom" },\n'
LOWER = '  { piece = "lower", at = "centre, 40 mm from bottom" },\n'
TOPS = """\
<leather thin: 0.6 mm>
<rectangle body: ["200 mm", "160 mm"]>
landings = [
  { piece = "upper", at = "centre, 60 mm from bottom" },
  { piece = "lower", at = "centre, 40 mm from bottom" },
]
[pieces.upper]
title = "Upper pocket"
of = "thin"
shape = "rectangle"
size = ["120 mm", "60 mm"]
[pieces.lower]
title = "Lower pocket"
of = "thin"
shape = "rectangle"
size = ["120 mm", "60 mm"]
<seam upper: ["upper: bottom", "body"]>
<seam lower: ["lower: left bottom right", "body"]>
<step "Sew both pockets on.": seams = ["upper", "lower"]>
tools = ["contact cement"]
"""
BOUND = """\
<fabric linen: 0.5 mm>
<rectangle body: ["200 mm", "160 mm"]>
landings = [{ piece = "bag", at = "centre, 20 mm from bottom" }]
[pieces.bag]
title = "Pocket"
of = "linen"
shape = "rectangle"
size = ["120 mm", "100 mm"]
[trimmings.tape]
what = "twill binding, 20 mm"
kind = "binding"
width = "20 mm"
thickness = "0.5 mm"
<seam bind: ["bag: top", "tape"]>
<seam bag: ["bag: left bottom right", "body"]>
<step "Bind the mouth, and sew the pocket on.": seams = ["bind", "bag"]>
tools = ["contact cement"]
"""
TURNED_MOUTH = """\
<rectangle body: ["200 mm", "160 mm"]>
landings = [{ piece = "bag", at = "centre, 20 mm from bottom" }]
[pieces.bag]
of = "body"
shape = "rectangle"
size = ["120 mm", "100 mm"]
hems = [{ edges = "top", turn = "10 mm" }]
dividers = [{ at = "60 mm from left", stitch = "main", on = "body" }]
<seam hem: ["bag: top", "bag"]>
<seam bag: ["bag: left bottom right", "body"]>
<step "Sew the pocket.": seams = ["hem", "bag"]>
order = ["hem", "bag: seams", "bag: dividers"]
"""
ENDS = """\
<strip wall: ["60 mm", "400 mm"]>
holes = [
  { at = "centre, 20 mm from start", punch = "4 mm" },
  { at = "centre, 20 mm from end", punch = "4 mm" },
]
"""
MOUTH = """\
<rectangle body: ["200 mm", "160 mm"]>
landings = [{ piece = "card", at = "50 mm from left, 40 mm from bottom" }]
[pieces.card]
of = "body"
shape = "outline"
points = [
  { at = ["0", "0"], edge = "foot" },
  { at = ["90 mm", "0"], edge = "beside" },
  { at = ["90 mm", "50 mm"], edge = "mouth" },
  { at = ["0", "50 mm"], edge = "before" },
]
<seam card: ["card: foot", "body"]>
"""
BELT = """\
<leather liner: 1 mm>
<strap belt of body: 30 mm>
lining = "liner"
doubled = true
stitch = "main"
finished = "900 mm"
ends = [
  { shape = "turned", back = "80 mm", around = "ring", takes = "screw", number = 2, keeper = "fixed" },
  { shape = "pointed" },
]
punches = [
  { at = "centre, 20 mm from start", punch = "5 mm" },
  { at = "centre, 60 mm from start", punch = "5 mm" },
]
<strap fixed of body: 12 mm>
keeper-for = "belt"
overlap = "0"
<strap loose of body: 12 mm>
keeper-for = "belt"
overlap = "10 mm"
stitch = "main"
<hardware ring: 1, ring>
kind = "ring"
inside = "31 mm"
bar = "4 mm"
<hardware screw: 2, screw post>
hole = "5 mm"
<step "Cut it all out, and punch.": straps = ["fixed", "loose"]>
<step "Sew the belt all round.": straps = ["belt"]>
<step "Turn its end round the ring, and close it.": hardware = ["ring", "screw"]>
"""
HANDLES = """\
<rectangle front: ["300 mm", "200 mm"]>
landings = [
  { strap = "carry", at = "50 mm from top, 70 mm left of centre", over = "50 mm", stitch = "main" },
  { strap = "carry", end = "second", at = "50 mm from top, 70 mm right of centre", over = "50 mm", stitch = "main" },
]
<rectangle rear: ["300 mm", "200 mm"]>
landings = [
  { strap = "carry", at = "50 mm from top, 60 mm left of centre", over = "50 mm", stitch = "main" },
  { strap = "carry", end = "second", at = "50 mm from top, 60 mm right of centre", over = "50 mm", stitch = "main" },
]
<seam round: ["front: left bottom right", "rear: left bottom right"]>
<strap carry of body: 30 mm>
cut = 2
finished = "400 mm"
"""
SLIDER = """\
<rectangle slide: ["22 mm", "50 mm"]>
holes = [
  { at = "centre, 15 mm from bottom", punch = "7 mm" },
  { at = "centre, 15 mm from top", punch = "7 mm" },
]
<back>
<bare front>
<seam a: ["back: left bottom right", "front: left bottom right"]>
[trimmings.string]
what = "braided cord, 6 mm"
kind = "cord"
thickness = "6 mm"
length = "900 mm"
<step "Sew.": seams = ["a"]>
<step "Lead the cord through the slider.": pieces = ["slide"]>
trimmings = ["string"]
"""
SECOND = (
    '  { strap = "carry", end = "second", at = "50 mm from top, 70 mm right of centre", over = "50 mm", '
    'stitch = "main" },\n'
)

CASES = {
    "a punch of another size": (
        TOOLS,
        ('"4 mm hole', '"3 mm hole'),
        "46:",
        "which no hole asks for",
        ("Punch", "punch"),
    ),
    "a slot punch of another size": (
        TOOLS,
        ('"18 mm slot', '"22 mm slot'),
        "54:",
        "none for the slots of 18 mm",
        ('"18 mm slot', '"3 mm slot'),
    ),
    "an iron of another pitch": (TOOLS, ("iron 4", "iron 3"), "50:", "has a stitch of 4 mm", ("iron 4", "iron 3.9")),
    "a setter of another kind": (
        TOOLS,
        ('"rivet setter"', '"eyelet setter"'),
        "46:",
        "sets a rivet",
        ('"rivet setter"', '"press"'),
    ),
    "a row through a pocket": (
        TOPS,
        (f"{UPPER}{LOWER}", f"{LOWER}{UPPER}"),
        "37:",
        "holds there by then",
        ("60 mm from bottom", "110 mm from bottom"),
    ),
    "a pocket sewn shut": (
        TOPS,
        ('"lower: left bottom right"', '"lower: all"'),
        "40:",
        "nothing opens into it",
        ('"lower: left bottom right"', '"lower: left bottom"'),
    ),
    "a mouth that is bound too late": (
        BOUND,
        ('["bind", "bag"]', '["bag", "bind"]'),
        "34:",
        "binds the top",
        ('"bag: left bottom right"', '"bag: bottom"'),
    ),
    "a mouth that is hemmed too late": (
        TURNED_MOUTH,
        ('["hem", "bag: seams", "bag: dividers"]', '["bag: seams", "bag: dividers", "hem"]'),
        "27:",
        'hems the top of "bag", which "bag" has sewn',
        ('["hem", "bag: seams", "bag: dividers"]', '["hem", "bag: dividers", "bag: seams"]'),
    ),
    "a mouth that is hemmed after its dividing lines": (
        TURNED_MOUTH,
        ('["hem", "bag: seams", "bag: dividers"]', '["bag: dividers", "hem", "bag: seams"]'),
        "27:",
        "through which its dividing lines are sewn before",
        ('"60 mm from left", stitch', '"50 mm from bottom", stitch'),
    ),
    "holes of a strip unlike far from its ends": (
        ENDS,
        ("20 mm from end", "30 mm from end"),
        "20:",
        "lie 20 mm (25/32 in) from one end and 30 mm",
        ("20 mm from end", "25 mm from end"),
    ),
    "one end of a handle square": (
        HANDLES,
        ("finished = ", 'ends = [{ shape = "rounded" }, { shape = "square" }]\nfinished = '),
        "",
        "one is rounded, the other square",
        ("finished = ", 'ends = [{ shape = "rounded" }, { shape = "rounded" }]\nfinished = '),
    ),
    "a mouth sewn shut": (
        MOUTH,
        ("card: foot", "card: mouth"),
        "30:",
        "sews the mouth of",
        ("card: foot", "card: before"),
    ),
    "the other keeper in the fold": (
        BELT,
        ('keeper = "fixed"', 'keeper = "loose"'),
        "36:",
        '"loose" lies in the fold of "belt"',
        (', keeper = "fixed"', ""),
    ),
    "a keeper that nothing holds": (
        BELT,
        (', keeper = "fixed"', ""),
        "36:",
        'the ends of the keeper "fixed" only meet, and nothing sews them',
        ('overlap = "0"', 'overlap = "10 mm"\nstitch = "main"'),
    ),
    "a doubled belt that nothing sews": (
        BELT,
        ('doubled = true\nstitch = "main"\n', "doubled = true\n"),
        "21:",
        "nothing sews the layers",
        ("Sew the belt", "Line the belt"),
    ),
    "a doubled belt that nothing sews or glues": (
        BELT.replace('doubled = true\nstitch = "main"\n', "doubled = true\n"),
        ("Sew the belt", "Bevel the belt"),
        "21:",
        '"belt" has two layers, and nothing sews or glues them',
        ("Sew the belt", "Glue the belt"),
    ),
    "a ring that is set before its belt is made": (
        BELT,
        ('["fixed", "loose"]', '["fixed", "loose"]\nhardware = ["ring"]'),
        "56:",
        'step 1 sets "ring"',
        ('["fixed", "loose"]', '["belt", "fixed", "loose"]\nhardware = ["ring"]'),
    ),
    "an end that lands nowhere": (
        HANDLES,
        (SECOND, ""),
        "19:",
        "1 second end",
        (SECOND, SECOND.replace("50 mm from top", "52 mm from top")),
    ),
    "ends unlike far from the middle": (
        HANDLES,
        ("70 mm left", "110 mm left"),
        "19:",
        'from the middle of "front"',
        ("70 mm left", "70.8 mm left"),
    ),
    "two holes of unlike sizes": (
        SLIDER,
        ('from bottom", punch = "7 mm"', 'from bottom", punch = "5 mm"'),
        "19:",
        "are of 5 mm",
        ('7 mm" },\n  { at', '7.2 mm" },\n  { at'),
    ),
}


@pytest.mark.parametrize("name", CASES)
def test_work_that_does_not_agree_is_asked_about(name: str, ask: Ask) -> None:
    text, slip, line, words, twin = CASES[name]
    assert not [one for one in ask(text) if words in one]
    (told,) = [one for one in ask(text, slip) if words in one]
    assert told.startswith(line), told
    assert not [one for one in ask(text, twin) if words in one]
