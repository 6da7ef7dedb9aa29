"""The events one after the other: what each joins, and which layers it finds."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from docgen.assemble.assembly import Assembly, Copy, Event, Fastened, Lies, Run, Sewn
from docgen.assemble.bench import EVERY, Bench, Bundle, Lying
from docgen.assemble.doubts import find_doubts
from docgen.assemble.fasten import Post, find_posts, group_alike, list_told, set_posts
from docgen.assemble.goods import Goods
from docgen.assemble.laid_over import find_waiting
from docgen.assemble.landing import Handling, find_slots, lay_in_step, lay_with_seam, step_parts
from docgen.assemble.open_ends import turning_event
from docgen.assemble.order import find_doing, order_work
from docgen.assemble.posts import choose_posts
from docgen.assemble.room import find_room
from docgen.assemble.runs import run_dividers, run_joints, run_strap
from docgen.assemble.set_when import NO_STEP, find_event, setting_steps
from docgen.assemble.sewn_on import run_landings
from docgen.assemble.stacks import stack_seam
from docgen.assemble.strap_ends import hold_keepers, run_ends
from docgen.assemble.tapes import find_bound_mm, find_taped_mm, lay_tapes
from docgen.assemble.times import choose_copies, count_times, list_rivals
from docgen.problems import Problem, make_error
from docgen.resolve import Build, Seam, Step, find_turning
from docgen.written.units.telling import format_stack

SAME_STACK_MM = 0.05


def assemble(build: Build) -> Assembly:
    """How a build goes together, by its own steps, else by an order that is proposed. Nothing in it can fail; what does
    not follow from the build is among the doubts."""
    return _Work(build).do()


def _propose(build: Build) -> tuple[Step, ...]:
    """Steps in an order of our own; what finds it is loaded for specs without steps alone."""
    from docgen.assemble.propose import propose_steps

    return propose_steps(build)


class _Work:
    """One build gone through once; it does not leave this module."""

    def __init__(self, build: Build) -> None:
        self.goods = Goods(build)
        self.bench = Bench()
        self.steps: tuple[Step, ...] = build.steps or _propose(build)
        strips = {join.name: join.pieces for join in build.joins}
        sides = {seam.name: seam.sides for seam in build.seams}
        self.turning = find_turning(build.pieces, strips, sides, self.steps)
        self.before_turning: dict[frozenset[str], Goods] = {}
        self.events = tuple(event for event in order_work(build, self.steps) if self._is_known(event))
        self.doing = find_doing(self.events, self.steps)
        self.turned = {
            (strap.name, which): turning_event(self.events, self.steps, self.doing, strap, end)
            for strap in build.straps
            for which, end in enumerate(strap.ends)
            if end.shape == "turned" and not end.takes
        }
        self.handling = [(step, frozenset(step_parts(self.goods, step))) for step in self.steps]
        self.setting = setting_steps(self.goods, self.steps)
        self.slots = find_slots(self.goods)
        self.waiting = find_waiting(self.goods, self.slots, self.events, self.handling)
        self.times, self.doubts = count_times(self.goods, self.slots)
        self.posts, self.told = self._sort_posts(), list_told(self.goods)
        self.sewn: list[Sewn] = []
        self.runs: list[Run] = []
        self.fastened: list[Fastened] = []
        self.copies = tuple(copy for part in self.goods.counts for copy in self.goods.copies(part))

    def _is_known(self, event: Event) -> bool:
        """Whether there is what a seam or a join is to sew."""
        known = {"seams": [*self.goods.seams], "joins": [*self.goods.joins]}
        return event.kind not in known or event.name in known[event.kind]

    def _sort_posts(self) -> dict[int, list[Post]]:
        found: dict[int, list[Post]] = {}
        for post in find_posts(self.goods):
            at = find_event(self.goods, self.events, self.setting, post, self.slots)
            found.setdefault(at, []).append(post)
        return found

    def do(self) -> Assembly:
        joined: list[tuple[tuple[Copy, ...], ...]] = []
        laid: dict[tuple[Copy, Copy], int] = {}
        for at, event in enumerate(self.events):
            while len(joined) <= event.step:
                joined.append(self.bench.groups(self.copies))
            self._do_event(at, event)
            for host, lying in self.bench.all_lying():
                laid.setdefault((host, lying.copy), at)
        while len(joined) <= len(self.steps):
            joined.append(self.bench.groups(self.copies))
        self._set(len(self.events), NO_STEP)
        build = self.goods.build
        return Assembly(
            steps=self.steps,
            is_proposed=not build.steps,
            events=self.events,
            copies=self.copies,
            sewn=tuple(self.sewn),
            runs=tuple(self.runs),
            fastened=tuple(choose_posts(build, group_alike(self.fastened))),
            joined=tuple(joined),
            room=find_room(self.goods),
            turning=tuple(self.turning.items()),
            ends_turned=tuple((*end, at) for end, at in self.turned.items()),
            through=tuple(dict.fromkeys((one.part, one.place, one.stack.parts) for one in self.fastened)),
            lies=tuple(self._list_lying()),
            laid=tuple((*pair, at) for pair, at in laid.items()),
            stood_off=tuple(
                _lies(slot.host, slot.copy, slot.lying)
                for found in find_slots(self.goods, is_off=True).values()
                for slot in found
                if slot.copy is not None
            ),
            doubts=tuple(dict.fromkeys([*self.doubts, *find_doubts(self.goods, self.bench, self.slots, self.sewn)])),
        )

    def _list_lying(self) -> Iterator[Lies]:
        """What lies on what when all is done, and what has its place somewhere and nothing holds it there."""
        for host, lying in self.bench.all_lying():
            yield _lies(host, lying.copy, lying)
        for slot in (slot for found in self.slots.values() for slot in found):
            if slot.copy is not None and slot.lying not in self.bench.lying_on(slot.host):
                yield _lies(slot.host, slot.copy, slot.lying)

    def _goods_at(self, at: int) -> Goods:
        """The goods as an event finds them: without the hems that only a later step turns over."""
        step = self.events[at].step if at < len(self.events) else len(self.steps)
        flat = frozenset(piece for piece, turned in self.turning.items() if turned > step)
        if not flat:
            return self.goods
        if flat not in self.before_turning:
            build = self.goods.build
            pieces = (replace(piece, hems=()) if piece.name in flat else piece for piece in build.pieces)
            self.before_turning[flat] = Goods(replace(build, pieces=tuple(pieces)))
        return self.before_turning[flat]

    def _do_event(self, at: int, event: Event) -> None:
        if event.kind in ("pieces", "straps"):
            waiting = [slot for found in self.waiting.values() for slot in found]
            lay_in_step(self.goods, self.bench, self.handling, event.step, event.name, self.slots, waiting)
            self._lay_waiting(at)
        if event.kind == "straps":
            hold_keepers(self.goods, self.bench, event.name)
        if event.kind == "joins" and self.goods.counts.get(event.name) == 1:
            names = self.goods.joins[event.name].pieces
            borne = {slot.host for found in self.slots.values() for slot in found if slot.host.part in names}
            strips = [*(Copy(name, EVERY) for name in names), *sorted(borne)]
            self.bench.unite((Copy(event.name), *strips))
        if event.kind == "seams":
            for time in range(self.times[event.name] if self.doing[event.kind, event.name] == at else 0):
                self._sew(at, self.goods.seams[event.name], time)
        elif event.kind == "hardware":
            self._set(at, self.setting[event.step] if event.step < len(self.steps) else NO_STEP)
        elif event.kind == "straps":
            self.runs += self._run_strap(at, event.name)
        elif event.kind in ("joins", "dividers", "landings") and self.doing[event.kind, event.name] == at:
            self.runs += self._run(at, event)

    def _lay_waiting(self, at: int) -> None:
        """What waits for an event comes to lie over what that sews."""
        for slot in self.waiting.get(at, ()):
            self.bench.lay(slot.host, slot.lying)

    def _run(self, at: int, event: Event) -> Iterator[Run]:
        if event.kind == "joins":
            yield run_joints(self._goods_at(at), self.bench, event.name, at)
        elif event.kind == "dividers":
            yield from run_dividers(self._goods_at(at), self.bench, event.name, at)
            lay_tapes(self.goods, self.bench, event.name)
        elif event.kind == "landings":
            yield from run_landings(self.goods, self.bench, self.slots, event.name, at)

    def _run_strap(self, at: int, name: str) -> Iterator[Run]:
        """What an event sews of a strap: its edges, and what closes its ends, once these are turned."""
        doing = self.doing["straps", name]
        if doing == at:
            yield from run_strap(self.goods, self.events, name, at)
        ends = [which for which in (0, 1) if max(doing, self.turned.get((name, which), doing)) == at]
        yield from run_ends(self.goods, name, at, ends)

    def _sew(self, at: int, seam: Seam, time: int) -> None:
        copies = choose_copies(self.goods, self.bench, seam, self.slots)
        self._lay_waiting(at)
        stack, columns = stack_seam(self._goods_at(at), self.bench, seam, copies, self.slots)
        layers = tuple(named for column in columns for named in column.layers)
        self.doubts += self._find_readings(seam, copies, stack.thickest_mm, time, at)
        self.sewn.append(Sewn(seam=seam.name, event=at, sides=copies, stack=stack, columns=columns))
        lap_mm, bound_mm = max(side.lap_mm for side in seam.sides), find_bound_mm(self.goods, seam)
        taped_mm = find_taped_mm(self.goods, seam)
        for side, copy in zip(seam.sides, copies, strict=True):
            if side.edges:
                turned_mm = self.goods.stitches[seam.stitch].inset_mm if seam.is_turned else 0.0
                bundle = Bundle(
                    edges=side.edges,
                    layers=layers,
                    turned_mm=turned_mm,
                    lap_mm=lap_mm,
                    bound_mm=bound_mm,
                    taped_mm=taped_mm,
                    parts=self.goods.edge_parts(side) if side.stretch_mm else {},
                )
                self.bench.bind(copy, bundle)
        self.bench.sew(seam.name, copies)
        lay_with_seam(self.goods, self.bench, seam, copies, self.slots)

    def _find_readings(
        self, seam: Seam, copies: Sequence[Copy], thickest_mm: float, time: int, at: int
    ) -> Iterator[Problem]:
        """Copies that the seam may mean as well, where its stack would be another."""
        for index, side in enumerate(seam.sides):
            if time or self.times[seam.name] == self.goods.counts[side.part]:
                continue
            for rival in list_rivals(self.goods, self.bench, side, copies[index]):
                others = [*copies[:index], rival, *copies[index + 1 :]]
                other = stack_seam(self._goods_at(at), self.bench, seam, others, self.slots)[0]
                if abs(other.thickest_mm - thickest_mm) > SAME_STACK_MM:
                    yield _tell_readings(seam, (copies[index], thickest_mm), (rival, other.thickest_mm))
                    return

    def _set(self, at: int, step: Handling) -> None:
        self.fastened += set_posts(
            self._goods_at(at), self.bench, self.posts.get(at, ()), step[1], self.slots, at, self.told
        )


def _tell_readings(seam: Seam, one: tuple[Copy, float], other: tuple[Copy, float]) -> Problem:
    (copy, thick_mm), (rival, other_mm) = sorted((one, other), key=lambda item: item[0].number)
    what = (
        f'the seam "{seam.name}" may sew copy {copy.number} of "{copy.part}", through {format_stack(thick_mm)} at most, '
        f"or copy {rival.number}, through {format_stack(other_mm)}"
    )
    mend = f'write "{copy.part} {copy.number}: ..." or "{copy.part} {rival.number}: ..." in it'
    return make_error(seam.place, what, mend, "seam-copy", seam.name)


def _lies(host: Copy, copy: Copy, lying: Lying) -> Lies:
    return Lies(host=host, copy=copy, move=lying.move, is_cover=lying.is_cover, is_inside=lying.is_inside)
