"""One build taken apart: what is worked out for its pictures, once, as it is asked for."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from contextlib import suppress
from dataclasses import replace
from functools import cached_property

from docgen.assemble.apart.agreed import hold_agreed
from docgen.assemble.apart.bodies import Body, Row
from docgen.assemble.apart.bonds import Bond, closing_steps, find_bonds, group_before, held_folded, set_in, tell_open
from docgen.assemble.apart.facing import looks_away
from docgen.assemble.apart.finished import SCANTY, Finished, finish, is_scanty
from docgen.assemble.apart.heaps import Heap, UnsureError, find_fresh, find_heaps, find_likeness, find_missing
from docgen.assemble.apart.hemmed import RingHem, find_ring_hems, hold_hems, hold_rows, list_hemmed, tell_untold
from docgen.assemble.apart.hung_inside import list_absent, list_hung_inside
from docgen.assemble.apart.inside_out import is_inside_out, lay_as_sewn
from docgen.assemble.apart.laid_flat import carry_guests, find_flat, follow, lay_flat, raise_flaps, unfold, unfold_late
from docgen.assemble.apart.linings import Lined, find_lined
from docgen.assemble.apart.made_up import MadeUp, find_made_up
from docgen.assemble.apart.metal_bodies import MetalBody, carry_along, list_shown, raise_stud, room_for
from docgen.assemble.apart.opened_out import open_out
from docgen.assemble.apart.records import Closed, Joined
from docgen.assemble.apart.second_ends import lay_second_ends
from docgen.assemble.apart.self_sewn import fold_part_way
from docgen.assemble.apart.straight import fast_at_both, list_hanging, straighten, tell_crossing
from docgen.assemble.apart.telling import HANDLE, MissingError, leave_repeated, list_undrawn, tell_parts, tell_steps
from docgen.assemble.apart.through import find_begun, find_elsewhere, find_flanged, find_through, list_rows
from docgen.assemble.apart.trimmed import Trimmed, find_undrawn, find_zipped, list_trimmed, name_trimmed, tell_goods
from docgen.assemble.apart.turned import TurnedRings, find_turned, lay_back, read_rings
from docgen.assemble.apart.two_ways import hold_flat, list_flat_alone, tell_two_ways
from docgen.assemble.apart.unsure import find_crossing, find_unsure
from docgen.assemble.apart.unturned_hems import leave_unturned
from docgen.assemble.apart.zips import find_zips
from docgen.assemble.assembled import Assembled, is_single, leathers
from docgen.assemble.assembly import Copy
from docgen.assemble.hem_rows import find_hem_rows
from docgen.assemble.space.lift import lift_parts
from docgen.assemble.space.placed import OTHER_HALF, Placed, Space

MOST_NAMED = 4


class TakenApart:
    """What can be drawn of a build. Nothing in it changes; what is worked out once is kept."""

    def __init__(self, build: Assembled) -> None:
        self.build = build
        self._flat_at: dict[int, Mapping[Copy, Body]] = {}
        self._heaps: dict[int, tuple[Mapping[Copy, Body], list[Heap]]] = {}

    @cached_property
    def lifted(self) -> Space:
        """Where all lies, lifted by the layers beneath, as it is drawn."""
        return lift_parts(self.build, self.build.assembly, self.build.space)

    @cached_property
    def unsure(self) -> Mapping[Copy, str]:
        """The placed copies that may lie otherwise, and why."""
        return find_unsure(self.build, self.lifted)

    @cached_property
    def bodies(self) -> tuple[Body, ...]:
        """The parts that lie where only the spec can have them, as they are drawn."""
        untold, elsewhere = frozenset(self.untold_rows), find_elsewhere(self.build, self.unsure)
        found = {
            placed.copy: Body(
                replace(placed, ring=self._rings.of(placed)),
                is_leather=self._is_leather(placed),
                title=self.build.part_titles[placed.copy.part],
                through=self._through.get(placed.copy, ()),
                untold=untold | elsewhere.get(placed.copy, frozenset()),
            )
            for placed in self.lifted.parts
            if placed.copy not in self.unsure
        }
        return tuple(lay_second_ends(self.build, found).values())

    @cached_property
    def untold_rows(self) -> Mapping[str, str]:
        """The seams of hems of which nothing says where their row lies, and what is in doubt."""
        return {row.seam.name: row.tell(self.build) for row in find_hem_rows(self.build)}

    def _before_turning(self, bodies: Mapping[Copy, Body], step: int) -> Mapping[Copy, Body]:
        """The bodies with what lies inside only once seams of a step, or of later ones, are turned."""
        if self._rings.last < step:
            return bodies
        rings = {placed.copy: self._rings.of(placed, step) for placed in self.lifted.parts}
        found = {
            copy: body if body.placed.ring == rings[copy] else body.with_place(replace(body.placed, ring=rings[copy]))
            for copy, body in bodies.items()
        }
        late = {name for name, at in self._turned.items() if at >= step}
        for copy, body in bodies.items():
            host = found.get(body.placed.host) if body.placed.host else None
            if body.placed.how == "turned out" and host is not None and any(row[0] in late for row in body.through):
                found[copy] = lay_back(found[copy], host.placed, late)
        return found

    @cached_property
    def _rings(self) -> TurnedRings:
        return read_rings(self.build, self.lifted, self._through)

    @cached_property
    def _turned(self) -> Mapping[str, int]:
        """The seams that are turned right side out, and the last step that sews each of them."""
        return find_turned(self.build)

    @cached_property
    def _through(self) -> Mapping[Copy, Sequence[Row]]:
        return find_through(self.build)

    def _is_leather(self, placed: Placed) -> bool:
        return not leathers(self.build).isdisjoint(strip.piece.material for strip in placed.item.strips)

    @cached_property
    def _metal(self) -> tuple[MetalBody, ...]:
        """The hardware of these parts."""
        titles = {item.name: item.what for item in self.build.hardware}
        shown = list_shown(self.build, self.lifted.metal, self.bodies)
        return tuple(MetalBody(one, titles[one.hardware], room_for(self.build, one, self.bodies)) for one in shown)

    @cached_property
    def lost(self) -> frozenset[Copy]:
        """The copies that cannot be drawn."""
        return frozenset(self.withheld)

    @cached_property
    def withheld(self) -> Mapping[Copy, str]:
        """The copies that cannot be drawn, and why; without those that are made once more as others are drawn."""
        return leave_repeated(self.build, {one.copy: one.why for one in self.build.space.unplaced} | dict(self.unsure))

    @cached_property
    def lined(self) -> Lined:
        """The copies that something lies behind, and straps with a second layer."""
        return find_lined(self.build.assembly, self.bodies, lambda _, __: True, self.doubled)

    @cached_property
    def doubled(self) -> Collection[Copy]:
        """The straps with a second layer."""
        names = {strap.name for strap in self.build.straps if strap.lining}
        return [body.copy for body in self.bodies if body.copy.part in names]

    @cached_property
    def flanged(self) -> Mapping[Copy, frozenset[str]]:
        return find_flanged(self.build, self.bodies)

    @cached_property
    def finished(self) -> Finished:
        return finish(self.build, self._as_placed, [one.metal for one in self._metal])

    @cached_property
    def closed(self) -> Closed:
        """The finished article, in words for its pictures."""
        drawn, gone, last = self.finished.bodies, self.finished.gone, len(self.build.assembly.steps)
        studs = {item.name for item in self.build.hardware if item.kind == "other"}  # snaps have other heads
        buried = [one for one in self._metal if one.metal.shape != "cap" and one.copy in self.lined.buried]
        metal = [follow(one, self._as_placed, drawn) for one in self._metal if one.copy in drawn and one not in buried]
        zips = tuple(find_zips(self.build, drawn))
        trimmed = [one for one in self._trimmed if all(one.name != zip_.metal.hardware for zip_ in zips)]
        return Closed(
            bodies=tuple(drawn.values()),
            metal=tuple(raise_stud(one, drawn.values()) if one.metal.hardware in studs else one for one in metal),
            opened=self._titles(self.finished.opened),
            absent=(
                *self._titles(copy for copy in (*self.lost, *gone) if not self._is_inner(copy)),
                *name_trimmed(self.build, trimmed, drawn, last),
                *self._loose_goods,
                *dict.fromkeys(one.title for one in buried if one.copy in drawn),
                *dict.fromkeys(self.build.titles[name] for name in self.untold_rows),
            ),
            flanged=self.flanged,
            is_away=self.is_away,
            is_scanty=is_scanty(self.build, drawn),
            opened_out=open_out(self.build, drawn, self._metal, held_folded(self.build, last)),
            zips=zips,
        )

    @cached_property
    def is_away(self) -> bool:
        """Whether the front looks away where all is placed."""
        return looks_away(self.build, self.bodies)

    @cached_property
    def undrawn_goods(self) -> Mapping[str, str]:
        """Goods of which nothing says where they lie, as cords and what no hole takes, and why they are not drawn."""
        return find_undrawn(self.build)

    @cached_property
    def _loose_goods(self) -> tuple[str, ...]:
        """What they are called; none where they are too many for a picture."""
        return named if len(named := self._name_goods(self.undrawn_goods)) <= MOST_NAMED else ()

    def _name_goods(self, names: Iterable[str]) -> tuple[str, ...]:
        half = {name: "half of " for name, why in self.undrawn_goods.items() if why == OTHER_HALF}
        return tuple(dict.fromkeys(half.get(name, "") + self.build.titles[name] for name in names))

    def _titles(self, copies: Iterable[Copy]) -> tuple[str, ...]:
        return tuple(sorted({self.build.part_titles[copy.part] for copy in copies}))

    def _is_inner(self, copy: Copy) -> bool:
        placed = self.build.space.part(copy)
        return placed is not None and placed.is_inner

    @cached_property
    def flat(self) -> Mapping[Copy, Body]:
        """The bodies as they lie at the bench: what lies is not yet folded, and no tongue is closed."""
        bodies = {body.copy: body.flattened(body.held_band) if body.is_folded_over else body for body in self.bodies}
        return unfold(bodies) if self.build.space.kind == "lying" else bodies

    def _lying(self, step: int) -> Mapping[Copy, Body]:
        """The same once a step is done: what is held folded by then stays so."""
        held, last = (held_folded(self.build, at) for at in (step, len(self.build.assembly.steps)))
        if self.build.space.kind != "lying":
            return unfold_late(self.flat, held, last)
        return unfold(self._as_placed, held) if held else self.flat

    @cached_property
    def _as_placed(self) -> Mapping[Copy, Body]:
        return {body.copy: body for body in self.bodies}

    @cached_property
    def ring_hems(self) -> tuple[RingHem, ...]:
        return find_ring_hems(self.build)

    def _untold(self, step: int) -> frozenset[Copy]:
        """The linings that may lie under a hem that is sewn once a step is done, or over it."""
        return frozenset(lining for hem in self.ring_hems if hem.step <= step for lining in hem.linings)

    @cached_property
    def bonds(self) -> tuple[Bond, ...]:
        return find_bonds(self.build, self.flat)

    def heaps(self, step: int) -> tuple[Mapping[Copy, Body], list[Heap]]:
        """What a step (from 0) joins, and the bodies as they are drawn for it: walls that nothing bends yet lie flat; flaps
        and straps that only bend, and are not fast at both ends, lie straight where they are in the way as they lie at
        last, or leave straight up alone.
        UnsureError where it joins something, and that is not sure."""
        if step not in self._heaps:
            bodies, heaps = self._join(step)
            bent, folded = ({}, []) if heaps else fold_part_way(self.build, self._as_placed, self.bonds, step)
            self._heaps[step] = {**bodies, **bent}, heaps or folded
        return self._heaps[step]

    def _join(self, step: int) -> tuple[Mapping[Copy, Body], list[Heap]]:
        if missing := find_missing(self.build, self.lost, step):
            raise MissingError(missing)
        hold_rows(self.build, self.untold_rows, step)
        self._hold_open(step)
        hold_flat(self.bonds, held_folded(self.build, step), self.bodies, step, self.build.space.darted)
        untold = self._untold(step)
        lying = {**self._lying(step), **self._on_bench(step)}
        bodies = self._before_turning({copy: body for copy, body in lying.items() if copy not in untold}, step)
        if self._closes(step):
            bodies = straighten(bodies, arches=False)
        if waiting := list_hanging(self.build, bodies, self.bonds, step):
            with suppress(UnsureError):
                return self._find_heaps(straighten(bodies, waiting), step, may_rise=False)
        hanging = straighten(bodies, arches=False)
        raised = raise_flaps(hanging, (bond for bond in self.bonds if bond.step <= step), held_folded(self.build, step))
        for tried, may_rise in ((bodies, False), (hanging, False), (raised, False), (bodies, True)):
            with suppress(UnsureError):
                return self._find_heaps(tried, step, may_rise=may_rise)
        fast = fast_at_both(self.build, step)
        loose = {copy for copy in bodies if copy.part not in fast}
        return self._find_heaps(straighten(bodies, loose), step, may_rise=True)

    def _find_heaps(
        self, bodies: Mapping[Copy, Body], step: int, *, may_rise: bool
    ) -> tuple[Mapping[Copy, Body], list[Heap]]:
        """The heaps of a step by the bodies as they are tried. UnsureError also where what leaves only upwards lies in
        other parts."""
        bodies = carry_guests(self._as_placed, bodies, self.build.space.hung)
        known = [bond for bond in self.bonds if bond.one in bodies and bond.other in bodies]
        lying = leave_unturned(self.build, lay_as_sewn(bodies, known, step, self._turned), step)
        bonds = [bond for bond in known if bond.one in lying and bond.other in lying]
        heaps = self._sure_of(find_heaps(lying, bonds, step, may_rise=may_rise), step)
        hold_hems(self.build, lying, heaps, step)
        hold_agreed(self.build, lying, heaps, step)
        for heap in heaps:
            tried = heap.copies if may_rise else {*heap.base}
            parts = [body for copy, body in lying.items() if copy in tried and not body.placed.is_inner]
            if (crossing := next(find_crossing(parts), None)) is not None:
                raise UnsureError(f"{' and '.join(self._titles(crossing))} would lie in each other")
        return lying, [*heaps, *list_hemmed(self.ring_hems, lying, bonds, heaps, step)]

    def _sure_of(self, heaps: list[Heap], step: int) -> list[Heap]:
        """The heaps of a step. UnsureError where a zip, which is not drawn, holds parts together that would lie apart."""
        for heap in heaps:
            groups = [heap.base, *(one.copies for one in heap.moved)]
            for zip_ in find_zipped(self.build, self._trimmed, groups, step):
                raise UnsureError(f"{zip_}, which is not drawn, holds its parts together already")
        return heaps

    @cached_property
    def _trimmed(self) -> Sequence[Trimmed]:
        return list_trimmed(self.build)

    def _hold_open(self, step: int) -> None:
        """UnsureError where a step joins something to a part that is drawn closed, and only a later step closes it or joins
        its strips."""
        for copy in find_fresh([*self.flat], self.bonds, step).difference(self.build.space.darted):
            is_flat = copy in self._on_bench(step) or self._lying(step)[copy].is_flat
            if self._closing.get(copy.part, -1) > step and not (is_flat and is_single(self.build, copy.part)):
                raise UnsureError(tell_open(self.build, copy.part, self._closing[copy.part]))

    @cached_property
    def _closing(self) -> Mapping[str, int]:
        return closing_steps(self.build)

    def _closes(self, step: int) -> bool:
        """Whether a step closes an article: what only bends over that hangs straight until it is closed."""
        copies = (copy for bond in self.bonds if bond.step == step for copy in (bond.one, bond.other))
        return any(self.flat[copy].placed.how in ("closes", "stands on") for copy in copies)

    def _on_bench(self, step: int) -> Mapping[Copy, Body]:
        """Walls that a step joins something to and that nothing bends yet, with all that is on them, as they lie flat."""
        if step not in self._flat_at:
            found = dict[Copy, Body]()
            new = {copy for bond in self.bonds if bond.step == step for copy in (bond.one, bond.other)}
            if new and self.build.space.kind != "lying":
                groups = group_before([*self.flat], self.bonds, step + 1)
                joined = [group for group in groups if not new.isdisjoint(group)]

                def is_open(copy: Copy) -> bool:
                    return self._closing.get(copy.part, -1) >= step and is_single(self.build, copy.part)

                for wall, group in find_flat(self.flat, joined, held_folded(self.build, step), is_open):
                    found |= lay_flat(self.flat, wall, group)
            self._flat_at[step] = found
        return self._flat_at[step]

    def joined(self, heap: Heap, step: int, bodies: Mapping[Copy, Body]) -> Joined:
        """What is known of a heap at its step, as its bodies are drawn for that."""
        there = [one for one in self._metal if one.copy in bodies]
        steps = [(follow(one, self._as_placed, bodies), set_in(self.build, one.metal)) for one in there]
        drawn = [body for copy, body in bodies.items() if copy in heap.copies]
        hems = {hem.seam: hem.ring for hem in self.ring_hems if hem.step == step and hem.ring in heap.copies}
        picked = {**find_begun(self.build, frozenset(self.flat) - self._untold(step), heap.copies, step), **hems}
        before = frozenset(name for name, at in list_rows(self.build) if at < step)
        return Joined(
            kind="lying" if not heap.copies.isdisjoint(self._on_bench(step)) else self.build.space.kind,
            lined=self._lined_before(step),
            flanged={copy: names & before for copy, names in self.flanged.items()},
            sewn=frozenset(name for name, at in list_rows(self.build) if at <= step),
            picked=picked,
            likeness=find_likeness(self.build, self.flat, heap),
            unmarked=frozenset(run.line or run.part for run in self.build.assembly.runs if run.kind == "landings"),
            metal=tuple((carry_along(self.build, one, drawn), at == step) for one, at in steps if at <= step),
            absent=tuple(dict.fromkeys(self._list_absent(heap, step, bodies))),
            hung=self._titles(self._hanging(heap)),
            is_turned=not self._turned.keys().isdisjoint(picked) and is_inside_out(self.flat, heap),
            is_away=self.is_away and heap.copies.isdisjoint(self._on_bench(step)),
        )

    def made_up(self, step: int) -> list[MadeUp]:
        """What a step (from 0) handles that hangs together by then. UnsureError where how is not sure."""
        return find_made_up(self.build, self.flat, self.bonds, step, self._turned, self.heaps, self._lying)

    def _hanging(self, heap: Heap) -> frozenset[Copy]:
        """The straps that hang in rings of a heap once its step is done, and are drawn so in the finished article."""
        return heap.leaves & {body.copy for body in self.closed.bodies}

    def _list_absent(self, heap: Heap, step: int, bodies: Mapping[Copy, Body]) -> Iterator[str]:
        """What hangs on a heap and is not drawn, in words: parts, then goods."""
        yield from self._titles(list_absent(self.build, self.lost, heap, step))
        hems = (hem.linings for hem in self.ring_hems if hem.step <= step and hem.ring in heap.copies)
        yield from self._titles({*list_hung_inside(self.bonds, bodies, heap, step)}.union(*hems))
        for bond in (bond for bond in self.bonds if bond.step <= step):
            pair = {bond.one, bond.other}
            missing = pair - (heap.copies | self._hanging(heap) if bond.is_hung else bodies.keys())
            yield from self._titles(missing if not heap.copies.isdisjoint(pair) else ())
        yield from name_trimmed(self.build, self._trimmed, heap.copies, step)
        yield from self._goods_named(step)

    def _goods_named(self, step: int) -> Iterator[str]:
        """What the goods are called that a step names, and that are not drawn."""
        one = self.build.assembly.steps[step]
        names = dict.fromkeys((*one.trimmings, *one.hardware))
        found = self._name_goods(name for name in names if name in self.undrawn_goods)
        yield from found if len(found) <= MOST_NAMED else ()

    def _lined_before(self, step: int) -> Lined:
        """The copies that something lies behind before a step."""
        bound = {frozenset((bond.one, bond.other)) for bond in self.bonds if bond.step < step}
        return find_lined(self.build.assembly, self.bodies, lambda *pair: frozenset(pair) in bound, self.doubled)

    def tell_withheld(self) -> Iterator[str]:
        """What is not drawn, and why, in words: parts, then steps."""
        yield from tell_parts(list_undrawn(self.build, self.withheld))
        yield from tell_two_ways(self.build, self.bodies)
        alone = list_flat_alone(self.bodies, self.build.space.darted)
        yield from tell_crossing(self.bodies, self.closed.bodies, [*alone, *self.finished.wrong])
        yield from tell_parts(self.finished.wrong)
        yield from (SCANTY,) if self.closed.is_scanty and self.finished.bodies else ()
        yield from tell_goods(self.undrawn_goods, self._trimmed, {one.metal.hardware for one in self.closed.zips})
        yield from (line for hem in self.ring_hems for line in tell_untold(hem))
        yield from tell_steps(self.heaps, len(self.build.assembly.steps))
        yield from tell_steps(self.made_up, len(self.build.assembly.steps), HANDLE)
