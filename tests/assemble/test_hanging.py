"""What hangs by one row is folded back from a needle or post beside it; what a row holds by its edge is not. The back
is 2 mm thick, and so is all that hangs on it; figures by hand."""

import pytest
from short_specs import hole, piece, rivet, seam, step
from spec_text import Resolve

from docgen.assemble import Assembled

BACK = piece("back", 200, 150, 'landings = [{ piece = "flap", at = "centre, 40 mm from top" }]\n' + "HOLES")
FLAP = piece("flap", 180, 160)
RIM = piece("rim", 200, 30)
SEWN = seam("hinge", "flap: bottom", "back") + seam("mouth", "back: top", "rim: top")
STEPS = step("Flap.", seams="hinge") + step("Mouth.", seams="mouth")


def build_of(resolve_text: Resolve, text: str, holes: str = "") -> Assembled:
    build = resolve_text(text.replace("HOLES", holes))
    assert isinstance(build, Assembled)
    return build


def thickest(build: Assembled, name: str) -> float:
    return max(once.stack.thickest_mm for once in build.assembly.sewn if once.seam == name)


# Its foot lies 40 mm above that of the back, and it covers what is above: the mouth lies 30 mm below its upper edge.
HUNG = BACK.replace("40 mm from top", "40 mm from bottom")


def test_a_mouth_is_not_sewn_through_a_flap_that_hangs_on_the_back(resolve_text: Resolve) -> None:
    build = build_of(resolve_text, HUNG + FLAP + RIM + SEWN + STEPS)
    assert thickest(build, "hinge") == pytest.approx(4)
    assert thickest(build, "mouth") == pytest.approx(4)  # back and rim


def test_what_is_held_on_three_sides_lies_under_the_needle(resolve_text: Resolve) -> None:
    text = (HUNG + FLAP + RIM + SEWN + STEPS).replace("flap: bottom", "flap: left bottom right")
    assert thickest(build_of(resolve_text, text), "mouth") == pytest.approx(6)


def test_a_row_along_the_edge_of_what_hangs_catches_it(resolve_text: Resolve) -> None:
    """Its upper edge comes 4 mm above the row of the mouth."""
    text = (HUNG + FLAP + RIM + SEWN + STEPS).replace('"160 mm"', '"110 mm"')
    assert thickest(build_of(resolve_text, text), "mouth") == pytest.approx(6)


@pytest.mark.parametrize(
    ("at", "parts"), [("centre, 50 mm from top", ("back",)), ("centre, 45 mm from bottom", ("back", "flap"))]
)
def test_a_post_goes_through_what_hangs_only_beside_its_row(
    resolve_text: Resolve, at: str, parts: tuple[str, ...]
) -> None:
    work = step("Flap.", seams="hinge") + step("Rivet.", hardware="rivet") + step("Mouth.", seams="mouth")
    build = build_of(resolve_text, HUNG + FLAP + RIM + rivet() + SEWN + work, hole(at))
    (rivets,) = build.assembly.fastened
    assert rivets.stack.parts == parts
