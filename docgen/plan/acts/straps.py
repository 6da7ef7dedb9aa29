"""Straps: how they are shaped, punched, turned and sewn."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from docgen.assemble import Event
from docgen.plan.act import Act, act
from docgen.plan.acts.edging import strap_edge_acts
from docgen.plan.acts.holding import find_glues, glue_words
from docgen.plan.acts.hung import hung_acts
from docgen.plan.acts.keepers import keeper_acts, slide_acts
from docgen.plan.acts.sewing import sew_acts
from docgen.plan.acts.shaping import slot_acts
from docgen.plan.acts.work import Work
from docgen.plan.cutting import purpose_words
from docgen.plan.step_words import lining_words, row_words, shape_words, turned_words
from docgen.resolve import END_NAMES, Hole, Strap, end_name, from_end_mm, is_shaped
from docgen.tables.cautions import has_phrase
from docgen.tables.practice import TAPE


def strap_acts(work: Work, at: int, index: int, event: Event) -> Iterator[Act]:
    """Cut, shape and punch, the first time that a strap is in hand; lay its second layer and turn the ends that no hardware
    closes, each when that is done; sew, where this event does."""
    strap = work.straps[event.name]
    own = [k for k, one in enumerate(work.build.assembly.events) if (one.kind, one.name) == (event.kind, event.name)]
    title = work.titles[strap.name] if strap.cut == 1 else f"{strap.cut} × {work.titles[strap.name]}"
    if index == own[0]:
        yield from _shape_acts(work, at, strap, title)
        yield from keeper_acts(work, at, strap)
    layers, glues = lining_words(strap, work.build), [one for one in find_glues(work, at) if not has_phrase(one, TAPE)]
    is_laid = index == _laying_event(work, strap, own)
    if layers and is_laid:
        yield from _layer_acts(work, at, strap, title, layers, glues)
    elif layers and index == own[0]:
        yield act("strap_layers_cut", part=title, layers="; ".join(layers))
    if index == own[0]:
        yield from strap_edge_acts(work, at, strap, is_sewn=False)
    turned = [*turn_acts(work, strap, [which for which in (0, 1) if work.turned_at(strap.name, which) == index])]
    if turned and glues and not (layers and is_laid):
        yield act("hold_layers", part=title, glue=glue_words(glues))
    yield from turned
    yield from hung_acts(work, at, strap)
    yield from _sew_edges(work, at, event, strap)
    yield from slide_acts(work, at, strap)


def _shape_acts(work: Work, at: int, strap: Strap, title: str) -> Iterator[Act]:
    words = "; ".join(shape_words(strap, work.build))
    if holes := _hole_words(work, strap):
        yield act("strap_holes", part=title, words=words, holes="; ".join(holes))
        yield from slot_acts(work, at, strap.piece.marks.holes)
    else:
        yield act("strap", part=title, words=words)


def _laying_event(work: Work, strap: Strap, own: Sequence[int]) -> int:
    """Of the events of a strap the one that lays its second layer: the first whose step has glue or turns an end, or that
    sews it; else the first."""
    turned = {work.turned_at(strap.name, which) for which in (0, 1)}
    events = work.build.assembly.events
    laying = [k for k in own if k in turned or work.jobs_of(events[k]) or find_glues(work, events[k].step)]
    return (laying or own)[0]


def _layer_acts(
    work: Work, at: int, strap: Strap, title: str, layers: Sequence[str], glues: Sequence[str]
) -> Iterator[Act]:
    """How the second layer of a strap is held and laid, and punched on."""
    if glues:
        yield act("hold_layers", part=title, glue=glue_words(glues))
    is_leather = bool(strap.lining) and work.materials[strap.lining].kind == "leather"
    yield act("strap_lined" if is_leather else "strap_layers", part=title, layers="; ".join(layers))
    if strap.lining and not find_glues(work, at):
        yield act("clip_layers", part=title)
    if _holes_through(strap):
        yield act("punch_layers", part=title)
    if under_mm := _under_slot_mm(strap):
        yield act("slot_layers", part=title, length=work.length(under_mm))
    if strap.lining and any(end.taper or is_shaped(end.shape) for end in strap.ends):
        yield act("trim_layers", part=title)


def _sew_edges(work: Work, at: int, event: Event, strap: Strap) -> Iterator[Act]:
    """Its rows, where this event sews them, through ends that are turned for that, and what of its edges comes after."""
    jobs = work.jobs_of(event)
    if jobs:
        index = work.build.assembly.events.index(event)
        ends = [k for k in (0, 1) if _sewn_turned(work, strap, k) == index or _sewn_itself(work, strap, k) == index]
        yield from turn_acts(work, strap, ends)
    yield from sew_acts(work, at, event)
    if jobs:
        yield from strap_edge_acts(work, at, strap, is_sewn=True)


def holes_through_layers(work: Work, at: int) -> list[Hole]:
    """The holes of straps that a step (from 0) punches on through the second layer, as it lays that."""
    events, found = work.build.assembly.events, list[Hole]()
    for strap in (one for one in work.build.straps if lining_words(one, work.build)):
        own = [k for k, one in enumerate(events) if (one.kind, one.name) == ("straps", strap.name)]
        if own and events[_laying_event(work, strap, own)].step == at:
            found += _holes_through(strap)
    return found


def _holes_through(strap: Strap) -> list[Hole]:
    """Its holes beyond those of its turned ends, which are punched on once they are folded."""
    away = [2 * end.fold_mm if end.shape == "turned" else 0.0 for end in strap.ends]
    return [hole for hole in strap.piece.marks.holes if all(from_end_mm(strap, k, hole.at) > away[k] for k in (0, 1))]


def _under_slot_mm(strap: Strap) -> float:
    """How much of the slot for a tongue has the second layer beneath, which ends at the fold of a turned end; 0 of none."""
    ends = [(which, end) for which, end in enumerate(strap.ends) if end.shape == "turned"]
    slots = [hole for hole in strap.piece.marks.holes if hole.long_mm]
    under = [hole.long_mm / 2 - abs(from_end_mm(strap, k, hole.at) - end.fold_mm) for k, end in ends for hole in slots]
    return max([mm for mm in under if mm > 0], default=0.0) if strap.lining else 0.0


def _hole_words(work: Work, strap: Strap) -> list[str]:
    show = work.build.show
    found = (
        [f"at the first end {row_words(strap.first_tips_mm, strap.first_punch_mm, show)}"]
        if strap.first_tips_mm
        else []
    )
    found += [row_words(strap.hole_tips_mm, strap.punch_mm, show)] if strap.hole_tips_mm else []
    return [*found, *purpose_words(strap.piece.marks.holes[strap.row_holes :], show, is_short=True)]


def _closed_by(work: Work, strap: Strap, which: int) -> tuple[int, ...]:
    """The events of the hardware that closes a turned end."""
    end = strap.ends[which]
    if end.shape != "turned" or not end.takes:
        return ()
    fits = [fit for fit in work.build.assembly.fastened if fit.part == strap.name and fit.hardware == end.takes]
    return tuple(fit.event for fit in fits if fit.around == end.around)


def closing_ends(work: Work, strap: Strap, index: int) -> list[int]:
    """The ends of a strap that are turned where that event sets what closes them."""
    closed = (k for k in (0, 1) if index in _closed_by(work, strap, k))
    return [k for k in closed if _sewn_turned(work, strap, k) is None and _sewn_itself(work, strap, k) is None]


def _sewn_turned(work: Work, strap: Strap, which: int) -> int | None:
    """The event that sews the edges of a strap through an end which is turned by then and closed by a later one."""
    runs = (run for run in work.build.assembly.runs if run.kind == "straps" and run.part == strap.name)
    found = next((run.event for run in runs if run.turned_mm[which]), None)
    closed = _closed_by(work, strap, which)
    return found if found is not None and closed and found < min(closed) else None


def _sewn_itself(work: Work, strap: Strap, which: int) -> int | None:
    """The event that sews the edges of what lies back of an end, in the step of the hardware that closes it after that."""
    events, line = work.build.assembly.events, end_name(strap.name, which)
    sewn = next((run.event for run in work.build.assembly.runs if run.line == line), len(events))
    later = [one for one in _closed_by(work, strap, which) if sewn < one and events[sewn].step == events[one].step]
    return sewn if later else None


def turned_by(work: Work, at: int) -> frozenset[tuple[str, int]]:
    """The straps with their ends, first (0) or second (1), that are turned once a step (from 0) is done."""
    steps = [event.step for event in work.build.assembly.events]
    found = ((strap, which) for strap in work.build.straps for which in (0, 1))
    return frozenset(
        (strap.name, which)
        for strap, which in found
        if (index := _turning_event(work, strap, which)) is not None and index < len(steps) and steps[index] <= at
    )


def _turning_event(work: Work, strap: Strap, which: int) -> int | None:
    """The event by which an end is turned: what sews through it, turns it, or closes it; None where there is none."""
    turned = work.turned_at(strap.name, which)
    tries = (_sewn_turned(work, strap, which), _sewn_itself(work, strap, which), turned if turned >= 0 else None)
    return next((index for index in tries if index is not None), min(_closed_by(work, strap, which), default=None))


def turn_acts(work: Work, strap: Strap, ends: list[int]) -> Iterator[Act]:
    """How turned ends are folded; two that are alike in one line."""
    turned = [which for which in ends if strap.ends[which].shape == "turned"]
    first, second = strap.ends
    if len(turned) == 2 and turned_words(strap, first, work.build) == turned_words(strap, second, work.build):
        yield act("turn_both", part=work.titles[strap.name], words=turned_words(strap, first, work.build))
        return
    for which in turned:
        words = turned_words(strap, strap.ends[which], work.build)
        yield act("turn_end", part=work.titles[strap.name], end=END_NAMES[which], words=words)
