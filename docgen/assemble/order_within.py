"""Work in the wrong order within one step: a join or strap made, or a strip skived, once a seam has taken it."""

from __future__ import annotations

from collections.abc import Iterator

from docgen.assemble.assembly import EventKind
from docgen.assemble.work_order import Late, Work
from docgen.resolve import Seam, side_pieces

DOES: dict[EventKind, tuple[str, str]] = {
    "joins": ("makes the join", "make it"),
    "straps": ("makes the strap", "make it"),
    "skives": ("skives", "skive it"),
}


def late_within(work: Work, at: int) -> Iterator[Late]:
    """Nothing is made or skived after a seam of the same step has sewn it; once for what comes late."""
    sewn: list[Seam] = []
    seams = work.goods.seams
    for event in work.assembly.events if len({*_kinds(work, at)}) > 1 else ():
        if event.step != at:
            continue
        if event.kind == "seams" and event.name in seams:
            sewn.append(seams[event.name])
        taken = next((seam for seam in sewn if event.kind in DOES and _takes(work, seam, event.kind, event.name)), None)
        if taken is not None and work.step_of(event.kind, event.name) == at:
            does, mend = DOES[event.kind]
            what = f'step {at + 1} sews "{taken.name}" before it {does} "{event.name}", which that takes'
            keys = "order" if work.steps[at].order else f"order, or {event.kind} before seams"
            yield at, what, f'{mend} first: write "{event.name}" before "{taken.name}" in {keys}', event.name


def _kinds(work: Work, at: int) -> Iterator[str]:
    step = work.steps[at]
    yield from (key for key in ("skives", "joins", "seams", "straps") if getattr(step, key))


def _takes(work: Work, seam: Seam, kind: EventKind, name: str) -> bool:
    """Whether a seam sews a part, or one of the strips of a join; what is skived, along its edges."""
    if kind == "skives":
        return any(side.edges and name in side_pieces(work.goods.build, side) for side in seam.sides)
    parts = {name, *(strip.name for strip in work.goods.strips(name))} if kind == "joins" else {name}
    return not parts.isdisjoint(side.part for side in seam.sides)
