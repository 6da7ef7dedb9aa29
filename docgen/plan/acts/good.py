"""What can be measured or seen once a step is done well."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from docgen.geometry.spacing import stitch_count
from docgen.plan.act import Act, Told, act
from docgen.plan.acts.flaps import sides_over
from docgen.plan.acts.places import both_sides, edge_words
from docgen.plan.acts.work import Work
from docgen.plan.cutting import join_words, thin_words
from docgen.plan.plan import SewingJob
from docgen.plan.round_rows import is_round

MOST_TOLD = 4


def good_acts(work: Work, at: int) -> tuple[Act, ...]:
    """One or two things to look for; nothing where the step does nothing that the spec tells."""
    return tuple(dict.fromkeys((*_shaped(work, at), *_sewn(work, at), *_made(work, at))))[:MOST_TOLD]


def _shaped(work: Work, at: int) -> Iterator[Act]:
    step = work.steps[at]
    skived = [work.pieces[name] for name in step.skives]
    thin = dict.fromkeys(thin_words(skive, work.build.show) for piece in skived for skive in piece.marks.skives)
    if thin:
        yield act("good_skive", thin=join_words([*thin]))
    punched = [work.pieces[name] for name in work.punched_in(at)]
    made = [work.cut[name] for name in step.straps if not any(name in one.straps for one in work.steps[:at])]
    if punched and (holes := sum(len(one.marks.holes) * work.counts.get(one.name, 1) for one in (*punched, *made))):
        yield act("good_punch", count=str(holes))


def _sewn(work: Work, at: int) -> Iterator[Act]:
    jobs = [job for _, event in work.events(at) for job in work.jobs_of(event)]
    for name in work.steps[at].joins:
        join = work.joins[name]
        yield act(
            "good_ring" if join.is_ring else "good_join",
            part=work.titles[join.name],
            length=work.length(join.length_mm),
        )
    for told in (_level, _flat):
        yield from told(work, at, jobs)
    lines = [job for job in jobs if job.is_across or not job.inset_mm]
    if lines:
        yield act("good_across", stitches=join_words([*dict.fromkeys(str(job.stitches) for job in lines)]))


def _level(work: Work, at: int, jobs: Sequence[SewingJob]) -> Iterator[Act]:
    """Of seams whose partners have their edges on each other, and of straps: that the ends come out level."""
    rows = [job for job in jobs if job.seam is None and not job.is_across and job.inset_mm]
    if rows:
        case = "good_one_row" if all(job.rows * job.runs == 1 for job in rows) else "good_rows"
        counts = dict.fromkeys(tuple(stitch_count(mm, job.stitch.pitch_mm) for mm in job.spans_mm) for job in rows)
        stitches = join_words([*dict.fromkeys(str(job.stitches) for job in rows)])
        spans = next(iter(counts)) if len(counts) == 1 else ()
        if len(spans) > 1:
            yield act(f"{case}_spans", stitches=stitches, spans=join_words([*map(str, spans)]))
        else:
            yield act(case, stitches=stitches)
    level = [job for job in jobs if job.seam is not None and not _lies_flat(work, job) and job.inset_mm]
    closed = [job for job in level if job.seam is not None and is_round(work.build, job.seam)]
    for case, own in (("good_sew", [job for job in level if job not in closed]), ("good_round", closed)):
        if not own:
            continue
        insets = dict.fromkeys(work.length(job.inset_mm) for job in own)
        stitches = join_words([*dict.fromkeys(str(job.stitches) for job in own)])
        yield act(case, stitches=stitches, inset=join_words([*insets]))


def _flat(work: Work, at: int, jobs: Sequence[SewingJob]) -> Iterator[Act]:
    """Of what is sewn flat on a piece how far its row lies from its own edge, and how far it stands over the other's."""
    for job in jobs:
        if job.seam is None or not _lies_flat(work, job) or not job.inset_mm:
            continue
        side = work.sides(job.seam)[0]
        told: dict[str, Told] = {"edges": edge_words(work, side), "part": work.titles[side.part]}
        yield act("good_row", stitches=str(job.stitches), inset=work.length(job.inset_mm), **told)
        for lies in (one for index, _ in work.events(at) for one in work.lays_at(index) if one.copy.part == side.part):
            host = work.pieces.get(lies.host.part)
            if host is None:
                continue
            landing = next((one for one in host.marks.landings if one.piece == side.part), None)
            if over := sides_over(host, landing) if landing else {}:
                across = [act("side_over", side=edge, length=work.length(mm)) for edge, mm in over.items()]
                yield act(
                    "good_over", part=told["part"], across=tuple(both_sides(tuple(across))), host=work.titles[host.name]
                )


def _lies_flat(work: Work, job: SewingJob) -> bool:
    """Whether a seam sews the edges of one piece on to another that lies flat beneath."""
    seam = job.seam
    return seam is not None and any(not side.edges for side in seam.sides) and len(work.sides(seam)) == 1


def _made(work: Work, at: int) -> Iterator[Act]:
    sets = any(event.kind == "hardware" for _, event in work.events(at))
    before = {name for step in work.steps[:at] for name in step.straps}  # sewn, or turned, it is not measured as cut
    for name in () if sets else (one for one in work.steps[at].straps if one not in before):
        strap = work.straps[name]
        yield act("good_strap", part=work.titles[strap.name], length=work.length(strap.cut_length_mm))
    if sets:
        indices = [index for index, _ in work.events(at)]
        fits = [fit for fit in work.build.assembly.fastened if fit.event in indices]
        if any(fit.post_mm or fit.stack.thickest_mm for fit in fits):
            yield act("good_set", count=str(sum(fit.items or fit.count for fit in fits)))
