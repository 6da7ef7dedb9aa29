"""A wall creased along both sides, with a flange on each panel: it stands between its folds, as wide as it is there."""

import pytest
from short_specs import piece, seam, step
from spec_text import Resolve
from step_lines import lines

from docgen.assemble import Assembled, Copy, TakenApart, pile_seam
from docgen.plan import plan_work


def bag(inside: str, angle: int = 90) -> str:
    """Front and back of 200 x 150 mm, leather of 2 mm; a wall of 50 mm with a flange of 10 along either side, sewn 4 mm in
    from its edges."""
    folds = ", ".join(
        f'{{ at = "10 mm from {side}", open = true, angle = {angle}, inside = "{inside}" }}'
        for side in ("left", "right")
    )
    return (
        piece("front", 200, 150)
        + piece("back", 200, 150)
        + f'[pieces.wall]\nof = "body"\nshape = "strip"\nsize = ["70 mm", "solve"]\nfolds = [{folds}]\n'
        + seam("near", "front: left bottom right", "wall: left")
        + seam("far", "back: left bottom right", "wall: right")
        + step("Crease the wall.", pieces="wall")
        + step("Sew the wall.", seams="near far")
    )


def built(resolve_text: Resolve, text: str) -> Assembled:
    build = resolve_text(text)
    assert isinstance(build, Assembled)
    return build


def test_the_panels_lie_as_far_apart_as_the_folds(resolve_text: Resolve) -> None:
    """70 less 2 x 10: 50 mm, and not the 62 between its rows. It goes through neither panel."""
    build = built(resolve_text, bag("grain"))
    depths = [{round(at[1], 6) for face in part.faces for at in face.corners} for part in build.space.parts[:2]]
    assert [build.space.parts[k].copy.part for k in (0, 1)] == ["front", "back"]
    assert abs(next(iter(depths[0])) - next(iter(depths[1]))) == pytest.approx(50)
    assert [problem.check for problem in build.cautions if problem.check == "parts-crossing"] == []


def test_a_wall_creased_outward_is_drawn_and_shown_in_section(resolve_text: Resolve) -> None:
    build = built(resolve_text, bag("grain"))
    assert TakenApart(build).withheld == {}
    (pile,) = pile_seam(build, build.assembly.sewn[0])
    assert [(ply.part, ply.grain) for ply in pile] == [("front", "up"), ("wall", "down")]
    assert any("flesh sides together, edges level and outside" in line for line in lines(plan_work(build), 2))


def test_a_wall_creased_inward_shows_its_grain_to_the_panel_and_is_not_drawn(resolve_text: Resolve) -> None:
    """It stands 6 mm beyond its rows, and no picture shows that."""
    build = built(resolve_text, bag("flesh"))
    assert Copy("wall") in TakenApart(build).withheld
    (pile,) = pile_seam(build, build.assembly.sewn[0])
    assert [(ply.part, ply.grain) for ply in pile] == [("front", "up"), ("wall", "up")]
    assert not any("flesh sides together" in line for line in lines(plan_work(build), 2))


def test_a_wall_that_is_bent_otherwise_is_no_flange(resolve_text: Resolve) -> None:
    """Bent by 60 degrees in and out in turn, from 4 to 66 mm: 6 mm, 50 turned by 60 degrees, and 6 again."""
    build = built(resolve_text, bag("grain", angle=60))
    wall = next(part for part in build.space.parts if part.copy.part == "wall")
    across, deep = 12 + 50 * 0.5, 50 * 0.75**0.5
    assert wall.surface.pleat[-1][1] == pytest.approx((across**2 + deep**2) ** 0.5)
