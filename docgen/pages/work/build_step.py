"""One step of the plan -> its blocks: head, cautions, what is laid out and done, a row for each seam; at the right times,
drawing and sections."""

import math
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import replace
from functools import cache

from docgen.assemble import list_beneath, list_made_up
from docgen.classes import dataclass
from docgen.pages.drawn.small_drawing import small_drawer
from docgen.pages.pictures.pictures import Pictures
from docgen.pages.setting.blocks import (
    Beside,
    Block,
    Caution,
    Figure,
    Numbered,
    PageStyle,
    Paragraph,
    Rule,
    Styled,
    Together,
)
from docgen.pages.setting.flow import flow_height_mm
from docgen.pages.setting.paging import finding_words, hold_measures
from docgen.pages.work.acts import tell
from docgen.pages.work.build_front import show_photo
from docgen.pages.work.runs import run_blocks
from docgen.pages.work.step_marks import draw_make_boxes, draw_step_head, draw_times
from docgen.plan import Plan, PlanStep, number_seams
from docgen.resolve import Build
from docgen.tables.cautions import AT_STEP, HAZARDS

Said = Mapping[str, str]
Unit = tuple[Block, ...]
Drawer = Callable[[float], tuple[Figure, ...]]
Heights = tuple[float, float]
"""How high a unit stands below others: beside the column at the right, and across."""

SIDE_MM = 66.0  # the column at the right of a step
WIDE_SIDE_MM = 88.0  # where a page has room for larger pictures
NARROW_TIMES_MM = 58.0  # for a line for times that stands in the head
LEAST_WORDS_MM = 85.0  # that stay beside it
PHOTO_MM = 60.0  # a maker's own picture, wide and high
DRAWING_HEIGHTS_MM = (60.0, 48.0, 36.0, 30.0)  # from large to small: the smaller ones where that saves a page
STEP_GAP_MM = 1.4  # between steps
SPACES_MM = {
    "paragraph_gap_mm": 0.6,
    "item_gap_mm": 0.2,
    "block_gap_mm": 1.0,
    "cell_pad_mm": 0.4,
    "caution_pad_mm": 0.5,
    "caution_mark_mm": 4.0,
    "indent_mm": 6.0,
}


@dataclass(frozen=True, slots=True, kw_only=True)
class StepBlocks:
    """A step ready to be set: what stands at its head; its lines in units that are not divided, with their heights, the
    first `opening` of them what is laid out and waited for; what closes it. At the right stand a line for times, unless it
    is in the head, the drawings, from large to small, and sections."""

    number: int
    group: str
    head: Unit
    units: tuple[Unit, ...]
    heights: tuple[Heights, ...]
    opening: int
    tail: Unit
    times: tuple[Figure, ...]
    drawings: tuple[tuple[Figure, ...], ...]
    sections: tuple[Figure, ...]
    width_mm: float
    side_mm: float
    style: PageStyle


def lay_step(
    step: PlanStep,
    group: str,
    plan: Plan,
    width_mm: float,
    style: PageStyle,
    said: Said,
    pictures: Pictures,
    side_mm: float = SIDE_MM,
) -> StepBlocks:
    """The blocks of one step for a column of this width; `group` stands above it where it changes there. At the right
    `side_mm` are for what is drawn."""
    draw = step_drawer(step, plan, style, pictures, side_mm)
    drawings = [figures for height_mm in DRAWING_HEIGHTS_MM if (figures := draw(height_mm))]
    sections = pictures.sections(step.number, side_mm, style)
    times = draw_times(step, side_mm, style, said)
    narrow = draw_times(step, NARROW_TIMES_MM, style, said)
    opening = _opening(step, style, said, pictures.drawn_before(step.number))
    beside = (*opening, *_acts(step), *_closing(step, said))
    head, is_in_head = _head(step, group, (times, narrow), width_mm, style)
    timed = () if is_in_head else (times,)
    small = (*timed, *(drawings[-1] if drawings else ()))
    count, across = _share_sections(small, sections, pictures, step.number, beside, width_mm, side_mm, style)
    units = (*beside, *across, *_photo(step))
    return StepBlocks(
        number=step.number,
        group=group,
        head=(head, *_cautions(step, plan.build, style), *run_blocks(step, plan.build, style, said)),
        units=units,
        heights=tuple(_heights(unit, width_mm, side_mm, step_style(style)) for unit in units),
        opening=len(opening),
        tail=draw_make_boxes(plan.build.makes, width_mm, style, said),
        times=timed,
        drawings=tuple(drawings),
        sections=tuple(sections[:count]),
        width_mm=width_mm,
        side_mm=side_mm,
        style=step_style(style),
    )


