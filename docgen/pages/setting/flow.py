"""Blocks of words in, pages of marks out: headings, paragraphs, lists, tables and figures, filled top-down.

Every block becomes slabs: strips of a page that are never cut. Slabs are stacked until a page is full; a
slab that must stay with the next one takes it along to the next page.
"""

from collections.abc import Iterable, Sequence
from dataclasses import replace
from functools import lru_cache, partial
from typing import Literal

from docgen.fonts import text_width_mm, wrap_text
from docgen.geometry.path import box_path, circle_path
from docgen.geometry.shapes import Box, Point
from docgen.pages.marks.page import Mark, PathMark
from docgen.pages.setting.blocks import (
    Beside,
    Block,
    Bullet,
    Caution,
    Figure,
    Gap,
    Heading,
    KeyValues,
    Numbered,
    PageStyle,
    Paragraph,
    Rule,
    Styled,
    Table,
    Tick,
    Together,
)
from docgen.pages.setting.columns import column_widths
from docgen.pages.setting.slabs import (
    TICK_GAP_MM,
    Cell,
    Slab,
    Span,
    add_marks,
    draw_caution_sign,
    draw_figure,
    draw_rule,
    draw_run,
    draw_tick_box,
    hold_ends,
    hold_together,
    lay_row,
    run_height_mm,
    split_runs,
)

ROUNDING_MM = 1e-6
PAIR_GAP = 0.4  # from a label to its value, in type sizes
MOST_HELD = 1 / 3  # of a page, that two rows may take to be held together


def flow_pages(blocks: Iterable[Block], frame: Box, style: PageStyle) -> tuple[tuple[Mark, ...], ...]:
    """The marks of each page, filled top-down inside the frame; no blocks make one empty page.

    Text is wrapped, never cut off; what is taller than a page is divided between lines. ValueError if a
    figure is larger than the frame, the frame lower than a line, or a row has not one cell per column.
    """
    span = Span(left=frame.left, width=frame.width, page_height=frame.height, style=style)
    pages: list[list[Mark]] = [[]]
    y = frame.top
    for run in split_runs(_stack(blocks, span)):
        if y < frame.top and run_height_mm(run, at_head=False) > y - frame.bottom + ROUNDING_MM:
            pages.append([])
            y = frame.top
        for slab in run:
            y = _place(slab, y, frame, pages)
    return tuple(tuple(page) for page in pages)


def flow_height_mm(blocks: Iterable[Block], width_mm: float, style: PageStyle) -> float:
    """How high the blocks stand in a column without page breaks, in mm."""
    return run_height_mm(_stack(blocks, Span(left=0, width=width_mm, page_height=1e9, style=style)), at_head=True)


def _place(slab: Slab, y: float, frame: Box, pages: list[list[Mark]]) -> float:
    """Put one slab below `y`, or on a new page; where the next one begins."""
    if slab.height_mm > frame.height + ROUNDING_MM:
        raise ValueError(f"a block {slab.height_mm:.1f} mm high does not fit a page of {frame.height:.1f} mm")
    if y < frame.top:
        y -= slab.above_mm
        if y - slab.height_mm < frame.bottom - ROUNDING_MM:
            pages.append([])
            y = frame.top
    if y == frame.top and run_height_mm((*slab.heading, slab), at_head=True) <= frame.height + ROUNDING_MM:
        for part in slab.heading:
            pages[-1].extend(part.draw(y))
            y -= part.height_mm
    pages[-1].extend(slab.draw(y))
    return y - slab.height_mm


def _stack(blocks: Iterable[Block], span: Span) -> list[Slab]:
    return [slab for block in blocks for slab in _lay_block(block, span)]


def _lay_block(block: Block, span: Span) -> list[Slab]:
    """One block as slabs."""
    match block:
        case Table():
            return list(_lay_table(block, span))
        case Figure():
            return _lay_figure(block, span)
        case Beside():
            return _lay_beside(block, span)
        case Together(blocks):
            slabs = _stack(blocks, span)
            return hold_together(slabs) if run_height_mm(slabs, at_head=True) <= span.page_height else slabs
        case Styled(blocks, style):
            return _stack(blocks, Span(left=span.left, width=span.width, page_height=span.page_height, style=style))
        case _:
            return list(_lay_words(block, span))


