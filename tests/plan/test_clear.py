"""What hangs on a part is folded clear of a row along its edge. That a flap or a strap is held out of the way of foot, awl
and needle is common practice, no published source; lengths by hand."""

import pytest
from short_specs import piece, seam, step
from spec_text import Resolve
from step_lines import lines

from docgen.plan import plan_work

ROUND = seam("round", "front: left bottom right", "back: left bottom right")
BAG = piece("front", 200, 150) + ROUND
STRAP = '[straps.tie]\nof = "body"\nwidth = "20 mm"\nfinished = "{} mm"\n'
STRAP += 'ends = [{{ shape = "square" }}, {{ shape = "square" }}]\n'
LANDS = (
    'landings = [{ strap = "tie", at = "centre, 100 mm from bottom", leads = "up", over = "30 mm", stitch = "main" }]\n'
)


def clear(resolve_text: Resolve, text: str, number: int) -> list[str]:
    return [line for line in lines(plan_work(resolve_text(text)), number) if "clear of the row" in line]


@pytest.mark.parametrize(("long_mm", "told"), [(116, []), (132, ["Fold tie clear of the row."])])
def test_a_strap_that_is_long_enough_to_come_to_the_row(resolve_text: Resolve, long_mm: int, told: list[str]) -> None:
    """Its end is 96 mm or more from all rows, 4 mm in from the edges; 30 mm of it are fast."""
    text = piece("back", 200, 150, LANDS) + BAG + STRAP.format(long_mm)
    sewn = step("Sew the strap on.", straps="tie", pieces="back") + step("Sew round.", seams="round")
    assert clear(resolve_text, text + sewn, 2) == told


def test_a_strap_that_comes_later_is_not_there(resolve_text: Resolve) -> None:
    text = piece("back", 200, 150, LANDS) + BAG + STRAP.format(300)
    late = step("Sew round.", seams="round") + step("Sew the strap on.", straps="tie", pieces="back")
    assert clear(resolve_text, text + late, 1) == []


@pytest.mark.parametrize(("long_mm", "told"), [(150, []), (300, ["Fold tie clear of the row."])])
def test_the_bow_of_a_strap_that_is_fast_at_both_ends(resolve_text: Resolve, long_mm: int, told: list[str]) -> None:
    """Its first end leads left, where a row lies 96 mm away: half of what is free, less 30 mm, must come to that."""
    other = LANDS.replace("leads", 'end = "second", leads').replace("100 mm from", "40 mm from").split("[", 1)[1]
    both = LANDS.rstrip("]\n").replace("100 mm from", "60 mm from") + ", " + other
    text = piece("back", 200, 150, both.replace('leads = "up"', 'leads = "left"', 1)) + BAG + STRAP.format(long_mm)
    sewn = step("Sew the strap on.", straps="tie", pieces="back") + step("Sew round.", seams="round")
    assert clear(resolve_text, text + sewn, 2) == told


FLAP = seam("flap", "flap: top", "back: top")


@pytest.mark.parametrize(
    ("high_mm", "more", "told"),
    [
        (120, "", ["Fold flap clear of the row."]),
        (38, "", []),  # a welt
        (120, seam("end", "flap: bottom", "front: top"), []),  # held at both ends
    ],
)
def test_a_flap_that_hangs_by_one_edge(resolve_text: Resolve, high_mm: int, more: str, told: list[str]) -> None:
    text = piece("back", 200, 150) + BAG + piece("flap", 200, high_mm) + FLAP + more
    sewn = step("Sew the flap on.", seams="flap") + step("Sew round.", seams="round")
    assert clear(resolve_text, text + sewn + (step("Close it.", seams="end") if more else ""), 2) == told


def test_it_is_told_once_in_a_step(resolve_text: Resolve) -> None:
    text = piece("back", 200, 150) + BAG + piece("flap", 200, 120) + FLAP
    text = text.replace("[seams.round]", "[seams.foot]").replace("left bottom right", "bottom")
    text += seam("sides", "front: left", "back: left") + seam("other", "front: right", "back: right")
    sewn = step("Sew the flap on.", seams="flap") + step("Sew it.", seams="foot sides other")
    assert clear(resolve_text, text + sewn, 2) == ["Fold flap clear of the row."]


def test_of_a_flap_whose_sides_a_row_takes_in_what_hangs_free_is_folded_clear(resolve_text: Resolve) -> None:
    """Laid 30 mm deep on the back, as broad as that: the rows up its sides go through that much of it."""
    text = (
        piece("back", 200, 150, 'landings = [{ piece = "flap", at = "centre, 30 mm from top" }]\n')
        + BAG
        + piece("flap", 200, 120, 'folds = [{ at = "38 mm from top", open = true, angle = 180 }]\n')
        + seam("flap", "flap: top", "back")
    )
    sewn = step("Sew the flap on.", seams="flap") + step("Sew round.", seams="round")
    told = "Fold what hangs free of flap clear of the row: where that lies under the needle it is sewn in."
    assert clear(resolve_text, text + sewn, 2) == [told]


@pytest.mark.parametrize(("long_mm", "told"), [(122, []), (128, ["Fold tie clear of the row."])])
def test_a_strap_on_a_plate_that_lies_there(resolve_text: Resolve, long_mm: int, told: list[str]) -> None:
    """The plate lies 49 mm over the foot, its strap begins 50 mm over that, 95 mm from the row 4 mm in; 30 mm are fast."""
    plate = piece("plate", 60, 60, LANDS.replace("100 mm", "50 mm").replace('"up"', '"down"'))
    on = 'landings = [{ piece = "plate", at = "centre, 49 mm from bottom" }]\n'
    text = piece("back", 300, 240, on) + piece("front", 300, 240) + ROUND
    text += plate + seam("plate", "plate: all", "back") + STRAP.format(long_mm)
    sewn = step("Sew the plate and the strap on.", seams="plate", straps="tie", pieces="plate")
    assert clear(resolve_text, text + sewn + step("Sew round.", seams="round"), 2) == told
