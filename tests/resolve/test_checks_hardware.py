"""Checks of hardware: each fires, told once and whole, and its twin beside it is silent."""

# ruff: noqa: E501 - messages stand here as they are printed

from __future__ import annotations

from collections.abc import Callable

import pytest

Tell = Callable[..., str]

# check -> lines of a spec, what is told of them, and the words that a silent twin has in place of others.
CASES = {
    "strap-slot-off-fold": (
        """\
[hardware.buckle]
what = "roller buckle"
count = 1
bar = "4 mm"
<belt>
finished = "300 mm"
stitch = "main"
ends = [{ shape = "square" }, { shape = "turned", back = "40 mm", around = "buckle" }]
punches = [{ at = "centre, 40 mm from end", punch = "3 mm", long = "20 mm" }]
""",
        """\
a.toml:24: caution: the oblong hole of the strap "belt" lies 4.7 mm (3/16 in) off the fold, which is 44.7 mm (1 3/4 in) from end: the tongue of the buckle does not come through at the bar
    written: "centre, 40 mm from end"
    mend:    write at = "centre, at the fold"
    check:   strap-slot-off-fold, at belt
""",
        '"centre, 40 mm from end"',
        '"centre, 42 mm from end"',
    ),
    "strap-slot-off-fold, at one of two turned ends": (
        """\
[hardware.buckle]
what = "roller buckle"
count = 2
bar = "4 mm"
<belt>
finished = "300 mm"
stitch = "main"
ends = [{ shape = "turned", back = "40 mm", around = "buckle" }, { shape = "turned", back = "40 mm" }]
punches = [{ at = "centre, at the second fold", punch = "3 mm", long = "20 mm" }]
""",
        """\
a.toml:24: caution: the oblong hole of the strap "belt" lies 306.3 mm (12 1/16 in) off the fold, which is 44.7 mm (1 3/4 in) from start: the tongue of the buckle does not come through at the bar
    written: "centre, at the second fold"
    mend:    write at = "centre, at the first fold"
    check:   strap-slot-off-fold, at belt
""",
        '"centre, at the second fold"',
        '"centre, at first fold"',
    ),
    "strap-end-unpunched": (
        """\
[hardware.rivet]
what = "double-cap rivet"
count = 2
[hardware.ring]
what = "D ring"
count = 2
bar = "4 mm"
<belt>
finished = "300 mm"
ends = [{ shape = "square" }, { shape = "turned", back = "40 mm", around = "ring", takes = "rivet", number = 2 }]
stitch = "main"
punches = []
""",
        """\
a.toml:25: caution: the second end of the strap "belt" takes 2 of "rivet", and none of the holes for it can be found in punches
    written: { shape = "turned", back = "40 mm", around = "ring", takes = "rivet", number = 2 }
    mend:    add to punches a hole at "centre, 10 mm from end" and "centre, 30 mm from end", or where you want it
    check:   strap-end-unpunched, at belt
""",
        "punches = []",
        'punches = [{ at = "centre, 12 mm from end", punch = "4 mm" }, { at = "centre, 32 mm from end", punch = "4 mm" }]',
    ),
    "strap-end-unpunched, one of two through both layers": (
        """\
[hardware.rivet]
what = "double-cap rivet"
count = 2
[hardware.ring]
what = "D ring"
count = 2
bar = "4 mm"
<belt>
finished = "300 mm"
ends = [{ shape = "square" }, { shape = "turned", back = "40 mm", around = "ring", takes = "rivet", number = 2 }]
stitch = "main"
punches = [{ at = "centre, 12 mm from end", punch = "4 mm" }, { at = "centre, 77.4 mm from end", punch = "4 mm" }, { at = "centre, 44 mm from end", punch = "4 mm", long = "9 mm" }]
""",
        """\
a.toml:25: caution: the second end of the strap "belt" takes 2 of "rivet", and only 1 of the holes for it can be found in punches
    written: { shape = "turned", back = "40 mm", around = "ring", takes = "rivet", number = 2 }
    mend:    add to punches a hole at "centre, 30 mm from end", or where you want it
    check:   strap-end-unpunched, at belt
""",
        '"centre, 77.4 mm from end"',
        '"centre, 57.4 mm from end"',
    ),
    "post-length": (
        """\
[hardware.rivet]
what = "double-cap rivet"
count = 2
posts = ["4 mm", "5 mm"]
<back>
holes = [{ at = "100 mm from left, 75 mm from bottom", punch = "4 mm", takes = "rivet", through = ["front"] }]
<bare front>
holes = [{ at = "100 mm from left, 75 mm from bottom", punch = "4 mm" }]
<seam>
""",
        """\
a.toml:22: caution: "rivet" goes through 4 mm at "back" and needs a post of 6 mm to 7 mm (0.5 mm more or less will do); the longest in the drawer, 5 mm, is too short
    written: "100 mm from left, 75 mm from bottom"
    mend:    buy the length that fits, and add it to posts
    check:   post-length, at back
""",
        'posts = ["4 mm", "5 mm"]',
        'posts = ["6 mm"]',
    ),
    "post-length, too long": (
        """\
[hardware.rivet]
what = "double-cap rivet"
count = 2
posts = ["8 mm", "10 mm"]
<back>
holes = [{ at = "100 mm from left, 75 mm from bottom", punch = "4 mm", takes = "rivet", through = ["front"] }]
<bare front>
holes = [{ at = "100 mm from left, 75 mm from bottom", punch = "4 mm" }]
<seam>
""",
        """\
a.toml:22: caution: "rivet" goes through 4 mm at "back" and needs a post of 6 mm to 7 mm (0.5 mm more or less will do); the shortest in the drawer, 8 mm, is too long
    written: "100 mm from left, 75 mm from bottom"
    mend:    buy the length that fits, and add it to posts
    check:   post-length, at back
""",
        'posts = ["8 mm", "10 mm"]',
        'posts = ["8 mm", "7.5 mm"]',
    ),
    "post-length, between": (
        """\
[hardware.rivet]
what = "double-cap rivet"
count = 2
posts = ["5 mm", "8 mm"]
<back>
holes = [{ at = "100 mm from left, 75 mm from bottom", punch = "4 mm", takes = "rivet", through = ["front"] }]
<bare front>
holes = [{ at = "100 mm from left, 75 mm from bottom", punch = "4 mm" }]
<seam>
""",
        """\
a.toml:22: caution: "rivet" goes through 4 mm at "back" and needs a post of 6 mm to 7 mm (0.5 mm more or less will do); in the drawer 5 mm is too short and 8 mm too long
    written: "100 mm from left, 75 mm from bottom"
    mend:    buy the length that fits, and add it to posts
    check:   post-length, at back
""",
        'posts = ["5 mm", "8 mm"]',
        'posts = ["5 mm", "7 mm"]',
    ),
    "post-length, screw post": (
        """\
[hardware.rivet]
what = "screw post"
count = 2
posts = ["3.4 mm", "4.5 mm"]
<back>
holes = [{ at = "100 mm from left, 75 mm from bottom", punch = "4 mm", takes = "rivet", through = ["front"] }]
<bare front>
holes = [{ at = "100 mm from left, 75 mm from bottom", punch = "4 mm" }]
<seam>
""",
        """\
a.toml:22: caution: "rivet" goes through 4 mm at "back" and needs a post of 3.5 mm to 4 mm; in the drawer 3.4 mm is too short and 4.5 mm too long
    written: "100 mm from left, 75 mm from bottom"
    mend:    buy the length that fits, and add it to posts
    check:   post-length, at back
""",
        'posts = ["3.4 mm", "4.5 mm"]',
        'posts = ["3.4 mm", "3.5 mm"]',
    ),
    "hardware-count": (
        """\
[hardware.rivet]
what = "double-cap rivet"
count = 1
posts = []
<back>
cut = 2
holes = [{ at = "100 mm from left, 75 mm from bottom", punch = "4 mm", takes = "rivet" }]
<bare front>
cut = 2
<seam>
""",
        """\
a.toml:14: caution: "rivet" goes into 2 places of one make (back 2), and the count is 1
    written: [hardware.rivet]
    mend:    write count = 2
    check:   hardware-count, at rivet
""",
        "count = 1",
        "count = 2",
    ),
    "hardware-count, twice": (
        """\
[hardware.rivet]
what = "double-cap rivet"
count = 2
posts = []
[pieces.tab]
of = "body"
cut = 1
shape = "rectangle"
size = ["40 mm", "60 mm"]
holes = [{ at = "20 mm from left, 30 mm from bottom", punch = "4 mm", takes = "rivet" }]
<back>
landings = [{ piece = "tab", at = "20 mm from left, 20 mm from bottom" }]
holes = [{ at = "40 mm from left, 50 mm from bottom", punch = "4 mm", takes = "rivet" }]
<bare front>
<seam>
""",
        """\
a.toml:14: caution: "rivet" is counted twice: 2 holes take it, and some lie upon each other, so that 1 will do
    written: [hardware.rivet]
    mend:    write count = 1
    check:   hardware-count, at rivet
""",
        "count = 2",
        "count = 1",
    ),
    "hardware-idle": (
        """\
[hardware.rivet]
what = "double-cap rivet"
count = 2
posts = []
<back>
<front>
<seam>
""",
        """\
a.toml:14: caution: no hole takes "rivet", no strap goes round it, and no step sets it
    written: [hardware.rivet]
    mend:    use it, or take it out
    check:   hardware-idle, at rivet
""",
        'meet = ["back: left", "front: left"]\n',
        """\
meet = ["back: left", "front: left"]
[[steps]]
do = "Sew and rivet."
seams = ["s"]
hardware = ["rivet"]
""",
    ),
}


@pytest.mark.parametrize("case", CASES)
def test_a_check_of_hardware_fires_whole(cautions: Tell, case: str) -> None:
    text, told, _, _ = CASES[case]
    assert cautions(text) == told


@pytest.mark.parametrize("case", CASES)
def test_the_twin_of_a_check_of_hardware_is_silent(cautions: Tell, case: str) -> None:
    text, _, old, new = CASES[case]
    assert cautions(text, (old, new)) == ""
