"""The layers of one stack by copy, which of these lie on which, and so their order."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import replace
from functools import cached_property
from itertools import product

from docgen.assemble.assembled import Assembled, leathers
from docgen.assemble.assembly import Copy, Lies, Sewn, Stack
from docgen.assemble.bench import EVERY
from docgen.assemble.faced import find_faced
from docgen.assemble.fold_ways import folds_either_way
from docgen.assemble.goods_laid import Taped, laid_on, list_takers, taped_on
from docgen.assemble.hung_linings import backs, lies_back, look_inward
from docgen.assemble.laps import away_from, copy_over, lapped_on, looks_as_host, part_over_two, share_out
from docgen.assemble.plies import Pile, Ply, turn_over
from docgen.assemble.space import Placed
from docgen.assemble.space.backed import list_backed
from docgen.assemble.space.beside import Beside, lie_beside
from docgen.assemble.stand_off import stands_off
from docgen.assemble.wholes import whole_of
from docgen.resolve import Layer, Piece, Seam, Trimming, by_name, catches

LAID = ("lies on", "hangs on", "leads from", "lies behind")
SAME_MM = 0.05  # as stacks are told
PAIR = 2
FOLDED_LAYERS = 2  # of a part that lies folded between others, as piping does


class Layering:
    """The layers of one stack by copy, and which of these lie on which."""

    def __init__(self, build: Assembled, stack: Stack, sides: Sequence[Copy]) -> None:
        self.build = build
        self.pieces: Mapping[str, Piece] = by_name(build.laid)
        self.leather = leathers(build)
        self.trimmings, self.straps = by_name(build.trimmings), by_name(build.straps)
        self.layers: dict[Copy, list[Layer]] = {}
        names = {copy.part: copy for copy in reversed(sides)}
        layers = [layer for layer in stack.layers if layer.most_mm > 0]
        counts = Counter(layer.part for layer in layers)
        apart = {copy.part: iter(share_out(sides, copy.part, counts[copy.part])) for copy in sides}
        over_two = part_over_two(layers, {copy.part for copy in sides})
        self.laid_on = dict[Copy, Copy]()
        for k, layer in enumerate(layers):
            copy = next(apart.get(layer.part, iter(())), None) or self._copy_of(layer.part, names)
            if k in over_two:  # as if it were a copy for each, where none is
                side, copy = names[over_two[k]], Copy(copy.part, -1 - [*names].index(over_two[k]))
                copy = copy_over(build.assembly, copy.part, side) or copy
                self.laid_on |= {copy: side} if copy.number < 0 else {}
            self.layers.setdefault(copy, []).append(layer)
        self.sides = {copy.part for copy in sides}
        self.hosts = {copy: host for copy in self.layers if (host := self._host_of(copy)) is not None}
        folded = {copy for copy in self.layers if len(self.layers[copy]) > 1 and self._ways(copy, is_open=False)}
        self.caught: list[Copy] = []
        self.folded_in = [copy for copy, (host, is_behind) in self.hosts.items() if is_behind and host in folded]

    def _copy_of(self, part: str, known: dict[str, Copy]) -> Copy:
        """The copy of a part that lies on one that is known, or lines it; else the first."""
        if part not in known:
            beside = set(known.values())
            found = (lies.copy for lies in self.build.assembly.lies if lies.copy.part == part and lies.host in beside)
            known[part] = next(found, Copy(part))
        return known[part]

    def _host_of(self, copy: Copy) -> tuple[Copy, bool] | None:
        """What a copy lies on, of what is here, and whether it lines that."""
        if (item := self._goods(copy)) is not None:
            found = laid_on(self.build, item, self.layers) if copy not in self.laid_on else None
            taped = self._taped_on(item, copy) if found is None else None
            return (taped.host, taped.is_behind) if taped is not None else found
        if copy in self.laid_on:
            return lapped_on(self.build, copy.part, {self.laid_on[copy].part: self.laid_on[copy]})
        for lies in (lies for lies in self.build.assembly.lies if lies.copy == copy):
            alike = [
                one for one in self.layers if one.part == lies.host.part and EVERY in (one.number, lies.host.number)
            ]
            host = lies.host if lies.host in self.layers else next(iter(alike), copy)
            if host != copy:
                return host, lies.is_behind
        if (flap := self._backing.get(copy)) is not None and flap in self.layers:
            return flap, True
        placed = self._placed(copy)
        if placed is None or placed.host is None or placed.is_free or placed.how not in LAID:
            return self._lapped_on(copy) if copy.part not in self.sides else None
        under = next((one for one in self.layers if whole_of(self.build, one) == placed.host and one != copy), None)
        return (under, placed.level < 0) if under else None

    @cached_property
    def _backing(self) -> Mapping[Copy, Copy]:
        """Second layers that lie between the part that they are behind and what that lies on, each with that part, where
        both are here."""
        parts = {one.copy: one for one in self.build.space.parts}
        found = list_backed(self.build.assembly, parts)
        return {lining: flap for flap, lining, is_between in found if is_between and parts[flap].host in self.layers}

    def _goods(self, copy: Copy) -> Trimming | None:
        """The goods by length that a copy is of, but for those among the strips of a join."""
        return self.trimmings.get(copy.part) if copy.part not in self.pieces else None

    def _taped_on(self, item: Trimming, copy: Copy) -> Taped | None:
        """What a tape of a zip is sewn to; of two tapes each what it lies beside."""
        beside = {self.laid_on[copy].part} if copy in self.laid_on else self.sides
        return taped_on(self.build, item, beside, [*self.layers])

    def _lapped_on(self, copy: Copy) -> tuple[Copy, bool] | None:
        """What a copy is sewn to by a lapped seam, of what is here, and whether it lies beneath that."""
        return lapped_on(self.build, copy.part, {one.part: one for one in self.layers if one != copy})

    def _placed(self, copy: Copy) -> Placed | None:
        whole = whole_of(self.build, copy)
        return None if whole in self.build.space.doubtful else self.build.space.part(whole)

    @property
    def roots(self) -> list[Copy]:
        """What lies on nothing else that is here."""
        return [copy for copy in self.layers if copy not in self.hosts]

    def ply(self, layer: Layer, *, is_up: bool) -> Ply:
        """A layer with its outer side, the one that the piece shows, up or down."""
        shows_grain = layer.part not in self.pieces or self.pieces[layer.part].shows != "flesh"
        has_grain = layer.material in self.leather
        return Ply(
            part=layer.part,
            material=layer.material,
            thickness_mm=layer.thickness_mm or layer.most_mm,
            grain=("up" if is_up == shows_grain else "down") if has_grain else "",
            is_leather=has_grain,
            is_partial=not layer.least_mm and layer.most_mm > 0,
        )

    def own(self, copy: Copy, *, is_up: bool) -> Pile:
        """The layers of one copy: itself, and what of it is folded or turned over on to it, flesh to flesh; of what is
        turned twice the middle one lies as itself. Copies of one part at several places of a seam are one layer."""
        layers: Sequence[Layer] = self.layers[copy][:1] if copy in self.folded_in else self.layers[copy]
        if not self._is_folded(copy) and not any(layer.least_mm for layer in layers):
            layers = layers[:1]
        layers = self._part_doubled(layers)
        outward = [k == 0 or (k == 1 and len(layers) > FOLDED_LAYERS) for k in range(len(layers))]
        plies = [self.ply(layer, is_up=is_out == is_up) for layer, is_out in zip(layers, outward, strict=True)]
        return tuple(plies if is_up != self.folds_out(copy) else reversed(plies))

    def _part_doubled(self, layers: Sequence[Layer]) -> Sequence[Layer]:
        """The two layers of a doubled strap that lies on something as one."""
        strap = self.straps.get(layers[0].part)
        if strap is None or not strap.lining or len(layers) > 1 or layers[0].most_mm < strap.thickness_mm - SAME_MM:
            return layers
        second_mm = by_name(self.build.materials)[strap.lining].thickness_mm
        parted = (strap.material, layers[0].most_mm - second_mm), (strap.lining, second_mm)
        return [
            replace(layers[0], material=name, thickness_mm=mm, thinnest_mm=min(mm, layers[0].least_mm), thickest_mm=mm)
            for name, mm in parted
        ]

    def folds_out(self, copy: Copy) -> bool:
        """Whether the folds of a part lay its outer side inside, so that what is folded lies on it and not beneath."""
        return True in self._ways(copy, is_open=False)

    def ways_in(self, copy: Copy) -> set[bool]:
        """Whether a part that is folded and sewn to itself has its outer side inside: as its folds tell, else those at
        which it only bends; both where these go either way."""
        return self._ways(copy, is_open=False) or self._ways(copy, is_open=True)

    def _ways(self, copy: Copy, *, is_open: bool) -> set[bool]:
        piece = self.pieces.get(copy.part)
        folds = [fold for fold in piece.marks.folds if fold.is_open == is_open and not fold.of_hem] if piece else []
        return {fold.is_grain_in(piece.shows) == (piece.shows != "flesh") for fold in folds} if piece else set()

    def _is_folded(self, copy: Copy) -> bool:
        piece = self.pieces.get(copy.part)
        return piece is None or bool(piece.marks.folds or piece.hems)

    @property
    def is_told(self) -> bool:
        """Whether all that lies twice does so by its folds, and these tell how: the allowances of a turned seam lie where
        its maker presses them."""
        return all(
            len(layers) == FOLDED_LAYERS == len(self.layers[self.hosts[copy][0]])
            if copy in self.folded_in
            else self._is_fold_told(copy)
            if self._is_folded(copy) and len(layers) > 1
            else len(layers) == 1 or not any(layer.least_mm for layer in layers) or self._is_turned_end(copy)
            for copy, layers in self.layers.items()
        )

    def _is_turned_end(self, copy: Copy) -> bool:
        """Whether it is a strap of two layers, which lie flesh to flesh: its end lies back, or it is doubled."""
        return copy.part in self.straps and len(self.layers[copy]) == FOLDED_LAYERS

    def _is_fold_told(self, copy: Copy) -> bool:
        """Whether the folds of a part tell on which of its sides it comes to lie: all on one, with nothing else there."""
        piece, placed = self.pieces.get(copy.part), self.build.space.part(whole_of(self.build, copy))
        if piece is None or not piece.marks.folds:
            return True
        ways = {fold.is_grain_in(piece.shows) for fold in piece.marks.folds if not fold.is_open}
        if len(ways) > 1 or (placed is not None and folds_either_way(self.build, placed)):
            return False
        on = [one for one, (host, is_cover) in self.hosts.items() if host == copy and not is_cover]
        return not (self.folds_out(copy) and (on or len(self.layers[copy]) > FOLDED_LAYERS))

    def sandwich(self, copy: Copy, *, is_up: bool) -> Pile:
        """A copy with what lies on it and what lines it, its outer side up or down."""
        on = [one for one, (host, is_cover) in self.hosts.items() if host == copy and not is_cover]
        behind = [one for one, (host, is_cover) in self.hosts.items() if host == copy and is_cover]
        on.sort(key=lambda one: self._rank(one, copy))
        made = self.build.assembly
        behind.sort(key=lambda one: (self._since(one, copy), *away_from(made, self.layers, self.pieces, one, copy)))
        above = [ply for one in reversed(on) for ply in self.sandwich(one, is_up=True)]
        own = self._own_over(copy, [one for one in behind if one in self.caught])
        lined = [one for one in behind if one not in self.caught]
        laps = [one for one in lined if looks_as_host(self.build, made, one, copy)]
        below = [ply for one in lined for ply in self.sandwich(one, is_up=one in laps)]
        if any(one in self.folded_in for one in behind):  # each half of what is folded has it behind it
            own = (
                (own[0], *below, *turn_over(below), *own[1:]) if not self.folds_out(copy) else (*turn_over(below), *own)
            )
            below = below if self.folds_out(copy) else []
        pile = (*above, *own, *below)
        return pile if is_up else turn_over(pile)

    def _own_over(self, copy: Copy, caught: Sequence[Copy]) -> Pile:
        """The layers of one copy with what its hem is turned over, on its inner side, between them."""
        own, under = self.own(copy, is_up=True), [ply for one in caught for ply in self.sandwich(one, is_up=False)]
        return (*own[:1], *under, *own[1:])

    def _rank(self, copy: Copy, host: Copy) -> tuple[int, int, int]:
        """How far up on its host a copy lies: as the events lay it there, of one event as the landings are written."""
        piece = self.pieces.get(host.part)
        written = [*piece.landing_names] if piece else []
        came = [lies.copy for lies in self.build.assembly.lies if lies.host.part == host.part]
        return (
            self.build.assembly.laid_at(host.part, copy.part),
            written.index(copy.part) if copy.part in written else len(written),
            came.index(copy) if copy in came else len(came),
        )

    def _since(self, copy: Copy, host: Copy) -> float:
        """The step (from 0) by which a copy hangs together with its host; of a tape right after the last that lies between
        both, by its seam or since it was there before."""
        made = self.build.assembly
        if (item := self._goods(copy)) is not None:
            laid = {piece.name for piece in list_takers(self.build, item.name)}
            if not laid and (taped := self._taped_on(item, copy)) is not None:
                sewn = next((one.step for one in made.events if (one.kind, one.name) == ("seams", taped.seam)), 0)
                others = [one for one, (on, _) in self.hosts.items() if on == host and one.part not in self.trimmings]
                since = {one: self._since(one, host) for one in others if one.part not in taped.beyond}
                before = (step for one, step in since.items() if one.part in taped.between or step <= sewn)
                return max(before, default=-1) + 0.5
            return next((one.step for one in made.events if one.kind == "dividers" and one.name in laid), 0)
        both = {whole_of(self.build, copy), whole_of(self.build, host)}
        steps = range(len(made.steps))
        return next((k for k in steps if any(both <= {*group} for group in made.groups_before(k + 1))), len(steps))

    def pile_strap(self, layers: Sequence[Layer]) -> Pile:
        """A strap, its second layer, and its end where that lies back: only the first looks up. Which side of a keeper
        between them does is not told."""
        plies = (self.ply(layer, is_up=k == 0) for k, layer in enumerate(layers) if layer.most_mm > 0)
        return tuple(ply if ply.part == layers[0].part else replace(ply, grain="") for ply in plies)

    def pile_post(self) -> Pile | None:
        roots = self.roots
        return self.sandwich(roots[0], is_up=True) if len(roots) == 1 and self.is_told else None

    def pile_seam(self, seam: Seam, once: Sewn) -> Pile | None:
        faced = find_faced(self.build, seam)
        if faced is not None:
            self.hosts = {copy: host for copy, host in self.hosts.items() if copy.part != faced[0]}
        elif self._is_face_to_face(seam, once):
            self.hosts = {copy: on for copy, on in self.hosts.items() if not {copy, on[0]} <= {*once.sides}}
        under = {part for one in self.pieces.values() if one.hems for part in catches(seam.sides, one)}
        self.caught = [copy for copy in self.layers if copy.part in under]
        own = {use.name for use in seam.trimmings}
        self.hosts = {copy: on for copy, on in self.hosts.items() if copy.part not in own}
        bought = [copy for copy in self.roots if copy.part in self.trimmings]
        roots = [copy for copy in self.roots if copy not in bought]
        if not roots or len(bought) > 1:
            return None
        pile = self._pile_roots(roots, seam, once)
        if pile is None or not bought:
            return pile
        return self._add_bought(bought[0], pile, seam, roots)

    def _add_bought(self, copy: Copy, pile: Pile, seam: Seam, roots: Sequence[Copy]) -> Pile | None:
        """Binding lies on both sides of the rest; other goods where the seam names them, which is told of what lies on
        top, beneath, or between two parts alone. None of goods that it does not name."""
        own = self.own(copy, is_up=True)
        if self.trimmings[copy.part].kind == "binding":
            return (own[0], *pile, *own[1:])
        above = next((use.above for use in seam.trimmings if use.name == copy.part), None)
        if above is None:
            return None
        if above in (0, len(seam.sides)):
            return (*own, *pile) if not above else (*pile, *own)
        if len(roots) > FOLDED_LAYERS or len(seam.sides) > FOLDED_LAYERS:
            return None
        # Of a part and what lines it, which are one root, the second by itself.
        is_lining = len(roots) == 1 and len(seam.parts) == len(seam.sides)
        second = {seam.sides[above].part} if is_lining else {ply.part for ply in self.sandwich(roots[-1], is_up=True)}
        at = next((k for k, ply in enumerate(pile) if ply.part in second), len(pile))
        return (*pile[:at], *own, *pile[at:])

    def _is_face_to_face(self, seam: Seam, once: Sewn) -> bool:
        """Whether a seam that is turned joins two parts by their edges and nothing else, neither of which lies on the other
        by a landing or as its lining: as it is sewn their outer sides meet, however they come to lie."""
        two = {*once.sides}
        is_laid = any({lies.copy, lies.host} <= two for lies in self.build.assembly.lies)
        is_alone = len(two) == len(once.sides) == len(self.layers) == PAIR
        return seam.is_turned and is_alone and all(side.edges for side in seam.sides) and not is_laid

    def _pile_roots(self, roots: Sequence[Copy], seam: Seam, once: Sewn) -> Pile | None:
        sewn = [copy for copy in roots if copy in once.sides]
        if not sewn:
            return None
        first, *others = sewn
        between = [copy for copy in roots if copy not in once.sides]
        if not others and not between:
            return self._pile_one(first, once)
        if not self.is_told:
            return None
        piped = [copy for copy in others if self.is_piping(copy)]
        if len(others) == 1 and piped and not between:
            return (*self.own(piped[0], is_up=True), *self.sandwich(first, is_up=True))
        firm = [sum(layer.least_mm > 0 for layer in self.layers[one]) for one in others[:-1]]  # but for a hem
        if not between and all(count == 1 for count in firm) and all(map(self._is_bare, others[:-1])):
            between, others = others[:-1], others[-1:]
        is_laid = [copy in once.sides or self.is_piping(copy) or self.is_narrow(copy) for copy in between]
        if len(others) != 1 or not all(is_laid):
            return None
        inner = [ply for copy in between for ply in self.own(copy, is_up=True)]
        if len(between) == 1 and lies_back(self._placed(first), self._placed(between[0]), seam):
            inner = [*turn_over(inner)]
        elif not all(map(self.is_piping, between)):
            inner = [replace(ply, grain="") for ply in inner]
        if seam.is_turned or look_inward(self.build, self._placed(first), self._placed(others[0]), seam.name):
            return (*self.sandwich(first, is_up=False), *inner, *self.sandwich(others[0], is_up=True))
        held = self._held_off(first, others[0])
        if held is not None:
            return (*self.sandwich(first, is_up=True), *inner, *self.sandwich(others[0], is_up=not held.is_inside))
        beside = self.beside(first, others[0], seam)
        if beside is None or (beside.is_same and not beside.is_wall) or self.is_narrow(others[0]):
            return None if between else self._pile_untold(first, others[0], seam)
        is_in = (placed := self._placed(others[0])) is not None and placed.is_creased_in
        return (*self.sandwich(first, is_up=True), *inner, *self.sandwich(others[0], is_up=is_in))

    def _held_off(self, wall: Copy, host: Copy) -> Lies | None:
        """What a wall holds off a part that it is sewn flat on: they stand on that side of it."""
        apart = (lies for lies in self.build.assembly.stood_off if lies.host.part == host.part)
        return next((one for one in apart if stands_off(self.build.seams, one.copy.part, host.part) == wall.part), None)

    def _pile_one(self, copy: Copy, once: Sewn) -> Pile | None:
        """One part with all that lies on it; what is laid on its hidden side and sewn there lies on top, as it is sewn."""
        pile = self.sandwich(copy, is_up=True) if self.is_told else None
        return turn_over(pile) if pile is not None and self.is_laid_inside(once.sides[0]) else pile

    def is_laid_inside(self, copy: Copy) -> bool:
        """Whether a copy is laid on the hidden side of a part, or on what is: not as its lining."""
        inside = {(lies.copy, lies.host) for lies in self.build.assembly.lies if lies.is_inside}
        is_inside, one = False, copy
        while one in self.hosts:
            host = self.hosts[one][0]
            is_inside, one = is_inside or (one, host) in inside, host
        return is_inside

    def is_piping(self, copy: Copy) -> bool:
        """Whether a part lies folded all along the seam, with nothing on it."""
        piece, layers = self.pieces.get(copy.part), self.layers[copy]
        is_folded = piece is not None and bool(piece.marks.folds) and not piece.hems
        is_all_along = len(layers) == FOLDED_LAYERS and all(layer.least_mm > 0 for layer in layers)
        return is_folded and is_all_along and self._is_bare(copy)

    def is_narrow(self, copy: Copy) -> bool:
        """A welt or a tape: sewn along one edge, it lies on what it is sewn to; on which side is not told."""
        placed = self._placed(copy)
        return placed is not None and placed.is_free and self._is_bare(copy)

    def _is_bare(self, copy: Copy) -> bool:
        return not any(host == copy for host, _ in self.hosts.values())

    def _pile_untold(self, one: Copy, other: Copy, seam: Seam) -> Pile | None:
        """Two parts whose edges do not tell how they lie: their sides, where one is lapped or bends back to back."""
        is_lapped = any(side.lap_mm for side in seam.sides)
        is_back = not (seam.is_turned or is_lapped) and backs(self.build.space, one, other)
        pile = (*self.sandwich(one, is_up=True), *self.sandwich(other, is_up=not is_back))
        pile = pile if is_lapped or is_back else tuple(replace(ply, grain="") for ply in pile)
        return pile if is_lapped or len(pile) == FOLDED_LAYERS else None

    def beside(self, first: Copy, other: Copy, seam: Seam) -> Beside | None:
        """How two parts lie to each other along a seam: of alike copies those that lie beside each other."""
        pairs = product(self._all_placed(first), self._all_placed(other))
        found = (lie_beside(one, two, seam.name) for one, two in pairs)
        return next((beside for beside in found if beside is not None), None)

    def _all_placed(self, copy: Copy) -> list[Placed]:
        """Where a copy lies, then where the other copies of its part do."""
        placed, part = self._placed(copy), whole_of(self.build, copy).part
        others = [one for one in self.build.space.parts if one.copy.part == part and one is not placed]
        return [placed, *(one for one in others if one.copy not in self.build.space.doubtful)] if placed else []
