"""The numbered lines of a step: its own first ones, what each event does, in the order of the work, its own last ones."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence, Set

from docgen.assemble import Event
from docgen.plan.act import Act, act
from docgen.plan.acts.edging import early_edge_acts, edges_together, late_edge_acts
from docgen.plan.acts.glued_edges import edges_act
from docgen.plan.acts.hardware import hardware_acts
from docgen.plan.acts.holding import (
    faces_act,
    find_glues,
    glue_acts,
    glue_words,
    glued_zip,
    is_fast_on,
    is_glued_by_seam,
    is_marked,
    marking,
)
from docgen.plan.acts.hung import hung_acts
from docgen.plan.acts.joining import join_acts
from docgen.plan.acts.laying import lay_acts, lining_under
from docgen.plan.acts.on_host import pressed_on_host
from docgen.plan.acts.sewing import damp_first_acts, divider_acts, seam_acts, sewn_on_acts
from docgen.plan.acts.shaping import bends_alone, fold_acts, hem_acts, hem_over_acts, punch_acts, skive_acts
from docgen.plan.acts.slick import is_slick
from docgen.plan.acts.straps import strap_acts
from docgen.plan.acts.taken_along import zip_acts
from docgen.plan.acts.work import Work
from docgen.plan.names import spoken
from docgen.plan.step_words import said_in
from docgen.plan.trimmings import trimming_lines
from docgen.resolve import Step
from docgen.tables.adhesives import find_wait, format_wait
from docgen.tables.cautions import has_phrase
from docgen.tables.consumables import GLUE_WORDS, is_glue
from docgen.tables.practice import SPRAYED, TAPE

ONCE = ("hold_faces", "bends_alone", "slot_by_holes")  # said once in a step
PRESSED = {  # a wait -> what follows it -> both in one line
    "wait": {"press_down": "wait_press", "press_overlap": "wait_overlap", "press_there": "wait_press_there"},
    "wait_again": {
        "press_down": "wait_again_press",
        "press_overlap": "wait_again_overlap",
        "press_there": "wait_again_press_there",
    },
}
BENDING = ("fold", "bend", "crease")  # words of a line that closes a flap itself
GLUING = (*GLUE_WORDS, "gluing", "stick", "bond", "paste")  # words of a step that puts glue on
GLUED = (
    "hold_glue",
    "hold_glue_all",
    "hold_own",
    "hold_within",
    "hold_strip",
    "hold_faces",
    "hold_overlap",
    "hold_layers",
    "hold_ends_marked",
    "hold_each",
    "hold_edges",
    "hold_rim",
    "hold_slot",
)


def step_acts(work: Work, at: int) -> tuple[Act, ...]:
    """The lines of step `at` (from 0): what is done to single pieces first, but for what its order names."""
    events, step = work.events(at), work.steps[at]
    timed = set(step.timed)
    skived = [event.name for _, event in events if event.kind == "skives" and ("skives", event.name) not in timed]
    early = {name for name in work.pieces if ("pieces", name) not in timed}
    found = [*(act("own", words=words) for words in step.first)]
    found += [*skive_acts(work, skived), *punch_acts(work, at, early), *early_edge_acts(work, at)]
    found += [*hem_acts(work, at, early), *fold_acts(work, at, early), *_goods_acts(work, at)]
    found += (one for strap in work.build.straps if strap.name not in step.straps for one in hung_acts(work, at, strap))
    for index, event in _straps_first(work, events):
        if (event.kind, event.name) in timed and event.kind == "skives":
            found += skive_acts(work, [event.name])
        elif (event.kind, event.name) in timed and event.kind == "pieces":
            found += _shape_acts(work, at, {event.name})
        if event.kind == "hardware" and not step.seams and not any(one.case in GLUED for one in found):
            found += _glued_on(work, at, index)
        found += (one for one in _event_acts(work, at, index, event) if one.case not in ONCE or one not in found)
    found += late_edge_acts(work, at)
    if not any(has_phrase(words, verb) for words in step.last for verb in BENDING):
        found += fold_acts(work, at, work.pieces.keys(), is_late=True)
    return (*_joined(_with_waits(step, edges_together(found))), *(act("own", words=words) for words in step.last))


def _straps_first(work: Work, events: Sequence[tuple[int, Event]]) -> list[tuple[int, Event]]:
    """The events of a step, each strap that hardware fastens or closes before that, where it is written behind it."""
    found = [*events]
    for index, event in events:
        if event.kind == "hardware":
            fits = [fit for fit in work.build.assembly.fastened if fit.event == index]
            parts = {part for fit in fits for part in fit.stack.parts}
            late = [
                one for one in found[found.index((index, event)) :] if one[1].kind == "straps" and one[1].name in parts
            ]
            found = [one for one in found if one not in late]
            at = found.index((index, event))
            found[at:at] = late
    return found


def _with_waits(step: Step, acts: Sequence[Act]) -> Iterator[Act]:
    """The lines with how long each glue is left: in full behind the first that puts it on, then as before."""
    waits, told = dict(list_waits(step.tools)), set[str]()
    for one in acts:
        yield one
        put_on = str(dict(one.values).get("glue", "")) if one.case in GLUED else ""
        goods = [name for name in waits if name in put_on]
        yield from (
            act("wait_for" if " or " in put_on else "wait", goods=name, wait=waits[name])
            for name in goods
            if name not in told
        )
        if goods and told.issuperset(goods):
            yield act("wait_again")
        told.update(goods)


def _joined(acts: Iterable[Act]) -> Iterator[Act]:
    """The lines, with what is pressed down once the glue is dry in the line of the wait."""
    found = [*acts]
    for before, one, after in zip([None, *found], found, [*found[1:], None], strict=False):
        if one.case in PRESSED and after is not None and after.case in PRESSED[one.case]:
            yield act(PRESSED[one.case][after.case], **dict(one.values), **dict(after.values))
        elif before is None or one.case not in PRESSED.get(before.case, {}):
            yield one


def untold_waits(step: Step, acts: Sequence[Act]) -> tuple[tuple[str, str], ...]:
    """Waits of a step that none of its lines tells; of a glue only where a line, or the step's own words, put it on."""
    told = {
        str(dict(one.values)["goods"]) for one in acts if one.case in ("wait", "wait_for", *PRESSED["wait"].values())
    }
    put_on = " ".join(str(dict(one.values).get("glue", "")) for one in acts)
    is_spoken = any(has_phrase(words, verb) for words in said_in(step) for verb in GLUING)
    return tuple(
        (goods, wait)
        for goods, wait in list_waits(step.tools)
        if goods not in told and (is_spoken or goods in put_on or not is_glue(goods))
    )


