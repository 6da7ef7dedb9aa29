"""A picture that shows two parts otherwise than their section is withheld, and check says so."""

from dataclasses import replace
from pathlib import Path

import pytest
from short_specs import piece, seam, step
from spec_text import Resolve

from docgen.assemble import TakenApart, UnsureError
from docgen.assemble.apart.agreed import hold_agreed
from docgen.checks import resolve_build
from docgen.read import read_spec

BUILDS = Path(__file__).parent / "builds"
ROUND = "left bottom right top"
WALL = (
    piece("front", 200, 150, 'round = { bottom-left = "20 mm", bottom-right = "20 mm" }\n')
    + '[pieces.wall]\nof = "body"\nshape = "strip"\nsize = ["40 mm", "solve"]\n'
    + seam("one", "front: left bottom right", "wall: left")
    + step("Sew them.", seams="one")
)


def lined(shows: str) -> str:
    return (
        piece("front", 200, 120)
        + f'[pieces.lining]\nlike = "front"\nof = "thin"\nlines = ["front"]\nshows = "{shows}"\n'
        + seam("rim", f"front: {ROUND}", f"lining: {ROUND}")
        + step("Sew the lining in.", pieces="front lining", seams="rim")
    )


def test_a_part_that_is_drawn_the_other_way_round_than_in_its_section(resolve_text: Resolve) -> None:
    """A lining placed with its flesh side in sight, where the section has its grain side there."""
    grain, flesh = (resolve_text(lined(shows)) for shows in ("grain", "flesh"))
    bodies, heaps = TakenApart(flesh).heaps(0)
    hold_agreed(flesh, bodies, heaps, 0)
    with pytest.raises(UnsureError, match='"front" and "lining" would lie otherwise than in the section of "rim"'):
        hold_agreed(grain, bodies, heaps, 0)


def test_a_part_that_is_lifted_to_the_other_side_of_what_it_lies_on(resolve_text: Resolve) -> None:
    """A wall comes off its panel on the side on which it stands; led the other way it would go through."""
    build = resolve_text(WALL)
    bodies, heaps = TakenApart(build).heaps(0)
    hold_agreed(build, bodies, heaps, 0)
    (one,) = heaps[0].moved
    back = replace(one, way=(-one.way[0], -one.way[1], -one.way[2]))
    with pytest.raises(UnsureError, match="front and wall would be lifted past each other"):
        hold_agreed(build, bodies, [replace(heaps[0], moved=(back,))], 0)


@pytest.mark.parametrize("name", ["tote", "crossbody", "sheath", "wallet"])
def test_pictures_and_sections_of_whole_builds_agree(name: str) -> None:
    told = [*TakenApart(resolve_build(read_spec(BUILDS / f"{name}.toml"))).tell_withheld()]
    assert not [line for line in told if "otherwise than in" in line or "past each other" in line]
