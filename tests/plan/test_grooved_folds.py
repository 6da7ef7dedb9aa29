"""Folds that a step only grooves are bent by the step that folds them, and those of like walls are told in one line.

That a groove for a fold goes no deeper than half the thickness is common practice, no published source.
"""

import pytest
from short_specs import piece, seam, step
from spec_text import Resolve, write_out
from step_lines import lines

from docgen.plan import plan_work


def folds(*places: str) -> str:
    made = ", ".join('{ at = "' + at + '", open = true, angle = 90 }' for at in places)
    return f"folds = [{made}]\n"


WALLS = ("30 mm from left", "30 mm from right", "30 mm from top", "30 mm from bottom")
SEWN = seam("round", "box: all", "shell: all")
GROOVE = (
    "box: groove its fold lines on the flesh side, no deeper than half the thickness, "
    "and leave it flat: it is bent in step 2."
)
FOUR = "box: bend on its fold lines, 30 mm from left, right, top and bottom, flesh side in."


def told(resolve_text: Resolve, first: str, second: str, *places: str) -> tuple[list[str], list[str], tuple[str, ...]]:
    text = piece("box", 200, 160, folds(*places)) + piece("shell", 200, 160) + SEWN
    text = write_out(text) + step(first, pieces="box") + step(second, seams="round")
    plan = plan_work(resolve_text(text))
    return lines(plan, 1), lines(plan, 2), plan.steps[0].tools


@pytest.mark.parametrize(
    ("first", "second", "grooved", "bent"),
    [
        ("Groove and damp the folds of the box.", "Fold up the walls and sew.", [GROOVE], [[], [FOUR]]),
        ("Score the fold lines.", "Bend the walls, sew.", [GROOVE], [[], [FOUR]]),
        ("Groove the folds and bend them.", "Sew round.", [], [[FOUR], []]),
        ("Groove and bend up the folds.", "Sew round.", [], [[FOUR], []]),
        ("Groove the folds.", "Sew round.", [], [[FOUR], []]),
    ],
)
def test_what_is_only_grooved_is_bent_by_the_step_that_folds_it(
    resolve_text: Resolve, first: str, second: str, grooved: list[str], bent: list[list[str]]
) -> None:
    one, two, tools = told(resolve_text, first, second, *WALLS)
    assert [line for line in (*one, *two) if "groove" in line] == grooved
    assert [[line for line in made if ": bend on" in line] for made in (one, two)] == bent
    assert ("groover" in tools) is bool(grooved)


def test_folds_as_far_from_their_edges_are_one_line_and_others_their_own(resolve_text: Resolve) -> None:
    one, _, _ = told(resolve_text, "Bend the walls.", "Sew.", *WALLS[:2], "31 mm from top")
    assert [line for line in one if "bend on" in line] == [
        "box: bend on its fold lines, 30 mm from left and right, flesh side in.",
        "box: bend on its fold line, 31 mm from the top, flesh side in.",
    ]
