"""Checks of holes: each fires, told once and whole, and its twin beside it is silent."""

# ruff: noqa: E501 - messages stand here as they are printed

from __future__ import annotations

from collections.abc import Callable

import pytest

Tell = Callable[..., str]

# check -> lines of a spec, what is told of them, and the words that a silent twin has in place of others.
CASES = {
    "hole-near-edge": (
        """\
<back>
holes = [{ at = "100 mm from left, 5 mm from bottom", punch = "4 mm" }]
<front>
<seam>
""",
        """\
a.toml:18: caution: a hole of 4 mm (5/32 in) in "back" lies 5 mm (3/16 in) from the edge
    written: "100 mm from left, 5 mm from bottom"
    mend:    keep its centre 6 mm (1/4 in) from the edge or more
    check:   hole-near-edge, at back
""",
        'holes = [{ at = "100 mm from left, 5 mm from bottom", punch = "4 mm" }]',
        'holes = [{ at = "100 mm from left, 6 mm from bottom", punch = "4 mm" }]',
    ),
    "hole-on-stitch-line": (
        """\
<back>
holes = [{ at = "5.9 mm from left, 75 mm from bottom", punch = "2 mm" }]
<front>
<seam>
""",
        """\
a.toml:18: caution: a hole of 2 mm (3/32 in) in "back" lies on the stitch line of "s"
    written: "5.9 mm from left, 75 mm from bottom"
    mend:    keep its rim 1 mm from the line or more
    check:   hole-on-stitch-line, at back
""",
        'holes = [{ at = "5.9 mm from left, 75 mm from bottom", punch = "2 mm" }]',
        'holes = [{ at = "6 mm from left, 75 mm from bottom", punch = "2 mm" }]',
    ),
    "hole-size": (
        """\
[hardware.rivet]
what = "double-cap rivet"
count = 2
posts = ["6 mm"]
<back>
holes = [{ at = "100 mm from left, 75 mm from bottom", punch = "6 mm", takes = "rivet", through = ["front"] }]
<bare front>
holes = [{ at = "100 mm from left, 75 mm from bottom", punch = "6 mm" }]
<seam>
""",
        """\
a.toml:22: caution: a hole of 6 mm in "back" takes double-cap rivet, which needs 2.5 mm to 4.5 mm
    written: "100 mm from left, 75 mm from bottom"
    mend:    use the punch that fits, or say the hole that it needs
    check:   hole-size, at back
""",
        'posts = ["6 mm"]\n',
        """\
posts = ["6 mm"]
hole = "6 mm"
""",
    ),
    "holes-apart": (
        """\
[hardware.rivet]
what = "double-cap rivet"
count = 4
posts = []
[pieces.tab]
of = "body"
cut = 1
shape = "rectangle"
size = ["40 mm", "60 mm"]
holes = [{ at = "20 mm from left, 30 mm from bottom", punch = "4 mm", takes = "rivet" }]
<back>
landings = [{ piece = "tab", at = "20 mm from left, 20 mm from bottom" }]
holes = [{ at = "42 mm from left, 50 mm from bottom", punch = "4 mm", takes = "rivet", through = ["front"] }]
<bare front>
holes = [{ at = "42 mm from left, 50 mm from bottom", punch = "4 mm" }]
<seam>
""",
        """\
a.toml:23: caution: a hole in "tab" and one in "back" take the same "rivet", and lie 2 mm (3/32 in) apart
    written: "20 mm from left, 30 mm from bottom"
    mend:    measure both again from one edge
    check:   holes-apart, at tab
""",
        'holes = [{ at = "42 mm from left, 50 mm from bottom", punch = "4 mm", takes = "rivet", through = ["front"] }]',
        'holes = [{ at = "40.5 mm from left, 50 mm from bottom", punch = "4 mm", takes = "rivet" }]',
    ),
    "holes-apart, of partners": (
        """\
[hardware.rivet]
what = "double-cap rivet"
count = 4
posts = []
<back>
holes = [{ at = "60 mm from left, 75 mm from bottom", punch = "4 mm", takes = "rivet" }]
[pieces.front]
of = "body"
shape = "rectangle"
size = ["200 mm", "150 mm"]
holes = [{ at = "138 mm from left, 75 mm from bottom", punch = "4 mm", takes = "rivet" }]
[seams.s]
stitch = "main"
meet = ["back: left", "front: right"]
""",
        """\
a.toml:22: caution: a hole in "back" and one in "front" take the same "rivet", and lie 2 mm (3/32 in) apart
    written: "60 mm from left, 75 mm from bottom"
    mend:    measure both again from one edge
    check:   holes-apart, at back
""",
        'holes = [{ at = "138 mm from left, 75 mm from bottom", punch = "4 mm", takes = "rivet" }]',
        'holes = [{ at = "140 mm from left, 75 mm from bottom", punch = "4 mm", takes = "rivet" }]',
    ),
    "hole-near-edge, of a row": (
        """\
<back>
hole-rows = [{ start = "4 mm from top, 20 mm from left", end = "12 mm from top, 20 mm from right", count = 5, punch = "4 mm" }]
<front>
<seam>
""",
        """\
a.toml:18: caution: a hole of 4 mm (5/32 in) in "back" lies 4 mm (5/32 in) from the edge
    written: { start = "4 mm from top, 20 mm from left", end = "12 mm from top, 20 mm from right", count = 5, pun
    mend:    keep its centre 6 mm (1/4 in) from the edge or more
    check:   hole-near-edge, at back
""",
        'hole-rows = [{ start = "4 mm from top, 20 mm from left", end = "12 mm from top, 20 mm from right", count = 5, punch = "4 mm" }]',
        'hole-rows = [{ start = "6 mm from top, 20 mm from left", end = "12 mm from top, 20 mm from right", count = 5, punch = "4 mm" }]',
    ),
    "hole-near-edge, of a strap": (
        """\
<back>
<front>
<seam>
[straps.belt]
of = "body"
width = "20 mm"
wears = "400 mm"
holes = { count = 3, pitch = "20 mm", punch = "8 mm", tip = "60 mm" }
""",
        """\
a.toml:27: caution: a hole of 8 mm (5/16 in) in "belt" lies 10 mm (13/32 in) from the edge
    written: 3
    mend:    keep its centre 12 mm (15/32 in) from the edge or more
    check:   hole-near-edge, at belt
""",
        'holes = { count = 3, pitch = "20 mm", punch = "8 mm", tip = "60 mm" }',
        'holes = { count = 3, pitch = "20 mm", punch = "6 mm", tip = "60 mm" }',
    ),
    "hole-near-edge, oblong": (
        """\
<back>
holes = [{ at = "100 mm from left, 12 mm from bottom", punch = "4 mm", long = "20 mm" }]
<bare front>
<seam>
""",
        """\
a.toml:18: caution: a hole of 4 mm (5/32 in) in "back" lies 4 mm (5/32 in) from the edge
    written: "100 mm from left, 12 mm from bottom"
    mend:    keep its centre 6 mm (1/4 in) from the edge or more
    check:   hole-near-edge, at back
""",
        'holes = [{ at = "100 mm from left, 12 mm from bottom", punch = "4 mm", long = "20 mm" }]',
        'holes = [{ at = "100 mm from left, 12 mm from bottom", punch = "4 mm", long = "14 mm" }]',
    ),
    "hole-not-in-partner": (
        """\
[hardware.rivet]
what = "double-cap rivet"
count = 1
posts = []
<back>
holes = [{ at = "100 mm from left, 75 mm from bottom", punch = "4 mm", takes = "rivet", through = ["front"] }]
<bare front>
<seam>
""",
        """\
a.toml:22: caution: a hole of 4 mm (5/32 in) in "back" goes through "front", and the template of "front" shows no hole for "rivet"
    written: "100 mm from left, 75 mm from bottom"
    mend:    give "front" a hole of 4 mm (5/32 in), or accept that it is marked through "back"
    check:   hole-not-in-partner, at back
""",
        "marks = false\n",
        """\
marks = false
holes = [{ at = "100 mm from left, 75 mm from bottom", punch = "4 mm" }]
""",
    ),
    "hole-not-in-partner, of another size": (
        """\
[hardware.rivet]
what = "double-cap rivet"
count = 1
posts = []
<back>
holes = [{ at = "100 mm from left, 75 mm from bottom", punch = "4 mm", takes = "rivet", through = ["front"] }]
<bare front>
holes = [{ at = "100 mm from left, 75 mm from bottom", punch = "3 mm" }]
<seam>
""",
        """\
a.toml:22: caution: a hole of 4 mm (5/32 in) in "back" goes through "front", and the hole there is 3 mm (1/8 in)
    written: "100 mm from left, 75 mm from bottom"
    mend:    give "front" a hole of 4 mm (5/32 in), or accept that it is marked through "back"
    check:   hole-not-in-partner, at back
""",
        'holes = [{ at = "100 mm from left, 75 mm from bottom", punch = "3 mm" }]\n',
        'holes = [{ at = "100 mm from left, 75 mm from bottom", punch = "4 mm" }]\n',
    ),
    "hole-not-in-partner, of a join": (
        """\
[hardware.rivet]
what = "double-cap rivet"
count = 1
posts = []
<back>
holes = [{ at = "100 mm from left, 75 mm from bottom", punch = "4 mm", takes = "rivet", through = ["loop"] }]
<bare front>
<seam>
[pieces.side]
of = "body"
shape = "strip"
size = ["40 mm", "60 mm"]
[pieces.end]
of = "body"
shape = "strip"
size = ["40 mm", "60 mm"]
[joins.loop]
of = ["side", "end"]
overlap = "10 mm"
stitch = "main"
""",
        """\
a.toml:22: caution: a hole of 4 mm (5/32 in) in "back" goes through "loop", and the template of "loop" shows no hole for "rivet"
    written: "100 mm from left, 75 mm from bottom"
    mend:    give "loop" a hole of 4 mm (5/32 in), or accept that it is marked through "back"
    check:   hole-not-in-partner, at back
""",
        "[joins.loop]\n",
        """\
holes = [{ at = "20 mm from left, 30 mm from start", punch = "4 mm" }]
[joins.loop]
""",
    ),
}


@pytest.mark.parametrize("case", CASES)
def test_a_check_of_holes_fires_whole(cautions: Tell, case: str) -> None:
    text, told, _, _ = CASES[case]
    assert cautions(text) == told


@pytest.mark.parametrize("case", CASES)
def test_the_twin_of_a_check_of_holes_is_silent(cautions: Tell, case: str) -> None:
    text, _, old, new = CASES[case]
    assert cautions(text, (old, new)) == ""
