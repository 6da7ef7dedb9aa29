"""Glue is put on where something is to be held, and its wait is told where it is put on. By hand."""

import pytest
from short_specs import piece, seam, step
from spec_text import HEAD, Resolve
from step_lines import lines

from docgen.plan import PlanStep, plan_work

PANELS = piece("front", 160, 140) + piece("back", 160, 140)
MOUTH = seam("mouth", "front: top")
ROUND = seam("round", "front: left bottom right", "back: left bottom right")
GLUE = 'tools = ["contact cement"]\n'


@pytest.fixture
def head() -> str:
    return HEAD


def make(resolve_text: Resolve, text: str) -> tuple[PlanStep, list[str]]:
    plan = plan_work(resolve_text(PANELS + text))
    return plan.steps[0], [line for line in lines(plan, 1) if "contact cement" in line]


def test_a_row_through_one_layer_takes_no_glue(resolve_text: Resolve) -> None:
    _, told = make(resolve_text, MOUTH + ROUND + step("Sew.", seams="mouth round") + GLUE)
    assert told == ["Put contact cement on both front and back, no more than 4 mm from the edges that meet."]


def test_a_row_that_closes_a_fold_takes_some(resolve_text: Resolve) -> None:
    """Two layers of one part are held as well."""
    folded = piece("sleeve", 100, 80, 'folds = [{ at = "centre" }]\n')
    _, told = make(
        resolve_text, folded + seam("side", "sleeve: left", "sleeve: right") + step("Sew.", seams="side") + GLUE
    )
    assert told == ["Put contact cement on sleeve, no more than 4 mm from the edges that meet."]


@pytest.mark.parametrize(
    ("do", "waits"),
    [("Sew the row along the mouth.", 0), ("Glue a tape behind the mouth and sew the row.", 1), ("Sew.", 0)],
)
def test_the_wait_of_a_glue_is_told_where_it_is_put_on(resolve_text: Resolve, do: str, waits: int) -> None:
    """A glue among the tools that no line and no word puts on is not waited for."""
    made, told = make(resolve_text, MOUTH + ROUND + step(do, seams="mouth") + GLUE + step("Sew.", seams="round"))
    assert (len(made.waits), told) == (waits, [])


def test_the_wait_of_a_paint_is_told_though_no_line_puts_it_on(resolve_text: Resolve) -> None:
    made, _ = make(resolve_text, ROUND + step("Sew.", seams="round") + 'tools = ["edge paint"]\n')
    assert [goods for goods, _ in made.waits] == ["edge paint"]
