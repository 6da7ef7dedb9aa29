"""Runs of stitching: from seams, joins and straps."""

import math
from collections.abc import Iterable, Sequence, Set
from dataclasses import replace
from typing import Final

from docgen.assemble import Assembled, EventKind, Run
from docgen.geometry.spacing import corner_distances
from docgen.plan.names import spoken
from docgen.plan.plan import SewingJob
from docgen.plan.round_rows import is_round
from docgen.resolve import Build, Seam, Stitch, StitchLine, divider_name, joint_gap_mm
from docgen.tables.limits import Limits
from docgen.tables.thread import saddle_stitch_ratio

RUN_KINDS: Final = ("joins", "straps", "dividers", "landings")
RUN_WORDS: Final = {"dividers": "dividing line", "straps": "along the edge", "joins": "joint"}
Job = tuple[tuple[EventKind, str], SewingJob]
"""A job with the kind of work and the name under which a step names it."""


def list_jobs(build: Assembled) -> tuple[Job, ...]:
    """Every run of stitching of one make: seams, joins, straps, and dividing lines of pieces."""
    seams: list[Job] = [(("seams", seam.name), seam_job(build, seam)) for seam in build.seams]
    names = [*build.part_titles]
    runs = sorted(build.assembly.runs, key=lambda run: (RUN_KINDS.index(run.kind), names.index(run.part)))
    return (*seams, *(((run.kind, run.work), run_job(build, run)) for run in runs))


def number_seams(jobs: Iterable[SewingJob]) -> dict[str, int]:
    """Numbers for the seams of a step that sews several, by name, as they are sewn; none for a single one."""
    seams = [job.seam.name for job in jobs if job.seam is not None]
    return {name: number for number, name in enumerate(seams, start=1)} if len(seams) > 1 else {}


def seam_job(build: Assembled, seam: Seam) -> SewingJob:
    """The stitching of one seam, as often as it is sewn."""
    stitch = find_stitch(build, seam.stitch)
    job = SewingJob(
        title=seam.title,
        stitch=stitch,
        parts=tuple(side.part for side in seam.sides),
        length_mm=seam.length_mm,
        runs=build.assembly.times(seam.name),
        stitches=seam.stitches,
        pitch_mm=seam.pitch_mm,
        stack_mm=seam.stack_mm,
        stack_range_mm=(seam.thinnest_mm or seam.stack_mm, seam.thickest_mm or seam.stack_mm),
        rows=stitch.rows,
        row_gap_mm=stitch.row_gap_mm,
        inset_mm=stitch.inset_mm,
        seam=seam,
        spans_mm=seam.spans_mm,
    )
    return _add_handwork(job, build, {seam.name})


def run_job(build: Assembled, run: Run) -> SewingJob:
    """The joints of a join, right across its width; the edges of a strap, in one run where it goes round a shaped end;
    dividing lines of a piece."""
    stitch = find_stitch(build, run.stitch)
    join = next((join for join in build.joins if run.kind == "joins" and join.name == run.part), None)
    layers = tuple(dict.fromkeys(layer.part for layer in run.stack.layers))
    job = SewingJob(
        title=_run_title(build, run),
        stitch=stitch,
        parts=tuple(dict.fromkeys(join.pieces)) if join else layers,
        length_mm=run.length_mm,
        runs=run.runs,
        stitches=run.stitches,
        pitch_mm=run.length_mm / run.stitches,
        stack_mm=run.stack.usual_mm,
        stack_range_mm=(run.stack.thinnest_mm, run.stack.thickest_mm),
        rows=join.rows if join else 1 if run.kind == "dividers" else stitch.rows,
        row_gap_mm=joint_gap_mm(join) if join else stitch.row_gap_mm,
        inset_mm=joint_gap_mm(join) if join else stitch.inset_mm,
        is_across=run.kind == "dividers",
        line=run.line,
        layers=run.stack.layers,
        spans_mm=run.spans_mm,
    )
    # A seam may be called as a strip of a join.
    names = {run.line} if run.line else set[str]() if join else {run.part}
    return _add_handwork(job, build, {divider_name(run.part)} if run.kind == "dividers" else names)


def _run_title(build: Build, run: Run) -> str:
    """What is sewn, and where on it: `Gusset, joint`; goods by length that are sewn there by their name."""
    goods = {item.what for item in build.trimmings}
    where = run.where or RUN_WORDS.get(run.kind, "")
    return ", ".join(filter(None, (spoken(build.part_titles[run.part]), spoken(where) if where in goods else where)))


def _add_handwork(job: SewingJob, build: Build, lines: Set[str]) -> SewingJob:
    """The job with what is pricked and cut for it by hand, along stitch lines of these names; as it is at a machine."""
    if job.stitch.by != "hand":
        return job
    count, length_mm = cut_hand_threads(job, build.limits)
    rows = _rows_of(job, build, lines)
    is_closed = job.seam is not None and is_round(build, job.seam)
    holes = job.stitches if is_closed else _count_holes(job, rows)
    return replace(
        job,
        holes=holes,
        are_corners=any(len(corner_distances(row.path)) - row.path.closed >= len(job.spans_mm) - 1 for row in rows),
        over_edges=0 if is_closed or any(row.path.closed for row in rows) else max(job.stitches + 1 - holes, 0),
        hand_threads=count * job.rows * job.runs,
        hand_thread_mm=length_mm,
    )


def cut_hand_threads(job: SewingJob, limits: Limits) -> tuple[int, float]:
    """Threads for one row sewn by hand with a needle at each end: how many, and the length of each in mm.

    A thread takes 2 (1 + T/p) of what it sews, back-tacks at both its ends included, and a tail at each needle
    (docgen.tables.thread). One that would be longer than is handy is shared out evenly among more.
    """
    ratio = saddle_stitch_ratio(job.stack_mm, job.pitch_mm)
    back_tacks_mm = 2 * job.stitch.back_tack_mm
    room_mm = max(limits.hand_thread_mm - limits.hand_tails_mm - back_tacks_mm * ratio, limits.hand_thread_mm / 4)
    count = max(1, math.ceil(job.length_mm * ratio / room_mm - 1e-9))
    return count, (job.length_mm / count + back_tacks_mm) * ratio + limits.hand_tails_mm


def _rows_of(job: SewingJob, build: Build, names: Set[str]) -> list[StitchLine]:
    """The first row of what is sewn on each of its parts; strips joined end to end have a part of the row."""
    whole = [piece for piece in build.cut if piece.name in job.parts]
    return [line for piece in whole for line in piece.marks.stitch_lines if line.seam in names and line.row == 0]


def _count_holes(job: SewingJob, lines: Sequence[StitchLine]) -> int:
    """Holes to prick: one fewer than stitches where the thread goes over both edges, one more where it goes over none,
    as many where the seam closes on itself."""
    over_edges = job.stitches - 1 if job.seam is not None else job.stitches + 1
    return min((len(line.holes_mm) - line.path.closed for line in lines), default=over_edges)


def find_stitch(build: Build, name: str) -> Stitch:
    """The stitch of that name."""
    return next(stitch for stitch in build.stitches if stitch.name == name)
