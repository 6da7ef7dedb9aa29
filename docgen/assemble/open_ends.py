"""Turned ends of straps that no hardware closes: what is done when they are turned."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from docgen.assemble.assembly import Event
from docgen.assemble.order import Done
from docgen.resolve import Step, Strap, StrapEnd, speaks_of_folding


def turning_event(
    events: Sequence[Event], steps: Sequence[Step], doing: Mapping[Done, int], strap: Strap, end: StrapEnd
) -> int:
    """The event (from 0) that turns an end: the first of its strap in a step that has what lies in the fold; else, of those
    in which that has come, the first whose step speaks of folding, or that sews the strap; else the first; not after its
    edges are sewn where they are through what lies back. The number of events where none does."""
    own = [at for at, event in enumerate(events) if (event.kind, event.name) == ("straps", strap.name)]
    in_step = {at: steps[events[at].step] for at in own if events[at].step < len(steps)}
    rings = {*end.rings}
    come = next((at for at, step in enumerate(steps) if not rings.isdisjoint(step.hardware)), 0)
    later = [at for at in in_step if events[at].step >= come] or own
    wanted = (
        [at for at, step in in_step.items() if not rings.isdisjoint(step.hardware)],
        [at for at in later if at in in_step and speaks_of_folding(in_step[at])],
        [at for at in later if doing.get(("straps", strap.name)) == at and (strap.stitch or end.sewn)],
        later,
    )
    turned = next((found[0] for found in wanted if found), len(events))
    is_sewn_through = bool(strap.stitch) and not (end.sewn or end.loop_mm)
    return min(turned, doing.get(("straps", strap.name), turned)) if is_sewn_through else turned
