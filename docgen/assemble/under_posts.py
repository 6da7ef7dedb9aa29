"""What lies at one point of a part, from top to bottom, and where a point of it comes to lie on what it lies on."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from docgen.assemble.assembly import Copy
from docgen.assemble.bench import Bench, Lying
from docgen.assemble.goods import Goods
from docgen.assemble.mates import riveted_places
from docgen.assemble.spots import add_all_lying
from docgen.assemble.strap_ends import second_layer
from docgen.geometry.shapes import Point
from docgen.geometry.vector import transform_point
from docgen.resolve import Layer, Piece

Named = list[tuple[Copy, Layer]]


def spots_on(goods: Goods, host: Copy, lying: Lying, at: Point) -> tuple[Point, ...]:
    """Where a point of what lies on a host comes to lie on it; nowhere for what leads or bends away from there."""
    strap = goods.straps.get(lying.copy.part)
    if strap is None:
        spot = transform_point(at, lying.move)
        is_there = lying.outline is None or goods.is_within(lying.outline, spot)
        return (spot,) if is_there else ()
    ends = [end for end in goods.pieces[host.part].strap_landings if end.outline is lying.outline]
    spots = (spot for end in ends for spot in riveted_places(strap, end, at))
    return tuple(spot for spot in spots if lying.outline and goods.is_within(lying.outline, spot))


def column(goods: Goods, bench: Bench, copy: Copy, at: Point, *, is_own: bool) -> Named:
    """Everything at a point of a copy: from what it lies on, up to all that lies on that there; with `is_own` the copy
    itself and what lies on it."""
    beneath = None if is_own else next(_beneath(goods, bench, copy, at), None)
    if beneath is not None:
        return column(goods, bench, *beneath, is_own=False)
    piece = goods.cut[copy.part]
    found: Named = [(copy, _layer(piece, thickness_mm)) for thickness_mm in goods.layers_at(piece, at)]
    found += [(copy, layer) for layer in second_layer(goods, copy.part)]
    hosts = [copy, *(Copy(join, copy.number) for join in goods.joined_strips.get(copy.part, ()))]
    there: dict[Copy, tuple[float, ...]] = {}
    for host in hosts:
        add_all_lying(goods, bench, host, at, there)
    for one, layers_mm in there.items():
        whole = goods.whole_layer(one.part)
        found += [(one, replace(whole, thickness_mm=thickness_mm)) for thickness_mm in layers_mm]
    return found


def _beneath(goods: Goods, bench: Bench, copy: Copy, at: Point) -> Iterator[tuple[Copy, Point]]:
    """On what a copy lies at a point of it, or where a fold lays that, and where on that."""
    own = (at, *(goods.folded_spots(goods.cut[copy.part], at)))
    for host, lying in bench.under(copy):
        if not lying.is_cover and host.part in goods.pieces:
            for spot in [spot for one in own for spot in spots_on(goods, host, lying, one)][:1]:
                yield host._replace(number=max(host.number, 1)), spot


def _layer(piece: Piece, thickness_mm: float) -> Layer:
    return Layer(part=piece.name, material=piece.material, thickness_mm=thickness_mm)
