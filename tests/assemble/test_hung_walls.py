"""The wall of a lining that is sewn into a bag of its own lies along the wall that it lines, said or not. By hand."""

import pytest
from in_space import part
from short_specs import piece, seam, step
from spec_text import Resolve

from docgen.assemble import Assembled, Copy
from docgen.assemble.goods import SAME_SIZE_MM

DEEP_MM = 40.0


def _bag(
    resolve_text: Resolve,
    wall: str = "",
    panel: str = 'lines = ["%s"]\n',
    deep_mm: float = DEEP_MM,
    mouth: tuple[str, ...] = ("start", "end"),
) -> Assembled:
    """Front and back of 200 by 150 mm with a wall between them, and the same once more, hung in and sewn round the mouth,
    with the ends of its wall or without."""
    strip = '[pieces.{}]\nof = "body"\nshape = "strip"\nsize = ["{} mm", "solve"]\n{}'
    mouths = [(f"mouth-{side}", f"{side}: top", f"in-{side}: top") for side in ("front", "back")]
    mouths += [(f"mouth-{end}", f"wall: {end}", f"in-wall: {end}") for end in mouth]
    build = resolve_text(
        piece("front", 200, 150)
        + piece("back", 200, 150)
        + "".join(piece(f"in-{side}", 200, 150, panel.replace("%s", side)) for side in ("front", "back"))
        + strip.format("wall", DEEP_MM, "")
        + strip.format("in-wall", deep_mm, wall)
        + "".join(
            seam(f"{pre}{side}", f"{pre}{side}: left bottom right", f"{pre}wall: {edge}")
            for pre in ("in-", "")
            for side, edge in (("front", "left"), ("back", "right"))
        )
        + "".join(seam(*one) for one in mouths)
        + step("Sew the lining.", seams="in-front in-back")
        + step("Sew the outside.", seams="front back")
        + step("Hang the lining in.", seams=" ".join(name for name, *_ in mouths))
    )
    assert isinstance(build, Assembled)
    return build


@pytest.mark.parametrize("wall", ["", 'lines = ["wall"]\n'])
@pytest.mark.parametrize(
    ("mouth", "deep_mm"), [(("start", "end"), DEEP_MM), ((), DEEP_MM), ((), DEEP_MM - SAME_SIZE_MM)]
)
def test_the_wall_of_a_hung_lining_lies_behind_the_wall(
    resolve_text: Resolve, wall: str, mouth: tuple[str, ...], deep_mm: float
) -> None:
    build = _bag(resolve_text, wall, deep_mm=deep_mm, mouth=mouth)
    placed = part(build.space, "in-wall")
    assert (placed.how, placed.host, placed.is_inner) == ("lies behind", Copy("wall"), True)
    assert not build.space.doubts
    assert not build.space.unplaced


def test_a_wall_that_is_wider_than_the_outer_one_lines_none(resolve_text: Resolve) -> None:
    build = _bag(resolve_text, deep_mm=DEEP_MM + SAME_SIZE_MM + 1, mouth=())
    assert Copy("in-wall") not in {one.copy for one in build.space.parts if one.how == "lies behind"}


def test_the_wall_between_panels_that_line_nothing_is_no_lining(resolve_text: Resolve) -> None:
    build = _bag(resolve_text, panel="")
    assert not part(build.space, "in-wall").is_inner
