"""The work in order: settings, drawings, tools, waits and cautions for each step."""

from collections.abc import Iterator, Sequence

from docgen.assemble import Assembled
from docgen.plan.acts import Work, good_acts, list_work_of, step_acts, step_tools, take_acts, turned_by, untold_waits
from docgen.plan.plan import DrawnPiece, PlanStep, SewingJob
from docgen.plan.sewing import Job
from docgen.plan.step_words import said_in
from docgen.problems import Problem
from docgen.resolve import Build, Step, by_name, divider_name, end_name, find_punching, side_pieces
from docgen.tables.cautions import HAZARDS, find_hazards, find_said_hazards


def plan_steps(build: Assembled, jobs: Sequence[Job]) -> tuple[PlanStep, ...]:
    """The spec's steps, or those that the assembly proposes."""
    steps = build.steps or build.assembly.steps
    work = list_work_of(build, steps, jobs, find_punching(build, steps))
    return tuple(_plan_step(work, at) for at in range(len(steps)))


def _plan_step(work: Work, at: int) -> PlanStep:
    build, steps, punched = work.build, work.steps, work.punched
    step = steps[at]
    # What the step sews, in the order in which it is written.
    done = [(event.kind, event.name) for event in build.assembly.events if event.step == at]
    jobs = tuple(job for _, event in work.events(at) for job in work.jobs_of(event))
    acts = step_acts(work, at)
    tools = step_tools(work, at, acts)
    untold = {row.seam.name for row in work.hem_rows}
    divided = [name for kind, name in done if kind == "dividers"]
    landed = {name for kind, name in done if kind == "landings"}
    holed = {name for name, place in punched.items() if place == at}
    holed |= {name for name in step.straps if not any(name in one.straps for one in steps[:at])}  # made, the first time
    return PlanStep(
        number=at + 1,
        group=step.group,
        do=step.do,
        jobs=jobs,
        takes=take_acts(work, at),
        acts=acts,
        good=good_acts(work, at),
        drawn=_drawn(work, at, untold, divided, landed, _sewn_elsewhere(work, at), holed),
        tools=tools,
        hazards=_hazards(build, step, tools, jobs),
        note=step.note,
        waits=_together(untold_waits(step, acts)),
        minutes=step.minutes,
        cautions=_cautions(build, step),
        picture=step.picture,
    )


def _drawn(
    work: Work, at: int, untold: set[str], divided: list[str], landed: set[str], elsewhere: set[str], punched: set[str]
) -> tuple[DrawnPiece, ...]:
    """Pieces to show: what is skived, then the partners of each seam and join, then pieces named, then straps; where
    only hardware is named, what it is set in. Nothing says where the rows of `untold` seams lie."""
    build, step = work.build, work.steps[at]
    wanted: dict[str, set[str]] = {name: set() for name in step.skives}
    joins = by_name(build.joins)
    for seam in build.seams:
        if seam.name in step.seams and seam.name not in untold:
            for name in (name for side in seam.sides for name in side_pieces(build, side)):
                wanted.setdefault(name, set()).add(seam.name)
    for name in step.joins:
        for strip in joins[name].pieces:
            wanted.setdefault(strip, set()).add(name)
    rings = {
        strap.name for strap in build.straps if strap.keeper_for
    } - punched  # made up before, it is not flat any more
    for name in [*step.pieces, *(one for one in step.straps if one not in rings)]:
        wanted.setdefault(name, set()).update(_strap_lines(build, name) - elsewhere if name in step.straps else set())
    for name in divided:
        wanted.setdefault(name, set()).add(divider_name(name))
    for piece in build.cut if landed else ():
        if lines := landed & {line.seam for line in piece.marks.stitch_lines}:
            wanted.setdefault(piece.name, set()).update(lines)
    slid = [strap for strap in build.straps if strap.name in step.straps and work.slides_on(at, strap.name)]
    for keeper in slid:
        wanted.setdefault(keeper.keeper_for, set())
    for name in () if wanted else _hosts(build, step):
        wanted.setdefault(name, set())
    flat = {*punched, *step.skives}  # while it is worked on
    turned = {end for end in turned_by(work, at) if end[0] not in flat}
    return tuple(
        DrawnPiece(
            name=name,
            seams=tuple(sorted(seams)),
            is_skived=name in step.skives,
            is_punched=name in punched,
            set=step.hardware,
            laid=tuple(_laid_before(work, name, at)),
            turned=tuple(which for which in (0, 1) if (name, which) in turned),
            slid=tuple(keeper.name for keeper in slid if keeper.keeper_for == name),
        )
        for name, seams in wanted.items()
    )


