"""A flap with a second layer of leather, laid on a back and sewn through all three: what lies between. By hand."""

from collections.abc import Callable

import pytest
from short_specs import piece, seam, step

from docgen.assemble import Assembled, Copy, TakenApart
from docgen.geometry.shapes import Point
from docgen.pages.pictures.stacks import list_stacks

Resolve = Callable[[str], Assembled]
FOLD = 'folds = [{ at = "40 mm from top", open = true, angle = 90 }]\n'


def bag(*order: str) -> str:
    return (
        piece("back", 200, 150, 'landings = [{ piece = "flap", at = "0 from left, 25 mm from top" }]\n')
        + piece("front", 200, 150)
        + piece("flap", 200, 180, FOLD)
        + '[pieces.lining]\nlike = "flap"\nof = "thin"\nmarks = false\n'
        + '[pieces.gusset]\nof = "body"\nshape = "strip"\nsize = ["50 mm", "solve"]\n'
        + seam("hinge", *order)
        + seam("round", "flap: left bottom right", "lining: left bottom right")
        + seam("one", "front: left bottom right", "gusset: left")
        + seam("two", "back: left bottom right", "gusset: right")
        + step("Sew the flap to the back.", seams="hinge")
        + step("Sew round.", seams="round")
        + step("Sew the gusset in.", seams="one two")
    )


@pytest.mark.parametrize(
    ("order", "layers"),
    [
        (("flap: top", "lining: top", "back"), ("flap", "lining", "back")),
        (("flap: top", "back", "lining: top"), ("flap", "back", "lining")),
    ],
)
def test_a_second_layer_lies_where_the_seam_names_it(
    resolve_text: Resolve, order: tuple[str, ...], layers: tuple[str, ...]
) -> None:
    """In the section and in the picture alike: the back was drawn between flap and lining."""
    build = resolve_text(bag(*order))
    lifted = TakenApart(build).lifted
    (stack,) = [one for one in list_stacks(build) if one.steps == (1,)]
    assert [ply.part for ply in stack.pile] in ([*layers], [*reversed(layers)])
    rows = {one.copy.part: one.lifts[one.surface.band_of(Point(100.0, 176.0))] for one in lifted.parts}
    assert [*sorted(layers, key=lambda name: -rows[name][1])] == [*layers]  # the back looks that way
    assert len({rows[name][1] for name in layers}) == len(layers)


def test_the_second_layer_of_a_flap_is_drawn_straight_with_it(resolve_text: Resolve) -> None:
    """Hung over the top, it stood in the way of the back, and the step was drawn upside down."""
    bodies, (heap,) = TakenApart(resolve_text(bag("flap: top", "lining: top", "back"))).heaps(0)
    assert heap.new == {Copy("flap"), Copy("lining"), Copy("back")}
    for name in ("flap", "lining"):
        assert len({face.grain for face in bodies[Copy(name)].faces}) == 1
    assert {abs(round(one.way[1], 6)) for one in heap.moved} == {1.0}


@pytest.mark.parametrize("inside", ["", ", inside = true"])
def test_what_is_sewn_on_a_hidden_side_lies_on_top_in_its_section(resolve_text: Resolve, inside: str) -> None:
    """As it lies under the needle, and as the seam names it from the top down: grain up either way."""
    text = piece("back", 200, 150, f'landings = [{{ piece = "pocket", at = "centre, 20 mm from bottom"{inside} }}]\n')
    text += piece("pocket", 120, 80) + seam("own", "pocket: left bottom right", "back") + step("Sew.", seams="own")
    (section,) = list_stacks(resolve_text(text))
    assert [(ply.part, ply.grain) for ply in section.pile] == [("pocket", "up"), ("back", "down" if inside else "up")]
