"""What `check` asks of a lining, a split, a row of eyelets and a variant that do not go with what they are for.

That a slip of one figure or name leaves such a build is plain from the work; how near is near is our choice.
"""

from collections.abc import Callable

import pytest

Ask = Callable[..., list[str]]

BUCKET = """\
<leather shell: 1.8 mm>
title = "goat"
<leather thin: 0.9 mm>
title = "goat, split"
[materials.stiff]
title = "bag board"
kind = "board"
thickness = "1.2 mm"
[pieces.base]
of = "shell"
shape = "circle"
diameter = "180 mm"
[pieces.stay]
of = "stiff"
shape = "circle"
diameter = "164 mm"
lines = ["base"]
<strip wall of shell: ["260 mm", "solve"]>
[[pieces.wall.hole-rows]]
start = "35 mm from right, 60 mm from start"
end = "35 mm from right, 60 mm from end"
count = 4
punch = "8 mm"
takes = "eye"
<join ring: ["wall"], 12 mm>
ring = true
<seam foot: ["base: edge", "ring: left"]>
<hardware eye: 4, eyelet>
hole = "8 mm"
[trimmings.string]
what = "braided cord, 6 mm"
kind = "cord"
thickness = "6 mm"
length = "900 mm"
[measures]
wide = "40 mm"
<rectangle tag of thin: ["wide", "30 mm"]>
[variants.small]
axis = "size"
[variants.large]
axis = "size"
measures = { wide = "50 mm" }
"""
ROW = 'start = "35 mm from right, 60 mm from start"\nend = "35 mm from right, 60 mm from end"'
CASES = {
    "a round board on a strip": (('lines = ["base"]', 'lines = ["wall"]'), "34:", "is a circle, and lines", None),
    "a base of another figure": (("180 mm", "208 mm"), "29:", "164 mm", ("180 mm", "200 mm")),
    "a split thicker than its leather": (("0.9 mm", "1.8 mm"), "20:", "a split, is", ("0.9 mm", "1.7 mm")),
    "eyelets at the foot": (
        (ROW, ROW.replace("right", "left")),
        "39:",
        "is sewn, and its right is open",
        (ROW, ROW.replace("35", "45")),
    ),
    "an axis of its own": (
        ('[variants.large]\naxis = "size"', '[variants.large]\naxis = "seize"'),
        "71:",
        "one choice alone",
        None,
    ),
}


@pytest.mark.parametrize("name", CASES)
def test_what_does_not_go_with_it_is_asked_about(name: str, ask: Ask) -> None:
    slip, line, words, twin = CASES[name]
    assert not [one for one in ask(BUCKET) if words in one]
    (told,) = [one for one in ask(BUCKET, slip) if words in one]
    assert told.startswith(line), told
    assert not twin or not [one for one in ask(BUCKET, twin) if words in one]
