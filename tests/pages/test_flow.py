"""Blocks to pages: everything in the frame, nothing lost, nothing alone at the foot."""

import re
from collections import Counter
from collections.abc import Iterable, Iterator

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from docgen.fonts import ascent_mm, descent_mm, text_width_mm
from docgen.geometry.path import box_path, path_box, polyline
from docgen.geometry.shapes import Box, Point
from docgen.pages.looks.words import load_page_style
from docgen.pages.marks.page import ClipMark, Mark, PathMark, Stroke, TextMark
from docgen.pages.setting.blocks import (
    Beside,
    Block,
    Bullet,
    Caution,
    Column,
    Figure,
    Gap,
    Heading,
    KeyValues,
    Paragraph,
    Rule,
    Table,
    Tick,
    Together,
)
from docgen.pages.setting.flow import flow_height_mm, flow_pages

STYLE = load_page_style()
LETTER_FRAME = Box(14, 44, 201.9, 265.4)
LONG = "the quick brown fox sews a bag for the lazy dog and waxes the thread twice " * 12


def mark_box(mark: Mark) -> Box:
    if isinstance(mark, ClipMark):
        return mark.box
    if isinstance(mark, PathMark):
        box, half = path_box(mark.path), 0.0
        if mark.stroke:
            half = mark.stroke.width_mm / 2
        # A line has butt ends: its width counts across it only.
        wide = half if box.width > 0 and box.height > 0 else 0.0
        tall = half if box.height == 0 or wide else 0.0
        return Box(box.left - wide, box.bottom - tall, box.right + wide, box.top + tall)
    assert isinstance(mark, TextMark)
    width = text_width_mm(mark.text, mark.face, mark.size_mm)
    left = mark.x_mm - width * {"start": 0, "middle": 0.5, "end": 1}[mark.anchor]
    bottom = mark.y_mm - descent_mm(mark.size_mm, mark.face)
    return Box(left, bottom, left + width, mark.y_mm + ascent_mm(mark.size_mm, mark.face))


def lies_in(inner: Box, outer: Box) -> bool:
    near = 1e-6
    return (
        inner.left >= outer.left - near
        and inner.bottom >= outer.bottom - near
        and inner.right <= outer.right + near
        and inner.top <= outer.top + near
    )


def texts(marks: Iterable[Mark]) -> list[str]:
    return [mark.text for mark in marks if isinstance(mark, TextMark)]


def written(blocks: Iterable[Block]) -> Iterator[str]:
    """Every text in the blocks, but for the headings of columns, which may be repeated."""
    for block in blocks:
        match block:
            case Table(rows=rows, total=total):
                yield from (cell for row in (*rows, total or ()) for cell in row)
            case KeyValues(pairs=pairs):
                yield from (text for pair in pairs for text in pair)
            case Figure(caption=caption):
                yield caption
            case Beside(left=left, right=right):
                yield from written((*left, right))
            case Together(blocks=inner):
                yield from written(inner)
            case Gap() | Rule():
                pass
            case _:
                yield block.text


def make_figure(width: float = 30, height: float = 20) -> Figure:
    marks = (PathMark(path=box_path(Box(0, 0, width, height)), stroke=Stroke(0.2)),)
    return Figure(width, height, marks, "seam seen from the grain side")


WORDS = st.text("abcdefgh  ", max_size=300)
CELL = st.text("ab cdef", max_size=120)
LEAVES = st.one_of(
    st.builds(Heading, WORDS, st.sampled_from([1, 2, 3])),
    st.builds(Paragraph, WORDS, st.booleans()),
    st.builds(Bullet, WORDS),
    st.builds(Tick, WORDS),
    st.builds(Caution, WORDS),
    st.builds(Gap, st.floats(0, 400)),
    st.just(Rule()),
    st.just(make_figure()),
    st.builds(KeyValues, st.lists(st.tuples(CELL, CELL), max_size=5).map(tuple), st.integers(1, 3)),
    st.builds(
        Table,
        st.just((Column("CUT", 0.7, tick=True), Column("SIZE", 2, "end"), Column("HIDE", 1, "middle"))),
        st.lists(st.tuples(CELL, CELL, CELL), max_size=8).map(tuple),
        st.none() | st.tuples(CELL, CELL, CELL),
    ),
)
GROUPS = st.one_of(
    st.builds(Together, st.lists(LEAVES, max_size=4).map(tuple)),
    st.builds(Beside, st.lists(LEAVES, max_size=3).map(tuple), LEAVES, st.just(40.0)),
)


