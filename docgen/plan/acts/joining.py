"""Joins: which ends of strips lie over which, how they are held, and the rows that sew them."""

from __future__ import annotations

from collections.abc import Iterator

from docgen.assemble import Event
from docgen.plan.act import Act, Told, act
from docgen.plan.acts.holding import find_glues, glue_words
from docgen.plan.acts.sewing import sew_acts
from docgen.plan.acts.slick import is_slick
from docgen.plan.acts.work import Work
from docgen.plan.step_words import said_in
from docgen.resolve import Join, joint_ends, turned_strip
from docgen.tables.cautions import has_phrase
from docgen.tables.practice import TAPE

SHORT_MM = 0.5  # by so much a row across a joint may end short of the edges, and is said to go right across


def join_acts(work: Work, at: int, event: Event) -> Iterator[Act]:
    """Which ends lie over which, how far, and how they are held; then the rows. What is glued is marked first, and laid
    down once it is dry: what takes at once cannot be shifted."""
    join = work.joins[event.name]
    ends = joint_ends(join, work.pieces)
    turned = turned_strip(join, work.pieces)
    told = [
        _over(
            work,
            join,
            (one, _joint_end(ends[one], 1, k == turned)),
            (other, _joint_end(ends[other], 0, k + 1 == turned)),
        )
        for k, (one, other) in enumerate(join.neighbours)
    ]
    glues = find_glues(work, at)
    glues = [glue for glue in glues if not has_phrase(glue, TAPE)] or glues
    joints = tuple(dict.fromkeys(told))
    laps = act("laps_each" if sum(job.runs for job in work.jobs_of(event)) > 1 else "laps_one")
    if not glues:
        yield from (_join_act(work, join, joints), act("hold_clips"))
    elif any(has_phrase(glue, TAPE) for glue in glues):
        yield from (act("tape_overlap", glue=glue_words(glues), laps=laps), _join_act(work, join, joints))
    else:
        case = "join_ring_marked" if _is_one(join) else "join_marked"
        yield act(case, part=work.titles[join.name], overlap=work.length(join.overlap_mm), joints=joints)
        if is_slick(work, join.name, work.outer(join.name)):
            yield act("roughen_overlap", laps=laps)
        yield from (act("hold_overlap", glue=glue_words(glues), laps=laps), act("press_overlap"))
    short_mm = max(((join.width_mm - job.length_mm) / 2 for job in work.jobs_of(event)), default=0.0)
    gap = work.length(short_mm)
    if short_mm > SHORT_MM and not any(f"{gap} short" in words for words in said_in(work.steps[at])):
        yield act("joint_short", gap=gap)
    yield from sew_acts(work, at, event)


def _join_act(work: Work, join: Join, joints: tuple[Act, ...]) -> Act:
    """Edges in line; goods by length stand over at both ends."""
    values: dict[str, Told] = {
        "part": work.titles[join.name],
        "overlap": work.length(join.overlap_mm),
        "joints": joints,
    }
    over = [item for item in work.build.trimmings if item.name in join.pieces and item.ends_mm and not item.written_mm]
    if not over:
        return act("join_ring" if _is_one(join) else "join", **values)
    return act("join_goods", **values, goods=work.goods[over[0].name], over=work.length(over[0].ends_mm))


def _is_one(join: Join) -> bool:
    """Whether one strip alone closes on itself."""
    return join.is_ring and len(join.pieces) == 1


def _over(work: Work, join: Join, one: tuple[str, str], other: tuple[str, str]) -> Act:
    """One end of a strip over that of the next, or under it; of goods by length between them the sides lie beneath."""
    (upper, end), (lower, start) = one, other
    if work.pieces[lower].by_length:
        return act("over_one_side", one=work.titles[upper], end=end, other=work.titles[lower])
    if work.pieces[upper].by_length:
        return act("over_other_side", one=work.titles[lower], end=start, other=work.titles[upper])
    if join.lies_under(upper, lower):
        (upper, end), (lower, start) = other, one
    if _is_one(join):
        return act("over_own", end=end, start=start)
    return act("over", one=work.titles[upper], end=end, other=work.titles[lower], start=start)


def _joint_end(ends: tuple[str, ...], which: int, is_turned: bool) -> str:
    """The end of a strip at a joint, of one that has two the first or the last."""
    return ends[0] if len(ends) == 1 else ends[0 if which == 0 or is_turned else -1]
