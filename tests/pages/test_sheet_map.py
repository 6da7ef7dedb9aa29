"""The map: every sheet once with its name, every join with its number, pieces at their place, all inside its room."""

import pytest
from on_paper import make_template

from docgen.geometry.path import path_box
from docgen.pages.looks.pattern_style import load_pattern_style
from docgen.pages.looks.words import load_page_style, words
from docgen.pages.marks.moving import mark_box
from docgen.pages.marks.page import PathMark, TextMark
from docgen.pages.pattern.grid import Window
from docgen.pages.pattern.sheet_map import EDGE, PIECE, map_figure
from docgen.pages.pattern.sheets import DrawnGrid, draw_grids

STYLE, PAGE = load_pattern_style(), load_page_style()
WINDOW = Window(width_mm=200.0, height_mm=260.0, across_mm=10.0, down_mm=10.0)


def draw(*sizes: tuple[float, float]) -> tuple[DrawnGrid, ...]:
    templates = [make_template(f"part-{index}", *size) for index, size in enumerate(sizes)]
    return draw_grids(tuple(templates), WINDOW, join="trim")


GRIDS = draw((300, 400), (300, 200), (190, 250), (190, 240))


def test_every_sheet_has_its_name_and_every_join_its_number() -> None:
    figure = map_figure(GRIDS, WINDOW, STYLE, PAGE, 90.0, 120.0)
    texts = [mark.text for mark in figure.marks if isinstance(mark, TextMark)]
    names = [grid.sheet_name(cell) for grid in GRIDS for cell in grid.grid.sheets]
    joins = sum(len(grid.grid.joins) for grid in GRIDS)
    assert {"A1", "A2", "A3", "A4", "B"} <= set(names)
    assert joins >= 4
    assert sorted(texts) == sorted([*names, *(str(number) for number in range(1, joins + 1))])


@pytest.mark.parametrize(("width", "height"), [(90.0, 120.0), (60.0, 80.0), (180.0, 40.0)])
def test_map_fits_its_room(width: float, height: float) -> None:
    figure = map_figure(GRIDS, WINDOW, STYLE, PAGE, width, height)
    assert figure.width_mm == width
    assert figure.height_mm <= height
    for mark in figure.marks:
        box = mark_box(mark)
        assert box.left >= -0.2
        assert box.right <= width + 0.2
        assert box.bottom >= -0.2
        assert box.top <= figure.height_mm + 0.2


def test_sheets_and_pieces_are_drawn_to_the_scale_of_the_caption() -> None:
    figure = map_figure(draw((190, 250)), WINDOW, STYLE, PAGE, 90.0, 120.0)
    assert figure.caption == f"{words('pattern')['map_scale']} 1 : 5"
    boxes = [path_box(mark.path) for mark in figure.marks if isinstance(mark, PathMark) and mark.fill is None]
    sizes = sorted((round(box.width, 6), round(box.height, 6)) for box in boxes)
    assert sizes == [(38.0, 50.0), (40.0, 52.0)]


def test_pieces_are_thinner_than_sheets_and_both_survive_a_copy() -> None:
    """Black, and 0.18 mm or wider: drawn for one bit and copied at 71 % such a line keeps 94 % of its length or more
    (measured in a model of a copier)."""
    figure = map_figure(GRIDS, WINDOW, STYLE, PAGE, 90.0, 120.0)
    pieces = [mark for mark in figure.marks if isinstance(mark, PathMark) and mark.stroke == PIECE]
    assert len(pieces) == 4 + sum(len(grid.grid.joins) for grid in GRIDS)  # and the rings of joins
    assert EDGE.width_mm > PIECE.width_mm >= 0.18
    assert EDGE.grey == PIECE.grey == 0.0
    sheets = [mark for mark in figure.marks if isinstance(mark, PathMark) and mark.stroke == EDGE]
    assert len(sheets) == sum(len(grid.grid.sheets) for grid in GRIDS)


def test_more_sheets_make_a_smaller_map() -> None:
    def scale(grids: tuple[DrawnGrid, ...]) -> int:
        return int(map_figure(grids, WINDOW, STYLE, PAGE, 60.0, 60.0).caption.split()[-1])

    assert scale(GRIDS) > scale(GRIDS[:1])


def test_map_of_nothing_is_empty() -> None:
    assert map_figure((), WINDOW, STYLE, PAGE, 60.0, 60.0).marks == ()
