"""Runs round an end that is round from corner to corner: its side has no length, and no place along it."""

import pytest
from short_specs import piece, seam, step
from spec_text import Resolve
from step_lines import lines

from docgen.plan import plan_work


@pytest.mark.parametrize("radius_mm", [15, 16])
def test_a_run_round_an_end_names_its_sides(resolve_text: Resolve, radius_mm: int) -> None:
    """A tab 32 mm high: round by 15 mm it has 2 mm of a straight side left, by 16 mm none. The run begins and ends 42 mm
    off its other end."""
    corners = f'{{ top-left = "{radius_mm} mm", bottom-left = "{radius_mm} mm" }}'
    run = "tab: top left bottom from right 42 mm to right 42 mm"
    place = 'landings = [{ piece = "tab", at = "20 mm from left, 50 mm from bottom" }]\n'
    text = piece("back", 200, 150, place) + piece("tab", 90, 32, f"round = {corners}\n") + seam("tab", run, "back")
    told = lines(plan_work(resolve_text(text + step("Sew the tab.", seams="tab"))), 1)
    (sewn,) = [line for line in told if line.startswith("Set up stitch main. Sew tab")]
    assert sewn.count("42 mm from the right edge") == 2
