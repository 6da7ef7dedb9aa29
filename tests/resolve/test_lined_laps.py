"""A lap whose upper part is lined: the lining lies over with it, and its row as far in from its own edge."""

import pytest
from short_specs import piece, seam
from spec_text import Resolve


@pytest.mark.parametrize(("lines", "laps_mm"), [('lines = ["flap"]\n', [0, 0, 20]), ("", [0, 20, 20])])
def test_what_lines_the_upper_part_of_a_lap_lies_over_with_it(
    resolve_text: Resolve, lines: str, laps_mm: list[float]
) -> None:
    """The lining is sewn as far in from its own edge as the flap, and only the back lies 20 mm beneath; a part of which
    nothing says that it lines the flap lies beneath too."""
    build = resolve_text(
        piece("flap", 200, 120)
        + piece("flap-lining", 200, 120, lines)
        + piece("back", 200, 150)
        + seam("hinge", "flap: top", "flap-lining: top", "back: top", more='lap = "20 mm"\n')
    )
    (hinge,) = build.seams
    assert [side.lap_mm for side in hinge.sides] == laps_mm
