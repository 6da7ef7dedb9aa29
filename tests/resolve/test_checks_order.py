"""Checks of the order of steps: cases for `test_checks_listed.py`, and orders that may stand."""

import pytest
from cases import Case, read_cases
from spec_text import Tell

BAG = """\
<back>
skives = [{ edges = "left bottom right", width = "10 mm", to = "1 mm" }]
holes = [{ at = "centre, 90 mm from bottom", punch = "4 mm", takes = "rivet" }]
landings = [{ piece = "pocket", at = "centre, 20 mm from bottom" }]
<bare front>
<rectangle pocket: ["80 mm", "60 mm"]>
<seam round: ["back: left bottom right", "front: left bottom right"]>
<seam pocket: ["pocket: left bottom right", "back"]>
<hardware rivet: 1, eye, 6 mm>
"""
GUSSET = """\
<strip side: ["60 mm", "140 mm"]>
cut = 2
<strip base: ["60 mm", "solve"]>
<back>
<join gusset: ["side", "base", "side"], 12 mm>
<seam back: ["back: left bottom right", "gusset: left"]>
"""
HANDLE = """\
<back>
[straps.handle]
of = "body"
width = "20 mm"
finished = "150 mm"
ends = [{ shape = "square" }, { shape = "square" }]
<seam handle: ["handle: right", "back: left"]>
"""

# Each step by a word for it.
STEPS = {
    "cut": '<step "Cut the pocket.": pieces = ["pocket"]>',
    "punch": '<step "Punch.": pieces = ["back"]>',
    "skive": '<step "Skive.": skives = ["back"]>',
    "pocket": '<step "Sew the pocket.": seams = ["pocket"]>',
    "eye": '<step "Set the eye.": pieces = ["back"]>\nhardware = ["rivet"]',
    "round": '<step "Sew round.": seams = ["round"]>',
    "gusset": '<step "Sew the gusset on.": seams = ["back"]>',
    "joints": '<step "Sew the joints.": joins = ["gusset"]>',
    "late": '<step "Sew the gusset.": joins = ["gusset"]>\nseams = ["back"]\norder = ["back", "gusset"]',
    "made": '<step "Sew the gusset.": joins = ["gusset"]>\nseams = ["back"]\norder = ["gusset", "back"]',
    "beneath": '<step "Sew the gusset.": seams = ["back"]>\njoins = ["gusset"]',
    "thinned": '<step "Sew round.": seams = ["round"]>\nskives = ["back"]',
    "thin": '<step "Sew round.": skives = ["back"]>\nseams = ["round"]',
    "handle": '<step "Sew the handle on.": seams = ["handle"]>',
    "strap": '<step "Make the handle.": straps = ["handle"]>',
}


def write_steps(words: str) -> str:
    return "".join(f"{STEPS[word]}\n" for word in words.split())


def read_orders(build: str, text: str) -> dict[str, Case]:
    """Cases of a build and its steps: given by their words in a wrong order, and what stands in it the other way round."""
    return {
        name: Case(build + write_steps(case.given), case.told, (write_steps(case.twin[0]), write_steps(case.twin[1])))
        for name, case in read_cases(text).items()
    }


