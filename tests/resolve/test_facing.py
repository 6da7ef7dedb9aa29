"""Panels that face each other across a gusset, by hand: where their edges turn, and how they may differ."""

import math
import re
from pathlib import Path

import pytest
from demos import PATHS
from spec_text import Resolve, Tell

from docgen.checks import resolve_build
from docgen.read import read_spec

GUSSET = """\
[pieces.gusset]
of = "body"
shape = "strip"
size = ["60 mm", "solve"]
[seams.a]
stitch = "main"
meet = ["front: left bottom right", "gusset: left"]
[seams.b]
stitch = "main"
meet = ["back: left bottom right", "gusset: right"]
"""
TOLD = re.compile(r"other: ([\d.]+) mm .* turned by (\d+) degrees and the second by (\d+), .* up to ([\d.]+) mm")


def panel(name: str, height_mm: float, **radii_mm: float) -> str:
    corners = ", ".join(f'{corner.replace("_", "-")} = "{mm} mm"' for corner, mm in radii_mm.items())
    size = f'size = ["200 mm", "{height_mm:.2f} mm"]'
    return f'[pieces.{name}]\nof = "body"\nshape = "rectangle"\n{size}\nround = {{ {corners} }}\n'


def turned_by(along_mm: float, height_mm: float, radius_mm: float) -> float:
    """A line 4 mm in is straight for the height less the radius, then turns round a radius less by 4, twice."""
    arc_mm = (radius_mm - 4) * math.pi / 2
    after_mm = along_mm - (height_mm - radius_mm)
    second_mm = after_mm - arc_mm - (200 - 2 * radius_mm)
    return sum(min(max(mm, 0.0), arc_mm) for mm in (after_mm, second_mm)) / arc_mm * 90


@pytest.mark.parametrize("radius_mm", [80, 60, 45])
def test_equal_lengths_with_other_corners_are_told_with_where_they_turn(messages: Tell, radius_mm: float) -> None:
    """A larger radius cuts both corners shorter, so that the back must be taller by (2 - pi/2) times what it is more."""
    height_mm = 150 + (2 - math.pi / 2) * (radius_mm - 10)
    front = panel("front", 150, bottom_left=10, bottom_right=10)
    told = messages(front + panel("back", height_mm, bottom_left=radius_mm, bottom_right=radius_mm) + GUSSET)
    found = TOLD.search(told)
    assert found is not None
    along_mm, first, second, apart_mm = map(float, found.groups())
    assert first == pytest.approx(turned_by(along_mm, 150, 10), abs=1)
    assert second == pytest.approx(turned_by(along_mm, height_mm, radius_mm), abs=1)
    # The diagonal of a corner lies (sqrt 2 - 1) of its radius off the sharp one: apart by no more than both corners are.
    assert 8 < apart_mm < (math.sqrt(2) - 1) * (radius_mm - 10) + (height_mm - 150)


def test_panels_that_mirror_each_other_are_alike(resolve_text: Resolve) -> None:
    """Seen from outside, what is left in front is right at the back."""
    one, other = {"bottom_left": 60, "bottom_right": 10}, {"bottom_left": 10, "bottom_right": 60}
    assert resolve_text(panel("front", 150, **one) + panel("back", 150, **other) + GUSSET).cautions == ()


SKIVED = 'do     = "Skive the mouths and punch the body."\n'
SIDES = 'seams = ["left", "right"]'


@pytest.mark.parametrize("sewn", ['"right"', '"left", "right"'])
def test_copies_of_one_piece_sewn_before_and_after_its_hem_are_alike(tmp_path: Path, sewn: str) -> None:
    """One end of a tote sewn in before its mouth is turned over, the other after: the row of the first begins at the cut
    edge."""
    text = PATHS["tote"].read_text(encoding="utf-8")
    assert SKIVED in text
    assert SIDES in text
    (tmp_path / "a.toml").write_text(
        text.replace(SKIVED, f'{SKIVED}seams = ["left"]\n').replace(SIDES, f"seams = [{sewn}]"), encoding="utf-8"
    )
    build = resolve_build(read_spec(tmp_path / "a.toml"))
    assert any(side.is_unturned for seam in build.seams if seam.name == "left" for side in seam.sides)
    assert not any(one.check == "corners-apart" for one in build.cautions)
