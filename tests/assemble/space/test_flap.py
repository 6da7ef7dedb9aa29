"""A body in one piece: the article's front is where its flap comes down, and what is riveted on lies where its hole is,
though the flap lies in the same plane."""

import pytest
from demos import ROOT

from docgen.assemble import way_of_flap
from docgen.assemble.space.flap import find_flap
from docgen.assemble.space.placed import held_band
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
    assert (told["width"], told["depth"]) == ("12 5/8 in (320.7 mm)", "3 1/2 in (88.9 mm)")
