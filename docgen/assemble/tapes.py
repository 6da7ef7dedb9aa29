"""Goods by length that are laid flat on a piece: where they lie, and what they add to the joints of its strips."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from itertools import pairwise

from docgen.assemble.assembly import Copy, Stack
from docgen.assemble.bench import EVERY, Bench, Lying
from docgen.assemble.goods import Goods
from docgen.geometry.outline import outline_box
from docgen.geometry.path import polyline
from docgen.geometry.shapes import Path, Point
from docgen.geometry.vector import add, scale, subtract, turn_left, unit
from docgen.resolve import Join, LaidStrip, Layer, Piece, Seam, lay_out_strips
from docgen.tables.trimmings import TRIMMING_KINDS

LOOK_EVERY_MM = 1.0  # across a joint


def lay_tapes(goods: Goods, bench: Bench, name: str) -> None:
    """From now on what is laid on a piece lies there."""
    for tape, outline in _list_tapes(goods, goods.pieces[name]):
        bench.tape(name, Lying(copy=Copy(tape, EVERY), outline=outline))


def _list_tapes(goods: Goods, piece: Piece) -> Iterator[tuple[str, Path]]:
    """The goods on a piece and where they lie: they run between two lines of stitches, and are as wide as they are. A zip
    goes on beyond its window by what it is cut longer there."""
    lines = [line for line in piece.dividers if line.goods]
    for one, other in zip(lines[::2], lines[1::2], strict=True):
        start, end = (_middle(*ends) for ends in ((one.start, other.start), (one.end, other.end)))
        along = unit(subtract(end, start))
        item = goods.trimmings[one.goods]
        over_mm = [max(mm, item.ends_mm if item.kind == "zip" else 0.0) for mm in one.beyond_mm]
        start, end = subtract(start, scale(along, over_mm[0])), add(end, scale(along, over_mm[1]))
        aside = scale(turn_left(along), item.width_mm / 2)
        corners = (add(start, aside), add(end, aside), subtract(end, aside), subtract(start, aside))
        yield one.goods, polyline(corners, closed=True)


def _middle(one: Point, other: Point) -> Point:
    return Point((one.x + other.x) / 2, (one.y + other.y) / 2)


def find_taped_mm(goods: Goods, seam: Seam) -> float:
    """How far in from the edge of a part a seam lays the tape of a zip, twice as far as its row where that is not written
    (common practice, no published source); 0 of any other seam, and of one that is turned."""
    tapes = [use for use in seam.trimmings if goods.is_zip(use.name) and not seam.is_turned]
    return max((use.lap_mm or 2 * goods.stitches[seam.stitch].inset_mm for use in tapes), default=0.0)


def find_bound_mm(goods: Goods, seam: Seam) -> float:
    """How far in from the edge of a part a seam lays goods that bind it alone: half their width; 0 of any other seam."""
    items = [goods.trimmings[use.name] for use in seam.trimmings if use.name in goods.trimmings]
    bindings = [item for item in items if TRIMMING_KINDS[item.kind].is_at_edge]
    is_alone = len(seam.sides) == 1 and not seam.is_turned
    return max((item.width_mm / 2 for item in bindings), default=0.0) if is_alone else 0.0


def stack_joints(goods: Goods, bench: Bench, join: Join) -> Stack:
    """All layers of the joints of a join: two ends, and what has been laid on these before, looked for right across."""
    ends = [goods.whole_layer(strip) for strip in (*join.pieces, *join.pieces[:1])[:2]]
    found = [
        tapes_at_joint(goods, bench, joint, (k + 0.5) * LOOK_EVERY_MM)
        for joint in _list_joints(goods, join)
        for k in range(int(join.width_mm / LOOK_EVERY_MM))
    ]
    names = dict.fromkeys(name for there in found for name in there)
    sums = Counter(round(sum(goods.whole_layer(name).thickness_mm for name in there), 6) for there in found)
    usual_mm = max(sums, key=lambda mm: (sums[mm], -mm), default=0.0)
    layers = [_tape_layer(goods, name, [there.count(name) for there in found]) for name in names]
    return Stack(
        layers=(*ends, *layers),
        usual_mm=join.stack_mm + usual_mm,
        thinnest_mm=join.stack_mm + min(sums, default=0.0),
        thickest_mm=join.stack_mm + max(sums, default=0.0),
        landed=tuple(names),
    )


def _tape_layer(goods: Goods, name: str, counts: list[int]) -> Layer:
    """A tape as it lies along the joints: so often as mostly, at least and at most."""
    one = goods.whole_layer(name)
    usual = max(dict.fromkeys(counts), key=lambda count: (counts.count(count), -count))
    thick = (count * one.thickness_mm for count in (usual, min(counts), max(counts)))
    usual_mm, least_mm, most_mm = thick
    return Layer(part=name, material=one.material, thickness_mm=usual_mm, thinnest_mm=least_mm, thickest_mm=most_mm)


Joint = tuple[tuple[Piece, LaidStrip, float], ...]
"""Two strips at a joint, each with how far from its near end the middle of the joint lies."""


def _list_joints(goods: Goods, join: Join) -> Iterator[Joint]:
    laid = lay_out_strips(join, goods.pieces)
    for one, other in pairwise((*laid, *(laid[:1] if join.is_ring else ()))):
        half_mm = join.overlap_mm / 2
        yield ((goods.pieces[one.name], one, one.length_mm - half_mm), (goods.pieces[other.name], other, half_mm))


def tapes_at_joint(goods: Goods, bench: Bench, joint: Joint, across_mm: float) -> list[str]:
    """What lies on the two strips so far from the left of a joint, goods and pieces, by name, once for each layer."""
    found: list[str] = []
    for piece, laid, along_mm in joint:
        lying = [item for item in bench.lying_on(Copy(piece.name)) if item.outline]
        at = _on_strip(piece, laid, across_mm, along_mm) if lying else Point(0.0, 0.0)
        for item in lying:
            if item.outline and goods.is_within(item.outline, at):
                own = goods.pieces.get(item.copy.part)
                found += [item.copy.part] * (len(goods.layers_at(own, item.to_own(at))) if own else 1)
    return found


def _on_strip(piece: Piece, laid: LaidStrip, across_mm: float, along_mm: float) -> Point:
    box = outline_box(piece.outline)
    if laid.is_turned:
        return Point(box.right - across_mm, box.top - along_mm)
    return Point(box.left + across_mm, box.bottom + along_mm)


def joint_mm(goods: Goods, bench: Bench, join: Join, edge: str, inset_mm: float) -> tuple[float, float]:
    """The thickest joint at a stitch line so far in from a long edge of a join, from its fold where that is hemmed: the
    strips with what lies on them, and what hems lay back there."""
    low_mm, high_mm = goods.folded_across(join)
    across_mm = low_mm + inset_mm if edge == "left" else high_mm - inset_mm
    found = [(0.0, 0.0)]
    for joint in _list_joints(goods, join):
        names = tapes_at_joint(goods, bench, joint, across_mm)
        ends = [(piece, _on_strip(piece, laid, across_mm, along_mm)) for piece, laid, along_mm in joint if piece.hems]
        lying_mm = sum(goods.whole_layer(name).thickness_mm for name in names)
        found.append((lying_mm, sum(mm for piece, at in ends for mm in goods.hem_layers(piece, at))))
    lying_mm, hemmed_mm = max(found, key=sum)
    return join.stack_mm + lying_mm, hemmed_mm
