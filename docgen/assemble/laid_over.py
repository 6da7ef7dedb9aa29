"""Pieces that no seam names, over one that a seam sews on, as a pocket on a pocket: they come to lie there with a seam."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from docgen.assemble.assembly import Event
from docgen.assemble.goods import Goods
from docgen.assemble.landing import Handling, Slot, lays, seams_between
from docgen.geometry.path import boxes_overlap
from docgen.tables.cautions import has_phrase


def find_waiting(
    goods: Goods, slots: Mapping[str, Sequence[Slot]], events: Sequence[Event], work: Sequence[Handling]
) -> dict[int, list[Slot]]:
    """Event -> the places of pieces that it lays over what it sews, or has sewn on before: of one that the words of a later
    step lay, the first there on its host, else the last that sews on what lies beneath. None of what a step lays that has
    it in hand."""
    found: dict[int, list[Slot]] = {}
    for slot in (slot for one in slots.values() for slot in one if slot.copy is not None and not slot.seams):
        beneath = _list_beneath(goods, slot)
        if not beneath or any(lays(step) and slot.lying.copy.part in step.pieces for step, _ in work):
            continue
        last = max((_sewn_at(goods, events, part, slot) for part in beneath), default=-1)
        spoken = [at for at, (step, _) in enumerate(work) if lays(step) and _names(goods, step.do, slot)]
        on_host = [k for k, event in enumerate(events) if event.kind == "seams" and _is_on(goods, event, slot)]
        told = [k for k in on_host if k >= last and spoken and events[k].step >= spoken[0]]
        found.setdefault(told[0] if told else last, []).append(slot)
    return found


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