def _laid_before(work: Work, name: str, at: int) -> Iterator[str]:
    """The landings on a piece, on the side that shows, where a step before this one (from 0) has laid something."""
    piece, assembly = work.pieces.get(name), work.build.assembly
    if piece is None:
        return
    landed = [(one.key, one.piece) for one in piece.marks.landings if not one.is_inside]
    landed += [(one.key, one.strap) for one in piece.strap_landings]
    for key, part in landed:
        event = assembly.laid_at(name, part)
        if event < len(assembly.events) and assembly.events[event].step < at:
            yield key


def _sewn_elsewhere(work: Work, at: int) -> set[str]:
    """The rows along straps, and those that close their ends, that other steps sew."""
    indices = {index for index, _ in work.events(at)}
    runs = (run for run in work.build.assembly.runs if run.kind == "straps" and run.event not in indices)
    return {run.line or run.part for run in runs}


def _strap_lines(build: Build, name: str) -> set[str]:
    """The stitching of a strap: its own, and what closes its ends."""
    ends = next(strap.ends for strap in build.straps if strap.name == name)
    return {name, *(end_name(name, which) for which, end in enumerate(ends) if end.sewn)}


def _hosts(build: Build, step: Step) -> list[str]:
    """Pieces with holes for the step's hardware, and straps that turn round it."""
    pieces = [
        piece.name
        for piece in build.cut
        if any(hole.takes in step.hardware for hole in piece.marks.holes if hole.takes)
    ]
    straps = [
        strap.name for strap in build.straps if any(not set(end.rings).isdisjoint(step.hardware) for end in strap.ends)
    ]
    return [*pieces, *straps]


def _hazards(build: Build, step: Step, tools: Sequence[str], jobs: tuple[SewingJob, ...]) -> tuple[str, ...]:
    """Ids of the cautions that belong to the step, from what is done, what is set, and the tools named; in the order of
    the table."""
    found: set[str] = set()
    found |= {"blade"} if step.skives else set()
    found |= {"needle" if job.stitch.by == "machine" else "awl" for job in jobs}
    hardware = [item for item in build.hardware if item.name in step.hardware]
    finishes = (item.finish for item in hardware)
    for words in (*tools, *finishes):
        found |= set(find_hazards(words))
    for words in said_in(step):
        found |= set(find_said_hazards(words))
    is_hot = any(tool.lower() == "iron" for tool in tools) and not any(job.stitch.by == "hand" for job in jobs)
    found |= {"heat"} if is_hot else set()  # else it marks stitches
    return tuple(hazard for hazard in HAZARDS if hazard in found)


def _together(waits: Sequence[tuple[str, str]]) -> tuple[tuple[str, str], ...]:
    """Those that wait alike in one line."""
    tools: dict[str, list[str]] = {}
    for tool, wait in waits:
        tools.setdefault(wait, []).append(tool)
    return tuple((", ".join(names), wait) for wait, names in tools.items())


def _cautions(build: Build, step: Step) -> tuple[Problem, ...]:
    """What checking found about this step, by its place in the spec."""
    return tuple(item for item in build.cautions if item.place.line and item.place == step.place)