def lay_wider(
    narrow: StepBlocks, step: PlanStep, plan: Plan, style: PageStyle, said: Said, pictures: Pictures
) -> StepBlocks | None:
    """The same step with a wider column at the right; None where nothing is drawn of it, or its words get too little
    room."""
    side_mm = min(WIDE_SIDE_MM, narrow.width_mm - style.gutter_mm - LEAST_WORDS_MM)
    if side_mm <= SIDE_MM or not narrow.drawings:
        return None
    return lay_step(step, narrow.group, plan, narrow.width_mm, style, said, pictures, side_mm)


def _share_sections(
    small: Unit,
    sections: Sequence[Figure],
    pictures: Pictures,
    step: int,
    beside: Sequence[Unit],
    width_mm: float,
    side_mm: float,
    style: PageStyle,
) -> tuple[int, list[Unit]]:
    """How many sections stand at the right, below the rest; and the others, in rows across: as the step is lowest."""
    words_mm = flow_height_mm(_blocks(beside), width_mm - side_mm - style.gutter_mm, step_style(style))

    def share(count: int) -> tuple[float, int, list[Unit]]:
        across: list[Unit] = [(figure,) for figure in pictures.sections_across(step, count, width_mm, style)]
        drawn_mm = flow_height_mm((*small, *sections[:count]), side_mm, step_style(style))
        low_mm = max(drawn_mm, words_mm) + flow_height_mm(_blocks(across), width_mm, step_style(style))
        return low_mm, -count, across

    _, count, across = min(map(share, range(len(sections) + 1)), key=lambda found: found[:2])
    return -count, across


def step_drawer(step: PlanStep, plan: Plan, style: PageStyle, pictures: Pictures, side_mm: float = SIDE_MM) -> Drawer:
    """What is drawn beside a step, each picture for a room so high: what it joins, in place and taken apart; where it joins
    nothing that can be drawn so, its pieces, each lying flat, or what they are part of by then."""
    numbers = number_seams(step.jobs)
    is_roomy = side_mm > SIDE_MM
    found = pictures.step_drawers(step.number, side_mm, style, numbers, is_roomy=is_roomy)
    made_up = list_made_up(plan.build, step.number - 1)
    hidden = {*made_up, *list_beneath(plan.build, step.number - 1)}
    loose = tuple(one for one in step.drawn if one.name not in hidden)
    flat = None if found else small_drawer(plan, loose, side_mm, style, numbers)
    whole = pictures.made_up_drawers(step.number, side_mm, style, is_roomy=is_roomy) if made_up and not found else ()

    def draw(high_mm: float) -> tuple[Figure, ...]:
        drawn = [*([flat(high_mm)] if flat else []), *(one(high_mm) for one in (*found, *whole))]
        return tuple(figure for figure in drawn if figure is not None)

    return draw


@cache
def step_style(style: PageStyle) -> PageStyle:
    """The style of the words of a step: larger type, set closer, for reading at arm's length."""
    return style.of_steps(SPACES_MM)


def compose_step(step: StepBlocks, units: int, size: int) -> Unit:
    """Head and the first `units` units beside the drawing of that size (0 is the largest, one beyond all is none) and
    below it; the sections, and what closes the step, when these are all. The drawing stands with what is done."""
    is_whole = units == len(step.units)
    drawing = _drawing(step, size) if units > step.opening else ()
    side = (*step.times, *drawing, *(step.sections if is_whole else ()))
    return (
        *step.head,
        *_set_beside(step, step.units[:units], step.heights[:units], side),
        *(step.tail if is_whole else ()),
    )


def _drawing(step: StepBlocks, size: int) -> tuple[Figure, ...]:
    if not step.drawings or size >= len(DRAWING_HEIGHTS_MM):
        return ()
    return step.drawings[min(size, len(step.drawings) - 1)]


def compose_rest(step: StepBlocks, units: int, said: Said, size: int | None) -> Unit:
    """What is left after the first `units` units, for the next page, with its number again, and with the drawing of that
    size where it was put off."""
    title = Paragraph(f"{said['step']} {step.number}, {said['continued']}", bold=True)
    left = ((title,), *step.units[units:])
    side = (*(_drawing(step, size) if size is not None else ()), *step.sections)
    heights = (_heights(left[0], step.width_mm, step.side_mm, step.style), *step.heights[units:])
    return (*_set_beside(step, left, heights, side), *step.tail)


