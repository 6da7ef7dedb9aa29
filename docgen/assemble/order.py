"""Steps -> everything that is done, one after the other, as it is written."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from docgen.assemble.assembly import Event, EventKind
from docgen.assemble.behind_goods import list_behind
from docgen.assemble.covered_ends import list_covered
from docgen.assemble.landed_over import find_over, lay_in_order, name_in_order, put_before
from docgen.geometry.measure import is_inside
from docgen.resolve import WORK_KINDS, Build, Piece, Step, WorkKind, sewn_on_name
from docgen.tables.cautions import has_phrase

Done = tuple[EventKind, str]
SEWING = ("sew", "stitch", "saddle")


def order_work(build: Build, steps: Sequence[Step]) -> tuple[Event, ...]:
    """What the steps do, in their order; last, under the number of steps, what none of them names."""
    dividing = {piece.name: _dividing_step(build, steps, piece) for piece in build.pieces if piece.dividers}
    landing = {name: _landing_step(steps, piece, strap) for name, piece, strap in _sewn_on(build)}
    by_strap = {name: strap for name, _, strap in _sewn_on(build)}
    over = find_over(build)
    named: set[tuple[EventKind, str]] = set()
    events: list[Event] = []
    for at, step in enumerate(steps):
        besides: list[Done] = [("dividers", name) for name, place in dividing.items() if place == at]
        besides += [("landings", name) for name, place in landing.items() if place == at]
        work: list[Done] = []
        for kind, name in _keepers_first(build, step):
            ends = [end for end, place in landing.items() if place == at and by_strap[end] == name]
            work += [("landings", end) for end in ends] if kind == "landings" else [(kind, name)]
        done = lay_in_order(over, step, [*dict.fromkeys([*work, *besides])])
        done = _goods_first(build, step, done)
        done = _made_first(build, step, done, {end: by_strap[end] for kind, end in done if kind == "landings"})
        done = _laid_last(build, step, _covered_first(build, step, done))
        in_hand = [name for name in step.pieces if ("pieces", name) not in done]
        events += [Event(at, "pieces", name) for name in name_in_order(over, in_hand)]
        events += [Event(at, kind, name) for kind, name in done]
        named |= {(event.kind, event.name) for event in events}
    return (*events, *(Event(len(steps), kind, name) for kind, name in _all_work(build) if (kind, name) not in named))


def _goods_first(build: Build, step: Step, done: list[Done]) -> list[Done]:
    """The work of a step, goods that are laid on a piece before the first seam that sews another flat on it, or it on
    another, but for what its order names: a pocket behind a window would close that off, as would what a pocket with one
    is sewn on. Not the latter where dividing lines go through both: they are sewn with the goods."""
    told = step.timed
    for piece in build.pieces:
        own: Done = ("dividers", piece.name)
        if own in done and own not in told and any(line.goods for line in piece.dividers):
            flat = [seam for seam in build.seams if any(not side.edges for side in seam.sides)]
            on = {one.name for one in flat if any(s.part == piece.name and not s.edges for s in one.sides)}
            if not any(line.on for line in piece.dividers):
                on |= {one.name for one in flat if {piece.name} < one.parts}
            put_before(done, own, [one for one in done if one[0] == "seams" and one[1] in on and one not in told])
    return done


def _laid_last(build: Build, step: Step, done: list[Done]) -> list[Done]:
    """The work of a step, a piece that is only glued on another once what is sewn to it alone is sewn, as its hem or a
    pocket of its own, and goods behind which it lies, as a bag behind the window of a zip; what lines a join once that is
    made; but for what its order names."""
    lines = {piece.name: piece.lines for piece in build.pieces}
    for name in (name for name in step.pieces if ("pieces", name) not in done):
        hosts = [one for one in build.pieces if name in one.landing_names and not _are_sewn(build, name, one.name)]
        behind = {one.name for one in hosts if any(landing.piece == name for landing in list_behind(one))}
        alone = _sewn_alone(build, name) if hosts else set()
        alone |= {("joins", join) for join in lines.get(name, ())}
        first = [k for k, one in enumerate(done) if one in alone or (one[0] == "dividers" and one[1] in behind)]
        if first:
            done.insert(first[-1] + 1, ("pieces", name))
    return done


def _are_sewn(build: Build, name: str, host: str) -> bool:
    """Whether a seam sews a piece to another, or to the join that has that as a strip."""
    hosts = {host, *(join.name for join in build.joins if host in join.pieces)}
    return any(name in seam.parts and not hosts.isdisjoint(seam.parts) for seam in build.seams)


def _sewn_alone(build: Build, name: str) -> set[Done]:
    """The seams of a piece that sew nothing but itself, or what lands on it, and its own dividing lines."""
    own = next(piece for piece in build.pieces if piece.name == name)
    seams = [seam for seam in build.seams if name in seam.parts <= {name, *own.landing_names}]
    flat: set[Done] = {("seams", one.name) for one in seams if any(s.part == name and not s.edges for s in one.sides)}
    return flat | ({("dividers", name)} if own.dividers and not any(line.on for line in own.dividers) else set())


def _made_first(build: Build, step: Step, done: list[Done], ends: Mapping[str, str]) -> list[Done]:
    """The work of a step, each strap made before its `ends` are sewn on; and these, but for what its order names, before
    what goes through them and the piece beneath."""
    told = {name for kind, name in step.timed if kind == "landings"}
    for end, strap in ends.items():
        made: Done = ("straps", strap)
        own: Done = ("landings", end)
        if strap not in told:
            put_before(done, own, [one for one in done if one[0] == "hardware" and one[1] in _rivets(build, end)])
        if made in done:
            put_before(done, made, [own])
    return done


def _covered_first(build: Build, step: Step, done: list[Done]) -> list[Done]:
    """The work of a step, what rivets the end of a strap before the seam that sews a piece over it, but for what its order
    names: that would close it off."""
    for piece in build.pieces:
        for over, end in list_covered(piece):
            seams = [
                one
                for one in done
                if one[0] == "seams" and one not in step.timed and _sews_on(build, one[1], over, piece)
            ]
            takes = {hole.takes for hole in piece.marks.holes if not end.stitch and is_inside(end.outline, hole.at)}
            for own in [one for one in done if one[0] == "hardware" and one[1] in takes and one not in step.timed]:
                put_before(done, own, seams)
    return done


def _sews_on(build: Build, name: str, part: str, base: Piece) -> bool:
    """Whether a seam sews a part by its edges flat on a piece."""
    sides = next((seam.sides for seam in build.seams if seam.name == name), ())
    return any(one.part == part and one.edges for one in sides) and any(
        one.part == base.name and not one.edges for one in sides
    )


def _rivets(build: Build, end: str) -> set[str]:
    """The hardware that goes through an end of a strap and the piece that it is sewn on to."""
    return {
        hole.takes
        for piece in build.pieces
        for landing in piece.strap_landings
        for hole in piece.marks.holes
        if sewn_on_name(landing.strap, landing.end, piece.name) == end and is_inside(landing.outline, hole.at)
    }


def _keepers_first(build: Build, step: Step) -> Iterator[tuple[WorkKind, str]]:
    """The work of a step; but for what its order names, what lies in the fold of a strap is made before that."""
    told = {name for kind, name in step.timed if kind == "straps"}
    held = {end.keeper: strap.name for strap in build.straps for end in strap.ends if end.keeper not in {"", *told}}
    made = [name for name in step.straps if name in held and held[name] in step.straps]
    for kind, name in list_work(step):
        if kind == "straps" and name in held.values():
            yield from (("straps", keeper) for keeper in made if held[keeper] == name)
        yield kind, name


def list_work(step: Step) -> tuple[tuple[WorkKind, str], ...]:
    """What a step does as it is written; of a proposed one in the usual order."""
    return step.work or tuple((kind, name) for kind in WORK_KINDS for name in getattr(step, kind))


def _all_work(build: Build) -> Iterator[tuple[EventKind, str]]:
    yield from (("joins", join.name) for join in build.joins)
    yield from (("seams", seam.name) for seam in build.seams)
    yield from (("dividers", piece.name) for piece in build.pieces if piece.dividers)
    yield from (("straps", strap.name) for strap in build.straps)
    yield from (("landings", name) for name, _, _ in _sewn_on(build))
    yield from (("hardware", item.name) for item in build.hardware)


def _sewn_on(build: Build) -> Iterator[tuple[str, str, str]]:
    """The ends of straps that are sewn on to a piece: the name of that work, the piece and the strap."""
    for piece in build.pieces:
        for landing in piece.strap_landings:
            if landing.stitch:
                yield sewn_on_name(landing.strap, landing.end, piece.name), piece.name, landing.strap


def _landing_step(steps: Sequence[Step], piece: str, strap: str) -> int:
    """The first whose order sews it on there, one that names the piece before others; else the last step that handles both;
    else the last that names the piece and speaks of sewing, once the strap is made; else the last that makes the strap;
    else none."""
    told = [at for at, step in enumerate(steps) if ("landings", strap) in step.work]
    if told:
        return next((at for at in told if piece in steps[at].pieces), told[0])
    made = [at for at, step in enumerate(steps) if strap in step.straps]
    both = [at for at in made if piece in steps[at].pieces]
    later = range(made[-1] if made else 0, len(steps))
    sewing = [at for at in later if piece in steps[at].pieces and _speaks_of_sewing(steps[at])]
    return next((found[-1] for found in (both, sewing, made) if found), len(steps))


def find_doing(events: Sequence[Event], steps: Sequence[Step]) -> dict[Done, int]:
    """The event (from 0) that does each work: the first that names it; of a strap the first whose step speaks of sewing,
    if one does."""
    found: dict[Done, int] = {}
    for at, event in reversed([*enumerate(events)]):
        found[event.kind, event.name] = at
    for at, event in reversed([*enumerate(events)]):
        if event.kind == "straps" and event.step < len(steps) and _speaks_of_sewing(steps[event.step]):
            found[event.kind, event.name] = at
    return found


def _speaks_of_sewing(step: Step) -> bool:
    return any(has_phrase(step.do, phrase) for phrase in SEWING)


def _dividing_step(build: Build, steps: Sequence[Step], piece: Piece) -> int:
    """The first whose order names them; else the last step that names the piece, or goods that are laid on it, and speaks
    of sewing; else that of its first seam to what they go through, else to anything but itself, else at all; else the last
    that names it; else none."""
    for at, step in enumerate(steps):
        if ("dividers", piece.name) in step.work:
            return at
    laid = {line.goods for line in piece.dividers if line.goods}
    for at in reversed(range(len(steps))):
        is_named = piece.name in steps[at].pieces or not laid.isdisjoint(steps[at].trimmings)
        if is_named and _speaks_of_sewing(steps[at]):
            return at
    seams = {
        seam.name: seam.parts
        for seam in build.seams
        if any(side.part == piece.name and side.edges for side in seam.sides)
    }
    beneath = {line.on for line in piece.dividers if line.on}
    for wanted in (beneath, {part for parts in seams.values() for part in parts} - {piece.name}, {piece.name}):
        names = {name for name, parts in seams.items() if not parts.isdisjoint(wanted)}
        with_seam = next((at for at, step in enumerate(steps) if not names.isdisjoint(step.seams)), None)
        if with_seam is not None:
            return with_seam
    named = (at for at in reversed(range(len(steps))) if piece.name in steps[at].pieces)
    return next(named, len(steps))
