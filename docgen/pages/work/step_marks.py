"""What is drawn at the head and the foot of a step: its number, boxes to tick, and rules to write on."""

from collections.abc import Iterator, Mapping

from docgen.fonts import ascent_mm, cap_height_mm, text_width_mm, wrap_text
from docgen.geometry.path import box_path
from docgen.geometry.shapes import Box
from docgen.pages.marks.page import Mark, PathMark, Stroke, TextMark, level_line, text_lines
from docgen.pages.setting.blocks import Figure, PageStyle
from docgen.pages.setting.paging import hold_measures
from docgen.plan import PlanStep

Said = Mapping[str, str]

BOX_MM = 5.5
NUMBER_WIDTH_MM = 10.0  # of a step number with up to two digits; a longer one takes more
TIMES_MM = 42.0  # minutes planned and taken, and initials, at the right
WRITE_MM = 13.0  # a rule to write on
RULE_GAP_MM = 1.0
HEAD_GAP_MM = 2.0
MOST_MAKE_BOXES = 24
MAKE_BOX_MM = 6.4
MAKE_GAP_MM = 1.2


def draw_step_head(step: PlanStep, group: str, width_mm: float, style: PageStyle, said: Said) -> Figure:
    """A line across; below it the large number, a box to tick, what to do, after its group where one begins; at the right
    the minutes planned, and rules for those taken and for initials."""
    number, size, small = str(step.number), style.step_type_mm, style.label_type_mm
    number_size = style.title_type_mm
    box_left = max(NUMBER_WIDTH_MM, text_width_mm(number, "bold", number_size) + HEAD_GAP_MM)
    left, right = box_left + BOX_MM + HEAD_GAP_MM, width_mm - TIMES_MM
    leading = size * style.heading_leading
    told = f"{group}: {step.do}" if group else step.do
    lines = wrap_text(hold_measures(told), "bold", size, right - HEAD_GAP_MM - left)
    words_mm = len(lines) * leading
    high = cap_height_mm(number_size, "bold")
    height = HEAD_GAP_MM + max(words_mm, high + 1.0, 2 * small * style.step_leading)
    middle = height - HEAD_GAP_MM - high / 2
    box = Box(box_left, middle - BOX_MM / 2, box_left + BOX_MM, middle + BOX_MM / 2)
    first = height - HEAD_GAP_MM - ascent_mm(size, "bold") + 0.6
    marks: list[Mark] = [
        level_line(0.0, width_mm, height - style.thin_line_mm / 2, style.thin_line_mm),
        TextMark(x_mm=0.0, y_mm=middle - high / 2, text=number, size_mm=number_size, face="bold"),
        PathMark(path=box_path(box), stroke=Stroke(style.thick_line_mm)),
        *text_lines(lines, left, first, leading, size, "bold"),
        *_draw_times(step, right, width_mm, height, style, said),
    ]
    return Figure(width_mm, height, tuple(marks))


def _draw_times(
    step: PlanStep, left_mm: float, right_mm: float, top_mm: float, style: PageStyle, said: Said
) -> Iterator[Mark]:
    """`25 min, taken ____` where a time is planned, else `min taken ____`; below it `initials ____`."""
    size = style.label_type_mm
    planned = f"{step.minutes} {said['min']}, {said['taken']}" if step.minutes else f"{said['min']} {said['taken']}"
    for place, words in enumerate((planned, said["initials"])):
        y = top_mm - HEAD_GAP_MM - ascent_mm(size) + 0.6 - place * size * style.step_leading
        rule = right_mm - WRITE_MM
        yield TextMark(x_mm=rule - RULE_GAP_MM, y_mm=y, text=words, size_mm=size, anchor="end")
        yield level_line(rule, right_mm, y - 0.4, style.thin_line_mm)


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
