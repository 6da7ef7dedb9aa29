"""The order of work on straps in a step, and what holds their ends until they are sewn: each is made before it is laid,
laid and sewn before it is riveted, and turned before its end is sewn. Common practice, no published source.
"""

from collections.abc import Callable
from pathlib import Path

import pytest
from spec_text import HEAD, write_out
from step_lines import good, lines

from docgen.checks import resolve_build
from docgen.plan import Plan, list_jobs, plan_work
from docgen.read import read_spec

Make = Callable[[str], Plan]

PANEL = """\
<rectangle panel: ["300 mm", "200 mm"]>
holes = [{ at = "centre, 60 mm from top", punch = "4 mm", takes = "rivet", through = ["tab"] }]
landings = [{ strap = "tab", at = "centre, 80 mm from top", over = "50 mm", stitch = "main" }]
[straps.tab]
of = "body"
width = "30 mm"
finished = "300 mm"
punches = [{ at = "centre, 20 mm from start", punch = "4 mm" }]
ends = [{ shape = "square" }, { shape = "rounded" }]
<hardware rivet: 1, double-cap rivet>
posts = ["4 mm", "6 mm"]
"""
STEP = '[[steps]]\ndo = "Sew the tab on and rivet it."\npieces = ["panel"]\nhardware = ["rivet"]\nstraps = ["tab"]\n'
TAB = """\
<rectangle panel: ["300 mm", "200 mm"]>
<rectangle loop: ["20 mm", "80 mm"]>
folds = [{ at = "middle", around = "ring" }]
<seam hold: ["loop: top", "loop: bottom", "panel: left from top 40 mm to top 60 mm"]>
[straps.grip]
of = "body"
width = "20 mm"
finished = "300 mm"
ends = [{ shape = "turned", back = "40 mm", around = "ring", takes = "rivet", sewn = "main" }, { shape = "square" }]
punches = [{ at = "centre, 20 mm from start", punch = "4 mm" }]
<hardware rivet: 1, double-cap rivet>
posts = ["4 mm", "6 mm"]
<hardware ring: 1, D ring>
inside = "21 mm"
bar = "3 mm"
<step "Fold and crease all.": pieces = ["panel", "loop"]>
<step "Fold the loop round its ring and sew it on.": pieces = ["loop"]>
seams = ["hold"]
hardware = ["ring"]
<step "Turn the grip and close it.": straps = ["grip"]>
hardware = ["ring", "rivet"]
"""


@pytest.fixture
def make(tmp_path: Path) -> Make:
    def plan(text: str) -> Plan:
        path = tmp_path / "a.toml"
        path.write_text(HEAD + write_out(text), encoding="utf-8")
        return plan_work(resolve_build(read_spec(path)))

    return plan


def places(told: list[str], *starts: str) -> list[int]:
    """Where the lines that begin so stand."""
    return [next(at for at, line in enumerate(told) if line.startswith(start)) for start in starts]


@pytest.mark.parametrize("order", ["", 'order = ["tab: landings", "rivet"]\n'])
def test_a_strap_is_made_then_laid_and_sewn_then_riveted(make: Make, order: str) -> None:
    told = lines(make(PANEL + STEP + order), 1)
    found = places(told, "tab: first end", "tab, first end, on", "Set up stitch main. Sew tab", "Set 1 rivet")
    assert found == sorted(found)


def test_what_its_order_sets_first_is_set_first(make: Make) -> None:
    told = lines(make(PANEL + STEP + 'order = ["rivet", "tab: landings"]\n'), 1)
    found = places(told, "Set 1 rivet", "Set up stitch main. Sew tab")
    assert found == sorted(found)


def test_an_end_is_turned_before_it_is_sewn_and_riveted(make: Make) -> None:
    told = lines(make(TAB), 3)
    found = places(told, "grip, first end: turn back", "Sew grip, first end", "Set 1 rivet")
    assert found == sorted(found)


