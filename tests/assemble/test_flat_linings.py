"""What bends only as its host does lies flat on the bench until that is there. By hand, in mm."""

import pytest
from short_specs import piece, seam, step
from spec_text import Resolve

from docgen.assemble import Copy, TakenApart

# A body round front, foot and back, its lining with a pocket on it, and two gussets of 20 by 100, sewn 4 mm from the edge:
# 96 and 12 and 96 along their rows.
MARKED = """\
folds = [
  { at = "96 mm from bottom", open = true, angle = 90 },
  { at = "108 mm from bottom", open = true, angle = 90 },
]
"""
LINING = 'lines = ["body"]\nshows = "flesh"\nlandings = [{ piece = "pocket", at = "centre, 130 mm from bottom" }]\n'
PIECES = (
    piece("body", 200, 204, MARKED)
    + piece("pocket", 100, 60)
    + piece("gusset", 20, 100, "cut = 2\n")
    + seam("pocket", "pocket: left bottom right", "lining")
    + seam("mouth", "body: bottom", "lining: bottom")
    + seam("one", "body: left", "lining: left", "gusset 1: left bottom right")
    + seam("two", "body: right", "lining: right", "gusset 2: left bottom right")
)
POCKET, LINED = step("Sew the pocket on.", seams="pocket"), step("Line it.", seams="mouth")
CLOSED = step("Sew in the gussets.", seams="one two")


@pytest.mark.parametrize("own", ["", MARKED])
@pytest.mark.parametrize(
    ("steps", "flat"),
    [
        (POCKET + LINED + CLOSED, [True, True, False]),
        (LINED + POCKET + CLOSED, [True, True, False]),
        (LINED + CLOSED + POCKET, [True, False, False]),
    ],
)
def test_a_lining_lies_flat_until_its_body_is_bent(
    resolve_text: Resolve, own: str, steps: str, flat: list[bool]
) -> None:
    """With folds of its own or without; with its pocket on it, whichever it is sewn to first."""
    build = resolve_text(PIECES + piece("lining", 200, 204, LINING + own, "thin") + steps)
    apart = TakenApart(build)
    found = []
    for number in range(3):
        bodies, heaps = apart.heaps(number)
        assert heaps
        found.append(bodies[Copy("lining")].is_flat)
        assert all(bodies[copy].is_flat == found[-1] for copy in heaps[0].copies & {Copy("lining"), Copy("body")})
    assert found == flat
