"""Checks of too little leather, width or room: each fires, told once and whole, and its twin beside it is silent."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from cases import read_cases

Tell = Callable[..., str]

CASES = read_cases("""
=== skive-to-nothing
<back>
skives = [{ edges = "top", width = "15 mm", to = "0 mm" }]
<bare front>
<seam>
---
a.toml:14: caution: "back" is skived to 0 mm along "top": nothing is left there
    written: [pieces.back]
    mend:    write what the skive leaves, or accept an edge pared to nothing
    check:   skive-to-nothing, at back
---
- to = "0 mm"
+ to = "0.1 mm"
=== overlap-short
[pieces.side]
of = "body"
cut = 2
shape = "strip"
size = ["40 mm", "200 mm"]
<join loop: ["side", "side"], 0 mm>
<rectangle back: ["100 mm", "400 mm"]>
<seam s: ["loop: left", "back: left"]>
---
a.toml:21: caution: the strips of "loop" lie 0 mm over each other, too little for a row of stitches
    written: "0 mm"
    mend:    make overlap 2 mm or more, or accept that they are sewn edge to edge
    check:   overlap-short, at loop
---
- overlap = "0 mm"
- stitch = "main"
- [pieces.back]
- of = "body"
- shape = "rectangle"
- size = ["100 mm", "400 mm"]
+ overlap = "2 mm"
+ stitch = "main"
+ [pieces.back]
+ of = "body"
+ shape = "rectangle"
+ size = ["100 mm", "398 mm"]
=== strap-loose-in-fitting
<back>
<bare front>
<seam>
<hardware ring: 1, D ring>
inside = "26 mm"
bar = "4 mm"
[straps.belt]
of = "body"
width = "12 mm"
finished = "300 mm"
ends = [{ shape = "turned", back = "40 mm", around = "ring" }, { shape = "square" }]
---
a.toml:29: caution: the strap "belt" is 12 mm (15/32 in) wide, less than half of what D ring takes, 26 mm (1 1/32 in)
    written: [straps.belt]
    mend:    cut the strap wider, or use a narrower fitting
    check:   strap-loose-in-fitting, at belt
---
- width = "12 mm"
+ width = "13 mm"
=== strap-narrow-for-hole
<back>
<bare front>
<seam>
<hardware rivet: 1, double-cap rivet>
posts = []
hole = "4 mm"
[straps.belt]
of = "body"
width = "11.5 mm"
finished = "300 mm"
ends = [{ shape = "turned", back = "40 mm", takes = "rivet" }, { shape = "square" }]
[[accept]]
check = "strap-end-unpunched"
at = "belt"
reason = "its holes are marked through the ring"
---
a.toml:29: caution: the strap "belt" is 11.5 mm (7/16 in) wide, and its ends are closed through holes of 4 mm (5/32 in)
    written: [straps.belt]
    mend:    cut it 12 mm (15/32 in) wide or wider
    check:   strap-narrow-for-hole, at belt
---
- width = "11.5 mm"
+ width = "12 mm"
=== strap-holes-close
<back>
<bare front>
<seam>
<belt>
wears = "400 mm"
holes = { count = 3, pitch = "5.5 mm", punch = "4 mm", tip = "60 mm" }
---
a.toml:28: caution: 1.5 mm (1/16 in) of leather stay between the holes of the strap "belt"
    written: 3
    mend:    leave 2 mm (3/32 in) or more: a longer pitch, or a smaller punch
    check:   strap-holes-close, at belt
---
- pitch = "5.5 mm"
+ pitch = "6 mm"
=== stitch-near-edge
<stitch rim: by hand, Tex 135 bonded nylon, 4 mm, 0.9 mm>
<back>
<bare front>
[seams.s]
stitch = "rim"
meet = ["back: left", "front: left"]
<seam t: ["back: right", "front: right"]>
---
a.toml:18: caution: the stitch "rim" lies 0.9 mm from the cut edge, and tears out of it
    written: "0.9 mm"
    mend:    make its inset 1 mm or more
    check:   stitch-near-edge, at rim
---
- inset = "0.9 mm"
+ inset = "1 mm"
=== hardware-count, too many
<hardware rivet: 5, double-cap rivet>
posts = []
<back>
holes = [{ at = "100 mm from left, 75 mm from bottom", punch = "4 mm", takes = "rivet" }]
<bare front>
<seam>
---
a.toml:14: caution: "rivet" goes into 1 place of one make (back 1), and the count is 5
    written: [hardware.rivet]
    mend:    write count = 1; a few spares may be counted with them
    check:   hardware-count, at rivet
---
- count = 5
+ count = 4
""")


@pytest.mark.parametrize("case", CASES)
def test_a_check_of_too_little_fires_whole(cautions: Tell, case: str) -> None:
    given, told, _ = CASES[case]
    assert cautions(given) == told


@pytest.mark.parametrize("case", CASES)
def test_the_twin_of_a_check_of_too_little_is_silent(cautions: Tell, case: str) -> None:
    given, _, twin = CASES[case]
    assert cautions(given, twin) == ""
