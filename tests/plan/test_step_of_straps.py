"""Which step turns, lines, rivets and slides on straps and tabs, and what it takes in hand for that.

That a strap is turned round a ring by the step that has both, and that leather is not fastened before it is made, is plain
from the work; the figures are those of the specs.
"""

from pathlib import Path

import pytest
from short_specs import hole, piece, rivet, seam, step
from spec_text import Resolve, write_out
from step_lines import lines, variant, words_of

from docgen.plan import Plan, plan_work


def told(plan: Plan, number: int) -> list[str]:
    """The lines of a step, from 1; the first is what it takes."""
    one = plan.steps[number - 1]
    return ["; ".join(words_of(one.takes)), *words_of(one.acts)]


RING = '<hardware ring: 1, D ring>\nbar = "3 mm"\n'
TAB = (
    piece("front", 200, 150, hole("centre, 60 mm from bottom", more="").replace(', takes = "rivet"', ""))
    + 'landings = [{ piece = "tab", at = "centre, 46 mm from bottom" }]\n'
    + piece("tab", 25, 80, 'folds = [{ at = "middle", around = "ring" }]\n')
    + 'holes = [\n{ at = "centre, 14 mm from bottom", punch = "4 mm", takes = "rivet", through = ["front"] },\n'
    + '{ at = "centre, 14 mm from top", punch = "4 mm", takes = "rivet" },\n]\n'
    + piece("back", 200, 150)
    + seam("side", "front: left", "back: left")
    + '[straps.belt]\nof = "body"\nwidth = "25 mm"\nfinished = "300 mm"\n'
    + 'ends = [{ shape = "turned", back = "50 mm", around = "ring", takes = "rivet" }, { shape = "turned", back = "50 mm", '
    + 'around = "buckle", takes = "rivet" }]\n'
    + rivet(3)
    + RING
    + '<hardware buckle: 1, buckle>\nbar = "3 mm"\n'
)
TURNED = "belt, first end: turn back round the D ring, flesh side in; fold 53.9 mm from the cut end."
CLOSED = "Set 1 rivet in belt at the D ring, 2 layers, 4 mm, post 6 mm."
LAID = "Lay tab on the grain side of front, fold to the top: "
PUNCH = step("Punch both.", pieces="front tab")
MAKE = step("Make the belt.", straps="belt", hardware="buckle rivet")
HANG = step("Fold the tab round the ring and rivet it on.", pieces="tab", hardware="ring rivet")
SEW = step("Sew the side.", seams="side")
LAST = step("Turn the belt round the ring.", straps="belt", hardware="rivet")


def test_an_end_is_closed_by_the_step_that_has_its_strap_once_its_ring_is_there(resolve_text: Resolve) -> None:
    plan = plan_work(resolve_text(write_out(TAB) + PUNCH + MAKE + HANG + SEW + LAST))
    assert TURNED not in told(plan, 3)
    assert {TURNED, CLOSED} <= {*told(plan, 5)}
    assert told(plan, 5)[0] == "belt (from step 2); front (from step 4); 1 × double-cap rivet (of 3)"
    with_strap = HANG.replace("pieces", 'straps = ["belt"]\npieces')
    plan = plan_work(resolve_text(write_out(TAB) + PUNCH + MAKE + with_strap + SEW + LAST))
    assert {TURNED, CLOSED} <= {*told(plan, 3)}
    assert TURNED not in told(plan, 5)


def test_a_tab_is_laid_where_it_is_folded_and_riveted_and_its_host_comes_from_there(resolve_text: Resolve) -> None:
    plan = plan_work(resolve_text(write_out(TAB) + PUNCH + MAKE + HANG + SEW + LAST))
    places = [k for k in range(1, 6) if any(line.startswith(LAID) for line in told(plan, k))]
    assert places == [3]
    assert told(plan, 4)[0] == "front (from step 3); back"
    at_once = step("Punch both, fold the tab and rivet it on.", pieces="front tab", hardware="ring rivet")
    plan = plan_work(resolve_text(write_out(TAB) + at_once + MAKE + SEW + LAST))
    assert [k for k in range(1, 5) if any(line.startswith(LAID) for line in told(plan, k))] == [1]


LOOPS = """\
<strap neck of body: 20 mm>
finished = "500 mm"
ends = [{ shape = "turned", back = "40 mm", around = "ring", takes = "rivet" }, { shape = "square" }]
<strap tail of body: 20 mm>
finished = "300 mm"
ends = [{ shape = "turned", back = "40 mm", around = "ring", takes = "rivet" }, { shape = "square" }]
<hardware ring: 1, D ring>
bar = "3 mm"
"""


@pytest.mark.parametrize(("rings", "taken"), [(1, "neck (from step 1); tail; "), (2, "tail; ")])
def test_a_strap_that_has_the_ring_already_is_taken_with_the_next(
    resolve_text: Resolve, rings: int, taken: str
) -> None:
    """Of one ring both go round it, of two each has its own."""
    made = [step(f"Make the {name}.", straps=name, hardware="ring rivet") for name in ("neck", "tail")]
    plan = plan_work(resolve_text(write_out(LOOPS, ("count = 1", f"count = {rings}")) + rivet(2) + "".join(made)))
    assert told(plan, 2)[0].startswith(taken)


