"""What is done to one of several alike, told of one; a hem of a ring that is glued once; and a fold beyond a bend."""

import pytest
from short_specs import piece, seam, step
from spec_text import Resolve, write_out
from step_lines import lines, words_of

from docgen.plan import plan_work

WALLS = """\
<strip wall: ["200 mm", "300 mm"]>
cut = 2
HEM
landings = [{ piece = "pocket", at = "60 mm from left, middle" }]
<rectangle pocket: ["80 mm", "60 mm"]>
<join tube: ["wall", "wall"], 12 mm>
ring = true
<seam pocket: ["pocket: left bottom right", "wall"]>
"""
HEM = 'hems = [{ edges = "right", turn = "30 mm" }]\n'


@pytest.mark.parametrize(("both", "told"), [("", 1), ("wall", 2)])
def test_a_pocket_on_one_of_two_walls_takes_one(resolve_text: Resolve, both: str, told: int) -> None:
    text = WALLS.replace("HEM\n", "") + "times = 1\n"
    plan = plan_work(resolve_text(write_out(text) + step("Sew the pocket on.", seams="pocket", pieces=both)))
    takes = words_of(plan.steps[0].takes)
    assert ("2 × wall" in takes, "wall" in takes) == (told == 2, told == 1)


def test_a_hem_of_a_ring_is_glued_as_it_is_turned(resolve_text: Resolve) -> None:
    """Once: its row holds it after that."""
    text = WALLS.replace("HEM\n", HEM) + '<seam hem: ["tube: right", "tube"]>\n'
    work = step("Join the walls.", joins="tube") + step("Hem the top.", seams="hem") + 'tools = ["contact cement"]\n'
    found = lines(plan_work(resolve_text(write_out(text) + step("Sew it.", seams="pocket") + work)), 3)
    assert [line for line in found if "contact cement" in line] == [
        "2 × wall: turn right over to the flesh side by 30 mm, contact cement dry on both faces, and press the fold down."
    ]
    assert not any(line.startswith(("Press the", "Wait ")) for line in found)


BACK = 'folds = [{ at = "AT from top", open = true, angle = 90 }]\n'
BACK += 'holes = [{ at = "centre, 130 mm from bottom", punch = "4 mm" }]\n'
LOOP = (
    'folds = [{ at = "middle" }]\n'
    'holes = [{ at = "centre, 20 mm from top", punch = "4 mm", takes = "rivet", through = ["back"] }, '
    '{ at = "centre, 20 mm from bottom", punch = "4 mm", takes = "rivet" }]\n'
)


@pytest.mark.parametrize("at", ["30 mm", "75 mm"])
def test_towards_what_a_fold_lies_is_told_beyond_a_bend_as_well(resolve_text: Resolve, at: str) -> None:
    """The fold lies 65 mm above the hole, 195 mm from the bottom of a back that is 240 mm high."""
    text = piece("back", 90, 240, BACK.replace("AT", at)) + piece("loop", 40, 170, LOOP)
    text += "<hardware rivet: 1, rivet>\n" + piece("front", 90, 140)
    text += seam("round", "front: left bottom right", "back: left bottom right from top 100 mm to top 100 mm")
    work = step("Rivet the loop on.", pieces="back loop", hardware="rivet") + step("Sew.", seams="round")
    (told,) = [line for line in lines(plan_work(resolve_text(write_out(text) + work)), 1) if "holes on holes" in line]
    assert told.endswith("on the grain side of back, fold towards the top.")
