"""The side seams of a bag that is sewn inside out, its walls sewn round a base after that: no allowance stands out."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from short_specs import SHOPPER, SHOPPER_FOOT, SHOPPER_SEWN, SHOPPER_SIDES

from docgen.assemble import Assembled, Copy, TakenApart

Resolve = Callable[[str], Assembled]


@pytest.mark.parametrize("seams", [SHOPPER_SIDES + SHOPPER_FOOT, SHOPPER_FOOT + SHOPPER_SIDES])
def test_no_corner_of_a_turned_wall_stands_out_below_its_base(resolve_text: Resolve, seams: str) -> None:
    """By hand: the rows lie 4 mm in, so that of 200 mm of a wall 196 stand over the base, all the way round."""
    build = resolve_text(SHOPPER.replace("HIGH", "200") + seams + SHOPPER_SEWN)
    bodies = {body.copy: body for body in TakenApart(build).closed.bodies}
    floor = bodies[Copy("base")].faces[0].corners[0][2]
    for name in ("front", "back"):
        heights = [at[2] - floor for face in bodies[Copy(name)].faces for at in face.corners]
        assert (round(min(heights), 3), round(max(heights), 3)) == (0.0, 196.0)