def _set_beside(step: StepBlocks, units: tuple[Unit, ...], heights: Sequence[Heights], side: Unit) -> Unit:
    """Units beside what stands at the right, and below it."""
    if not side:
        return (Styled(_blocks(units), step.style),)
    count = _count_beside(step, side, heights)
    beside = Beside((Styled(_blocks(units[:count]), step.style),), Styled((Together(side),), step.style), step.side_mm)
    below = (Styled(_blocks(units[count:]), step.style),) if units[count:] else ()
    return (beside, *below)


def _count_beside(step: StepBlocks, side: Unit, heights: Sequence[Heights]) -> int:
    """How many units stand beside the drawing, as the step is lowest; rows of sections go across below."""
    room_mm = flow_height_mm(side, step.side_mm, step.style)
    narrow, wide = [one for one, _ in heights], [one for _, one in heights]
    most = next((count for count, high in enumerate(narrow) if math.isinf(high)), len(heights))
    return min(
        range(most, min(most, 1) - 1, -1),
        key=lambda count: round(max(sum(narrow[:count]), room_mm) + sum(wide[count:]), 1),
    )


def _heights(unit: Unit, width_mm: float, side_mm: float, style: PageStyle) -> Heights:
    """What is wider than the room beside the column has no end there."""
    across = flow_height_mm((Rule(), *unit), width_mm, style) - style.hair_line_mm
    if _is_wide(unit, side_mm):
        return math.inf, across
    return flow_height_mm((Rule(), *unit), width_mm - side_mm - style.gutter_mm, style) - style.hair_line_mm, across


def _is_wide(unit: Unit, side_mm: float) -> bool:
    return any(isinstance(block, Figure) and block.width_mm > side_mm for block in unit)


def _blocks(units: Iterable[Unit]) -> Unit:
    return tuple(block for unit in units for block in unit)


def _head(
    step: PlanStep, group: str, times: Sequence[Figure], width_mm: float, style: PageStyle
) -> tuple[Styled, bool]:
    """With what to take care of, each in one sentence; and whether the times stand there."""
    caution = "  ".join(map(short_caution, step.hazards))
    head, has_times = draw_step_head(step, group, caution, times, width_mm, style)
    return Styled((head,), replace(style, block_gap_mm=STEP_GAP_MM)), has_times


def _cautions(step: PlanStep, build: Build, style: PageStyle) -> tuple[Block, ...]:
    """What is out of order."""
    found = tuple(Caution(hold_measures(finding_words(item, build))) for item in step.cautions)
    return (Styled(found, style.closer(SPACES_MM)),) if found else ()


def short_caution(hazard: str) -> str:
    """Title and what to do, in one line: "Blade: cut away from your hand."."""
    return f"{HAZARDS[hazard][0]}: {AT_STEP[hazard]}."


def _opening(step: PlanStep, style: PageStyle, said: Said, before: Sequence[tuple[str, int]]) -> list[Unit]:
    """What is taken in hand, the tools, and where sections of its stacks were drawn before, a list in smaller type; how
    long what no line speaks of must wait; the spec's note."""
    told = [f"{said['take']}: {'; '.join(map(tell, step.takes))}."] if step.takes else []
    told += [f"{said['tools']}: {', '.join(map(hold_measures, step.tools))}."] if step.tools else []
    told += [_hold(f"{said['section']} {letter}: {said['at_step']} {number}.") for letter, number in before]
    close = style.closer(SPACES_MM)
    units: list[Unit] = [(Styled((Paragraph(" ".join(told)),), close),)] if told else []
    units += [(Paragraph(f"{said['wait']}: {tool}, {hold_measures(wait)}.", bold=True),) for tool, wait in step.waits]
    units += [(Paragraph(f"{said['note']}: {hold_measures(step.note)}", bold=True),)] if step.note else []
    return units


def _hold(text: str) -> str:
    """A few words that stand on one line."""
    return text.replace(" ", "\u00a0")


def _acts(step: PlanStep) -> list[Unit]:
    """What is done, one numbered line after the other; a single one has no number."""
    told = [line[:1].upper() + line[1:] for line in map(tell, step.acts)]
    if len(told) == 1:
        return [(Paragraph(told[0]),)]
    return [(Numbered(str(number), line),) for number, line in enumerate(told, start=1)]


def _closing(step: PlanStep, said: Said) -> list[Unit]:
    """What is good."""
    units: list[Unit] = []
    if step.good:
        units.append((Paragraph(f"{said['good']}: {'; '.join(map(tell, step.good))}."),))
    return units


def _photo(step: PlanStep) -> list[Unit]:
    """A maker's own picture."""
    return [photo] if (photo := show_photo(step.picture, PHOTO_MM, PHOTO_MM)) else []
