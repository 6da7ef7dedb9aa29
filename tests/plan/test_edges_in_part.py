"""Words of a step that finish some edges of a part leave its others to the line that comes with its last seam. By hand."""

import pytest
from short_specs import piece, seam, step
from spec_text import Resolve
from step_lines import lines

from docgen.plan import plan_work

HEAD = """\
[spec]
code = "bag"
title = "Bag"
version = "1"
show = "mm"
[materials.body]
kind = "leather"
thickness = "2 mm"
edges = "burnished"
[stitches.main]
by = "hand"
thread = "Tex 210 waxed polyester"
pitch = "4 mm"
inset = "4 mm"
"""
BAG = (
    piece("front", 200, 150)
    + piece("back", 200, 150)
    + seam("round", "front: left bottom right", "back: left bottom right")
)
REST = "front and back: now finish the other cut edges (burnished)."


@pytest.fixture
def head() -> str:
    return HEAD


@pytest.mark.parametrize(
    ("first", "last", "told"),
    [
        ("Burnish the tops of front and back.", "", [REST]),
        ("Bevel and burnish the top of the front, and the mouth of the back.", "", [REST]),
        ("Burnish the top of the front and the back all round.", "", [REST.replace("front and back", "front")]),
        ("Burnish the edges of front and back.", "", []),
        ("Burnish front and back.", "", []),
        ("Burnish the tops of front and back.", "Burnish the edges all round.", []),
        ("Mark the front.", "", [REST.replace("the other cut edges", "the cut edges")]),
    ],
)
def test_what_is_finished_in_part_is_finished_later(
    resolve_text: Resolve, first: str, last: str, told: list[str]
) -> None:
    sewn = step("Sew.", seams="round") + (f'last = ["{last}"]\n' if last else "")
    plan = plan_work(resolve_text(BAG + step(first, pieces="front back") + sewn))
    assert [line for k in (1, 2) for line in lines(plan, k) if "cut edges" in line] == told
