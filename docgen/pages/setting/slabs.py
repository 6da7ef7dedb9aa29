"""Slabs: strips of a page that are never cut, made of cells of text side by side and of small signs."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from functools import partial

from docgen.classes import dataclass
from docgen.fonts import ascent_mm, descent_mm
from docgen.geometry.path import box_path, polyline
from docgen.geometry.shapes import Box, Point
from docgen.pages.marks.page import ClipMark, Mark, PathMark, Stroke, TextMark, level_line
from docgen.pages.setting.blocks import Align, Figure, PageStyle

TICK_GAP_MM = 1.6  # from a box to tick to the words of its cell


@dataclass(frozen=True, slots=True, kw_only=True)
class Slab:
    """A strip that is never cut; `draw(top)` gives its marks when its upper edge is at `top`.

    `above_mm` is space before it, dropped at the head of a page. `keep`: the next slab stays on its page.
    `heading` is repeated when this slab opens a page.
    """

    height_mm: float
    draw: Callable[[float], tuple[Mark, ...]]
    above_mm: float = 0.0
    keep: bool = False
    heading: tuple[Slab, ...] = ()


@dataclass(frozen=True, kw_only=True)
class Span:
    """Where slabs may lie: left edge, width, the height of a page, and the style."""

    left: float
    width: float
    page_height: float
    style: PageStyle


@dataclass(frozen=True, slots=True, kw_only=True)
class Cell:
    """Lines of one type, set at the start, middle or end of a column; `tick` draws a box at its start. In place of
    lines there may be a figure, level with the first line."""

    left: float
    width: float
    lines: tuple[str, ...]
    size_mm: float
    face: str = "regular"
    align: Align = "start"
    grey: float = 0.0
    tick: bool = False
    figure: Figure | None = None


def split_runs(slabs: Sequence[Slab]) -> Iterator[tuple[Slab, ...]]:
    """Slabs that stay together, one run after the other."""
    run: list[Slab] = []
    for slab in slabs:
        run.append(slab)
        if not slab.keep:
            yield tuple(run)
            run = []
    if run:
        yield tuple(run)


def run_height_mm(run: Sequence[Slab], *, at_head: bool) -> float:
    """Height of slabs one below the other; the first one's space above counts only below other things."""
    above = sum(slab.above_mm for slab in (run[1:] if at_head else run))
    return sum(slab.height_mm for slab in run) + above


def draw_run(run: Sequence[Slab], top: float) -> tuple[Mark, ...]:
    marks: list[Mark] = []
    for place, slab in enumerate(run):
        top -= slab.above_mm if place else 0
        marks.extend(slab.draw(top))
        top -= slab.height_mm
    return tuple(marks)


def hold_together(slabs: Sequence[Slab]) -> list[Slab]:
    """All on one page; the last one keeps what it says about the next."""
    return [*(slab if slab.keep else replace(slab, keep=True) for slab in slabs[:-1]), *slabs[-1:]]


def hold_ends(lines: Sequence[Slab]) -> list[Slab]:
    """Lines of running text that may part, yet leave no single line behind or ahead."""
    last = len(lines) - 1
    kept = [place < last and place in (0, last - 1) for place in range(len(lines))]
    return [line if line.keep == keep else replace(line, keep=keep) for line, keep in zip(lines, kept, strict=True)]


def lay_row(
    cells: Sequence[Cell], style: PageStyle, *, leading: float = 0.0, above_mm: float = 0.0, pad_mm: float = 0.0
) -> list[Slab]:
    """Cells side by side, one slab per line of type, kept together; `pad_mm` is added at head and foot.

    As many lines as stand beside a figure are one slab, since a figure is never cut.
    """
    size = max(cell.size_mm for cell in cells)
    height = size * (leading or style.leading)
    if any(cell.tick for cell in cells):
        height = max(height, style.tick_mm + style.thin_line_mm)
    last = max(1, *(len(cell.lines) for cell in cells)) - 1
    tall = max((cell.figure.height_mm for cell in cells if cell.figure), default=0.0)
    beside = min(last, max(0, math.ceil(tall / height - 1e-9) - 1))
    foot = pad_mm if beside == last else 0.0
    first = Slab(
        height_mm=pad_mm + max((beside + 1) * height, tall) + foot,
        draw=partial(_draw_head, cells, beside, pad_mm, height, style),
        above_mm=above_mm,
        keep=beside < last,
    )
    slabs = [first]
    for place in range(beside + 1, last + 1):
        foot = pad_mm if place == last else 0.0
        draw = partial(_draw_cells, cells, place, 0.0, height, style)
        slabs.append(Slab(height_mm=height + foot, draw=draw, keep=place < last))
    return slabs


