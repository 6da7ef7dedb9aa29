"""What a picture of a step brings is in sight in it, whatever it lies on, in or under; on short builds of its kind."""

from collections.abc import Callable

import pytest
from short_specs import step

from docgen.assemble import Assembled
from docgen.pages.pictures.pictures import Pictures
from docgen.pages.pictures.step_drawing import StepScene

Resolve = Callable[[str], Assembled]


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


PATCHES = """
<rectangle panel: ["200 mm", "200 mm"]>
landings = [
  { piece = "above", at = "88 mm from left, 88 mm from bottom" },
  { piece = "beneath", at = "88 mm from left, 88 mm from bottom", inside = true },
]
<rectangle above: ["24 mm", "24 mm"]>
<rectangle beneath: ["24 mm", "24 mm"]>
"""


def named_in_sight(scene: StepScene) -> set[str]:
    """The new parts of which a ray from the eye meets a face first, in its middle or near one of its corners."""
    drawing, found = scene.drawing, set()
    for place, one in enumerate(drawing.shown):
        for face in one.body.faces:
            corners = [drawing.flat(at, one.shift) for at in face.corners]
            middle = [sum(axis) / len(corners) for axis in zip(*corners, strict=True)]
            for corner in (middle, *corners):
                x, y, near = (0.9 * its + 0.1 * mean for its, mean in zip(corner, middle, strict=True))
                front = drawing.hider.front_at(x, y, near - 1.0)
                if front is not None and drawing.owners[front[0]] == place and one.is_new:
                    found.add(one.body.title)
    return found


def test_what_comes_on_both_sides_of_a_panel_is_in_sight(resolve_text: Resolve) -> None:
    """Lifted as far as what lies on the side that is seen, the other patch was behind the panel."""
    text = PATCHES + step("Glue both on.", pieces="panel above beneath", tools="glue")
    scene = scene_of(resolve_text(text))
    assert {"above", "beneath"} <= named_in_sight(scene)
    far = {one.body.title: abs(one.shift[2]) for one in scene.drawing.shown}
    less, more = sorted((far["above"], far["beneath"]))
    assert more > 1.9 * less > 0 == far["panel"]


def test_what_is_in_sight_is_lifted_no_farther(resolve_text: Resolve) -> None:
    text = PATCHES.replace("88 mm", "5 mm")
    scene = scene_of(resolve_text(text + step("Glue both on.", pieces="panel above beneath", tools="glue")))
    far = {one.body.title: round(abs(one.shift[2]), 3) for one in scene.drawing.shown}
    assert far["beneath"] == far["above"] > 0


DIVIDED = """
<rectangle front: ["200 mm", "150 mm"]>
<rectangle back: ["200 mm", "300 mm"]>
<rectangle divider: ["200 mm", "150 mm"]>
<strip wall: ["50 mm", "solve"]>
<seam one: ["front: left bottom right", "wall: left"]>
<seam two: [SIDES]>
"""


def test_what_lies_under_the_edge_of_a_wall_is_lifted_off_between_panel_and_wall(resolve_text: Resolve) -> None:
    """A divider that is sewn between back and gusset stood before the gusset."""
    sides = '"back: left bottom right from top 150 mm to top 150 mm", "divider: left bottom right", "wall: right"'
    build = resolve_text(DIVIDED.replace("SIDES", sides) + step("Sew all.", seams="one two"))
    far = {one.body.copy.part: one.shift[1] for one in scene_of(build).drawing.shown}
    order = sorted(far, key=lambda part: far[part])
    assert order in (["front", "wall", "divider", "back"], ["back", "divider", "wall", "front"])
    assert len({round(mm, 3) for mm in far.values()}) == 4


FLAP = """
<rectangle flap: ["120 mm", "160 mm"]>
folds = [{ at = "40 mm from top", open = true, angle = 90 }, { at = "96 mm from top", open = true, angle = 90 }]
landings = [{ strap = "billet", at = "centre, 40 mm from bottom", leads = "down", over = "40 mm", stitch = "main" }]
<rectangle back: ["120 mm", "150 mm"]>
<rectangle front: ["120 mm", "150 mm"]>
<strip wall: ["60 mm", "solve"]>
[straps.billet]
of = "body"
width = "20 mm"
finished = "LONG mm"
ends = [{ shape = "square" }, { shape = "pointed" }]
<seam flap: ["flap: top", "back: top"]>
lap = "12 mm"
<seam one: ["front: left bottom right", "wall: left"]>
<seam two: ["back: left bottom right", "wall: right"]>
[[steps]]
do = "Sew the billet on."
straps = ["billet"]
order = ["billet: landings"]
"""


@pytest.mark.parametrize("long", [60, 200])
def test_a_strap_on_a_flap_lies_straight_while_that_lies_on_the_bench(resolve_text: Resolve, long: int) -> None:
    """At last one of 200 mm goes round the foot of the bag, which is not there when it is sewn on."""
    build = resolve_text(FLAP.replace("LONG", str(long)) + step("Close.", seams="flap one two"))
    billet = next(one.body for one in scene_of(build).drawing.shown if one.body.copy.part == "billet")
    assert len({tuple(round(axis, 3) for axis in face.grain) for face in billet.faces}) == 1
