"""One step of the plan -> its blocks: head, cautions, settings and lists in units, and its drawing."""

import math
from collections.abc import Callable, Iterable, Mapping, Sequence

from docgen.classes import dataclass
from docgen.pages.drawn.small_drawing import small_drawer
from docgen.pages.pictures.pictures import Pictures
from docgen.pages.setting.blocks import Beside, Block, Bullet, Caution, Figure, Gap, KeyValues, PageStyle, Paragraph
from docgen.pages.setting.flow import flow_height_mm
from docgen.pages.setting.paging import finding_words, hold_measures
from docgen.pages.work.build_front import (
    back_tack_words,
    machine_title,
    needle_point_words,
    show_photo,
    thread_label,
    time_words,
)
from docgen.pages.work.step_marks import draw_make_boxes, draw_step_head
from docgen.plan import Plan, PlanStep, SewingJob, iron_words
from docgen.resolve import Build, Seam
from docgen.tables.cautions import HAZARDS
from docgen.tables.strength import STRENGTH_CAUTION, is_ample, tell_first_to_give
from docgen.written.units.table import N_PER_KG, N_PER_LB
from docgen.written.units.telling import (
    Show,
    format_bought_run,
    format_length,
    format_number,
    format_pitch,
    format_pitches,
    format_stack,
)

Said = Mapping[str, str]
Unit = tuple[Block, ...]
Drawer = Callable[[float], Figure | None]

DRAWING_WIDTH_MM = 64.0
PHOTO_MM = 60.0  # a maker's own picture, wide and high
LEAST_DRAWING_MM = 48.0  # height a drawing may take where the words beside it are few
SMALL_DRAWING_MM = 32.0  # where that saves a page
PART_DRAWING_MM = 42.0  # beside the first part of a divided step
MOST_DRAWING_MM = 80.0
CAPTION_MM = 9.0  # about two lines below a drawing
JOB_GAP_MM = 2.5
MOST_JOINED = 2  # items of one part that stand in one line


@dataclass(frozen=True, slots=True, kw_only=True)
class StepBlocks:
    """A step ready to be set: what stands at its head; cautions, settings and lists beside the drawing, in units that
    are not divided; what closes it; its drawing from large to small, three sizes, empty without one, and how many
    units find room beside each: further ones go across below. A part of the step has `least_units` units or more: the
    settings of its first run of stitching are never parted from its drawing. `again` are the units as they stand first
    on a further page, with all settings, beside the drawing `small`; runs of stitching end before unit `sewing_end`."""

    number: int
    group: str
    head: Unit
    units: tuple[Unit, ...]
    tail: Unit
    drawings: tuple[Figure, ...]
    beside: tuple[int, ...]
    least_units: int = 1
    again: tuple[Unit, ...] = ()
    sewing_end: int = 0
    small: Figure | None = None


Row = tuple[str, str]
PITCHES_DIFFER_MM = 0.1  # finer no stitch length is set


def lay_step(
    step: PlanStep, plan: Plan, width_mm: float, style: PageStyle, said: Said, pictures: Pictures
) -> StepBlocks:
    """The blocks of one step for a column of this width. Its cautions stand across below the head, or beside the
    drawing where the step is lower then."""
    before = (*_before_sewing(step, said), *_section_units(pictures.letters(step.number), said))
    after = _after_sewing(step, said)
    numbers = _number_jobs(step.jobs)
    sewing = _between(step, _job_units(step.jobs, plan.build, said))
    units = (*before, *sewing, *after)
    again = [_job_unit(job, plan.build, said, numbers) for job in step.jobs]
    full = (*before, *_between(step, again), *after)
    head = draw_step_head(step, width_mm, style, said)
    cautions = tuple(_cautions(step, plan.build))
    ways = ((cautions, units), ((), (cautions, *units))) if cautions else (((), units),)
    draw: Drawer = pictures.step_drawer(step.number, DRAWING_WIDTH_MM, style, numbers) or small_drawer(
        plan, step.drawn, DRAWING_WIDTH_MM, style, numbers
    )
    left_mm = width_mm - DRAWING_WIDTH_MM - style.gutter_mm
    laid = []
    for above, left in ways:
        drawings = _draw_sizes(draw, left, left_mm, style)
        added = len(left) - len(units)
        first = added + len(before)
        laid.append(
            StepBlocks(
                number=step.number,
                group=step.group,
                head=(head, *above),
                units=left,
                tail=draw_make_boxes(plan.build.makes, width_mm, style, said),
                drawings=drawings,
                beside=tuple(_count_beside(drawing, left, left_mm, style) for drawing in drawings),
                least_units=added + min(len(before), len(_opening(step, said))) + 1 if step.jobs else added + 1,
                again=(*left[:added], *full),
                small=draw(SMALL_DRAWING_MM),
                sewing_end=first + len(sewing) if step.jobs else 0,
            )
        )
    return min(laid, key=lambda one: flow_height_mm(compose_step(one, len(one.units), 0), width_mm, style))