def _draw_head(
    cells: Sequence[Cell], beside: int, head: float, height: float, style: PageStyle, top: float
) -> tuple[Mark, ...]:
    """The first lines of a row, and its figures beside them."""
    marks: list[Mark] = []
    for cell in cells:
        if cell.figure is not None:
            marks.extend(draw_figure(cell.figure, cell.left, top - head))
    for place in range(beside + 1):
        marks.extend(_draw_cells(cells, place, head, height, style, top - place * height))
    return tuple(marks)


def draw_figure(figure: Figure, left_mm: float, top: float) -> tuple[Mark, ...]:
    """The figure with its upper left corner at `left_mm`, `top`; nothing shows outside its box."""
    bottom = top - figure.height_mm
    box = Box(left_mm, bottom, left_mm + figure.width_mm, top)
    return (ClipMark(box=box, marks=figure.marks, dx_mm=left_mm, dy_mm=bottom),)


def _draw_cells(
    cells: Sequence[Cell], place: int, head: float, height: float, style: PageStyle, top: float
) -> tuple[Mark, ...]:
    """The line number `place` of every cell that has one, and the boxes to tick beside the first."""
    marks: list[Mark] = []
    for cell in cells:
        ascent, descent = ascent_mm(cell.size_mm, cell.face), descent_mm(cell.size_mm, cell.face)
        baseline = top - head - (height + ascent - descent) / 2
        if cell.tick and place == 0:
            marks.append(draw_tick_box(cell.left, top - head - (height + style.tick_mm) / 2, style))
        if place < len(cell.lines):
            marks.append(_draw_line(cell, cell.lines[place], baseline, style))
    return tuple(marks)


def _draw_line(cell: Cell, text: str, baseline: float, style: PageStyle) -> TextMark:
    inset = style.tick_mm + TICK_GAP_MM if cell.tick else 0.0
    share = {"start": 0.0, "middle": 0.5, "end": 1.0}[cell.align]
    x = cell.left + inset + (cell.width - inset) * share
    return TextMark(
        x_mm=x, y_mm=baseline, text=text, size_mm=cell.size_mm, face=cell.face, anchor=cell.align, grey=cell.grey
    )


def draw_tick_box(left_mm: float, bottom_mm: float, style: PageStyle) -> PathMark:
    """An empty box to tick, its outer edge `style.tick_mm` square."""
    half = style.thin_line_mm / 2
    far = style.tick_mm - half
    box = Box(left_mm + half, bottom_mm + half, left_mm + far, bottom_mm + far)
    return PathMark(path=box_path(box), stroke=Stroke(style.thin_line_mm))


def draw_rule(span: Span, width_mm: float, top: float) -> tuple[Mark, ...]:
    """A line across the column whose upper edge is at `top`."""
    y = top - width_mm / 2
    return (level_line(span.left, span.left + span.width, y, width_mm),)


def add_marks(slab: Slab, draw: Callable[[float], tuple[Mark, ...]], more_mm: float = 0.0) -> Slab:
    """The slab with further marks, and higher at its foot by `more_mm`."""
    before = slab.draw
    return replace(slab, height_mm=slab.height_mm + more_mm, draw=lambda top: draw(top) + before(top))


def draw_caution_sign(left_mm: float, top_mm: float, style: PageStyle) -> tuple[Mark, ...]:
    """A black triangle with a white exclamation mark, below `top_mm`, `style.caution_mark_mm` wide."""
    width = style.caution_mark_mm
    middle, foot = left_mm + width / 2, top_mm - width * 0.95
    corners = (Point(left_mm, foot), Point(left_mm + width, foot), Point(middle, top_mm - width * 0.05))
    triangle = PathMark(path=polyline((*corners, corners[0])), fill=0.0)
    sign = TextMark(
        x_mm=middle, y_mm=foot + width * 0.12, text="!", size_mm=width * 0.78, face="bold", anchor="middle", grey=1.0
    )
    return (triangle, sign)
