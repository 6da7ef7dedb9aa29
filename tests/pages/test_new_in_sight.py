"""What a picture of a step brings is in sight in it, whatever it lies on, in or under; on short builds of its kind."""

from collections.abc import Callable

import pytest
from short_specs import step
from spec_text import HEAD

from docgen.assemble import Assembled
from docgen.pages.pictures.pictures import Pictures
from docgen.pages.pictures.step_drawing import StepScene

Resolve = Callable[[str], Assembled]


@pytest.fixture
def head() -> str:
    return HEAD


def scene_of(build: Assembled, number: int = 1) -> StepScene:
    (scene,) = Pictures(build)._scenes(number - 1)
    return scene


BENT = """
<rectangle back: ["90 mm", "210 mm"]>
folds = [{ at = "110 mm from top", open = true, angle = 180 }]
landings = [{ piece = "front", at = "centre, 0 from bottom", inside = true }]
<rectangle front: ["90 mm", "TALL mm"]>
<seam round: ["front: left bottom right", "back"]>
"""


@pytest.mark.parametrize(("tall", "bends"), [(100, 0), (101, 1)])
def test_what_ends_at_the_bend_of_its_host_has_an_edge_there(resolve_text: Resolve, tall: int, bends: int) -> None:
    """The back bends 100 mm from its foot: a pocket of 100 mm ends there, one of 101 mm goes on beyond."""
    build = resolve_text(BENT.replace("TALL", str(tall)) + step("Sew the pocket on.", seams="round"))
    scene = scene_of(build)
    scene.drawing.draw(0.2)
    front = next(one.body for one in scene.drawing.shown if one.body.copy.part == "front")
    assert sum(line.kind == "bend" for line in front.lines) == bends
