"""A band round the foot of a wall, sewn flat on it by its upper edge: where it lies, and how it comes on."""

import pytest
from short_specs import seam, step
from spec_text import Resolve

from docgen.assemble import Assembled, Copy, TakenApart, pile_seam
from docgen.pages.pictures.step_drawing import set_scene

RING = '[pieces.{0}]\nof = "body"\nshape = "strip"\nsize = ["{1} mm", "solve"]\n[joins.{2}]\nof = ["{0}"]\n'
CLOSED = 'overlap = "14 mm"\nstitch = "main"\nring = true\n'
BAG = (
    '[pieces.base]\nof = "body"\nshape = "circle"\ndiameter = "180 mm"\n'
    + RING.format("half", 260, "wall")
    + CLOSED
    + RING.format("band", 35, "foot")
    + CLOSED
    + seam("round", "foot: left", "wall: left", "base: edge")
    + seam("upper", "foot: right", "wall")
    + step("Close both.", joins="wall foot")
    + step("Slip the band over the foot; sew its upper edge.", seams="upper")
    + step("Sew in the base.", seams="round")
)


def test_it_lies_on_the_wall_and_comes_on_over_its_foot(resolve_text: Resolve) -> None:
    """The base is not there yet. It goes on its way, down, and is clear of the wall on the other one."""
    build = resolve_text(BAG)
    assert isinstance(build, Assembled)
    foot = build.space.part(Copy("foot"))
    assert foot is not None
    assert (foot.how, foot.host, foot.level) == ("lies on", Copy("wall"), 1)
    assert max(at.x for at in foot.ring) == pytest.approx(35)  # beyond its row as well
    apart = TakenApart(build)
    bodies, (heap,) = apart.heaps(1)
    (moved,) = heap.moved
    assert moved.copies == (Copy("foot"),)
    assert moved.way == pytest.approx((0, 0, -1))
    scene = set_scene(bodies, heap, apart.joined(heap, 1, bodies))
    shifts = {one.body.copy.part: one.shift for one in scene.drawing.shown}
    assert shifts["wall"] == (0, 0, 0)
    assert shifts["foot"][2] < -35


def test_its_section_has_the_band_on_the_wall_grain_out(resolve_text: Resolve) -> None:
    build = resolve_text(BAG)
    assert isinstance(build, Assembled)
    upper = next(once for once in build.assembly.sewn if once.seam == "upper")
    pile, *_ = pile_seam(build, upper)
    assert [(ply.part, ply.grain) for ply in pile[:2]] == [("foot", "up"), ("wall", "up")]
