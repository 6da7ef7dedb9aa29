"""A strap whose ends are riveted on in different steps: each rivet is set where its piece is in hand."""

import pytest
from short_specs import piece, rivet, seam, step
from spec_text import HEAD, Resolve, write_out

from docgen.pages.work.acts import tell
from docgen.plan import plan_work


def panel(name: str, side: str, end: str) -> str:
    holes = ", ".join(
        f'{{ at = "60 mm from {side}, {mm} mm from top", punch = "4 mm", takes = "rivet" }}' for mm in (15, 30)
    )
    landing = (
        f'{{ strap = "carry", end = "{end}", at = "60 mm from {side}, 45 mm from top", leads = "up", over = "45 mm" }}'
    )
    return piece(name, 300, 250, f"holes = [{holes}]\nlandings = [{landing}]\n")


PUNCHES = ", ".join(
    f'{{ at = "centre, {mm} mm from {end}", punch = "4 mm" }}' for end in ("start", "end") for mm in (15, 30)
)
TEXT = (
    panel("front", "left", "first")
    + panel("back", "right", "second")
    + f'[straps.carry]\nof = "body"\nwidth = "20 mm"\nfinished = "600 mm"\npunches = [{PUNCHES}]\n'
    + 'ends = [{ shape = "rounded" }, { shape = "pointed" }]\n'
    + seam("s", "front: left bottom right", "back: left bottom right")
)


@pytest.fixture
def head() -> str:
    return HEAD


def test_each_end_is_riveted_where_its_piece_is_in_hand(resolve_text: Resolve) -> None:
    text = write_out(TEXT) + rivet(4) + step("Rivet it to the front.", pieces="front", straps="carry", hardware="rivet")
    text += step("Rivet it to the back.", pieces="back", straps="carry", hardware="rivet") + step("Sew.", seams="s")
    plan = plan_work(resolve_text(text))
    laid = [[tell(one) for one in told.acts if "holes on holes" in tell(one)] for told in plan.steps]
    assert [[line.partition(", on the")[0] for line in lines] for lines in laid] == [
        ["carry, first end"],
        ["carry, second end"],
        [],
    ]
    events = plan.build.assembly.events
    assert {fit.part: events[fit.event].step for fit in plan.build.assembly.fastened} == {"front": 0, "back": 1}
