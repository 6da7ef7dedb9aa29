"""Hardware that is set: through which layers, in which holes, with which post."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from docgen.assemble import Event, Fastened
from docgen.plan.act import Act, act
from docgen.plan.acts.laying import lay_acts
from docgen.plan.acts.places import spots_place
from docgen.plan.acts.straps import closing_ends, turn_acts
from docgen.plan.acts.work import Work
from docgen.plan.cutting import join_words
from docgen.plan.step_words import count_kind, stack_words
from docgen.resolve import Hardware, Hole, by_name
from docgen.written.units.telling import format_mm


def hardware_acts(work: Work, at: int, index: int, event: Event) -> Iterator[Act]:
    """Ends of straps that it closes, what it fastens, then each place where it is set."""
    item = by_name(work.build.hardware)[event.name]
    for strap in work.build.straps:
        yield from turn_acts(work, strap, closing_ends(work, strap, index))
    yield from lay_acts(work, at, index)
    fits = [fit for fit in work.build.assembly.fastened if fit.event == index and fit.part in work.titles]
    on: dict[str, dict[str, None]] = {}
    for hole, title in _unpunched(work, fits):
        on.setdefault(work.length(hole.diameter_mm), {})[title] = None
    for size, titles in on.items():
        yield act("punch_on", size=size, parts=join_words([*titles]))
    for fit in _together(fits):
        yield _set_act(work, item, fit)


def holes_punched_on(work: Work, index: int) -> list[Hole]:
    """The holes through which what lies beneath is punched when an event sets its hardware."""
    fits = [fit for fit in work.build.assembly.fastened if fit.event == index and fit.part in work.titles]
    return [hole for hole, _ in _unpunched(work, fits)]


def _unpunched(work: Work, fits: Sequence[Fastened]) -> Iterator[tuple[Hole, str]]:
    """What posts go through and no template gives a hole, as linings and foam, with the hole by which it is punched."""
    for fit in fits:
        hole = next((one for one in _holes_for(work, fit.part, fit) if not one.long_mm), None)
        for name in dict.fromkeys(layer.part for layer in fit.stack.layers):
            if hole is not None and name in work.pieces and not _holes_for(work, name, fit):
                yield hole, work.titles[name]


def _holes_for(work: Work, name: str, fit: Fastened) -> list[Hole]:
    """The holes of a piece that take what is set, or that say so of each other."""
    piece, title = work.pieces.get(name), work.titles[fit.part]
    return [one for one in piece.marks.holes if one.takes == fit.hardware or title in one.meets] if piece else []


def _together(fits: list[Fastened]) -> list[Fastened]:
    """Hardware of which the same is said, counted together: that of both ends of a strap."""
    found: dict[object, Fastened] = {}
    for fit in fits:
        key = fit.part, fit.half, fit.stack, fit.post_mm, fit.around
        found[key] = replace(fit, count=fit.count + (found[key].count if key in found else 0))
    return list(found.values())


def _set_act(work: Work, item: Hardware, fit: Fastened) -> Act:
    """`Set 4 rivets in Back panel, 2 1/2 in from left and right: through Handle, ...: 8.9 mm, post 12 mm.`"""
    layers = _outside_in(work, fit)
    piece = work.pieces.get(fit.part)
    holes = [hole for hole in piece.marks.holes if hole.takes == item.name] if piece else []
    is_sure = len({hole.meets for hole in holes}) == 1 and all(hole.meets for hole in holes)  # the mates tell the holes
    place = spots_place(work, piece, holes) if piece and holes and not is_sure else ()
    kind = f"{item.kind} {fit.half}".strip()
    what = f"{fit.count} × {item.what}" if item.kind == "other" else count_kind(fit.count, kind)
    where = "set_at" if fit.around else "set_in"
    around = {"around": work.build.titles[fit.around]} if fit.around else {}
    told: list[Act] = [act(where, what=what, part=work.titles[fit.part], **around)]
    told += [act("set_place", place=place)] if place else []
    if len({layer.part for layer in fit.stack.layers}) > 1:
        told.append(act("set_through", layers=", ".join(layers)))
    if fit.stack.thickest_mm:
        count = len(fit.stack.layers)
        stack = {"stack": stack_words(fit.stack)}
        told.append(act("set_stack", **stack, count=str(count)) if count > 1 else act("set_one", **stack))
    told += [act("set_post", post=format_mm(fit.post_mm))] if fit.post_mm else []
    return act("set", words=tuple(told))


def _outside_in(work: Work, fit: Fastened) -> list[str]:
    """The layers from the side that is seen inwards: what lands on the part, the last one outermost; the part itself;
    what lies behind it. A layer that is there twice is told so."""
    names = [layer.part for layer in fit.stack.layers]
    lies = [one for one in work.build.assembly.lies if one.host.part == fit.part]
    behind = {one.copy.part for one in lies if one.is_behind}
    piece = work.pieces.get(fit.part)
    order = [one.piece for one in piece.marks.landings] + [one.strap for one in piece.strap_landings] if piece else []
    on = [name for name in dict.fromkeys(names) if name in order and name not in behind]
    on.sort(key=lambda name: -order.index(name))
    others = [name for name in dict.fromkeys(names) if name not in on and name not in behind and name != fit.part]
    told = [*on, *(name for name in (fit.part,) if name in names), *others]
    told += [name for name in dict.fromkeys(names) if name in behind and name != fit.part and name not in told]
    titles = work.build.titles | dict(work.titles)
    return [
        titles.get(name, name) if names.count(name) == 1 else f"{names.count(name)} × {titles.get(name, name)}"
        for name in told
    ]
