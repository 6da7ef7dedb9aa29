"""A flap of one bend over a bag with depth: it goes across that before it comes down.

Between the stitch lines, 4 mm in on both sides, a gusset of 40 is 32 deep; two sides of 2 mm leather lie over it: 36. The
back is 160 high to its fold, the front 150: a cap 70 beyond the fold comes down 70 - 36 = 34 below that, 24 below the top
of the front.
"""

import pytest
from in_space import part
from short_specs import SNAP_HALVES, hole, piece, seam, step
from spec_text import Resolve

from docgen.assemble import Assembled, Copy, TakenApart, inner
from docgen.geometry.shapes import Point

DEEP_MM = 32 + 2 * 2


def case(angle: str = "", stud_mm: int = 24, more: str = "") -> str:
    return (
        piece("front", 100, 150, hole(f"centre, {stud_mm} mm from top", "stud"))
        + piece(
            "back",
            100,
            250,
            f'folds = [{{ at = "160 mm from bottom", open = true{angle} }}]\n'
            + hole("centre, 20 mm from top", "cap")
            + more,
        )
        + '<strip gusset: ["40 mm", "solve"]>\n'
        + SNAP_HALVES
        + seam("near", "front: left bottom right", "gusset: left")
        + seam("far", "back: left bottom right from top 100 mm to top 100 mm", "gusset: right")
        + step("Set the snap.", hardware="cap stud")
        + step("Sew.", seams="near far")
    )


def made(resolve_text: Resolve, text: str) -> Assembled:
    build = resolve_text(text)
    assert isinstance(build, Assembled)
    return build


@pytest.mark.parametrize("angle", ["", ", angle = 180"])
def test_it_comes_down_where_its_snap_meets(resolve_text: Resolve, angle: str) -> None:
    build = made(resolve_text, case(angle))
    front, back = part(build.space, "front"), part(build.space, "back")
    (stud,), (cap,) = front.item.holes, back.item.holes
    (_, y, z), (_, its_y, its_z) = front.surface.point(stud.at), back.surface.point(cap.at)
    assert z == pytest.approx(its_z)
    assert y - its_y == pytest.approx(2 * 2)  # before the front, by what is thick of both
    assert inner(back.out(back.surface.band_of(cap.at)), front.out(0)) == pytest.approx(1)
    assert Copy("back") not in TakenApart(build).unsure


@pytest.mark.parametrize(("stud_mm", "is_told"), [(24 + 13, True), (24 + 11, False)])
def test_halves_that_miss_are_told(resolve_text: Resolve, stud_mm: int, is_told: bool) -> None:
    """Whether its angle is said or not; 12 mm is what leather gives, by our choice."""
    for angle in ("", ", angle = 180"):
        build = made(resolve_text, case(angle, stud_mm))
        assert ("snap-halves-apart" in {one.check for one in build.cautions}) == is_told


def test_what_lies_along_it_bends_with_it(resolve_text: Resolve) -> None:
    """A lining all over the back, and a patch on the grain of the flap, its middle 65 beyond the fold, which is 36 across
    and 29 down."""
    text = case(more='landings = [{ piece = "patch", at = "centre, 20 mm from top" }]\n')
    text += (
        piece("patch", 40, 10)
        + '[pieces.lining]\nlike = "back"\nholes = []\nlandings = []\nlines = ["back"]\n'
        + step("Line.", pieces="patch lining")
    )
    build = made(resolve_text, text)
    front, patch, back = (part(build.space, name) for name in ("front", "patch", "back"))
    (_, y, z), at = front.surface.point(Point(50, 150)), patch.surface.point(patch.item.box.centre)
    assert (y - at[1], z - at[2]) == pytest.approx((2 * 2, 250 - 20 - 5 - 160 - DEEP_MM - 10))
    assert part(build.space, "lining").surface.bands == back.surface.bands


def test_a_flat_pouch_is_bent_once(resolve_text: Resolve) -> None:
    text = case().replace("gusset: left", "back: left bottom right from top 100 mm to top 100 mm")
    begin, end = text.index("<strip gusset"), text.index("[hardware.cap]")
    text = text[:begin] + text[end : text.index("[seams.far]")] + step("Sew.", seams="near", hardware="cap stud")
    assert len(part(made(resolve_text, text).space, "back").surface.bands) == 2


def test_it_lies_flat_while_something_is_sewn_on(resolve_text: Resolve) -> None:
    """A patch on the grain of the back, before the walls hold that."""
    text = case(more='landings = [{ piece = "patch", at = "centre, 40 mm from bottom" }]\n') + piece("patch", 40, 60)
    first = text.index("[[steps]]")
    text = text[:first] + seam("patch", "patch: all", "back") + step("Sew the patch on.", seams="patch") + text[first:]
    bodies, _ = TakenApart(made(resolve_text, text)).heaps(0)
    back = bodies[Copy("back")].placed
    assert [inner(back.out(k), back.out(0)) for k in range(3)] == pytest.approx([1, 1, 1])
