"""Figures in the cells of a table: level with the first line, never cut, never on a line of another row."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from docgen.geometry.path import box_path, path_box
from docgen.geometry.shapes import Box
from docgen.pages.looks.words import load_page_style
from docgen.pages.marks.page import ClipMark, Mark, PathMark, TextMark
from docgen.pages.setting.blocks import Column, Figure, Table
from docgen.pages.setting.flow import flow_pages

STYLE = load_page_style()
FRAME = Box(14, 44, 201.9, 265.4)
COLUMNS = (Column("", 1), Column("what", 2))


def make_figure(height_mm: float, width_mm: float = 20.0) -> Figure:
    mark = PathMark(path=box_path(Box(0, 0, width_mm, height_mm)), fill=0.5)
    return Figure(width_mm, height_mm, (mark,))


def figures_of(page: tuple[Mark, ...]) -> list[Box]:
    return [mark.box for mark in page if isinstance(mark, ClipMark)]


@given(st.lists(st.tuples(st.floats(1, 60), st.integers(1, 30)), min_size=1, max_size=25))
def test_rows_keep_clear_of_each_other(rows: list[tuple[float, int]]) -> None:
    """Rules between rows are lines right across: none of them crosses a figure."""
    table = Table(COLUMNS, tuple((make_figure(high), "\n".join(["word"] * lines)) for high, lines in rows))
    pages = flow_pages((table,), FRAME, STYLE)
    boxes = [box for page in pages for box in figures_of(page)]
    assert len(boxes) == len(rows)
    assert [box.height for box in boxes] == pytest.approx([high for high, _ in rows])
    for page in pages:
        rules = [path_box(mark.path).bottom for mark in page if isinstance(mark, PathMark)]
        for box in figures_of(page):
            assert box.bottom >= FRAME.bottom - 1e-6
            assert box.top <= FRAME.top + 1e-6
            assert not any(box.bottom < rule < box.top for rule in rules)
        words = [mark for mark in page if isinstance(mark, TextMark) and mark.text == "word"]
        assert all(FRAME.bottom <= mark.y_mm <= FRAME.top for mark in words)
    found = sum(isinstance(mark, TextMark) and mark.text == "word" for page in pages for mark in page)
    assert found == sum(lines for _, lines in rows)


def test_the_first_line_is_level_with_the_figure() -> None:
    (page,) = flow_pages((Table(COLUMNS, ((make_figure(30.0), "first\nsecond"),)),), FRAME, STYLE)
    (box,) = figures_of(page)
    first = next(mark for mark in page if isinstance(mark, TextMark) and mark.text == "first")
    assert box.top - first.y_mm == pytest.approx(STYLE.body_type_mm, abs=1.5)


def test_words_longer_than_a_page_go_on_beside_nothing() -> None:
    words = "\n".join(f"line {number}" for number in range(150))
    pages = flow_pages((Table(COLUMNS, ((make_figure(30.0), words),)),), FRAME, STYLE)
    assert len(pages) >= 3
    assert sum(len(figures_of(page)) for page in pages) == 1
    found = [mark.text for page in pages for mark in page if isinstance(mark, TextMark) and "line" in mark.text]
    assert found == words.split("\n")


def test_a_figure_wider_than_its_column_is_refused() -> None:
    with pytest.raises(ValueError, match=r"a figure 80\.0 mm wide does not fit a column of 61\.3 mm"):
        flow_pages((Table(COLUMNS, ((make_figure(5.0, 80.0), ""),)),), FRAME, STYLE)
