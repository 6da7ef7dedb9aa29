"""Eyelets are drawn open, with a flange wider than their hole. By hand, in mm: a hole of 4 has a flange of 4 + 5 = 9."""

import pytest
from short_specs import hole, piece, step
from spec_text import Resolve

from docgen.assemble import Assembled, TakenApart
from docgen.geometry.path import path_box
from docgen.geometry.shapes import Box
from docgen.pages.looks.words import load_page_style
from docgen.pages.marks.page import PathMark, TextMark
from docgen.pages.pictures.stack_drawing import draw_stack
from docgen.pages.pictures.stacks import list_stacks

SCALE = 1.0


def build_of(resolve_text: Resolve, what: str) -> Assembled:
    hardware = f'[hardware.own]\nwhat = "{what}"\ncount = 1\n'
    lands = 'landings = [{ piece = "patch", at = "centre, 90 mm from bottom" }]\n'
    patch = piece("patch", 40, 40, hole("centre, 20 mm from top", "own", ', through = ["panel"]'))
    text = piece("panel", 200, 150, lands) + patch + hardware
    build = resolve_text(text + step("Set.", pieces="patch", hardware="own"))
    assert isinstance(build, Assembled)
    return build


def metal_in(build: Assembled) -> tuple[list[Box], list[str]]:
    """Boxes round what is drawn of the metal in its section, and the words there."""
    (stack,) = list_stacks(build)
    marks = draw_stack(stack, 1, 60.0, SCALE, load_page_style()).marks
    drawn = [path_box(one.path) for one in marks if isinstance(one, PathMark) and one.fill == 1.0 and one.stroke]
    return drawn, [one.text for one in marks if isinstance(one, TextMark)]


def test_an_eyelet_is_open_and_its_flange_wider_than_its_hole(resolve_text: Resolve) -> None:
    boxes, words = metal_in(build_of(resolve_text, "eyelet, 4 mm"))
    left, right = min(box.left for box in boxes), max(box.right for box in boxes)
    assert right - left == pytest.approx(9 * SCALE)
    inner = [box for box in boxes if box.right < right], [box for box in boxes if box.left > left]
    assert [len(side) for side in inner] == [2, 2]
    assert min(box.left for box in inner[1]) - max(box.right for box in inner[0]) == pytest.approx(4 * SCALE)
    assert any("estimated" in word for word in words)


def test_a_rivet_is_closed_through_all_layers(resolve_text: Resolve) -> None:
    boxes, words = metal_in(build_of(resolve_text, "double-cap rivet"))
    middle = (min(box.left for box in boxes) + max(box.right for box in boxes)) / 2
    assert all(box.left < middle < box.right for box in boxes)
    assert not any("estimated" in word for word in words)


@pytest.mark.parametrize(("what", "rings"), [("eyelet, 4 mm", 2), ("double-cap rivet", 1)])
def test_the_hole_is_seen_through_an_eyelet(resolve_text: Resolve, what: str, rings: int) -> None:
    (metal,) = TakenApart(build_of(resolve_text, what)).closed.metal
    assert len(metal.metal.outlines) == rings
