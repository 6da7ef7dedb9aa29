"""A tongue that is written to bend within the mouth it goes over bends at the mouth, and comes so much less far down.

Back and front are 150 high, the gusset of 40 is 32 deep between its rows. The tongue of 112 bends 30 and 62 from its top.
Its row lies 4 in: laid half round about that, so far from the top of the back, its own top comes to lie 8 farther down,
and it bends 30 above that.
"""

import pytest
from in_space import part
from short_specs import piece, seam, step
from spec_text import Resolve

from docgen.assemble import Assembled, Copy, TakenApart
from docgen.geometry.shapes import Point

FOLDS = """\
folds = [
  { at = "30 mm from top", open = true, angle = 90 },
  { at = "62 mm from top", open = true, angle = 90 },
]
"""


def made(resolve_text: Resolve, from_top_mm: int, hem: str = "") -> Assembled:
    build = resolve_text(
        piece("front", 100, 150)
        + piece(
            "back",
            100,
            160 if hem else 150,
            f'{hem}landings = [{{ piece = "tongue", at = "centre, {from_top_mm} mm from top" }}]\n',
        )
        + '<strip gusset: ["40 mm", "solve"]>\n'
        + piece("tongue", 40, 112, FOLDS)
        + piece("tongue-lining", 40, 112, 'lines = ["tongue"]\n', "thin")
        + seam("tongue", "tongue: top", "tongue-lining: top", "back")
        + seam("near", "front: left bottom right", "gusset: left")
        + seam("far", "back: left bottom right", "gusset: right")
        + step("Sew the tongue on.", seams="tongue")
        + step("Sew.", seams="near far")
    )
    assert isinstance(build, Assembled)
    return build


@pytest.mark.parametrize(
    ("from_top_mm", "hem", "end_mm"),
    [
        (28, "", 150 - 44),
        (22, "", 150 - 50),
        (10, "", 150 - 50 + 12),
        (38, 'hems = [{ edges = "top", turn = "10 mm" }]\n', 150 - 44),
    ],
)
def test_it_bends_at_the_mouth(resolve_text: Resolve, from_top_mm: int, hem: str, end_mm: float) -> None:
    """6 within the mouth, at it, and 12 beyond it, where it bends as it is written; 6 within the fold of a hem."""
    build = made(resolve_text, from_top_mm, hem)
    for name in ("tongue", "tongue-lining"):
        tongue = part(build.space, name)
        heights = [tongue.surface.point(Point(20, y), band)[2] for band, y in ((0, 0), (1, 60), (2, 112))]
        assert min(heights) == pytest.approx(end_mm)
        tops = [at[2] for face in tongue.faces for at in face.corners]
        assert max(tops) == pytest.approx(150 + max(0, 22 - from_top_mm))
    apart = TakenApart(build)
    assert Copy("tongue") not in apart.unsure
    assert Copy("tongue") in apart.finished.bodies


def laid(resolve_text: Resolve, from_top_mm: int, side: str = "") -> Assembled:
    """A bag whose flap of 150 lies on the back, or within it."""
    landing = f'landings = [{{ piece = "flap", at = "centre, {from_top_mm} mm from top"{side} }}]\n'
    build = resolve_text(
        piece("front", 200, 150)
        + piece("back", 200, 150, landing)
        + '<strip gusset: ["40 mm", "solve"]>\n'
        + piece("flap", 180, 150, FOLDS)
        + seam("flap", "flap: top", "back")
        + seam("near", "front: left bottom right", "gusset: left")
        + seam("far", "back: left bottom right", "gusset: right")
        + step("Sew the flap on.", seams="flap")
        + step("Sew.", seams="near far")
    )
    assert isinstance(build, Assembled)
    return build


@pytest.mark.parametrize(
    ("from_top_mm", "end_mm"), [(36, 150 - 74), (30, 150 - 80), (24, 150 - 86), (22, 150 - 88), (10, 150 - 88 + 12)]
)
def test_one_laid_inside_bends_at_the_mouth_it_comes_over(
    resolve_text: Resolve, from_top_mm: int, end_mm: float
) -> None:
    """A flap of 150 on the flesh side of the back, its first fold 14, 8 and 2 below the mouth of the front, at it, and 12
    above; it reaches 150 - 62 = 88 below its second fold, so much less as the first is moved."""
    build = laid(resolve_text, from_top_mm, ", inside = true")
    flap = part(build.space, "flap")
    heights = [at[2] for face in flap.faces for at in face.corners]
    assert (min(heights), max(heights)) == pytest.approx((end_mm, 150 + max(0, 22 - from_top_mm)))


@pytest.mark.parametrize("side", ["", ", inside = true"])
@pytest.mark.parametrize(("from_top_mm", "is_drawn"), [(36, True), (37, False), (45, False)])
def test_one_that_bends_far_within_the_edge_is_not_drawn_through_it(
    resolve_text: Resolve, from_top_mm: int, is_drawn: bool, side: str
) -> None:
    """14, 15 and 23 within the edge: from 15 on it is not meant to bend at that, and would go through the leather."""
    apart = TakenApart(laid(resolve_text, from_top_mm, side))
    told = [line for line in apart.tell_withheld() if line.startswith('"flap": it would go through "')]
    assert (Copy("flap") in apart.finished.bodies, len(told)) == (is_drawn, 0 if is_drawn else 1)
