"""What lies on an inner side is drawn on it while it is sewn inside out, unless a lining hides it. By hand."""

import pytest
from short_specs import SHORT_HEAD, piece, seam, step
from spec_text import Resolve

from docgen.assemble import Assembled, Copy, TakenApart
from docgen.pages.pictures.step_drawing import set_scene

BAG = 'landings = [{ piece = "bag", at = "centre, 30 mm from bottom", inside = true }]\n'
LINING = 'lines = ["front"]\n'


@pytest.fixture
def head() -> str:
    return SHORT_HEAD


@pytest.mark.parametrize(
    ("turned", "lined", "is_drawn"),
    [("turned = true\n", False, True), ("turned = true\n", True, False), ("", False, True)],
)
def test_a_pocket_bag_is_drawn_on_the_flesh_side(
    resolve_text: Resolve, turned: str, lined: bool, is_drawn: bool
) -> None:
    build = resolve_text(
        piece("front", 200, 120, BAG, "hide")
        + piece("back", 200, 120, of="hide")
        + piece("bag", 120, 60, of="silk")
        + (piece("lining", 200, 120, LINING, "silk") if lined else "")
        + seam("bag", "bag: left bottom right", "front")
        + seam("round", "front: left bottom right", "back: left bottom right", more=turned)
        + step("Sew the bag on.", seams="bag")
        + (step("Glue the lining in.", pieces="front lining", tools="cement") if lined else "")
        + step("Sew it.", seams="round")
    )
    assert isinstance(build, Assembled)
    apart, last = TakenApart(build), 1 + lined
    bodies, (heap,) = apart.heaps(last)
    assert Copy("bag") in heap.copies
    shown = set_scene(bodies, heap, apart.joined(heap, last, bodies)).drawing.shown
    assert (Copy("bag") in {one.body.copy for one in shown}) == is_drawn
