"""Which slips the suite of slips counts as another right build, and which stay to be known: every rule with a case of both.

That a build is right all the same is judged by hand: plane geometry, and common practice, no published source.
"""

import pytest
from slips import operators_later  # noqa: F401 - enters its operators
from slips.builds import correct_builds
from slips.judged_alike import why_free_alike
from slips.judged_scaled import KINDS, why_free_scaled
from slips.operators import OPERATORS
from slips.told import Checker

BUILDS = correct_builds()
ACROSS, LEFT_OUT = OPERATORS["an edge for the edge across"], OPERATORS["a key left out of an entry"]

# Build, path (or words that are left out), what is written, and whether it makes another right build.
SCALED = {
    "the end of the only strap round its fitting": ("belt", "straps.belt.ends.0.back", "6 in", True),
    "both ends round one ring, one of them longer": ("crossbody", "straps.shoulder.ends.1.back", "80 mm", False),
    "a left strap whose right one has the same": ("short: bridle-reins", "straps.left.ends.0.back", "6 in", False),
    "a hole of two across the middle of a panel": ("by hand: box", "pieces.lid.holes.1.at", "84 mm from right", False),
    "a row as near as rows are sewn": ("by hand: tote", "stitches.main.inset", "2 mm", True),
    "a row too near": ("short: cuff", "stitches.saddle.inset", "0.0625 in", False),
    "a pocket of another height": ("short: apron", "pieces.pocket.size.1", "16 in", True),
    "a lid far wider than its box": ("by hand: box", "pieces.lid.size.0", "408 mm", False),
    "half of a snap that has to meet the other": ("short: clutch", "pieces.back.holes.0.at", "10 mm from top", False),
    "a cuff for a larger wrist, closed on itself": ("short: cuff", "pieces.cuff.holes.2.at", "2 in from right", True),
    "a term of a quarter inch at most": ("satchel", "pieces.flap.size.0", '"width"', True),
    "what a belt loop needs beyond the belt": ("sheath", "pieces.loop.size.1", '"2 * belt"', False),
    "a pocket higher on its panel": ("short: apron", "pieces.body.landings.0.at", "8 in + 3/4 in", True),
    "one of two ends of a strap": ("by hand: apron", "pieces.body.landings.4.at", "60 mm + 20 mm from right", False),
}
ALIKE = {
    "a cup that is the same either way up": (ACROSS, "short: dice-cup", "cup: left", "cup: right", True),
    "a wall with holes near its rim": (ACROSS, "bucket", "body: left", "body: right", False),
    "a pocket that lies where it is written": (ACROSS, "by hand: folder", "middle: bottom", "middle: top", False),
    "where a run ends": (
        ACROSS,
        "short: belted-roll",
        "from bottom row to bottom row",
        "from bottom row to top row",
        False,
    ),
    "which way an end leads where that counts anyway": (LEFT_OUT, "by hand: wrist", 'leads = "up"', "left out", True),
    "which way an end leads": (LEFT_OUT, "by hand: apron", 'leads = "right"', "left out", False),
    "an edge's own name that nothing names": (LEFT_OUT, "short: pannier-pair", 'edge = "brow"', "left out", True),
    "an edge's own name by which no place is measured": (
        LEFT_OUT,
        "short: bench-apron",
        'edge = "hem"',
        "left out",
        True,
    ),
    "what one of two holes of a folded tab takes": (LEFT_OUT, "short: key-fob", 'takes = "rivet"', "left out", True),
    "what one of two holes of a panel takes": (LEFT_OUT, "by hand: box", 'takes = "rivet"', "left out", False),
    "the usual pitch": (LEFT_OUT, "by hand: belt", 'pitch = "25 mm"', "left out", True),
    "a pitch far from the usual": (LEFT_OUT, "by hand: watch", 'pitch = "7 mm"', "left out", False),
}


@pytest.mark.parametrize("name", SCALED)
def test_a_length_that_slips_far_is_free_where_nothing_contradicts_it(name: str) -> None:
    build, path, now, is_free = SCALED[name]
    text, folder = BUILDS[build]
    slip = next(slip for kind in KINDS for slip in OPERATORS[kind](text) if slip.path == path and now in slip.now)

    assert bool(why_free_scaled(slip, text, Checker(folder))) == is_free


@pytest.mark.parametrize("name", ALIKE)
def test_what_is_turned_over_or_left_out_is_free_where_all_is_the_same(name: str) -> None:
    slips, build, was, now, is_free = ALIKE[name]
    text, folder = BUILDS[build]
    slip = next(slip for slip in slips(text) if was in slip.was and now in slip.now)

    assert bool(why_free_alike(slip, text, Checker(folder))) == is_free
