"""Cut edges: finished before they lie on leather, where no edge tool reaches, else once their last seam is sewn; where the
finish itself says when, then. Nothing of what the words of a step speak of. Common practice, no published source."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from itertools import takewhile

from docgen.geometry.outline import SIDES, outline_box
from docgen.geometry.path import grow_box, holds_box, path_box
from docgen.plan.act import Act, act
from docgen.plan.acts.finish_words import finish_words
from docgen.plan.acts.on_host import lands_on
from docgen.plan.acts.spoken_edges import parts_named, speaks_of_edges, spoken_of
from docgen.plan.acts.work import Work
from docgen.plan.cutting import join_words
from docgen.resolve import Piece, Seam, Step, Strap, side_pieces
from docgen.tables.cautions import has_phrase
from docgen.tables.practice import EDGE_TOOLS, EDGES_AFTER, EDGES_BEFORE, EDGES_BY_STEPS, EDGES_FIRST, EDGES_WITH

SEE_RE = re.compile(r",? see (the )?steps\b.*", re.I)
LEVEL_MM = 0.5
ALL_ROUND = "all round"
SHAPED = ("strap", "strap_holes", "slot_by_holes", "keeper_held", "keeper_loose")
CASES = ("edges_first", "edges_unturned", "edges_now", "edges_before", "edges_rest")


def early_edge_acts(work: Work, at: int) -> Iterator[Act]:
    """The pieces that a step sews flat on something else, those whose finish says that it comes first and that the step is
    the first to fasten, and those that no seam takes by an edge that stays outside."""
    covered = {name for k in range(len(work.steps)) for name in _covered(work, k)}
    yield from _finish(work, [name for name in _covered(work, at) if not _says_when(work, name)], "edges_first", at)
    first = [name for name in work.pieces if next(_fastened_in(work, name), -1) == at]
    now = [
        name
        for name in first
        if _says(work, name, EDGES_BEFORE)
        or not (_waits(work, name) or name in covered or list(_sewn_in(work, name)) or _is_level(work, name))
    ]
    yield from _finish(work, [name for name in now if not _says_both(work, name)], "edges_now", at)
    both = [name for name in now if _says_both(work, name) and _is_meant_before(work, at, name)]
    yield from _finish(work, both, "edges_before", at)


def _waits(work: Work, name: str) -> bool:
    """Whether a finish says when it is done, and not of seams alone, of a piece that none takes by its edges."""
    is_sewn = any(side.part == name and side.edges for seam in work.build.seams for side in seam.sides)
    times = (*EDGES_FIRST, *EDGES_BY_STEPS, *EDGES_WITH) if not is_sewn else ()
    return _says(work, name, times) if times else _says_when(work, name)


def _is_level(work: Work, name: str) -> bool:
    """Whether an edge of a piece lies level with one of what it lands on: it is finished with that."""
    return any(any(_lies_level(work, base, name)) for base in work.build.pieces)


def late_edge_acts(work: Work, at: int) -> Iterator[Act]:
    """The pieces of which a step sews the last edge that stays outside, but for those that are finished before."""
    covered = {name for k in range(len(work.steps)) for name in _covered(work, k)}
    last = [name for name in work.pieces if _last_sewn(work, name) == at]
    last = [
        name for name in last if not (name in covered and _says(work, name, EDGES_WITH))
    ]  # it lies free of the other
    now = [name for name in last if _says(work, name, EDGES_AFTER) or not (_says_when(work, name) or name in covered)]
    yield from _finish(work, [name for name in now if not _says_both(work, name)], "edges_now", at)
    yield from _finish(work, [name for name in now if _says_both(work, name)], "edges_rest", at)


def _last_sewn(work: Work, name: str) -> int:
    """The step that sews the last edge of a piece that stays outside; of one that is finished with another the last of
    what it is sewn to besides; -1 where none does."""
    names, is_sewn = {name}, any(True for _ in _sewn_in(work, name))
    if _says(work, name, EDGES_WITH):
        names |= {one for seam in work.build.seams if name in seam.parts for one in _outside(work, seam)}
    bases = work.build.pieces if _says_both(work, name) or not is_sewn else ()
    level = {base.name for base in bases if any(_lies_level(work, base, name))}
    if not is_sewn and not level:
        return -1
    names |= level
    return max((step for one in names for step in _sewn_in(work, one)), default=-1)


def _lies_level(work: Work, base: Piece, name: str) -> Iterator[bool]:
    """Whether an edge of a piece that no seam of its own takes lies level with one of what it lands on, and is sewn with
    that: for each landing."""
    rim = outline_box(base.sewn_outline)
    about = grow_box(rim, LEVEL_MM)
    own = {edge for seam in work.build.seams for side in seam.sides if side.part == name for edge in side.edges}
    for box in (path_box(one.outline) for one in base.marks.landings if one.piece == name):
        levels = [side for side in SIDES if side not in own and abs(box.level(side) - rim.level(side)) < LEVEL_MM]
        yield bool(levels) and holds_box(about, box)


def strap_edge_acts(work: Work, at: int, strap: Strap, *, is_sewn: bool) -> Iterator[Act]:
    """A strap, before an end of it is turned; where its finish says that it comes later, or two layers have one edge only
    then, once it is sewn."""
    is_turned = any(end.shape == "turned" for end in strap.ends)
    is_made_up = bool(strap.lining) and not is_turned and _is_sewn_along(work, strap)
    is_late = _says(work, strap.name, EDGES_AFTER) or is_made_up
    if is_sewn == (is_late and not _says(work, strap.name, (*EDGES_BEFORE, *EDGES_FIRST))):
        is_first = is_turned and (not _says_when(work, strap.name) or _says(work, strap.name, EDGES_BY_STEPS))
        yield from _finish(work, [strap.name], "edges_unturned" if is_first else "edges_now", at)


def _is_sewn_along(work: Work, strap: Strap) -> bool:
    return any((run.kind, run.part) == ("straps", strap.name) for run in work.build.assembly.runs)


def edges_together(acts: Sequence[Act]) -> list[Act]:
    """The lines of a step with edges that are finished alike, of straps that are shaped one after the other, in one."""
    found: list[Act] = []
    for one in acts:
        shaped = len([*takewhile(lambda last: last.case in SHAPED, reversed(found))])
        before = found[-shaped - 1] if shaped and len(found) > shaped and one.case in CASES else None
        if before is not None and (before.case, _edges(before)) == (one.case, _edges(one)):
            parts = "; ".join(str(dict(edged.values)["parts"]) for edged in (before, one))
            found.pop(-shaped - 1)
            found.append(act(one.case, parts=parts, edges=_edges(one)))
        else:
            found.append(one)
    return found


def _edges(one: Act) -> str:
    return str(dict(one.values).get("edges", ""))


def edge_tools(acts: Iterable[Act]) -> Iterator[str]:
    """What the edges of these lines are finished with."""
    told = " ".join(edge_words_of(acts))
    yield from (tool for verb, tool in EDGE_TOOLS.items() if verb in told.lower())


def edge_words_of(acts: Iterable[Act]) -> list[str]:
    """How the edges of these lines are finished, in the words of the spec."""
    return [str(dict(one.values)["edges"]) for one in acts if one.case in CASES]


def _covered(work: Work, at: int) -> list[str]:
    """The pieces that a step sews flat on something else."""
    names: list[str] = []
    for seam in (work.seams[event.name] for _, event in work.events(at) if event.kind == "seams"):
        flat = {side.part for side in seam.sides if not side.edges}
        own = [side for side in work.sides(seam) if side.part not in flat]
        names += [name for side in own for name in side_pieces(work.build, side)] if flat and not seam.is_turned else []
    return names


def _sewn_in(work: Work, name: str) -> Iterator[int]:
    """The steps that sew edges of a piece which stay outside."""
    yield from (
        event.step
        for event in work.build.assembly.events
        if event.kind == "seams" and name in _outside(work, work.seams[event.name])
    )


def _outside(work: Work, seam: Seam) -> list[str]:
    """The pieces whose edges a seam leaves outside, those too that lie beneath, level with what is sewn on them."""
    flat = [] if lands_on(work, seam) else [side.part for side in seam.sides if not side.edges]
    return [] if seam.is_turned else [*work.sewn_pieces(seam), *flat]


def _fastened_in(work: Work, name: str) -> Iterator[int]:
    """The steps that sew edges of a piece, join it, lay it on another, or set hardware in it."""
    fits = work.build.assembly.fastened
    for index, event in enumerate(work.build.assembly.events):
        seam, join = work.seams.get(event.name), work.joins.get(event.name)
        is_sewn = event.kind == "seams" and seam is not None and name in work.sewn_pieces(seam)
        is_joined = event.kind == "joins" and join is not None and name in join.pieces
        is_laid = any(lies.copy.part == name and not lies.is_cover for lies in work.lays_at(index))
        if is_sewn or is_joined or is_laid or any(fit.event == index and name in fit.stack.parts for fit in fits):
            yield event.step


def _says(work: Work, name: str, words: Iterable[str]) -> bool:
    return any(has_phrase(work.material_of(name).edges, word) for word in words)


def _says_both(work: Work, name: str) -> bool:
    """Whether some of the edges of a piece are finished before it is sewn, and the rest later."""
    return _says(work, name, EDGES_BEFORE) and _says(work, name, EDGES_AFTER)


def _is_meant_before(work: Work, at: int, name: str) -> bool:
    """Whether the words of a finish that say before name a part, as pocket tops do, and not this one."""
    clauses = re.split("[,;:.]", work.material_of(name).edges)
    early = [one for one in clauses if any(has_phrase(one, word) for word in EDGES_BEFORE)]
    named = {part for one in early for part in parts_named(work, at, one)}
    return not named or name in named


def _says_when(work: Work, name: str) -> bool:
    """Whether a finish itself says when it is done."""
    return _says(work, name, (*EDGES_BEFORE, *EDGES_FIRST, *EDGES_AFTER, *EDGES_BY_STEPS))


def _finish(work: Work, names: Iterable[str], case: str, at: int) -> Iterator[Act]:
    """One line for each finish; none of a part of whose edges words of a step speak, nor of one that is finished by the
    steps, but in a step that is called after the finish of its edges and has no line of it. What comes later is not spared
    by the words of a step before."""
    steps, names = work.steps, [*names]
    if not names:
        return
    speaking = [k for k, step in enumerate(steps) if any(map(speaks_of_edges, _lines(step)))]
    since = at if case == "edges_rest" else 0
    beneath = {name for k in range(len(steps)) for name in _covered(work, k)} if speaking else set[str]()
    told = {name for k in speaking for name in spoken_of(work, k, _lines_since(steps[k], k, since), beneath)}
    promised = spoken_of(work, at, [steps[at].do], beneath) if at in speaking else frozenset[str]()
    promised -= spoken_of(work, at, _lines(steps[at])[1:], beneath) if promised else frozenset[str]()
    found: dict[str, dict[str, None]] = {}
    for name in (one for one in names if one in promised or not (one in told or _says(work, one, EDGES_BY_STEPS))):
        words = work.material_of(name).edges.removesuffix(".")
        if any(verb in words.lower() for verb in EDGE_TOOLS):
            words = SEE_RE.sub("", words)
            told_words = words if case == "edges_before" else finish_words(words, is_rest=case == "edges_rest")
            found.setdefault(told_words, {})[work.titles[name]] = None
    yield from (act(case, parts=join_words([*titles]), edges=words) for words, titles in found.items())


def _lines_since(step: Step, at: int, since: int) -> tuple[str, ...]:
    """Of a step before that one only what finishes a part all round."""
    return tuple(one for one in _lines(step) if at >= since or has_phrase(one, ALL_ROUND))


def _lines(step: Step) -> tuple[str, ...]:
    """What is done in a step in the words of the spec."""
    return (step.do, *step.first, *step.last)
