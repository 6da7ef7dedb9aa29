"""What is lifted off a body leads through nothing that stays: a flap that lies on a front stands up meanwhile."""

import pytest
from built import built
from short_specs import piece, seam, step
from spec_text import Resolve

from docgen.assemble import Assembled, Copy, TakenApart, inner


def bends_of(build: Assembled, part: str, step: int) -> float:
    """The smallest cosine between two bands of a part as it is drawn at a step (from 0)."""
    bodies, _ = TakenApart(build).heaps(step)
    grains = [face.grain for face in bodies[Copy(part)].faces]
    return min(inner(grains[0], grain) for grain in grains)


def test_a_front_is_not_lifted_through_the_flap_before_it() -> None:
    """The flap reaches down over the upper half of the front, 8 off it: few corners of the front lie so high."""
    assert bends_of(built("hip-pouch").build, "back", 2) == pytest.approx(1)


def test_nor_through_a_flap_that_lies_on_it(resolve_text: Resolve) -> None:
    """2 mm over it: 40 mm of gusset between its rows, and 42 of flap between its folds."""
    folds = ", ".join(f'{{ at = "{down} mm from top", open = true, angle = 90 }}' for down in (100, 142))
    build = resolve_text(
        piece("front", 200, 100)
        + piece("back", 200, 242, f"folds = [{folds}]\n")
        + '[pieces.wall]\nof = "body"\nshape = "strip"\nsize = ["48 mm", "solve"]\n'
        + seam("one", "front: left bottom right", "wall: left")
        + seam("two", "back: left bottom right from bottom 100 mm to bottom 100 mm", "wall: right")
        + step("Sew.", seams="one two")
    )
    assert bends_of(build, "back", 0) == pytest.approx(1)
