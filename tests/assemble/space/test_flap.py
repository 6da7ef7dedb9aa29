"""A body in one piece: the article's front is where its flap comes down, and what is riveted on lies where its hole is,
though the flap lies in the same plane."""

from collections.abc import Callable

import pytest
from demos import ROOT
from short_specs import piece, seam

from docgen.assemble import Assembled, inner, way_of_flap
from docgen.assemble.space import Space
from docgen.assemble.space.flap import find_flap
from docgen.assemble.space.placed import held_band
from docgen.assemble.space.vectors import minus
from docgen.checks import resolve_build
from docgen.plan import plan_work
from docgen.read import read_spec

BUILD = resolve_build(read_spec(ROOT / "tests" / "bench" / "slips" / "builds" / "book-satchel.toml"))
BODY = next(placed for placed in BUILD.space.parts if placed.copy.part == "body")
INCH = 25.4


def test_the_front_is_where_the_flap_comes_down() -> None:
    """The front is the first stretch of the body, and the flap its last, 10 in above the foot; they look the same way."""
    told = find_flap(BODY)
    assert told is not None
    flap, front = told
    assert {flap, front} == {0, len(BODY.surface.bands) - 1}
    assert BODY.out(flap) == pytest.approx(BODY.out(front))
    assert BODY.surface.bands[flap].at[2] == pytest.approx(10 * INCH, abs=2)
    assert way_of_flap(BUILD.space.parts) == pytest.approx(BODY.out(front))
    assert way_of_flap(placed for placed in BUILD.space.parts if placed is not BODY) is None


def test_what_is_riveted_on_lies_on_the_band_of_its_hole() -> None:
    """The chapes' holes are 8 3/4 in from the start of the body, in its front; the flap comes to lie over that."""
    told = find_flap(BODY)
    assert told is not None
    chapes = [placed for placed in BUILD.space.parts if placed.copy.part == "chape"]
    assert len(chapes) == 2
    assert [held_band(BODY, placed) for placed in chapes] == [told[1], told[1]]


def test_the_width_is_that_of_the_front() -> None:
    """The body is 13 in wide and sewn on 3/16 in from both edges; the sides are 3 1/2 in wide."""
    told = {item.case: dict(item.due)["length"] for item in plan_work(BUILD).finished if "length" in dict(item.due)}
    assert (told["between_ends"], told["over_ends"]) == ("12 5/8 in (320.7 mm)", "3 1/2 in (88.9 mm)")


BENDS = ", ".join(f'{{ at = "{mm} mm from bottom", open = true, angle = 90 }}' for mm in (70, 95, 165, 190))
PURSE = (
    piece("body", 90, 240, f"folds = [{BENDS}]\nlandings = [{{ piece = 'slot', at = 'centre, 100 mm from bottom' }}]\n")
    + piece("slot", 80, 50)
    + piece("side", 33, 74)
    + seam("slot", "slot: left bottom right", "body")
    + seam("left", "body: left from bottom 165 mm to bottom", "side: left bottom right")
)


def test_a_flap_is_lifted_by_what_lies_on_the_front_and_not_by_what_lies_on_the_back(
    place: Callable[[str], Space],
) -> None:
    """By hand: of the pocket on the back, on one of five bands, none lies under the flap; one on the front does."""
    on_front = PURSE.replace("centre, 100 mm from bottom", "centre, 10 mm from bottom")
    for text, layers in ((PURSE, 1), (on_front, 2)):
        body = next(placed for placed in place(text).parts if placed.copy.part == "body")
        told = find_flap(body)
        assert told is not None
        off = inner(minus(body.lifts[told[0]], body.lifts[told[1]]), body.out(told[0]))
        assert off == pytest.approx(layers)


@pytest.mark.parametrize(("over_mm", "is_flap"), [(30, True), (36, True), (80, False)])
def test_a_flap_that_stands_off_what_it_comes_over_is_one(
    resolve_text: Callable[[str], Assembled], over_mm: int, is_flap: bool
) -> None:
    """The ends are 30 mm deep, sewn in along 81 + 22 + 81 mm; a bend so much farther on
    leads the last stretch down before the front, or it is no flap."""
    bends = ", ".join(f'{{ at = "{mm} mm from bottom", open = true, angle = 90 }}' for mm in (184, 184 + over_mm))
    text = (
        piece("body", 112, 300 + over_mm, f"folds = [{bends}]\n")
        + piece("end", 30, 85, "cut = 2\n")
        + seam("left", "end 1: left bottom right", "body: left from bottom 184 mm to bottom")
        + seam("right", "end 2: left bottom right", "body: right from bottom to bottom 184 mm")
    )
    space = resolve_text(text).space
    assert (way_of_flap(space.parts) is not None) == is_flap