CASES = {
    **read_orders(
        BAG,
        """
=== steps-out-of-order
cut punch pocket eye round skive
---
a.toml:53: caution: step 6 skives "back", which step 5 sews already
    written: [[steps]]
    mend:    skive it before step 5
    check:   steps-out-of-order, at back
---
- round skive
+ skive round
=== steps-out-of-order, skived within the step that sews
cut punch pocket eye thinned
---
a.toml:50: caution: step 5 sews "round" before it skives "back", which that takes
    written: [[steps]]
    mend:    skive it first: write "back" before "round" in order, or skives before seams
    check:   steps-out-of-order, at back
---
- thinned
+ thin
=== steps-out-of-order, a hole that cannot be reached
cut skive pocket round punch eye
---
a.toml:49: caution: step 5 punches "back", which step 4 closes in already
    written: [[steps]]
    mend:    punch it before step 4
    check:   steps-out-of-order, at back
---
- round punch
+ punch round
=== steps-out-of-order, a hole for what is set
cut skive pocket eye punch round
---
a.toml:50: caution: step 5 punches "back", and step 4 sets "rivet" in it already
    written: [[steps]]
    mend:    punch it before step 4
    check:   steps-out-of-order, at back
---
- eye punch
+ punch eye
=== steps-out-of-order, a piece that is not cut
punch skive pocket cut eye round
---
a.toml:46: caution: step 4 cuts "pocket", which step 3 has in hand already
    written: [[steps]]
    mend:    cut it before step 3
    check:   steps-out-of-order, at pocket
---
- pocket cut
+ cut pocket
=== steps-out-of-order, a pocket on what is closed
cut punch skive round pocket eye
---
a.toml:49: caution: step 5 sews "pocket" on to "back", which step 4 closes in already
    written: [[steps]]
    mend:    sew it on before step 4
    check:   steps-out-of-order, at pocket
---
- round pocket
+ pocket round
""",
    ),
    **read_orders(
        GUSSET,
        """
=== steps-out-of-order, a joint
gusset joints
---
a.toml:37: caution: step 2 makes the join "gusset", which step 1 sews already
    written: [[steps]]
    mend:    make it before step 1
    check:   steps-out-of-order, at gusset
---
- gusset joints
+ joints gusset
=== steps-out-of-order, a joint within its step
late
---
a.toml:34: caution: step 1 sews "back" before it makes the join "gusset", which that takes
    written: [[steps]]
    mend:    make it first: write "gusset" before "back" in order
    check:   steps-out-of-order, at gusset
---
- late
+ made
=== steps-out-of-order, a joint below the seam in its step
beneath
---
a.toml:34: caution: step 1 sews "back" before it makes the join "gusset", which that takes
    written: [[steps]]
    mend:    make it first: write "gusset" before "back" in order, or joins before seams
    check:   steps-out-of-order, at gusset
---
- beneath
+ made
""",
    ),
    **read_orders(
        HANDLE,
        """
=== steps-out-of-order, a strap
handle strap
---
a.toml:29: caution: step 2 makes the strap "handle", which step 1 sews already
    written: [[steps]]
    mend:    make it before step 1
    check:   steps-out-of-order, at handle
---
- handle strap
+ strap handle
""",
    ),
}

# A welt under the line of a seam, foam behind a lining, and a rivet through both layers of a hem.
SHEATH = """\
<back>
landings = [{ piece = "welt", at = "0 from right, 0 from bottom", inside = true }]
<bare front>
<seam round: ["back: left bottom right", "front: left bottom right"]>
<rectangle welt: ["10 mm", "150 mm"]>
"""
WELT = '<step "Glue the welt on.": pieces = ["back", "welt"]>\n'
CUFF = """\
<back>
landings = [{ piece = "pad", at = "centre, middle" }]
<fabric cloth: 0.5 mm>
[pieces.lining]
like = "back"
of = "cloth"
marks = false
lines = ["back"]
[materials.foam]
kind = "foam"
thickness = "3 mm"
<rectangle pad of foam: ["150 mm", "100 mm"]>
<seam round: ["back: all", "lining: all"]>
"""
PAD = '<step "Glue the pad on.": pieces = ["back", "pad"]>\n'
HEMMED = """\
<rectangle back: ["200 mm", "150 mm"]>
hems = [{ edges = "top", turn = "20 mm" }]
holes = [
  { at = "centre, 10 mm from top", punch = "4 mm" },
  { at = "centre, 30 mm from top", punch = "4 mm", takes = "rivet" },
]
<rectangle front: ["200 mm", "130 mm"]>
<seam round: ["back: left bottom right", "front: left bottom right"]>
<seam hem: ["back: top", "back"]>
<hardware rivet: 1, double-cap rivet>
"""
RIVET = '<step "Rivet.": pieces = ["back"]>\nhardware = ["rivet"]\n'
SEW, HEM = '<step "Sew.": seams = ["round"]>\n', '<step "Hem.": seams = ["hem"]>\n'


def test_what_a_seam_runs_through_is_laid_in_before(cautions: Tell) -> None:
    assert cautions(SHEATH + WELT + SEW) == ""
    assert 'step 2 puts "welt" in place, which step 1 sews over already' in cautions(SHEATH + SEW + WELT)


def test_what_lies_beside_the_seam_may_be_laid_in_after(cautions: Tell) -> None:
    """The line of the seam lies 4 mm from the edge; the welt begins 5 mm from it, and ends as far above the foot."""
    beside = SHEATH.replace("0 from right, 0 from bottom", "5 mm from right, 5 mm from bottom").replace(
        '["10 mm", "150 mm"]', '["10 mm", "100 mm"]'
    )
    assert "in place" not in cautions(beside + SEW + WELT)


