"""Straps that cannot be cut: every message whole."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from cases import read_cases

Messages = Callable[[str], str]


MESSAGES = read_cases("""
=== a hole at the fold of a square strap
<strap>
finished = "400 mm"
punches = [{ at = "centre, at the fold", punch = "3 mm" }]
---
a.toml:18: error: cannot tell where "at the fold" is: nothing is turned back here
    written: "centre, at the fold"
    mend:    measure from an edge; only the turned end of a strap has its fold
=== a hole at one of two folds
<strap>
finished = "400 mm"
ends = [{ shape = "turned", back = "40 mm" }, { shape = "turned", back = "40 mm" }]
punches = [{ at = "centre, at the fold", punch = "3 mm" }]
---
a.toml:19: error: cannot tell where "at the fold" is
    written: "centre, at the fold"
    mend:    write "at the first fold" or "at the second fold"
=== no length
<strap>
---
a.toml:14: error: the strap "s" has no length
    written: [straps.s]
    mend:    add finished = "10 in", or wears = "44 in" with holes
=== two lengths
<strap>
finished = "400 mm"
wears = "400 mm"
holes = { count = 3, pitch = "20 mm", punch = "4 mm", tip = "60 mm" }
---
a.toml:18: error: the strap "s" has two lengths
    written: "400 mm"
    mend:    keep wears (at the middle hole) or finished, not both
=== worn without holes
<strap>
wears = "400 mm"
---
a.toml:17: error: the strap "s" is worn at its middle hole, and has no holes
    written: "400 mm"
    mend:    add holes, or write finished for its length
=== an even number of holes
<strap>
wears = "400 mm"
holes = { count = 4, pitch = "20 mm", punch = "4 mm", tip = "60 mm" }
---
a.toml:18: error: 4 holes have no middle one
    written: 4
    mend:    use an odd number of holes
=== holes at a turned end
<strap>
wears = "400 mm"
ends = [{ shape = "square" }, { shape = "turned", back = "40 mm" }]
holes = { count = 3, pitch = "20 mm", punch = "4 mm", tip = "60 mm" }
---
a.toml:19: error: the strap "s" has its holes at a turned end
    written: 3
    mend:    the second end carries the holes; turn the first one
=== holes that do not fit
<strap>
wears = "15 mm"
holes = { count = 3, pitch = "20 mm", punch = "4 mm", tip = "60 mm" }
---
a.toml:18: error: the last hole of "s" lies 100 mm from the tip, and the strap is 95 mm long when made up
    written: 3
    mend:    use fewer holes or a longer strap
=== holes that run together
<strap>
wears = "400 mm"
holes = { count = 3, pitch = "3 mm", punch = "4 mm", tip = "60 mm" }
---
a.toml:18: error: holes of 4 mm stand 3 mm apart, and run into each other
    written: "3 mm"
    mend:    use a longer pitch or a smaller punch
=== ends that do not fit
<strap>
finished = "15 mm"
ends = [{ shape = "rounded" }, { shape = "pointed" }]
---
a.toml:14: error: the ends of "s" take 20 mm, and it is 15 mm long
    written: [straps.s]
    mend:    make it longer or narrower, or its ends square
=== a turned end that says nothing
<strap>
finished = "300 mm"
ends = [{ shape = "turned" }, { shape = "square" }]
---
a.toml:18: error: a turned end does not say how far it lies back
    written: "turned"
    mend:    add back = "2 in"
=== a square end that lies back
<strap>
finished = "300 mm"
ends = [{ shape = "square", back = "40 mm", around = "ring" }, { shape = "square" }]
<hardware ring: 1, D ring>
inside = "26 mm"
bar = "4 mm"
---
a.toml:18: error: "back" belongs to a turned end, and this one is square
    written: "40 mm"
    mend:    write shape = "turned", or leave it out
a.toml:18: error: "around" belongs to a turned end, and this one is square
    written: "ring"
    mend:    write shape = "turned", or leave it out
=== a partner longer than both
[straps.b]
of = "body"
width = "20 mm"
finished = "300 mm"
<strap>
wears = "280 mm"
partner = "b"
holes = { count = 3, pitch = "20 mm", punch = "4 mm", tip = "60 mm" }
---
a.toml:21: error: its partner alone is 300 mm long, and both together wear 280 mm
    written: "280 mm"
    mend:    make the partner shorter or wears longer
=== its own partner
<strap>
wears = "280 mm"
partner = "s"
holes = { count = 3, pitch = "20 mm", punch = "4 mm", tip = "60 mm" }
---
a.toml:18: error: the strap "s" cannot be its own partner
    written: "s"
    mend:    only the part with the holes names the other
=== a partner with a partner
[straps.c]
of = "body"
width = "20 mm"
finished = "300 mm"
<strap>
wears = "800 mm"
partner = "b"
holes = { count = 3, pitch = "20 mm", punch = "4 mm", tip = "60 mm" }
[straps.b]
of = "body"
width = "20 mm"
wears = "500 mm"
partner = "c"
holes = { count = 3, pitch = "20 mm", punch = "4 mm", tip = "60 mm" }
---
a.toml:22: error: the strap "s" has the partner "b", which has one too
    written: "b"
    mend:    only the part with the holes names the other
=== a partner and no length
[straps.b]
of = "body"
width = "20 mm"
finished = "300 mm"
<strap>
finished = "400 mm"
partner = "b"
holes = { count = 3, pitch = "20 mm", punch = "4 mm", tip = "60 mm" }
---
a.toml:22: error: the strap "s" has a partner, and no length that both wear together
    written: "b"
    mend:    write wears = "44 in", or leave out partner
=== a stitch that does not fit
<stitch deep: by hand, Tex 280 linen, 4 mm, 25 mm>
<strap>
finished = "400 mm"
stitch = "deep"
---
a.toml:19: error: the stitch does not fit the strap "s", 20 mm wide
    written: [straps.s]
    mend:    use a smaller inset
=== a ring too narrow
<hardware ring: 1, D ring>
inside = "18 mm"
bar = "4 mm"
<strap>
finished = "300 mm"
ends = [{ shape = "turned", back = "40 mm", around = "ring" }, { shape = "square" }]
---
a.toml:19: error: the strap "s" is 20 mm (25/32 in) wide, and D ring takes only 18 mm (23/32 in)
    written: [straps.s]
    mend:    cut the strap narrower, or use a wider fitting
=== an unreadable partner length
[straps.b]
of = "body"
width = "20 mm"
finished = "300 mn"
<strap>
wears = "500 mm"
partner = "b"
holes = { count = 3, pitch = "20 mm", punch = "4 mm", tip = "60 mm" }
---
a.toml:17: error: "mn" is not a unit known here
    written: "300 mn"
    mend:    did you mean "m"?
""")


@pytest.mark.parametrize("case", MESSAGES)
def test_each_mistake_is_told_once_and_whole(messages: Messages, case: str) -> None:
    given, told, _ = MESSAGES[case]
    assert messages(given) == told
