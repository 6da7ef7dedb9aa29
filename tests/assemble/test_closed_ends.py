"""A strap's end that is turned round its buckle, fastened by its other end: what is punched and set when."""

from short_specs import BUCKLE, hole, piece, step
from spec_text import Resolve, write_out
from step_lines import lines

from docgen.plan import list_jobs, plan_work

CHAPE = """\
[straps.chape]
of = "body"
width = "20 mm"
finished = "60 mm"
ends = [{ shape = "square" }, { shape = "turned", back = "45 mm", around = "buckle", takes = "rivet" }]
punches = [{ at = "centre, 10 mm from start", punch = "4 mm" }, { at = "centre, 30 mm from end", punch = "4 mm" }]
"""
LANDS = 'landings = [{ strap = "chape", at = "centre, 80 mm from top", leads = "up", over = "40 mm" }]\n'
BAND = """\
<stitch hand: by hand, Tex 210 waxed polyester, 4 mm, 4 mm>
[pieces.band]
of = "body"
shape = "strip"
size = ["40 mm", "300 mm"]
[joins.ring]
of = ["band"]
overlap = "14 mm"
stitch = "hand"
ring = true
[seams.band]
stitch = "main"
meet = ["band: left", "panel"]
"""


def test_an_end_is_punched_and_closed_before_the_strap_is_riveted_on(resolve_text: Resolve) -> None:
    """The hole of its other end is none of the turned one; once it lies on the panel its rivet would go through that."""
    made = resolve_text(
        write_out(BUCKLE)
        + piece("panel", 180, 140, LANDS + hole("centre, 70 mm from top"))
        + CHAPE
        + step("Rivet the buckle piece on.", pieces="panel", straps="chape", hardware="buckle rivet")
    )
    told = lines(plan_work(made), 1)
    marks = (
        "Once folded, punch on through",
        "Set 1 rivet in chape at the buckle",
        "chape, first end, on",
        "Set 1 rivet in panel",
    )
    assert [mark for line in told for mark in marks if line.startswith(mark)] == [*marks]


SHORT = """\
[straps.chape]
of = "body"
width = "20 mm"
finished = "45 mm"
ends = [{ shape = "turned", back = "43 mm", around = "buckle", takes = "rivet" }, { shape = "square" }]
punches = [{ at = "centre, 30 mm from end", punch = "4 mm" }]
"""
UNDER = """\
landings = [{ strap = "chape", end = "second", at = "centre, 93 mm from bottom", leads = "down", over = "45 mm" }]
holes = [{ at = "centre, 63 mm from bottom", punch = "4 mm" }]
"""


def test_what_closes_an_end_goes_through_what_it_lies_on_where_that_has_its_hole(resolve_text: Resolve) -> None:
    """A chape of one rivet: 30 mm from its cut end, 93 - 30 = 63 mm from the bottom; 3 layers of 2 mm, turned before it is
    laid."""
    made = resolve_text(
        write_out(BUCKLE)
        + piece("panel", 180, 140, UNDER)
        + SHORT
        + step("Rivet the chape on.", pieces="panel", straps="chape", hardware="buckle rivet")
    )
    (one,) = [fast for fast in made.assembly.fastened if fast.hardware == "rivet"]
    assert ([layer.part for layer in one.stack.layers], one.stack.usual_mm) == (["chape", "chape", "panel"], 6)
    told = lines(plan_work(made), 1)
    marks = ("chape, first end: turn back", "chape, second end, on the grain side of panel", "Set 1 rivet in chape at")
    assert [mark for line in told for mark in marks if line.startswith(mark)] == [*marks]
    assert "through both layers of chape, panel, 3 layers, 6 mm" in told[-1]


def test_a_joint_has_its_own_holes_where_a_seam_is_called_as_its_strip(resolve_text: Resolve) -> None:
    """32 mm of the joint, 4 mm clear at each side: 8 stitches of 4 mm, 9 holes."""
    made = resolve_text(piece("panel", 180, 140) + write_out(BAND))
    joint = next(job for (kind, _), job in list_jobs(made) if kind == "joins")
    assert joint.holes == joint.stitches + 1
