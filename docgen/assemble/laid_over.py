"""Pieces that no seam names, and that another event lays than their own: over one that a seam sews on, as a pocket on a
pocket, with a seam; on one that only a later step has in hand, with that."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from docgen.assemble.assembly import Event
from docgen.assemble.goods import Goods
from docgen.assemble.landing import Handling, Slot, is_set_later, lays, seams_between
from docgen.geometry.path import boxes_overlap
from docgen.tables.cautions import has_phrase

SIDES = ("left", "right", "top", "bottom", "front", "back", "upper", "lower", "inner", "outer", "first", "second")


def find_waiting(
    goods: Goods, slots: Mapping[str, Sequence[Slot]], events: Sequence[Event], work: Sequence[Handling]
) -> dict[int, list[Slot]]:
    """Event -> the places of pieces that it lays over what it sews, or has sewn on before: of one that the words of a later
    step lay, the first there on its host, else the last that sews on what lies beneath. None of what a step lays that has
    it in hand. And those on what is taken in hand once they are made ready, and left by then."""
    found: dict[int, list[Slot]] = {}
    for slot in (slot for one in slots.values() for slot in one if slot.copy is not None and not slot.seams):
        beneath = _list_beneath(goods, slot)
        with_host = None if beneath else _with_host(goods, slot, events, work)
        if with_host is not None:
            found.setdefault(with_host, []).append(slot)
        if not beneath or any(lays(step) and slot.lying.copy.part in step.pieces for step, _ in work):
            continue
        last = max((_sewn_at(goods, events, part, slot) for part in beneath), default=-1)
        spoken = [at for at, (step, _) in enumerate(work) if lays(step) and _names(goods, step.do, slot)]
        on_host = [k for k, event in enumerate(events) if event.kind == "seams" and _is_on(goods, event, slot)]
        told = [k for k in on_host if k >= last and spoken and events[k].step >= spoken[0]]
        found.setdefault(told[0] if told else last, []).append(slot)
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


def _list_beneath(goods: Goods, slot: Slot) -> tuple[str, ...]:
    """The pieces that land on the host of a piece where that does, are written before it, and are sewn there."""
    base, part = goods.pieces[slot.host.part], slot.lying.copy.part
    if part not in goods.pieces or slot.lying.outline is None or slot.lying.is_inside:
        return ()
    box, order = goods.box(slot.lying.outline), base.landing_names
    return tuple(
        one.piece
        for one in base.marks.landings
        if not one.is_inside
        and order.index(one.piece) < order.index(part)
        and boxes_overlap(goods.box(one.outline), box)
        and seams_between(goods, one.piece, base.name)
    )


def _sewn_at(goods: Goods, events: Sequence[Event], part: str, slot: Slot) -> int:
    """The first event that sews a part to the host of a place."""
    names = seams_between(goods, part, slot.host.part)
    return next(k for k, event in enumerate(events) if event.kind == "seams" and event.name in names)


def _names(goods: Goods, words: str, slot: Slot) -> bool:
    part = slot.lying.copy.part
    return any(has_phrase(words, name.lower()) for name in (goods.pieces[part].title, part.replace("-", " ")))


def _is_on(goods: Goods, event: Event, slot: Slot) -> bool:
    """Whether a seam has the host of a place among its sides."""
    return slot.host.part in goods.seams[event.name].parts
