"""How many to cut, with a box to tick for each of them; the figure of one cell of a list."""

from docgen.fonts import ascent_mm, text_width_mm
from docgen.pages.looks.words import words
from docgen.pages.marks.page import Mark, TextMark, level_line
from docgen.pages.setting.blocks import Figure, PageStyle
from docgen.pages.setting.slabs import draw_tick_box

MOST_BOXES = 12
BOX_GAP_MM = 0.9
NUMBER_GAP_MM = 1.6
LINE_MM = 9.0  # to write a number on


def draw_tally(count: int, width_mm: float, style: PageStyle) -> Figure:
    """The number, and one box for each up to 12; above that one box, and a line to write how many are done."""
    number = str(count)
    size = style.subheading_type_mm
    left = text_width_mm(number, "bold", size) + NUMBER_GAP_MM
    line_mm = max(style.body_type_mm * style.leading, style.tick_mm + style.thin_line_mm)
    if count > MOST_BOXES:
        return _draw_count(number, width_mm, line_mm, style)
    step = style.tick_mm + BOX_GAP_MM
    across = max(1, int((width_mm - left + BOX_GAP_MM) // step))
    down = -(-count // across)
    height = line_mm + (down - 1) * step
    marks: list[Mark] = [_draw_number(number, height, line_mm, size)]
    for place in range(count):
        row, column = divmod(place, across)
        bottom = height - (line_mm + style.tick_mm) / 2 - row * step
        marks.append(draw_tick_box(left + column * step, bottom, style))
    return Figure(width_mm, height, tuple(marks))


def _draw_number(number: str, height: float, line_mm: float, size: float) -> TextMark:
    baseline = height - line_mm / 2 - ascent_mm(size, "bold") * 0.36
    return TextMark(x_mm=0.0, y_mm=baseline, text=number, size_mm=size, face="bold")


def _draw_count(number: str, width_mm: float, line_mm: float, style: PageStyle) -> Figure:
    """`500 [ ]` and below it `____ of 500`."""
    height = 2 * line_mm
    after = text_width_mm(number, "bold", style.subheading_type_mm) + NUMBER_GAP_MM
    of = f"{words('cutting')['of']} {number}"
    size = style.label_type_mm
    line = min(LINE_MM, width_mm - text_width_mm(of, "regular", size) - NUMBER_GAP_MM)
    foot = line_mm * 0.25
    marks: tuple[Mark, ...] = (
        _draw_number(number, height, line_mm, style.subheading_type_mm),
        draw_tick_box(after, height - (line_mm + style.tick_mm) / 2, style),
        level_line(0.0, line, foot, style.thin_line_mm),
        TextMark(x_mm=line + NUMBER_GAP_MM / 2, y_mm=foot, text=of, size_mm=size),
    )
    return Figure(width_mm, height, marks)
