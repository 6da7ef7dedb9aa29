"""Thread: needle and bobbin apart, threads to cut by hand, bobbins to fill and spools to buy."""

from collections.abc import Iterable, Sequence

from docgen.plan.plan import HandThread, SewingJob, ThreadNeed
from docgen.resolve import Build
from docgen.tables.limits import Limits
from docgen.tables.thread import machine_thread_mm
from docgen.tables.winding import count_full, find_bobbin_mm, find_spool_mm


def plan_threads(jobs: Sequence[SewingJob], build: Build) -> tuple[ThreadNeed, ...]:
    """Thread by kind for the whole batch: an estimate from seam geometry, tails, back-tacks and waste."""
    kinds = dict.fromkeys((job.stitch.thread_words, job.stitch.by) for job in jobs)
    return tuple(
        _need(
            by,
            [job for job in jobs if (job.stitch.thread_words, job.stitch.by) == (words, by)],
            build.makes,
            build.limits,
        )
        for words, by in kinds
    )


def _need(by: str, jobs: list[SewingJob], makes: int, limits: Limits) -> ThreadNeed:
    """The need of jobs that are sewn with one thread, all by hand or all by machine."""
    stitch = jobs[0].stitch
    lockstitch_mm = sum(
        job_thread_mm(job, limits) for job in jobs if job.stitch.by == "machine" and job.stitch.type == "301"
    )
    bobbin_thread_mm = makes * lockstitch_mm / 2
    total_mm = makes * sum(job_thread_mm(job, limits) for job in jobs)
    bobbin_mm = _given((job.stitch.bobbin_mm for job in jobs), find_bobbin_mm(stitch.thread_tex))
    spool_mm = _given((job.stitch.spool_mm for job in jobs), find_spool_mm(stitch.thread_tex, by))
    return ThreadNeed(
        thread_words=stitch.thread_words,
        tex=stitch.thread_tex,
        by=by,
        needles=tuple(sorted({job.stitch.needle_nm for job in jobs})),
        sewn_mm=makes * sum(job.length_mm * job.rows * job.runs for job in jobs),
        needle_thread_mm=total_mm - bobbin_thread_mm,
        bobbin_thread_mm=bobbin_thread_mm,
        bobbin_mm=bobbin_mm,
        bobbins=count_full(bobbin_thread_mm, bobbin_mm),
        spool_mm=spool_mm,
        spools=count_full(total_mm, spool_mm),
        hand=tuple(_hand_thread(job, makes) for job in jobs) if by == "hand" else (),
    )


def _given(lengths_mm: Iterable[float], usual_mm: float) -> float:
    """The smallest length that a spec gives for this thread, else the usual one."""
    return min((length_mm for length_mm in lengths_mm if length_mm), default=usual_mm)


def _hand_thread(job: SewingJob, makes: int) -> HandThread:
    return HandThread(title=job.title, count=job.hand_threads * makes, length_mm=job.hand_thread_mm)


def job_thread_mm(job: SewingJob, limits: Limits) -> float:
    """All thread of one job in mm, tails, back-tacks and waste included, for every row and run."""
    if job.stitch.by == "hand":
        return job.hand_threads * job.hand_thread_mm
    sewn_mm = job.length_mm + 2 * job.stitch.back_tack_mm
    row_mm = machine_thread_mm(
        sewn_mm, job.stack_mm, job.pitch_mm, waste=limits.machine_waste, tails_mm=limits.machine_tails_mm
    )
    return row_mm * job.rows * job.runs
