"""A small part that lies on a larger one and is sewn down with its edge: when it is drawn, and where the row begins."""

import pytest
from short_specs import piece, seam, step
from spec_text import Resolve

from docgen.assemble import Assembled, Copy, TakenApart
from docgen.pages.pictures.step_drawing import StepScene, set_scene

CORNER = """\
[pieces.corner]
of = "body"
shape = "outline"
points = [
  { at = ["30 mm", "0 mm"], edge = "side" },
  { at = ["30 mm", "30 mm"], edge = "slope" },
  { at = ["0 mm", "0 mm"], edge = "foot" },
]
"""


def sewn_round(resolve_text: Resolve, tools: str = "awl", at: str = "0 mm from right") -> TakenApart:
    """A cover and its lining of 320 by 260, sewn together all round, with a corner pocket that is laid down before."""
    lands = f'landings = [{{ piece = "corner", at = "{at}, 0 mm from bottom" }}]\n'
    build = resolve_text(
        piece("cover", 320, 260)
        + piece("lining", 320, 260, lands)
        + CORNER
        + seam("round", "cover: all", "lining: all")
        + step("Glue the corner down.", pieces="corner", tools=tools)
        + step("Sew it.", seams="round")
    )
    assert isinstance(build, Assembled)
    return TakenApart(build)


def scene_of(apart: TakenApart, step: int) -> StepScene:
    bodies, (heap,) = apart.heaps(step)
    return set_scene(bodies, heap, apart.joined(heap, step, bodies))


@pytest.mark.parametrize(("tools", "step"), [("contact cement", 0), ("awl", 1)])
def test_what_a_step_glues_down_is_drawn_there(resolve_text: Resolve, tools: str, step: int) -> None:
    """Not again in the step of the seam that catches it; without glue it comes with that."""
    apart = sewn_round(resolve_text, tools)
    moved = [[one.copies for heap in apart.heaps(k)[1] for one in heap.moved] for k in (0, 1)]
    assert [(Copy("corner"),) in copies for copies in moved] == [step == 0, step == 1]


@pytest.mark.parametrize(("at", "is_framed"), [("0 mm from left", False), ("0 mm from right", True)])
def test_a_row_that_begins_beyond_the_frame_is_begun_in_the_picture(
    resolve_text: Resolve, at: str, is_framed: bool
) -> None:
    """The row goes round from the lower left corner of the cover, which lies on the lower right one of the lining that lies
    on its back: of a pocket there it begins in the frame of that."""
    scene = scene_of(sewn_round(resolve_text, at=at), 1)
    assert scene.detail is not None
    assert scene.detail.window is not None
    left, right, bottom, top = scene.detail.window
    begun = {row.seam: row.at for row in scene.detail.rows if row.seam not in scene.detail.unmarked}
    assert all(left <= spot.x <= right and bottom <= spot.y <= top for spot in begun.values())
    assert ("round" in begun) == is_framed
    assert ("round" in scene.drawing.unmarked) == is_framed
