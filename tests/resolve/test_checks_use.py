"""Checks of what is used, what goes in, and match marks: each fires, told once and whole, and its twin beside it is silent."""

# ruff: noqa: E501 - messages stand here as they are printed

from __future__ import annotations

from collections.abc import Callable

import pytest

Tell = Callable[..., str]

# check -> lines of a spec, what is told of them, and the words that a silent twin has in place of others.
CASES = {
    "material-idle": (
        """\
<back>
<front>
<seam>
[materials.foam]
kind = "foam"
thickness = "3 mm"
""",
        """\
a.toml:23: caution: no piece or strap is cut from "foam"
    written: [materials.foam]
    mend:    use it, or take it out
    check:   material-idle, at foam
""",
        'thickness = "3 mm"\n',
        """\
thickness = "3 mm"
[pieces.pad]
like = "back"
of = "foam"
""",
    ),
    "stitch-idle": (
        "<back>\n",
        """\
a.toml:9: caution: nothing is sewn with the stitch "main"
    written: [stitches.main]
    mend:    use it, or take it out
    check:   stitch-idle, at main
""",
        'size = ["200 mm", "150 mm"]\n',
        """\
size = ["200 mm", "150 mm"]
<front>
<seam>
""",
    ),
    "work-in-no-step": (
        """\
<back>
<front>
<seam>
[pieces.side]
of = "body"
cut = 2
shape = "strip"
size = ["60 mm", "100 mm"]
[joins.g]
of = ["side", "side"]
overlap = "10 mm"
stitch = "main"
<belt>
finished = "300 mm"
[[steps]]
do = "Cut."
pieces = ["side"]
""",
        """\
a.toml:20: caution: no step makes the seam "s"
    written: [seams.s]
    mend:    write seams = ["s"] in a step
    check:   work-in-no-step, at s
a.toml:28: caution: no step makes the join "g"
    written: [joins.g]
    mend:    write joins = ["g"] in a step
    check:   work-in-no-step, at g
a.toml:32: caution: no step makes the strap "belt"
    written: [straps.belt]
    mend:    write straps = ["belt"] in a step
    check:   work-in-no-step, at belt
""",
        """\
do = "Cut."
pieces = ["side"]
""",
        """\
do = "Sew."
joins = ["g"]
seams = ["s"]
straps = ["belt"]
""",
    ),
    "piece-in-no-step": (
        """\
<back>
<front>
<seam>
[pieces.tab]
of = "body"
cut = 1
shape = "rectangle"
size = ["40 mm", "60 mm"]
[[steps]]
do = "Sew."
seams = ["s"]
""",
        """\
a.toml:23: caution: no step handles the piece "tab"
    written: [pieces.tab]
    mend:    write pieces = ["tab"] in a step
    check:   piece-in-no-step, at tab
""",
        'seams = ["s"]\n',
        """\
seams = ["s"]
pieces = ["tab"]
""",
    ),
    "contents-do-not-fit": (
        """\
<back>
<front>
<seam>
[inside]
width = "180 mm"
height = "120 mm"
depth = "40 mm"
[[holds]]
what = "sketch book"
size = ["210 mm", "148 mm", "20 mm"]
""",
        """\
a.toml:27: caution: sketch book, 210 mm x 148 mm x 20 mm, does not go in: there is room for 180 mm x 120 mm x 40 mm
    written: [[holds]]
    mend:    make it larger, or leave something out
    check:   contents-do-not-fit, at sketch book
""",
        'size = ["210 mm", "148 mm", "20 mm"]',
        'size = ["40 mm", "120 mm", "180 mm"]',
    ),
    "contents-do-not-fit, together": (
        """\
<back>
<front>
<seam>
[inside]
width = "180 mm"
height = "120 mm"
depth = "40 mm"
[[holds]]
what = "book"
size = ["180 mm", "120 mm", "20 mm"]
[[holds]]
what = "box"
size = ["180 mm", "120 mm", "21 mm"]
""",
        """\
a.toml:27: caution: what has to go in takes more than the room of 180 mm x 120 mm x 40 mm, all together
    written: [[holds]]
    mend:    make it larger, or leave something out
    check:   contents-do-not-fit
""",
        'size = ["180 mm", "120 mm", "21 mm"]',
        'size = ["180 mm", "120 mm", "20 mm"]',
    ),
    "notches-apart": (
        """\
<back>
notches = [{ on = "left", at = "60 mm from bottom" }]
<bare front>
notches = [{ on = "left", at = "62 mm from bottom" }]
<seam>
""",
        """\
a.toml:23: caution: in the seam "s" the notches of back left and front left lie 2 mm (3/32 in) apart
    written: [seams.s]
    mend:    measure both again from one end of the seam
    check:   notches-apart, at s
""",
        'notches = [{ on = "left", at = "62 mm from bottom" }]',
        'notches = [{ on = "left", at = "61.5 mm from bottom" }]',
    ),
}


@pytest.mark.parametrize("case", CASES)
def test_a_check_of_use_fires_whole(cautions: Tell, case: str) -> None:
    text, told, _, _ = CASES[case]
    assert cautions(text) == told


@pytest.mark.parametrize("case", CASES)
def test_the_twin_of_a_check_of_use_is_silent(cautions: Tell, case: str) -> None:
    text, _, old, new = CASES[case]
    assert cautions(text, (old, new)) == ""
