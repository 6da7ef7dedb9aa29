"""A ring that is sewn round closed edges begins nowhere there: it is turned until the match marks meet. By hand."""

from itertools import pairwise
from math import dist, sqrt

import pytest
from demos import demo_build
from spec_text import Resolve
from step_lines import lines

from docgen.assemble import Copy
from docgen.geometry.vector import transform_point
from docgen.plan import plan_work

BAG = """\
<rectangle panel: ["220 mm", "140 mm"]>
cut = 2
round = "30 mm"
notches = [{ on = "top" }, { on = "bottom" }]
<strip upper: ["80 mm", "%s"]>
notches = [{ on = "left" }, { on = "right" }]
<strip lower: ["80 mm", "solve"]>
notches = [{ on = "left" }, { on = "right" }]
[joins.ring]
of = ["upper", "lower"]
overlap = "16 mm"
stitch = "main"
ring = true
<seam near: ["panel 1: all", "ring: left"]>
<seam far: ["panel 2: all", "ring: right"]>
"""
NEAR_MM = 8.0  # a notch lies on the edge, the row that is placed on it 4 mm in


@pytest.mark.parametrize("long", ["250 mm", "316 mm"])
def test_match_marks_of_a_ring_and_of_the_edge_that_it_goes_round_meet(resolve_text: Resolve, long: str) -> None:
    """The notches of either lie half of the way round from each other, so that one turn brings both together."""
    build = resolve_text(BAG % long)
    assert [one.check for one in build.cautions if one.check in ("notches-apart", "edges-apart")] == []
    panel, ring = (build.space.part(Copy(name)) for name in ("panel", "ring"))
    own = [panel.surface.point(notch.at) for notch in panel.item.strips[0].piece.marks.notches]
    around = [
        ring.surface.point(transform_point(notch.at, strip.move))
        for strip in ring.item.strips
        for notch in strip.piece.marks.notches
    ]
    assert max(min(dist(at, its) for its in around) for at in own) < NEAR_MM


def test_marks_that_no_turn_brings_together_are_told(resolve_text: Resolve) -> None:
    """One strip's notches 35 mm off its middle."""
    text = (BAG % "250 mm").replace(
        'notches = [{ on = "left" }, { on = "right" }]\n<strip lower',
        'notches = [{ on = "left", at = "90 mm from start" }, { on = "right", at = "90 mm from start" }]\n<strip lower',
    )
    told = [one for one in resolve_text(text).cautions if one.check == "notches-apart"]
    assert told


def test_what_goes_all_round_is_held_by_its_marks_or_in_quarters(resolve_text: Resolve) -> None:
    """It has no ends that could be clipped first."""
    steps = '<step "Sew the gusset in.": seams = ["near", "far"]>\n'
    held = [line for line in lines(plan_work(resolve_text(BAG % "250 mm" + steps)), 1) if "lip" in line]
    assert held[0].startswith("Clip the notch marks together first, then half way")
    bare = (BAG % "250 mm").replace('notches = [{ on = "left" }, { on = "right" }]\n', "")
    held = [line for line in lines(plan_work(resolve_text(bare + steps)), 1) if "lip" in line]
    assert held[0].startswith("Mark both in quarters")


BARREL = """\
[pieces.end]
of = "body"
shape = "circle"
diameter = "108 mm"
notches = [{ on = "edge", at = "0 mm from edge" }, { on = "edge", at = "pi * 108 mm / 4 from edge" }]
<strip wall: ["80 mm", "solve"]>
notches = [{ on = "left", at = "60 mm from start" }, { on = "left", at = "%s from start" }]
[joins.ring]
of = ["wall"]
overlap = "16 mm"
stitch = "main"
ring = true
<seam near: ["end: edge", "ring: left"]>
"""
QUARTER = "60 mm + pi * 100 mm / 4"  # the row goes round 4 mm within the edge


@pytest.mark.parametrize(("second", "is_told"), [(QUARTER, False), (f"{QUARTER} + 12 mm", True)])
def test_the_edge_of_a_circle_is_met_by_a_ring_however_it_is_turned(
    resolve_text: Resolve, second: str, *, is_told: bool
) -> None:
    """Two notches a quarter apart on either; the ring's lie 60 mm from where it begins."""
    build = resolve_text(BARREL % second)
    assert any(one.check == "notches-apart" for one in build.cautions) == is_told


def test_the_edge_of_a_circle_has_no_ends_to_clip(resolve_text: Resolve) -> None:
    steps = '<step "Sew the end in.": seams = ["near"]>\n'
    marked, bare = (
        BARREL % QUARTER,
        "".join(line for line in (BARREL % QUARTER).splitlines(keepends=True) if not line.startswith("notches")),
    )
    told = [
        next(line for line in lines(plan_work(resolve_text(text + steps)), 1) if "lip" in line)
        for text in (marked, bare)
    ]
    assert told[0].startswith("Clip the notch marks together first, then half way")
    assert told[1].startswith("Mark both in quarters")


@pytest.mark.parametrize("name", ["bucket", "duffel"])
def test_round_pieces_of_the_starters_have_their_quarters_on_the_template(name: str) -> None:
    """A quarter of a circle apart, seen from its middle, by the law of the chord: r * sqrt(2)."""
    (piece,) = (piece for piece in demo_build(name).pieces if piece.shape == "circle")
    spots = [notch.at for notch in piece.marks.notches]
    radius_mm = (max(at.x for at in spots) - min(at.x for at in spots)) / 2
    assert len(spots) >= 3
    for at, following in pairwise(spots):
        assert dist(at, following) in (pytest.approx(radius_mm * sqrt(2)), pytest.approx(2 * radius_mm))
