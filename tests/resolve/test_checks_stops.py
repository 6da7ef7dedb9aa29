"""Checks of what stops a build: each fires, told once and whole, and its twin beside it is silent."""

# ruff: noqa: E501 - messages stand here as they are printed

from __future__ import annotations

from collections.abc import Callable

import pytest

Tell = Callable[..., str]

# check -> lines of a spec, what is told of them, and the words that a silent twin has in place of others.
CASES = {
    "skive-on-goods": (
        """\
[materials.cloth]
kind = "fabric"
thickness = "0.6 mm"
width = "900 mm"
[pieces.back]
of = "cloth"
shape = "rectangle"
size = ["200 mm", "150 mm"]
skives = [{ edges = "left", width = "10 mm", to = "0.3 mm" }]
<bare front>
<seam>
[pieces.disc]
of = "body"
shape = "circle"
diameter = "90 mm"
[seams.t]
stitch = "main"
meet = ["disc: all", "front"]
""",
        """\
a.toml:18: error: "back" is fabric, which cannot be skived
    written: [pieces.back]
    mend:    leave out its skives
""",
        'kind = "fabric"',
        'kind = "leather"',
    ),
    "skive-too-deep": (
        """\
<back>
skives = [{ edges = "left", width = "10 mm", to = "2 mm" }]
<bare front>
<seam>
""",
        """\
a.toml:14: error: "back" is skived to 2 mm (5 oz), and its leather is 2 mm (5 oz) thick
    written: [pieces.back]
    mend:    skive to less than the leather
""",
        'skives = [{ edges = "left", width = "10 mm", to = "2 mm" }]',
        'skives = [{ edges = "left", width = "10 mm", to = "1.9 mm" }]',
    ),
    "strap-wider-than-fitting": (
        """\
[hardware.ring]
what = "D ring"
count = 1
inside = "24 mm"
bar = "4 mm"
<back>
<front>
<seam>
[straps.belt]
of = "body"
width = "25 mm"
finished = "300 mm"
ends = [{ shape = "turned", back = "30 mm", around = "ring" }, { shape = "square" }]
""",
        """\
a.toml:28: error: the strap "belt" is 25 mm (31/32 in) wide, and D ring takes only 24 mm (15/16 in)
    written: [straps.belt]
    mend:    cut the strap narrower, or use a wider fitting
""",
        'inside = "24 mm"',
        'inside = "25 mm"',
    ),
    "unequal-partners": (
        """\
<back>
[pieces.front]
of = "body"
shape = "rectangle"
size = ["200 mm", "154 mm"]
<seam>
""",
        """\
a.toml:24: error: the sides of the seam "s" are not equally long: back left is 150 mm (5 29/32 in), 38 stitches, front left is 154 mm (6 1/16 in), 39 stitches
    written: "front: left"
    mend:    make front left 4 mm (5/32 in) shorter, or write "solve" for its length, or ease it in with ease = "4 mm"
""",
        'size = ["200 mm", "154 mm"]',
        'size = ["200 mm", "150.4 mm"]',
    ),
    "unequal-partners, beyond the ease": (
        """\
<back>
[pieces.front]
of = "body"
shape = "rectangle"
size = ["200 mm", "154 mm"]
<seam>
ease = "3 mm"
""",
        """\
a.toml:24: error: the sides of the seam "s" are not equally long: back left is 150 mm (5 29/32 in), 38 stitches, front left is 154 mm (6 1/16 in), 39 stitches, and 3 mm (1/8 in) may be eased in
    written: "front: left"
    mend:    make front left 4 mm (5/32 in) shorter, or write "solve" for its length, or ease it in with ease = "4 mm"
""",
        'ease = "3 mm"',
        'ease = "4 mm"',
    ),
    "unequal-partners, the first longer": (
        """\
<back>
[pieces.front]
of = "body"
shape = "rectangle"
size = ["200 mm", "146 mm"]
<seam>
ease = "6 mm"
""",
        """\
a.toml:24: error: the sides of the seam "s" are not equally long: back left is 150 mm (5 29/32 in), 38 stitches, front left is 146 mm (5 3/4 in), 37 stitches
    written: "front: left"
    mend:    make front left 4 mm (5/32 in) longer, or write "solve" for its length
""",
        'meet = ["back: left", "front: left"]',
        'meet = ["front: left", "back: left"]',
    ),
    "hole-outside": (
        """\
<back>
holes = [{ at = "201 mm from left, 75 mm from bottom", punch = "4 mm" }]
<front>
<seam>
""",
        """\
a.toml:18: error: a hole lies outside the piece "back"
    written: "201 mm from left, 75 mm from bottom"
    mend:    measure again; its centre must lie on the leather
""",
        'holes = [{ at = "201 mm from left, 75 mm from bottom", punch = "4 mm" }]',
        'holes = [{ at = "190 mm from left, 75 mm from bottom", punch = "4 mm" }]',
    ),
    "holes-even": (
        """\
<back>
<front>
<seam>
<belt>
wears = "400 mm"
holes = { count = 4, punch = "4 mm" }
""",
        """\
a.toml:27: error: 4 holes have no middle one
    written: 4
    mend:    use an odd number of holes
""",
        'holes = { count = 4, punch = "4 mm" }',
        'holes = { count = 5, punch = "4 mm" }',
    ),
    "skive-too-wide": (
        """\
<back>
skives = [{ edges = "all", width = "80 mm", to = "1 mm" }]
<front>
<seam>
""",
        """\
a.toml:18: error: the skived band cannot be drawn: an inset of 80 mm is too large for this shape: nothing is left of the edge 'right'
    written: "80 mm"
    mend:    make the band narrower
""",
        'skives = [{ edges = "all", width = "80 mm", to = "1 mm" }]',
        'skives = [{ edges = "all", width = "70 mm", to = "1 mm" }]',
    ),
    "name-not-there": (
        """\
<back>
<front>
<seam>
[[steps]]
do = "Sew."
seams = ["z"]
""",
        """\
a.toml:25: error: seams = "z", but there is no [seams.z]
    written: "z"
    mend:    seams has "s"
""",
        'seams = ["z"]',
        'seams = ["s"]',
    ),
}


@pytest.mark.parametrize("case", CASES)
def test_a_check_of_stops_fires_whole(messages: Tell, case: str) -> None:
    text, told, _, _ = CASES[case]
    assert messages(text) == told


@pytest.mark.parametrize("case", CASES)
def test_the_twin_of_a_check_of_stops_is_silent(cautions: Tell, case: str) -> None:
    text, _, old, new = CASES[case]
    assert cautions(text, (old, new)) == ""
