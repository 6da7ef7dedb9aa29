"""What holds two placed parts together, and the step that does it: a seam, a post, glue, or a ring in a fold."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import combinations

from docgen.assemble.apart.bodies import Body
from docgen.assemble.assembled import Assembled
from docgen.assemble.assembly import Copy, Sewn, group_joined
from docgen.assemble.landing import is_glued_by
from docgen.assemble.space.metal import Metal
from docgen.classes import dataclass
from docgen.resolve import by_name

Group = tuple[Copy, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Bond:
    """Two copies that a step (from 0; the number of steps for what none names) joins, by a seam or without; a strap that
    `is_hung` in the ring of the other one stays in its place there."""

    step: int
    one: Copy
    other: Copy
    seam: str = ""
    is_hung: bool = False


def find_bonds(build: Assembled, bodies: Mapping[Copy, Body]) -> tuple[Bond, ...]:
    """All bonds between placed parts, each pair once by what joins it first."""
    found: dict[frozenset[Copy], Bond] = {}
    held = [*_sewn(build, bodies), *_laid(build, bodies)]
    for bond in sorted((*held, *_hung(build, held, bodies)), key=lambda bond: bond.step):
        found.setdefault(frozenset((bond.one, bond.other)), bond)
    return tuple(found.values())


def _sewn(build: Assembled, bodies: Mapping[Copy, Body]) -> Iterator[Bond]:
    for once, wholes in _wholes(build, bodies):
        for one, other in combinations(wholes, 2):
            yield Bond(step=step_of(build, once.event), one=one, other=other, seam=once.seam)


def _wholes(build: Assembled, bodies: Mapping[Copy, Body]) -> Iterator[tuple[Sewn, Sequence[Copy]]]:
    """Each seam with its placed sides, each once, strips that are joined as what is placed: their join, where there is one
    of it."""
    joins = {
        piece: [body for body in bodies if body.part == join.name] for join in build.joins for piece in join.pieces
    }
    for once in build.assembly.sewn:
        found = ([side] if side in bodies else joins.get(side.part, []) for side in once.sides)
        yield once, [*dict.fromkeys(whole[0] for whole in found if len(whole) == 1)]


def _in_hand_by(build: Assembled, at: int, part: str) -> bool:
    """Whether a step (from 0) has a part to be glued on: where it lays goods, whose glue that may be, one that it or one
    before it has in hand."""
    if not build.assembly.steps[at].trimmings:
        return True
    seams = {seam.name for seam in build.seams if part in seam.parts}
    strips = {part, *(name for join in build.joins if join.name == part for name in join.pieces)}
    return any(
        not strips.isdisjoint((*step.pieces, *step.joins)) or not seams.isdisjoint(step.seams)
        for step in build.assembly.steps[: at + 1]
    )


def _laid(build: Assembled, bodies: Mapping[Copy, Body]) -> Iterator[Bond]:
    """What lies on its host: held where a post or a dividing line goes through both; else, where no seam holds it there,
    glued when both are there, as what lines it always is, whatever sews it later, and what a step glues down by that."""
    sewn = {frozenset(pair) for _, wholes in _wholes(build, bodies) for pair in combinations(wholes, 2)}
    for copy, body in bodies.items():
        host = body.placed.host
        if host is not None and host in bodies:
            step = None if body.placed.is_inner else _held_step(build, host, copy)
            if step is None and (body.placed.is_inner or frozenset((host, copy)) not in sewn):
                step = _glue_step(build, host, copy, is_cover=body.placed.is_inner)
            if step is not None:
                yield Bond(step=step, one=host, other=copy)
            if body.placed.how == "lies on" and not body.placed.is_inner:
                glued = [k for k, one in enumerate(build.assembly.steps) if is_glued_by(one, copy.part)]
                yield from (Bond(step=k, one=host, other=copy) for k in glued[:1] if _in_hand_by(build, k, host.part))


def _hung(build: Assembled, held: Sequence[Bond], bodies: Mapping[Copy, Body]) -> Iterator[Bond]:
    """Straps in the rings of tabs: from the last step that has the strap in hand on, but not before its tab is held."""
    for strap, tab in build.space.hung:
        tabs = [bond.step for bond in held if tab in (bond.one, bond.other)]
        if strap in bodies and tab in bodies and tabs:
            step = max([min(tabs), *(k for k, one in enumerate(build.assembly.steps) if strap.part in one.straps)])
            yield Bond(step=step, one=tab, other=strap, is_hung=True)


def _held_step(build: Assembled, host: Copy, copy: Copy) -> int | None:
    """The first step that sets a post through both, sews the end of a strap on to its host, or a dividing line through."""
    joined = {host.part: {host.part}, copy.part: {copy.part}}
    for join in build.joins:
        if join.name in joined:
            joined[join.name] |= {*join.pieces}
    stacks = [(one.event, one.stack.parts) for one in build.assembly.fastened]
    stacks += [(run.event, run.stack.parts) for run in build.assembly.runs if run.kind in ("landings", "dividers")]
    steps = [step_of(build, event) for event, parts in stacks if all(names & {*parts} for names in joined.values())]
    return min(steps, default=None)


def _glue_step(build: Assembled, host: Copy, copy: Copy, *, is_cover: bool) -> int | None:
    """The step after which both hang together; of what lands the first from there on that handles its host too."""
    steps = range(len(build.assembly.steps))
    both = (k for k in steps if any(host in group and copy in group for group in build.assembly.groups_before(k + 1)))
    first = next(both, None)
    if first is None or is_cover:
        return first
    return next((k for k in steps[first:] if host.part in handled(build, k)), first)


def handled(build: Assembled, step: int) -> set[str]:
    """The parts that a step names, sews or joins."""
    one, seams = build.assembly.steps[step], by_name(build.seams)
    sides = (side.part for name in one.seams if name in seams for side in seams[name].sides)
    return {*one.pieces, *one.straps, *one.joins, *sides}


def held_folded(build: Assembled, step: int) -> frozenset[Copy]:
    """The copies that are sewn to themselves once a step is done, or that a post goes through twice: they are folded."""
    sewn = {
        side
        for once in build.assembly.sewn
        if step_of(build, once.event) <= step
        for side in once.sides
        if once.sides.count(side) > 1
    }
    twice = {
        part
        for one in build.assembly.fastened
        if step_of(build, one.event) <= step
        for part in one.stack.parts
        if [layer.part for layer in one.stack.layers].count(part) > 1
    }
    return frozenset(sewn) | {placed.copy for placed in build.space.parts if placed.copy.part in twice}


def set_in(build: Assembled, metal: Metal) -> int:
    """The step that sets a piece of hardware in its part: of what is set in a hole that of this one, where it is known; of
    a ring or buckle the last that names it before it is closed in."""
    own = [one for one in build.assembly.fastened if (one.hardware, one.part) == (metal.hardware, metal.part.part)]
    own = [one for one in own if metal.place in one.places]
    if own and metal.place.line:
        return min(step_of(build, one.event) for one in own)
    joins = {join.name: {join.name, *join.pieces} for join in build.joins}
    parts = joins.get(metal.part.part, {metal.part.part})
    posts = [one for one in build.assembly.fastened if one.hardware == metal.hardware or one.around == metal.hardware]
    steps = [step_of(build, one.event) for one in posts if not parts.isdisjoint(one.stack.parts)]
    named = [event.step for event in build.assembly.events if event.kind == "hardware" and event.name == metal.hardware]
    return min(steps or named, default=len(build.assembly.steps))


def closing_steps(build: Assembled) -> Mapping[str, int]:
    """The parts that are joined of strips, or closed on themselves by a seam or joint, each with the last step (from 0)
    that does so."""
    found = {run.part: step_of(build, run.event) for run in build.assembly.runs if run.kind == "joins"}
    seams = by_name(build.seams)
    for once in build.assembly.sewn:
        seam = seams[once.seam]
        edges = [side for side in seam.sides if side.edges and side.part == once.sides[0].part]
        if len(edges) > 1 and len({*once.sides}) == 1:
            part = once.sides[0].part
            found[part] = max(found.get(part, 0), step_of(build, once.event))
    return found


def tell_open(build: Assembled, part: str, step: int) -> str:
    """Why a part cannot be drawn before that step (from 0), which closes it."""
    when = f", in step {step + 1}" if step < len(build.assembly.steps) else ""
    return f"{build.part_titles[part]} is closed or joined later{when}"


def step_of(build: Assembled, event: int) -> int:
    """The step of an event, from 0; the number of steps for what none names."""
    events = build.assembly.events
    return events[event].step if event < len(events) else len(build.assembly.steps)


def group_before(copies: Sequence[Copy], bonds: Iterable[Bond], step: int) -> list[Group]:
    """What hangs together before a step, single copies too, in the order of the copies."""
    return group_joined(copies, [(bond.one, bond.other) for bond in bonds if bond.step < step])
