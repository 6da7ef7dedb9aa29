"""Layers under a needle: of each partner along its stitch line, what lies there, and what hangs on its edge already."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import pairwise

from docgen.assemble.assembly import Copy, Stack
from docgen.assemble.bench import EVERY, Bench, Bundle, Lying
from docgen.assemble.goods import Goods, meets
from docgen.assemble.hung import Hung, Named, find_hung
from docgen.assemble.landing import Slot
from docgen.assemble.tapes import joint_mm
from docgen.classes import dataclass
from docgen.geometry.measure import distance_to_path
from docgen.geometry.outline import WHOLE, edge_names, edge_path
from docgen.geometry.path import boxes_overlap, grow_box, path_box, path_length, points_at
from docgen.geometry.segment import segment_end, segment_start
from docgen.geometry.shapes import Box, Line, Path, Point, Segment
from docgen.resolve import Layer, Piece, Seam, SeamSide, SeamTrimming, from_start, lay_out_strips

GLANCE_MM = 4.0  # along a stitch line; a part that lies there is not missed when it is as wide
LOOK_EVERY_MM = 1.0  # where it begins and ends is found to half of it
MOST_PARTS = 60  # a stitch line of more parts is a curve in chords, and is looked at in equal stretches
ON_EDGE_MM = 0.01  # a stitch line along the very edge of a part does not go through it
Band = tuple[Path, float]  # an edge, and how wide it is skived
Allowance = tuple[Bundle, Path]  # what is sewn along an edge, turned right side out, and that edge


@dataclass(frozen=True, slots=True, kw_only=True)
class Spot:
    """A partner at a stretch of its stitch line: its own layer, what of it is turned over on to that, and what lies
    there, in mm; `share_mm` is how long the stretch is."""

    share_mm: float
    own_mm: float
    turned_mm: float
    lying_mm: Mapping[Copy, tuple[float, ...]]

    def is_as(self, other: Spot) -> bool:
        """Whether the same layers lie there."""
        mine, its = ((one.own_mm, one.turned_mm, one.lying_mm) for one in (self, other))
        return mine == its

    @property
    def all_mm(self) -> float:
        return self.own_mm + self.turned_mm + sum(map(sum, self.lying_mm.values()))


@dataclass(frozen=True, slots=True, kw_only=True)
class Side:
    """The layers of one partner, and their sum: at least, mostly, at most."""

    layers: tuple[Named, ...]
    range_mm: tuple[float, float, float]
    landed: tuple[Copy, ...]


def stack_seam(
    goods: Goods, bench: Bench, seam: Seam, copies: Sequence[Copy], slots: Mapping[str, Sequence[Slot]]
) -> tuple[Stack, tuple[Named, ...]]:
    """The stack of a seam that is sewn now with these copies of its sides, and its layers by copy."""
    places = [slot for copy in copies for slot in slots.get(copy.part, ()) if slot.copy == copy]
    inset_mm = goods.stitches[seam.stitch].inset_mm
    taken = {*copies, *(Copy(use.name, copies[0].number) for use in seam.trimmings)}
    sides = []
    for side, copy in zip(seam.sides, copies, strict=True):
        if _is_hemmed(goods, seam, side):
            continue
        spots = [*_side_spots(goods, bench, seam, side, copy, inset_mm, taken, places)]
        found = _stack_side(goods, copy, spots)
        hung = find_hung(goods, bench, side, copy, taken | {one for one, _ in found.layers})
        taken |= {one for one, _ in (*found.layers, *hung.layers)}
        sides.append(_add_hung(found, hung))
    trimmed = [(use.above, _trimming_layers(goods, use, copies[0])) for use in seam.trimmings]
    layers = tuple(named for named in _lay_between([side.layers for side in sides], trimmed))
    more_mm = sum(layer.thickness_mm for _, found in trimmed for _, layer in found)
    stack = Stack(
        layers=tuple(layer for _, layer in layers),
        thinnest_mm=sum(side.range_mm[0] for side in sides) + more_mm,
        usual_mm=sum(side.range_mm[1] for side in sides) + more_mm,
        thickest_mm=sum(side.range_mm[2] for side in sides) + more_mm,
        landed=tuple(dict.fromkeys(copy.part for side in sides for copy in side.landed)),
    )
    return stack, layers


def _trimming_layers(goods: Goods, use: SeamTrimming, first: Copy) -> tuple[Named, ...]:
    """Goods by length under the needle, as many layers as they have there; those of the same number as the first copy."""
    item = goods.trimmings[use.name]
    layer = Layer(part=item.name, material="", thickness_mm=item.thickness_mm)
    return ((Copy(item.name, first.number), layer),) * item.layers


def _lay_between(
    sides: Sequence[tuple[Named, ...]], trimmed: Sequence[tuple[int, tuple[Named, ...]]]
) -> Iterator[Named]:
    """The layers of all sides from the top down, with the goods by length where they lie among them."""
    for index in range(max([len(sides), *(above for above, _ in trimmed)]) + 1):
        for above, found in trimmed:
            yield from found if above == index else ()
        yield from sides[index] if index < len(sides) else ()


def _is_hemmed(goods: Goods, seam: Seam, side: SeamSide) -> bool:
    """Whether a piece lies flat beneath its own edges, and these are turned over: it is there with its hem already."""
    piece = goods.pieces.get(side.part)
    if side.edges or piece is None:
        return False
    own = [other.edges for other in seam.sides if other.part == side.part and other.edges]
    return any(meets(hem.edges, edges) for hem in piece.hems for edges in own)


def _add_hung(side: Side, hung: Hung) -> Side:
    """The side with what hangs on its edge already."""
    low, usual, high = (own + more for own, more in zip(side.range_mm, hung.range_mm, strict=True))
    return Side(
        layers=(*side.layers, *hung.layers),
        range_mm=(low, usual, high),
        landed=(*side.landed, *(copy for copy, _ in hung.layers)),
    )


def _stack_side(goods: Goods, copy: Copy, spots: Sequence[Spot]) -> Side:
    names = list(dict.fromkeys(name for spot in spots for name in spot.lying_mm))
    whole = goods.whole_layer(copy.part)
    layers = [(copy, _as_layer(whole, [(spot.share_mm, spot.own_mm) for spot in spots]))]
    if any(spot.turned_mm for spot in spots):
        layers.append((copy, _as_layer(whole, [(spot.share_mm, spot.turned_mm) for spot in spots])))
    for name in names:
        found = [(spot.share_mm, sum(spot.lying_mm.get(name, ()))) for spot in spots]
        layers.append((name, _as_layer(goods.whole_layer(name.part), found)))
    total = _as_layer(whole, [(spot.share_mm, spot.all_mm) for spot in spots])
    thickest = max(spots, key=lambda spot: spot.all_mm)
    return Side(
        layers=tuple(layers),
        range_mm=(total.least_mm, total.thickness_mm, total.most_mm),
        landed=tuple(thickest.lying_mm),
    )


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


def _side_spots(
    goods: Goods,
    bench: Bench,
    seam: Seam,
    side: SeamSide,
    copy: Copy,
    inset_mm: float,
    taken: set[Copy],
    places: Sequence[Slot],
) -> Iterator[Spot]:
    everywhere = _lying_all_over(goods, bench, copy, taken)
    reach_mm = side.line_mm(inset_mm) if side.edges else math.inf
    strips = goods.strips(copy.part)
    if not strips:
        yield Spot(share_mm=1.0, own_mm=goods.straps[copy.part].thickness_mm, turned_mm=0.0, lying_mm=everywhere)
        return
    for piece in strips:
        host = copy if copy.part == piece.name else Copy(piece.name, EVERY)
        found = [item for item in bench.lying_on(host) if item.outline is not None and item.copy not in taken]
        lying = [item for item in found if item.inset_mm < reach_mm]
        lines = [line.path for line in piece.marks.stitch_lines if line.seam == seam.name]
        if not side.edges and len(lines) > 1:
            lines = _lines_at(goods, lines, [slot for slot in places if slot.host in (host, copy)])
        turned = [*_allowances(piece, bench.wide_at(copy, taken))]
        if lines and (lying or turned or not side.edges or piece.hems or piece.marks.folds):
            is_own = sum(bool(one.edges) and one.part == side.part for one in seam.sides) > 1
            yield from _look_along(goods, bench, piece, lines, lying, everywhere, taken, turned, is_own=is_own)
        elif side.edges and (lines or side.stretch_mm is None):
            yield from _edge_spots(goods, piece, side, inset_mm, everywhere)
            if copy.part == piece.name and piece.marks.skives:  # ends of strips are thin in their joint
                yield from _end_spots(goods, piece, lines, everywhere)
        elif not side.edges:
            yield Spot(share_mm=1.0, own_mm=goods.full_mm(piece), turned_mm=0.0, lying_mm=everywhere)
    if copy.part in goods.joins and side.edges and _has_joint(goods, side):
        join = goods.joins[copy.part]
        thick_mm = joint_mm(goods, bench, join, side.edges[0], inset_mm)
        yield Spot(share_mm=join.overlap_mm, own_mm=thick_mm, turned_mm=0.0, lying_mm=everywhere)


def _has_joint(goods: Goods, side: SeamSide) -> bool:
    """Whether a joint lies in what a side takes of a join."""
    join = goods.joins[side.part]
    if side.stretch_mm is None:
        return True
    begin_mm, end_mm = from_start(side.stretch_mm, side.edges[0], join.length_mm)
    starts = [laid.offset_mm for laid in lay_out_strips(join, goods.pieces)][0 if join.is_ring else 1 :]
    return any(begin_mm < start_mm + join.overlap_mm and start_mm < end_mm for start_mm in starts)


def _lines_at(goods: Goods, lines: Sequence[Path], places: Sequence[Slot]) -> list[Path]:
    """Of the lines that a seam has on a part beneath, for all that land there, those of what it sews now."""
    outlines = [slot.lying.outline for slot in places if slot.lying.outline is not None]
    starts = [(line, segment_start(line.segments[0]), segment_end(line.segments[-1])) for line in lines]
    own = [line for line, *ends in starts if any(_is_round(goods, outline, at) for outline in outlines for at in ends)]
    return own or [*lines]


def _is_round(goods: Goods, outline: Path, at: Point) -> bool:
    """Whether a point lies in an outline, or on it."""
    return goods.is_within(outline, at) or goods.is_on_rim(outline, at, ON_EDGE_MM)


def _allowances(piece: Piece, bundles: Iterable[Bundle]) -> Iterator[Allowance]:
    """The edges of a piece along which seams are turned or lapped: within a band their layers lie on it."""
    for bundle in bundles:
        names = edge_names(piece.sewn_outline)
        for name in names if WHOLE in bundle.edges else [edge for edge in bundle.edges if edge in names]:
            yield bundle, edge_path(piece.sewn_outline, name)


def _lying_all_over(goods: Goods, bench: Bench, copy: Copy, taken: set[Copy]) -> dict[Copy, tuple[float, ...]]:
    """Linings, foam and board behind the whole of a partner."""
    return {
        item.copy: (goods.whole_layer(item.copy.part).thickness_mm,)
        for item in bench.lying_on(copy)
        if item.outline is None and item.copy not in taken
    }


def _edge_spots(
    goods: Goods, piece: Piece, side: SeamSide, inset_mm: float, everywhere: Mapping[Copy, tuple[float, ...]]
) -> Iterator[Spot]:
    """One spot for each edge of a piece that nothing lies on or is turned over."""
    line_mm = side.line_mm(inset_mm)
    for name in edge_names(piece.outline) if WHOLE in side.edges else side.edges:
        length_mm = path_length(edge_path(piece.outline, name))
        own_mm = goods.edge_mm(piece, name, line_mm)
        yield Spot(share_mm=length_mm, own_mm=own_mm, turned_mm=0.0, lying_mm=everywhere)


def _end_spots(
    goods: Goods, piece: Piece, lines: Iterable[Path], everywhere: Mapping[Copy, tuple[float, ...]]
) -> Iterator[Spot]:
    """Both ends of each open line: there it crosses the skived bands of the edges beside it."""
    for line in (line for line in lines if not line.closed):
        for at, _ in points_at(line, (LOOK_EVERY_MM, path_length(line) - LOOK_EVERY_MM)):
            own_mm = sum(goods.layers_at(piece, at))
            yield Spot(share_mm=LOOK_EVERY_MM, own_mm=own_mm, turned_mm=0.0, lying_mm=everywhere)


def _look_along(
    goods: Goods,
    bench: Bench,
    piece: Piece,
    lines: Iterable[Path],
    lying: Sequence[Lying],
    everywhere: Mapping[Copy, tuple[float, ...]],
    taken: set[Copy],
    turned: Sequence[Allowance],
    *,
    is_own: bool,
) -> Iterator[Spot]:
    """Along lines of a piece; where it is sewn to edges of its own (`is_own`), what is folded on to one is the other."""
    boxes = [goods.box(item.outline) for item in lying if item.outline is not None]
    boxes += goods.turned_boxes(piece)
    boxes += [grow_box(path_box(edge), bundle.band_mm[1]) for bundle, edge in turned]
    bands = [*_bands(piece)] if boxes else []

    def look(line: Path, stretches: Sequence[tuple[float, float]]) -> Iterator[Spot]:
        places = ((begin + end) / 2 for begin, end in stretches)
        for (begin, end), (at, _) in zip(stretches, points_at(line, places), strict=True):
            own_mm, *turned_mm = goods.layers_at(piece, at)
            turned_mm = [*goods.hem_layers(piece, at)] if is_own else turned_mm
            there = dict(everywhere)
            for item in lying:
                add_lying(goods, bench, item, at, there, taken)
            for bundle, edge in turned:
                low_mm, high_mm = bundle.band_mm
                if low_mm + ON_EDGE_MM < distance_to_path(edge, at) < high_mm:
                    known = set[Copy]() if bundle.turned_mm else {*taken, *there}
                    for one, layer in (it for it in bundle.layers if it[0] not in known):
                        if bundle.turned_mm or one.part != piece.name:
                            there[one] = (*there.get(one, ()), layer.thickness_mm)
            yield Spot(share_mm=end - begin, own_mm=own_mm, turned_mm=sum(turned_mm), lying_mm=there)

    for line in lines:
        stretches = [*_stretches(line, boxes, bands)]
        spots = [*look(line, stretches)]
        for index, (stretch, spot) in enumerate(zip(stretches, spots, strict=True)):
            beside = spots[max(index - 1, 0) : index + 2]
            if stretch[1] - stretch[0] > GLANCE_MM or all(spot.is_as(other) for other in beside):
                yield spot
            else:
                yield from look(line, [*_share_out(*stretch, LOOK_EVERY_MM)])


def add_lying(
    goods: Goods, bench: Bench, item: Lying, at: Point, there: dict[Copy, tuple[float, ...]], taken: Iterable[Copy] = ()
) -> None:
    """Add what lies on a part at a point of it: the thing itself where it reaches there, and what lies on that."""
    if item.copy in there or item.copy in taken:
        return
    if item.outline is not None and not _is_on(goods, item.outline, at):
        return
    own = item.to_own(at)
    piece = goods.pieces.get(item.copy.part)
    if piece is None or item.outline is None:
        there[item.copy] = (goods.whole_layer(item.copy.part).thickness_mm,)
    else:
        there[item.copy] = goods.layers_at(piece, own)
    for other in bench.lying_on(item.copy):
        add_lying(goods, bench, other, own, there, taken)


def _is_on(goods: Goods, outline: Path, at: Point) -> bool:
    return goods.is_within(outline, at) and not goods.is_on_rim(outline, at, ON_EDGE_MM)


def _bands(piece: Piece) -> Iterator[Band]:
    """The edges of a piece that are skived, and how wide."""
    names = edge_names(piece.outline)
    for skive in piece.marks.skives:
        yield from ((edge_path(piece.outline, name), skive.width_mm) for name in skive.edges.split() if name in names)


def _stretches(line: Path, boxes: Sequence[Box], bands: Sequence[Band]) -> Iterator[tuple[float, float]]:
    """Parts of a line, as distances along it: short ones where something may lie, else as long as a segment has them."""
    lengths = [path_length(Path((segment,))) for segment in line.segments]
    if len(lengths) > MOST_PARTS:
        yield from _share_out(0.0, sum(lengths), GLANCE_MM)
        return
    begun = 0.0
    for segment, length in zip(line.segments, lengths, strict=True):
        if length <= 0:
            continue
        done = begun
        for begin, end in _near(segment, length, [*boxes, *_bands_across(segment, bands)]):
            if begun + begin > done:
                yield done, begun + begin
            yield from _share_out(max(done, begun + begin), begun + end, GLANCE_MM)
            done = begun + end
        begun += length
        if done < begun:
            yield done, begun


def _bands_across(segment: Segment, bands: Sequence[Band]) -> Iterator[Box]:
    """The boxes of skived bands that a segment does not run in from end to end."""
    for edge, width_mm in bands:
        if any(distance_to_path(edge, point) > width_mm for point in (segment_start(segment), segment_end(segment))):
            yield grow_box(path_box(edge), width_mm)


def _near(segment: Segment, length_mm: float, boxes: Sequence[Box]) -> list[tuple[float, float]]:
    """Where a segment runs through boxes, as distances along it, in order and apart; an arc as a whole."""
    if not isinstance(segment, Line):
        box = path_box(Path((segment,)))
        return [(0.0, length_mm)] if any(boxes_overlap(box, other) for other in boxes) else []
    found: list[tuple[float, float]] = []
    for begin, end in sorted(part for box in boxes if (part := _within(segment, length_mm, box)) is not None):
        if found and begin <= found[-1][1]:
            found[-1] = (found[-1][0], max(found[-1][1], end))
        else:
            found.append((begin, end))
    return found


def _within(line: Line, length_mm: float, box: Box) -> tuple[float, float] | None:
    """Which part of a straight line lies in a box, as distances along it."""
    begin, end = 0.0, length_mm
    for start, run, low, high in (
        (line.start.x, line.end.x - line.start.x, box.left, box.right),
        (line.start.y, line.end.y - line.start.y, box.bottom, box.top),
    ):
        if not run:
            if not low <= start <= high:
                return None
            continue
        sides = sorted(((low - start) / run, (high - start) / run))
        begin, end = max(begin, sides[0] * length_mm), min(end, sides[1] * length_mm)
    return (begin, end) if begin < end else None


def _share_out(begin: float, end: float, every_mm: float) -> Iterator[tuple[float, float]]:
    count = max(1, -int(-(end - begin) // every_mm))
    yield from pairwise(begin + (end - begin) * step / count for step in range(count + 1))
