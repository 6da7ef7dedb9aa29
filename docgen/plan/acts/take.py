"""What a step takes in hand: parts, with the step that they come from, and how much hardware."""

from __future__ import annotations

from collections.abc import Iterator, Set

from docgen.assemble import NO_HOLE, Copy, Fastened
from docgen.plan.act import Act, Told, act
from docgen.plan.acts.copies import copy_words
from docgen.plan.acts.hung import holder_of
from docgen.plan.acts.layers import counted
from docgen.plan.acts.spoken_edges import edges_named
from docgen.plan.acts.work import Work
from docgen.resolve import Hardware


def take_acts(work: Work, at: int) -> tuple[Act, ...]:
    """Parts, those of one earlier step together, then goods and hardware, as they are laid out for step `at` (from 0): for
    strips that are joined by then their join, but not what this step joins."""
    parts: dict[int, list[Act]] = {}
    joined = {name for step in work.steps[:at] for name in step.joins}
    joins = {strip: name for strip, name in work.build.join_of.items() if name in joined}
    names = [*work.handled[at], *_set_through(work, at), *_hung_on(work, at), *_finished(work, at)]
    taken = [*(name for name in names if name not in joins), *(joins[name] for name in names if name in joins)]
    for name in dict.fromkeys(taken):
        if name not in work.steps[at].joins:
            parts.setdefault(_made_in(work, at, name), []).append(act("part", title=_taken(work, at, name)))
    goods = [
        act("part", title=work.goods[item.name]) for item in work.build.trimmings if item.name in _trimmings(work, at)
    ]
    named = [item for item in work.build.hardware if item.name in work.steps[at].hardware]
    items = [found for item in named if (found := _hardware_act(work, at, item)) is not None]
    made = [act("parts_made", parts=tuple(told), step=str(step)) for step, told in parts.items() if step]
    return (*made, *parts.get(0, ()), *goods, *items)


def _finished(work: Work, at: int) -> list[str]:
    """The pieces whose edges lines of a step finish, which it does not name otherwise."""
    named = {*edges_named(work, at)}
    return [name for name in work.pieces if name in named]


def _taken(work: Work, at: int, name: str) -> Told:
    """A part with how many of it the step has in hand: of copies that are sewn on alike as many as it sews on; of one of
    several with what tells it from the others."""
    if work.counts.get(name, 1) == 1:
        return counted(work, name)
    alike, copies = _sewn_alike(work, at, name), work.copies_at(at, name)
    if len(copies) == 1 and not alike:
        return copy_words(work, Copy(name, *copies), next((index for index, _ in work.events(at)), 0))
    return counted(work, name, alike or len(copies))


def _sewn_alike(work: Work, at: int, name: str) -> int:
    """On how many copies of a part a step sews, where it does nothing else to it, and any of them will do; else 0."""
    step = work.steps[at]
    events = {index for index, _ in work.events(at)}
    sewn = [once for once in work.build.assembly.sewn if once.event in events and name in once.parts]
    numbers = {copy.number for once in sewn for copy in once.sides if copy.part == name}
    if numbers != {0} or name in (*step.pieces, *step.skives, *step.straps):
        return 0
    times = [sum(once.event == event for once in sewn) for event in events]
    return min(max(times), work.counts[name])


def _trimmings(work: Work, at: int) -> set[str]:
    step = work.steps[at]
    divided = [event.name for event in work.build.assembly.events if (event.kind, event.step) == ("dividers", at)]
    laid = {line.goods for name in divided for line in work.pieces[name].dividers}
    return {*step.trimmings, *laid, *(use.name for seam in step.seams for use in work.seams[seam].trimmings)}


def _made_in(work: Work, at: int, name: str) -> int:
    """The number of the last step before that had a part in hand, or set something in it, or what hangs together with it
    by then; 0 for what comes from the cutting list. A step that had none of the same copies in hand is passed over."""
    names, own = _fast_to(work, at, {name, *work.strips(name)}), work.copies_at(at, name)
    had = work.had[:at]
    others = {k for k in range(at) if name in had[k] and own.isdisjoint(work.copies_at(k, name))}
    return next((k + 1 for k in reversed(range(at)) if k not in others and not names.isdisjoint(had[k])), 0)


def _fast_to(work: Work, at: int, names: set[str]) -> set[str]:
    """What is sewn or riveted to any of these parts before a step, and to that, with them."""
    events = work.build.assembly.events
    bonds: list[tuple[int, Set[str]]] = [(one.event, one.parts) for one in work.build.assembly.sewn]
    bonds += [(fit.event, {*fit.stack.parts}) for fit in work.build.assembly.fastened]
    done: list[Set[str]] = [parts for event, parts in bonds if event < len(events) and events[event].step < at]
    joined = {event.name for event in events if event.kind == "joins" and event.step < at}
    done += [{join.name, *join.pieces} for join in work.build.joins if join.name in joined]
    single = [{part for part in parts if work.counts.get(part, 1) == 1 or part in names} for parts in done]
    while more := [parts for parts in single if parts & names and not parts <= names]:
        names = names.union(*more)
    return names


