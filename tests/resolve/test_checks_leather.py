"""Checks of leather, lining and straps: each fires, told once and whole, and its twin beside it is silent."""

# ruff: noqa: E501 - messages stand here as they are printed

from __future__ import annotations

from collections.abc import Callable

import pytest
from cases import read_cases

Tell = Callable[..., str]

CASES = read_cases("""
=== piece-wider-than-goods
[materials.cloth]
kind = "fabric"
thickness = "0.6 mm"
width = "140 mm"
<back>
<front>
<seam>
[pieces.l]
like = "back"
of = "cloth"
---
a.toml:27: caution: "l" is 150 mm (5 29/32 in) across, and "cloth" is 140 mm (5 1/2 in) wide
    written: [pieces.l]
    mend:    cut it from two pieces, or take wider goods
    check:   piece-wider-than-goods, at l
---
- width = "140 mm"
+ width = "150 mm"
=== piece-wider-than-goods, as it lies
[materials.cloth]
kind = "fabric"
thickness = "0.6 mm"
width = "180 mm"
<back>
<front>
<seam>
[pieces.l]
like = "back"
of = "cloth"
least-stretch = "up"
---
a.toml:27: caution: "l" is 200 mm (7 7/8 in) across, its least stretch along the roll, and "cloth" is 180 mm (7 3/32 in) wide
    written: [pieces.l]
    mend:    leave out least-stretch, so that it may be turned; else cut it from two pieces, or take wider goods
    check:   piece-wider-than-goods, at l
---
- least-stretch = "up"
+ least-stretch = "across"
=== landing-over-edge
<rectangle back: ["100 mm", "100 mm"]>
landings = [{ piece = "tab", at = "centre, 45 mm from bottom" }]
<bare front>
<rectangle tab: ["40 mm", "120 mm"]>
<seam>
---
a.toml:18: caution: "tab" reaches 65 mm (2 9/16 in) over the edge of "back", on which it lands
    written: "centre, 45 mm from bottom"
    mend:    measure again where it lands, or make it smaller; accept this if it is to hang over
    check:   landing-over-edge, at back
---
- size = ["40 mm", "120 mm"]
+ size = ["40 mm", "55.4 mm"]
=== skive-thin-at-fold
<back>
folds = [{ at = "10 mm from top" }]
skives = [{ edges = "top", width = "15 mm", to = "0.4 mm" }]
<front>
<seam>
---
a.toml:14: caution: "back" is skived to 0.4 mm where it is folded, and tears there
    written: [pieces.back]
    mend:    leave 0.5 mm or more at the fold
    check:   skive-thin-at-fold, at back
---
- skives = [{ edges = "top", width = "15 mm", to = "0.4 mm" }]
+ skives = [{ edges = "top", width = "15 mm", to = "0.5 mm" }]
=== fold-allowance
<back>
folds = [{ at = "4 mm from top" }]
<bare front>
<seam>
---
a.toml:14: caution: a fold of "back" leaves 4 mm (5/32 in) to turn
    written: [pieces.back]
    mend:    leave 5 mm (3/16 in) or more beyond the fold
    check:   fold-allowance, at back
---
- folds = [{ at = "4 mm from top" }]
+ folds = [{ at = "5 mm from top" }]
=== lining-larger
[materials.cloth]
kind = "fabric"
thickness = "0.6 mm"
width = "900 mm"
<back>
<front>
<seam>
[pieces.l]
of = "cloth"
like = "back"
inset = "-1 mm"
---
a.toml:27: caution: the lining "l" is 2 mm (3/32 in) larger than its leather "back"
    written: [pieces.l]
    mend:    make it as large as the leather, or a little smaller
    check:   lining-larger, at l
---
- inset = "-1 mm"
+ inset = "1 mm"
=== strap-turn-back
<hardware ring: 1, D ring>
inside = "26 mm"
bar = "4 mm"
<back>
<front>
<seam>
<belt>
finished = "300 mm"
ends = [{ shape = "turned", back = "15 mm", around = "ring" }, { shape = "square" }]
---
a.toml:28: caution: the strap "belt" turns back only 15 mm (19/32 in), less than its width
    written: [straps.belt]
    mend:    turn back at least the width of the strap, so that stitches or rivets find room
    check:   strap-turn-back, at belt
---
- ends = [{ shape = "turned", back = "15 mm", around = "ring" }, { shape = "square" }]
+ ends = [{ shape = "turned", back = "20 mm", around = "ring" }, { shape = "square" }]
=== strap-bar-unknown
<hardware ring: 1, D ring>
inside = "26 mm"
<back>
<front>
<seam>
<belt>
finished = "300 mm"
ends = [{ shape = "turned", back = "30 mm", around = "ring" }, { shape = "square" }]
---
a.toml:31: caution: the strap "belt" turns round the D ring, and the thickness of its bar is not given: the strap is cut too short by half the way round it
    written: { shape = "turned", back = "30 mm", around = "ring" }
    mend:    measure the bar and add it to [hardware.ring]: bar = "4 mm"
    check:   strap-bar-unknown, at belt
---
- inside = "26 mm"
+ inside = "26 mm"
+ bar = "4 mm"
=== strap-tip-short
<back>
<front>
<seam>
<belt>
wears = "400 mm"
holes = { count = 3, punch = "4 mm", tip = "25 mm" }
---
a.toml:27: caution: the strap "belt" ends 25 mm (31/32 in) after its last hole
    written: 3
    mend:    leave 30 mm (1 3/16 in) or more, so that the tip stays in its keeper
    check:   strap-tip-short, at belt
---
- holes = { count = 3, punch = "4 mm", tip = "25 mm" }
+ holes = { count = 3, punch = "4 mm", tip = "30 mm" }
""")


@pytest.mark.parametrize("case", CASES)
def test_a_check_of_leather_fires_whole(cautions: Tell, case: str) -> None:
    given, told, _ = CASES[case]
    assert cautions(given) == told


@pytest.mark.parametrize("case", CASES)
def test_the_twin_of_a_check_of_leather_is_silent(cautions: Tell, case: str) -> None:
    given, _, twin = CASES[case]
    assert cautions(given, twin) == ""
