"""A row whose part on top goes on beyond the cut edge of what is beneath says which of its holes these are. By hand: 100 mm
down, 192 along and 100 up, a hole about every 4 mm, and one at each end of what goes on."""

import pytest
from short_specs import SHORT_HEAD, piece, seam, step
from spec_text import Resolve
from step_lines import lines

from docgen.plan import plan_work

GOES_ON = "back: left bottom right from top 50 mm to top 50 mm"
ENDS = "front: left bottom right"
PANELS = piece("back", 200, 150, of="hide") + piece("front", 200, 100, of="hide") + step("Sew.", seams="round")


@pytest.fixture
def head() -> str:
    return SHORT_HEAD


def told(resolve_text: Resolve, *partners: str) -> list[str]:
    return [line for line in lines(plan_work(resolve_text(PANELS + seam("round", *partners))), 1) if "holes" in line]


def test_holes_beyond_the_edge_of_the_part_beneath_are_told(resolve_text: Resolve) -> None:
    build = resolve_text(PANELS + seam("round", GOES_ON, ENDS))
    stitches = next(one.stitches for one in build.seams)
    assert told(resolve_text, GOES_ON, ENDS) == [
        f"back has {stitches + 1} holes in this row, front {stitches - 1}: at both ends the stitch goes through the end "
        "hole of the first and over the cut edge of the second."
    ]


def test_what_lies_on_top_and_ends_at_its_edge_is_told_on_the_front_page(resolve_text: Resolve) -> None:
    assert told(resolve_text, ENDS, GOES_ON) == []


def test_where_both_end_at_their_edges_nothing_is_told(resolve_text: Resolve) -> None:
    assert told(resolve_text, "back: bottom", "front: bottom") == []


@pytest.mark.parametrize(("hems", "edge"), [("", "cut"), ('hems = [{ edges = "top", turn = "10 mm" }]\n', "folded")])
def test_a_hem_ends_at_its_fold(resolve_text: Resolve, hems: str, edge: str) -> None:
    text = piece("back", 200, 150, of="hide") + step("Sew.", seams="round") + seam("round", GOES_ON, ENDS)
    text += piece("front", 200, 110 if hems else 100, hems, of="hide")
    (line,) = [line for line in lines(plan_work(resolve_text(text)), 1) if "holes in this row" in line]
    assert f"over the {edge} edge of the second" in line
