"""Rows that lie wholly or in part in what a hem turns over. Figures by hand."""

from collections.abc import Callable

import pytest
from short_specs import piece, seam, step

from docgen.assemble import Assembled, Copy
from docgen.geometry.path import path_box

Resolve = Callable[[str], Assembled]

FOLD = 'folds = [{{ at = "40 mm from top", open = true, angle = 180 }}]\n'
HEM = 'hems = [{{ edges = "top", turn = "12 mm" }}]\n'
# A flap whose top is sewn on the back 4 mm in, before a hem of 12 mm of its 150 is turned over there: the fold lies 138 up.
FLAP = (
    piece("front", 200, 150, HEM)
    + piece("back", 200, 150, HEM + 'landings = [{{ piece = "flap", at = "centre, {} mm from top" }}]\n')
    + piece("flap", 100, 120, FOLD)
    + seam("flap", "flap: top", "back")
    + seam("round", "front: left bottom right", "back: left bottom right")
    + "turned = true\n"
    + step("Sew the flap on.", seams="flap")
    + step("Turn the mouths and sew round.", seams="round", tools="glue")
)


@pytest.mark.parametrize(
    ("down_mm", "lies_mm", "told"),
    [
        (4, 138 - (142 - 138), "4 mm (5/32 in) beyond the fold"),  # turned over it lies as far within the fold
        (8, 138, "on the fold"),
        (9, 137, ""),
        (30, 116, ""),
    ],
)
def test_a_row_in_what_a_hem_turns_over_lies_back_with_it(
    down_mm: int, lies_mm: float, told: str, resolve_text: Resolve
) -> None:
    build = resolve_text(FLAP.format(down_mm))
    back = build.space.part(Copy("back"))
    assert back is not None
    (box,) = (path_box(mark.path) for mark in back.item.marks if mark.name == "flap")
    assert (box.bottom, box.top, box.width) == pytest.approx((lies_mm, lies_mm, 100))
    found = [one.what for one in build.cautions if one.check == "row-in-hem"]
    assert len(found) == bool(told)
    assert all(told in what for what in found)