def test_foam_is_laid_in_before_the_lining_is_sewn_round(cautions: Tell) -> None:
    assert "in place" not in cautions(CUFF + PAD + SEW)
    assert 'step 2 puts "pad" in place, which step 1 sews over already' in cautions(CUFF + SEW + PAD)
    three = CUFF.replace('"back: all", "lining: all"', '"back: left bottom right", "lining: left bottom right"')
    assert "in place" not in cautions(three + SEW + PAD)


BACKED = """\
<rectangle back: ["200 mm", "150 mm"]>
landings = [
  { piece = "flap", at = "centre, 40 mm from top" },
  { piece = "pad", at = "centre, middle", inside = true },
]
<bare front>
<seam>
<rectangle flap: ["120 mm", "60 mm"]>
<seam flap: ["flap: top", "back"]>
[materials.board]
kind = "board"
thickness = "1 mm"
<rectangle pad of board: ["180 mm", "130 mm"]>
"""


def test_a_board_may_hide_the_stitches_of_what_is_sewn_on_outside(cautions: Tell) -> None:
    """A patch of leather is there to be held by them."""
    steps = '<step "Sew the flap on.": seams = ["flap"]>\n' + PAD
    late = 'step 2 puts "pad" in place, which step 1 sews over already'
    assert late not in cautions(BACKED + steps)
    assert late in cautions(BACKED.replace("pad of board", "pad") + steps)


def test_what_is_sewn_inside_comes_before_the_lining_over_it(cautions: Tell) -> None:
    """Where the seam goes through the lining, or what is sewn on lies outside, the lining may come first."""
    pocket = '<rectangle pocket: ["80 mm", "60 mm"]>\n<seam pocket: ["pocket: left bottom right", "back"]>\n'
    lined = CUFF.replace(
        '{ piece = "pad", at = "centre, middle" }', '{ piece = "pocket", at = "centre, middle", inside = true }'
    )
    lined = lined.split("[materials.foam]")[0] + '<seam round: ["back: top", "lining: top"]>\n' + pocket
    sew = '<step "Sew the pocket.": seams = ["pocket"]>\n'
    late = 'step 2 sews "pocket" inside "back", which step 1 lines already'
    assert late in cautions(lined + SEW + sew)
    assert late not in cautions(lined + sew + SEW)
    assert late not in cautions(lined.replace(", inside = true", "") + SEW + sew)
    assert late not in cautions(lined.replace('right", "back"]', 'right", "lining", "back"]') + SEW + sew)


def test_a_hem_is_turned_before_what_goes_through_it_is_set(cautions: Tell) -> None:
    assert cautions(HEMMED + HEM + RIVET + SEW) == ""
    assert 'step 2 hems "back" over "rivet", which step 1 sets already' in cautions(HEMMED + RIVET + HEM + SEW)
    lined = (
        HEMMED.replace('"back: top", "back"', '"back: top", "lining"') + '<rectangle lining: ["180 mm", "120 mm"]>\n'
    )
    fold = HEM.replace("Hem.", "Fold the top over the lining and sew it.")
    assert 'step 3 hems "back" over "rivet", which step 2 sets already' in cautions(lined + SEW + RIVET + fold)
    assert "hems" not in cautions(lined + SEW + fold + RIVET)
    beyond = HEMMED.replace('  { at = "centre, 10 mm from top", punch = "4 mm" },\n', "").replace(
        "30 mm from top", "60 mm from top"
    )
    assert cautions(beyond + RIVET + HEM + SEW) == ""