Words = Heading | Paragraph | Bullet | Numbered | Tick | Caution | Gap | Rule | KeyValues
"""The blocks that hold no drawing."""


@lru_cache(maxsize=1024)
def _lay_words(block: Words, span: Span) -> tuple[Slab, ...]:
    """Kept, since pages are tried many times."""
    style = span.style
    match block:
        case Heading():
            return tuple(_lay_heading(block, span))
        case Paragraph(text, bold):
            cell = _text_cell(text, span, "bold" if bold else "regular")
            return tuple(hold_ends(lay_row((cell,), style, above_mm=style.paragraph_gap_mm)))
        case Bullet() | Numbered() | Tick():
            return tuple(_lay_item(block, span))
        case Caution(text):
            return tuple(_lay_caution(text, span))
        case Gap(height_mm):
            return (Slab(height_mm=0, draw=lambda top: (), above_mm=height_mm),)
        case Rule():
            return (replace(_hair_rule(span), above_mm=style.paragraph_gap_mm),)
        case KeyValues():
            return tuple(_lay_key_values(block, span))


def _text_cell(text: str, span: Span, face: str = "regular", indent_mm: float = 0.0) -> Cell:
    """Body text across the column."""
    size, width = span.style.body_type_mm, span.width - indent_mm
    lines = wrap_text(text, face, size, width)
    return Cell(left=span.left + indent_mm, width=width, lines=lines, size_mm=size, face=face)


def _lay_heading(heading: Heading, span: Span) -> list[Slab]:
    style = span.style
    size, above = {
        1: (style.title_type_mm, style.title_gap_mm),
        2: (style.heading_type_mm, style.heading_gap_mm),
        3: (style.subheading_type_mm, style.subheading_gap_mm),
    }[heading.level]
    lines = wrap_text(heading.text, "bold", size, span.width)
    cell = Cell(left=span.left, width=span.width, lines=lines, size_mm=size, face="bold")
    slabs = lay_row((cell,), style, leading=style.heading_leading, above_mm=above)
    slabs[0] = replace(slabs[0], heading=_lay_carried(heading.carried, heading.level - 1, span))
    return [replace(slab, keep=True) for slab in slabs]


def _lay_carried(text: str, level: int, span: Span) -> tuple[Slab, ...]:
    """A heading that stands at the head of a page only, with the space below it that the next one asks for."""
    if not text:
        return ()
    *lines, last = _lay_heading(Heading(text, level), span)
    return (*lines, replace(last, height_mm=last.height_mm + span.style.block_gap_mm))


def _lay_item(block: Bullet | Numbered | Tick, span: Span) -> list[Slab]:
    """A text with a hanging indent, and a box, a number or a dot before its first line."""
    style = span.style
    words = _text_cell(block.text, span, indent_mm=style.indent_mm)
    if isinstance(block, Numbered):
        size = style.body_type_mm
        number = Cell(left=span.left, width=style.indent_mm, lines=(block.number,), size_mm=size, face="bold")
        return hold_ends(lay_row((number, words), style, above_mm=style.item_gap_mm))
    slabs = lay_row((words,), style, above_mm=style.item_gap_mm)
    middle = slabs[0].height_mm / 2

    def draw_sign(top: float) -> tuple[Mark, ...]:
        if isinstance(block, Tick):
            return (draw_tick_box(span.left, top - middle - style.tick_mm / 2, style),)
        centre = Point(span.left + style.tick_mm / 2, top - middle)
        return (PathMark(path=circle_path(centre, style.dot_mm / 2), fill=0.0),)

    return hold_ends([add_marks(slabs[0], draw_sign), *slabs[1:]])