LOWER = (
    piece("back", 200, 300, hole("centre, 45 mm from bottom", more=', through = ["lower"]'))
    + 'landings = [{ strap = "lower", at = "centre, 60 mm from bottom", leads = "down", over = "40 mm", '
    + 'stitch = "main" }]\n'
    + '[straps.lower]\nof = "body"\nwidth = "25 mm"\nfinished = "200 mm"\n'
    + 'ends = [{ shape = "rounded" }, { shape = "turned", back = "50 mm", around = "buckle", takes = "rivet" }]\n'
    + 'punches = [{ at = "centre, 15 mm from start", punch = "4 mm" }]\n'
    + rivet(2)
    + '<hardware buckle: 1, buckle>\nbar = "3 mm"\n'
)
ON_BACK = "Set 1 rivet in back, through lower, back, 2 layers, 4 mm, post 6 mm."


@pytest.mark.parametrize(("order", "pieces"), [("lower: landings rivet", "back"), ("", "back")])
def test_a_rivet_through_an_end_that_is_sewn_on_is_set_once_it_is(
    resolve_text: Resolve, order: str, pieces: str
) -> None:
    """The first step has strap and rivet too: that one closes the other end."""
    making = step("Make it, turned round its buckle.", straps="lower", hardware="buckle rivet")
    sewing = step("Sew the strap on, and rivet it.", pieces=pieces, hardware="rivet")
    if order:
        sewing += 'order = ["lower: landings", "rivet"]\n'
    plan = plan_work(resolve_text(write_out(LOWER) + making + sewing))
    assert [ON_BACK in told(plan, k) for k in (1, 2)] == [False, True]


WATCH = """\
[straps.short]
title = "Short part"
of = "body"
width = "20 mm"
finished = "100 mm"
doubled = true
stitch = "main"
ends = [{ shape = "turned", back = "20 mm", around = "bar", keeper = "fixed" }, { shape = "rounded" }]
punches = [{ at = "centre, 20 mm from end", punch = "3 mm" }]
[straps.fixed]
title = "Fixed keeper"
of = "body"
width = "8 mm"
keeper-for = "short"
overlap = "6 mm"
[straps.loose]
title = "Loose keeper"
of = "body"
width = "8 mm"
keeper-for = "short"
overlap = "0 mm"
<hardware bar: 1, spring bar>
kind = "other"
bar = "2 mm"
"""
CUT = step("Cut the strap and its second layer, and punch it.", straps="short", tools="knife")
KEEP = step("Make both keepers.", straps="fixed loose")
MAKE_UP = step("Turn the end round the bar and sew all round.", straps="short", hardware="bar", tools="glue")
SLIDE = step("Slide the loose keeper on.", straps="loose")


def test_an_end_that_is_sewn_is_turned_and_lined_by_the_step_that_has_what_lies_in_it(resolve_text: Resolve) -> None:
    plan = plan_work(resolve_text(write_out(WATCH) + CUT + KEEP + MAKE_UP + SLIDE))
    assert told(plan, 1)[0] == "Short part"
    assert told(plan, 1)[2:] == ["Short part: cut its second layer of body, 100 mm long."]
    assert told(plan, 3)[0] == "Short part (from step 1); Fixed keeper (from step 2); 1 × spring bar"
    words = "Short part, first end: turn back round the spring bar, second layer in; "
    turned = next(k for k, line in enumerate(told(plan, 3)) if line.startswith(words))
    assert told(plan, 3)[turned].endswith("Fixed keeper in the fold, close behind that.")
    assert told(plan, 3)[turned + 1].endswith("Sew Short part, along the edge.")
    assert "Short part: punch its holes on through the second layer." in told(plan, 3)[:turned]
    assert "3 mm hole punch" in plan.steps[2].tools
    drawn = [{line for one in told_step.drawn if one.name == "short" for line in one.seams} for told_step in plan.steps]
    assert drawn == [set(), set(), {"short"}, set()], "its row stands in the step that sews it"


def test_a_second_layer_is_trimmed_where_its_strap_is_not_straight(resolve_text: Resolve) -> None:
    """It is cut as a plain strip, and this strap has a rounded end."""
    trim = "Short part: its second layer is cut straight: once it is fast, trim it level all round."
    text = write_out(WATCH) + CUT + KEEP + MAKE_UP + SLIDE
    assert ('shape = "pointed"' in text or 'shape = "rounded"' in text) == (
        trim in told(plan_work(resolve_text(text)), 3)
    )
    plain = text.replace('shape = "pointed"', 'shape = "square"').replace('shape = "rounded"', 'shape = "square"')
    assert trim not in told(plan_work(resolve_text(plain)), 3)