@settings(max_examples=60, derandomize=True, deadline=None)
@given(st.lists(LEAVES | GROUPS, max_size=7), st.floats(95, 190), st.floats(45, 250))
def test_every_mark_lies_in_the_frame_and_no_letter_is_lost(blocks: list[Block], width: float, height: float) -> None:
    frame = Box(14, 40, 14 + width, 40 + height)
    marks = [mark for page in flow_pages(blocks, frame, STYLE) for mark in page]
    assert all(lies_in(mark_box(mark), frame) for mark in marks)
    printed = Counter("".join(texts(marks)))
    wanted = Counter("".join(written(blocks)))
    letters = {letter for letter in printed + wanted if letter.islower()}
    assert {letter: printed[letter] for letter in letters} == {letter: wanted[letter] for letter in letters}


@settings(max_examples=30, derandomize=True, deadline=None)
@given(st.lists(LEAVES, max_size=7), st.floats(45, 250))
def test_lines_of_text_do_not_touch(blocks: list[Block], height: float) -> None:
    for page in flow_pages(blocks, Box(0, 0, 150, height), STYLE):
        boxes = [mark_box(mark) for mark in page if isinstance(mark, TextMark) and mark.text not in ("", "!")]
        for place, a in enumerate(boxes):
            for b in boxes[place + 1 :]:
                apart = a.right <= b.left or b.right <= a.left or a.top <= b.bottom or b.top <= a.bottom
                assert apart or min(a.top, b.top) - max(a.bottom, b.bottom) < 1e-6


def test_no_blocks_make_one_empty_page() -> None:
    assert flow_pages((), LETTER_FRAME, STYLE) == ((),)


def test_the_first_line_hangs_from_the_top_of_the_frame() -> None:
    ((mark,),) = flow_pages((Paragraph("Cut."),), LETTER_FRAME, STYLE)
    slack = STYLE.body_type_mm * (STYLE.leading - 1.2) / 2
    assert mark_box(mark).top == pytest.approx(LETTER_FRAME.top - slack, abs=0.02)
    assert mark_box(mark).left == LETTER_FRAME.left


def test_lines_of_a_paragraph_stand_a_leading_apart() -> None:
    (page,) = flow_pages((Paragraph(LONG),), LETTER_FRAME, STYLE)
    first, second = (mark.y_mm for mark in page[:2] if isinstance(mark, TextMark))
    assert first - second == pytest.approx(STYLE.body_type_mm * STYLE.leading)


def test_a_paragraph_taller_than_a_page_is_divided_between_lines_in_order() -> None:
    pages = flow_pages((Paragraph(LONG),), Box(0, 0, 100, 40), STYLE)
    assert len(pages) > 1
    assert " ".join(text for page in pages for text in texts(page)) == " ".join(LONG.split())


@pytest.mark.parametrize("gap", range(150, 222, 3))
def test_a_heading_is_never_the_last_thing_on_a_page(gap: int) -> None:
    blocks = (Paragraph("a"), Gap(gap), Heading("Sew"), Paragraph("Start here."))
    pages = flow_pages(blocks, LETTER_FRAME, STYLE)
    assert ["Sew" in texts(page) for page in pages] == ["Start here." in texts(page) for page in pages]


@pytest.mark.parametrize("gap", range(150, 222, 3))
def test_a_paragraph_leaves_no_single_line_behind_or_ahead(gap: int) -> None:
    blocks = (Paragraph("a"), Gap(gap), Paragraph(LONG[:600]))
    pages = [[text for text in texts(page) if text != "a"] for page in flow_pages(blocks, LETTER_FRAME, STYLE)]
    assert all(len(lines) != 1 for lines in pages)