def _set_through(work: Work, at: int) -> Iterator[str]:
    """The parts, or their joins, that hardware of a step goes through by their own holes for it, or that are marked and
    punched through another's; straps by any."""
    events = {index for index, event in work.events(at) if event.kind == "hardware"}
    joined = {name for step in work.steps[: at + 1] for name in step.joins}
    joins = {strip: name for strip, name in work.build.join_of.items() if name in joined}
    marked = {one.copy.part for one in work.build.space.unplaced if one.why == NO_HOLE}
    for fit in work.build.assembly.fastened:
        for layer in fit.stack.layers if fit.event in events else ():
            if layer.part in work.straps or fit.part in marked:
                yield joins.get(layer.part, layer.part)
            strips = [work.pieces[name] for name in work.strips(layer.part) if name in work.pieces]
            if any(work.titles[fit.part] in hole.meets for piece in strips for hole in piece.marks.holes):
                yield joins.get(layer.part, layer.part)


def _hung_on(work: Work, at: int) -> Iterator[str]:
    """What has the rings by then round which a step turns the ends of straps, where it has nothing else of that in hand."""
    events = {index for index, _ in work.events(at)}
    fits = [(fit.part, fit.around) for fit in work.build.assembly.fastened if fit.around and fit.event in events]
    turned = [(name, which) for name, which, event in work.build.assembly.ends_turned if event in events]
    rings = {*fits, *((name, ring) for name, which in turned for ring in work.straps[name].ends[which].rings)}
    space = work.build.space
    for part, ring in sorted(rings):
        hung = [tab for copy, tab in space.hung if copy.part == part]
        for tab in hung or [one.copy for one in space.parts]:
            around = {fold.around for fold in work.pieces[tab.part].marks.folds} if tab.part in work.pieces else set()
            holder = holder_of(work, tab).part
            is_there = any(tab.part in handled for handled in work.handled[:at])
            if ring in around and is_there and {tab.part, holder}.isdisjoint(work.handled[at]):
                yield holder
        yield from _straps_on(work, at, part, ring)


def _straps_on(work: Work, at: int, part: str, ring: str) -> Iterator[str]:
    """Other straps made before that have the ring as well: there are more ends round such rings than rings."""
    count = next((item.count for item in work.build.hardware if item.name == ring), 0)
    ends = {strap.name: strap.cut * sum(ring in end.rings for end in strap.ends) for strap in work.build.straps}
    before = {name for step in work.steps[:at] for name in step.straps}
    if sum(ends.values()) > count:
        yield from (name for name, has in ends.items() if has and name != part and name in before)


def _hardware_act(work: Work, at: int, item: Hardware) -> Act | None:
    """How many of it this step sets, of how many in all; what hangs there already comes with the step that put it in. None
    where all of it is set in other steps. Of snaps whose halves are set in different steps each half."""
    halved = [fit for fit in _fits(work, item, at) if fit.half]
    if len({fit.half for fit in halved}) == 1 and _has_both_halves(work, item):
        count = str(sum(fit.count for fit in halved))
        return act("hardware_half", count=count, what=work.fittings[item.name], half=halved[0].half)
    here = set_here(work, at, item) or _left_over(work, at, item)
    if here is None:
        return None
    before = 0 if here else next((k + 1 for k in range(at) if _hung(work, k, item.name) >= item.count), 0)
    if before:
        return act("hardware_hung", what=work.fittings[item.name], step=str(before))
    here = here or _hung(work, at, item.name)  # closed by a later step
    if not here or here >= item.count:
        return act("hardware", count=str(item.count), what=work.fittings[item.name])
    return act("hardware_of", count=str(here), what=work.fittings[item.name], all=str(item.count))


def _has_both_halves(work: Work, item: Hardware) -> bool:
    """Whether a snap is one thing with two halves that are set in different parts."""
    return {"cap", "stud"} <= {fit.half for fit in work.build.assembly.fastened if fit.hardware == item.name}


def set_here(work: Work, at: int, item: Hardware) -> int:
    """How many of it go into this step; all where no other step names it, 0 where that is not known."""
    here = sum(fit.items for fit in _fits(work, item, at))
    if here:
        return here
    steps = [number for number, step in enumerate(work.steps) if item.name in step.hardware]
    return item.count if steps == [at] else 0


def _left_over(work: Work, at: int, item: Hardware) -> int | None:
    """How many of it no step is known to set, in the first step that names it and sets none; None where none is left for
    that. 0 where of no step it is known."""
    steps = [number for number, step in enumerate(work.steps) if item.name in step.hardware]
    known = {number: sum(fit.items for fit in _fits(work, item, number)) for number in steps}
    if not any(known.values()):
        return 0
    left = item.count - sum(known.values())
    return left if left > 0 and at == next(number for number in steps if not known[number]) else None


def _fits(work: Work, item: Hardware, at: int) -> list[Fastened]:
    """The places at which a step sets it."""
    events = work.build.assembly.events
    fits = [fit for fit in work.build.assembly.fastened if fit.hardware == item.name and fit.event < len(events)]
    return [fit for fit in fits if events[fit.event].step == at]


def _hung(work: Work, at: int, fitting: str) -> int:
    """How many places of parts that a step has in hand go round a fitting that it puts in."""
    if fitting not in work.steps[at].hardware:
        return 0
    copies = [copy.part for copy in work.build.assembly.copies if copy.part in work.handled[at]]
    folds = sum(
        fold.around == fitting for part in copies if part in work.pieces for fold in work.pieces[part].marks.folds
    )
    ends = {strap.name: sum(end.around == fitting for end in strap.ends) for strap in work.build.straps}
    return folds + sum(ends.get(part, 0) for part in copies)
