"""Straps that hang in the rings of other parts: in which rings, told in the step that hangs them there."""

from __future__ import annotations

from collections.abc import Collection, Iterator

from docgen.assemble import Copy
from docgen.plan.act import Act, act
from docgen.plan.acts.work import Work
from docgen.plan.cutting import join_words
from docgen.resolve import Strap

BOTH = 2


def hung_acts(work: Work, at: int, strap: Strap) -> Iterator[Act]:
    """On which parts the rings are that the ends of a strap go round, in the step that hangs it there; nothing where all
    such rings are on one."""
    hung = [(copy, tab) for copy, tab in work.build.space.hung if copy.part == strap.name]
    held = {tab.part for _, tab in hung}
    hosts = {holder_of(work, one.copy).part for one in work.build.space.parts if one.copy.part in held}
    if len(hosts) < BOTH or at != _hanging_step(work, strap, held):
        return
    tabs: dict[Copy, list[Copy]] = {}
    for copy, tab in hung:
        tabs.setdefault(copy, []).append(holder_of(work, tab))
    told = join_words(list(dict.fromkeys(work.titles[host.part] for found in tabs.values() for host in found)))
    if len(tabs) > 1 and all(len({*found}) == 1 for found in tabs.values()):
        told = ", one on ".join(dict.fromkeys(work.titles[found[0].part] for found in tabs.values()))
        yield act("hung_each", part=f"{len(tabs)} × {work.titles[strap.name]}", hosts=told)
    elif all(len(found) == BOTH for found in tabs.values()):
        yield act("hung_ends", part=work.titles[strap.name], hosts=told)
    else:
        yield act("hung_end", part=work.titles[strap.name], hosts=told)


def holder_of(work: Work, tab: Copy) -> Copy:
    """What a tab with a ring is fastened to; itself where that is not placed by anything."""
    placed = work.build.space.part(tab)
    return placed.host if placed is not None and placed.host is not None else tab


def _hanging_step(work: Work, strap: Strap, held: Collection[str]) -> int:
    """The last step that has the strap in hand (from 0); not before the one that first sets the ring of what holds it."""
    rings = {fold.around for name in held if name in work.pieces for fold in work.pieces[name].marks.folds}
    mine = [k for k, step in enumerate(work.steps) if strap.name in step.straps]
    setting = [k for k, step in enumerate(work.steps) if not rings.isdisjoint(step.hardware)]
    return max([*mine[-1:], *setting[:1]], default=-1)
