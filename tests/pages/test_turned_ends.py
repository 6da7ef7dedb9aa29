"""Straps whose ends are turned by a step, as they are drawn flat: they end at the fold, with what lies in it, and have on
them the keeper that is slid on. Lengths worked out by hand."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from on_paper import make_setup
from short_specs import BELT, BUCKLE, KEEPER, step

from docgen.assemble import Assembled
from docgen.pages.drawn.small_sketch import Sketch, make_sketches
from docgen.pages.pictures.pictures import Pictures
from docgen.pages.work.build_step import step_drawer
from docgen.plan import plan_work

Resolve = Callable[[str], Assembled]
PUNCHED = """\
punches = [{ at = "centre, 10 mm from start", punch = "4 mm" }, { at = "centre, 40 mm from start", punch = "4 mm" }]
"""
MAKE = step("Cut and punch the belt.", straps="belt")
TURN = step("Turn it round the buckle and rivet it.", straps="belt", hardware="buckle rivet")
SLIDE = step("Slide the loop on.", straps="belt loop")


def sketch_of(build: Assembled, number: int, name: str) -> Sketch:
    plan = plan_work(build)
    return next(one for one in make_sketches(plan, plan.steps[number - 1].drawn) if one.piece.name == name)


def test_a_strap_ends_at_its_fold_once_it_is_turned(resolve_text: Resolve) -> None:
    """Its sketch is as long as the strap less what is turned back to the fold; rivets close it through both layers, as
    far beyond the fold as their holes lie before it."""
    build = resolve_text(BELT + PUNCHED + BUCKLE + MAKE + TURN)
    (strap,) = build.straps
    fold_mm = strap.ends[0].fold_mm
    flat, turned = (sketch_of(build, number, "belt") for number in (1, 2))
    assert (flat.on.turned_mm, flat.length_mm) == ((0.0, 0.0), pytest.approx(strap.cut_length_mm))
    assert turned.on.turned_mm == pytest.approx((fold_mm, 0.0))
    assert turned.length_mm == pytest.approx(strap.cut_length_mm - fold_mm)
    assert (turned.folded.left, turned.folded.right) == pytest.approx((fold_mm, 0.0))
    assert turned.on.titles == ("buckle",)
    assert sorted(2 * fold_mm - spot.y for _, spot in turned.on.posts) == pytest.approx([10, 40])
    beyond = [at.y for _, rings in turned.on.things for ring in rings for at in ring]
    assert min(beyond) < fold_mm
    assert turned.around_at(5).left > (fold_mm - min(beyond)) / 5


def test_its_picture_names_what_it_is_turned_round(resolve_text: Resolve) -> None:
    plan = plan_work(build := resolve_text(BELT + BUCKLE + MAKE + TURN))
    captions = []
    for number in (1, 2):
        (figure,) = step_drawer(plan.steps[number - 1], plan, make_setup().style, Pictures(build))(60.0)
        captions.append(figure.caption.partition("; ")[2])
    assert captions == ["", "on it: buckle"]


def test_a_keeper_in_the_fold_lies_right_behind_the_bar(resolve_text: Resolve) -> None:
    """Half a bar of 3 mm and 2 mm off the fold, 12 mm long (common practice, no published source)."""
    held = BELT.replace('around = "buckle"', 'around = "buckle", keeper = "loop"')
    build = resolve_text(held + KEEPER + BUCKLE + step("Cut them.", straps="belt loop") + TURN)
    on = sketch_of(build, 2, "belt").on
    assert on.titles == ("buckle", "loop")
    ((ring,),) = [rings for thing, rings in on.things if thing.is_over]
    fold_mm = on.turned_mm[0]
    assert sorted({round(at.y - fold_mm, 6) for at in ring}) == [3.5, 15.5]


@pytest.mark.parametrize(("last", "titles"), [(SLIDE, ("buckle", "loop")), (SLIDE.replace("Slide", "Paint"), None)])
def test_a_keeper_that_is_slid_on_is_drawn_on_its_strap(
    resolve_text: Resolve, last: str, titles: tuple[str, ...] | None
) -> None:
    last = last.replace('straps = ["belt", "loop"]', 'straps = ["loop"]')
    build = resolve_text(BELT + KEEPER + BUCKLE + step("Cut them.", straps="belt loop") + TURN + last)
    drawn = [one.name for one in plan_work(build).steps[2].drawn]
    assert drawn == (["belt"] if titles else [])
    if titles:
        on = sketch_of(build, 3, "belt").on
        assert on.titles == titles
        assert on.turned_mm[0] > 0