def test_a_welt_is_sewn_on_before_what_closes_over_it(cautions: Tell) -> None:
    """Up to 20 mm wide it is a welt; what is wider may be a facing, sewn to what is closed."""
    welted = SHEATH.replace('landings = [{ piece = "welt", at = "0 from right, 0 from bottom", inside = true }]\n', "")
    welted += '<seam welt: ["welt: right", "back: right"]>\n'
    welt = '<step "Sew the welt on.": seams = ["welt"]>\n'
    told = 'step 2 sews "welt" to "back", and step 1 has sewn "round" over it already'
    assert told not in cautions(welted + welt + SEW)
    assert told in cautions(welted.replace('["10 mm"', '["20 mm"') + SEW + welt)
    assert told not in cautions(welted.replace('["10 mm"', '["20.1 mm"') + SEW + welt)
    two = welted.replace("<bare front>", "cut = 2\n<bare front>\ncut = 2").replace('"welt: right", "back: right"', "{}")
    two = two.replace('"back: left bottom right"', '"back 1: left bottom right"')
    assert told in cautions(two.replace("{}", '"welt: right", "back 1: right"') + SEW + welt)
    assert told not in cautions(two.replace("{}", '"welt: right", "back 2: right"') + SEW + welt)


def test_slits_may_be_cut_after_a_piece_was_in_hand(cautions: Tell) -> None:
    steps = """\
<step "Punch.": pieces = ["back"]>
<step "Cut the slits.": pieces = ["back"]>
<step "Sew.": seams = ["pocket", "round"]>
<step "Set.": hardware = ["rivet"]>
"""
    assert cautions(BAG + steps) == ""


@pytest.mark.parametrize(
    ("words", "is_cutting_out"),
    [
        ("Cut the corners off to 3 mm from the stitches.", False),
        ("Cut back the seam allowances.", False),
        ("Cut the lining level with the leather.", False),
        ("Cut both ends to 10 mm.", False),
        ("Cut the back with its rounded corners.", True),
        ("Cut back and front.", True),
    ],
)
def test_what_is_sewn_may_be_trimmed(words: str, is_cutting_out: bool, cautions: Tell) -> None:
    """Corners, ends and allowances are cut away once the seam is sewn; the piece itself is not."""
    steps = f'''\
<step "Punch.": pieces = ["back"]>
<step "Sew.": seams = ["pocket", "round"]>
<step "{words}": pieces = ["back"]>
'''
    assert ('step 3 cuts "back", which step 1 has in hand already' in cautions(BAG + steps)) == is_cutting_out


def test_a_step_that_names_no_piece_sets_hardware_in_all(cautions: Tell) -> None:
    steps = """\
<step "Set.": hardware = ["rivet"]>
<step "Punch.": pieces = ["back"]>
<step "Sew.": seams = ["pocket", "round"]>
"""
    assert 'step 2 punches "back", and step 1 sets "rivet" in it already' in cautions(BAG + steps)


def test_many_small_pockets_do_not_close_a_panel(cautions: Tell) -> None:
    """Each pocket takes 200 mm of thread line; five of them on a panel of 1300 mm all round leave it open."""
    steps = "".join(f'[[steps]]\ndo = "Sew {n}."\nseams = ["s{n}"]\n' for n in range(5))
    pockets = "".join(
        f'[pieces.p{n}]\nof = "body"\nshape = "rectangle"\nsize = ["80 mm", "60 mm"]\n'
        f'[seams.s{n}]\nstitch = "main"\nmeet = ["p{n}: left bottom right", "back"]\n'
        for n in range(5)
    )
    back = '[pieces.back]\nof = "body"\nshape = "rectangle"\nsize = ["500 mm", "150 mm"]\nlandings = [\n'
    lands = "".join(
        f'  {{ piece = "p{n}", at = "{10 + 95 * n} mm from left, 20 mm from bottom" }},\n' for n in range(5)
    )
    assert cautions(back + lands + "]\n" + pockets + steps) == ""


LINED = """\
<back>
holes = [{ at = "centre, middle", punch = "4 mm" }]
[pieces.front]
like = "back"
<seam round: ["back: all", "front: all"]>
"""


def test_what_is_sewn_flat_all_round_is_punched_through(cautions: Tell) -> None:
    sew, punch = '<step "Sew.": seams = ["round"]>\n', '<step "Punch.": pieces = ["back", "front"]>\n'
    assert cautions(LINED + sew + punch) == cautions(LINED + punch + sew) == ""


def test_what_is_sewn_all_round_is_not_glued_after(cautions: Tell) -> None:
    sew, glue = '<step "Sew.": seams = ["round"]>\n', '<step "Glue both.": pieces = ["back", "front"]>\n'
    punch = '<step "Punch.": pieces = ["back", "front"]>\n'
    assert cautions(LINED + glue + punch + sew) == ""
    assert 'step 3 glues "back", which step 2 sews all round already' in cautions(LINED + punch + sew + glue)
