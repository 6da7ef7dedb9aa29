"""What lies at each place along the stitch line of a partner: its own layer, what is turned over, what has landed there."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from itertools import pairwise

from docgen.assemble.assembly import Copy
from docgen.assemble.bench import EVERY, Bench, Bundle, Lying
from docgen.assemble.glances import GLANCE_MM, list_bands, list_stretches, share_out
from docgen.assemble.goods import Goods, meets
from docgen.assemble.hanging import is_lifted, is_lifted_all_along
from docgen.assemble.hung import list_borne
from docgen.assemble.landing import Slot
from docgen.assemble.tapes import joint_mm
from docgen.classes import dataclass
from docgen.geometry.measure import distance_to_path
from docgen.geometry.outline import WHOLE, edge_names, edge_path
from docgen.geometry.path import grow_box, part_of, path_box, path_length, points_at
from docgen.geometry.segment import segment_end, segment_start
from docgen.geometry.shapes import Path, Point
from docgen.resolve import LaidStrip, Piece, Seam, SeamSide, StitchLine, from_start, lay_out_strips

LOOK_EVERY_MM = 1.0  # where it begins and ends is found to half of it
ON_EDGE_MM = 0.01  # a stitch line along the very edge of a part does not go through it
Allowance = tuple[Bundle, Path]  # what is sewn along an edge, turned right side out, and that edge
Reach = tuple[float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class Spot:
    """A partner at a stretch of its stitch line, from where to where along it in mm, in a `row` (0 is the first; None for
    all): its own layer, what of it is turned over on to that, and what lies there, in mm. Where along the line it lies is
    not known of one that is `loose`."""

    begin_mm: float
    end_mm: float
    row: int | None = None
    is_loose: bool = False
    own_mm: float
    turned_mm: float = 0.0
    lying_mm: Mapping[Copy, tuple[float, ...]]

    def is_as(self, other: Spot) -> bool:
        """Whether the same layers lie there."""
        mine, its = ((one.own_mm, one.turned_mm, one.lying_mm) for one in (self, other))
        return mine == its

    @property
    def share_mm(self) -> float:
        return self.end_mm - self.begin_mm

    @property
    def all_mm(self) -> float:
        return self.own_mm + self.turned_mm + sum(map(sum, self.lying_mm.values()))


@dataclass(frozen=True, slots=True, kw_only=True)
class Looked:
    """Where it is looked: a side of a seam by its number, with its copy; the partners, and all that is counted already; and
    partners `landing` on it that lie under some of its line; those `edged` are sewn by edges of theirs."""

    seam: Seam
    index: int
    copy: Copy
    inset_mm: float
    taken: frozenset[Copy]
    places: Sequence[Slot]
    landing: tuple[Lying, ...] = ()
    edged: frozenset[Copy] = frozenset()

    @property
    def side(self) -> SeamSide:
        return self.seam.sides[self.index]

    @property
    def which(self) -> int:
        """The how manieth side of the part in this seam it is, from 0, of those that run along edges."""
        return sum(bool(one.edges) and one.part == self.side.part for one in self.seam.sides[: self.index])

    @property
    def is_own(self) -> bool:
        """Whether the part is sewn to edges of its own: what is folded on to one is the other."""
        return sum(bool(one.edges) and one.part == self.side.part for one in self.seam.sides) > 1


def find_spots(goods: Goods, bench: Bench, looked: Looked) -> list[Spot]:
    """What lies along one side of a seam, in no order; none for a part that is not there."""
    side, copy = looked.side, looked.copy
    everywhere = _lying_all_over(goods, bench, looked)
    strips = goods.strips(copy.part)
    if not strips:
        return [Spot(begin_mm=0.0, end_mm=1.0, own_mm=goods.straps[copy.part].thickness_mm, lying_mm=everywhere)]
    if copy.part not in goods.joins:
        return [*_on_piece(goods, bench, looked, strips[0], everywhere)]
    on_strips = {piece.name: [*_on_piece(goods, bench, looked, piece, everywhere)] for piece in strips}
    if not side.edges:
        return [replace(spot, is_loose=True) for spots in on_strips.values() for spot in spots]
    return [*_along_join(goods, bench, looked, on_strips, everywhere)]


def _on_piece(
    goods: Goods, bench: Bench, looked: Looked, piece: Piece, everywhere: Mapping[Copy, tuple[float, ...]]
) -> Iterator[Spot]:
    """Along a piece, or one strip of a join, from where its line begins."""
    side, copy = looked.side, looked.copy
    reach_mm = side.line_mm(looked.inset_mm) if side.edges else math.inf
    host = copy if copy.part == piece.name else Copy(piece.name, EVERY)
    there = bench.lying_on(host)
    there = [*there, *(item for item in looked.landing if item.copy not in {one.copy for one in there})]
    found = [item for item in there if item.outline is not None and item.copy not in looked.taken]
    lines = [line for line in piece.marks.stitch_lines if line.seam == looked.seam.name]
    rows = [line.path for line in lines]
    lying = [
        item for item in found if item.inset_mm < reach_mm and not is_lifted_all_along(goods, bench, host, item, rows)
    ]
    if not side.edges and len(lines) > 1:
        lines = _lines_at(goods, lines, [slot for slot in looked.places if slot.host in (host, copy)])
    wide = (_as_borne(goods, looked, bundle) for bundle in bench.wide_at(copy, looked.taken))
    turned = [*_allowances(piece, wide)]
    if lines and (lying or turned or not side.edges or piece.hems or piece.marks.folds):
        look = _Look(goods, bench, piece, lying, everywhere, looked.taken, turned, is_own=looked.is_own)
        yield from _in_rows(look, looked, lines)
    elif side.edges and (lines or side.stretch_mm is None):
        spots = [*_edge_spots(goods, piece, side, looked.inset_mm, everywhere)]
        if copy.part == piece.name and piece.marks.skives:  # ends of strips are thin in their joint
            ends = [*_end_spots(goods, piece, [line.path for line in lines], spots, everywhere)]
            spots = [*_without(spots, [(spot.begin_mm, spot.end_mm) for spot in ends]), *ends]
        yield from spots
    elif not side.edges:
        yield Spot(begin_mm=0.0, end_mm=1.0, own_mm=goods.full_mm(piece), lying_mm=everywhere)


def _in_rows(look: _Look, looked: Looked, lines: Sequence[StitchLine]) -> Iterator[Spot]:
    """The rows of a side; where a row has more lines than sides, the places along them are not those of the seam."""
    rows: dict[int, list[StitchLine]] = {}
    for line in lines:
        rows.setdefault(line.row, []).append(line)
    sides = sum(bool(one.edges) and one.part == looked.side.part for one in looked.seam.sides)
    for row, found in rows.items():
        is_told = len(found) == 1 or (looked.side.edges and len(found) == sides)
        for line in found[looked.which :][:1] if is_told and looked.side.edges else found:
            yield from (replace(spot, row=row, is_loose=not is_told) for spot in look.along(line.path))


def _along_join(
    goods: Goods,
    bench: Bench,
    looked: Looked,
    on_strips: Mapping[str, Sequence[Spot]],
    everywhere: Mapping[Copy, tuple[float, ...]],
) -> Iterator[Spot]:
    """Along an edge of a join, from its start or where the seam begins there: its strips as they lie in it, and its joints.
    Where those of a ring lie is not known."""
    join, side = goods.joins[looked.copy.part], looked.side
    whole = (0.0, join.length_mm)
    reach = whole if side.stretch_mm is None else from_start(side.stretch_mm, side.edges[0], join.length_mm)
    laid = lay_out_strips(join, goods.pieces)
    starts = [strip.offset_mm for strip in (laid if join.is_ring else laid[1:])]
    joints = [(begin, begin + join.overlap_mm) for begin in starts]
    sewn = [cut for begin, end in joints for cut in _cut((begin, end), reach)]
    spots = [spot for strip in laid for spot in _on_laid(goods, strip, on_strips[strip.name], looked, reach)]
    if sewn:
        own_mm, turned_mm = joint_mm(goods, bench, join, side.edges[0], looked.inset_mm)
        spots = [*_without(spots, sewn)]
        spots += [Spot(begin_mm=a, end_mm=b, own_mm=own_mm, turned_mm=turned_mm, lying_mm=everywhere) for a, b in sewn]
    for spot in spots:
        begin, end = spot.begin_mm - reach[0], spot.end_mm - reach[0]
        yield replace(spot, begin_mm=begin, end_mm=end, is_loose=spot.is_loose or join.is_ring)


def _on_laid(goods: Goods, strip: LaidStrip, spots: Sequence[Spot], looked: Looked, reach: Reach) -> Iterator[Spot]:
    """The spots of a strip where it lies in its join: its lines run from its own start on."""
    piece = goods.pieces[strip.name]
    lines = [line for line in piece.marks.stitch_lines if line.seam == looked.seam.name]
    low = path_box(goods.outline(piece)).bottom
    first_mm = min((path_box(line.path).bottom - low for line in lines), default=0.0)
    for spot in spots:
        begin, end = spot.begin_mm + first_mm, spot.end_mm + first_mm
        if strip.is_turned:
            begin, end = strip.length_mm - end, strip.length_mm - begin
        for a, b in _cut((begin + strip.offset_mm, end + strip.offset_mm), reach):
            yield replace(spot, begin_mm=a, end_mm=b)


def _cut(one: Reach, other: Reach) -> Iterator[Reach]:
    """What two stretches have in common."""
    begin, end = max(one[0], other[0]), min(one[1], other[1])
    if begin < end:
        yield begin, end


def _without(spots: Iterable[Spot], taken: Sequence[Reach]) -> Iterator[Spot]:
    """The spots without what of them lies in other stretches."""
    for spot in spots:
        ends = sorted({spot.begin_mm, spot.end_mm, *(mm for part in taken for mm in part)})
        for begin, end in pairwise(mm for mm in ends if spot.begin_mm <= mm <= spot.end_mm):
            if not any(a < (begin + end) / 2 < b for a, b in taken):
                yield replace(spot, begin_mm=begin, end_mm=end)


def _lines_at(goods: Goods, lines: Sequence[StitchLine], places: Sequence[Slot]) -> list[StitchLine]:
    """Of the lines that a seam has on a part beneath, for all that land there, those of what it sews now."""
    outlines = [slot.lying.outline for slot in places if slot.lying.outline is not None]
    starts = [(one, segment_start(one.path.segments[0]), segment_end(one.path.segments[-1])) for one in lines]
    own = [line for line, *ends in starts if any(_is_round(goods, outline, at) for outline in outlines for at in ends)]
    return own or [*lines]


def _is_round(goods: Goods, outline: Path, at: Point) -> bool:
    """Whether a point lies in an outline, or on it."""
    return goods.is_within(outline, at) or goods.is_on_rim(outline, at, ON_EDGE_MM)


def _allowances(piece: Piece, bundles: Iterable[Bundle]) -> Iterator[Allowance]:
    """The edges of a piece, or parts of them, along which seams are turned or lapped: within a band their layers lie on
    it."""
    for bundle in bundles:
        names = edge_names(piece.sewn_outline)
        for name in names if WHOLE in bundle.edges else [edge for edge in bundle.edges if edge in names]:
            path = edge_path(piece.sewn_outline, name)
            if not bundle.parts:
                yield bundle, path
            elif name in bundle.parts:
                yield bundle, part_of(path, *bundle.parts[name])


def _as_borne(goods: Goods, looked: Looked, bundle: Bundle) -> Bundle:
    """What a seam has sewn to an edge as far as it counts on this partner: of one with a zip its tape alone."""
    there = list_borne(goods, bundle, looked.copy, looked.edged)
    return replace(bundle, layers=tuple(it for it in there if not bundle.taped_mm or goods.is_zip(it[0].part)))


def _lying_all_over(goods: Goods, bench: Bench, looked: Looked) -> dict[Copy, tuple[float, ...]]:
    """Linings, foam and board behind the whole of a partner; none that is sewn to something else along these edges, as a
    lining that is a bag of its own; nor a narrower one that is sewn to the partner along another edge."""
    found = (
        item.copy for item in bench.lying_on(looked.copy) if item.outline is None and item.copy not in looked.taken
    )
    return {
        copy: (goods.whole_layer(copy.part).thickness_mm,)
        for copy in found
        if not (_is_sewn_apart(goods, looked, copy.part) or _ends_short(goods, looked, copy.part))
    }


def _ends_short(goods: Goods, looked: Looked, cover: str) -> bool:
    """Whether a lining of strips is sewn to a wider join along other edges than this one, and does not reach it."""
    host = looked.copy.part
    if not (cover in goods.joins and host in goods.joins and looked.side.edges):
        return False
    at = [side.edges for seam, side in goods.edge_sides.get(host, ()) if cover in seam.parts]
    short_mm = goods.joins[host].width_mm - goods.joins[cover].width_mm
    return bool(at) and short_mm > looked.inset_mm and not any(meets(edges, looked.side.edges) for edges in at)


def _is_sewn_apart(goods: Goods, looked: Looked, cover: str) -> bool:
    """Whether another seam takes the edges of a lining that lie along this one, without what it lines."""
    hosts = {looked.copy.part, *(piece.name for piece in goods.strips(looked.copy.part))}
    for seam, side in goods.edge_sides.get(cover, ()):
        is_along = seam.name != looked.seam.name and bool(looked.side.edges) and meets(side.edges, looked.side.edges)
        if is_along and hosts.isdisjoint(one.part for one in seam.sides):
            return True
    return False


def _edge_spots(
    goods: Goods, piece: Piece, side: SeamSide, inset_mm: float, everywhere: Mapping[Copy, tuple[float, ...]]
) -> Iterator[Spot]:
    """One spot for each edge of a piece that nothing lies on or is turned over."""
    line_mm, passed_mm = side.line_mm(inset_mm), 0.0
    parts = goods.edge_parts(side) if side.stretch_mm and side.part == piece.name else {}
    for name in edge_names(piece.outline) if WHOLE in side.edges else side.edges:
        begin_mm, end_mm = parts.get(name, (0.0, 0.0 if parts else path_length(edge_path(piece.outline, name))))
        length_mm = end_mm - begin_mm
        if not length_mm:
            continue
        own_mm = goods.edge_mm(piece, name, line_mm)
        yield Spot(begin_mm=passed_mm, end_mm=passed_mm + length_mm, own_mm=own_mm, lying_mm=everywhere)
        passed_mm += length_mm


def _end_spots(
    goods: Goods,
    piece: Piece,
    lines: Iterable[Path],
    spots: Sequence[Spot],
    everywhere: Mapping[Copy, tuple[float, ...]],
) -> Iterator[Spot]:
    """Both ends of each open line: there it crosses the skived bands of the edges beside it."""
    whole_mm = max(spot.end_mm for spot in spots)
    for line in (line for line in lines if not line.closed):
        places = (LOOK_EVERY_MM, path_length(line) - LOOK_EVERY_MM)
        for begin, (at, _) in zip((0.0, whole_mm - LOOK_EVERY_MM), points_at(line, places), strict=True):
            own_mm = sum(goods.layers_at(piece, at))
            yield Spot(begin_mm=begin, end_mm=begin + LOOK_EVERY_MM, own_mm=own_mm, lying_mm=everywhere)


class _Look:
    """What is looked for along the lines of a piece; it does not leave this module. Where that is sewn to edges of its own
    (`is_own`), what is folded on to one is the other."""

    def __init__(
        self,
        goods: Goods,
        bench: Bench,
        piece: Piece,
        lying: Sequence[Lying],
        everywhere: Mapping[Copy, tuple[float, ...]],
        taken: frozenset[Copy],
        turned: Sequence[Allowance],
        *,
        is_own: bool,
    ) -> None:
        self.goods, self.bench, self.piece, self.lying = goods, bench, piece, lying
        self.everywhere, self.taken, self.turned, self.is_own = everywhere, taken, turned, is_own
        self.boxes = [goods.box(item.outline) for item in lying if item.outline is not None]
        self.boxes += goods.turned_boxes(piece)
        self.boxes += [grow_box(path_box(edge), bundle.band_mm[1]) for bundle, edge in turned]
        self.bands = [*list_bands(piece)] if self.boxes else []

    def along(self, line: Path) -> Iterator[Spot]:
        """Short stretches are looked at again, nearer, where they differ from their neighbours."""
        stretches = [*list_stretches(line, self.boxes, self.bands)]
        spots = [*self._at(line, stretches)]
        for index, (stretch, spot) in enumerate(zip(stretches, spots, strict=True)):
            beside = spots[max(index - 1, 0) : index + 2]
            if stretch[1] - stretch[0] > GLANCE_MM or all(spot.is_as(other) for other in beside):
                yield spot
            else:
                yield from self._at(line, [*share_out(*stretch, LOOK_EVERY_MM)])

    def _at(self, line: Path, stretches: Sequence[Reach]) -> Iterator[Spot]:
        places = ((begin + end) / 2 for begin, end in stretches)
        for (begin, end), (at, _) in zip(stretches, points_at(line, places), strict=True):
            own_mm, *turned_mm = self.goods.layers_at(self.piece, at)
            turned_mm = [*self.goods.hem_layers(self.piece, at)] if self.is_own else turned_mm
            yield Spot(begin_mm=begin, end_mm=end, own_mm=own_mm, turned_mm=sum(turned_mm), lying_mm=self._lying_at(at))

    def _lying_at(self, at: Point) -> dict[Copy, tuple[float, ...]]:
        folded = 0 if self.is_own else len(self.goods.folded_spots(self.piece, at))
        there = {one: layers_mm * (1 + folded) for one, layers_mm in self.everywhere.items()}
        for item in self.lying:
            add_lying(self.goods, self.bench, item, at, there, self.taken)
        for bundle, edge in self.turned:
            low_mm, high_mm = bundle.band_mm
            if low_mm + ON_EDGE_MM < distance_to_path(edge, at) < high_mm:
                known = set[Copy]() if bundle.turned_mm or bundle.bound_mm else {*self.taken, *there}
                for one, layer in (it for it in bundle.layers if it[0] not in known):
                    if layer.thickness_mm and (bundle.turned_mm or one.part != self.piece.name):
                        there[one] = (*there.get(one, ()), layer.thickness_mm)
        return there


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
    add_all_lying(goods, bench, item.copy, own, there, taken)


def add_all_lying(
    goods: Goods, bench: Bench, host: Copy, at: Point, there: dict[Copy, tuple[float, ...]], taken: Iterable[Copy] = ()
) -> None:
    """Add all that lies on a part at a point of it; what lines it is folded with it, and there as often as it is."""
    piece = goods.pieces.get(host.part)
    folded = goods.folded_spots(piece, at) if piece is not None and piece.marks.folds else ()
    for item in bench.lying_on(host):
        if is_lifted(goods, bench, host, item, at):
            continue
        add_lying(goods, bench, item, at, there, taken)
        for spot in folded if item.is_cover else ():
            twin = dict[Copy, tuple[float, ...]]()
            add_lying(goods, bench, item, spot, twin, taken)
            there |= {one: (*there.get(one, ()), *layers_mm) for one, layers_mm in twin.items()}


def _is_on(goods: Goods, outline: Path, at: Point) -> bool:
    return goods.is_within(outline, at) and not goods.is_on_rim(outline, at, ON_EDGE_MM)
