"""The drawing of a row: it fits its box, and its arrow lies as the leather must stretch least."""

from collections.abc import Iterator

import by_hand
import pytest
from hypothesis import given
from hypothesis import strategies as st

from docgen.geometry.outline import rectangle_outline, strip_outline
from docgen.geometry.path import path_box
from docgen.geometry.shapes import Outline, Point
from docgen.pages.drawn.tiny_drawing import draw_tiny_piece
from docgen.pages.looks.words import load_page_style
from docgen.pages.marks.page import ClipMark, Mark, PathMark
from docgen.pages.setting.blocks import Figure
from docgen.resolve import Hole, Piece

STYLE = load_page_style()


def make_piece(outline: Outline, least_stretch: str = "", holes: tuple[Hole, ...] = ()) -> Piece:
    return by_hand.make_piece("a", outline, least_stretch=least_stretch, holes=holes)


def heads_of(figure: Figure) -> list[PathMark]:
    """The black heads of the arrow."""
    return [mark for mark in figure.marks if isinstance(mark, PathMark) and mark.fill == 0.0]


def all_marks(marks: tuple[Mark, ...]) -> Iterator[Mark]:
    for mark in marks:
        yield mark
        if isinstance(mark, ClipMark):
            yield from all_marks(mark.marks)


@given(st.floats(5, 900), st.floats(5, 2500), st.sampled_from(["", "up", "across"]))
def test_everything_shown_lies_in_the_box(width_mm: float, height_mm: float, least_stretch: str) -> None:
    piece = make_piece(rectangle_outline(width_mm, height_mm), least_stretch)
    figure = draw_tiny_piece(piece, 24.0, 13.0, STYLE)
    assert figure.width_mm == 24.0
    assert figure.height_mm <= 13.0 + 2.6 + 1e-6
    assert figure.caption == ""
    for mark in figure.marks:
        box = mark.box if isinstance(mark, ClipMark) else path_box(mark.path)
        assert box.left >= -1e-6
        assert box.right <= 24.0 + 1e-6
        assert box.bottom >= -1e-6
        assert box.top <= figure.height_mm + 1e-6


@pytest.mark.parametrize(
    ("size", "least_stretch", "lies"),
    [
        ((200, 150), "up", "up"),
        ((200, 150), "across", "across"),
        ((30, 600), "up", "across"),
        ((30, 600), "across", "up"),
    ],
)
def test_the_arrow_turns_with_the_piece(size: tuple[float, float], least_stretch: str, lies: str) -> None:
    """A strap of 600 mm lies down in its drawing, so that what is up in the piece is across there."""
    heads = heads_of(draw_tiny_piece(make_piece(rectangle_outline(*size), least_stretch), 24.0, 13.0, STYLE))
    assert len(heads) == 2
    first, second = (path_box(head.path) for head in heads)
    assert (abs(first.left - second.left) > abs(first.bottom - second.bottom)) == (lies == "across")


def test_without_a_way_of_least_stretch_there_is_no_arrow() -> None:
    assert heads_of(draw_tiny_piece(make_piece(rectangle_outline(200, 150)), 24.0, 13.0, STYLE)) == []


def test_a_long_strap_is_broken_and_shows_the_holes_of_its_end() -> None:
    holes = tuple(Hole(at=Point(12, 880 + 25 * place), diameter_mm=4) for place in range(3))
    figure = draw_tiny_piece(make_piece(strip_outline(25, 1000), holes=holes), 24.0, 13.0, STYLE)
    assert sum(isinstance(mark, ClipMark) for mark in figure.marks) == 2
    assert len([mark for mark in all_marks(figure.marks) if isinstance(mark, PathMark) and mark.fill == 1.0]) == 6