def _lay_caution(text: str, span: Span) -> list[Slab]:
    """Bold text beside a triangle and a bar that runs along all its lines."""
    style = span.style
    sign = span.left + style.bar_line_mm + style.caution_pad_mm * 1.5
    indent = sign - span.left + style.caution_mark_mm + style.caution_pad_mm * 1.5
    cell = _text_cell(text, span, "bold", indent)
    line = cell.size_mm * style.leading
    pad = max(style.caution_pad_mm, (style.caution_mark_mm - line) / 2)
    slabs = lay_row((cell,), style, above_mm=style.block_gap_mm, pad_mm=pad)
    barred = [add_marks(slab, partial(_draw_bar, span, slab.height_mm)) for slab in slabs]
    middle, half = pad + line / 2, style.caution_mark_mm / 2
    return [add_marks(barred[0], lambda top: draw_caution_sign(sign, top - middle + half, style)), *barred[1:]]


def _draw_bar(span: Span, height: float, top: float) -> tuple[Mark, ...]:
    bar = Box(span.left, top - height, span.left + span.style.bar_line_mm, top)
    return (PathMark(path=box_path(bar), fill=0.0),)


@lru_cache(maxsize=256)
def _lay_table(table: Table, span: Span) -> tuple[Slab, ...]:
    style = span.style
    titles = tuple(column.title for column in table.columns)
    widths = column_widths(table, span.width - style.gutter_mm * (len(titles) - 1), style)
    heading = _lay_cells(table, titles, widths, span, "label") if any(titles) else [_hair_rule(span)]
    heading[-1] = _rule_under(heading[-1], span, style.thick_line_mm) if any(titles) else heading[-1]
    heading = [replace(slab, keep=True) for slab in heading]
    rows: list[list[Slab]] = []
    for place, row in enumerate(table.rows, start=1):
        slabs = _lay_cells(table, row, widths, span, "body")
        closing = table.total is not None and place == len(table.rows)
        rule = style.thick_line_mm if closing else style.hair_line_mm
        rows.append([*slabs[:-1], _rule_under(slabs[-1], span, rule)])
    body = _hold_rows(rows, span)
    if table.total is not None:
        # The total stays with the row above it: alone on a page it would say nothing.
        body[-1:] = [replace(slab, keep=True) for slab in body[-1:]]
        body += _lay_cells(table, table.total, widths, span, "total")
    repeated = (*_lay_carried(table.carried, 3, span), *heading)
    body = [replace(slab, heading=repeated) for slab in body]
    slabs = [*heading, *body] if body else [*heading[:-1], replace(heading[-1], keep=False)]
    return (replace(slabs[0], above_mm=style.block_gap_mm), *slabs[1:])


def _hold_rows(rows: Sequence[Sequence[Slab]], span: Span) -> list[Slab]:
    """The first two rows together, and the last two, since one alone on a page is soon overlooked; rows too high to
    share a page with others may part."""
    held = {place for place in (0, len(rows) - 2) if 0 <= place < len(rows) - 1}
    body: list[Slab] = []
    for place, row in enumerate(rows):
        pair = [slab for other in rows[place : place + 2] for slab in other]
        keep = place in held and run_height_mm(pair, at_head=True) <= MOST_HELD * span.page_height
        body += [*row[:-1], replace(row[-1], keep=keep)]
    return body


def _lay_cells(
    table: Table,
    texts: tuple[str | Figure, ...],
    widths: Sequence[float],
    span: Span,
    kind: Literal["label", "body", "total"],
) -> list[Slab]:
    """One row of a table."""
    style = span.style
    size = style.label_type_mm if kind == "label" else style.body_type_mm
    face = "regular" if kind == "body" else "bold"
    cells, left = [], span.left
    for column, text, width in zip(table.columns, texts, widths, strict=True):
        if isinstance(text, Figure):
            _check_width(text, width)
            cells.append(Cell(left=left, width=width, lines=(), size_mm=size, figure=text))
            left += width + style.gutter_mm
            continue
        tick = column.tick and kind == "body"
        inset = style.tick_mm + TICK_GAP_MM if tick else 0.0
        lines = wrap_text(text, face, size, width - inset)
        cells.append(Cell(left=left, width=width, lines=lines, size_mm=size, face=face, align=column.align, tick=tick))
        left += width + style.gutter_mm
    return lay_row(cells, style, pad_mm=style.cell_pad_mm)


