"""Plan -> build sheet: what to have ready, then every step with its settings, a drawing and its cautions."""

from __future__ import annotations

from collections.abc import Mapping

from docgen.fonts import ascent_mm, cap_height_mm, text_width_mm, wrap_text
from docgen.geometry import Box, Point, box_path, polyline
from docgen.pages.blocks import (
    Beside,
    Block,
    Bullet,
    Caution,
    Column,
    Figure,
    Gap,
    Heading,
    KeyValues,
    PageStyle,
    Paragraph,
    Table,
    Tick,
    Together,
)
from docgen.pages.flow import flow_height_mm
from docgen.pages.page import Document, Mark, PathMark, Stroke, TextMark
from docgen.pages.paging import head_blocks, hold_measures, needle_words, page_blocks
from docgen.pages.setup import Setup
from docgen.pages.small_drawing import draw_small_pieces
from docgen.pages.templates import parse_words, render_words, words
from docgen.plan import Plan, PlanStep, SewingJob
from docgen.resolve import Build, Stitch
from docgen.tables.cautions import HAZARDS
from docgen.units import Show, format_length, format_pitch

NAME = "build-sheet"

Said = Mapping[str, str]

DRAWING_WIDTH_MM = 66.0
LEAST_DRAWING_MM = 50.0  # height a drawing may take where the words beside it are few
MOST_DRAWING_MM = 80.0
BOX_MM = 6.0
NUMBER_WIDTH_MM = 13.0  # of a step number with up to two digits; a longer one takes more
INITIALS_MM = 24.0
HEAD_GAP_MM = 3.0
JOB_GAP_MM = 2.5


def lay_out_build_sheet(plan: Plan, setup: Setup) -> Document:
    """The pages of the build sheet; nothing in it can fail, since the plan has no holes."""
    said = words("building")
    blocks = [
        *head_blocks(NAME, plan, setup),
        *parse_words(render_words("build_sheet", proposed=said["proposed"] if plan.is_proposed else "")),
        *_ready_blocks(plan, setup, said),
        *_step_blocks(plan, setup, said),
    ]
    return page_blocks(blocks, NAME, plan, setup)


def _ready_blocks(plan: Plan, setup: Setup, said: Said) -> list[Block]:
    """Tools, stitches, a try on scrap, cautions."""
    blocks: list[Block] = [Heading(said["ready"], 2)]
    if plan.tools:
        blocks += [Heading(said["tools_title"], 3), *_tool_blocks(plan.tools, setup)]
    if plan.build.stitches:
        blocks += [Heading(said["stitches_title"], 3), _stitch_table(plan.build, said)]
        blocks += parse_words(render_words("build_scrap", machine=_machine_names(plan.build)))
    found = [Caution(f"{item.what}; {item.mend}" if item.mend else item.what) for item in plan.build.cautions]
    if found:
        blocks += [Heading(said["cautions_title"], 3), *found]
    if plan.hazards:
        rows = tuple(HAZARDS[hazard] for hazard in plan.hazards)
        columns = (Column(said["hazard"], 40), Column(said["safely"], 140))
        blocks += [Caution(said["cautions_read"]), Table(columns, rows)]
    return blocks


