"""Which way a tab points that is folded round a ring: over an edge that is near, as its holes meet those of its host, else
it is asked. By hand."""

import pytest
from short_specs import rivet, step
from spec_text import Resolve

from docgen.assemble import Copy

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