def test_the_heading_of_a_table_is_repeated_on_every_page() -> None:
    table = Table((Column("piece"), Column("size", align="end")), (("Flap", "3 in"),) * 80)
    pages = flow_pages((table,), LETTER_FRAME, STYLE)
    assert len(pages) > 2
    assert [texts(page)[:2] for page in pages] == [["piece", "size"]] * len(pages)
    assert sum(texts(page).count("Flap") for page in pages) == 80


def test_a_table_that_goes_on_says_so_and_never_in_one_row_alone() -> None:
    """No page has a single row, wherever the break falls; the heading is carried from the second page on."""
    for count in range(4, 90):
        table = Table((Column("piece"), Column("size")), (("Flap", "3 in"),) * count, carried="Straps, continued")
        pages = flow_pages((Heading("Straps"), table), LETTER_FRAME, STYLE)
        assert all(texts(page).count("Flap") >= 2 for page in pages)
        assert sum(texts(page).count("Flap") for page in pages) == count
        assert [texts(page)[0] for page in pages] == ["Straps", *["Straps, continued"] * (len(pages) - 1)]


@pytest.mark.parametrize("gap", range(150, 236, 3))
def test_a_heading_that_opens_a_page_carries_what_it_belongs_to(gap: int) -> None:
    blocks = (Paragraph("a"), Gap(gap), Heading("Small pieces", 3, "Hide, continued"), Paragraph("Flap"))
    first, *rest = (texts(page) for page in flow_pages(blocks, LETTER_FRAME, STYLE))
    assert "Hide, continued" not in first
    assert rest in ([], [["Hide, continued", "Small pieces", "Flap"]])


