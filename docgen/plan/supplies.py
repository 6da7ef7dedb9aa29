"""What the batch takes besides what is cut and sewn: hardware, needles, and goods that are used up."""

from collections.abc import Iterable, Sequence

from docgen.assemble import Assembled
from docgen.plan.plan import HardwareItem, Needles, PlanStep, Supply, ThreadNeed
from docgen.resolve import Hardware
from docgen.tables.consumables import is_consumable
from docgen.tables.hardware import count_wanted


def plan_hardware(build: Assembled) -> tuple[HardwareItem, ...]:
    """Hardware for the whole batch, with the posts chosen for it."""
    return tuple(
        HardwareItem(
            hardware=item,
            count=item.count * build.makes,
            posts=_count_posts(build, item),
            tried=_count_tried(build, item),
            wanted=_count_wanted(build, item),
            studs=_count_studs(build, item),
        )
        for item in build.hardware
    )


def _count_tried(build: Assembled, item: Hardware) -> tuple[tuple[float, int], ...]:
    """Shorter posts to try in place of those chosen, as many as may be taken of each."""
    counts: dict[float, int] = {}
    for fitting in build.assembly.fastened:
        for post_mm in fitting.shorter_mm if fitting.hardware == item.name and fitting.items else ():
            counts[post_mm] = counts.get(post_mm, 0) + fitting.items * build.makes
    return tuple(sorted(counts.items()))


def _count_wanted(build: Assembled, item: Hardware) -> int:
    """Spares to have, where places take all that are counted."""
    places = sum(fitting.items for fitting in build.assembly.fastened if fitting.hardware == item.name)
    return count_wanted(item.kind, places * build.makes) if 0 < item.count <= places else 0


def _count_posts(build: Assembled, item: Hardware) -> tuple[tuple[float, int], ...]:
    """How many of each post length, shortest first; those whose place in the build is not known stand last, as 0."""
    if not item.posts_mm:
        return ()
    counts: dict[float, int] = {}
    for fitting in build.assembly.fastened:
        if fitting.hardware == item.name and fitting.post_mm and fitting.items:
            counts[fitting.post_mm] = counts.get(fitting.post_mm, 0) + fitting.items * build.makes
    left = item.count * build.makes - sum(counts.values())
    return (*sorted(counts.items()), *([(0.0, left)] if left > 0 and counts else []))


def _count_studs(build: Assembled, item: Hardware) -> tuple[tuple[float, int], ...]:
    """How many of each post length the studs of snaps take."""
    counts: dict[float, int] = {}
    for fitting in build.assembly.fastened:
        if fitting.hardware == item.name and fitting.post_mm and fitting.half == "stud":
            counts[fitting.post_mm] = counts.get(fitting.post_mm, 0) + fitting.count * build.makes
    return tuple(sorted(counts.items()))


def plan_supplies(steps: Iterable[PlanStep]) -> tuple[Supply, ...]:
    """What the steps' tools name that is used up, each once, with the steps that take it."""
    steps_of: dict[str, list[int]] = {}
    for step in steps:
        for tool in step.tools:
            if is_consumable(tool):
                steps_of.setdefault(tool, []).append(step.number)
    return tuple(Supply(what=what, steps=tuple(dict.fromkeys(numbers))) for what, numbers in steps_of.items())


def plan_needles(threads: Iterable[ThreadNeed], steps: Sequence[PlanStep]) -> tuple[Needles, ...]:
    """Needles for the machine, then for the hand, where something is sewn so."""
    threads = tuple(threads)
    stitches = {job.stitch for step in steps for job in step.jobs}
    ways = [by for by in ("machine", "hand") if any(need.by == by for need in threads)]
    return tuple(
        Needles(
            by=by,
            sizes=tuple(sorted({size for need in threads if need.by == by == "machine" for size in need.needles})),
            points=tuple(sorted({(one.needle_nm, one.point) for one in stitches if one.by == by == "machine"})),
            steps=tuple(step.number for step in steps if any(job.stitch.by == by for job in step.jobs)),
        )
        for by in ways
    )
