"""What is drawn at the head and the foot of a step: its number, boxes to tick, and rules to write on."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from docgen.fonts import ascent_mm, cap_height_mm, descent_mm, text_width_mm, wrap_text
from docgen.geometry.path import box_path
from docgen.geometry.shapes import Box
from docgen.pages.marks.moving import place_marks
from docgen.pages.marks.page import Mark, PathMark, Stroke, TextMark, level_line, text_lines
from docgen.pages.setting.blocks import Figure, PageStyle
from docgen.pages.setting.paging import hold_measures
from docgen.pages.setting.slabs import draw_caution_sign
from docgen.plan import PlanStep

Said = Mapping[str, str]

BOX_MM = 5.5
NUMBER_WIDTH_MM = 10.0  # of a step number with up to two digits; a longer one takes more
LEAST_WRITE_MM = 8.0  # a rule to write on
RULE_GAP_MM = 1.0
HEAD_GAP_MM = 1.6
TIMES_GAP_MM = 4.0  # from words to the times at their right
SIGN_MM = 6.8  # of the bar and the triangle before a caution
MOST_MAKE_BOXES = 24
MAKE_BOX_MM = 6.4
MAKE_GAP_MM = 1.2


def draw_step_head(
    step: PlanStep, group: str, caution: str, times: Sequence[Figure], width_mm: float, style: PageStyle
) -> tuple[Figure, bool]:
    """A line across; below it the large number, a box to tick, what to do, after its group where one begins; under that
    what to take care of, in short. Whether the times stand there too, at the end of a line that has room for them, the
    first of these that has."""
    number, size = str(step.number), style.step_type_mm
    number_size = style.title_type_mm
    box_left = max(NUMBER_WIDTH_MM, text_width_mm(number, "bold", number_size) + HEAD_GAP_MM)
    left = box_left + BOX_MM + HEAD_GAP_MM
    leading = size * style.heading_leading
    told = f"{group}: {step.do}" if group else step.do
    lines = wrap_text(hold_measures(told), "bold", size, width_mm - left)
    words_mm = len(lines) * leading
    cared = wrap_text(caution, "bold", style.body_type_mm, width_mm - left - SIGN_MM) if caution else ()
    cared_mm = len(cared) * style.body_type_mm * style.step_leading
    high = cap_height_mm(number_size, "bold")
    height = HEAD_GAP_MM + max(words_mm + cared_mm, high + 1.0)
    middle = height - HEAD_GAP_MM - high / 2
    box = Box(box_left, middle - BOX_MM / 2, box_left + BOX_MM, middle + BOX_MM / 2)
    first = height - HEAD_GAP_MM - ascent_mm(size, "bold") + 0.6
    marks: list[Mark] = [
        level_line(0.0, width_mm, height - style.thin_line_mm / 2, style.thin_line_mm),
        TextMark(x_mm=0.0, y_mm=middle - high / 2, text=number, size_mm=number_size, face="bold"),
        PathMark(path=box_path(box), stroke=Stroke(style.thick_line_mm)),
        *text_lines(lines, left, first, leading, size, "bold"),
        *(_draw_caution(cared, left, height - HEAD_GAP_MM - words_mm, cared_mm, style) if cared else ()),
    ]
    written = [mark for mark in reversed(marks) if isinstance(mark, TextMark) and mark.text in (*lines, *cared)]
    free = (
        (one, mark) for one in times for mark in written if _right_mm(mark) + TIMES_GAP_MM <= width_mm - one.width_mm
    )
    found = next(free, None)
    if found is not None:
        room, mark = found
        marks += place_marks(room.marks, width_mm - room.width_mm, mark.y_mm - _base_mm(style))
    return Figure(width_mm, height, tuple(marks)), found is not None


def _right_mm(mark: TextMark) -> float:
    return mark.x_mm + text_width_mm(mark.text, mark.face, mark.size_mm)


def _base_mm(style: PageStyle) -> float:
    """How high the base of the words stands in the line for times."""
    return descent_mm(style.label_type_mm) + 0.2


def _draw_caution(lines: tuple[str, ...], left: float, top: float, high_mm: float, style: PageStyle) -> Iterator[Mark]:
    """A bar, a triangle and bold lines, from `top` down."""
    size = style.body_type_mm
    leading = size * style.step_leading
    yield PathMark(path=box_path(Box(left, top - high_mm + 0.2, left + style.bar_line_mm, top - 0.2)), fill=0.0)
    small = replace(style, caution_mark_mm=leading - 0.3)
    yield from draw_caution_sign(left + style.bar_line_mm + 0.7, top - 0.15, small)
    yield from text_lines(lines, left + SIGN_MM, top - ascent_mm(size, "bold") + 0.4, leading, size, "bold")


def draw_times(step: PlanStep, width_mm: float, style: PageStyle, said: Said) -> Figure:
    """`25 min, taken ____  initials ____`, or `min taken ____` where no time is planned, across a column."""
    size = style.label_type_mm
    planned = f"{step.minutes} {said['min']}, {said['taken']}" if step.minutes else f"{said['min']} {said['taken']}"
    told = [planned, said["initials"]]
    words_mm = [text_width_mm(words, "regular", size) + RULE_GAP_MM for words in told]
    rule_mm = max((width_mm - sum(words_mm) - HEAD_GAP_MM) / 2, LEAST_WRITE_MM)
    base = _base_mm(style)
    marks: list[Mark] = []
    left = 0.0
    for words, wide in zip(told, words_mm, strict=True):
        marks.append(TextMark(x_mm=left, y_mm=base, text=words, size_mm=size))
        marks.append(level_line(left + wide, left + wide + rule_mm, base - 0.4, style.thin_line_mm))
        left += wide + rule_mm + HEAD_GAP_MM
    return Figure(width_mm, size * style.step_leading, tuple(marks))


def draw_make_boxes(makes: int, width_mm: float, style: PageStyle, said: Said) -> tuple[Figure, ...]:
    """A numbered box for each make of a batch; none for a single make, or for more than a row takes."""
    if not 1 < makes <= MOST_MAKE_BOXES:
        return ()
    size = style.label_type_mm
    marks: list[Mark] = []
    left = text_width_mm(said["makes_done"], "regular", size) + MAKE_GAP_MM * 2
    middle = MAKE_BOX_MM / 2 - cap_height_mm(size) / 2
    marks.append(TextMark(x_mm=0.0, y_mm=middle, text=said["makes_done"], size_mm=size, grey=style.help_grey))
    box_mm = min(MAKE_BOX_MM, (width_mm - left) / makes - MAKE_GAP_MM)
    for make in range(makes):
        x = left + make * (box_mm + MAKE_GAP_MM)
        box = Box(x, (MAKE_BOX_MM - box_mm) / 2 + 0.2, x + box_mm, (MAKE_BOX_MM + box_mm) / 2 - 0.2)
        marks.append(PathMark(path=box_path(box), stroke=Stroke(style.thin_line_mm)))
        marks.append(
            TextMark(
                x_mm=x + box_mm / 2,
                y_mm=middle,
                text=str(make + 1),
                size_mm=size,
                anchor="middle",
                grey=style.help_grey,
            )
        )
    return (Figure(width_mm, MAKE_BOX_MM, tuple(marks)),)
