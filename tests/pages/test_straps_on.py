"""Straps whose ends earlier steps laid on a piece that is drawn flat: they go on from there. Lengths worked out by hand."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from on_paper import make_setup
from short_specs import step

from docgen.assemble import Assembled
from docgen.pages.drawn.small_sketch import EDGE_MM, make_sketches
from docgen.pages.drawn.straps_on import LAP_MM, RUN_ON_MM
from docgen.pages.pictures.pictures import Pictures
from docgen.pages.setting.blocks import Figure
from docgen.pages.work.build_step import step_drawer
from docgen.plan import plan_work

Resolve = Callable[[str], Assembled]
LONG = 400.0
SCALE_TO = 10.0


def build_with(resolve_text: Resolve, *ends: str, long_mm: float = LONG) -> Assembled:
    """A panel of 200 x 150 mm, a strap of 20 mm sewn on it by 40 mm at each end told, and then a step of the panel."""
    landings = ", ".join(f'{{ strap = "s", {end}, over = "40 mm", stitch = "main" }}' for end in ends)
    text = f'<back>\nlandings = [{landings}]\n<strap>\nfinished = "{long_mm} mm"\n'
    return resolve_text(
        text + step("Sew the strap on.", straps="s", pieces="back") + step("Burnish it.", pieces="back")
    )


UP = 'at = "100 mm from left, 60 mm from top", leads = "up"'
FACING = (
    'at = "30 mm from left, 70 mm from bottom", leads = "right"',
    'end = "second", at = "30 mm from right, 70 mm from bottom", leads = "left"',
)


def figure_of(build: Assembled) -> Figure:
    plan, style = plan_work(build), make_setup().style
    (figure,) = step_drawer(plan.steps[1], plan, style, Pictures(build))(60.0)
    return figure


def test_a_strap_that_leads_on_is_broken_off_and_named(resolve_text: Resolve) -> None:
    """At 1:10 it goes on for 4 mm on paper from 40 mm above its end, 20 mm below the top: 2 mm beyond that."""
    build = build_with(resolve_text, UP)
    plan = plan_work(build)
    (sketch,) = make_sketches(plan, plan.steps[1].drawn)
    (strap,) = sketch.straps
    assert strap.is_broken_at(SCALE_TO)
    left, *_, right = strap.corners_at(SCALE_TO)
    far = max(at.y for at in strap.corners_at(SCALE_TO))
    assert sorted((left.x, right.x)) == pytest.approx([90, 110])
    assert (left.y, far) == pytest.approx((130 - LAP_MM * SCALE_TO, 130 + RUN_ON_MM * SCALE_TO))
    around = sketch.around_at(SCALE_TO)
    assert (around.left, around.bottom, around.right, around.top) == pytest.approx((0, 0, 0, 2 + EDGE_MM))
    figure = figure_of(build)
    assert "goes_on" in figure.kinds
    assert figure.caption.endswith("on it: s")


def test_what_is_left_of_a_short_strap_is_drawn_whole(resolve_text: Resolve) -> None:
    """Of 60 mm 20 mm are free: less than 4 mm on paper at 1:10, and more at 1:2."""
    build = build_with(resolve_text, UP, long_mm=60)
    plan = plan_work(build)
    (sketch,) = make_sketches(plan, plan.steps[1].drawn)
    (strap,) = sketch.straps
    assert max(at.y for at in strap.corners_at(SCALE_TO)) == pytest.approx(150)
    assert not strap.is_broken_at(SCALE_TO)
    assert strap.is_broken_at(2)


def test_between_two_ends_that_lead_to_each_other_a_strap_runs_through(resolve_text: Resolve) -> None:
    """From 70 to 130 mm from the left: 200 less 2 x (30 + 40)."""
    plan = plan_work(build_with(resolve_text, *FACING))
    (sketch,) = make_sketches(plan, plan.steps[1].drawn)
    (strap,) = sketch.straps
    assert strap.is_held
    assert (strap.start.x, strap.rest_mm) == pytest.approx((70, 60))
    assert not strap.is_broken_at(1)


def test_ends_beside_each_other_are_broken_off_each(resolve_text: Resolve) -> None:
    """As those of a handle, which both lead up."""
    beside = (UP.replace("100 mm", "50 mm"), 'end = "second", ' + UP.replace("100 mm", "150 mm"))
    plan = plan_work(build_with(resolve_text, *beside))
    (sketch,) = make_sketches(plan, plan.steps[1].drawn)
    assert [strap.is_broken_at(SCALE_TO) for strap in sketch.straps] == [True, True]
