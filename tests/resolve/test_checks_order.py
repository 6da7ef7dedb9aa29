"""Checks of the order of steps: each fires, told once and whole, and its twin beside it is silent."""

from __future__ import annotations

from collections.abc import Callable

import pytest

Tell = Callable[..., str]

BAG = """\
<back>
skives = [{ edges = "left bottom right", width = "10 mm", to = "1 mm" }]
holes = [{ at = "centre, middle", punch = "4 mm", takes = "rivet" }]
landings = [{ piece = "pocket", at = "centre, 20 mm from bottom" }]
<bare front>
[pieces.pocket]
of = "body"
shape = "rectangle"
size = ["80 mm", "60 mm"]
[seams.round]
stitch = "main"
meet = ["back: left bottom right", "front: left bottom right"]
[seams.pocket]
stitch = "main"
meet = ["pocket: left bottom right", "back"]
[hardware.rivet]
what = "eye, 6 mm"
count = 1
"""
GUSSET = """\
[pieces.side]
of = "body"
shape = "strip"
size = ["60 mm", "140 mm"]
cut = 2
[pieces.base]
of = "body"
shape = "strip"
size = ["60 mm", "solve"]
<back>
[joins.gusset]
of = ["side", "base", "side"]
overlap = "12 mm"
stitch = "main"
[seams.back]
stitch = "main"
meet = ["back: left bottom right", "gusset: left"]
"""
HANDLE = """\
<back>
[straps.handle]
of = "body"
width = "20 mm"
finished = "150 mm"
ends = [{ shape = "square" }, { shape = "square" }]
[seams.handle]
stitch = "main"
meet = ["handle: right", "back: left"]
"""

# check and case -> the build, its steps, what is told of them, and a silent order of the same steps.
CASES = {
    "steps-out-of-order": (
        BAG,
        """\
[[steps]]
do = "Cut the pocket."
pieces = ["pocket"]
[[steps]]
do = "Punch."
pieces = ["back"]
[[steps]]
do = "Sew the pocket."
seams = ["pocket"]
[[steps]]
do = "Set the eye."
pieces = ["back"]
hardware = ["rivet"]
[[steps]]
do = "Sew round."
seams = ["round"]
[[steps]]
do = "Skive."
skives = ["back"]
""",
        """\
a.toml:53: caution: step 6 skives "back", which step 5 sews already
    written: [[steps]]
    mend:    skive it before step 5
    check:   steps-out-of-order, at back
""",
        (1, 2, 3, 4, 6, 5),
    ),
    "steps-out-of-order, a hole that cannot be reached": (
        BAG,
        """\
[[steps]]
do = "Cut the pocket."
pieces = ["pocket"]
[[steps]]
do = "Skive."
skives = ["back"]
[[steps]]
do = "Sew the pocket."
seams = ["pocket"]
[[steps]]
do = "Sew round."
seams = ["round"]
[[steps]]
do = "Punch."
pieces = ["back"]
[[steps]]
do = "Set the eye."
pieces = ["back"]
hardware = ["rivet"]
""",
        """\
a.toml:49: caution: step 5 punches "back", which step 4 closes in already
    written: [[steps]]
    mend:    punch it before step 4
    check:   steps-out-of-order, at back
""",
        (1, 2, 3, 5, 4, 6),
    ),
    "steps-out-of-order, a hole for what is set": (
        BAG,
        """\
[[steps]]
do = "Cut the pocket."
pieces = ["pocket"]
[[steps]]
do = "Skive."
skives = ["back"]
[[steps]]
do = "Sew the pocket."
seams = ["pocket"]
[[steps]]
do = "Set the eye."
pieces = ["back"]
hardware = ["rivet"]
[[steps]]
do = "Punch."
pieces = ["back"]
[[steps]]
do = "Sew round."
seams = ["round"]
""",
        """\
a.toml:50: caution: step 5 punches "back", and step 4 sets "rivet" in it already
    written: [[steps]]
    mend:    punch it before step 4
    check:   steps-out-of-order, at back
""",
        (1, 2, 3, 5, 4, 6),
    ),
    "steps-out-of-order, a piece that is not cut": (
        BAG,
        """\
[[steps]]
do = "Punch."
pieces = ["back"]
[[steps]]
do = "Skive."
skives = ["back"]
[[steps]]
do = "Sew the pocket."
seams = ["pocket"]
[[steps]]
do = "Cut the pocket."
pieces = ["pocket"]
[[steps]]
do = "Set the eye."
pieces = ["back"]
hardware = ["rivet"]
[[steps]]
do = "Sew round."
seams = ["round"]
""",
        """\
a.toml:46: caution: step 4 cuts "pocket", which step 3 has in hand already
    written: [[steps]]
    mend:    cut it before step 3
    check:   steps-out-of-order, at pocket
""",
        (1, 2, 4, 3, 5, 6),
    ),
    "steps-out-of-order, a pocket on what is closed": (
        BAG,
        """\
[[steps]]
do = "Cut the pocket."
pieces = ["pocket"]
[[steps]]
do = "Punch."
pieces = ["back"]
[[steps]]
do = "Skive."
skives = ["back"]
[[steps]]
do = "Sew round."
seams = ["round"]
[[steps]]
do = "Sew the pocket."
seams = ["pocket"]
[[steps]]
do = "Set the eye."
pieces = ["back"]
hardware = ["rivet"]
""",
        """\
a.toml:49: caution: step 5 sews "pocket" on to "back", which step 4 closes in already
    written: [[steps]]
    mend:    sew it on before step 4
    check:   steps-out-of-order, at pocket
""",
        (1, 2, 3, 5, 4, 6),
    ),
    "steps-out-of-order, a joint": (
        GUSSET,
        """\
[[steps]]
do = "Sew the gusset on."
seams = ["back"]
[[steps]]
do = "Sew the joints."
joins = ["gusset"]
""",
        """\
a.toml:37: caution: step 2 makes the join "gusset", which step 1 sews already
    written: [[steps]]
    mend:    make it before step 1
    check:   steps-out-of-order, at gusset
""",
        (2, 1),
    ),
    "steps-out-of-order, a strap": (
        HANDLE,
        """\
[[steps]]
do = "Sew the handle on."
seams = ["handle"]
[[steps]]
do = "Make the handle."
straps = ["handle"]
""",
        """\
a.toml:29: caution: step 2 makes the strap "handle", which step 1 sews already
    written: [[steps]]
    mend:    make it before step 1
    check:   steps-out-of-order, at handle
""",
        (2, 1),
    ),
}


