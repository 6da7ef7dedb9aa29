"""Towards what the fold of a ring tab lies on a wall of strips that is closed to a ring: its ring is up in the article."""

import pytest
from short_specs import rivet, seam, step
from spec_text import Resolve, write_out
from step_lines import lines

from docgen.plan import plan_work

WALL = """\
[pieces.front]
of = "body"
shape = "rectangle"
size = ["200 mm", "160 mm"]
round = "20 mm"
[pieces.back]
like = "front"
[pieces.low]
title = "Low strip"
of = "body"
shape = "strip"
size = ["60 mm", "300 mm"]
holes = [HOLES]
[pieces.high]
of = "body"
shape = "strip"
size = ["60 mm", "solve"]
[joins.wall]
of = ["low", "high"]
overlap = "10 mm"
ring = true
stitch = "main"
[pieces.tab]
title = "Tab"
of = "body"
cut = COUNT
shape = "rectangle"
size = ["19 mm", "90 mm"]
folds = [{ at = "middle", around = "ring" }]
holes = [
  { at = "centre, 12 mm from bottom", punch = "4 mm", takes = "rivet", through = ["low"] },
  { at = "centre, 12 mm from top", punch = "4 mm", takes = "rivet" },
]
<hardware ring: COUNT, D ring>
bar = "3 mm"
"""
START = '{ at = "centre, 40 mm from start", punch = "4 mm" }'
END = '{ at = "centre, 40 mm from end", punch = "4 mm" }'


@pytest.mark.parametrize(
    ("holes", "way"),
    [
        ([START], "on the grain side of Low strip, fold towards the near end."),
        ([END], "on the grain side of Low strip, fold towards the middle of Low strip."),
        ([START, END], "on the grain side of Low strip, grain side up."),
    ],
)
def test_the_fold_of_a_tab_is_told_by_the_strip_it_lies_on(resolve_text: Resolve, holes: list[str], way: str) -> None:
    """The middle of the wall is not that of its strip; of tabs that are not folded one way the picture tells it alone."""
    text = WALL.replace("HOLES", ", ".join(holes)).replace("COUNT", str(len(holes)))
    text = write_out(text) + rivet(len(holes))
    text += seam("one", "front: all", "wall: left") + seam("two", "back: all", "wall: right")
    text += step("Rivet on.", pieces="tab low", hardware="ring rivet")
    plan = plan_work(resolve_text(text + step("Close the wall.", joins="wall", seams="one two")))
    assert any(line.endswith(way) for line in lines(plan, 1))


@pytest.mark.parametrize(
    ("order", "where"),
    [
        ("tab ring rivet wall", "on the grain side of Low strip, fold towards the near end."),
        ("tab wall ring rivet", "on the grain side of wall, fold towards the near joint."),
    ],
)
def test_a_tab_lies_on_what_its_wall_is_when_it_is_set(resolve_text: Resolve, order: str, where: str) -> None:
    """In the step that closes the wall as well it lies on the strip before that, and on the wall after."""
    text = write_out(WALL.replace("HOLES", START).replace("COUNT", "1")) + rivet(1)
    text += seam("one", "front: all", "wall: left") + seam("two", "back: all", "wall: right")
    text += step("Rivet and close.", pieces="tab low", hardware="ring rivet", joins="wall", order=order)
    plan = plan_work(resolve_text(text + step("Sew.", seams="one two")))
    assert any(line.endswith(where) for line in lines(plan, 1))