def list_waits(tools: Sequence[str]) -> list[tuple[str, str]]:
    """Glues, paints and the like among tools, with how long each takes."""
    found = ((tool, find_wait(tool)) for tool in tools)
    return [(tool, format_wait(wait)) for tool, wait in found if wait is not None]


def _shape_acts(work: Work, at: int, names: Set[str]) -> list[Act]:
    """What is punched, hemmed and folded of these pieces."""
    return [*punch_acts(work, at, names), *hem_acts(work, at, names), *fold_acts(work, at, names)]


def _event_acts(work: Work, at: int, index: int, event: Event) -> Iterator[Act]:
    if event.kind == "seams":
        yield from bends_alone(work, at, work.sewn_pieces(work.seams[event.name]))
        yield from damp_first_acts(work, at, work.seams[event.name])
        zips = zip_acts(work, work.seams[event.name])
        laid = iter(()) if work.is_pinned(at, index) else _laid_for_seam(work, at, index, event)
        yield from (*laid, *zips) if glued_zip(work, at, work.seams[event.name]) else (*zips, *laid)
        yield from hem_over_acts(work, at, work.seams[event.name])
        yield from seam_acts(work, at, event)
    elif event.kind == "joins":
        yield from join_acts(work, at, event)
    elif event.kind == "dividers":
        yield from lay_acts(work, at, index)
        yield from divider_acts(work, at, event)
    elif event.kind == "landings":
        yield from lay_acts(work, at, index)
        yield from sewn_on_acts(work, at, event)
    elif event.kind == "straps":
        yield from strap_acts(work, at, index, event)
        yield from lay_acts(work, at, index)
    elif event.kind == "hardware":
        pinned = (one for later, seam in work.pinned_at(at, index) for one in _laid_for_seam(work, at, later, seam))
        yield from hardware_acts(work, at, index, event, (*lay_acts(work, at, index), *pinned))
    elif event.kind == "pieces":
        marked = [*_marked_acts(work, at, index)]
        yield from _glued_on(work, at, index) if not marked else ()
        yield from (*lay_acts(work, at, index), *marked)


