"""What is drawn at the head and the foot of a step: its number, boxes to tick, and rules to write on."""

from collections.abc import Mapping

from docgen.fonts import ascent_mm, cap_height_mm, text_width_mm, wrap_text
from docgen.geometry.path import box_path
from docgen.geometry.shapes import Box
from docgen.pages.marks.page import Mark, PathMark, Stroke, TextMark, level_line, text_lines
from docgen.pages.setting.blocks import Figure, PageStyle
from docgen.pages.setting.paging import hold_measures
from docgen.plan import PlanStep

Said = Mapping[str, str]

BOX_MM = 6.0
NUMBER_WIDTH_MM = 13.0  # of a step number with up to two digits; a longer one takes more
INITIALS_MM = 24.0
INITIALS_GAP_MM = 0.6  # from the rule to the words below it
HEAD_GAP_MM = 3.0
MOST_MAKE_BOXES = 24
MAKE_BOX_MM = 6.4
MAKE_GAP_MM = 1.2


def draw_step_head(step: PlanStep, width_mm: float, style: PageStyle, said: Said) -> Figure:
    """A line across, below it the large number, a box to tick, what to do, and a short rule for initials."""
    number, size, small = str(step.number), style.subheading_type_mm, style.label_type_mm
    number_size = style.title_type_mm
    box_left = max(NUMBER_WIDTH_MM, text_width_mm(number, "bold", number_size) + HEAD_GAP_MM)
    left = box_left + BOX_MM + HEAD_GAP_MM
    right = width_mm - INITIALS_MM
    lines = wrap_text(hold_measures(step.do), "bold", size, right - HEAD_GAP_MM - left)
    top = cap_height_mm(number_size, "bold") + 2 * HEAD_GAP_MM
    leading = size * style.leading
    height = max(top, HEAD_GAP_MM + len(lines) * leading)
    base = height - HEAD_GAP_MM - cap_height_mm(number_size, "bold")
    middle = base + cap_height_mm(number_size, "bold") / 2
    first = (
        middle - cap_height_mm(size, "bold") / 2
        if len(lines) == 1
        else height - HEAD_GAP_MM - ascent_mm(size, "bold") + 0.8
    )
    rule = height - style.thin_line_mm / 2
    box = Box(box_left, middle - BOX_MM / 2, box_left + BOX_MM, middle + BOX_MM / 2)
    marks: list[Mark] = [
        level_line(0.0, width_mm, rule, style.thin_line_mm),
        TextMark(x_mm=0.0, y_mm=base, text=number, size_mm=number_size, face="bold"),
        PathMark(path=box_path(box), stroke=Stroke(style.thick_line_mm)),
        level_line(right, width_mm, base + INITIALS_GAP_MM, style.thin_line_mm),
        TextMark(x_mm=right, y_mm=base - ascent_mm(small), text=said["initials"], size_mm=small, grey=style.help_grey),
    ]
    marks += text_lines(lines, left, first, leading, size, "bold")
    return Figure(width_mm, height, tuple(marks))


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
