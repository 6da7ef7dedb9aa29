"""The checks: every one a small function, in one list with its id, its sentence and its source.

`CHECKS` look at a build that is made; `EARLIER_CHECKS` are found while it is read and made, and always stop it.
"""

from __future__ import annotations

from docgen.problems import Problem, has_errors, make_caution, make_error
from docgen.resolve.checks import contents, hardware, holes, landings, leather, notches, order, sewing, straps, use
from docgen.resolve.checks.check import PRACTICE, Check, EarlierCheck, Subject

__all__ = ["CHECKS", "EARLIER", "EARLIER_CHECKS", "Check", "EarlierCheck", "Subject", "run_checks"]

CHECKS = (
    Check(
        id="skive-on-goods",
        says="Only leather can be skived.",
        source="plain from the goods",
        find=leather.find_skived_goods,
        stops=True,
    ),
    Check(
        id="skive-too-deep",
        says="A skive leaves less than the leather is thick.",
        source="plain from the goods",
        find=leather.find_deep_skives,
        stops=True,
    ),
    Check(
        id="piece-wider-than-goods",
        says="A piece is no wider than the roll it is cut from.",
        source="plain from the goods",
        find=leather.find_wide_pieces,
    ),
    Check(
        id="hole-near-edge",
        says="The centre of a hole keeps 1 1/2 times its size from the edge.",
        source=PRACTICE,
        find=holes.find_holes_near_edge,
    ),
    Check(
        id="needle-too-fine",
        says="The thread fills at most 40 % of the blade.",
        source='Schmetz dictionary, "Long groove"',
        find=sewing.find_fine_needles,
    ),
    Check(
        id="needle-too-coarse",
        says="The blade is at most 1.6 times as thick as the one by table.",
        source=PRACTICE,
        find=sewing.find_coarse_needles,
    ),
    Check(
        id="strap-wider-than-fitting",
        says="A strap is no wider than the fitting it goes round.",
        source="plain from the goods",
        find=straps.find_wide_straps,
        stops=True,
    ),
    Check(
        id="strap-turn-back",
        says="A turned end lies back at least the width of its strap.",
        source=PRACTICE,
        find=straps.find_short_turns,
    ),
    Check(
        id="strap-bar-unknown",
        says="The bar that a strap turns round has a thickness.",
        source="plane geometry",
        find=straps.find_bars_unknown,
    ),
    Check(
        id="strap-tip-short",
        says="A strap goes on after its last hole for 1 1/2 times its width.",
        source=PRACTICE,
        find=straps.find_short_tips,
    ),
    Check(
        id="skive-to-nothing", says="A skive leaves 0.1 mm or more.", source=PRACTICE, find=leather.find_empty_skives
    ),
    Check(
        id="overlap-short",
        says="Strips that are sewn end to end lie 2 mm or more over each other.",
        source=PRACTICE,
        find=sewing.find_thin_overlaps,
    ),
    Check(
        id="strap-loose-in-fitting",
        says="A strap is at least half as wide as the fitting it goes round.",
        source=PRACTICE,
        find=straps.find_narrow_straps,
    ),
    Check(
        id="strap-narrow-for-hole",
        says="A strap has 3 times the width of the holes that close its ends.",
        source=PRACTICE,
        find=straps.find_riveted_straps,
    ),
    Check(
        id="strap-holes-close",
        says="2 mm of leather stay between the holes of a strap.",
        source=PRACTICE,
        find=straps.find_close_holes,
    ),
    Check(
        id="stitch-near-edge",
        says="A stitch line lies 1 mm or more from the cut edge.",
        source=PRACTICE,
        find=sewing.find_lines_at_edge,
    ),
    Check(
        id="needle-beyond-machine",
        says="The needle is one that its machine takes.",
        source="the machine, as the spec describes it",
        find=sewing.find_foreign_needles,
    ),
    Check(
        id="needle-point",
        says="Leather is sewn with a cutting point.",
        source=PRACTICE,
        find=sewing.find_round_points,
        needs_whole=True,
    ),
    Check(
        id="stack-beyond-machine",
        says="A stack goes under the foot of its machine, at its thickest place too.",
        source="the machine, as the spec describes it",
        find=sewing.find_thick_stacks,
        needs_whole=True,
    ),
    Check(
        id="pitch-too-fine",
        says="Machine stitches in leather are 2.1 mm long or longer.",
        source=PRACTICE,
        find=sewing.find_fine_pitches,
        needs_whole=True,
    ),
    Check(
        id="pitch-too-coarse",
        says="Stitches in leather are 6.4 mm long or shorter.",
        source=PRACTICE,
        find=sewing.find_coarse_pitches,
        needs_whole=True,
    ),
    Check(
        id="stitch-beyond-machine",
        says="A stitch is no longer than its machine makes it.",
        source="the machine, as the spec describes it",
        find=sewing.find_long_stitches,
    ),
    Check(
        id="load-over-estimate",
        says="A loaded seam carries its load by the estimate from its thread.",
        source='American & Efird, "Stitches per inch", pages 32-33',
        find=sewing.find_overloads,
        needs_whole=True,
    ),
    Check(
        id="load-without-strength",
        says="The strength of a loaded seam's thread is known.",
        source="the tables, or the spec",
        find=sewing.find_unknown_strengths,
        needs_whole=True,
    ),
    Check(
        id="hole-on-stitch-line",
        says="A hole keeps its rim 1 mm from stitch lines.",
        source=PRACTICE,
        find=holes.find_holes_on_stitches,
        needs_whole=True,
    ),
    Check(
        id="hole-size",
        says="A hole is as large as its hardware needs.",
        source=PRACTICE,
        find=holes.find_wrong_punches,
        needs_whole=True,
    ),
    Check(
        id="holes-apart",
        says="Holes for one fitting meet through the layers within 1 mm.",
        source=PRACTICE,
        find=holes.find_holes_apart,
        needs_whole=True,
    ),
    Check(
        id="hole-not-in-partner",
        says="A part that hardware goes through has a hole of the same size.",
        source="plain from the work",
        find=holes.find_lost_holes,
        needs_whole=True,
    ),
    Check(
        id="skive-thin-at-fold",
        says="A fold keeps 0.5 mm of leather.",
        source=PRACTICE,
        find=leather.find_thin_folds,
        needs_whole=True,
    ),
    Check(
        id="fold-allowance",
        says="5 mm or more lie beyond a fold.",
        source=PRACTICE,
        find=leather.find_short_folds,
        needs_whole=True,
    ),
    Check(
        id="lining-larger",
        says="A lining is no larger than its leather.",
        source=PRACTICE,
        find=leather.find_large_linings,
        needs_whole=True,
    ),
    Check(
        id="landing-over-edge",
        says="A piece lies within the one it lands on, within 0.5 mm.",
        source="plane geometry; the half millimetre is our choice",
        find=landings.find_overhangs,
        needs_whole=True,
    ),
    Check(
        id="strap-end-unpunched",
        says="Hardware that closes a turned end has its holes there.",
        source="counted",
        find=straps.find_unpunched_ends,
        needs_whole=True,
    ),
    Check(
        id="strap-slot-off-fold",
        says="The slot for a buckle's tongue has its middle at the fold, within 3 mm.",
        source="our choice",
        find=straps.find_slots_off_fold,
        needs_whole=True,
    ),
    Check(
        id="post-length",
        says="A post from the drawer fits the stack it goes through.",
        source=PRACTICE,
        find=hardware.find_wrong_posts,
        needs_whole=True,
    ),
    Check(
        id="hardware-count",
        says="As many are counted as places take them, each place once.",
        source="counted",
        find=hardware.find_wrong_counts,
        needs_whole=True,
    ),
    Check(
        id="hardware-idle",
        says="Every item of hardware is used.",
        source="counted",
        find=hardware.find_idle_hardware,
        needs_whole=True,
    ),
    Check(
        id="material-idle",
        says="Something is cut from every material.",
        source="counted",
        find=use.find_idle_materials,
        needs_whole=True,
    ),
    Check(
        id="stitch-idle",
        says="Something is sewn with every stitch.",
        source="counted",
        find=use.find_idle_stitches,
        needs_whole=True,
    ),
    Check(
        id="work-in-no-step",
        says="Every join, seam and strap is made in a step.",
        source="counted",
        find=use.find_unmade_work,
        needs_whole=True,
    ),
    Check(
        id="piece-in-no-step",
        says="Every piece is handled in a step.",
        source="counted",
        find=use.find_idle_pieces,
        needs_whole=True,
    ),
    Check(
        id="steps-out-of-order",
        says="Steps stand in an order in which they can be done.",
        source="plain from the work; what counts as closed in is our choice",
        find=order.find_disorder,
        needs_whole=True,
    ),
    Check(
        id="contents-do-not-fit",
        says="What has to go in fits the room inside.",
        source="plane geometry",
        find=contents.find_tight_contents,
        needs_whole=True,
    ),
    Check(
        id="notches-apart",
        says="Match marks of partners meet within 1.5 mm.",
        source=PRACTICE,
        find=notches.find_notches_apart,
        needs_whole=True,
    ),
)

