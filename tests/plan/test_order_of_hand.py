"""A bag whose maker names in a step what is in hand, not all that it concerns: the work still falls into that step, and
places are told from the edges that are there by then. Its figures are sums of what the spec says; that a zip is sewn on at
the step that lays it, and that tabs are riveted on where they are folded, is common practice, no published source.
"""

import pytest
from demos import demo_plan
from step_lines import lines

from docgen.checks import resolve_build
from docgen.pages.work.acts import tell
from docgen.plan import Plan, plan_work
from docgen.read import read_spec
from docgen.resolve import joint_ends

SPEC = """\
[spec]
code = "holdall"
title = "Holdall"
version = "1"
show = "mm"
[materials.hide]
kind = "leather"
thickness = "2 mm"
[materials.foam]
kind = "foam"
thickness = "5 mm"
[stitches.main]
by = "machine"
thread = "Tex 135 bonded nylon"
pitch = "4 mm"
inset = "5 mm"
[trimmings.zip]
what = "coil zip"
kind = "zip"
width = "32 mm"
thickness = "0.6 mm"
[hardware.rivet]
what = "double-cap rivet"
count = 6
posts = ["6 mm", "8 mm", "10 mm"]
[hardware.ring]
what = "D ring"
count = 1
inside = "21 mm"
bar = "3 mm"
[pieces.front]
of = "hide"
shape = "rectangle"
size = ["300 mm", "280 mm"]
notches = [{ on = "bottom" }]
hems = [{ edges = "top", turn = "30 mm" }]
laid = [{ goods = "zip", at = "90 mm from bottom", stitch = "main", window = "12 mm", clear = "40 mm" }]
holes = [{ at = "centre, 150 mm from bottom", punch = "4 mm", takes = "rivet" }]
landings = [{ piece = "tab", at = "centre, 140 mm from bottom" }]
[pieces.back]
of = "hide"
shape = "rectangle"
size = ["300 mm", "280 mm"]
notches = [{ on = "bottom" }]
hems = [{ edges = "top", turn = "30 mm" }]
holes = [
  { at = "80 mm from left, 70 mm from top", punch = "4 mm", takes = "rivet", through = ["handle"] },
  { at = "80 mm from right, 70 mm from top", punch = "4 mm", takes = "rivet", through = ["handle"] },
]
landings = [
  { strap = "handle", at = "80 mm from left, 80 mm from top", over = "50 mm" },
  { strap = "handle", end = "second", at = "80 mm from right, 80 mm from top", over = "50 mm" },
]
[pieces.tab]
of = "hide"
shape = "rectangle"
size = ["20 mm", "80 mm"]
folds = [{ at = "middle", around = "ring" }]
holes = [{ at = "centre, 10 mm from bottom", punch = "4 mm", takes = "rivet" }]
[pieces.pad]
of = "foam"
cut = 2
like = "front"
marks = false
inset = "12 mm"
lines = ["front", "back"]
[pieces.wall]
of = "hide"
cut = 2
shape = "strip"
size = ["80 mm", "solve"]
hems = [{ edges = "start", turn = "30 mm" }]
[joins.gusset]
of = ["wall", "wall"]
overlap = "12 mm"
stitch = "main"
[seams.hem-front]
stitch = "main"
meet = ["front: top", "front"]
[seams.hem-back]
stitch = "main"
meet = ["back: top", "back"]
[seams.hem-wall]
stitch = "main"
meet = ["wall: start", "wall"]
[seams.to-front]
stitch = "main"
meet = ["front: left bottom right", "gusset: left"]
[seams.to-back]
stitch = "main"
meet = ["back: left bottom right", "gusset: right"]
[straps.handle]
of = "hide"
width = "25 mm"
finished = "400 mm"
doubled = true
stitch = "main"
ends = [{ shape = "rounded" }, { shape = "rounded" }]
punches = [{ at = "centre, 10 mm from start", punch = "4 mm" }, { at = "centre, 10 mm from end", punch = "4 mm" }]
[[steps]]
do = "Punch the front and the back."
pieces = ["front", "back", "tab"]
[[steps]]
do = "Lay the zip behind its slot and sew it."
trimmings = ["zip"]
[[steps]]
do = "Turn the mouths over and sew them."
seams = ["hem-front", "hem-back", "hem-wall"]
[[steps]]
do = "Fold the tab round its ring and rivet it on."
pieces = ["tab"]
hardware = ["ring", "rivet"]
[[steps]]
do = "Make the handle and rivet it to the back."
straps = ["handle"]
hardware = ["rivet"]
[[steps]]
do = "Lay the foam in."
pieces = ["pad"]
[[steps]]
do = "Sew the two walls together, then the gusset to the front and the back."
joins = ["gusset"]
seams = ["to-front", "to-back"]
"""


@pytest.fixture(scope="module")
def plan(tmp_path_factory: pytest.TempPathFactory) -> Plan:
    path = tmp_path_factory.mktemp("holdall") / "holdall.toml"
    path.write_text(SPEC, encoding="utf-8")
    return plan_work(resolve_build(read_spec(path)))


def test_a_zip_is_sewn_where_it_is_laid(plan: Plan) -> None:
    assert [job.title for job in plan.steps[1].jobs] == ["front, coil zip"]


def test_what_lands_is_riveted_where_it_is_in_hand_before_foam_lies_behind(plan: Plan) -> None:
    """Tab folded in two on the front: three layers of 2 mm."""
    assert any(line.startswith("Set 1 rivet in front") and "3 layers, 6 mm" in line for line in lines(plan, 4))
    assert not any("in front" in line for line in lines(plan, 5) if line.startswith("Set"))


def test_ends_of_straps_are_measured_from_a_turned_mouth(plan: Plan) -> None:
    """80 mm from the cut edge, of which 30 mm are turned over."""
    assert any(line.endswith("80 mm from left and right, 50 mm from top.") for line in lines(plan, 5))


def test_the_second_layer_is_punched_too(plan: Plan) -> None:
    assert "handle: punch its holes on through the second layer." in lines(plan, 5)


def test_foam_lies_within_every_panel_of_its_outline(plan: Plan) -> None:
    assert any("front and back, 12 mm within its edges" in line for line in lines(plan, 6))


def test_a_hemmed_mouth_is_no_joint_and_the_joint_is_the_mate_of_a_notch(plan: Plan) -> None:
    build = plan.build
    pieces = {piece.name: piece for piece in build.pieces}
    assert joint_ends(build.joins[0], pieces) == {"wall": ("end",)}
    assert (
        "The middle of the joint of gusset lies on the notch in the bottom of front: lay it there first, then the ends."
        in (lines(plan, 7))
    )
    assert not [one for one in build.cautions if one.check == "notch-alone"]


def test_dividing_lines_are_sewn_the_way_that_they_are_drawn() -> None:
    """Of the cable roll, whose lines are drawn from the foot of its pockets up."""
    found = demo_plan("cable-roll")
    lines_up = {line.end.y > line.start.y for piece in found.build.pieces for line in piece.dividers if not line.goods}
    told = [tell(one) for step in found.steps for one in step.acts if one.case == "sew_across"]
    assert lines_up == {True}
    assert told
    assert all(line.endswith("from the bottom to the top.") for line in told)