def test_a_fold_round_metal_is_made_where_that_is_in_hand_alone(make: Make) -> None:
    plan = make(TAB)
    assert [sum("loop: fold" in line for line in lines(plan, number)) for number in (1, 2)] == [0, 1]


def test_an_end_is_laid_marked_glued_and_pressed_down(make: Make) -> None:
    plan = make(PANEL + STEP + 'tools = ["contact cement"]\n')
    told = lines(plan, 1)
    found = places(told, "tab, first end, on", "Mark round", "Put contact cement inside the mark", "Wait 15 to 120 min")
    assert found == list(range(found[0], found[0] + 4))
    assert "press tab down" in told[found[-1]]
    assert not plan.steps[0].waits, "it stands behind the line that puts the cement on"


def test_tape_goes_on_before_an_end_is_laid(make: Make) -> None:
    told = lines(make(PANEL + STEP + 'tools = ["double-sided tape"]\n'), 1)
    found = places(told, "Put double-sided tape on the flesh side of tab", "tab, first end, on")
    assert found[1] == found[0] + 1


def test_holes_of_straps_that_are_punched_with_the_pieces_are_counted(make: Make) -> None:
    assert "holes open from side to side: 2" in good(make(PANEL + STEP), 1)


def test_rows_that_sew_ends_have_their_spans(make: Make) -> None:
    """Up 26 mm to 4 mm from the end, across 22 mm, and as far down again: an iron counts each part by itself."""
    landed = [job for (kind, _), job in list_jobs(make(PANEL + STEP).build) if kind == "landings"]
    assert [[round(mm) for mm in job.spans_mm] for job in landed] == [[46, 22, 46]]
    turned = [job for _, job in list_jobs(make(TAB).build) if job.line and job.parts == ("grip",)]
    assert [job.spans_mm for job in turned] == [(job.length_mm,) for job in turned]
    assert turned


def test_cement_goes_on_what_a_step_lays_and_not_on_what_it_punches(make: Make) -> None:
    plan = make(
        '<rectangle base: ["300 mm", "100 mm"]>\n<rectangle panel: ["300 mm", "200 mm"]>\n'
        'holes = [{ at = "centre, 60 mm from top", punch = "4 mm" }]\n'
        '[materials.board]\nkind = "board"\nthickness = "1 mm"\n'
        '<rectangle stiffener of board: ["280 mm", "80 mm"]>\nlines = ["base"]\n'
        '<step "Punch the panel and glue the board in.": pieces = ["panel", "base", "stiffener"]>\n'
        'tools = ["contact cement"]\n'
    )
    (told,) = [line for line in lines(plan, 1) if "faces that meet" in line]
    assert told == "Put contact cement all over the faces that meet before each part is laid: base and stiffener."


@pytest.mark.parametrize(("ends", "range_mm"), [("", (2.0, 4.0)), (', sewn = "main"', (4.0, 4.0))])
def test_a_row_beyond_the_second_layer_goes_through_one(make: Make, ends: str, range_mm: tuple[float, float]) -> None:
    """A doubled grip whose end is turned after it is sewn: its second layer ends at the fold. Where what lies back has rows
    of its own, that along the grip begins within."""
    doubled = TAB.replace('finished = "300 mm"\n', 'finished = "300 mm"\ndoubled = true\nstitch = "main"\n')
    later = doubled.replace('around = "ring", takes', 'around = "hook", takes').replace(
        '["ring", "rivet"]', '["hook", "rivet"]'
    )
    hook = '<hardware hook: 1, swivel hook>\ninside = "21 mm"\nbar = "3 mm"\n'
    plan = make(hook + later.replace(', sewn = "main"', ends))
    jobs = [job for _, job in list_jobs(plan.build) if job.parts == ("grip",) and not job.line]
    assert [job.stack_range_mm for job in jobs] == [range_mm]
