"""Where pages of steps are turned: on made up steps of so many units, each 10 mm high, on pages of 200 mm."""

from collections.abc import Sequence
from dataclasses import replace

import pytest

from docgen.geometry.shapes import Box
from docgen.pages.looks.words import load_page_style
from docgen.pages.marks.page import TextMark
from docgen.pages.setting.blocks import Block, Column, Figure, Paragraph, Styled, Table
from docgen.pages.setting.flow import flow_height_mm, flow_pages
from docgen.pages.work.build_step import SIDE_MM, StepBlocks, step_style
from docgen.pages.work.step_pages import pack_pages

STYLE = load_page_style()
FRAME = Box(0, 0, 180, 200)
SAID = {"step": "Step", "continued": "continued"}


def make_unit(high_mm: float) -> tuple[Block, ...]:
    return (Figure(50.0, high_mm, ()),)


def make_step(number: int, count: int, opening: int = 0, drawn_mm: float = 0.0) -> StepBlocks:
    units = tuple(make_unit(10.0) for _ in range(count))
    high = flow_height_mm(units[0], FRAME.width, step_style(STYLE))
    return StepBlocks(
        number=number,
        group="",
        head=make_unit(10.0),
        units=units,
        heights=((high, high),) * count,
        opening=opening,
        tail=(),
        times=(),
        drawings=((Figure(SIDE_MM, drawn_mm, ()),),) if drawn_mm else (),
        sections=(),
        width_mm=FRAME.width,
        side_mm=SIDE_MM,
        style=step_style(STYLE),
    )


def fill(front_mm: float, counts: Sequence[int]) -> list[float]:
    """How far down each page is filled, in mm."""
    steps = [make_step(number, count) for number, count in enumerate(counts, start=1)]
    pages = pack_pages([make_unit(front_mm)], steps, [], FRAME, STYLE, SAID, lambda step: None)
    return [flow_height_mm(page, FRAME.width, STYLE) for page in pages]


@pytest.mark.parametrize(
    ("front_mm", "is_divided"),
    [
        pytest.param(60.0, True, id="70 % of the front page would stay empty"),
        pytest.param(105.0, False, id="less than half of it does"),
    ],
)
def test_a_step_is_divided_before_more_than_half_a_page_stays_empty(front_mm: float, *, is_divided: bool) -> None:
    """Two steps, each too high for what is left of a page and none for a whole one: three pages either way."""
    filled = fill(front_mm, (15, 17))
    assert len(filled) == 3
    assert (filled[0] > front_mm + 50) == is_divided
    assert all(mm > 100 for mm in filled[:-1])


@pytest.mark.parametrize(
    ("left_mm", "drawn_mm", "is_divided"),
    [
        pytest.param(28.0, 0.0, False, id="room for head and what is taken alone"),
        pytest.param(38.0, 0.0, True, id="room for the first thing that is done"),
        pytest.param(88.0, 60.0, True, id="room for both"),
    ],
)
def test_a_head_is_followed_by_what_is_done_first(left_mm: float, drawn_mm: float, *, is_divided: bool) -> None:
    """A step of a head, what is taken, and nine things that are done, before one that is too high to stand below all of
    it, and stands below most of it."""
    steps = [make_step(1, 10, opening=1, drawn_mm=drawn_mm), make_step(2, 8)]
    pages = pack_pages([make_unit(200.0 - left_mm)], steps, [], FRAME, STYLE, SAID, lambda step: None)
    marks = flow_pages(pages[0], FRAME, STYLE)[0]
    assert (len(marks) > 1) == is_divided, "the front, and nothing or head, what is taken, and a thing done"
    assert len(marks) >= 4 or not is_divided


@pytest.mark.parametrize(("rest", "is_put_off"), [(11, True), (8, False)])
def test_a_drawing_goes_on_with_the_rest_where_that_saves_a_page(rest: int, *, is_put_off: bool) -> None:
    """38 mm are left on the front page for a step whose drawing needs 60; a second step of so many things fills the next
    page with the rest of the first, or leaves room for all of it."""
    steps = [make_step(1, 7, opening=1, drawn_mm=60.0), make_step(2, rest)]
    pages = pack_pages([make_unit(162.0)], steps, [], FRAME, STYLE, SAID, lambda step: None)
    assert len(pages) == 2
    assert (len(flow_pages(pages[0], FRAME, STYLE)[0]) > 1) == is_put_off


@pytest.mark.parametrize(("count", "is_whole"), [(9, True), (14, False)])
def test_a_front_page_is_set_tight_for_a_table_that_it_holds_so(count: int, *, is_whole: bool) -> None:
    """Paragraphs with 5 mm between them, and a table that lacks some 8 mm on the page; or more than that saves."""
    loose = replace(STYLE, paragraph_gap_mm=5.0)
    text = tuple(Paragraph(f"Line {n}.") for n in range(8))
    rows = tuple((f"row {n}", "words") for n in range(count))
    table = Table((Column("", 30), Column("", 150)), rows, carried="Table, continued")
    line_mm = flow_height_mm((Styled((*text, table), loose),), FRAME.width, STYLE)
    least_mm = flow_height_mm((Styled((*text, replace(table, rows=rows[:9])), loose),), FRAME.width, STYLE)
    frame = Box(0, 0, 180, least_mm - 8.0)
    assert line_mm > frame.height
    pages = pack_pages(
        [(Styled(text, loose), Styled((table,), loose))], [make_step(1, 3)], [], frame, STYLE, SAID, lambda step: None
    )
    first = flow_pages(pages[0], frame, STYLE)
    told = [mark.text for mark in first[0] if isinstance(mark, TextMark)]
    assert (f"row {count - 1}" in told) == is_whole
