"""The runs of stitching of a step: a row for each, and below what only some have: rows, threads to cut, a load."""

import math
from collections.abc import Iterator, Mapping

from docgen.assemble import is_open_corner
from docgen.pages.setting.blocks import Block, Column, PageStyle, Paragraph, Styled, Table
from docgen.pages.setting.paging import hold_measures
from docgen.plan import PlanStep, SewingJob, iron_words, number_seams
from docgen.resolve import Build, Seam
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

SHARES = (55, 22, 21.5, 46.5, 30.5)  # name, stitch, number of stitches, length, layers
HAND_SHARES = (41, 21, 36, 46, 30.5)  # holes besides
SPACES_MM = {"cell_pad_mm": 0.4, "block_gap_mm": 1.0, "paragraph_gap_mm": 1.0}
PITCHES_DIFFER_MM = 0.1  # finer no stitch length is set


def run_blocks(step: PlanStep, build: Build, style: PageStyle, said: Said) -> Unit:
    """A row for each run of a step, and what else is told of it; nothing where it sews nothing."""
    if not step.jobs:
        return ()
    numbers = number_seams(step.jobs)
    by_hand = any(job.stitch.by == "hand" for job in step.jobs)
    columns = tuple(Column("", share) for share in (HAND_SHARES if by_hand else SHARES))
    rows = tuple(_row(job, numbers, build, said) for job in step.jobs)
    more = (Paragraph(words) for job in step.jobs for words in _more(job, build, said))
    return (Styled((Table(columns, rows, is_fitted=True), *more), style.closer(SPACES_MM)),)


def _row(job: SewingJob, numbers: Mapping[str, int], build: Build, said: Said) -> tuple[str, ...]:
    """Name, stitch, number of stitches, length, layers: each says what it is, since there is no head above them."""
    is_corner = job.seam is not None and is_open_corner(build, job.seam)
    number = numbers.get(job.seam.name) if job.seam is not None else None
    times = "" if job.runs == 1 else f", {job.runs} {said['times']}"
    told = (
        f"{number} {job.title}{times}" if number else f"{job.title}{times}",
        f"{said['stitch']} {job.stitch.name}",
        f"{_count_words(job, said)} {said['stitches']}",
        f"{format_length(job.length_mm, build.show)} {said['long']}",
        said["corner"] if is_corner else f"{_stack_words(job)} {said['thick']}",
    )
    return tuple(map(hold_measures, told))


def _count_words(job: SewingJob, said: Said) -> str:
    """Stitches; by hand also the holes to prick."""
    return f"{job.holes} {said['holes']}, {job.stitches}" if job.stitch.by == "hand" else str(job.stitches)


def _stack_words(job: SewingJob) -> str:
    """From the thinnest to the thickest place, where they differ as it is printed."""
    least, most = map(format_stack, job.stack_range_mm)
    return format_stack(job.stack_mm) if least == most else format_stack(*job.stack_range_mm)


def _more(job: SewingJob, build: Build, said: Said) -> Iterator[str]:
    """Stitch length and inset where they are others than the stitch's, rows, threads to cut, the iron, the load."""
    facts = [*_pitch_facts(job, said), *_place_facts(job, build.show, said)]
    if job.stitch.by == "hand":
        facts.append(f"{said['hand_threads']} {job.hand_threads} × {format_bought_run(job.hand_thread_mm, build.show)}")
    if facts:
        yield hold_measures(f"{job.title}: {'; '.join(facts)}.")
    if job.stitch.iron:
        told = "; ".join(iron_words(job.spans_mm, job.stitch.pitch_mm, are_corners=job.are_corners))
        yield hold_measures(f"{said['iron']} {job.stitch.iron}: {told}.")
    yield from _load_lines(job, build, said)


def _pitch_facts(job: SewingJob, said: Said) -> Iterator[str]:
    """From the shortest to the longest stitch, where corners make spans differ from what is set."""
    pitches_mm = (job.seam.pitches_mm if job.seam else ()) or (job.pitch_mm,)
    if job.stitch.iron or max(abs(pitch - job.stitch.pitch_mm) for pitch in pitches_mm) <= PITCHES_DIFFER_MM:
        return
    is_one = max(pitches_mm) - min(pitches_mm) <= PITCHES_DIFFER_MM
    told = format_pitch(job.pitch_mm) if is_one else format_pitches(min(pitches_mm), max(pitches_mm))
    yield f"{said['pitch']} {told}"


def is_even(job: SewingJob) -> bool:
    """Whether the rows part the overlap of a joint evenly."""
    return job.seam is None and job.rows > 1 and abs(job.inset_mm - job.row_gap_mm) < 1e-6


def _place_facts(job: SewingJob, show: Show, said: Said) -> Iterator[str]:
    if is_even(job):
        yield f"{job.rows} {said['rows_even']}"
        return
    if not job.is_across and abs(job.inset_mm - job.stitch.inset_mm) > 1e-6:
        yield f"{said['inset']} {format_length(job.inset_mm, show)}"
    if job.rows > 1:
        yield f"{job.rows} {said['rows']}, {format_length(job.row_gap_mm, show)} {said['apart']}"


def _load_lines(job: SewingJob, build: Build, said: Said) -> Iterator[str]:
    """What the seam has to carry, beside the estimate from its thread, or what gives before ample thread does; nothing
    where no load is named."""
    seam = job.seam
    if seam is None or not seam.load_words:
        return
    told = f"{said['load']} {load_words(seam, build.show)}"
    if not seam.strength_n:
        yield hold_measures(f"{job.title}: {told}.")
    elif is_ample(seam.strength_n, seam.load_n):
        first = tell_first_to_give([item.kind for item in build.hardware], bool(build.straps))
        yield hold_measures(f"{job.title}: {told}. {first}")
    else:
        estimate = strength_words(seam.strength_n, _in_pounds(seam, build.show))
        yield hold_measures(f"{job.title}: {told}; {said['strength']} {estimate}. {STRENGTH_CAUTION}")


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
