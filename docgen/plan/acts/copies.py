"""Which of several copies of a part is meant, in the words of the shop: by what lies on it by then, or what it is for."""

from __future__ import annotations

from collections.abc import Iterator, Set

from docgen.assemble import Copy
from docgen.plan.act import Act, Told, act
from docgen.plan.acts.work import Work

PAIR = 2


def copy_words(work: Work, copy: Copy, index: int, beside: Set[str] = frozenset()) -> Told:
    """The title of a copy at an event; where its part is cut several times with what tells it from the others: what lies
    on it alone before that step, or not on it alone; else, of one that the spec names by its number, what it lies on at
    last, unless that is told `beside`."""
    title, count = work.titles[copy.part], work.counts.get(copy.part, 1)
    if count < PAIR or not copy.number:
        return title
    events = work.build.assembly.events
    step = events[index].step if index < len(events) else len(work.steps)
    before = next((at for at, event in enumerate(events) if event.step == step), index)
    borne = {number: [*_borne(work, Copy(copy.part, number), before)] for number in range(1, count + 1)}
    others = [its for number, its in borne.items() if number != copy.number]
    own = [part for part in borne[copy.number] if not any(part in its for its in others)]
    lacked = [part for part in others[0] if part not in borne[copy.number] and all(part in its for its in others)]
    if own:
        return act("copy_with", part=title, other=work.titles[own[0]])
    if lacked:
        return act("copy_without", part=title, other=work.titles[lacked[0]])
    hosts = _hosts(work, copy) if _is_named(work, copy) else []
    is_told = len(hosts) == 1 and beside.isdisjoint(hosts) and work.counts.get(hosts[0], 1) == 1
    alike = [host for number in borne if number != copy.number for host in _hosts(work, Copy(copy.part, number))]
    return act("copy_for", part=title, host=work.titles[hosts[0]]) if is_told and hosts[0] not in alike else title


def numbered(work: Work, copy: Copy) -> Act | str:
    """The title of a copy with its number."""
    count = work.counts.get(copy.part, 1)
    title = work.titles[copy.part]
    return act("copy_of", part=title, number=str(copy.number), all=str(count)) if count >= PAIR else title


def _borne(work: Work, copy: Copy, index: int) -> Iterator[str]:
    """What has been laid on a copy before an event, but for its linings."""
    for at in range(index):
        for lies in work.lays_at(at):
            if lies.host == copy and not lies.is_cover and lies.copy.part in work.titles:
                yield lies.copy.part


def _hosts(work: Work, copy: Copy) -> list[str]:
    found = (lies.host.part for lies in work.build.assembly.lies if lies.copy == copy)
    return [*dict.fromkeys(host for host in found if host in work.titles)]


def _is_named(work: Work, copy: Copy) -> bool:
    return any((side.part, side.copy) == copy for seam in work.build.seams for side in seam.sides)