def _laid_for_seam(work: Work, at: int, index: int, event: Event) -> Iterator[Act]:
    """What a seam sews on is laid in its place, and glued there."""
    seam = work.seams[event.name]
    glued, laid = glue_acts(work, at, event), lay_acts(work, at, index)
    yield from (*laid, *glued, _press_act(work, event)) if is_marked(work, at, seam) else (*glued, *laid)
    if find_glues(work, at) and is_fast_on(work, seam):
        yield act("press_there", part=work.titles[work.sides(seam)[0].part])


def _press_act(work: Work, event: Event) -> Act:
    """What was laid dry and marked comes to lie for good, from the lowest up."""
    parts = [work.titles[part] for part in pressed_on_host(work, work.seams[event.name])]
    first = "first " if len(parts) > 1 else ""
    return act("press_down", part=first + ", then ".join(parts))


def _glued_on(work: Work, at: int, index: int) -> Iterator[Act]:
    """The glue of what a step only lays on: all over both faces, as of foam; of what a later seam holds along some of its
    edges, as a pocket, along these."""
    glues = find_glues(work, at)
    laid = [lies for lies in work.lays_at(index) if glues and not is_glued_by_seam(work, at, lies)]
    told = [edges_act(work, lies, glue_words(glues)) for lies in laid]
    yield from dict.fromkeys(one for one in told if one is not None)
    if None in told:
        yield faces_act(work, at, glue_words(glues))


def _marked_acts(work: Work, at: int, index: int) -> Iterator[Act]:
    """Of one part that a step only lays on a piece, and glues along edges with what takes at once: it is laid there dry,
    marked, and taken off for the glue, as what a seam sews there is."""
    glues, laid = find_glues(work, at), work.lays_at(index)
    if not glues or any(has_phrase(glue, word) for glue in glues for word in (TAPE, *SPRAYED)):
        return
    told = {edges_act(work, lies, glue_words(glues)) for lies in laid if not is_glued_by_seam(work, at, lies)}
    if len(told) != 1 or None in told or len({lies.host.part for lies in laid}) > 1:
        return
    values = {name: value for one in told if one is not None for name, value in one.values}
    if "edges" not in values:
        return  # round its rim alone
    lies = laid[0]
    below = lining_under(work, lies.copy.part, lies.host.part, index) if lies.is_inside else ""
    ground = work.inner(lies.host.part) if lies.is_inside and not below else work.outer(below or lies.host.part)
    is_rough = is_slick(work, below or lies.host.part, ground)
    yield act(marking("mark_each" if len(laid) > 1 else "mark_round", is_rough))
    yield act("hold_within", **{name: value for name, value in values.items() if name != "host"})
    yield act("press_down", part=str(values["part"]))


def _goods_acts(work: Work, at: int) -> list[Act]:
    """What is cut of goods by length, and how."""
    lines: dict[str, list[str]] = {}
    for title, words in trimming_lines(work.build, work.steps, at):
        lines.setdefault(title, []).append(words)
    return [act("told", part=spoken(title), words="; ".join(dict.fromkeys(words))) for title, words in lines.items()]
