"""Boxes folded up of one piece, and their lids, as they are drawn in the finished article. Places by hand: a floor of
200 x 60 mm and walls of 40 mm; a lid of 206 x 66 mm and 16 mm over it."""

import pytest
from spec_text import Resolve

from docgen.assemble import TakenApart, find_boxes
from docgen.assemble.apart.boxes import FLOOR, OVER_MM, BoxBody
from docgen.assemble.space.vectors import inner
from docgen.calls.outside import tell_undrawn
from docgen.plan import plan_work

CORNERS = {"fl": "lf", "fr": "rf", "br": "rb", "bl": "lb"}


def net(name: str, wide: int, deep: int, high: int, more: str = "") -> str:
    """The piece with its folds, and the seams of its four corners."""
    x, y = (high, high + wide, 2 * high + wide), (high, high + deep, 2 * high + deep)
    points = [
        (x[0], 0, "front"), (x[1], 0, "fr"), (x[1], y[0], "rf"), (x[2], y[0], "right"), (x[2], y[1], "rb"),
        (x[1], y[1], "br"), (x[1], y[2], "back"), (x[0], y[2], "bl"), (x[0], y[1], "lb"), (0, y[1], "left"),
        (0, y[0], "lf"), (x[0], y[0], "fl"),
    ]  # fmt: skip
    listed = "".join(f'  {{ at = ["{at} mm", "{up} mm"], edge = "{edge}" }},\n' for at, up, edge in points)
    folds = ", ".join(
        f'{{ at = "{high} mm from {s}", open = true, angle = 90 }}' for s in ("left", "right", "top", "bottom")
    )
    text = f'[pieces.{name}]\nof = "body"\nshape = "outline"\npoints = [\n{listed}]\nfolds = [{folds}]\n{more}'
    return text + "".join(
        f'<seam {name}-{k}: ["{name}: {one}", "{name}: {other}"]>\n' for k, (one, other) in enumerate(CORNERS.items())
    )


BOX = net("box", 200, 60, 40)
LID = net("lid", 206, 66, 16, 'lid-of = "box"\n')


def heights(body: BoxBody) -> list[float]:
    return sorted({round(at[2], 3) for face in body.faces for at in face.corners})


def test_walls_stand_up_round_the_floor_with_the_grain_outside(resolve_text: Resolve) -> None:
    (box,) = find_boxes(resolve_text(BOX))
    assert heights(box) == [0.0, 40.0]
    floor = next(face for face in box.faces if face.band == FLOOR)
    assert sorted({round(at[0] - box.at[0], 3) for at in floor.corners}) == [-100.0, 100.0]
    assert floor.grain == (0.0, 0.0, -1.0)
    for face in box.faces:
        middle = [sum(at[k] for at in face.corners) / len(face.corners) for k in range(3)]
        outward = (middle[0] - box.at[0], middle[1] - box.at[1], middle[2] - 20)
        assert inner(face.grain, outward) > 0


def test_of_what_is_folded_grain_side_in_the_grain_is_inside(resolve_text: Resolve) -> None:
    (box,) = find_boxes(resolve_text(BOX.replace("angle = 90", 'angle = 90, inside = "grain"')))
    assert {round(face.grain[2], 3) for face in box.faces if face.band == FLOOR} == {1.0}


def test_a_lid_lies_over_its_box(resolve_text: Resolve) -> None:
    build = resolve_text(BOX + LID)
    box, lid = find_boxes(build)
    top_mm = 40 + OVER_MM
    assert heights(lid) == [top_mm - 16, top_mm]
    assert (lid.at[0], lid.at[1]) == (box.at[0], box.at[1])
    assert not [line for line in tell_undrawn([TakenApart(build)]) if '"box"' in line or "finished article" in line]
    due = [dict(row.due)["length"] for row in plan_work(build).finished]
    assert any("206 mm" in words for words in due)


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ('<seam box-0: ["box: fl", "box: lf"]>\n', ""),  # a corner is not sewn
        ("open = true, angle = 90", "open = true, angle = 120"),  # walls that lean
        ("[pieces.box]", '[pieces.strip]\nof = "body"\nshape = "rectangle"\nsize = ["200 mm", "60 mm"]\n'
         '<seam on: ["strip: bottom", "box: front"]>\n[pieces.box]'),
    ],
)  # fmt: skip
def test_other_boxes_are_not_drawn_so(resolve_text: Resolve, old: str, new: str) -> None:
    assert old in BOX
    assert find_boxes(resolve_text(BOX.replace(old, new))) == ()
