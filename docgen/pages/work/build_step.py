"""One step of the plan -> its blocks: head, cautions, what is laid out and done, a row for each seam, its drawing."""

from collections.abc import Callable, Iterable, Mapping, Sequence

from docgen.classes import dataclass
from docgen.pages.drawn.small_drawing import small_drawer
from docgen.pages.pictures.pictures import Pictures
from docgen.pages.setting.blocks import Beside, Block, Caution, Figure, Numbered, PageStyle, Paragraph, Styled, Table
from docgen.pages.setting.flow import flow_height_mm
from docgen.pages.setting.paging import finding_words, hold_measures
from docgen.pages.work.acts import tell
from docgen.pages.work.build_front import show_photo
from docgen.pages.work.runs import run_blocks
from docgen.pages.work.step_marks import draw_make_boxes, draw_step_head
from docgen.plan import Plan, PlanStep, number_seams
from docgen.resolve import Build
from docgen.tables.cautions import AT_STEP, HAZARDS

Said = Mapping[str, str]
Unit = tuple[Block, ...]
Drawer = Callable[[float], Figure | None]

DRAWING_WIDTH_MM = 64.0
PICTURE_WIDTH_MM = 72.0  # of what a step joins, with the names of parts
PHOTO_MM = 60.0  # a maker's own picture, wide and high
DRAWING_HEIGHTS_MM = (60.0, 48.0, 36.0, 30.0)  # from large to small: the smaller ones where that saves a page
CAPTION_MM = 5.0  # about a line below a drawing
SPACES_MM = {
    "paragraph_gap_mm": 0.9,
    "item_gap_mm": 0.4,
    "block_gap_mm": 1.4,
    "cell_pad_mm": 0.4,
    "caution_pad_mm": 0.5,
    "caution_mark_mm": 4.0,
    "indent_mm": 6.0,
}


@dataclass(frozen=True, slots=True, kw_only=True)
class StepBlocks:
    """A step ready to be set: what stands at its head; its lines and rows in units that are not divided; what closes it;
    its drawing from large to small, empty without one."""

    number: int
    group: str
    head: Unit
    units: tuple[Unit, ...]
    tail: Unit
    drawings: tuple[Figure, ...]
    width_mm: float
    style: PageStyle


def lay_step(
    step: PlanStep, group: str, plan: Plan, width_mm: float, style: PageStyle, said: Said, pictures: Pictures
) -> StepBlocks:
    """The blocks of one step for a column of this width; `group` stands above it where it changes there."""
    draw = step_drawer(step, plan, style, pictures)
    drawings = dict.fromkeys(figure for height_mm in DRAWING_HEIGHTS_MM if (figure := draw(height_mm)) is not None)
    return StepBlocks(
        number=step.number,
        group=group,
        head=(draw_step_head(step, group, width_mm, style, said), *_cautions(step, plan.build, style)),
        units=(
            *_opening(step, style, said, pictures.letters(step.number)),
            *_acts(step),
            *run_blocks(step, plan.build, style, said),
            *_closing(step, said),
        ),
        tail=draw_make_boxes(plan.build.makes, width_mm, style, said),
        drawings=tuple(drawings),
        width_mm=width_mm,
        style=step_style(style),
    )


def step_drawer(step: PlanStep, plan: Plan, style: PageStyle, pictures: Pictures) -> Drawer:
    """What is drawn beside a step, for a room so high: what it joins, in place and taken apart; where it joins nothing that
    can be drawn so, its pieces, each lying flat."""
    numbers = number_seams(step.jobs)
    found = pictures.step_drawer(step.number, PICTURE_WIDTH_MM, style, numbers)
    return found or small_drawer(plan, step.drawn, DRAWING_WIDTH_MM, style, numbers)


def step_style(style: PageStyle) -> PageStyle:
    """The style of the words of a step: larger type, set closer, for reading at arm's length."""
    return style.of_steps(SPACES_MM)


