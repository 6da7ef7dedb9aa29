"""What `check` asks of the places where parts lie on others, and of light thread: asked once, silent where it is usual.

That a slip of one figure leaves such a place is plain from the work; from which figures on it is asked is our choice.
"""

from collections.abc import Callable

import pytest
from slipped_specs import WELT
from spec_text import Edit

Ask = Callable[..., list[str]]

BAND = """\
<back>
landings = [{ strap = "s", at = "40 mm from left, middle", leads = "left", over = "30 mm", stitch = "main" }]
<front>
<strap>
finished = "300 mm"
<seam a: ["back: bottom", "front: bottom"]>
"""
FEET = """\
<back>
landings = [
  { strap = "s", at = "40 mm from left, 20 mm from bottom", leads = "down" },
  { strap = "s", at = "40 mm from right, 20 mm from bottom", leads = "down" },
]
<front>
<strap>
cut = 2
finished = "300 mm"
<seam a: ["back: left", "front: left"]>
"""
TWINS = """\
<back>
landings = [
  { piece = "one", at = "0 mm from left, 0 mm from bottom", inside = true },
  { piece = "other", at = "0 mm from right, 0 mm from bottom", inside = true },
]
<front>
<rectangle one: ["60 mm", "100 mm"]>
<rectangle other: ["60 mm", "100 mm"]>
<seam a: ["back: left bottom right", "front: left bottom right"]>
"""
STEPS = """\
<back>
landings = [
  { piece = "one", at = "0 mm from left, 0 mm from bottom" },
  { piece = "other", at = "0 mm from left, 0 mm from bottom" },
]
<front>
<rectangle one: ["200 mm", "100 mm"]>
[pieces.other]
of = "body"
shape = "rectangle"
size = ["200 mm", "80 mm"]
<seam a: ["back: left bottom right", "front: left bottom right"]>
"""
POCKET = """\
<back>
landings = [{ piece = "pocket", at = "0 mm from right, 0 mm from bottom" }]
<front>
<rectangle pocket: ["90 mm", "100 mm"]>
<seam a: ["pocket: left bottom", "back"]>
<seam b: ["back: left bottom right", "front: left bottom right"]>
"""
TAIL = """\
<back>
<front>
<rectangle tail: ["30 mm", "120 mm"]>
<seam a: ["tail: top", "front"]>
<seam b: ["back: left bottom right", "front: left bottom right"]>
"""
PADDED = """\
[materials.soft]
kind = "foam"
thickness = "4 mm"
<rectangle back: ["200 mm", "250 mm"]>
folds = [{ at = "170 mm from bottom", angle = 180, open = true }]
<rectangle pad of soft: ["180 mm", "230 mm"]>
lines = ["back"]
<rectangle front: ["200 mm", "150 mm"]>
<seam a: ["back: bottom", "front: bottom"]>
<step "Glue the pad to the back.": pieces = ["back", "pad"]>
tools = ["spray adhesive"]
<step "Sew the foot.": seams = ["a"]>
"""
LANDED = PADDED.replace('"230 mm"', '"150 mm"').replace(
    "open = true }]", 'open = true }]\nlandings = [{ piece = "pad", at = "centre, 10 mm from bottom", inside = true }]'
)
BY_HAND = """\
<stitch own: by hand, Tex 90 waxed polyester, 4 mm, 5 mm>
<back>
<front>
[seams.a]
stitch = "own"
meet = ["back: left bottom right", "front: left bottom right"]
"""
OF_LAID = (
    "lies behind",
    "leads",
    "as large, on",
    "hides all of it",
    "is in no seam",
    "alone where it lies",
    "hangs loose",
    "is light",
)


@pytest.fixture
def ask(ask: Ask) -> Ask:
    """What is asked of what lies on something, without lines."""

    def ask_laid(text: str, *edits: Edit) -> list[str]:
        asked = (told.partition(": ")[2] for told in ask(text, *edits))
        return [what for what in asked if any(words in what for words in OF_LAID)]

    return ask_laid