def test_a_row_stays_whole_while_it_fits_a_page() -> None:
    table = Table((Column("piece"), Column("note")), (("Flap", LONG[:300]),) * 20)
    pages = flow_pages((table,), Box(0, 0, 120, 70), STYLE)
    lines = {len(texts(page)[2:]) // texts(page).count("Flap") for page in pages}
    assert len(pages) > 5
    assert len(lines) == 1


def test_the_total_stays_with_the_row_above_it() -> None:
    for count in range(20, 32):
        table = Table((Column("piece"), Column("area")), (("Flap", "1"),) * count, total=("all", "99"))
        last = texts(flow_pages((table,), LETTER_FRAME, STYLE)[-1])
        assert last[-4:] == ["Flap", "1", "all", "99"]


def test_a_tick_column_draws_one_box_for_each_row() -> None:
    table = Table((Column("cut", tick=True), Column("piece")), (("", "Flap"), ("2 of 2", "Gusset")), ("", "two"))
    (page,) = flow_pages((table,), LETTER_FRAME, STYLE)
    boxes = [mark_box(m) for m in page if isinstance(m, PathMark) and m.path.closed and m.fill is None]
    assert [(box.width, box.height) for box in boxes] == [(pytest.approx(3.6), pytest.approx(3.6))] * 2
    note = next(mark for mark in page if isinstance(mark, TextMark) and mark.text == "2 of 2")
    assert note.x_mm > boxes[1].right


def test_end_columns_end_at_one_edge() -> None:
    table = Table((Column("piece"), Column("size", align="end")), (("Flap", "3 in"), ("Strap", "44 1/2 in")))
    (page,) = flow_pages((table,), LETTER_FRAME, STYLE)
    ends = [mark_box(mark).right for mark in page if isinstance(mark, TextMark) and mark.anchor == "end"]
    assert ends == [pytest.approx(LETTER_FRAME.right)] * 3


def test_together_moves_whole_to_the_next_page() -> None:
    group = Together((Paragraph("one"), Bullet("two"), Tick("three")))
    pages = flow_pages((Paragraph("a"), Gap(205), group), LETTER_FRAME, STYLE)
    assert [texts(page) for page in pages] == [["a"], ["one", "two", "three"]]


def test_together_taller_than_a_page_is_divided() -> None:
    group = Together(tuple(Paragraph(f"line {number}") for number in range(30)))
    pages = flow_pages((group,), Box(0, 0, 100, 60), STYLE)
    assert [text for page in pages for text in texts(page)] == [f"line {number}" for number in range(30)]


def test_blocks_beside_each_other_begin_level() -> None:
    right = Figure(40, 30, ())
    (page,) = flow_pages((Beside((Paragraph("Sew."),), right, 40),), LETTER_FRAME, STYLE)
    text, figure = page
    assert isinstance(figure, ClipMark)
    assert (figure.box.left, figure.box.top) == (pytest.approx(161.9), 265.4)
    assert mark_box(text).top == pytest.approx(265.4, abs=0.3)


def test_a_figure_is_moved_and_shown_inside_its_box_only() -> None:
    inner = PathMark(path=polyline((Point(0, 0), Point(9, 9))), stroke=Stroke(0.2))
    ((mark,),) = flow_pages((Figure(20, 10, (inner,)),), LETTER_FRAME, STYLE)
    low = pytest.approx(255.4)
    assert mark == ClipMark(box=Box(14, low, 34, 265.4), marks=(inner,), dx_mm=14, dy_mm=low)


def test_a_gap_vanishes_at_the_head_of_a_page() -> None:
    assert flow_pages((Gap(500), Paragraph("a")), LETTER_FRAME, STYLE) == flow_pages(
        (Paragraph("a"),), LETTER_FRAME, STYLE
    )


def test_a_caution_has_a_bar_along_all_its_lines_and_a_sign() -> None:
    (page,) = flow_pages((Caution(LONG[:200]),), LETTER_FRAME, STYLE)
    bars = [mark_box(m) for m in page if isinstance(m, PathMark) and mark_box(m).left == LETTER_FRAME.left]
    lines = [m for m in page if isinstance(m, TextMark) and m.text != "!"]
    assert "!" in texts(page)
    assert len(bars) == len(lines) > 1
    assert all(mark.face == "bold" for mark in lines)
    assert [bar.bottom for bar in bars[:-1]] == [pytest.approx(bar.top) for bar in bars[1:]]


def test_height_is_what_the_blocks_take_on_a_page() -> None:
    blocks = (Heading("Sew"), Paragraph(LONG[:300]), KeyValues((("needle", "NM 130"),)))
    height = flow_height_mm(blocks, 150, STYLE)
    assert len(flow_pages(blocks, Box(0, 0, 150, height), STYLE)) == 1
    assert len(flow_pages(blocks, Box(0, 0, 150, height - 0.1), STYLE)) == 2


@pytest.mark.parametrize(
    ("block", "message"),
    [
        (Figure(300, 10, ()), "a figure 300.0 mm wide does not fit a column of 187.9 mm"),
        (Figure(30, 400, ()), "a block 400.0 mm high does not fit a page of 221.4 mm"),
        (Beside((), Rule(), 190), "nothing fits beside a block 190.0 mm wide"),
        (Table((Column("a"),), (("1", "2"),)), "zip() argument 2 is longer than argument 1"),
    ],
)
def test_what_cannot_be_set_is_refused(block: Block, message: str) -> None:
    with pytest.raises(ValueError, match=f"^{re.escape(message)}$"):
        flow_pages((block,), LETTER_FRAME, STYLE)


def test_rows_of_facts_stand_nearer_to_each_other_than_to_what_comes_before() -> None:
    """A row is a line of labels, set 1.2 times their type, and a line of body text; facts that fit one line together stand
    in one, each behind its label."""
    line_mm = STYLE.leading * STYLE.body_type_mm
    row_mm = 1.2 * STYLE.label_type_mm + STYLE.leading * STYLE.body_type_mm

    def height(count: int, *before: Block) -> float:
        facts = KeyValues((("needle", "NM 130"),) * count, 1)
        return flow_height_mm((*before, facts), 120.0, STYLE) - flow_height_mm(before, 120.0, STYLE)

    assert height(1) == pytest.approx(line_mm)
    assert height(3) == pytest.approx(3 * row_mm + 2 * STYLE.paragraph_gap_mm)
    assert height(1, Paragraph("Sew.")) == pytest.approx(line_mm + STYLE.block_gap_mm)
    two_mm = 2 * row_mm + STYLE.paragraph_gap_mm
    assert height(2, Paragraph("Sew.")) == pytest.approx(two_mm + STYLE.block_gap_mm)
