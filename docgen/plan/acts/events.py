"""The numbered lines of a step: what each event does, in the order of the work."""

from __future__ import annotations

from collections.abc import Iterator, Set

from docgen.assemble import Event
from docgen.plan.act import Act, act
from docgen.plan.acts.hardware import hardware_acts
from docgen.plan.acts.laying import lay_acts
from docgen.plan.acts.sewing import divider_acts, find_glues, glue_acts, join_acts, seam_acts, sewn_on_acts
from docgen.plan.acts.shaping import fold_acts, hem_acts, punch_acts, skive_acts
from docgen.plan.acts.straps import strap_acts
from docgen.plan.acts.work import Work
from docgen.plan.cutting import join_words
from docgen.plan.trimmings import trimming_lines


def step_acts(work: Work, at: int) -> tuple[Act, ...]:
    """The lines of step `at` (from 0): what is done to single pieces first, but for what its order names."""
    events, step = work.events(at), work.steps[at]
    timed = set(step.work[: len(step.order)])
    skived = [event.name for _, event in events if event.kind == "skives" and ("skives", event.name) not in timed]
    early = {name for name in work.pieces if ("pieces", name) not in timed}
    found = [*skive_acts(work, skived), *_shape_acts(work, at, early), *_goods_acts(work, at)]
    for index, event in events:
        if (event.kind, event.name) in timed and event.kind == "skives":
            found += skive_acts(work, [event.name])
        elif (event.kind, event.name) in timed and event.kind == "pieces":
            found += _shape_acts(work, at, {event.name})
        found += (one for one in _event_acts(work, at, index, event) if one.case != "hold_faces" or one not in found)
    return tuple(found)


def _shape_acts(work: Work, at: int, names: Set[str]) -> list[Act]:
    """What is punched, hemmed and folded of these pieces."""
    return [*punch_acts(work, at, names), *hem_acts(work, at, names), *fold_acts(work, at, names)]


def _event_acts(work: Work, at: int, index: int, event: Event) -> Iterator[Act]:
    if event.kind == "seams":
        yield from glue_acts(work, at, event)
        yield from lay_acts(work, at, index)
        yield from seam_acts(work, at, event)
    elif event.kind == "joins":
        yield from join_acts(work, at, event)
    elif event.kind == "dividers":
        yield from divider_acts(work, at, event)
    elif event.kind == "landings":
        yield from lay_acts(work, at, index)
        yield from sewn_on_acts(work, at, event)
    elif event.kind == "straps":
        yield from strap_acts(work, at, index, event)
        yield from lay_acts(work, at, index)
    elif event.kind == "hardware":
        yield from hardware_acts(work, at, index, event)
    elif event.kind == "pieces":
        laid, glues = [*lay_acts(work, at, index)], find_glues(work, at)
        is_sewn = any(one.kind in ("seams", "joins") for _, one in work.events(at))  # that says where the glue goes
        yield from [act("hold_faces", glue=join_words(glues))] if laid and glues and not is_sewn else ()
        yield from laid


def _goods_acts(work: Work, at: int) -> list[Act]:
    """What is cut of goods by length, and how."""
    lines: dict[str, list[str]] = {}
    for title, words in trimming_lines(work.build, work.steps, at):
        lines.setdefault(title, []).append(words)
    return [act("told", part=title, words="; ".join(dict.fromkeys(words))) for title, words in lines.items()]