def _draw_sizes(draw: Drawer, units: tuple[Unit, ...], width_mm: float, style: PageStyle) -> tuple[Figure, ...]:
    """As high as the words beside it, or somewhat more where those are few; no higher than the words; and small."""
    words_mm = flow_height_mm(_blocks(units), width_mm, style) - CAPTION_MM
    rooms = [min(max(words_mm, least), MOST_DRAWING_MM) for least in (LEAST_DRAWING_MM, SMALL_DRAWING_MM)]
    rooms.append(min(rooms[1], PART_DRAWING_MM))
    return tuple(drawing for room in rooms if (drawing := draw(room)) is not None)


def _count_beside(drawing: Figure, units: tuple[Unit, ...], width_mm: float, style: PageStyle) -> int:
    """How many units stand beside the drawing, the last one perhaps lower than its foot."""
    room_mm = flow_height_mm((drawing,), DRAWING_WIDTH_MM, style) - CAPTION_MM / 2
    for count in range(1, len(units)):
        if flow_height_mm(_blocks(units[:count]), width_mm, style) >= room_mm:
            return count
    return len(units)


def _blocks(units: Iterable[Unit]) -> Unit:
    return tuple(block for unit in units for block in unit)


def compose_step(step: StepBlocks, units: int, size: int) -> Unit:
    """Head and the first `units` units beside the drawing of that size (0 is the largest) and below it; what closes
    the step when these are all."""
    body = _blocks(step.units[:units])
    if step.drawings:
        drawing, count = step.drawings[size], min(step.beside[size], units)
        beside = Beside(_blocks(step.units[:count]), drawing, DRAWING_WIDTH_MM)
        body = (beside, *_blocks(step.units[count:units]))
    return (*step.head, *body, *(step.tail if units == len(step.units) else ()))


def compose_rest(step: StepBlocks, units: int, said: Said) -> Unit:
    """What is left after the first `units` units, for the next page: its number again, and where stitching is left,
    all settings of the first run and the drawing, small."""
    title = Paragraph(f"{said['step']} {step.number}, {said['continued']}", bold=True)
    left = (step.again[units], *step.units[units + 1 :])
    count = max(step.sewing_end - units, 0)
    if step.small is None or not count:
        return (title, *_blocks((*left, step.tail)))
    beside = Beside(_blocks(left[:count]), step.small, DRAWING_WIDTH_MM)
    return (title, beside, *_blocks((*left[count:], step.tail)))


def _section_units(letters: Sequence[str], said: Said) -> tuple[Unit, ...]:
    """Which sections of the front part show what lies under the needle and the posts."""
    return ((Paragraph(f"{said['section']}: {', '.join(letters)}", bold=True),),) if letters else ()


def _before_sewing(step: PlanStep, said: Said) -> tuple[Unit, ...]:
    """What is laid out, cut, skived, punched, folded and set before anything is sewn."""
    return (*_opening(step, said), *(_told_after(step, 0) if step.jobs else _line_units(step.lines)))


def _between(step: PlanStep, jobs: Sequence[Unit]) -> tuple[Unit, ...]:
    """The runs of stitching, with what is done between them, clear of the settings above it."""
    found: list[Unit] = []
    for number, job in enumerate(jobs, start=1):
        found.append(job)
        if number < len(jobs):
            found += _clear(_told_after(step, number))
    return tuple(found)


def _told_after(step: PlanStep, jobs: int) -> tuple[Unit, ...]:
    """What is cut, skived, punched, folded and set after so many runs of stitching."""
    lines = _rows_after(step.lines, step.lines_after, 0, jobs)
    hardware = _rows_after(step.hardware, step.hardware_after, len(step.jobs), jobs)
    return (*_line_units(lines), *_line_units(hardware))


def _rows_after(rows: Sequence[Row], afters: Sequence[int], usual: int, jobs: int) -> list[Row]:
    """The rows that belong there; each stands as usual where nothing tells of it."""
    told = [*afters, *[usual] * len(rows)]
    return [row for row, after in zip(rows, told, strict=False) if after == jobs]


def _after_sewing(step: PlanStep, said: Said) -> tuple[Unit, ...]:
    """What is done last, and the note; clear of the settings above them."""
    photo = show_photo(step.picture, PHOTO_MM, PHOTO_MM)
    last = _told_after(step, len(step.jobs)) if step.jobs else tuple(_line_units(step.hardware))
    units = (*last, *_closing(step, said), *([photo] if photo else []))
    return _clear(units) if step.jobs else units


