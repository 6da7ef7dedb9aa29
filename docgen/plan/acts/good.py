"""What can be measured or seen once a step is done well."""

from __future__ import annotations

from collections.abc import Iterator

from docgen.plan.act import Act, act
from docgen.plan.acts.work import Work
from docgen.plan.cutting import join_words, thin_words


def good_acts(work: Work, at: int) -> tuple[Act, ...]:
    """One or two things to look for; nothing where the step does nothing that the spec tells."""
    return tuple(dict.fromkeys((*_shaped(work, at), *_sewn(work, at), *_made(work, at))))[:3]


def _shaped(work: Work, at: int) -> Iterator[Act]:
    step = work.steps[at]
    skived = [work.pieces[name] for name in step.skives]
    thin = dict.fromkeys(thin_words(skive, work.build.show) for piece in skived for skive in piece.marks.skives)
    if thin:
        yield act("good_skive", thin=join_words([*thin]))
    punched = [work.pieces[name] for name in step.pieces if work.punched.get(name) == at]
    if holes := sum(len(piece.marks.holes) * work.counts.get(piece.name, 1) for piece in punched):
        yield act("good_punch", count=str(holes))


def _sewn(work: Work, at: int) -> Iterator[Act]:
    jobs = [job for _, event in work.events(at) for job in work.jobs_of(event)]
    for name in work.steps[at].joins:
        join = work.joins[name]
        yield act("good_join", part=join.title, length=work.length(join.length_mm))
    if jobs:
        insets = dict.fromkeys(work.length(job.inset_mm) for job in jobs if job.inset_mm and not job.is_across)
        stitches = join_words([*dict.fromkeys(str(job.stitches) for job in jobs)])
        if insets:
            yield act("good_sew", stitches=stitches, inset=join_words([*insets]))
        else:
            yield act("good_across", stitches=stitches)


def _made(work: Work, at: int) -> Iterator[Act]:
    sets = any(event.kind == "hardware" for _, event in work.events(at))
    for name in () if sets else work.steps[at].straps:  # what is turned and riveted is not measured as cut any more
        strap = work.straps[name]
        yield act("good_strap", part=strap.title, length=work.length(strap.cut_length_mm))
    if sets:
        indices = [index for index, _ in work.events(at)]
        fits = [fit for fit in work.build.assembly.fastened if fit.event in indices]
        if any(fit.post_mm or fit.stack.thickest_mm for fit in fits):
            yield act("good_set", count=str(sum(fit.items or fit.count for fit in fits)))
