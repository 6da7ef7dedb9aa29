"""What the lines of steps are told from: the build as it is put together, step by step."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from functools import cached_property

from docgen.assemble import Assembled, Event, HemRow, Lies, Placed, find_hem_rows, is_laid_by
from docgen.classes import dataclass
from docgen.plan.act import Act, act
from docgen.plan.names import call_hardware, spoken
from docgen.plan.plan import SewingJob
from docgen.plan.sewing import Job
from docgen.plan.step_words import done_in
from docgen.resolve import (
    Join,
    Landing,
    Material,
    Piece,
    Seam,
    SeamSide,
    Step,
    Stitch,
    Strap,
    by_name,
    sewn_on_name,
    side_pieces,
)
from docgen.tables.cautions import has_phrase
from docgen.written.units.telling import format_short, format_short_punch

SLIDING = ("slide", "slip", "thread")


@dataclass(frozen=True, kw_only=True)
class Work:
    """A build with its steps; `jobs` are its runs of stitching, `punched` tells which step makes the holes of a piece."""

    build: Assembled
    steps: Sequence[Step]
    jobs: Sequence[Job]
    punched: Mapping[str, int]

    @cached_property
    def pieces(self) -> Mapping[str, Piece]:
        return by_name(self.build.pieces)

    @cached_property
    def straps(self) -> Mapping[str, Strap]:
        return by_name(self.build.straps)

    @cached_property
    def cut(self) -> Mapping[str, Piece]:
        """Pieces, and straps as they are cut."""
        return by_name(self.build.cut)

    @cached_property
    def joins(self) -> Mapping[str, Join]:
        return by_name(self.build.joins)

    @cached_property
    def seams(self) -> Mapping[str, Seam]:
        return by_name(self.build.seams)

    @cached_property
    def called(self) -> Mapping[str, str]:
        """What each part is called on its template."""
        return self.build.part_titles

    @cached_property
    def titles(self) -> Mapping[str, str]:
        """The same as it stands among other words."""
        return {name: spoken(title) for name, title in self.called.items()}

    @cached_property
    def goods(self) -> Mapping[str, str]:
        """Goods by length, as their names stand among other words."""
        return {item.name: spoken(item.what) for item in self.build.trimmings}

    @cached_property
    def fittings(self) -> Mapping[str, str]:
        """What each kind of hardware is called in a line; what is laid out has its name in full."""
        return call_hardware(self.build.hardware)

    @cached_property
    def materials(self) -> Mapping[str, Material]:
        return by_name(self.build.materials)

    @cached_property
    def counts(self) -> Mapping[str, int]:
        """How many there are of each part for one make."""
        counts: dict[str, int] = {}
        for copy in self.build.assembly.copies:
            counts[copy.part] = counts.get(copy.part, 0) + 1
        return counts

    def length(self, mm: float) -> str:
        """A length in the unit that stands first, as the rule at the bench has it; lists and patterns have both."""
        return format_short(mm, self.build.show)

    def punch(self, mm: float) -> str:
        """The punch of a round hole, in that unit."""
        return format_short_punch(mm, self.build.show)

    def events(self, at: int) -> list[tuple[int, Event]]:
        """The events of a step (from 0), with their places in the whole order."""
        return [(index, event) for index, event in enumerate(self.build.assembly.events) if event.step == at]

    def jobs_of(self, event: Event) -> list[SewingJob]:
        """What an event sews: of a strap that several steps have in hand what one of them does."""
        found = [job for work, job in self.jobs if work == (event.kind, event.name)]
        if event.kind != "straps":
            return found
        events, runs = self.build.assembly.events, self.build.assembly.runs
        lines = {
            run.line
            for run in runs
            if (run.kind, run.part) == ("straps", event.name) and run.event < len(events) and events[run.event] == event
        }
        return [job for job in found if job.line in lines]

    @cached_property
    def _ends_turned(self) -> Mapping[tuple[str, int], int]:
        return {(name, which): at for name, which, at in self.build.assembly.ends_turned}

    def turned_at(self, strap: str, which: int) -> int:
        """The event that turns an end of a strap, first (0) or second (1), which no hardware closes; else -1."""
        return self._ends_turned.get((strap, which), -1)

    @cached_property
    def hem_rows(self) -> tuple[HemRow, ...]:
        """The rows of hems that are in doubt."""
        return find_hem_rows(self.build)

    @cached_property
    def handled(self) -> tuple[Mapping[str, None], ...]:
        """What each step has in hand, in order: strips before they are joined, then their join."""
        return tuple(self._handled(at) for at in range(len(self.steps)))

    @cached_property
    def had(self) -> tuple[frozenset[str], ...]:
        """What each step has in hand, with the parts through which it sets hardware."""
        found = [{*names} for names in self.handled]
        steps = [event.step for event in self.build.assembly.events]
        for fit in self.build.assembly.fastened:
            if fit.event < len(steps) and steps[fit.event] < len(found):
                found[steps[fit.event]].update(fit.stack.parts)
        return tuple(map(frozenset, found))

    def _handled(self, at: int) -> dict[str, None]:
        step, found = self.steps[at], dict.fromkeys([*self.steps[at].skives, *self.steps[at].pieces])
        for name in step.joins:
            found.update(dict.fromkeys(self.joins[name].pieces))
        for name in step.seams:
            found.update(dict.fromkeys(side.part for side in self.seams[name].sides))
        found.update(dict.fromkeys(step.straps))
        found.update(dict.fromkeys(self._keepers(at)))
        found.update({held: None for name in step.straps if self.slides_on(at, name) for held in self._held_by(name)})
        for index, event in self.events(at):
            for lies in self.lays_at(index):
                found.update({lies.host.part: None, lies.copy.part: None})
            if event.kind == "hardware":
                fits = [fit for fit in self.build.assembly.fastened if fit.event == index]
                found.update({fit.part: None for fit in fits})
        return {name: None for name in found if name in self.titles}

    def slides_on(self, at: int, name: str) -> bool:
        """Whether a step says that a keeper which lies in no fold is slid on what it holds, and that is made by then."""
        step, held = self.steps[at], self._held_by(name)
        is_caught = any(end.keeper == name for strap in self.build.straps for end in strap.ends)
        made = {one for before in self.steps[: at + 1] for one in before.straps}
        says = any(has_phrase(words, phrase) for words in done_in(step) for phrase in SLIDING)
        return bool(held) and not is_caught and says and made.issuperset(held)

    def _held_by(self, name: str) -> list[str]:
        """The strap that a keeper is for; nothing of any other."""
        keeper_for = self.straps[name].keeper_for if name in self.straps else ""
        return [keeper_for] if keeper_for in self.straps else []

    def _keepers(self, at: int) -> list[str]:
        """The keepers that lie in the folds of ends which a step turns: as it closes them, else as it makes the strap."""
        events, found = self.build.assembly.events, []
        for strap in self.build.straps:
            made = next((k for k, step in enumerate(self.steps) if strap.name in step.straps), -1)
            for which, end in ((k, one) for k, one in enumerate(strap.ends) if one.keeper):
                fits = [fit for fit in self.build.assembly.fastened if fit.part == strap.name]
                closed = {fit.event for fit in fits if fit.hardware == end.takes and fit.around == end.around}
                turning = closed or {self.turned_at(strap.name, which)}
                steps = {events[index].step for index in turning if 0 <= index < len(events)}
                found += [end.keeper] if at in (steps or {made}) else []
        return found

    def copies_at(self, at: int, part: str) -> frozenset[int]:
        """The numbers of those copies of a part that a step (from 0) has in hand; all where its events do not tell, and
        where some of them lie nowhere and are sewn to nothing."""
        every = frozenset(range(1, self.counts.get(part, 1) + 1))
        found: frozenset[int] = frozenset()
        for index, event in self.events(at):
            known = self._copies_of(part, index)
            fits = [fit for fit in self.build.assembly.fastened if fit.event == index]
            if not known and (event.name == part or any(part in (fit.part, *fit.stack.parts) for fit in fits)):
                return every
            found |= known
        return found if found and self._copies_of(part) == every else every

    def _copies_of(self, part: str, index: int = -1) -> frozenset[int]:
        """The numbers of the copies of a part that an event, or any, lays on something, has beneath, or sews."""
        lies = [one for one, event in self._laid if index in (-1, event)]
        copies = [copy for one in lies for copy in (one.copy, one.host)]
        copies += [copy for once in self.build.assembly.sewn if index in (-1, once.event) for copy in once.sides]
        return frozenset(copy.number for copy in copies if copy.part == part and copy.number)

    def lays_at(self, index: int) -> list[Lies]:
        """What comes to lie on something by that event."""
        return [lies for lies, event in self._laid if event == index]

    @cached_property
    def _laid(self) -> tuple[tuple[Lies, int], ...]:
        """Each part that lies on another, once, with the event that lays it there."""
        lies = dict.fromkeys(self.build.assembly.lies)
        return tuple((one, self._event_of(one)) for one in lies)

    def _event_of(self, lies: Lies) -> int:
        """The seam or the dividing lines that hold both, or the seam that it is laid with; before that, for a lining the
        step that glues it, for others hardware of an earlier step through both; else the hardware that goes through both,
        for a lining the step that lays it or the last that has it in hand, else the other; of an end of a strap that is
        sewn on, that. The number of events where none does."""
        assembly, both = self.build.assembly, {lies.host.part, lies.copy.part}
        made = next((k for k, e in enumerate(assembly.events) if (e.kind, e.name) == ("joins", lies.host.part)), -1)
        hosts = {lies.host.part, *self.strips(lies.host.part)}
        both_sewn = [one for one in assembly.sewn if lies.copy.part in one.parts and hosts & one.parts]
        own = [one for one in both_sewn if {lies.copy, lies.host} <= {*one.sides}]
        is_one = self.counts.get(lies.host.part, 1) == 1  # what lies on it alike is laid in one go
        sewn = [one.event for one in (both_sewn if is_one else own or both_sewn)]
        there = [at for host, copy, at in assembly.laid if (host, copy) == (lies.host, lies.copy)]
        sewn = [event for event in sewn if event > made] or self._laid_with(lies, there)
        ends = {sewn_on_name(lies.copy.part, end, lies.host.part) for end in (0, 1)}
        sewn += [index for index, event in enumerate(assembly.events) if event.name in ends]
        held = [fit.event for fit in assembly.fastened if both <= {*fit.stack.parts}]
        named = [
            k for k, e in enumerate(assembly.events) if e.name == lies.copy.part and e.kind in ("pieces", "straps")
        ]
        sewn += self._divided(lies, named)
        laid = [at for at in there if at in named]
        sewn += self._in_steps_before(held, sewn) if not lies.is_cover else []
        held = (self._in_steps_before(laid, held) if lies.copy.part in self.pieces else []) or held
        first, then = (laid[:1] or named[-1:], held) if lies.is_cover else (held, named[-1:])
        is_early = lies.is_cover or self._is_welt(lies)
        sewn += [k for k in named if self._lays(k, lies.copy.part)] if is_early and sewn else []
        return min(sewn or first or then or [len(assembly.events)])

    def _in_steps_before(self, some: list[int], others: list[int]) -> list[int]:
        """Those of some events that are in a step before all of the others."""
        events = self.build.assembly.events
        first = min((events[at].step for at in others if at < len(events)), default=0)
        return [at for at in some if at < len(events) and events[at].step < first]

    def _laid_with(self, lies: Lies, there: list[int]) -> list[int]:
        """What a piece is laid with that does not name it: the seam that sews on what lies beneath, or its host."""
        found = [(at, self.build.assembly.events[at]) for at in there if at < len(self.build.assembly.events)]
        hosts = {lies.host.part} if lies.copy.part in self.pieces and not lies.is_cover else set()
        return [at for at, one in found if (one.kind == "seams" and not lies.is_cover) or one.name in hosts]

    def pinned_at(self, at: int, index: int) -> list[tuple[int, Event]]:
        """The seams of a step (from 0) that sew on what its hardware, an event before them, goes through first."""
        later = [(k, event) for k, event in self.events(at) if event.kind == "seams" and k > index]
        return [(k, event) for k, event in later if self._pins(index, k) and not self.is_pinned(at, k, index)]

    def is_pinned(self, at: int, index: int, before: int | None = None) -> bool:
        """Whether what a seam sews on is laid by then, or `before` another event, since hardware of its step goes through
        it."""
        first = index if before is None else before
        return any(self._pins(k, index) for k, event in self.events(at) if event.kind == "hardware" and k < first)

    def _pins(self, index: int, later: int) -> bool:
        """Whether hardware of one event goes through both of what a later one lays on something and that, and not as its
        lining."""
        fits = [{*fit.stack.parts} for fit in self.build.assembly.fastened if fit.event == index]
        both = [{lies.copy.part, lies.host.part} for lies in self.lays_at(later) if not lies.is_cover]
        return any(names <= parts for names in both for parts in fits)

    def _divided(self, lies: Lies, named: list[int]) -> list[int]:
        """The events that sew the dividing lines of a part through its host, or that lay it there for that."""
        on = {line.on for piece in self.build.pieces if piece.name == lies.copy.part for line in piece.dividers}
        events = self.build.assembly.events
        found = [k for k, one in enumerate(events) if (one.kind, one.name) == ("dividers", lies.copy.part)]
        before = {at: [k for k in named if k < at and events[k].step == events[at].step] for at in found}
        return [before[at][-1] if before[at] else at for at in found] if lies.host.part in on else []

    def _is_welt(self, lies: Lies) -> bool:
        """Whether what lies within a piece is sewn to that edge on edge, between it and others."""
        both = {lies.host.part, lies.copy.part}
        seams = [seam for seam in self.build.seams if both < seam.parts] if lies.is_inside else []
        return any(both <= {side.part for side in seam.sides if side.edges} for seam in seams)

    def is_glued_before(self, at: int, one: str, other: str) -> bool:
        """Whether a step before this one (from 0) lays one of two parts on the other for good, that it sews together."""
        events = self.build.assembly.events
        laid = [(lies, k) for lies, k in self._laid if {lies.host.part, lies.copy.part} == {one, other}]
        return any(self._is_welt(lies) and k < len(events) and events[k].step < at for lies, k in laid)

    def _lays(self, index: int, part: str) -> bool:
        """Whether the step of an event, if a step names it, lays a lining."""
        at = self.build.assembly.events[index].step
        return at < len(self.steps) and is_laid_by(self.build.seams, self.steps[at], part)

    def punched_in(self, at: int) -> list[str]:
        """The pieces whose holes and slits a step makes (from 0): those that it names first."""
        made = [name for name, step in self.punched.items() if step == at]
        return [name for name in dict.fromkeys((*self.steps[at].pieces, *made)) if name in made]

    def placed(self, part: str) -> Placed | None:
        """Its first copy in its place, where there is no doubt about that."""
        found = next((one for one in self.build.space.parts if one.copy.part == part), None)
        return None if found is None or found.copy in self.build.space.doubtful else found

    def strips(self, part: str) -> tuple[str, ...]:
        """The strips of a join, else the part itself."""
        return tuple(dict.fromkeys(self.joins[part].pieces)) if part in self.joins else (part,)

    def material_of(self, part: str) -> Material:
        """What a part is made of; a join what its first strip is."""
        first = self.strips(part)[0]
        name = self.straps[first].material if first in self.straps else self.pieces[first].material
        return self.materials[name]

    def stitch(self, name: str) -> Stitch:
        return next(stitch for stitch in self.build.stitches if stitch.name == name)

    def outer(self, part: str) -> Act:
        """The side of it that faces out."""
        if self.material_of(part).kind != "leather":
            return act("face_right")
        first = self.strips(part)[0]
        shows = self.pieces[first].shows if first in self.pieces else "grain"
        return act(f"face_{shows}")

    def inner(self, part: str) -> Act:
        """The other one."""
        other = {"face_right": "face_wrong", "face_grain": "face_flesh", "face_flesh": "face_grain"}
        return act(other[self.outer(part).case])

    def sides(self, seam: Seam) -> list[SeamSide]:
        """The sides of a seam whose own edges it sews."""
        return [side for side in seam.sides if side.edges and side.part in self.titles]

    def sewn_pieces(self, seam: Seam) -> list[str]:
        """The pieces and strips whose own edges a seam sews."""
        return [name for side in self.sides(seam) for name in side_pieces(self.build, side)]

    def lands_on(self, seam: Seam) -> tuple[Piece, Landing] | None:
        """On which piece what a seam sews flat lies, and where; None where its edges meet those of that piece."""
        own, flat = self.sides(seam), [side.part for side in seam.sides if not side.edges and side.part in self.pieces]
        if not own or own[0].part in flat:
            return None
        hosts = [self.pieces[name] for name in flat]
        return next(((host, one) for host in hosts for one in host.marks.landings if one.piece == own[0].part), None)

    def outside(self, seam: Seam) -> list[str]:
        """The pieces whose edges a seam leaves outside, those too that lie beneath, level with what is sewn on them."""
        flat = [] if self.lands_on(seam) else [side.part for side in seam.sides if not side.edges]
        return [] if seam.is_turned else [*self.sewn_pieces(seam), *flat]

    @cached_property
    def last_outside(self) -> Mapping[str, int]:
        """The last step that sews edges of a piece which stay outside, for each that has some."""
        seams = ((event.step, self.seams[event.name]) for event in self.build.assembly.events if event.kind == "seams")
        return {name: step for step, seam in seams for name in self.outside(seam)}

    @cached_property
    def covered(self) -> tuple[tuple[str, ...], ...]:
        """The pieces that each step sews flat on something else."""
        return tuple(tuple(self._covered(at)) for at in range(len(self.steps)))

    def _covered(self, at: int) -> Iterator[str]:
        for seam in (self.seams[event.name] for _, event in self.events(at) if event.kind == "seams"):
            flat = {side.part for side in seam.sides if not side.edges}
            for side in self.sides(seam) if flat and not seam.is_turned else ():
                yield from side_pieces(self.build, side) if side.part not in flat else ()

    @cached_property
    def first_fastened(self) -> Mapping[str, int]:
        """The first step that sews edges of a piece, joins it, lays it on another, or sets hardware in it."""
        found: dict[str, int] = {}
        for index, event in enumerate(self.build.assembly.events):
            names = self.sewn_pieces(self.seams[event.name]) if event.kind == "seams" else []
            names += self.joins[event.name].pieces if event.kind == "joins" else ()
            names += [lies.copy.part for lies in self.lays_at(index) if not lies.is_cover]
            names += [part for fit in self.build.assembly.fastened if fit.event == index for part in fit.stack.parts]
            for name in names:
                found.setdefault(name, event.step)
        return found


def list_work_of(build: Assembled, steps: Sequence[Step], jobs: Sequence[Job], punched: Mapping[str, int]) -> Work:
    """What the lines of these steps are told from."""
    return Work(build=build, steps=steps, jobs=jobs, punched=punched)
