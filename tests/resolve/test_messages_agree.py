"""Parts of a build that do not agree: every message whole."""

# ruff: noqa: E501 - messages stand here as they are printed

from __future__ import annotations

from collections.abc import Callable

import pytest

Cautions = Callable[[str], str]
Messages = Callable[[str], str]

PANEL = """\
[pieces.back]
of = "body"
shape = "rectangle"
size = ["200 mm", "150 mm"]
"""
FRONT = """\
[pieces.front]
like = "back"
"""
SIDE = """\
[pieces.side]
of = "body"
shape = "strip"
size = ["60 mm", "100 mm"]
cut = 2
"""
RING = """\
[hardware.ring]
what = "D ring"
count = 1
inside = "26 mm"
bar = "4 mm"
"""

MESSAGES = {
    "a skive that thins nothing": (
        PANEL + 'skives = [{ edges = "left", width = "10 mm", to = "2 mm" }]\n',
        """\
a.toml:14: error: "back" is skived to 5 oz (2 mm), and its leather is 5 oz (2 mm) thick
    written: [pieces.back]
    mend:    skive to less than the leather
""",
    ),
    "skived cloth": (
        """\
[materials.cloth]
kind = "fabric"
thickness = "0.6 mm"
[pieces.back]
of = "cloth"
shape = "rectangle"
size = ["200 mm", "150 mm"]
skives = [{ edges = "left", width = "10 mm", to = "0.3 mm" }]
""",
        """\
a.toml:17: error: "back" is fabric, which cannot be skived
    written: [pieces.back]
    mend:    leave out its skives
""",
    ),
}

CAUTIONS = {
    "a hole near the edge": (
        PANEL
        + FRONT
        + """\
[seams.s]
stitch = "main"
meet = ["back: left", "front: left"]
[pieces.a]
like = "back"
holes = [{ at = "5 mm from top, centre", punch = "4 mm" }]
[pieces.b]
like = "a"
""",
        """\
a.toml:25: caution: a hole of 4 mm (5/32 in) in "a" lies 5 mm (3/16 in) from the edge
    written: "5 mm from top, centre"
    mend:    keep its centre 6 mm (1/4 in) from the edge or more
""",
    ),
    "a row of holes near the edge": (
        PANEL
        + FRONT
        + """\
[seams.s]
stitch = "main"
meet = ["back: left", "front: left"]
[pieces.a]
like = "back"
hole-rows = [{ start = "4 mm from top, 20 mm from left", end = "12 mm from top, 20 mm from right", count = 5, punch = "4 mm" }]
""",
        """\
a.toml:25: caution: a hole of 4 mm (5/32 in) in "a" lies 4 mm (5/32 in) from the edge
    written: { start = "4 mm from top, 20 mm from left", end = "12 mm from top, 20 mm from right", count = 5, pun
    mend:    keep its centre 6 mm (1/4 in) from the edge or more
""",
    ),
    "a needle too fine": (
        """\
[stitches.fine]
by = "machine"
thread = "Tex 270 bonded nylon"
needle = "110/18"
pitch = "4 mm"
inset = "4 mm"
"""
        + PANEL
        + FRONT
        + """\
[seams.s]
stitch = "main"
meet = ["back: left", "front: left"]
[pieces.f2]
like = "back"
[seams.t]
stitch = "fine"
meet = ["back: right", "f2: right"]
""",
        """\
a.toml:17: caution: needle 110/18 is too fine for Tex 270 bonded nylon: the thread is about 0.61 mm thick, over 40 % of the blade
    written: "110/18"
    mend:    use needle 160/23 or thicker, and test on scrap
""",
    ),
    "a short turned end": (
        RING
        + PANEL
        + FRONT
        + """\
[seams.s]
stitch = "main"
meet = ["back: left", "front: left"]
[straps.s]
of = "body"
width = "20 mm"
finished = "300 mm"
ends = [{ shape = "turned", back = "15 mm", around = "ring" }, { shape = "square" }]
""",
        """\
a.toml:28: caution: the strap "s" turns back only 15 mm (19/32 in), less than its width
    written: [straps.s]
    mend:    turn back at least the width of the strap, so that stitches or rivets find room
""",
    ),
    "strap holes near its edge": (
        PANEL
        + FRONT
        + """\
[seams.s]
stitch = "main"
meet = ["back: left", "front: left"]
[straps.s]
of = "body"
width = "20 mm"
wears = "400 mm"
holes = { count = 3, pitch = "20 mm", punch = "8 mm", tip = "60 mm" }
""",
        """\
a.toml:27: caution: a hole of 8 mm (5/16 in) in "s" lies 10 mm (13/32 in) from the edge
    written: 3
    mend:    keep its centre 12 mm (15/32 in) from the edge or more
""",
    ),
    "a material nobody uses": (
        PANEL
        + FRONT
        + """\
[seams.s]
stitch = "main"
meet = ["back: left", "front: left"]
[materials.foam]
kind = "foam"
thickness = "3 mm"
""",
        """\
a.toml:23: caution: no piece or strap is cut from "foam"
    written: [materials.foam]
    mend:    use it, or take it out
""",
    ),
    "a stitch nobody uses": (
        PANEL,
        """\
a.toml:9: caution: nothing is sewn with the stitch "main"
    written: [stitches.main]
    mend:    use it, or take it out
""",
    ),
    "work in no step": (
        PANEL
        + FRONT
        + """\
[seams.s]
stitch = "main"
meet = ["back: left", "front: left"]
"""
        + SIDE
        + """\
[joins.g]
of = ["side", "side"]
overlap = "10 mm"
stitch = "main"
[straps.s]
of = "body"
width = "20 mm"
finished = "300 mm"
[[steps]]
do = "Cut the pieces."
""",
        """\
a.toml:20: caution: no step makes the seam "s"
    written: [seams.s]
    mend:    write seams = ["s"] in a step
a.toml:28: caution: no step makes the join "g"
    written: [joins.g]
    mend:    write joins = ["g"] in a step
a.toml:32: caution: no step makes the strap "s"
    written: [straps.s]
    mend:    write straps = ["s"] in a step
""",
    ),
    "a piece wider than the cloth": (
        """\
[materials.cloth]
kind = "fabric"
thickness = "0.6 mm"
width = "140 mm"
"""
        + PANEL
        + FRONT
        + """\
[seams.s]
stitch = "main"
meet = ["back: left", "front: left"]
[pieces.l]
like = "back"
of = "cloth"
""",
        """\
a.toml:27: caution: "l" is 150 mm (5 29/32 in) across, and "cloth" is 140 mm (5 1/2 in) wide
    written: [pieces.l]
    mend:    cut it from two pieces, or take wider goods
""",
    ),
}


@pytest.mark.parametrize("case", MESSAGES)
def test_each_mistake_is_told_once_and_whole(messages: Messages, case: str) -> None:
    text, expected = MESSAGES[case]
    assert messages(text) == expected


@pytest.mark.parametrize("case", CAUTIONS)
def test_each_risk_is_told_once_and_whole(cautions: Cautions, case: str) -> None:
    text, expected = CAUTIONS[case]
    assert cautions(text) == expected
