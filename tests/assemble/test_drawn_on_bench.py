"""Pictures of builds of the bench and of starters: straps on what is round, lids that nothing bends yet, names unseen."""

from pathlib import Path

import pytest
from demos import ROOT, demo_build
from short_specs import piece, seam, step
from spec_text import Resolve

from docgen.assemble import Assembled, Copy, Placed, TakenApart
from docgen.checks import resolve_build
from docgen.pages.pictures.drawing import Drawing, Shown
from docgen.pages.pictures.leaders import THIN_MM, find_unseen
from docgen.pages.pictures.view import View
from docgen.read import read_spec

FROM_FRONT = View((1.0, 0.0, 0.0), (0.0, 0.0, 1.0), (0.0, -1.0, 0.0))
ON_THE_FRONT = View((1.0, 0.0, 0.0), (0.0, -1.0, 0.0), (0.0, 0.0, -1.0))  # of what lies front down
BENCH = Path(ROOT) / "tests" / "bench" / "slips" / "builds"


def bench_build(name: str) -> Assembled:
    return resolve_build(read_spec(BENCH / f"{name}.toml"))


def off_mm(host: Placed, strap: Placed, far_mm: float) -> float:
    """How far the middle of a strap lies off its host at most, from its first end on so far."""
    bands = [band for band in strap.surface.bands if band.end_mm <= far_mm]
    lifts = [
        min(abs(lift) for foot, lift in (host.surface.foot(under, band.at) for under in host.surface.bands) if foot)
        for band in bands
    ]
    assert len(lifts) > 1
    return max(lifts)


def test_a_grip_lies_round_the_tube_where_it_is_sewn_on() -> None:
    """A straight line from end to end of its landing would go through the tube, and be hidden by it."""
    space = bench_build("duffel").space
    grip = space.part(Copy("grip"))
    assert grip is not None
    assert grip.host is not None
    host = space.part(grip.host)
    assert host is not None
    over_mm = next(one.over_mm for strip in host.item.strips for one in strip.piece.strap_landings)
    assert off_mm(host, grip, over_mm + 0.01) < 0.01


def test_a_lid_that_nothing_bends_yet_lies_flat_with_its_lining() -> None:
    apart = TakenApart(bench_build("box-case"))
    bodies, heaps = apart.heaps(0)
    heights = [at[2] for face in bodies[Copy("lid")].faces for at in face.corners]
    assert max(heights) - min(heights) < 0.01
    assert apart.joined(heaps[0], 0, bodies).kind == "lying"


@pytest.mark.parametrize(("copies", "unseen"), [(("front", "back"), 1), (("front",), 0), (("back",), 0)])
def test_names_of_which_nothing_is_seen_are_counted(copies: tuple[str, ...], unseen: int) -> None:
    """Straight from before it the front of a satchel hides its back."""
    closed = {body.copy: body for body in TakenApart(demo_build("satchel")).closed.bodies}
    drawing = Drawing([Shown(body=closed[Copy(name)]) for name in copies], FROM_FRONT)
    named = tuple(((k,), name) for k, name in enumerate(copies))
    assert len(find_unseen(drawing.glance(0.2), named, THIN_MM)) == unseen


@pytest.mark.parametrize("wide_mm", [9, 12])
def test_a_narrow_frame_bears_its_name_unless_another_part_hides_it(resolve_text: Resolve, wide_mm: int) -> None:
    """A welt open at one side: no place of a coarse grid lies on it where it is 9 mm wide."""
    build = resolve_text(_welted(wide_mm))
    assert isinstance(build, Assembled)
    closed = {body.copy: body for body in TakenApart(build).closed.bodies}
    for other, unseen in (("back", []), ("front", ["welt"])):
        drawing = Drawing([Shown(body=closed[Copy(name)]) for name in (other, "welt")], ON_THE_FRONT)
        found = find_unseen(drawing.glance(0.2), (((0,), other), ((1,), "welt")), THIN_MM)
        assert [name for _, name in found] == unseen


def _welted(wide_mm: int) -> str:
    """A sheath of 105 by 111 mm: front, a welt so wide along three of its edges, back."""
    high = 111 - wide_mm
    corners = [(0, 0, "foot"), (105, 0, "end-foot"), (105, wide_mm, "in-foot"), (wide_mm, wide_mm, "in-left")]
    corners += [(wide_mm, high, "in-top"), (105, high, "end-top"), (105, 111, "head"), (0, 111, "bit")]
    points = ", ".join(f'{{ at = ["{x} mm", "{y} mm"], edge = "{edge}" }}' for x, y, edge in corners)
    landings = ", ".join(
        f'{{ piece = "{name}", at = "0 mm from right, 0 mm from top", inside = true }}' for name in ("welt", "front")
    )
    return (
        piece("front", 105, 111)
        + piece("back", 105, 111, f"landings = [{landings}]\n")
        + f'[pieces.welt]\nof = "body"\nshape = "outline"\npoints = [{points}]\n'
        + seam("round", "front: top left bottom", "welt: head bit foot", "back: top right bottom")
        + step("Sew.", seams="round")
    )
