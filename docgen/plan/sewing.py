"""Runs of stitching: from seams, joins and straps."""

from __future__ import annotations

from collections.abc import Iterator

from docgen.geometry import corner_distances, path_length, space_stitches, stitch_count
from docgen.plan.plan import SewingJob
from docgen.resolve import Build, Join, Seam, Stitch, Strap


def seam_job(build: Build, seam: Seam) -> SewingJob:
    """The stitching of one seam."""
    stitch = find_stitch(build, seam.stitch)
    return SewingJob(
        title=seam.title,
        stitch=stitch,
        parts=tuple(side.part for side in seam.sides),
        length_mm=seam.length_mm,
        runs=1,
        stitches=seam.stitches,
        pitch_mm=seam.pitch_mm,
        stack_mm=seam.stack_mm,
        rows=stitch.rows,
        seam=seam,
    )


def join_job(build: Build, join: Join) -> SewingJob:
    """The joints of one join of strips, right across its width."""
    stitch = find_stitch(build, join.stitch)
    length_mm = max(join.width_mm - 2 * stitch.inset_mm, stitch.pitch_mm)
    stitches = stitch_count(length_mm, stitch.pitch_mm)
    return SewingJob(
        title=join.title,
        stitch=stitch,
        parts=tuple(dict.fromkeys(join.pieces)),
        length_mm=length_mm,
        runs=len(join.pieces) - 1,
        stitches=stitches,
        pitch_mm=length_mm / stitches,
        stack_mm=join.stack_mm,
        rows=join.rows,
    )


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
    return SewingJob(
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


def find_stitch(build: Build, name: str) -> Stitch:
    """The stitch of that name."""
    return next(stitch for stitch in build.stitches if stitch.name == name)


def all_jobs(build: Build) -> Iterator[SewingJob]:
    """Every run of stitching of one make."""
    yield from (seam_job(build, seam) for seam in build.seams)
    yield from (join_job(build, join) for join in build.joins)
    yield from (job for strap in build.straps if (job := strap_job(build, strap)) is not None)
