"""A hem that a seam turns over another part is told with that seam, once, whichever others the piece has. By hand."""

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
