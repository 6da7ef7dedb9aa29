"""A row on which others end is told in parts, between corners where it turns there, else as parts of the row. By hand."""

import pytest
from short_specs import SHORT_HEAD, piece, seam, step
from spec_text import Resolve

from docgen.plan import plan_work

LANDS = 'landings = [{ piece = "flap", at = "centre, 15 mm from top" }]\n'
FLAP = piece("flap", 200, 60, of="hide") + seam("flap", "flap: top", "back")


@pytest.fixture
def head() -> str:
    return SHORT_HEAD


@pytest.mark.parametrize(("sewn", "are_corners"), [("round", True), ("flap round", False)])
def test_parts_lie_between_corners_where_nothing_else_ends_on_the_row(
    resolve_text: Resolve, sewn: str, are_corners: bool
) -> None:
    """Two sharp corners; and where the row of the flap ends on this one two places more, 19 mm from its ends."""
    text = piece("back", 200, 150, LANDS, of="hide") + piece("front", 200, 150, of="hide")
    text += seam("round", "back: left bottom right", "front: left bottom right")
    text += (FLAP if "flap" in sewn else piece("flap", 200, 60, of="hide")) + step("Sew.", seams=sewn)
    jobs = {job.seam.name: job for one in plan_work(resolve_text(text)).steps for job in one.jobs if job.seam}
    assert len(jobs["round"].spans_mm) == (3 if are_corners else 5)
    assert jobs["round"].are_corners == are_corners