def reorder(steps: str, order: tuple[int, ...]) -> str:
    """The steps in another order, by their numbers from 1."""
    tables = [f"[[steps]]{part}" for part in steps.split("[[steps]]")[1:]]
    return "".join(tables[number - 1] for number in order)


@pytest.mark.parametrize("case", CASES)
def test_a_check_of_order_fires_whole(cautions: Tell, case: str) -> None:
    build, steps, told, _ = CASES[case]
    assert cautions(build + steps) == told


@pytest.mark.parametrize("case", CASES)
def test_the_twin_of_a_check_of_order_is_silent(cautions: Tell, case: str) -> None:
    build, steps, _, order = CASES[case]
    assert cautions(build + reorder(steps, order)) == ""


def test_slits_may_be_cut_after_a_piece_was_in_hand(cautions: Tell) -> None:
    steps = """\
[[steps]]
do = "Punch."
pieces = ["back"]
[[steps]]
do = "Cut the slits."
pieces = ["back"]
[[steps]]
do = "Sew."
seams = ["pocket", "round"]
[[steps]]
do = "Set."
hardware = ["rivet"]
"""
    assert cautions(BAG + steps) == ""


def test_a_step_that_names_no_piece_sets_hardware_in_all(cautions: Tell) -> None:
    steps = """\
[[steps]]
do = "Set."
hardware = ["rivet"]
[[steps]]
do = "Punch."
pieces = ["back"]
[[steps]]
do = "Sew."
seams = ["pocket", "round"]
"""
    assert 'step 2 punches "back", and step 1 sets "rivet" in it already' in cautions(BAG + steps)


def test_many_small_pockets_do_not_close_a_panel(cautions: Tell) -> None:
    """Each pocket takes 200 mm of thread line; five of them on a panel of 700 mm all round leave it open."""
    steps = "".join(f'[[steps]]\ndo = "Sew {n}."\nseams = ["s{n}"]\n' for n in range(5))
    pockets = "".join(
        f'[pieces.p{n}]\nof = "body"\nshape = "rectangle"\nsize = ["80 mm", "60 mm"]\n'
        f'[seams.s{n}]\nstitch = "main"\nmeet = ["p{n}: left bottom right", "back"]\n'
        for n in range(5)
    )
    back = '[pieces.back]\nof = "body"\nshape = "rectangle"\nsize = ["200 mm", "150 mm"]\n'
    assert cautions(back + pockets + steps) == ""
