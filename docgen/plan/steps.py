"""The work in order: settings, drawings, tools and cautions for each step."""

from __future__ import annotations

from docgen.plan.cutting import hole_words
from docgen.plan.plan import DrawnPiece, PlanStep, SewingJob
from docgen.plan.sewing import join_job, seam_job, strap_job
from docgen.resolve import Build, Piece, Step, Strap
from docgen.tables.cautions import find_hazards
from docgen.units import Show, format_length


def plan_steps(build: Build) -> tuple[tuple[PlanStep, ...], bool]:
    """The spec's steps, or an order proposed from its seams, joins and hardware (then the second value is
    True)."""
    steps = build.steps or propose_steps(build)
    return tuple(
        _plan_step(build, step, number) for number, step in enumerate(steps, start=1)
    ), not build.steps


def propose_steps(build: Build) -> tuple[Step, ...]:
    """A sensible order: skive, punch, join strips, sew in the order of the spec, make straps, set
    hardware."""
    skived = tuple(piece.name for piece in build.pieces if piece.skives)
    punched = tuple(piece.name for piece in build.pieces if piece.holes)
    prepare = [
        Step(do="Skive the edges marked on the pattern.", skives=skived, tools=("skiving knife",)),
        Step(do="Punch the holes marked on the pattern.", pieces=punched, tools=("hole punch",)),
    ]
    joins = [
        Step(do=f"Sew the strips of {join.title} end to end.", joins=(join.name,)) for join in build.joins
    ]
    seams = [Step(do=f"Sew: {seam.title}.", seams=(seam.name,)) for seam in build.seams]
    straps = [
        Step(
            do=f"Make the strap: {strap.title}.",
            straps=(strap.name,),
            tools=("hole punch",) if strap.hole_tips_mm else (),
        )
        for strap in build.straps
    ]
    hardware = [Step(do=f"Set: {item.what}.", hardware=(item.name,)) for item in build.hardware]
    prepare = [step for step in prepare if step.skives or step.pieces]
    return (*prepare, *joins, *seams, *straps, *hardware)


def _plan_step(build: Build, step: Step, number: int) -> PlanStep:
    jobs = _jobs(build, step)
    return PlanStep(
        number=number, group=step.group, do=step.do, jobs=jobs, lines=tuple(_lines(build, step)),
        drawn=_drawn(build, step), tools=step.tools, hazards=_hazards(step, jobs), note=step.note,
    )  # fmt: skip


def _jobs(build: Build, step: Step) -> tuple[SewingJob, ...]:
    seams = [seam_job(build, seam) for seam in build.seams if seam.name in step.seams]
    joins = [join_job(build, join) for join in build.joins if join.name in step.joins]
    straps = [job for strap in build.straps if strap.name in step.straps and (job := strap_job(build, strap))]
    return (*joins, *seams, *straps)


def _lines(build: Build, step: Step) -> list[tuple[str, str]]:
    """What the step handles, as label and words."""
    pieces = {piece.name: piece for piece in build.pieces}
    lines: list[tuple[str, str]] = []
    for name in step.skives:
        lines += [(pieces[name].title, words) for words in skive_words(pieces[name], build.show)]
    for name in step.pieces:
        lines += [(pieces[name].title, words) for words in hole_words(pieces[name].holes, build.show)]
    for strap in build.straps:
        if strap.name in step.straps:
            lines += [(strap.title, words) for words in strap_words(build, strap.name)]
    lines += [(item.what, f"{item.count} per make") for item in build.hardware if item.name in step.hardware]
    return lines


def skive_words(piece: Piece, show: Show) -> list[str]:
    """Each skived band in words."""
    return [
        f"skive {skive.edges} to {skive.to_words} over {format_length(skive.width_mm, show)}"
        for skive in piece.skives
    ]


def strap_words(build: Build, name: str) -> list[str]:
    """Cut length, ends, holes and range of a strap in words."""
    strap = next(strap for strap in build.straps if strap.name == name)
    show = build.show
    hardware = {item.name: item.what for item in build.hardware}
    lines = [
        f"cut {format_length(strap.width_mm, show)} wide, {format_length(strap.cut_length_mm, show)} long"
    ]
    for which, end in zip(("first", "second"), strap.ends, strict=True):
        if end.shape == "turned":
            around = f" round the {hardware[end.around]}" if end.around else ""
            lines.append(
                f"{which} end: turn back {format_length(end.back_mm, show)}{around}; fold "
                f"{format_length(end.fold_mm, show)} from the cut end"
            )
        else:
            lines.append(f"{which} end: {end.shape}")
    if strap.hole_tips_mm:
        lines.append(_hole_row_words(strap, show))
    if strap.worn_mm:
        shortest, middle, longest = (format_length(length, show) for length in strap.worn_mm)
        lines.append(f"worn at the middle hole {middle}; from {shortest} to {longest}")
    return lines


def _hole_row_words(strap: Strap, show: Show) -> str:
    punch, first, last = (
        format_length(length, show)
        for length in (strap.punch_mm, strap.hole_tips_mm[0], strap.hole_tips_mm[-1])
    )
    count = len(strap.hole_tips_mm)
    if count == 1:
        return f"1 hole of {punch}, {first} from the tip"
    return f"{count} holes of {punch}, the first {first} from the tip, the last {last}"


def _drawn(build: Build, step: Step) -> tuple[DrawnPiece, ...]:
    """Pieces to show: what is skived, then the partners of each seam and join, then pieces named."""
    wanted: dict[str, set[str]] = {name: set() for name in [*step.skives]}
    joins = {join.name: join for join in build.joins}
    for seam in build.seams:
        if seam.name in step.seams:
            for side in seam.sides:
                for name in joins[side.part].pieces if side.part in joins else (side.part,):
                    wanted.setdefault(name, set()).add(seam.name)
    for name in step.joins:
        for strip in joins[name].pieces:
            wanted.setdefault(strip, set()).add(name)
    for name in [*step.pieces, *step.straps]:
        wanted.setdefault(name, set()).update({name} if name in step.straps else set())
    return tuple(
        DrawnPiece(name=name, seams=tuple(sorted(seams)), is_skived=name in step.skives)
        for name, seams in wanted.items()
    )


def _hazards(step: Step, jobs: tuple[SewingJob, ...]) -> tuple[str, ...]:
    """Ids of the cautions that belong to the step, from what is done and from the tools named."""
    found: list[str] = []
    found += ["blade"] if step.skives else []
    found += ["needle"] if any(job.stitch.by == "machine" for job in jobs) else []
    found += ["awl"] if any(job.stitch.by == "hand" for job in jobs) else []
    found += ["hammer"] if step.hardware and not step.tools else []
    for words in (*step.tools, step.do, step.note):
        found += find_hazards(words)
    return tuple(dict.fromkeys(found))
