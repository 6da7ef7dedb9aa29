"""A hem that a seam turns over another part is told with that seam, once, whichever others the piece has. By hand."""

import pytest
from short_specs import piece, seam, step
from spec_text import Resolve
from step_lines import lines

from docgen.plan import plan_work

HEMS = 'hems = [{ edges = "left", turn = "25 mm" }, { edges = "right", turn = "25 mm" }]\n'
BODY = (
    piece("body", 240, 200, HEMS)
    + piece("stay", 20, 200, "cut = 2\n")
    + seam("one", "body: left", "stay", "body")
    + seam("two", "body: right", "stay", "body")
)


def told(edge: str) -> str:
    return f"body: turn {edge} over to the flesh side by 25 mm and press the fold down."


def test_each_of_two_hems_of_one_step_is_turned_with_its_own_seam(resolve_text: Resolve) -> None:
    found = lines(plan_work(resolve_text(BODY + step("Turn them.", pieces="body", seams="one two"))), 1)
    assert [line for line in found if "turn " in line or "Sew seam" in line][::2] == [told("left"), told("right")]
    assert sum("turn " in line for line in found) == 2


def test_each_of_two_hems_is_turned_in_the_step_of_its_own_seam(resolve_text: Resolve) -> None:
    plan = plan_work(resolve_text(BODY + step("Turn one.", seams="one") + step("Turn the other.", seams="two")))
    assert [[line for line in lines(plan, k) if "turn " in line] for k in (1, 2)] == [[told("left")], [told("right")]]


def test_a_hem_that_catches_nothing_is_turned_with_the_rest(resolve_text: Resolve) -> None:
    """Both are said where the step turns them, before either is sewn."""
    bare = piece("body", 240, 200, HEMS) + seam("one", "body: left", "body") + seam("two", "body: right", "body")
    found = lines(plan_work(resolve_text(bare + step("Turn them.", pieces="body", seams="one two"))), 1)
    assert found[:2] == [told("left"), told("right")]
    assert sum("turn " in line for line in found) == 2


@pytest.mark.parametrize(
    ("steps", "seams", "glued"),
    [
        (
            [("Turn the hem, and sew it.", "glue")],
            "body: left",
            [],
        ),  # pressed down dry a line before, with nothing to lay
        (
            [("Turn the hem.", ""), ("Sew it.", "glue")],
            "body: left",
            ["the flesh side of body"],
        ),  # turned dry: it is glued as it is sewn
        ([("Turn the hem, and sew it on.", "glue")], "body: left|stay: left", ["body and stay"]),
    ],
)
def test_a_hem_that_is_glued_as_it_is_turned_is_not_glued_again_for_its_row(
    resolve_text: Resolve, steps: list[tuple[str, str]], seams: str, glued: list[str]
) -> None:
    hem = 'hems = [{ edges = "left", turn = "25 mm" }]\n'
    text = piece("body", 240, 200, hem) + piece("stay", 40, 200) + seam("one", *seams.split("|"))
    for number, (words, tools) in enumerate(steps, start=1):
        is_last = number == len(steps)
        text += step(words, pieces="" if number > 1 else "body", seams="one" if is_last else "", tools=tools)
    plan = plan_work(resolve_text(text))
    found = [line for number in range(1, len(steps) + 1) for line in lines(plan, number) if line.startswith("Put glue")]
    assert [line.split(" on ")[1].split(",")[0].removeprefix("both ") for line in found] == glued


POCKET = 'landings = [{ piece = "patch", at = "centre, 40 mm from top" }]\n'
HEM = 'hems = [{ edges = "top", turn = "12 mm" }]\n'
INSIDE = "Mark round it, take it off, and roughen the grain inside the mark, where it is glued"


@pytest.mark.parametrize(
    ("edges", "of", "told"),
    [
        (HEM, "body", [f"{INSIDE}, and that of its top hem there."]),  # 4 mm of either end of it lie on the front
        ("", "body", [f"{INSIDE}."]),
        (HEM, "nap", ["Mark round it, and take it off."]),  # glue holds on either as they are
    ],
)
def test_the_grain_of_a_hem_that_is_glued_down_is_roughened(
    resolve_text: Resolve, edges: str, of: str, told: list[str]
) -> None:
    """The hem brings it down on what the flesh side is said to lie on: common practice, no published source."""
    nap = '[materials.nap]\nkind = "leather"\nthickness = "2 mm"\nfinish = "suede"\n'
    text = nap + piece("front", 240, 200, POCKET, of) + piece("patch", 120, 100, edges, of)
    text += seam("one", "patch: left bottom right", "front") + step(
        "Sew it on.", pieces="patch", seams="one", tools="glue"
    )
    assert [line for line in lines(plan_work(resolve_text(text)), 1) if line.startswith("Mark")] == told