EARLIER_CHECKS = (
    EarlierCheck(
        id="unequal-partners",
        source="plane geometry; the 0.5 mm are common practice, no published source",
        says="The sides of a seam are equally long along their stitch line, within 0.5 mm and its ease.",
        found_in="docgen.resolve.seams.seams",
    ),
    EarlierCheck(
        id="hole-outside",
        says="A hole lies on its piece.",
        source="plane geometry",
        found_in="docgen.resolve.pieces.marks",
    ),
    EarlierCheck(
        id="holes-even",
        says="A strap that is worn at its middle hole has an odd number of them.",
        source="counted",
        found_in="docgen.resolve.straps.straps",
    ),
    EarlierCheck(
        id="skive-too-wide",
        says="A skived band fits its piece.",
        source="plane geometry",
        found_in="docgen.resolve.pieces.marks",
    ),
    EarlierCheck(
        id="name-not-there",
        says="What is named is there.",
        source="plain from the spec",
        found_in="docgen.read.findings",
    ),
)
EARLIER = {check.id: check.says for check in EARLIER_CHECKS}


def run_checks(subject: Subject, problems: list[Problem]) -> None:
    """Add what the checks find to the problems."""
    for check in CHECKS:
        if check.needs_whole and has_errors(problems):
            continue
        make = make_error if check.stops else make_caution
        problems += [make(place, what, mend, check.id, at) for place, what, mend, at in check.find(subject)]
