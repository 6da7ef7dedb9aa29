"""Straps that are riveted on by two holes alone: which way they lead where these fit both ways round. Figures by hand."""

from collections.abc import Callable

import pytest
from short_specs import piece, rivet

from docgen.assemble import Assembled, Copy
from docgen.plan import plan_work
from docgen.plan.act import act

Resolve = Callable[[str], Assembled]
STRAP = """\
[straps.tie]
of = "body"
width = "20 mm"
finished = "400 mm"
ends = [{ shape = "square" }, { shape = "square" }]
punches = [{ at = "centre, 10 mm from start", punch = "4 mm" }, { at = "centre, 35 mm from start", punch = "4 mm" }]
"""


def riveted(*from_top_mm: float) -> str:
    holes = ", ".join(
        f'{{ at = "centre, {mm:g} mm from top", punch = "4 mm", takes = "rivet", through = ["tie"] }}'
        for mm in from_top_mm
    )
    return piece("front", 300, 400, f"holes = [{holes}]\n") + STRAP + rivet()


@pytest.mark.parametrize(("from_top_mm", "up"), [((15, 40), True), ((385, 360), False)])
def test_it_leads_over_the_edge_that_is_near(resolve_text: Resolve, from_top_mm: tuple[float, float], up: bool) -> None:
    """Of 400 mm 365 lie beyond the second hole: they lead over the top 15 mm off, or over the foot, not over the panel."""
    tie = resolve_text(riveted(*from_top_mm)).space.part(Copy("tie"))
    assert tie is not None
    ys = [at[1] for face in tie.faces for at in face.corners]
    hole = 400 - from_top_mm[1]
    assert (min(ys), max(ys)) == pytest.approx((hole - 10, hole + 390) if up else (hole - 390, hole + 10))


def test_amid_a_panel_nothing_tells_which_way_it_leads(resolve_text: Resolve) -> None:
    build = resolve_text(riveted(190, 215))
    (told,) = build.space.unplaced
    assert told.copy == Copy("tie")
    assert "no landing says which way it leads" in told.why
    assert act("way_untold", part="tie", host="front") in [
        line for made in plan_work(build).steps for line in made.acts
    ]
