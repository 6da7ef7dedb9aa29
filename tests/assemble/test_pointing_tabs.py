"""Which way a tab points that is folded round a ring: over an edge that is near, as its holes meet those of its host, else
it is asked. By hand."""

import pytest
from short_specs import rivet, step
from spec_text import Resolve
from step_lines import lines

from docgen.assemble import Copy
from docgen.plan import plan_work

TOP = """\
[pieces.top]
of = "body"
shape = "rectangle"
size = ["500 mm", "200 mm"]
holes = [{ at = "110 mm left of centre, 100 mm from top", punch = "3.5 mm", takes = "rivet", through = ["tab"] },
  { at = "110 mm right of centre, 100 mm from top", punch = "3.5 mm", takes = "rivet", through = ["tab-r"] }]
"""
LANDINGS = """\
landings = [{ piece = "tab", at = "102.5 mm left of centre, middle" },
  { piece = "tab-r", at = "102.5 mm right of centre, middle" }]
"""
TABS = """\
[pieces.tab]
of = "body"
shape = "rectangle"
size = ["90 mm", "24 mm"]
folds = [{ at = "centre", around = "ring" }]
holes = [{ at = "15 mm from left, middle", punch = "3.5 mm" }, { at = "15 mm from right, middle", punch = "3.5 mm" }]
[pieces.tab-r]
like = "tab"
mirror = true
[hardware.ring]
what = "rectangular ring"
count = 2
inside = "25 mm"
bar = "4 mm"
""" + rivet(2)


def test_holes_tell_which_half_of_a_tab_stays(resolve_text: Resolve) -> None:
    """Both fold towards the middle, 30 mm from their holes at 110 mm: the right one lay with its fold outside."""
    space = resolve_text(TOP + LANDINGS + TABS).space
    rings = {one.part.part: one for one in space.metal if one.shape == "square ring"}
    (hole, *_) = (one for one in space.metal if one.shape == "cap")
    middle = 250.0
    assert sorted(round(one.at[0] - middle, 1) for one in rings.values()) == [-80.0, 80.0]
    assert rings["tab"].axis == pytest.approx(rings["tab-r"].axis)
    assert rings["tab"].axis == pytest.approx(hole.axis)


def test_a_tab_far_from_every_edge_is_asked_about(resolve_text: Resolve) -> None:
    space = resolve_text(TOP + TABS).space
    assert {one.copy.part for one in space.unplaced} == {"tab", "tab-r"}


def test_a_tab_near_an_edge_leads_over_that(resolve_text: Resolve) -> None:
    space = resolve_text(TOP.replace("100 mm from top", "20 mm from top") + TABS).space
    assert not space.unplaced
    assert all(space.part(Copy(name)).how == "hangs on" for name in ("tab", "tab-r"))


def test_a_tab_lies_there_once_its_rivet_is_set(resolve_text: Resolve) -> None:
    """A step punches it with its host, and a later one has it in hand with the rivet that the host's hole takes."""
    steps = step("Punch all.", pieces="top tab tab-r", tools="punch")
    steps += step("Rivet the tabs on.", pieces="tab tab-r", hardware="ring rivet")
    made = resolve_text(TOP + LANDINGS + TABS + steps).assembly
    assert {made.events[at].step for _, _, at in made.laid} == {1}


JOINED = """\
<rectangle front: ["240 mm", "200 mm"]>
[pieces.back]
like = "front"
[pieces.strip]
of = "body"
cut = 2
shape = "strip"
size = ["50 mm", "solve"]
holes = [{ at = "centre, 25 mm from end", punch = "3.5 mm" }]
landings = [{ piece = "tab", at = "centre, 0 mm from end" }]
[joins.gusset]
of = ["strip", "strip"]
overlap = "15 mm"
stitch = "main"
[pieces.tab]
of = "body"
cut = 2
shape = "rectangle"
size = ["24 mm", "80 mm"]
folds = [{ at = "middle", around = "ring" }]
holes = [{ at = "centre, 15 mm from bottom", punch = "3.5 mm", takes = "rivet", through = ["strip"] },
  { at = "centre, 15 mm from top", punch = "3.5 mm", takes = "rivet" }]
<seam one: ["front: left bottom right", "gusset: left"]>
<seam two: ["back: left bottom right", "gusset: right"]>
[hardware.ring]
what = "D ring"
count = 2
inside = "25 mm"
bar = "4 mm"
"""


def test_two_tabs_that_land_on_a_strip_that_is_joined_to_its_like_lie_one_on_each(resolve_text: Resolve) -> None:
    """A hole 25 mm from the mouth, as far from the fold of a tab in either strip, left and right of a bag 240 mm wide."""
    text = JOINED + rivet(2)
    without = text.replace('landings = [{ piece = "tab", at = "centre, 0 mm from end" }]\n', "")
    for spec in (text, without):
        space = resolve_text(spec).space
        rings = sorted(round(one.at[0]) for one in space.metal if one.part.part == "tab" and one.shape != "cap")
        assert len(rings) == 2
        assert rings[1] - rings[0] > 200


FACING = """\
<rectangle front: ["240 mm", "200 mm"]>
[pieces.back]
like = "front"
[pieces.gusset]
of = "body"
shape = "strip"
size = ["50 mm", "solve"]
holes = [{ at = "centre, 100 mm from start", punch = "3.5 mm" }, { at = "centre, 100 mm from end", punch = "3.5 mm" }]
landings = [{ piece = "tab", at = "centre, 86 mm from start" }, { piece = "tab", at = "centre, 86 mm from end" }]
[pieces.tab]
of = "body"
cut = 2
shape = "strip"
size = ["24 mm", "80 mm"]
folds = [{ at = "middle", around = "ring" }]
holes = [{ at = "centre, 14 mm from start", punch = "3.5 mm", takes = "rivet", through = ["gusset"] },
  { at = "centre, 14 mm from end", punch = "3.5 mm", takes = "rivet" }]
""" + JOINED[JOINED.index("<seam one") :]


def test_tabs_that_land_from_both_ends_of_a_strip_look_towards_each_other(resolve_text: Resolve) -> None:
    """Holes 100 mm from either mouth and 14 mm from the near end of a tab: both rings hang 26 mm farther down."""
    steps = step("Rivet the tabs on.", pieces="tab gusset", hardware="ring rivet")
    build = resolve_text(FACING + rivet(2) + steps)
    rings = [one.at for one in build.space.metal if one.shape != "cap"]
    caps = [one.at for one in build.space.metal if one.shape == "cap"]
    assert [round(at[2]) for at in rings] == [74, 74]
    assert [round(at[2]) for at in caps] == [100, 100]
    assert sorted(round(at[0]) for at in rings) == [4, 236]
    told = [line for line in lines(plan_work(build), 1) if "fold to the" in line]
    assert [line.partition("fold to the ")[2].partition(":")[0] for line in told] == ["end", "start"]
