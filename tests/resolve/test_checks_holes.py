"""Checks of holes: each fires, told once and whole, and its twin beside it is silent."""

# ruff: noqa: E501 - messages stand here as they are printed

from __future__ import annotations

from collections.abc import Callable

import pytest
from cases import read_cases

Tell = Callable[..., str]

CASES = read_cases("""
=== hole-near-edge
<back>
holes = [{ at = "100 mm from left, 5 mm from bottom", punch = "4 mm" }]
<front>
<seam>
---
a.toml:18: caution: a hole of 4 mm (5/32 in) in "back" lies 5 mm (3/16 in) from the edge
    written: "100 mm from left, 5 mm from bottom"
    mend:    keep its centre 6 mm (1/4 in) from the edge or more
    check:   hole-near-edge, at back
---
- holes = [{ at = "100 mm from left, 5 mm from bottom", punch = "4 mm" }]
+ holes = [{ at = "100 mm from left, 6 mm from bottom", punch = "4 mm" }]
=== hole-on-stitch-line
<back>
holes = [{ at = "5.9 mm from left, 75 mm from bottom", punch = "2 mm" }]
<front>
<seam>
---
a.toml:18: caution: a hole of 2 mm (3/32 in) in "back" lies on the stitch line of "s"
    written: "5.9 mm from left, 75 mm from bottom"
    mend:    keep its rim 1 mm from the line or more
    check:   hole-on-stitch-line, at back
---
- holes = [{ at = "5.9 mm from left, 75 mm from bottom", punch = "2 mm" }]
+ holes = [{ at = "6 mm from left, 75 mm from bottom", punch = "2 mm" }]
=== hole-size
<hardware rivet: 2, double-cap rivet>
posts = ["6 mm"]
<back>
holes = [{ at = "100 mm from left, 75 mm from bottom", punch = "6 mm", takes = "rivet", through = ["front"] }]
<bare front>
holes = [{ at = "100 mm from left, 75 mm from bottom", punch = "6 mm" }]
<seam>
---
a.toml:22: caution: a hole of 6 mm in "back" takes double-cap rivet, which needs 2.5 mm to 4.5 mm
    written: "100 mm from left, 75 mm from bottom"
    mend:    use the punch that fits, or say the hole that it needs
    check:   hole-size, at back
---
- posts = ["6 mm"]
+ posts = ["6 mm"]
+ hole = "6 mm"
=== holes-apart
<hardware rivet: 4, double-cap rivet>
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
---
a.toml:23: caution: a hole in "tab" and one in "back" take the same "rivet", and lie 2 mm (3/32 in) apart
    written: "20 mm from left, 30 mm from bottom"
    mend:    measure both again from one edge
    check:   holes-apart, at tab
---
- holes = [{ at = "42 mm from left, 50 mm from bottom", punch = "4 mm", takes = "rivet", through = ["front"] }]
+ holes = [{ at = "40.5 mm from left, 50 mm from bottom", punch = "4 mm", takes = "rivet" }]
=== holes-apart, of partners
<hardware rivet: 4, double-cap rivet>
posts = []
<back>
holes = [{ at = "60 mm from left, 75 mm from bottom", punch = "4 mm", takes = "rivet" }]
<rectangle front: ["200 mm", "150 mm"]>
holes = [{ at = "138 mm from left, 75 mm from bottom", punch = "4 mm", takes = "rivet" }]
<seam s: ["back: left", "front: right"]>
---
a.toml:22: caution: a hole in "back" and one in "front" take the same "rivet", and lie 2 mm (3/32 in) apart
    written: "60 mm from left, 75 mm from bottom"
    mend:    measure both again from one edge
    check:   holes-apart, at back
---
- holes = [{ at = "138 mm from left, 75 mm from bottom", punch = "4 mm", takes = "rivet" }]
+ holes = [{ at = "140 mm from left, 75 mm from bottom", punch = "4 mm", takes = "rivet" }]
=== hole-near-edge, of a row
<back>
hole-rows = [{ start = "4 mm from top, 20 mm from left", end = "12 mm from top, 20 mm from right", count = 5, punch = "4 mm" }]
<front>
<seam>
---
a.toml:18: caution: a hole of 4 mm (5/32 in) in "back" lies 4 mm (5/32 in) from the edge
    written: { start = "4 mm from top, 20 mm from left", end = "12 mm from top, 20 mm from right", count = 5, pun
    mend:    keep its centre 6 mm (1/4 in) from the edge or more
    check:   hole-near-edge, at back
---
- hole-rows = [{ start = "4 mm from top, 20 mm from left", end = "12 mm from top, 20 mm from right", count = 5, punch = "4 mm" }]
+ hole-rows = [{ start = "6 mm from top, 20 mm from left", end = "12 mm from top, 20 mm from right", count = 5, punch = "4 mm" }]
=== hole-near-edge, of a strap
<back>
<front>
<seam>
<belt>
wears = "400 mm"
holes = { count = 3, pitch = "20 mm", punch = "8 mm", tip = "60 mm" }
---
a.toml:27: caution: a hole of 8 mm (5/16 in) in "belt" lies 10 mm (13/32 in) from the edge
    written: 3
    mend:    keep its centre 12 mm (15/32 in) from the edge or more
    check:   hole-near-edge, at belt
---
- holes = { count = 3, pitch = "20 mm", punch = "8 mm", tip = "60 mm" }
+ holes = { count = 3, pitch = "20 mm", punch = "6 mm", tip = "60 mm" }
=== hole-near-edge, oblong
<back>
holes = [{ at = "100 mm from left, 12 mm from bottom", punch = "4 mm", long = "20 mm" }]
<bare front>
<seam>
---
a.toml:18: caution: a hole of 4 mm (5/32 in) in "back" lies 4 mm (5/32 in) from the edge
    written: "100 mm from left, 12 mm from bottom"
    mend:    keep its centre 6 mm (1/4 in) from the edge or more
    check:   hole-near-edge, at back
---
- holes = [{ at = "100 mm from left, 12 mm from bottom", punch = "4 mm", long = "20 mm" }]
+ holes = [{ at = "100 mm from left, 12 mm from bottom", punch = "4 mm", long = "14 mm" }]
=== hole-not-in-partner
<hardware rivet: 1, double-cap rivet>
posts = []
<back>
holes = [{ at = "100 mm from left, 75 mm from bottom", punch = "4 mm", takes = "rivet", through = ["front"] }]
<bare front>
<seam>
---
a.toml:22: caution: a hole of 4 mm (5/32 in) in "back" goes through "front", and the template of "front" shows no hole for "rivet"
    written: "100 mm from left, 75 mm from bottom"
    mend:    give "front" a hole of 4 mm (5/32 in), or accept that it is marked through "back"
    check:   hole-not-in-partner, at back
---
- marks = false
+ marks = false
+ holes = [{ at = "100 mm from left, 75 mm from bottom", punch = "4 mm" }]
=== hole-not-in-partner, of another size
<hardware rivet: 1, double-cap rivet>
posts = []
<back>
holes = [{ at = "100 mm from left, 75 mm from bottom", punch = "4 mm", takes = "rivet", through = ["front"] }]
<bare front>
holes = [{ at = "100 mm from left, 75 mm from bottom", punch = "3 mm" }]
<seam>
---
a.toml:22: caution: a hole of 4 mm (5/32 in) in "back" goes through "front", and the hole there is 3 mm (1/8 in)
    written: "100 mm from left, 75 mm from bottom"
    mend:    give "front" a hole of 4 mm (5/32 in), or accept that it is marked through "back"
    check:   hole-not-in-partner, at back
---
- holes = [{ at = "100 mm from left, 75 mm from bottom", punch = "3 mm" }]
+ holes = [{ at = "100 mm from left, 75 mm from bottom", punch = "4 mm" }]
=== hole-not-in-partner, of a join
<hardware rivet: 1, double-cap rivet>
posts = []
<back>
holes = [{ at = "100 mm from left, 75 mm from bottom", punch = "4 mm", takes = "rivet", through = ["loop"] }]
<bare front>
<seam>
<strip side: ["40 mm", "60 mm"]>
<strip end: ["40 mm", "60 mm"]>
<join loop: ["side", "end"], 10 mm>
---
a.toml:22: caution: a hole of 4 mm (5/32 in) in "back" goes through "loop", and the template of "loop" shows no hole for "rivet"
    written: "100 mm from left, 75 mm from bottom"
    mend:    give "loop" a hole of 4 mm (5/32 in), or accept that it is marked through "back"
    check:   hole-not-in-partner, at back
---
- [joins.loop]
+ holes = [{ at = "20 mm from left, 30 mm from start", punch = "4 mm" }]
+ [joins.loop]
""")


@pytest.mark.parametrize("case", CASES)
def test_a_check_of_holes_fires_whole(cautions: Tell, case: str) -> None:
    given, told, _ = CASES[case]
    assert cautions(given) == told


@pytest.mark.parametrize("case", CASES)
def test_the_twin_of_a_check_of_holes_is_silent(cautions: Tell, case: str) -> None:
    given, _, twin = CASES[case]
    assert cautions(given, twin) == ""