def compose_step(step: StepBlocks, units: int, size: int) -> Unit:
    """Head and the first `units` units beside the drawing of that size (0 is the largest) and below it; what closes
    the step when these are all."""
    chosen = step.units[:units]
    closing = step.tail if units == len(step.units) else ()
    if not step.drawings:
        return (*step.head, Styled(_blocks(chosen), step.style), *closing)
    drawing = step.drawings[min(size, len(step.drawings) - 1)]
    count = _count_beside(step, drawing, chosen)
    beside = Beside((Styled(_blocks(chosen[:count]), step.style),), Styled((drawing,), step.style), drawing.width_mm)
    below = (Styled(_blocks(chosen[count:]), step.style),) if chosen[count:] else ()
    return (*step.head, beside, *below, *closing)


def compose_rest(step: StepBlocks, units: int, said: Said) -> Unit:
    """What is left after the first `units` units, for the next page, with its number again."""
    title = Paragraph(f"{said['step']} {step.number}, {said['continued']}", bold=True)
    return (Styled((title, *_blocks(step.units[units:])), step.style), *step.tail)


def _count_beside(step: StepBlocks, drawing: Figure, units: tuple[Unit, ...]) -> int:
    """How many units stand beside the drawing, the last one perhaps lower than its foot; rows of runs go across below."""
    left_mm = step.width_mm - drawing.width_mm - step.style.gutter_mm
    room_mm = flow_height_mm((drawing,), drawing.width_mm, step.style) - CAPTION_MM / 2
    for count in range(1, len(units)):
        if _is_wide(units[count]):
            return count
        if flow_height_mm(_blocks(units[:count]), left_mm, step.style) >= room_mm:
            return count
    return len(units)


def _is_wide(unit: Unit) -> bool:
    return any(isinstance(block, Styled) and isinstance(block.blocks[0], Table) for block in unit)


def _blocks(units: Iterable[Unit]) -> Unit:
    return tuple(block for unit in units for block in unit)


def _cautions(step: PlanStep, build: Build, style: PageStyle) -> tuple[Block, ...]:
    """What to take care of, each in one line; and what is out of order."""
    found: list[Block] = []
    if step.hazards:
        found.append(Caution("  ".join(short_caution(hazard) for hazard in step.hazards)))
    found += [Caution(hold_measures(finding_words(item, build))) for item in step.cautions]
    return (Styled(tuple(found), style.closer(SPACES_MM)),) if found else ()


def short_caution(hazard: str) -> str:
    """Title and what to do, in one line: "Blade: cut away from your hand."."""
    return f"{HAZARDS[hazard][0]}: {AT_STEP[hazard]}."


def _opening(step: PlanStep, style: PageStyle, said: Said, letters: Sequence[str]) -> list[Unit]:
    """What is taken in hand, the tools, and the sections of its stacks, a list in smaller type; how long glue must wait."""
    told = [f"{said['take']}: {'; '.join(map(tell, step.takes))}."] if step.takes else []
    told += [f"{said['tools']}: {', '.join(map(hold_measures, step.tools))}."] if step.tools else []
    told += [f"{said['section']}: {', '.join(letters)}."] if letters else []
    close = style.closer(SPACES_MM)
    units: list[Unit] = [(Styled((Paragraph(" ".join(told)),), close),)] if told else []
    units += [(Paragraph(f"{said['wait']}: {tool}, {hold_measures(wait)}.", bold=True),) for tool, wait in step.waits]
    return units


def _acts(step: PlanStep) -> list[Unit]:
    """What is done, one numbered line after the other; a single one has no number."""
    if len(step.acts) == 1:
        return [(Paragraph(tell(step.acts[0])),)]
    return [(Numbered(str(number), tell(one)),) for number, one in enumerate(step.acts, start=1)]


def _closing(step: PlanStep, said: Said) -> list[Unit]:
    """The spec's note, what is good, and a maker's own picture."""
    units: list[Unit] = []
    if step.note:
        units.append((Paragraph(f"{said['note']}: {hold_measures(step.note)}", bold=True),))
    if step.good:
        units.append((Paragraph(f"{said['good']}: {'; '.join(map(tell, step.good))}."),))
    photo = show_photo(step.picture, PHOTO_MM, PHOTO_MM)
    return [*units, *([photo] if photo else [])]
