"""Layers under a needle: of each partner along its stitch line, what lies there, and what hangs on its edge already."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence

from docgen.assemble.assembly import Bit, Column, Copy, Stack
from docgen.assemble.bench import Bench
from docgen.assemble.goods import Goods, meets
from docgen.assemble.hung import Hung, Named, find_hung
from docgen.assemble.landing import Slot
from docgen.assemble.spots import Looked, Spot, find_spots
from docgen.classes import dataclass
from docgen.geometry.path import path_length, points_at
from docgen.resolve import Layer, Seam, SeamSide, SeamTrimming

LANDED_EVERY_MM = 5.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Side:
    """The layers of one partner, and their sum: at least, mostly, at most."""

    columns: tuple[Column, ...]
    range_mm: tuple[float, float, float]
    landed: tuple[Copy, ...]

    @property
    def layers(self) -> tuple[Named, ...]:
        return tuple(named for column in self.columns for named in column.layers)


def stack_seam(
    goods: Goods, bench: Bench, seam: Seam, copies: Sequence[Copy], slots: Mapping[str, Sequence[Slot]]
) -> tuple[Stack, tuple[Column, ...]]:
    """The stack of a seam that is sewn now with these copies of its sides, as thick as it may be however its sides lie
    along each other; and its layers along each of these."""
    places = [slot for copy in copies for slot in slots.get(copy.part, ()) if slot.copy == copy]
    inset_mm = goods.stitches[seam.stitch].inset_mm
    landing = _landing_under(goods, seam, copies, places)
    edged = frozenset(one for side, one in zip(seam.sides, copies, strict=True) if side.edges)
    partners = {*copies, *(Copy(use.name, copies[0].number) for use in seam.trimmings)}
    partners -= {slot.copy for slot in landing}
    taken: dict[Copy, Copy] = {}  # what is counted already, with the partner on which it lies
    sides = []
    for index, copy in enumerate(copies):
        if _is_hemmed(goods, seam, seam.sides[index]) or any(slot.copy == copy for slot in landing):
            continue
        # What lies all over a part that is sewn to itself lies at both of its edges.
        counted = (one for one, on in taken.items() if on != copy and not bench.lies_at_both(one, on, copy))
        known = partners.union(counted)
        landing_on = tuple(slot.lying for slot in landing if slot.host == copy)
        looked = Looked(
            seam=seam,
            index=index,
            copy=copy,
            inset_mm=inset_mm,
            taken=frozenset(known),
            places=places,
            landing=landing_on,
            edged=edged,
        )
        found = _stack_side(goods, looked, find_spots(goods, bench, looked))
        known = known.union(taken, (one for one, _ in found.layers))
        hung = find_hung(goods, bench, seam.sides[index], copy, known, edged)
        sides.append(_add_hung(found, hung, index))
        taken |= {one: copy for one, _ in sides[-1].layers if one not in taken and not goods.is_zip(one.part)}
    trimmed = [(use.above, _trimming_column(goods, use, copies[0])) for use in seam.trimmings]
    columns = tuple(_lay_between([side.columns for side in sides], trimmed))
    more_mm = sum(layer.thickness_mm for _, column in trimmed for _, layer in column.layers)
    stack = Stack(
        layers=tuple(layer for column in columns for _, layer in column.layers),
        usual_mm=sum(side.range_mm[1] for side in sides) + more_mm,
        thinnest_mm=sum(side.range_mm[0] for side in sides) + more_mm,
        thickest_mm=sum(side.range_mm[2] for side in sides) + more_mm,
        landed=tuple(dict.fromkeys(copy.part for side in sides for copy in side.landed)),
    )
    return stack, columns


def _landing_under(goods: Goods, seam: Seam, copies: Sequence[Copy], places: Sequence[Slot]) -> list[Slot]:
    """The places of partners that lie flat on an edge partner, under some of its line: they are met only there."""
    flat = {copy for side, copy in zip(seam.sides, copies, strict=True) if not side.edges}
    edged = {*copies} - flat
    return [slot for slot in places if slot.copy in flat and slot.host in edged and _is_under(goods, seam, slot)]


def _is_under(goods: Goods, seam: Seam, slot: Slot) -> bool:
    """Whether a line of the seam on the host goes over what lands there, as looked at every few millimetres."""
    outline, piece = slot.lying.outline, goods.pieces.get(slot.host.part)
    if outline is None or piece is None:
        return False
    lines = (line.path for line in piece.marks.stitch_lines if line.seam == seam.name)
    looks = ((line, math.ceil(path_length(line) / LANDED_EVERY_MM)) for line in lines)
    return any(
        goods.is_within(outline, at)
        for line, count in looks
        for at, _ in points_at(line, [path_length(line) * (k + 0.5) / count for k in range(count)])
    )


def _trimming_column(goods: Goods, use: SeamTrimming, first: Copy) -> Column:
    """Goods by length under the needle, as many layers as they have there; those of the same number as the first copy."""
    item = goods.trimmings[use.name]
    layer = Layer(part=item.name, material="", thickness_mm=item.thickness_mm)
    mms = (item.thickness_mm,) * item.layers
    return Column(
        layers=((Copy(item.name, first.number), layer),) * item.layers, bits=(Bit(begin=0.0, end=1.0, mms=mms),)
    )


def _lay_between(sides: Sequence[Sequence[Column]], trimmed: Sequence[tuple[int, Column]]) -> Iterator[Column]:
    """The columns of all sides from the top down, with the goods by length where they lie among them."""
    for index in range(max([len(sides), *(above for above, _ in trimmed)]) + 1):
        yield from (column for above, column in trimmed if above == index)
        yield from sides[index] if index < len(sides) else ()


def _is_hemmed(goods: Goods, seam: Seam, side: SeamSide) -> bool:
    """Whether a part lies flat beneath its own edges, and these are turned over: it is there with its hem already."""
    if side.edges:
        return False
    own = [other.edges for other in seam.sides if other.part == side.part and other.edges]
    hems = [hem for strip in goods.strips(side.part) for hem in strip.hems]
    return any(meets(hem.edges, edges) for hem in hems for edges in own)


def _add_hung(side: Side, hung: Hung, index: int) -> Side:
    """The side with what hangs on its edge already."""
    low, usual, high = (own + more for own, more in zip(side.range_mm, hung.range_mm, strict=True))
    return Side(
        columns=(*side.columns, *_hung_columns(hung, index)),
        range_mm=(low, usual, high),
        landed=(*side.landed, *(copy for copy, _ in hung.layers)),
    )


def _hung_columns(hung: Hung, side: int) -> Iterator[Column]:
    """What hangs on a side, together where it is everywhere as thick; by itself what is not, since nothing tells where."""
    for k, named in enumerate(hung.layers):
        here = [(ends, layers[k]) for ends, layers in hung.bits]
        bits = [Bit(begin=a, end=b, mms=(one.thickness_mm if one else 0.0,)) for (a, b), one in here]
        loose = [(a, {one.least_mm, one.most_mm}) for (a, _), one in here if one and one.least_mm < one.most_mm]
        bits += [Bit(begin=a, end=a, mms=(mm,)) for a, mms in loose for mm in sorted(mms)]
        yield Column(layers=(named,), bits=tuple(bits), side=side, is_loose=bool(loose))


def _stack_side(goods: Goods, looked: Looked, spots: Sequence[Spot]) -> Side:
    copy = looked.copy
    lying = [*dict.fromkeys(key for spot in spots for key in _lying_layers(goods, spot))]
    is_turned = any(spot.turned_mm for spot in spots)
    rows = [
        (spot.own_mm, *((spot.turned_mm,) if is_turned else ()), *(found.get(key, 0.0) for key in lying))
        for spot, found in ((spot, _lying_layers(goods, spot)) for spot in spots)
    ]
    copies = (copy, *((copy,) if is_turned else ()), *(one for one, _ in lying))
    shares = [spot.share_mm for spot in spots]
    layers = [
        (one, _as_layer(goods.whole_layer(one.part), zip(shares, (row[k] for row in rows), strict=True)))
        for k, one in enumerate(copies)
    ]
    total = _as_layer(goods.whole_layer(copy.part), [(spot.share_mm, spot.all_mm) for spot in spots])
    thickest = max(spots, key=lambda spot: spot.all_mm)
    long_mm = max(spot.end_mm for spot in spots)
    bits = (
        Bit(
            begin=spot.begin_mm / long_mm,
            end=spot.end_mm / long_mm,
            mms=tuple(round(mm, 6) for mm in row),
            row=spot.row,
        )
        for spot, row in zip(spots, rows, strict=True)
    )
    column = Column(
        layers=tuple(layers), bits=tuple(bits), side=looked.index, is_loose=any(spot.is_loose for spot in spots)
    )
    return Side(
        columns=(column,), range_mm=(total.least_mm, total.thickness_mm, total.most_mm), landed=tuple(thickest.lying_mm)
    )


def _lying_layers(goods: Goods, spot: Spot) -> dict[tuple[Copy, int], float]:
    """What lies at a spot, by copy and number: of what is folded or hemmed each layer by itself."""
    found: dict[tuple[Copy, int], float] = {}
    for copy, layers_mm in spot.lying_mm.items():
        piece = goods.pieces.get(copy.part)
        is_folded = piece is not None and bool(piece.hems or piece.marks.folds)
        found |= {(copy, k): mm for k, mm in enumerate(layers_mm if is_folded else (sum(layers_mm),))}
    return found


def _as_layer(layer: Layer, found: Iterable[tuple[float, float]]) -> Layer:
    """The layer as thick as it is along most of the line, and at its least and most."""
    shares: Counter[float] = Counter()
    for share_mm, thickness_mm in found:
        shares[round(thickness_mm, 6)] += share_mm  # type: ignore[assignment]
    usual_mm = max(shares, key=lambda mm: (shares[mm], -mm))
    return Layer(
        part=layer.part,
        material=layer.material,
        thickness_mm=usual_mm,
        thinnest_mm=min(shares),
        thickest_mm=max(shares),
    )