def _clear(units: tuple[Unit, ...]) -> tuple[Unit, ...]:
    return ((Gap(JOB_GAP_MM), *units[0]), *units[1:]) if units else ()


def _cautions(step: PlanStep, build: Build) -> list[Block]:
    """What to take care of, in short; and what is out of order."""
    found: list[Block] = []
    if step.hazards:
        found.append(Caution("\n".join(short_caution(hazard) for hazard in step.hazards)))
    for item in step.cautions:
        found.append(Caution(hold_measures(finding_words(item, build))))
    return found


def short_caution(hazard: str) -> str:
    """Title and first sentence of a hazard: "Press: Fingers stay clear of the ram; ..."."""
    title, sentences = HAZARDS[hazard]
    return f"{title}: {sentences.split('. ')[0].rstrip('.')}."


def _opening(step: PlanStep, said: Said) -> list[Unit]:
    """What to lay out, how long it takes, and how long glue must wait."""
    told = [f"{said['tools']}: {', '.join(map(hold_measures, step.tools))}."] if step.tools else []
    told += [f"{said['step_time']}: {hold_measures(time_words(step.minutes, said))}."] if step.minutes else []
    blocks: list[Block] = [Paragraph(" ".join(told))] if told else []
    blocks += [Paragraph(f"{said['wait']}: {tool}, {hold_measures(wait)}.", bold=True) for tool, wait in step.waits]
    return [tuple(blocks)] if blocks else []


def _job_units(jobs: tuple[SewingJob, ...], build: Build, said: Said) -> list[Unit]:
    """Each run of stitching with its settings; those of a stitch that came before in the step are as above."""
    units: list[Unit] = []
    told: set[tuple[str, float]] = set()
    numbers = _number_jobs(jobs)
    for job in jobs:
        unit = _job_unit(job, build, said, numbers, is_told=(job.stitch.name, job.inset_mm) in told)
        told.add((job.stitch.name, job.inset_mm))
        units.append((*([Gap(JOB_GAP_MM)] if units else []), *unit))
    return units


def _number_jobs(jobs: tuple[SewingJob, ...]) -> dict[str, int]:
    """Numbers for the seams of a step that sews several, by name, as they are sewn; none for a single one."""
    seams = [job.seam.name for job in jobs if job.seam is not None]
    return {name: number for number, name in enumerate(seams, start=1)} if len(seams) > 1 else {}


def _job_unit(job: SewingJob, build: Build, said: Said, numbers: Mapping[str, int], *, is_told: bool = False) -> Unit:
    """One run of stitching; where its stitch is told already, only what differs from run to run."""
    stitch = [(said["settings"], said["as_above"])] if is_told else _stitch_facts(job, build, said)
    facts = [*stitch, *_run_facts(job, build.show, said), *_hand_facts(job, build.show, said)]
    held = tuple((label, hold_measures(value)) for label, value in facts)
    number = numbers.get(job.seam.name) if job.seam is not None else None
    head = f"{said['sew']} {number}" if number else said["sew"]
    title = Paragraph(f"{head}: {job.title}", bold=True)
    return (title, KeyValues(held, 3), *_iron_blocks(job, said), *_load_blocks(job, build, said))


def _iron_blocks(job: SewingJob, said: Said) -> list[Block]:
    """What a pricking iron of a fixed pitch marks, and where its last stitches are adjusted."""
    if not job.stitch.iron:
        return []
    told = hold_measures("; ".join(iron_words(job.spans_mm, job.stitch.pitch_mm)))
    return [Paragraph(f"{said['iron']} {hold_measures(job.stitch.iron)}: {told}.")]


def _hand_facts(job: SewingJob, show: Show, said: Said) -> list[tuple[str, str]]:
    """The threads to cut for sewing by hand, all rows and runs of one make together."""
    if job.stitch.by != "hand":
        return []
    return [(said["hand_threads"], f"{job.hand_threads} × {format_bought_run(job.hand_thread_mm, show)}")]


def _stitch_facts(job: SewingJob, build: Build, said: Said) -> list[tuple[str, str]]:
    """What is set on the machine, or laid out for sewing by hand."""
    stitch, show = job.stitch, build.show
    back_tack, machine = back_tack_words(stitch, show), machine_title(stitch, build)
    return [
        (thread_label(stitch, said), stitch.thread_words),
        (said["needle"], needle_point_words(stitch, said)),
        *([(said["by"], machine)] if machine and len(build.machines) > 1 else []),
        *([] if job.is_across else [(said["inset"], format_length(job.inset_mm, show))]),
        *([(said["back_tack"], back_tack)] if back_tack else []),
    ]


