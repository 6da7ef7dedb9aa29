"""What one step glues all over, and what along a row alone: none both ways. Common practice, no published source."""

import pytest
from short_specs import piece, seam, step
from spec_text import Resolve, write_out
from step_lines import lines

from docgen.plan import plan_work

GOODS = '<fabric cloth: 0.5 mm>\n[materials.pad]\nkind = "foam"\nthickness = "3 mm"\n'
PARTS = (
    piece("front", 200, 150)
    + '[pieces.foam]\nlike = "front"\nof = "pad"\ninset = "10 mm"\nlines = ["front"]\n'
    + '[pieces.lining]\nlike = "front"\nof = "cloth"\nlines = ["front"]\n'
    + piece("back", 200, 150)
    + seam("mouth", "front: top", "lining: top")
    + seam("round", "front: left bottom right", "back: left bottom right")
)


@pytest.mark.parametrize(
    ("do", "all_over", "along"),
    [
        ("Glue the foam in, lay the lining over it and sew the mouth.", ["foam and front."], True),
        (
            "Lay the foam in, glue the lining over it and sew the mouth.",
            ["foam and front.", "front and lining."],
            False,
        ),
    ],
)
def test_a_lining_that_is_glued_along_its_row_is_not_glued_all_over(
    resolve_text: Resolve, do: str, all_over: list[str], along: bool
) -> None:
    text = write_out(GOODS + PARTS) + step(do, pieces="foam", seams="mouth") + 'tools = ["contact cement"]\n'
    told = lines(plan_work(resolve_text(text + step("Sew.", seams="round"))), 1)
    faces = [line.partition("is laid: ")[2] for line in told if "all over the faces" in line]
    assert faces == all_over
    assert any("along the edges that meet" in line for line in told) == along
