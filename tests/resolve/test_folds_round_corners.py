"""Folds of a body that is sewn round a side with round corners: they lie at the middle of these.

Of a strip bent round a side 60 mm wide and 100 mm high with corners of 10 mm, stitched 4 mm in, the stitch line goes
90 mm down to the corner's beginning, and round it by pi / 2 times 6 mm.
"""

import math

import pytest
from spec_text import Tell

CORNER_MM = 90 + math.pi / 2 * 6 / 2
BODY = """\
<rectangle side: ["60 mm", "100 mm"]>
round = {{ bottom-left = "10 mm", bottom-right = "10 mm" }}
<strip body: ["80 mm", "solve"]>
folds = [{{ at = "{at_mm:.2f} mm from start", open = true, angle = 90 }}]
<seam s: ["side: left bottom right", "body: left"]>
"""


@pytest.mark.parametrize("off_mm", [-3.5, 0.0, 3.5])
def test_a_fold_near_the_middle_of_a_round_corner_is_right(cautions: Tell, off_mm: float) -> None:
    assert "fold-off-corner" not in cautions(BODY.format(at_mm=CORNER_MM + off_mm))


@pytest.mark.parametrize("off_mm", [-5.0, 5.0])
def test_a_fold_beside_a_round_corner_is_told(cautions: Tell, off_mm: float) -> None:
    told = cautions(BODY.format(at_mm=CORNER_MM + off_mm))
    assert 'a fold of "body" lies 5 mm (3/16 in) off the corner of "side" that it goes round in the seam "s"' in told


def test_a_wide_round_asks_for_no_fold(cautions: Tell) -> None:
    told = cautions(BODY.format(at_mm=60).replace('"10 mm"', '"30 mm"'))
    assert "fold-off-corner" not in told
