"""A flap that bends round more than lies there, closed; what is under it, and goods behind a window of a wall."""

import pytest
from finished_article import article_of
from short_specs import SNAP_HALVES, hole, piece, seam, step
from spec_text import Resolve

from docgen.assemble import Assembled, Copy, TakenApart
from docgen.assemble.space.placed import LAYER_MM


def case(bend: int, stud_mm: int = 20) -> str:
    """A pouch 60 high whose flap bends twice and reaches 35 down its front, the cap 15 over its edge."""
    folds = ", ".join(f'{{ at = "{at} mm from bottom", open = true, angle = 90 }}' for at in (60, 60 + bend))
    return (
        piece("front", 100, 60, hole(f"centre, {stud_mm} mm from top", "stud"))
        + piece("back", 100, 60 + bend + 35, f"folds = [{folds}]\n" + hole("centre, 15 mm from top", "cap"))
        + SNAP_HALVES
        + seam("round", "front: left bottom right", "back: left bottom right from bottom 60 mm to bottom 60 mm")
        + step("Set the snap and sew.", hardware="cap stud", seams="round")
    )


@pytest.mark.parametrize(("bend", "stud_mm", "over_mm"), [(24, 20, 2 * LAYER_MM), (24, 45, 24)])
def test_a_flap_lies_on_what_its_snap_closes_on(resolve_text: Resolve, bend: int, stud_mm: int, over_mm: float) -> None:
    """Stud and cap both lie 20 from the bend: the flap lies a layer over the front, itself a layer over the back. A stud
    25 mm lower does not meet it, and nothing is told of how it closes."""
    build = resolve_text(case(bend, stud_mm))
    assert isinstance(build, Assembled)
    closed = TakenApart(build).closed
    back = next(body for body in closed.bodies if body.copy == Copy("back"))
    first, last = (back.placed.surface.bands[k].at[2] for k in (0, -1))
    assert abs(first - last) == pytest.approx(over_mm)
    (cap,) = [one.metal for one in closed.metal if one.metal.hardware == "cap"]
    assert abs(cap.at[2] - last) == pytest.approx(over_mm)


def test_hardware_under_a_flap_is_told_as_out_of_sight(resolve_text: Resolve) -> None:
    build = resolve_text(case(24))
    assert isinstance(build, Assembled)
    found = article_of(TakenApart(build))
    assert found.notes == ('out of sight: "snap, stud"',)


def test_the_window_of_a_wall_is_drawn_with_its_zip(resolve_text: Resolve) -> None:
    """A wall of two strips: the cuts of the window, 10 wide, lie in the strip that the zip is laid on."""
    build = resolve_text(
        "<zip: coil zip, 32 mm, 0.6 mm>\n"
        + piece("front", 200, 120)
        + piece("back", 200, 120)
        + '[pieces.top]\nof = "body"\nshape = "strip"\nsize = ["50 mm", "220 mm"]\n'
        + 'laid = [{ goods = "zip", at = "centre", stitch = "main", window = "10 mm", clear = "30 mm" }]\n'
        + '[pieces.foot]\nof = "body"\nshape = "strip"\nsize = ["50 mm", "solve"]\n'
        + '[joins.wall]\nof = ["top", "foot"]\noverlap = "10 mm"\nring = true\nstitch = "main"\n'
        + seam("near", "front: all", "wall: left")
        + seam("far", "back: all", "wall: right")
        + step("Sew the zip behind its window.", pieces="top", trimmings="zip")
        + step("Close the wall.", joins="wall")
        + step("Sew both panels to the wall.", seams="near far")
    )
    assert isinstance(build, Assembled)
    closed = TakenApart(build).closed
    wall = next(body for body in closed.bodies if body.copy == Copy("wall"))
    marks = [mark for mark in wall.placed.item.marks if mark.kind == "slit"]
    across = [at.x for mark in marks for line in mark.path.segments for at in (line.start, line.end)]
    assert (len(marks), min(across), max(across)) == (4, pytest.approx(20), pytest.approx(30))
    assert ([one.title for one in closed.zips], closed.absent) == (["coil zip"], ())
