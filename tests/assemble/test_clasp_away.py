"""A flap whose half of a magnetic snap would look away from the other one."""

import pytest
from short_specs import hole, piece, seam, step
from spec_text import Resolve

from docgen.assemble import Assembled, TakenApart
from docgen.assemble.apart.unsure import SNAP_AWAY


@pytest.mark.parametrize(
    ("what", "inside", "why"),
    [("magnetic snap", "", SNAP_AWAY), ("magnetic snap", ', inside = "grain"', ""), ("stud", "", "")],
)
def test_a_clasp_that_looks_away_withholds_its_flap(resolve_text: Resolve, what: str, inside: str, why: str) -> None:
    """The front lies on the grain of the back, and the flap folds flesh side in, unless the spec says otherwise: behind it.
    Two studs that look two ways close nothing."""
    build = resolve_text(
        piece("front", 200, 150, hole("centre, 90 mm from top", "lower"))
        + piece(
            "back",
            200,
            270,
            f'folds = [{{ at = "150 mm from bottom", open = true, angle = 180{inside} }}]\n'
            + 'landings = [{ piece = "front", at = "centre, 0 from bottom" }]\n'
            + hole("centre, 30 mm from top", "upper"),
        )
        + "".join(
            f'[hardware.{half}]\nwhat = "{what}, {half} half"\nkind = "other"\ncount = 1\n'
            for half in ("upper", "lower")
        )
        + seam("round", "front: left bottom right", "back")
        + step("Set the halves and sew.", hardware="upper lower", seams="round")
    )
    assert isinstance(build, Assembled)
    assert {*TakenApart(build).withheld.values()} == ({why} if why else set())
