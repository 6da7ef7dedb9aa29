"""What a picture of a step may say: what lies between what, what is joined by then, which way a row goes, how wide a line
is; each on short builds of its kind, by the places of their parts."""

from __future__ import annotations

from collections.abc import Callable
from itertools import permutations

import pytest
from short_specs import step
from spec_text import HEAD

from docgen.assemble import Assembled, TakenApart
from docgen.pages.pictures.pictures import Pictures
from docgen.pages.work.acts import tell
from docgen.plan import plan_work

Resolve = Callable[[str], Assembled]


@pytest.fixture
def head() -> str:
    return HEAD


MASK = """
[pieces.front]
of = "body"
shape = "outline"
points = [
  { at = ["0", "0"], edge = "mouth" },
  { at = ["60 mm", "0"], edge = "spine" },
  { at = ["60 mm", "180 mm"], edge = "tip", curve = ["40 mm", "200 mm", "10 mm", "160 mm"] },
  { at = ["0", "90 mm"], edge = "belly" },
]
[pieces.back]
like = "front"
mirror = true
[pieces.welt]
of = "body"
shape = "outline"
points = [
  { at = ["0", "0"], edge = "foot" },
  { at = ["10 mm", "0"], edge = "inner", curve = ["20 mm", "100 mm", "40 mm", "150 mm"] },
  { at = ["60 mm", "165 mm"], edge = "top" },
  { at = ["60 mm", "180 mm"], edge = "tip", curve = ["40 mm", "200 mm", "10 mm", "160 mm"] },
  { at = ["0", "90 mm"], edge = "belly" },
]
"""
SHEATH = """
<rectangle front: ["80 mm", "200 mm"]>
<rectangle back: ["80 mm", "200 mm"]>
<rectangle welt: ["14 mm", "200 mm"]>
"""
KINDS = {"mask": (MASK, "tip belly"), "sheath": (SHEATH, "right")}
ORDERS = [*permutations(("front", "welt", "back"))]


def welted(resolve_text: Resolve, kind: str, order: tuple[str, ...]) -> Assembled:
    text, edges = KINDS[kind]
    meet = ", ".join(f'"{part}: {edges}"' for part in order)
    return resolve_text(f"{text}\n<seam s: [{meet}]>\n" + step("Sew all three.", seams="s"))


@pytest.mark.parametrize("order", ORDERS, ids=" ".join)
@pytest.mark.parametrize("kind", KINDS)
def test_a_welt_lies_between_its_panels_wherever_its_seam_names_it(
    resolve_text: Resolve, kind: str, order: tuple[str, ...]
) -> None:
    """A welt is the layer between front and back that keeps the edge off the thread (a term of the trade)."""
    build = welted(resolve_text, kind, order)
    apart = TakenApart(build)
    heights = {body.copy.part: body.faces[0].corners[0][2] for body in apart.bodies}
    assert sorted(heights, key=lambda part: heights[part])[1] == "welt"
    outs = {body.copy.part: body.placed.out(0)[2] for body in apart.bodies}
    top, foot = (pick(("front", "back"), key=lambda part: heights[part]) for pick in (max, min))
    assert outs[top] > 0 > outs[foot]


@pytest.mark.parametrize("order", ORDERS, ids=" ".join)
@pytest.mark.parametrize("kind", KINDS)
def test_a_welt_is_drawn_apart_between_its_panels_and_told_so(
    resolve_text: Resolve, kind: str, order: tuple[str, ...]
) -> None:
    build = welted(resolve_text, kind, order)
    (scene,) = Pictures(build)._scenes(0)
    heights = {one.body.copy.part: one.shift[2] for one in scene.drawing.shown}
    assert sorted(heights, key=lambda part: heights[part])[1] == "welt"
    assert len({round(high, 3) for high in heights.values()}) == len(heights)
    acts = [line for line in map(tell, plan_work(build).steps[0].acts) if line.startswith(("Edges level", "Lay "))]
    assert len(acts) == 2
    assert all("welt" in line for line in acts)


def test_of_three_layers_of_one_shape_the_one_named_in_the_middle_lies_between(resolve_text: Resolve) -> None:
    """A welt that is cut as the whole panel cannot be told by its size, but by its place in the seam."""
    text = MASK.partition("[pieces.welt]")[0] + '[pieces.welt]\nlike = "front"\n'
    meet = '["front: tip belly", "welt: tip belly", "back: tip belly"]'
    apart = TakenApart(resolve_text(f"{text}\n<seam s: {meet}>\n" + step("Sew.", seams="s")))
    heights = {body.copy.part: body.faces[0].corners[0][2] for body in apart.bodies}
    assert sorted(heights, key=lambda part: heights[part])[1] == "welt"


def test_both_ends_of_a_folded_loop_are_sewn_on_one_line(resolve_text: Resolve) -> None:
    """By hand: 120 mm folded in the middle; both ends lie on the back 4 mm over the foot of the loop, which lands 40 mm
    up: 44 mm; no line lies where the loop would reach unfolded."""
    build = resolve_text(
        """
<rectangle back: ["100 mm", "300 mm"]>
landings = [{ piece = "loop", at = "centre, 40 mm from bottom" }]
<rectangle loop: ["30 mm", "120 mm"]>
folds = [{ at = "middle" }]
<seam s: ["loop: top", "loop: bottom", "back"]>
"""
        + step("Sew the loop on.", pieces="loop back", seams="s")
    )
    back = next(piece for piece in build.pieces if piece.name == "back")
    inset_mm = build.stitches[0].inset_mm
    (line,) = [line for line in back.marks.stitch_lines if line.seam == "s"]
    assert {round(segment.start.y, 3) for segment in line.path.segments} == {round(40 + inset_mm, 3)}
