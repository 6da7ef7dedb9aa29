"""What `check` asks where all but one agree: marks of an even piece, holes that parts go through, halves and handles,
stitches of cloth, hems, and the order of steps.

That a slip of one figure, name or line leaves such a build is plain from the work; how near is near is our choice.
"""

from collections.abc import Callable

import pytest
from lone_specs import (
    BARED,
    CLOTH,
    CORNERED,
    CORNERS,
    CROSS,
    FOAM,
    HANDLES,
    HEMMED,
    LINER,
    ORDER,
    PADS,
    PLATE,
    POCKET,
    PURSE,
    RIVETED,
    SUMS,
    TAB,
    THICK,
    TOPS,
    WORDS,
    ZIPPED,
)

Ask = Callable[..., list[str]]

CASES = {
    "a hole left out": (
        PLATE,
        ('  { at = "30 mm from left, 70 mm from bottom", punch = "4 mm" },\n', ""),
        "29:",
        '6 holes of "plate" have their like across its middle, and the one 170 mm',
        ("60 mm from left, 70 mm", "60.4 mm from left, 70 mm"),
    ),
    "a hole with another figure": (
        PLATE,
        ('"60 mm from right, 70 mm from bottom"', '"6 mm from right, 70 mm from bottom"'),
        "32:",
        "and the one 194 mm",
        ("60 mm from right, 70 mm", "60.4 mm from right, 70 mm"),
    ),
    "a fold left out": (
        PLATE,
        ('  { at = "20 mm from left", open = true, angle = 90 },\n', ""),
        "19:",
        "from its bottom, its top and its right, and not from its left",
        ('{ at = "20 mm from top", open', '{ at = "20.4 mm from top", open'),
    ),
    "a corner left out": (
        CROSS,
        ('  { at = ["0 mm", "110 mm"] },\n', ""),
        "19:",
        '10 corners of "cross" are even left and right of its middle, and one is alone: 200 mm',
        ('["0 mm", "110 mm"]', '["0.1 mm", "110 mm"]'),
    ),
    "a letter of an edge": (
        CROSS,
        ('"left-front"', '"lft-front"'),
        "22:",
        '"lft" is nearly "left"',
        ('"left-front"', '"near-front"'),
    ),
    "half a snap beneath what is held": (
        TAB,
        ('"centre, 15 mm from end"', '"centre, 15 mm from start"'),
        "24:",
        '"cap" is set 15 mm (19/32 in) from the end of "tab" that lies fast on "front" over 40 mm',
        ('"centre, 15 mm from end"', '"centre, 45 mm from start"'),
    ),
    "two holes that touch": (
        TAB,
        ('"centre, 15 mm from end"', '"centre, 59 mm from start"'),
        "25:",
        'two holes of "tab" leave 0 mm (0 in) of leather between them',
        ('"centre, 15 mm from end"', '"centre, 60 mm from start"'),
    ),
    "a copy that nothing goes through": (
        CORNERS,
        ("cut = 2", "cut = 3"),
        "26:",
        '3 of "corner" have 3 holes, and 2 holes of other parts go through it',
        ('"200 mm"]', '"220 mm"]'),
    ),
    "a hole that others are to go through": (
        CORNERS,
        ("cut = 2", "cut = 1"),
        "22:",
        '"corner" has 1 hole, and 2 holes of other parts go through it',
        ('"200 mm"]', '"220 mm"]'),
    ),
    "one handle for two panels": (
        HANDLES,
        ("cut = 2", "cut = 1"),
        "29:",
        'both ends of the one "handle" lie on "front", and "back" has none',
        ('"25 mm"', '"30 mm"'),
    ),
    "heavy thread on cloth": (
        CLOTH,
        ("Tex 70", "Tex 210"),
        "25:",
        '"hem" sews cloth alone, with Tex 210 bonded nylon, and what sews the leather is Tex 135 at most',
        ("Tex 70", "Tex 135"),
    ),
    "a coarse stitch on cloth": (
        CLOTH,
        ('pitch = "3 mm"', 'pitch = "30 mm"'),
        "26:",
        "a stitch of 30 mm (0.8 per inch) holds no hem and no seam",
        ('pitch = "3 mm"', 'pitch = "4 mm"'),
    ),
    "two hems of one edge": (
        CLOTH,
        ('edges = "right"', 'edges = "top"'),
        "32:",
        'the top of "pocket" has a hem already (line 32), and this is another',
        ('edges = "right"', 'edges = "left"'),
    ),
    "a pocket that is sewn to nothing": (
        POCKET,
        ('right", "back"]', 'right"]'),
        "25:",
        '"pocket" lies on "back", and "pocket" sews it to nothing',
        ("centre, 30 mm", "centre, 40 mm"),
    ),
    "foam for fewer than there are": (
        FOAM,
        ('"100 mm"]\ncut = 2', '"100 mm"]\ncut = 3'),
        "18:",
        '2 of "divider-foam" are cut ("divider-foam" on line 26), and 3 of what it lines',
        ('thickness = "3 mm"', 'thickness = "4 mm"'),
    ),
    "foam of leather": (
        FOAM,
        ('of = "foam"', 'of = "body"'),
        "23:",
        '"divider-foam" is of "body", which is leather, and there is foam as well',
        ("[pieces.divider-foam]", "[pieces.divider-fill]"),
    ),
    "a lining to spare": (
        PADS,
        ("cut = 2", "cut = 3"),
        "27:",
        '3 of "lining" are cut, and it lines "back" and "front" alone, of which there are 2',
        ('"200 mm", "150 mm"]\ncut', '"200 mm", "151 mm"]\ncut'),
    ),
    "a strap sewn through its lining": (
        ORDER,
        (
            '<step "Sew the bar on the front.": straps = ["bar"]>\npieces = ["front"]\n<step "Lay in the linen and sew the '
            'mouth.": seams = ["mouth"]>\ntools = ["contact cement"]\n',
            '<step "Lay in the linen and sew the mouth.": seams = ["mouth"]>\ntools = ["contact cement"]\n<step "Sew the '
            'bar on the front.": straps = ["bar"]>\npieces = ["front"]\n',
        ),
        "45:",
        'this step sews the lining to "front", and "bar" is sewn on through both later',
        ('"120 mm"', '"130 mm"'),
    ),
    "a strap sewn on what is closed": (
        ORDER.replace(', "front-linen: left bottom right"', "")
        .replace('<seam mouth: ["front: top", "front-linen: top"]>\n', "")
        .replace('<step "Lay in the linen and sew the mouth.": seams = ["mouth"]>\ntools = ["contact cement"]\n', "")
        .replace('<step "Sew the bar on the front.": straps = ["bar"]>\npieces = ["front"]\n', ""),
        (
            '<step "Sew round.": seams = ["round"]>\n',
            '<step "Sew round.": seams = ["round"]>\n<step "Sew the bar on the front.": straps = ["bar"]>\n',
        ),
        "42:",
        'this step closes "front", and "bar" is sewn on it later',
        ('"120 mm"', '"130 mm"'),
    ),
    "a strap sewn on what is sewn all round": (
        ORDER.replace(', "front-linen: left bottom right"', "")
        .replace('<seam mouth: ["front: top", "front-linen: top"]>\n', "")
        .replace('<step "Lay in the linen and sew the mouth.": seams = ["mouth"]>\ntools = ["contact cement"]\n', "")
        .replace('<step "Sew the bar on the front.": straps = ["bar"]>\npieces = ["front"]\n', "")
        .replace(": left bottom right", ": all"),
        (
            '<step "Sew round.": seams = ["round"]>\n',
            '<step "Sew round.": seams = ["round"]>\n<step "Sew the bar on the front.": straps = ["bar"]>\n',
        ),
        "42:",
        'this step closes "front", and "bar" is sewn on it later',
        ('"120 mm"', '"130 mm"'),
    ),
    "parts punched when they are sewn": (
        ORDER.replace('<step "Punch front and back.": pieces = ["front", "back"]>\n', ""),
        (
            '<step "Sew round.": seams = ["round"]>\n',
            '<step "Sew round.": seams = ["round"]>\n<step "Punch front and back.": pieces = ["front", "back"]>\n',
        ),
        "50:",
        'this step sews "back" to "front", and both are only punched later',
        ('"120 mm"', '"130 mm"'),
    ),
    "a lining sewn in the place of what it lines": (
        BARED,
        ('"lip: bottom", "tray: bottom"', '"lip: bottom", "tray-lining: bottom"'),
        "33:",
        '"lip" sews the bottom of "tray-lining", and nothing that of "tray"',
        ('"lip: bottom", "tray: bottom"', '"lip: top", "tray: bottom"'),
    ),
    "an edge sewn twice, and its like by nothing": (
        TOPS,
        ('"front: top"', '"back: top"'),
        "33:",
        'the top of "back" is sewn by "a" on line 30 and by "b", and that of "front" by none',
        ('"back: bottom", "front: bottom"', '"back: left", "front: left"'),
    ),
    "two halves in one panel": (
        PURSE,
        ('"12 mm from top', '"12 mm from bottom'),
        "21:",
        '"cap" on line 20 and "stud" lie in one panel of "purse", with no fold between them',
        ('"12 mm from top', '"11 mm from top'),
    ),
    "a pocket of sole leather": (
        THICK,
        ('[pieces.pocket]\nof = "body"', '[pieces.pocket]\nof = "sole"'),
        "23:",
        '"pocket" is 4 mm (5/32 in) thick, and is sewn flat on "back" of 2 mm',
        ('thickness = "4 mm"', 'thickness = "3 mm"'),
    ),
    "a hem that nothing sews": (
        HEMMED,
        ('[seams.hem]\nstitch = "main"\nmeet = ["pocket: top", "pocket"]\n', ""),
        "23:",
        'no seam sews the hem of "pocket"',
        ('turn = "12 mm"', 'turn = "13 mm"'),
    ),
    "another strap than the words have": (
        WORDS,
        ('straps = ["collar"]', 'straps = ["loop"]'),
        "49:",
        'a step names "loop" in straps, and its words speak of "collar"',
        ("Cut the collar and", "Cut all and"),
    ),
    "another piece than is folded": (
        WORDS,
        ('pieces = ["tab"]', 'pieces = ["back"]'),
        "53:",
        'a step begins with "tab", and has "back" in pieces, of which its words do not speak',
        ("Fold the tab and", "Fold all and"),
    ),
    "one of two pins from the other end": (
        WORDS,
        ('"centre, 180 mm from start"', '"centre, 180 mm from end"'),
        "29:",
        '"pin" is set 120 mm from start of "collar", and 180 mm from end',
        ('"centre, 180 mm from start"', '"centre, 120 mm from end"'),
    ),
    "a sign turned": (
        SUMS,
        ('at = "centre, lap + 25 mm from top"', 'at = "centre, lap - 25 mm from top"'),
        "25:",
        '"lap" has 25 mm added in 2 places, and otherwise here',
        ('"30 mm"', '"31 mm"'),
    ),
    "a zip over the edge": (
        ZIPPED,
        ('"45 mm from top"', '"14 mm from top"'),
        "18:",
        '"zip" is laid 14 mm (9/16 in) from the top of "front", and half of it is 15 mm',
        ('"45 mm from top"', '"25 mm from top"'),
    ),
    "an inch among the room": (
        ZIPPED,
        ('depth = "4 mm"', 'depth = "4 in"'),
        "39:",
        '"4 in" is in in, and the ',
        ('depth = "4 mm"', 'depth = "5 mm"'),
    ),
    "a part that is riveted and not sewn": (
        RIVETED,
        (', "two: left bottom"]', "]"),
        "32:",
        '"two" is in no seam and no join, and "one", which has its shape, is',
        ('"centre, 40 mm', '"centre, 45 mm'),
    ),
    "a pocket behind a lining": (
        LINER,
        ("inside = false", "inside = true"),
        "18:",
        '"pocket" lies on the hidden side of "lining", which is a lining',
        ("centre, 30 mm", "centre, 40 mm"),
    ),
    "a zip round a tight corner": (
        CORNERED,
        ('"25 mm"', '"4 mm"'),
        "18:",
        '"a" sews a zip round corners of 4 mm (5/32 in) of "cover": mostly they are over 5 mm',
        ('"25 mm"', '"6 mm"'),
    ),
}
MODULES = (
    "even_marks", "shapes", "spelling", "held_fast", "sewn", "hems", "held", "left_over", "unsuited", "late", "bared",
    "words", "setting", "entries", "units", "lost_digits",
)  # fmt: skip


