"""Checks of needle, thread, pitch, machine and load: each fires, told once and whole, and its twin beside it is silent."""

# ruff: noqa: E501 - messages stand here as they are printed

from __future__ import annotations

from collections.abc import Callable

import pytest
from cases import read_cases

Tell = Callable[..., str]

CASES = read_cases("""
=== needle-too-fine
<stitch own: by machine, Tex 270 bonded nylon, 4 mm, 4 mm>
needle = "110/18"
<back>
<front>
<seam>
[seams.t]
stitch = "own"
meet = ["back: right", "front: right"]
---
a.toml:19: caution: needle 110/18 is too fine for Tex 270 bonded nylon: the thread is about 0.61 mm thick, over 40 % of the blade
    written: "110/18"
    mend:    use needle 160/23 or thicker, and test on scrap
    check:   needle-too-fine, at own
---
- needle = "110/18"
+ needle = "160/23"
=== needle-too-coarse
<stitch own: by machine, Tex 45 bonded nylon, 4 mm, 4 mm>
needle = "160/23"
<back>
<front>
<seam>
[seams.t]
stitch = "own"
meet = ["back: right", "front: right"]
---
a.toml:19: caution: needle 160/23 is too coarse for Tex 45 bonded nylon: its holes stay open
    written: "160/23"
    mend:    use needle 90/14, and test on scrap
    check:   needle-too-coarse, at own
---
- needle = "160/23"
+ needle = "140/22"
=== needle-beyond-machine
[machines.flatbed]
lifts = "8 mm"
needle-from = "90/14"
needle-to = "160/23"
longest-stitch = "5 mm"
<stitch own: by machine, Tex 270 bonded nylon, 4 mm, 4 mm>
machine = "flatbed"
<back>
<front>
<seam>
[seams.t]
stitch = "own"
meet = ["back: right", "front: right"]
---
a.toml:19: caution: the stitch "own" needs needle 200/25, and "flatbed" takes needles up to 160/23
    written: [stitches.own]
    mend:    use another machine or another thread
    check:   needle-beyond-machine, at own
---
- thread = "Tex 270 bonded nylon"
+ thread = "Tex 210 bonded nylon"
=== needle-point
<stitch own: by machine, Tex 135 bonded nylon, 4 mm, 4 mm>
point = "round"
<back>
<front>
<seam>
[seams.t]
stitch = "own"
meet = ["back: right", "front: right"]
---
a.toml:19: caution: the stitch "own" goes through leather with a round point, which pushes instead of cuts
    written: "round"
    mend:    write point = "leather", or leave it out
    check:   needle-point, at own
---
- point = "round"
+ point = "leather"
=== stack-beyond-machine
[machines.flatbed]
lifts = "3.5 mm"
needle-from = "90/14"
needle-to = "160/23"
longest-stitch = "5 mm"
<stitch own: by machine, Tex 135 bonded nylon, 4 mm, 4 mm>
machine = "flatbed"
<back>
<front>
<seam>
[seams.t]
stitch = "own"
meet = ["back: right", "front: right"]
---
a.toml:34: caution: the seam "t" is 4 mm thick at its thickest, and "flatbed" sews 3.5 mm
    written: [seams.t]
    mend:    skive what lies there, or sew it by hand
    check:   stack-beyond-machine, at t
---
- lifts = "3.5 mm"
+ lifts = "4 mm"
=== pitch-too-fine
<stitch own: by machine, Tex 135 bonded nylon, 2 mm, 4 mm>
<back>
<front>
<seam>
[seams.t]
stitch = "own"
meet = ["back: right", "front: right"]
---
a.toml:17: caution: the stitch "own" of 2 mm (12.7 per inch) cuts leather like a postage stamp
    written: "2 mm"
    mend:    make it 2.1 mm or longer
    check:   pitch-too-fine, at own
---
- pitch = "2 mm"
+ pitch = "2.1 mm"
=== pitch-too-coarse
<stitch own: by machine, Tex 135 bonded nylon, 7 mm, 4 mm>
<back>
<front>
<seam>
[seams.t]
stitch = "own"
meet = ["back: right", "front: right"]
---
a.toml:17: caution: the stitch "own" of 7 mm (3.6 per inch) is coarse for leather
    written: "7 mm"
    mend:    make it 6.4 mm or shorter
    check:   pitch-too-coarse, at own
---
- pitch = "7 mm"
+ pitch = "4 per inch"
=== stitch-beyond-machine
[machines.flatbed]
lifts = "8 mm"
needle-from = "90/14"
needle-to = "160/23"
longest-stitch = "5 mm"
<stitch own: by machine, Tex 135 bonded nylon, 6 mm, 4 mm>
machine = "flatbed"
<back>
<front>
<seam>
[seams.t]
stitch = "own"
meet = ["back: right", "front: right"]
---
a.toml:22: caution: the stitch "own" is 6 mm (4.2 per inch), and "flatbed" makes 5 mm (5.1 per inch) at the longest
    written: "6 mm"
    mend:    use a shorter stitch or another machine
    check:   stitch-beyond-machine, at own
---
- pitch = "6 mm"
+ pitch = "5 mm"
=== load-over-estimate
<back>
<front>
<seam>
load = "600 kg"
---
a.toml:20: caution: the seam "s" has to carry 600 kg (5884 N), and its thread about 5578 N by estimate
    written: [seams.s]
    mend:    use stronger thread or more rows; leather can tear before the thread does
    check:   load-over-estimate, at s
---
- load = "600 kg"
+ load = "500 kg"
=== load-without-strength
<stitch own: by machine, Tex 198 linen, 4 mm, 4 mm>
<back>
<front>
<seam>
[seams.t]
stitch = "own"
meet = ["back: right", "front: right"]
load = "6 kg"
---
a.toml:28: caution: the seam "t" has to carry 6 kg, and no strength is known for Tex 198 linen
    written: [seams.t]
    mend:    write thread-strength = "..." in its stitch, from the maker's data, which say what it breaks at
    check:   load-without-strength, at t
---
- inset = "4 mm"
+ inset = "4 mm"
+ thread-strength = "60 N"
""")


@pytest.mark.parametrize("case", CASES)
def test_a_check_of_sewing_fires_whole(cautions: Tell, case: str) -> None:
    given, told, _ = CASES[case]
    assert cautions(given) == told


@pytest.mark.parametrize("case", CASES)
def test_the_twin_of_a_check_of_sewing_is_silent(cautions: Tell, case: str) -> None:
    given, _, twin = CASES[case]
    assert cautions(given, twin) == ""