def test_it_is_turned_at_once_where_its_first_step_has_that(resolve_text: Resolve) -> None:
    plan = plan_work(resolve_text(write_out(WATCH) + KEEP + CUT + 'hardware = ["bar"]\n' + MAKE_UP))
    assert any("turn back round the spring bar" in line for line in told(plan, 2))
    assert not any("turn back" in line for line in told(plan, 3))


def test_a_keeper_tells_how_its_ends_lie_and_is_slid_on_where_a_step_says_so(resolve_text: Resolve) -> None:
    plan = plan_work(resolve_text(write_out(WATCH) + CUT + KEEP + MAKE_UP + SLIDE))
    held = "Fixed keeper: its ends lie over each other for 6 mm, and are held in the fold of Short part, first end."
    assert {held, "Loose keeper: its ends meet."} <= {*told(plan, 2)}
    glued = KEEP + 'tools = ["contact cement"]\n'
    found = told(plan_work(resolve_text(write_out(WATCH) + CUT + glued + MAKE_UP + SLIDE)), 2)
    assert {held.replace("lie over", "are glued over"), "Loose keeper: its ends meet."} <= {*found}
    assert told(plan, 4) == [
        "Loose keeper (from step 2); Short part (from step 3)",
        "Slide Loose keeper on Short part.",
    ]
    assert plan.steps[3].good == (), "made up, it is not measured flat"
    drawn = [(one.name, one.turned, one.slid) for one in plan.steps[3].drawn]
    assert drawn == [("short", (0,), ("loose",))], "nor drawn so, but on its strap"
    bevel = step("Bevel the loose keeper.", straps="loose")
    plan = plan_work(resolve_text(write_out(WATCH) + CUT + KEEP + MAKE_UP + bevel))
    assert told(plan, 4) == ["Loose keeper (from step 2)"]


SNAP = (
    piece("flap", 200, 80, hole("centre, 20 mm from bottom", "snap"))
    + piece("front", 200, 150, hole("centre, 40 mm from top", "snap"))
    + piece("lining", 200, 80, 'lines = ["flap"]\n')
    + seam("flap", "flap: top", "lining: top", "front: top")
    + seam("lined", "flap: bottom", "lining: bottom")
    + '[hardware.snap]\nwhat = "line 24 snap"\ncount = 1\nposts = ["3 mm", "4 mm", "5 mm", "6 mm"]\n'
)
ON_FRONT = step("Set the lower half.", pieces="front", hardware="snap")
ON_FLAP = step("Set the upper half.", pieces="flap", hardware="snap")


def test_each_half_of_a_snap_is_taken_by_the_step_that_sets_it_and_bought_with_its_own_post(
    resolve_text: Resolve,
) -> None:
    """The front is 2 mm thick, the flap and its lining 4 mm: a longer post."""
    plan = plan_work(resolve_text(write_out(SNAP) + ON_FRONT + step("Sew.", seams="lined flap") + ON_FLAP))
    taken = [told(plan, k)[0] for k in (1, 3)]
    assert [one.split("; ")[-1] for one in taken] == ["1 × stud of line 24 snap", "1 × cap of line 24 snap"]
    (item,) = plan.hardware
    assert item.has_other_studs
    assert (item.studs[0][0], item.studs[0][1]) < item.posts[0]
    plan = plan_work(resolve_text(write_out(SNAP) + ON_FRONT.replace('"front"', '"front", "flap"')))
    assert told(plan, 1)[0].endswith("; 1 × line 24 snap"), "both halves in one step"
    assert not plan.hardware[0].has_other_studs


def test_a_punch_to_be_laid_out_is_never_smaller_than_its_hole(tmp_path: Path) -> None:
    """In inches, as the line of the hole has it: 3.5 mm is 9/64 in, and 1/8 in would be 3.2 mm."""
    plan = variant(tmp_path, "satchel", ('"5/32 in"', '"3.5 mm"'))
    (told,) = (line for line in lines(plan, 1) if "Front panel" in line)
    assert "punch 9/64 in (3.5 mm)" in told
    assert "9/64 in hole punch" in plan.steps[0].tools


@pytest.mark.parametrize(
    ("tool", "laid_out"),
    [
        ("5 mm hole punch", "5 mm hole punch (13/64 in)"),
        ("13/64 in hole punch", "13/64 in hole punch"),
        ("4 mm hole punch", "13/64 in hole punch"),
    ],
)
def test_a_punch_called_by_its_size_in_the_other_unit_is_laid_out_once(
    tmp_path: Path, tool: str, laid_out: str
) -> None:
    """25.4 x 13 / 64 = 5.16 mm, so much as a punch of 5 mm is called in inches; one of 4 mm is another."""
    plan = variant(tmp_path, "satchel", ('"5/32 in"', '"5 mm"'), ('"5/32 in hole punch"', f'"{tool}"'))
    punches = {one for step in plan.steps for one in step.tools if "hole punch" in one}
    assert laid_out in punches
    assert sum("5 mm" in one or "13/64 in" in one for one in punches) == 1
