"""Runs of stitching: from seams, joins and straps."""

import math
from collections.abc import Iterator, Mapping
from dataclasses import replace
from types import MappingProxyType

from docgen.assemble import Assembly
from docgen.geometry.path import path_length
from docgen.geometry.spacing import corner_distances, space_stitches, stitch_count
from docgen.plan.plan import SewingJob
from docgen.resolve import Build, Join, Seam, Stitch, Strap
from docgen.tables.limits import Limits
from docgen.tables.thread import saddle_stitch_ratio

ONCE: Mapping[str, int] = MappingProxyType({})


def seam_job(build: Build, seam: Seam, times: int = 1) -> SewingJob:
    """The stitching of one seam, which is sewn so many times for one make."""
    stitch = find_stitch(build, seam.stitch)
    job = SewingJob(
        title=seam.title,
        stitch=stitch,
        parts=tuple(side.part for side in seam.sides),
        length_mm=seam.length_mm,
        runs=times,
        stitches=seam.stitches,
        pitch_mm=seam.pitch_mm,
        stack_mm=seam.stack_mm,
        rows=stitch.rows,
        seam=seam,
    )
    return _add_handwork(job, build)


def join_job(build: Build, join: Join) -> SewingJob:
    """The joints of one join of strips, right across its width."""
    stitch = find_stitch(build, join.stitch)
    length_mm = max(join.width_mm - 2 * stitch.inset_mm, stitch.pitch_mm)
    stitches = stitch_count(length_mm, stitch.pitch_mm)
    job = SewingJob(
        title=join.title,
        stitch=stitch,
        parts=tuple(dict.fromkeys(join.pieces)),
        length_mm=length_mm,
        runs=join.joints,
        stitches=stitches,
        pitch_mm=length_mm / stitches,
        stack_mm=join.stack_mm,
        rows=join.rows,
    )
    return _add_handwork(job, build)


def strap_job(build: Build, strap: Strap) -> SewingJob | None:
    """The stitching along both edges of a strap, in one run where it goes round a shaped end; None when it is not
    stitched."""
    if not strap.stitch or not strap.piece.marks.stitch_lines:
        return None
    stitch = find_stitch(build, strap.stitch)
    path = strap.piece.marks.stitch_lines[0].path
    length_mm = path_length(path)
    stitches = len(space_stitches(length_mm, corner_distances(path), stitch.pitch_mm)) - 1
    runs = strap.cut * sum(line.row == 0 for line in strap.piece.marks.stitch_lines)
    job = SewingJob(
        title=strap.title,
        stitch=stitch,
        parts=(strap.name,),
        length_mm=length_mm,
        runs=runs,
        stitches=stitches,
        pitch_mm=length_mm / stitches,
        stack_mm=strap.thickness_mm,
        rows=stitch.rows,
    )
    return _add_handwork(job, build)


def _add_handwork(job: SewingJob, build: Build) -> SewingJob:
    """The job with what is pricked and cut for it by hand; as it is at a machine."""
    if job.stitch.by != "hand":
        return job
    count, length_mm = cut_hand_threads(job, build.limits)
    return replace(
        job, holes=_count_holes(job, build), hand_threads=count * job.rows * job.runs, hand_thread_mm=length_mm
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


def _count_holes(job: SewingJob, build: Build) -> int:
    """Holes to prick: one fewer than stitches where the thread goes over both edges, one more where it goes over none,
    as many where the seam closes on itself."""
    whole = [piece for piece in build.cut if piece.name in job.parts]  # strips joined end to end have a part of the row
    named = {job.seam.name} if job.seam is not None else set(job.parts)
    lines = [line for piece in whole for line in piece.marks.stitch_lines if line.seam in named and line.row == 0]
    over_edges = job.stitches - 1 if job.seam is not None else job.stitches + 1
    return min((len(line.holes_mm) - line.path.closed for line in lines), default=over_edges)


def divider_jobs(build: Build, assembly: Assembly) -> dict[str, list[SewingJob]]:
    """The dividing lines of pieces, by piece."""
    titles = {piece.name: piece.title for piece in build.pieces}
    jobs: dict[str, list[SewingJob]] = {}
    for run in assembly.runs:
        if run.kind == "dividers":
            stitch = find_stitch(build, run.stitch)
            job = SewingJob(
                title=titles[run.part],
                stitch=stitch,
                parts=tuple(dict.fromkeys(layer.part for layer in run.stack.layers)),
                length_mm=run.length_mm,
                runs=run.runs,
                stitches=run.stitches,
                pitch_mm=run.length_mm / run.stitches,
                stack_mm=run.stack.usual_mm,
                rows=1,
                is_across=True,
            )
            jobs.setdefault(run.part, []).append(_add_handwork(job, build))
    return jobs


def find_stitch(build: Build, name: str) -> Stitch:
    """The stitch of that name."""
    return next(stitch for stitch in build.stitches if stitch.name == name)


def all_jobs(build: Build, times: Mapping[str, int] = ONCE) -> Iterator[SewingJob]:
    """Every run of stitching of one make; `times` is how often each seam is sewn, once where it is not named."""
    yield from (seam_job(build, seam, times.get(seam.name, 1)) for seam in build.seams)
    yield from (join_job(build, join) for join in build.joins)
    yield from (job for strap in build.straps if (job := strap_job(build, strap)) is not None)
