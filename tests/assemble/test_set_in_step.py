"""Which step sets what holds a strap. That a strap is fastened by the step that names it again, and that a half of a snap
in its free end needs nothing of what the other end is sewn to, is common practice, no published source.
"""

from collections.abc import Callable

from docgen.assemble import Assembled

RIVETED = """\
<rectangle base: ["200 mm", "150 mm"]>
holes = [{ at = "centre, 75 mm from bottom", punch = "4 mm", takes = "rivet", through = ["pull"] }]
landings = [{ strap = "pull", at = "centre, 60 mm from bottom", leads = "up", over = "30 mm" }]
<rectangle other: ["200 mm", "150 mm"]>
holes = [{ at = "centre, 20 mm from top", punch = "4 mm", takes = "rivet" }]
<seam s: ["base: left", "other: left"]>
<strap pull of body: 20 mm>
finished = "300 mm"
ends = [{ shape = "square" }, { shape = "square" }]
punches = [{ at = "centre, 15 mm from start", punch = "4 mm" }]
<hardware rivet: 2, double-cap rivet>
<step "Cut the strap, and set a rivet in the other piece.": pieces = ["other"]>
straps = ["pull"]
hardware = ["rivet"]
%s
<step "Sew.": seams = ["s"]>
"""
AGAIN = '<step "Rivet the strap on.": straps = ["pull"]>\nhardware = ["rivet"]'
CAPPED = """\
<rectangle base: ["200 mm", "150 mm"]>
holes = [{ at = "centre, 130 mm from bottom", punch = "4 mm", takes = "snap" }]
landings = [
  { strap = "pull", at = "centre, 10 mm from bottom", leads = "up", over = "30 mm", stitch = "main" },
]
<rectangle other: ["200 mm", "150 mm"]>
<seam s: ["base: left", "other: left"]>
<strap pull of body: 20 mm>
finished = "140 mm"
ends = [{ shape = "square" }, { shape = "square" }]
punches = [{ at = "centre, %d mm from end", punch = "4 mm", takes = "snap" }]
<hardware snap: 1, snap>
<step "Cut the strap and set its cap.": straps = ["pull"]>
hardware = ["snap"]
<step "Set the stud, and sew the strap on.": pieces = ["base"]>
straps = ["pull"]
hardware = ["snap"]
<step "Sew.": seams = ["s"]>
"""


def steps_of(build: Assembled, hardware: str) -> set[tuple[str, int]]:
    """The parts in which hardware is set, each with its step, from 1."""
    events = build.assembly.events
    return {(one.part, events[one.event].step + 1) for one in build.assembly.fastened if one.hardware == hardware}


def test_the_step_that_names_a_strap_again_rivets_it_on(resolve_text: Callable[[str], Assembled]) -> None:
    assert steps_of(resolve_text(RIVETED % AGAIN), "rivet") == {("other", 1), ("base", 2)}
    assert steps_of(resolve_text(RIVETED % ""), "rivet") == {("other", 1), ("base", 1)}


def test_a_cap_in_the_free_end_of_a_strap_is_set_before_that_is_sewn_on(
    resolve_text: Callable[[str], Assembled],
) -> None:
    """Of a strap 140 mm long 30 mm lie fast: a hole 14 mm from its end is free, one 125 mm from there is not."""
    assert steps_of(resolve_text(CAPPED % 14), "snap") == {("pull", 1), ("base", 2)}
    assert ("pull", 1) not in steps_of(resolve_text(CAPPED % 125), "snap")
