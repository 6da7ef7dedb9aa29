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