def _hair_rule(span: Span) -> Slab:
    line_mm = span.style.hair_line_mm
    return Slab(height_mm=line_mm, draw=partial(draw_rule, span, line_mm))


def _rule_under(slab: Slab, span: Span, width_mm: float) -> Slab:
    height = slab.height_mm
    return add_marks(slab, lambda top: draw_rule(span, width_mm, top - height), width_mm)


def _lay_key_values(block: KeyValues, span: Span) -> list[Slab]:
    style = span.style
    if cells := _in_one_line(block, span):
        return lay_row(cells, style, above_mm=style.block_gap_mm)
    width = (span.width + style.gutter_mm) / block.columns - style.gutter_mm
    slabs: list[Slab] = []
    for first in range(0, len(block.pairs), block.columns):
        labels, values = [], []
        for place, (label, value) in enumerate(block.pairs[first : first + block.columns]):
            left = span.left + place * (width + style.gutter_mm)
            lines = wrap_text(label, "regular", style.label_type_mm, width)
            cell = Cell(left=left, width=width, lines=lines, size_mm=style.label_type_mm, grey=style.help_grey)
            labels.append(cell)
            lines = wrap_text(value, "bold", style.body_type_mm, width)
            values.append(Cell(left=left, width=width, lines=lines, size_mm=style.body_type_mm, face="bold"))
        above = style.paragraph_gap_mm if first else style.block_gap_mm
        slabs += hold_together([*lay_row(labels, style, above_mm=above, leading=1.2), *lay_row(values, style)])
    return slabs


def _in_one_line(block: KeyValues, span: Span) -> list[Cell]:
    """Every label before its value, evenly spread; none where they do not all fit in a line."""
    style = span.style
    size = style.body_type_mm
    words = [part for pair in block.pairs for part in zip(pair, ("regular", "bold"), strict=True)]
    wide = [text_width_mm(text, face, size) for text, face in words]
    free = span.width - sum(wide) - size * PAIR_GAP * len(block.pairs)
    between = free / max(len(block.pairs) - 1, 1)
    if len(block.pairs) > block.columns or between < style.gutter_mm:
        return []
    cells, left = [], span.left
    for place, (text, face) in enumerate(words):
        grey = 0.0 if place % 2 else style.help_grey
        cells.append(Cell(left=left, width=wide[place], lines=(text,), size_mm=size, face=face, grey=grey))
        left += wide[place] + (between if place % 2 else size * PAIR_GAP)
    return cells


def _lay_figure(figure: Figure, span: Span) -> list[Slab]:
    style = span.style
    _check_width(figure, span.width)
    draw = partial(draw_figure, figure, span.left)
    slabs = [Slab(height_mm=figure.height_mm, draw=draw, above_mm=style.block_gap_mm)]
    if figure.caption:
        lines = wrap_text(figure.caption, "regular", style.label_type_mm, span.width)
        cell = Cell(left=span.left, width=span.width, lines=lines, size_mm=style.label_type_mm)
        slabs += lay_row((replace(cell, grey=style.help_grey),), style, above_mm=style.item_gap_mm)
    return hold_together(slabs)


def _check_width(figure: Figure, width_mm: float) -> None:
    if figure.width_mm > width_mm + ROUNDING_MM:
        raise ValueError(f"a figure {figure.width_mm:.1f} mm wide does not fit a column of {width_mm:.1f} mm")


def _lay_beside(block: Beside, span: Span) -> list[Slab]:
    style = span.style
    left_width = span.width - block.right_width_mm - style.gutter_mm
    if left_width <= 0:
        raise ValueError(f"nothing fits beside a block {block.right_width_mm:.1f} mm wide")
    left = _stack(block.left, replace(span, width=left_width))
    right_left = span.left + left_width + style.gutter_mm
    right = _lay_block(block.right, replace(span, left=right_left, width=block.right_width_mm))
    height = max(run_height_mm(left, at_head=True), run_height_mm(right, at_head=True))
    if height > span.page_height:
        return [*left, *right]
    above = max((slab.above_mm for slab in (*left[:1], *right[:1])), default=0.0)
    return [Slab(height_mm=height, draw=lambda top: draw_run(left, top) + draw_run(right, top), above_mm=above)]
