"""A lining that is sewn by itself and hung into its bag: its outer sides look at each other, and meet as it is sewn."""

import pytest
from short_specs import piece, seam, step
from spec_text import Resolve

from docgen.assemble import Assembled, Copy, TakenApart, pile_seam
from docgen.pages.work.acts import tell
from docgen.plan import plan_work

CLOTH = '[materials.lining]\nkind = "fabric"\nthickness = "0.5 mm"\n'
GRAIN, RIGHT, FLESH = "grain sides together", "right sides together", "flesh sides together"


def pouch(resolve_text: Resolve, of: str = "body", lines: bool = True) -> Assembled:
    """Two panels and two of the same size that line them, or lie beside them for a pouch of their own; a pocket on one."""
    front, back = ('lines = ["front"]\n', 'lines = ["back"]\n') if lines else ("", "")
    pocket = 'landings = [{ piece = "pocket", at = "centre, 40 mm from bottom" }]\n'
    build = resolve_text(
        (CLOTH if of == "lining" else "")
        + piece("front", 200, 150)
        + piece("back", 200, 150)
        + piece("near", 200, 150, front, of)
        + piece("far", 200, 150, back + pocket, of)
        + piece("pocket", 90, 60, of=of)
        + seam("pocket", "pocket: left bottom right", "far")
        + seam("inside", "near: left bottom right", "far: left bottom right")
        + seam("round", "front: left bottom right", "back: left bottom right", more="turned = true\n")
        + seam("mouth-front", "front: top", "near: top")
        + seam("mouth-back", "back: top", "far: top")
        + step("Sew the pocket on.", seams="pocket")
        + step("Sew the lining.", seams="inside")
        + step("Sew the outside.", seams="round")
        + step("Hang the lining in.", seams="mouth-front mouth-back")
    )
    assert isinstance(build, Assembled)
    return build


def told(build: Assembled) -> str:
    return " ".join(tell(act) for act in plan_work(build).steps[1].acts)


@pytest.mark.parametrize(
    ("of", "lines", "side"), [("body", True, GRAIN), ("lining", True, RIGHT), ("body", False, FLESH)]
)
def test_it_is_sewn_with_the_sides_together_that_are_seen_in_the_bag(
    resolve_text: Resolve, of: str, lines: bool, side: str
) -> None:
    """Two that line nothing are a pouch of their own, its edges outside: their inner sides lie together."""
    words = told(pouch(resolve_text, of, lines))
    assert [one for one in (GRAIN, RIGHT, FLESH) if one in words] == [side]


@pytest.mark.parametrize(("lines", "looks"), [(True, ["down", "up"]), (False, ["up", "down"])])
def test_its_section_shows_the_same(resolve_text: Resolve, lines: bool, looks: list[str]) -> None:
    build = pouch(resolve_text, lines=lines)
    (once,) = (one for one in build.assembly.sewn if one.seam == "inside")
    (pile,) = pile_seam(build, once)
    assert [ply.grain for ply in pile] == looks


def test_it_is_drawn_between_its_panels_with_what_lies_in_it(resolve_text: Resolve) -> None:
    """From the front down, a layer of 1.6 mm each: its lining, the pocket, the lining of the back, the back."""
    apart = TakenApart(pouch(resolve_text))
    heights = {body.copy.part: body.faces[0].corners[0][2] for body in apart.bodies}
    order = ("front", "near", "pocket", "far", "back")
    assert [heights[name] - heights["front"] for name in order] == pytest.approx([0, -1.6, -3.2, -4.8, -6.4])
    bodies, (heap,) = apart.heaps(1)
    ((copies, way),) = ((one.copies, one.way) for one in heap.moved)
    grain = bodies[copies[0]].faces[0].grain
    assert copies == (Copy("near"),)
    assert way == pytest.approx((0, 0, 1))
    assert grain == pytest.approx((0, 0, -1))


FACING = (
    piece("middle", 200, 150)
    + '<strip wall: ["40 mm", "solve"]>\n'
    + seam("near", "front: left bottom right", "middle: left bottom right", "wall: left")
    + seam("far", "back: left bottom right", "wall: right")
    + step("Sew.", seams="near far")
)


@pytest.mark.parametrize(("turned", "looks"), [("", ["up", "down", "down"]), ("turned = true\n", ["down", "", "up"])])
def test_a_facing_between_a_panel_and_its_gusset_shows_its_side(
    resolve_text: Resolve, turned: str, looks: list[str]
) -> None:
    """One as large as its panel lies back to back on that; of a seam that is turned it is not told how."""
    build = resolve_text(
        piece("front", 200, 150) + piece("back", 200, 150) + FACING.replace("[seams.far]", turned + "[seams.far]")
    )
    assert isinstance(build, Assembled)
    (once,) = (one for one in build.assembly.sewn if one.seam == "near")
    (pile,) = pile_seam(build, once)
    assert [ply.grain for ply in pile] == looks
