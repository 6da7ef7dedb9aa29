"""When hardware is set: the event of each place that takes it, by what its step has in hand."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence, Set

from docgen.assemble.assembly import Event
from docgen.assemble.fasten import Post, pinned_there
from docgen.assemble.goods import Goods
from docgen.assemble.landing import Handling, Slot
from docgen.assemble.under_posts import spots_on
from docgen.resolve import Step, sewn_on_name

NO_STEP: Handling = (Step(do=""), frozenset())
Slots = Mapping[str, Sequence[Slot]]


def find_event(goods: Goods, events: Sequence[Event], steps: Sequence[Handling], post: Post, slots: Slots) -> int:
    """The event that sets a post: of what closes an end as `_closing` says; else in the first step that sets its hardware
    and has both parts in hand that it fastens, else, once they are sewn on each other, the first that has one of them, of a
    strap the first after the one that makes it; else the first that names no parts; else the last that sets it. The number
    of events where none does."""
    setting = [at for at, event in enumerate(events) if event.kind == "hardware" and event.name == post.hardware]
    if not setting:
        return len(events)
    closing = _closing(goods, events, steps, post, slots, setting)
    if closing is not None:
        return closing
    in_hand = {at: _handling_of(events, steps, at)[1] for at in setting}
    pinned = pinned_there(goods, post, slots)
    both = [at for at in setting if post.copy.part in in_hand[at] and not pinned.isdisjoint(in_hand[at])]
    if both:
        return both[0]
    there = _parts_there(goods, post, slots)
    fast = {post.copy.part} if _lies_fast(goods, post, slots) else set[str]()
    late = _sewn_on_in(events, slots, fast | pinned, there)
    after = [at for at in setting if events[at].step >= late] or setting
    made = {_made_in(steps, name) for name in pinned if name in goods.straps}
    again = [at for at in after if events[at].step not in made and not pinned.isdisjoint(in_hand[at])]
    if made and again:
        return again[0]  # a later step than that which makes the strap
    for wanted in (pinned, {post.copy.part}, there):
        for at in after:
            if not wanted.isdisjoint(in_hand[at]):
                return at
    return next((at for at in after if not in_hand[at]), setting[-1])


def _lies_fast(goods: Goods, post: Post, slots: Slots) -> bool:
    """Whether the hole of a post lies in what lies fast of its part on another, as that of a strap's free tip does not."""
    places = slots.get(post.copy.part, ())
    at = post.hole.at if post.hole else None
    return at is None or any(spots_on(goods, slot.host, slot.lying, at) for slot in places)


def _handling_of(events: Sequence[Event], steps: Sequence[Handling], at: int) -> Handling:
    step = events[at].step
    return steps[step] if step < len(steps) else NO_STEP


def _made_in(steps: Sequence[Handling], strap: str) -> int:
    """The step (from 0) that makes a strap: the first that has it in hand."""
    return next((k for k, (_, parts) in enumerate(steps) if strap in parts), 0)


def _closing(
    goods: Goods, events: Sequence[Event], steps: Sequence[Handling], post: Post, slots: Slots, setting: Sequence[int]
) -> int | None:
    """The event that closes an end round a fitting: in the first step that has strap and fitting; else one that has the
    fitting and what the strap lies on, or names no parts, once the strap is made; else the first after the fitting has
    come that has the strap; else the first that has the fitting. None where no step has that with what closes the end."""
    part, fitting = post.copy.part, post.around
    if not fitting:
        return None
    in_hand = {at: _handling_of(events, steps, at)[1] for at in setting}
    having = [at for at in setting if part in in_hand[at]]
    around = [at for at in setting if fitting in _handling_of(events, steps, at)[0].hardware]
    made = _made_in(steps, part)
    come = next((k for k, (step, _) in enumerate(steps) if fitting in step.hardware), len(steps))
    beneath = _parts_there(goods, post, slots)
    with_host = [at for at in around if not in_hand[at] or not beneath.isdisjoint(in_hand[at])]
    wanted = (
        [at for at in around if at in having],
        [at for at in with_host if events[at].step >= made],
        [at for at in having if events[at].step >= come],
        around,
    )
    return next((found[0] for found in wanted if found), None)


def _parts_there(goods: Goods, post: Post, slots: Slots) -> set[str]:
    part = post.copy.part
    parts = {part, *goods.joined_strips.get(part, ()), *(post.hole.through if post.hole else ())}
    return parts | {slot.host.part for slot in slots.get(part, ())} | pinned_there(goods, post, slots)


def _sewn_on_in(events: Sequence[Event], slots: Slots, names: Set[str], hosts: Set[str]) -> int:
    """The last step that sews an end of these straps on to one of these pieces; 0 where none does."""
    ends = {
        sewn_on_name(name, end, slot.host.part)
        for name in names
        for slot in slots.get(name, ())
        for end in (0, 1)
        if slot.host.part in hosts
    }
    return max((event.step for event in events if event.kind == "landings" and event.name in ends), default=0)


def setting_steps(goods: Goods, steps: Sequence[Step]) -> list[Handling]:
    """The steps, each with what it has in hand when it sets hardware: what it names, what it sews, and straps that its
    order sews on."""
    return [(step, frozenset(_in_hand(goods, step))) for step in steps]


def _in_hand(goods: Goods, step: Step) -> Iterator[str]:
    yield from (*step.pieces, *step.straps, *(name for kind, name in step.work if kind == "landings"))
    yield from (side.part for name in step.seams for side in goods.sides(name))