def _tool_blocks(tools: tuple[str, ...], setup: Setup) -> list[Block]:
    """Boxes to tick, in two columns, or three when there are many."""
    ticks = tuple(Tick(tool) for tool in tools)
    columns = 1 if len(ticks) < 4 else 2 if len(ticks) < 9 else 3
    rows = -(-len(ticks) // columns)
    width, gutter = setup.frame.width, setup.style.gutter_mm
    column_width = (width + gutter) / columns - gutter
    laid: tuple[Block, ...] = ticks[(columns - 1) * rows :]
    for column in range(columns - 2, -1, -1):
        right_width = (columns - 1 - column) * (column_width + gutter) - gutter
        laid = (Beside(ticks[column * rows : (column + 1) * rows], Together(laid), right_width),)
    return list(laid)


def _stitch_table(build: Build, said: Said) -> Table:
    columns = (
        Column(said["stitch"], 20),
        Column(said["by"], 17),
        Column(said["thread"], 30),
        Column(said["needle"], 18),
        Column(said["pitch"], 28),
        Column(said["inset"], 27),
        Column(said["rows"], 10),
        Column(said["back_tack"], 24),
    )
    rows = tuple(_stitch_row(stitch, build.show, said) for stitch in build.stitches)
    return Table(columns, rows)


def _stitch_row(stitch: Stitch, show: Show, said: Said) -> tuple[str, ...]:
    return (
        stitch.name,
        said[stitch.by],
        stitch.thread_words,
        needle_words((stitch.needle_nm,), stitch.by),
        _two_lines(format_pitch(stitch.pitch_mm)),
        _two_lines(format_length(stitch.inset_mm, show)),
        str(stitch.rows),
        _two_lines(_back_tack_words(stitch, show)) or said["none"],
    )


def _machine_names(build: Build) -> str:
    """The stitches sewn by machine; empty when all are sewn by hand."""
    return ", ".join(stitch.name for stitch in build.stitches if stitch.by == "machine")


def _two_lines(words_of: str) -> str:
    return words_of.replace(" (", "\n(")


def _back_tack_words(stitch: Stitch, show: Show) -> str:
    return format_length(stitch.back_tack_mm, show) if stitch.by == "machine" and stitch.back_tack_mm else ""


def _step_blocks(plan: Plan, setup: Setup, said: Said) -> list[Block]:
    """All steps, with a heading where the group changes."""
    blocks: list[Block] = [] if any(step.group for step in plan.steps) else [Heading(said["steps_title"], 2)]
    group = ""
    for step in plan.steps:
        if step.group and step.group != group:
            blocks.append(Heading(step.group, 2))
        group = step.group
        blocks.append(_lay_step(step, plan, setup, said))
    return blocks


def _lay_step(step: PlanStep, plan: Plan, setup: Setup, said: Said) -> Block:
    """The step's head, its words beside its drawing, and its cautions across; on one page where they fit."""
    style, width = setup.style, setup.frame.width
    head = draw_step_head(step, width, style, said)
    text = (
        *(
            block
            for place, job in enumerate(step.jobs)
            for block in _job_blocks(job, place, plan.build, said)
        ),
        *_line_blocks(step),
        *_closing_blocks(step, said),
    )
    text_height = flow_height_mm(text, width - DRAWING_WIDTH_MM - style.gutter_mm, style)
    room = min(max(text_height, LEAST_DRAWING_MM), MOST_DRAWING_MM)
    drawing = draw_small_pieces(plan, step.drawn, DRAWING_WIDTH_MM, room, style)
    body: tuple[Block, ...] = text
    if drawing is not None:
        body = (Beside(text, drawing, DRAWING_WIDTH_MM),) if text else (drawing,)
    cautions = "\n".join(short_caution(hazard) for hazard in step.hazards)
    return Together((head, *body, *([Caution(cautions)] if cautions else [])))


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
        _draw_line(0.0, width_mm, rule, style.thin_line_mm),
        TextMark(x_mm=0.0, y_mm=base, text=number, size_mm=number_size, face="bold"),
        PathMark(path=box_path(box), stroke=Stroke(style.thick_line_mm)),
        _draw_line(right, width_mm, base, style.thin_line_mm),
        TextMark(
            x_mm=right,
            y_mm=base - ascent_mm(small),
            text=said["initials"],
            size_mm=small,
            grey=style.help_grey,
        ),
    ]
    marks += [
        TextMark(x_mm=left, y_mm=first - row * leading, text=line, size_mm=size, face="bold")
        for row, line in enumerate(lines)
    ]
    return Figure(width_mm, height, tuple(marks))


def _draw_line(left: float, right: float, y: float, width_mm: float) -> PathMark:
    return PathMark(path=polyline((Point(left, y), Point(right, y))), stroke=Stroke(width_mm))


def _job_blocks(job: SewingJob, place: int, build: Build, said: Said) -> tuple[Block, ...]:
    """The settings of one run of stitching."""
    stitch, show = job.stitch, build.show
    facts = [
        (said["thread"], stitch.thread_words),
        (said["needle"], needle_words((stitch.needle_nm,), stitch.by)),
        (said["pitch"], format_pitch(job.pitch_mm)),
        (said["stitches"] if job.runs == 1 else said["stitches_run"], _count_words(job, build, said)),
        (said["length"] if job.runs == 1 else said["length_run"], format_length(job.length_mm, show)),
        (said["inset"], format_length(stitch.inset_mm, show)),
        (said["stack"], format_length(job.stack_mm, show)),
    ]
    if job.runs > 1:
        facts.append((said["runs"], str(job.runs)))
    if job.rows > 1:
        facts.append((said["rows"], f"{job.rows}, {format_length(stitch.row_gap_mm, show)} {said['apart']}"))
    if back_tack := _back_tack_words(stitch, show):
        facts.append((said["back_tack"], back_tack))
    title = Paragraph(f"{said['sew']}: {job.title}", bold=True)
    return (
        *([Gap(JOB_GAP_MM)] if place else []),
        title,
        KeyValues(tuple((label, hold_measures(value)) for label, value in facts), 3),
    )


def _count_words(job: SewingJob, build: Build, said: Said) -> str:
    """Stitches; by hand also the holes to prick, one more than stitches unless the seam closes on itself."""
    if job.stitch.by != "hand":
        return str(job.stitches)
    lines = (line for piece in build.pieces for line in piece.stitch_lines)
    closed = job.seam is not None and any(line.seam == job.seam.name and line.path.closed for line in lines)
    return f"{job.stitches} ({job.stitches + (not closed)} {said['holes']})"


def _line_blocks(step: PlanStep) -> list[Block]:
    """What the step handles: one item a part, or a part's name and items under it when there are several."""
    grouped: dict[str, list[str]] = {}
    for label, line in step.lines:
        grouped.setdefault(label, []).append(hold_measures(line))
    blocks: list[Block] = []
    for label, lines in grouped.items():
        if len(lines) == 1:
            blocks.append(Bullet(f"{label}: {lines[0]}"))
        else:
            blocks += [Paragraph(label, bold=True), *map(Bullet, lines)]
    return blocks


def _closing_blocks(step: PlanStep, said: Said) -> list[Block]:
    """Tools, and what to look for."""
    facts = [(said["tools"], ", ".join(step.tools)), (said["look_for"], hold_measures(step.note))]
    shown = tuple(fact for fact in facts if fact[1])
    return [KeyValues(shown, 1)] if shown else []


def short_caution(hazard: str) -> str:
    """Title and first sentence of a hazard: "Press: Fingers stay clear of the ram; ..."."""
    title, sentences = HAZARDS[hazard]
    return f"{title}: {sentences.split('. ')[0].rstrip('.')}."
