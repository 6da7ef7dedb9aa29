"""Pieces that no seam names, and that another event lays than their own: over one that a seam sews on, as a pocket on a
pocket, with a seam; on one that only a later step has in hand, with that."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from docgen.assemble.assembly import Copy, Event
from docgen.assemble.goods import Goods
from docgen.assemble.landed_over import find_loops
from docgen.assemble.landing import Handling, Slot, is_set_later, lays, seams_between
from docgen.geometry.measure import distance_to_path, inside_finder
from docgen.geometry.path import boxes_overlap, path_length, points_at
from docgen.tables.cautions import has_phrase

SIDES = ("left", "right", "top", "bottom", "front", "back", "upper", "lower", "inner", "outer", "first", "second")
EVERY_MM = 2.0
ALONG_MM = 12.0  # a row so near to an edge of what lies there holds it by that edge: our choice
ACROSS = 0.5  # so much of a row, farther in, goes across a pocket and shuts it: our choice


def find_waiting(
    goods: Goods, slots: Mapping[str, Sequence[Slot]], events: Sequence[Event], work: Sequence[Handling]
) -> dict[int, list[Slot]]:
    """Event -> the places of pieces that it lays over what it sews, or has sewn on before: of one that a step lays with it
    in hand, that step once this is done; of one that the words of a later step lay, the first there on its host; else the
    last that sews on what lies beneath. None whose place an order tells, and no loop in hand. And those on what is taken in
    hand once they are made ready, and left by then."""
    found: dict[int, list[Slot]] = {}
    waits: dict[tuple[Copy, str], int] = {}
    loops = find_loops(goods.build)
    for slot in _from_below(goods, slots):
        part, on = slot.lying.copy.part, slot.host.part
        beneath = _list_beneath(goods, slot)
        with_host = None if beneath else _with_host(goods, slot, events, work)
        if with_host is not None:
            waits[slot.host, part] = with_host
            found.setdefault(with_host, []).append(slot)
        sewn = [k for name in beneath for k in _sewn_at(goods, events, name, on)]
        last = max([*sewn, *(waits[slot.host, name] for name in beneath if (slot.host, name) in waits)], default=None)
        in_hand = [at for at, (step, _) in enumerate(work) if lays(step) and part in step.pieces]
        if last is None or (in_hand and part in loops) or any(("pieces", part) in step.timed for step, _ in work):
            continue
        at = _once_in_hand(events, in_hand, part, last) if in_hand else _as_told(goods, events, work, slot, last)
        waits[slot.host, part] = at
        found.setdefault(at, []).append(slot)
    return found


def _with_host(goods: Goods, slot: Slot, events: Sequence[Event], work: Sequence[Handling]) -> int | None:
    """The event that takes the host of a piece in hand, or sews it, where no step has both in hand and all with the host
    come after those with the piece: of the first whose words name the piece, else of the first. None where hardware holds
    the two."""
    part, hosts = slot.lying.copy.part, {slot.host.part, *goods.joined_strips.get(slot.host.part, ())}
    named = [at for at, (step, _) in enumerate(work) if part in step.pieces]
    having = [at for at, (_, handled) in enumerate(work) if not hosts.isdisjoint(handled)]
    if part not in goods.pieces or not named or not having or having[0] <= named[-1]:
        return None
    if any(part in work[at][1] for at in having) or is_set_later(goods, work, part, hosts):
        return None
    own_words = [word for word in part.split("-") if word not in SIDES]
    told = [at for at in having if any(has_phrase(work[at][0].do, word) for word in own_words)]
    there = [(k, event) for k, event in enumerate(events) if event.step == (told or having)[0]]
    own = [k for k, event in there if event.kind == "pieces" and event.name in hosts]
    sewn = [k for k, one in there if one.kind == "seams" and not hosts.isdisjoint(goods.seams[one.name].parts)]
    return next(iter(own or sewn), None)


def _from_below(goods: Goods, slots: Mapping[str, Sequence[Slot]]) -> list[Slot]:
    """The places of pieces that no seam holds, host by host from what is written first."""
    loose = [slot for one in slots.values() for slot in one if slot.copy is not None and not slot.seams]
    loose = [slot for slot in loose if slot.lying.copy.part in goods.pieces]
    return sorted(loose, key=lambda slot: goods.pieces[slot.host.part].landing_names.index(slot.lying.copy.part))


def _once_in_hand(events: Sequence[Event], in_hand: Sequence[int], part: str, last: int) -> int:
    """The event that lays a piece which steps have in hand, none before an event that is the `last` for what lies beneath:
    that of the first later step which has it in hand, unless the step of that one has it too, or none has."""
    step = events[last].step
    later = [] if step in in_hand else [at for at in in_hand if at > step]
    own = (k for k, event in enumerate(events) if later and event == Event(later[0], "pieces", part))
    return next(own, last)


def _as_told(goods: Goods, events: Sequence[Event], work: Sequence[Handling], slot: Slot, last: int) -> int:
    """The event that lays a piece which no step has in hand to lay it."""
    spoken = [at for at, (step, _) in enumerate(work) if lays(step) and _names(goods, step.do, slot)]
    on_host = [k for k, event in enumerate(events) if event.kind == "seams" and _is_on(goods, event, slot)]
    told = [k for k in on_host if k >= last and spoken and events[k].step >= spoken[0]]
    if told or not _go_across(_depths_mm(goods, events[last], slot)):
        return told[0] if told else last
    later = ((k, _depths_mm(goods, events[k], slot)) for k in on_host if k > last)
    return next((k for k, depths_mm in later if depths_mm and not _go_across(depths_mm)), last)


def _depths_mm(goods: Goods, event: Event, slot: Slot) -> list[float]:
    """How far inside of what a slot lays the rows of an event lie on its host, at places even along them."""
    if slot.lying.outline is None or event.kind != "seams":
        return []
    is_in, outline = inside_finder(slot.lying.outline), slot.lying.outline
    rows = [line.path for line in goods.pieces[slot.host.part].marks.stitch_lines if line.seam == event.name]
    spots = [
        at
        for row in rows
        for at, _ in points_at(row, [k * EVERY_MM for k in range(int(path_length(row) / EVERY_MM) + 1)])
    ]
    return [distance_to_path(outline, at) for at in spots if is_in(at)]


def _go_across(depths_mm: Sequence[float]) -> bool:
    """Whether rows so far inside of what a slot lays go across it, away from its edges: they are sewn before it."""
    return sum(depth > ALONG_MM for depth in depths_mm) > ACROSS * len(depths_mm)


def _list_beneath(goods: Goods, slot: Slot) -> tuple[str, ...]:
    """The pieces that land on the host of a piece where that does, and are written before it."""
    base, part = goods.pieces[slot.host.part], slot.lying.copy.part
    if slot.lying.outline is None or slot.lying.is_inside:
        return ()
    box, order = goods.box(slot.lying.outline), base.landing_names
    return tuple(
        one.piece
        for one in base.marks.landings
        if not one.is_inside
        and order.index(one.piece) < order.index(part)
        and boxes_overlap(goods.box(one.outline), box)
    )


def _sewn_at(goods: Goods, events: Sequence[Event], part: str, host: str) -> list[int]:
    """The first event that sews a part to the host of a place; none where none does."""
    names = seams_between(goods, part, host)
    return [k for k, event in enumerate(events) if event.kind == "seams" and event.name in names][:1]


def _names(goods: Goods, words: str, slot: Slot) -> bool:
    part = slot.lying.copy.part
    return any(has_phrase(words, name.lower()) for name in (goods.pieces[part].title, part.replace("-", " ")))


def _is_on(goods: Goods, event: Event, slot: Slot) -> bool:
    """Whether a seam has the host of a place among its sides."""
    return slot.host.part in goods.seams[event.name].parts