@pytest.fixture
def ask(ask_only: Callable[..., Ask]) -> Ask:
    return ask_only(*MODULES)


@pytest.mark.parametrize("case", CASES)
def test_the_one_that_does_not_agree_is_asked_about_and_its_silent_twin_is_not(ask: Ask, case: str) -> None:
    text, slip, line, words, twin = CASES[case]
    before = ask(text)
    (told,) = [one for one in ask(text, slip) if one not in before and words in one]
    assert told.startswith(line)
    assert not [one for one in ask(text, twin) if words in one or one not in before]


BAND = """\
<fabric canvas: 0.8 mm>
<rectangle apron of canvas: ["300 mm", "200 mm"]>
landings = [{ piece = "band", at = "0 from left, 10 mm from top" }]
<rectangle band: ["300 mm", "50 mm"]>
landings = [{ strap = "tie", at = "60 mm from left, middle", leads = "left", over = "50 mm", stitch = "main" }]
[straps.tie]
of = "body"
width = "25 mm"
finished = "300 mm"
<seam on: ["band: all", "apron"]>
<step "Sew the band on.": seams = ["on"]>
<step "Sew the strap on.": straps = ["tie"]>
"""


def test_cloth_on_which_a_part_lands_is_not_its_lining(ask: Ask) -> None:
    """The strap goes on the band, and through the cloth beneath: as it is meant."""
    assert not [one for one in ask(BAND) if "through both later" in one]


def test_a_row_all_round_a_part_alone_closes_nothing(ask: Ask) -> None:
    """A hem all round and what is sewn flat on it leave a strap free to be sewn on; the edges of another part do not."""
    text, (step, with_bar), *_ = CASES["a strap sewn on what is sewn all round"]
    text = text.replace(step, with_bar)
    alone = text.replace('["front: all", "back: all"]', '["front: all", "front"]')
    assert alone != text
    assert [one for one in ask(text) if "closes" in one]
    assert not [one for one in ask(alone + '<seam patch: ["back: left bottom right", "front"]>\n') if "closes" in one]