def _run_facts(job: SewingJob, show: Show, said: Said) -> list[tuple[str, str]]:
    """What differs from run to run."""
    facts = [
        (said["pitch"], _pitch_words(job)),
        (said["stitches"] if job.runs == 1 else said["stitches_run"], _count_words(job, said)),
        (said["length"] if job.runs == 1 else said["length_run"], format_length(job.length_mm, show)),
        (said["stack"], _stack_words(job)),
    ]
    if job.runs > 1 and job.seam is not None:
        facts.append((said["sewn"], f"{job.runs} {said['times']}"))
    elif job.runs > 1:
        facts.append((said["runs"], str(job.runs)))
    if job.rows > 1:
        gap = format_length(job.row_gap_mm, show)
        facts.append((said["rows"], f"{job.rows}, {gap} {said['apart']}"))
    return facts


def _stack_words(job: SewingJob) -> str:
    """From the thinnest to the thickest place, where they differ as it is printed."""
    least, most = map(format_stack, job.stack_range_mm)
    return format_stack(job.stack_mm) if least == most else hold_measures(format_stack(*job.stack_range_mm))


def _pitch_words(job: SewingJob) -> str:
    """From the shortest to the longest stitch, where corners make spans differ; that of an iron."""
    if job.stitch.iron:
        return format_pitch(job.stitch.pitch_mm)
    pitches_mm = job.seam.pitches_mm if job.seam else ()
    if pitches_mm and max(pitches_mm) - min(pitches_mm) > PITCHES_DIFFER_MM:
        return hold_measures(format_pitches(min(pitches_mm), max(pitches_mm)))
    return format_pitch(job.pitch_mm)


def _load_blocks(job: SewingJob, build: Build, said: Said) -> list[Block]:
    """What the seam has to carry, beside the estimate from its thread, or what gives before ample thread does; nothing
    where no load is named."""
    seam = job.seam
    if seam is None or not seam.load_words:
        return []
    facts = [(said["load"], hold_measures(load_words(seam, build.show)))]
    if not seam.strength_n:
        return [KeyValues(tuple(facts), 2)]
    if is_ample(seam.strength_n, seam.load_n):
        told = tell_first_to_give([item.kind for item in build.hardware], bool(build.straps))
        return [KeyValues(tuple(facts), 2), Paragraph(told)]
    facts.append((said["strength"], hold_measures(strength_words(seam.strength_n, _in_pounds(seam, build.show)))))
    return [KeyValues(tuple(facts), 2), Paragraph(STRENGTH_CAUTION)]


def load_words(seam: Seam, show: Show) -> str:
    """`12 kg (118 N)`; where inches stand first also in lb: `12 kg (26 lb, 118 N)`."""
    words = [f"{format_number(seam.load_n, 0)} N"]
    if _in_pounds(seam, show) and "lb" not in seam.load_words:
        words.insert(0, f"{format_number(seam.load_n / N_PER_LB, 0)} lb")
    return f"{seam.load_words} ({', '.join(words)})"


def _in_pounds(seam: Seam, show: Show) -> bool:
    """The load is told in lb where it is written so, and where inches stand first."""
    return show == "in" or "lb" in seam.load_words


def strength_words(strength_n: float, is_pounds: bool) -> str:
    """`25000 N (2500 kg)`, or in lb: two digits, rounded down, since it is an estimate."""
    unit, newtons = ("lb", N_PER_LB) if is_pounds else ("kg", N_PER_KG)
    least_n = _round_down(strength_n)
    return f"{format_number(least_n, 0)} N ({format_number(_round_down(least_n / newtons), 0)} {unit})"


def _round_down(value: float) -> float:
    step: float = 10.0 ** max(math.floor(math.log10(value)) - 1, 0)
    return math.floor(value / step) * step


def _count_words(job: SewingJob, said: Said) -> str:
    """Stitches; by hand also the holes to prick."""
    return f"{job.stitches} ({job.holes} {said['holes']})" if job.stitch.by == "hand" else str(job.stitches)


def _line_units(lines: Sequence[tuple[str, str]]) -> list[Unit]:
    """What the step handles: one item a part where that is short; then parts with more to say, their name and items
    under it."""
    grouped: dict[str, list[str]] = {}
    for label, line in lines:
        grouped.setdefault(label, []).append(hold_measures(line))
    short: list[Unit] = []
    long: list[Unit] = []
    for label, told in grouped.items():
        if len(told) <= MOST_JOINED:
            short.append((Bullet(f"{label}: {'; '.join(told)}"),))
        else:
            long.append((Paragraph(label, bold=True), *map(Bullet, told)))
    return short + long


def _closing(step: PlanStep, said: Said) -> list[Unit]:
    """The spec's note on the step."""
    return [(Paragraph(f"{said['note']}: {hold_measures(step.note)}", bold=True),)] if step.note else []