CASES = {
    "an end that leads over what it lies on": (
        BAND,
        ("40 mm from left", "40 mm from right"),
        '"s" leads left over 160 mm (6 5/16 in) of "back", and the edge behind it is 40 mm (1 9/16 in) off',
        ("40 mm from left", "70 mm from right"),
    ),
    "one end of two that leads over what it lies on": (
        FEET,
        ('right, 20 mm from bottom", leads = "down"', 'right, 20 mm from bottom", leads = "up"'),
        '"s" leads up over 130 mm (5 1/8 in) of "back", and the edge behind it is 20 mm (25/32 in) off',
        (FEET, FEET.replace("down", "up")),
    ),
    "one of two twins outside": (
        TWINS,
        ('right, 0 mm from bottom", inside = true', 'right, 0 mm from bottom"'),
        '"one" lies on the inside of "back", and "other", as large, on the outside',
        ('right, 0 mm from bottom", inside = true', 'right, 0 mm from top", inside = true'),
    ),
    "one pocket just over another": (
        STEPS,
        ('size = ["200 mm", "80 mm"]', 'size = ["200 mm", "100 mm"]'),
        '"other" lies on "back" just over "one", and hides all of it',
        ('size = ["200 mm", "80 mm"]', 'size = ["200 mm", "98 mm"]'),
    ),
    "a welt outside": (
        WELT,
        ('from top", inside = true', 'from top"'),
        '"welt" lies on the outside of "back", along its sewn right, and is in no seam',
        ('"0 mm from right, 0 mm from top", inside = true', '"12 mm from right, 0 mm from top"'),
    ),
    "a pocket that is open at a side": (
        POCKET,
        ("pocket: left bottom", "pocket: bottom"),
        '"pocket" is held by its bottom and right alone where it lies on "back"',
        ("pocket: left bottom", "pocket: left"),
    ),
    "a tail by its long side": (
        TAIL,
        ("tail: top", "tail: left"),
        '"tail", 30 mm (1 3/16 in) wide, is sewn on by its left alone, 120 mm (4 23/32 in) long: the rest hangs loose',
        ('"120 mm"', '"118 mm"'),
    ),
    "foam that ends before a fold": (
        PADDED,
        ('"230 mm"', '"150 mm"'),
        'nothing says where "pad" lies behind "back": in the middle, 50 mm (1 31/32 in) from both edges, it lies across '
        "the fold",
        ('"230 mm"', '"228 mm"'),
    ),
    "foam whose place is gone": (
        LANDED,
        ('\nlandings = [{ piece = "pad", at = "centre, 10 mm from bottom", inside = true }]', ""),
        'nothing says where "pad" lies behind "back": in the middle, 50 mm (1 31/32 in) from both edges, it lies across '
        "the fold",
        ("10 mm from bottom", "8 mm from bottom"),
    ),
    "thread that is light by hand": (
        BY_HAND,
        ('pitch = "4 mm"\ninset = "5 mm"', 'pitch = "4.1 mm"\ninset = "5 mm"'),
        "Tex 90 waxed polyester is light for a stitch of 4.1 mm (6.2 per inch), 13 times as long as it is thick",
        ("Tex 90", "Tex 120"),
    ),
    "linen that is light by hand": (
        BY_HAND.replace("Tex 90 waxed polyester", "Tex 280 waxed linen"),
        ("Tex 280", "Tex 90"),
        "Tex 90 waxed linen is light for a stitch of 4 mm (6.4 per inch), 10 times as long as it is thick",
        ("Tex 280", "Tex 135"),
    ),
    "thread that is light by machine": (
        TAIL,
        ("Tex 135", "Tex 45"),
        "Tex 45 bonded nylon is light for a stitch of 4 mm (6.4 per inch), 16 times as long as it is thick",
        ("Tex 135", "Tex 70"),
    ),
}


@pytest.mark.parametrize("name", CASES)
def test_what_a_slip_leaves_in_doubt_is_asked_and_its_twin_is_not(ask: Ask, name: str) -> None:
    text, slip, told, twin = CASES[name]
    assert ask(text) == []
    assert ask(text, slip) == [told]
    assert ask(text, twin) == []
