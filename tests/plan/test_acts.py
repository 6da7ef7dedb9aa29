"""The lines of steps of the demos: every one can be said, tells sides and places, and leaves out what does not follow."""

import re
from dataclasses import replace

import pytest
from demos import PATHS, demo_build
from step_lines import lines, words_of

from docgen.assemble import Assembled
from docgen.pages.work.acts import tell
from docgen.plan import Act, Plan, list_jobs, plan_work
from docgen.plan.acts import list_work_of, step_acts
from docgen.tables.cautions import has_phrase


@pytest.fixture(scope="module")
def bag() -> Plan:
    return plan_work(demo_build("field-bag"))


@pytest.mark.parametrize("name", PATHS)
def test_every_line_can_be_said(name: str) -> None:
    plan = plan_work(demo_build(name))
    for step in plan.steps:
        for one in (*step.takes, *step.acts, *step.good):
            said = tell(one)
            assert said == said.strip() != ""
            assert not re.search(r"  |[{}]|, \.|: \.", said)
        assert not step.jobs or (step.acts and step.good), "what is sewn is told, and what is good"


def test_what_lands_is_told_from_the_nearest_edges_with_the_side_that_is_up(bag: Plan) -> None:
    """By the spec: the pocket in the middle, 1 in from the bottom. A tab of 3/4 in, its middle 3 1/2 in off that of 12 in,
    begins 12 / 2 - 3 1/2 - 3/8 = 2 1/8 in from either side; folded 1 3/4 in long from 5 7/8 in up, it ends
    9 1/4 - 5 7/8 - 1 3/4 = 1 5/8 in below the top."""
    assert (
        "Front panel grain side up: lay Outer pocket on it, that side up too, upright: in the middle "
        "between left and right, 1 in from the bottom."
    ) in lines(bag, 3)
    assert (
        "Lay 2 × Buckle tab on the grain side of Front panel, the half with the holes outside, fold to the top: 2 1/8 in "
        "from left and right, 1 5/8 in from the top."
    ) in lines(bag, 4)


def test_edges_that_stay_outside_have_the_linings_of_both_partners_together(bag: Plan) -> None:
    """Round a quarter circle an edge is longer than the line 5/32 in within it by pi / 2 x 5/32 = 0.245 in, whatever the
    radius (plane geometry)."""
    assert lines(bag, 8)[:5] == [
        "Lay left, bottom and right of Back panel on the left long edge of Gusset, linings together, edges level and "
        "outside.",
        "Gusset: damp the edge with a sponge and stretch it round each corner: there it is 1/4 in short.",
        "Gusset lining: snip the edge there every 1/4 in, no nearer than 1/16 in to the stitch line.",
        "Clip the notch marks together first, then the ends, then between.",
        "Under the needle, from the top: Back panel; Panel lining; Gusset lining; Gusset.",
    ]


def test_a_turned_seam_has_its_grain_sides_together_and_is_turned_once() -> None:
    plan = plan_work(demo_build("crossbody"))
    told = next(lines(plan, step.number) for step in plan.steps if has_phrase(step.do, "face to face"))
    assert sum("grain sides together" in line for line in told) == 2
    assert [line for line in told if line.startswith("Turn it right side out")] == told[-1:]


def test_a_part_whose_place_is_in_doubt_says_nothing_of_its_sides(bag: Plan) -> None:
    gusset = next(one.copy for one in bag.build.space.parts if one.copy.part == "gusset")
    space = replace(bag.build.space, doubtful=(gusset,))
    told = [tell(one) for one in _acts_in(replace(bag.build, space=space))]
    assert any(
        "Edges level: left, bottom and right of Back panel on the left long edge of Gusset." in line for line in told
    )
    assert not any("sides together" in line for line in told)


def _acts_in(build: Assembled) -> tuple[Act, ...]:
    """What step 8 tells."""
    work = list_work_of(build, build.steps, list_jobs(build), {})
    return step_acts(work, 7)


def test_the_second_of_two_straps_on_one_place_is_laid_over_the_first(bag: Plan) -> None:
    told = lines(bag, 11)
    assert (
        "Closing strap, first end, and over it Handle, first end and second end, on the grain side of Back panel, leading "
        "up, holes on holes: middle of the end 2 1/2 in from left and right, 2 3/4 in from top."
    ) in told
    assert "through Handle, Closing strap, Back panel, Panel foam, Panel lining" in told[-1]


def test_the_finished_article_has_its_measures(bag: Plan) -> None:
    """12 in wide and 9 1/4 in high as its panels; 3 1/2 - 2 x 5/32 = 3 3/16 in deep between its stitch lines."""
    due = {item.case: dict(item.due) for item in bag.finished if item.case in ("width", "height", "depth", "pull")}
    assert due["width"]["length"].startswith("12 in ")
    assert due["height"]["length"].startswith("9 1/4 in ")
    assert due["depth"]["length"].startswith("3 3/16 in ")
    assert due["pull"]["load"] == "12 kg"


def test_a_strap_turned_round_rings_that_hang_already_is_riveted_in_its_own_step() -> None:
    """Step 2 hangs both rings in their tabs and sets two of four rivets; step 5 turns the strap round them and sets the
    other two."""
    plan = plan_work(demo_build("crossbody"))
    tabs, strap = plan.steps[1], plan.steps[4]
    assert words_of(tabs.takes)[-2:] == ["2 × double-cap rivet (of 4)", "2 × D ring"]
    assert words_of(strap.takes) == [
        "Gusset (from step 4)",
        "Shoulder strap",
        "2 × double-cap rivet (of 4)",
        "D ring (in place from step 2)",
    ]
    assert not any("Shoulder strap" in line for line in lines(plan, 2))
    assert [line.split(":")[0].split(" in ")[0] for line in lines(plan, 5)] == [
        "Shoulder strap",
        "Shoulder strap, both ends",
        "Once folded, punch on through the layer beneath, 4 mm.",
        "Set 2 rivets",
    ]
