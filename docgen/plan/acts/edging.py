"""Cut edges: finished before they lie on leather, where no edge tool reaches, else once their last seam is sewn; where the
finish itself says when, then. Nothing of what the words of a step speak of. Common practice, no published source."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence, Set
from itertools import chain, takewhile

from docgen.geometry.outline import SIDES, outline_box
from docgen.geometry.path import grow_box, holds_box, path_box
from docgen.plan.act import Act, act
from docgen.plan.acts.finish_words import finish_words, is_of_mouth
from docgen.plan.acts.spoken_edges import parts_named, speaks_of_edges, spoken_of, spoken_whole
from docgen.plan.acts.work import Work
from docgen.plan.cutting import join_words
from docgen.plan.step_words import done_in
from docgen.resolve import Landing, Piece, Strap
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
    covered = [name for name in work.covered[at] if not _says_when(work, name)]
    mouths = [name for name in _laid_in(work, at) if name not in covered and _is_of_mouth(work, name)]
    yield from _finish(work, [*covered, *mouths], "edges_first", at)
    first = [name for name in work.pieces if work.first_fastened.get(name) == at]
    first += [name for name, (begun, _) in _find_bases(work).items() if begun == at and _says(work, name, EDGES_BEFORE)]
    later = {*chain(*work.covered), *work.last_outside}
    now = [
        name
        for name in first
        if _says(work, name, EDGES_BEFORE) or not (name in later or _waits(work, name) or _level_hosts(work, name))
    ]
    yield from _finish(work, [name for name in now if not _says_both(work, name)], "edges_now", at)
    both = [name for name in now if _says_both(work, name) and _is_meant_before(work, at, name)]
    yield from _finish(work, both, "edges_before", at)


def _find_bases(work: Work) -> dict[str, tuple[int, int]]:
    """The pieces that nothing fastens by their edges, and that lie on nothing: the first and the last step that lays or
    sews something on each."""
    loose = {name for name in work.pieces if name not in work.first_fastened and name not in work.last_outside}
    found: dict[str, tuple[int, int]] = {}
    for index, event in enumerate(work.build.assembly.events) if loose else ():
        flat = [side.part for side in work.seams[event.name].sides] if event.kind == "seams" else []
        hosts = [lies.host.part for lies in work.lays_at(index) if not lies.is_cover]
        for name in loose.intersection((*flat, *hosts)):
            found[name] = (found[name][0] if name in found else event.step, event.step)
    return found


def _laid_in(work: Work, at: int) -> Iterator[str]:
    """The pieces that come to lie on others in a step, each once."""
    found = (lies.copy.part for index, _ in work.events(at) for lies in work.lays_at(index) if not lies.is_cover)
    yield from (name for name in dict.fromkeys(found) if name in work.pieces)


def _is_of_mouth(work: Work, name: str) -> bool:
    """Whether a finish is of a mouth alone, and says no time, of a piece that lands: no seam takes that edge, and it is
    finished before the piece lies there."""
    return is_of_mouth(work.material_of(name).edges) and not _says_when(work, name) and _lands(work, name)


def _lands(work: Work, name: str) -> bool:
    return any(one.piece == name for base in work.build.pieces for one in base.marks.landings)


def _waits(work: Work, name: str) -> bool:
    """Whether a finish says when it is done, and not of seams alone, of a piece that none takes by its edges."""
    is_sewn = any(side.part == name and side.edges for seam in work.build.seams for side in seam.sides)
    times = (*EDGES_FIRST, *EDGES_BY_STEPS, *EDGES_WITH) if not is_sewn else ()
    return _says(work, name, times) if times else _says_when(work, name)


def late_edge_acts(work: Work, at: int) -> Iterator[Act]:
    """The pieces of which a step sews the last edge that stays outside, but for those that are finished before."""
    covered = {*chain(*work.covered)}
    last = [name for name in work.pieces if _last_sewn(work, name) == at]
    bases = [name for name, (_, done) in _find_bases(work).items() if done == at and not _says(work, name, EDGES_WITH)]
    bases = [name for name in bases if _says_both(work, name) or not _says(work, name, EDGES_BEFORE)]
    last += [name for name in work.pieces if name in bases and name not in last]
    last = [one for one in last if not (one in covered and _says(work, one, EDGES_WITH))]  # it lies free of the other
    last = [one for one in last if not _is_of_mouth(work, one)]
    now = [name for name in last if _says(work, name, EDGES_AFTER) or not (_says_when(work, name) or name in covered)]
    yield from _finish(work, [name for name in now if not _says_both(work, name)], "edges_now", at)
    both = [name for name in now if _says_both(work, name) or (name not in covered and _is_begun(work, at, name))]
    yield from _finish(work, both, "edges_rest", at)


def _is_begun(work: Work, at: int, name: str) -> bool:
    """Whether steps before have finished some of the edges of a part by their own words, and none all of them."""
    beneath = {*chain(*work.covered)}
    spoken = [k for k, step in enumerate(work.steps) if name in spoken_of(work, k, done_in(step), beneath)]
    return bool(spoken) and all(
        k < at and name not in spoken_whole(work, k, done_in(work.steps[k]), beneath) for k in spoken
    )


def _last_sewn(work: Work, name: str) -> int:
    """The step that sews the last edge of a piece that stays outside; of one that is finished with another the last of
    what it is sewn to besides; -1 where none does."""
    is_sewn = name in work.last_outside
    level = _level_hosts(work, name) if _says_both(work, name) or not is_sewn else set[str]()
    if not is_sewn and not level:
        return -1
    names = {name, *level}
    if _says(work, name, EDGES_WITH):
        names |= {one for seam in work.build.seams if name in seam.parts for one in work.outside(seam)}
    return max(work.last_outside.get(one, -1) for one in names)


def _level_hosts(work: Work, name: str) -> set[str]:
    """What a piece lands on with an edge that no seam of its own takes level with one of that: it is sewn, and finished,
    with it."""
    own = {edge for seam in work.build.seams for side in seam.sides if side.part == name for edge in side.edges}
    free = [side for side in SIDES if side not in own]
    return {
        base.name
        for base in work.build.pieces
        for landing in base.marks.landings
        if landing.piece == name and _is_level(base, landing, free)
    }


def _is_level(base: Piece, landing: Landing, sides: Sequence[str]) -> bool:
    """Whether one of these sides of what lands within a piece lies on the same side of that."""
    rim, box = outline_box(base.sewn_outline), path_box(landing.outline)
    is_level = any(abs(box.level(side) - rim.level(side)) < LEVEL_MM for side in sides)
    return is_level and holds_box(grow_box(rim, LEVEL_MM), box)


def strap_edge_acts(work: Work, at: int, strap: Strap, *, is_sewn: bool) -> Iterator[Act]:
    """A strap, before an end of it is turned; where its finish says that it comes once it is sewn, and it is sewn along, or
    two layers have one edge only then, after that."""
    is_turned = any(end.shape == "turned" for end in strap.ends)
    is_along = _is_sewn_along(work, strap)
    is_made_up = bool(strap.lining) and not is_turned and is_along
    is_late = (is_along and _says(work, strap.name, EDGES_AFTER)) or is_made_up
    if is_sewn == (is_late and not _says(work, strap.name, (*EDGES_BEFORE, *EDGES_FIRST))):
        is_timed = _says(work, strap.name, (*EDGES_BEFORE, *EDGES_FIRST, *(EDGES_AFTER if is_along else ())))
        is_first = is_turned and (not is_timed or _says(work, strap.name, EDGES_BY_STEPS))
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


def spoken_edge_tools(work: Work, at: int) -> Iterator[str]:
    """The tools for the edges that the words of a step finish, where these do not say how, but the finish of the material
    does: of one that smooths the mouths of pockets which are burnished a burnisher."""
    said = " ".join(done_in(work.steps[at])).lower()
    if not speaks_of_edges(said) or any(verb in said for verb in EDGE_TOOLS):
        return
    named = spoken_of(work, at, done_in(work.steps[at]), frozenset())
    finishes = " ".join(work.material_of(name).edges.lower() for name in sorted(named))
    yield from (tool for verb, tool in EDGE_TOOLS.items() if verb in finishes)


def edge_words_of(acts: Iterable[Act]) -> list[str]:
    """How the edges of these lines are finished, in the words of the spec."""
    return [str(dict(one.values)["edges"]) for one in acts if one.case in CASES]


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
    steps, but in a step that is called after the finish of its edges and has no line of it, or that makes a strap and names
    the tools for it. What comes later is not spared
    by the words of a step before."""
    steps, names = work.steps, [*names]
    if not names:
        return
    speaking = [k for k, step in enumerate(steps) if any(map(speaks_of_edges, done_in(step)))]
    since = at if case == "edges_rest" else 0
    beneath = {*chain(*work.covered)}
    spoken = {k: _spoken_since(work, k, since, beneath) for k in speaking}
    told = {name for found in spoken.values() for name in found}
    promised = spoken_of(work, at, [steps[at].do], beneath) if at in speaking else frozenset[str]()
    promised -= spoken_of(work, at, done_in(steps[at])[1:], beneath) if promised else frozenset[str]()
    found: dict[str, dict[str, None]] = {}
    straps = [name for name in names if name in work.straps and _has_edge_tools(work, at, name)]
    promised |= {
        one for one in straps if not any(one in spoken[k] and (k <= at or one in work.handled[k]) for k in speaking)
    }
    for name in (one for one in names if one in promised or not (one in told or _says(work, one, EDGES_BY_STEPS))):
        words = work.material_of(name).edges.removesuffix(".")
        is_bare = is_of_mouth(words) and name in work.pieces and not _lands(work, name)  # it has no mouth
        if any(verb in words.lower() for verb in EDGE_TOOLS) and not is_bare:
            words = SEE_RE.sub("", words)
            told_words = words if case == "edges_before" else finish_words(words, is_rest=case == "edges_rest")
            found.setdefault(told_words, {})[work.titles[name]] = None
    yield from (act(case, parts=join_words([*titles]), edges=words) for words, titles in found.items())


def _has_edge_tools(work: Work, at: int, name: str) -> bool:
    """Whether a step names a tool for the edges of a part itself."""
    finish, tools = work.material_of(name).edges.lower(), " | ".join(work.steps[at].tools)
    nouns = [tool.removeprefix("edge ") for verb, tool in EDGE_TOOLS.items() if verb in finish]
    return any(has_phrase(tools, noun) for noun in nouns)


def _spoken_since(work: Work, at: int, since: int, beneath: Set[str]) -> frozenset[str]:
    """The parts whose edges the words of a step finish; of a step before that one only by a line that does so all round."""
    lines = done_in(work.steps[at])
    if at >= since:
        return spoken_of(work, at, lines, beneath)
    return spoken_whole(work, at, [one for one in lines if has_phrase(one, ALL_ROUND)], beneath)
