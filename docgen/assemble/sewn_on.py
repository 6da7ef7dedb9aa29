"""Straps sewn on to pieces: what lies under the needle, and how often it is sewn."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from docgen.assemble.assembly import Copy, Run, Stack
from docgen.assemble.bench import Bench
from docgen.assemble.goods import Goods
from docgen.assemble.landing import Slot, spread_over_strips
from docgen.assemble.sewn_round import is_sewn_round
from docgen.assemble.strap_ends import end_layers, lying_back, lying_back_at
from docgen.assemble.under_posts import column
from docgen.geometry.path import path_length, points_at
from docgen.geometry.shapes import Path, Point
from docgen.geometry.spacing import corner_distances, find_spans, space_stitches
from docgen.geometry.vector import dot, subtract
from docgen.resolve import END_NAMES, Layer, Piece, Strap, StrapLanding, sewn_on_name

LOOK_EVERY_MM = 2.0


def run_landings(
    goods: Goods, bench: Bench, slots: Mapping[str, Sequence[Slot]], name: str, event: int
) -> Iterator[Run]:
    """The stitching of one end of a strap wherever it is sewn on to one piece, alike places together."""
    for host in goods.pieces.values():
        found = [
            landing
            for landing in host.strap_landings
            if landing.stitch and sewn_on_name(landing.strap, landing.end, host.name) == name
        ]
        alike = Counter((landing.stitch, round(landing.over_mm, 6)) for landing in found)
        for (stitch, over_mm), count in alike.items():
            same = [each for each in found if (each.stitch, round(each.over_mm, 6)) == (stitch, over_mm)]
            yield _run(goods, bench, host, same[0], count, event)
        for slot in (slot for landing in found for slot in slots.get(landing.strap, ())):
            if slot.copy is not None and slot.host.part == host.name:
                bench.lay(slot.host, slot.lying)
        for slot, _ in spread_over_strips(goods, slots[found[0].strap]) if found else ():
            bench.unite((slot.host, slot.lying.copy))


def _run(goods: Goods, bench: Bench, host: Piece, landing: StrapLanding, count: int, event: int) -> Run:
    strap, stitch = goods.straps[landing.strap], goods.stitches[landing.stitch]
    name = sewn_on_name(strap.name, landing.end, host.name)
    path = next(line.path for line in host.marks.stitch_lines if line.seam == name and line.row == 0)
    length_mm, corners_mm = path_length(path), corner_distances(path)
    holes_mm = space_stitches(length_mm, corners_mm, stitch.pitch_mm, is_fixed=bool(stitch.iron))
    return Run(
        part=strap.name,
        kind="landings",
        stitch=stitch.name,
        event=event,
        runs=min(count * host.cut, strap.cut),
        length_mm=length_mm,
        stitches=len(holes_mm) - 1,
        spans_mm=find_spans(length_mm, corners_mm, stitch.pitch_mm),
        stack=_stack(goods, bench, host, strap, landing, path),
        line=name,
        where=f"{END_NAMES[landing.end]} on {host.title}",
    )


def _stack(goods: Goods, bench: Bench, host: Piece, strap: Strap, landing: StrapLanding, path: Path) -> Stack:
    """What lies there along the stitching, and the end on it, twice where it is turned; beneath a short strap its other
    end too, as far as that is turned back."""
    end, (*own, _) = strap.ends[landing.end], end_layers(goods, strap)
    own += [lying_back(goods, strap, end)] if end.shape == "turned" else []
    length_mm = path_length(path)
    places = max(1, round(length_mm / LOOK_EVERY_MM))
    spots = [at for at, _ in points_at(path, ((k + 0.5) * length_mm / places for k in range(places)))]
    is_own = not any(is_sewn_round(host, goods.seams.values(), under.part) for under, _ in bench.under(Copy(host.name)))
    columns = (column(goods, bench, Copy(host.name), at, is_own=is_own) for at in spots)
    beneath = ([layer for copy, layer in layers if copy.part != strap.name] for layers in columns)
    found = [[*_turned_beneath(goods, strap, landing, at), *layers] for at, layers in zip(spots, beneath, strict=True)]
    sums = [round(sum(layer.thickness_mm for layer in layers), 6) for layers in found]
    usual_mm = Counter(sums).most_common(1)[0][0]
    return Stack(
        layers=(*own, *_with_some(found[sums.index(usual_mm)], found[sums.index(max(sums))])),
        usual_mm=usual_mm + sum(layer.thickness_mm for layer in own),
        thinnest_mm=min(sums) + sum(layer.least_mm for layer in own),
        thickest_mm=max(sums) + sum(layer.most_mm for layer in own),
    )


def _with_some(usual: Sequence[Layer], most: Sequence[Layer]) -> Iterator[Layer]:
    """The layers that mostly lie there, and among them those that lie at the thickest place alone."""
    left = Counter(usual)
    if left - Counter(most):
        yield from usual
        return
    for layer in most:
        is_usual = left[layer] > 0
        left[layer] -= 1
        yield layer if is_usual else replace(layer, thickness_mm=0.0, thickest_mm=layer.thickness_mm)


def _turned_beneath(goods: Goods, strap: Strap, landing: StrapLanding, at: Point) -> Iterator[Layer]:
    """The other end of a strap where it is turned back so far that it lies beneath the one that is sewn on."""
    other, from_end_mm = strap.ends[1 - landing.end], dot(subtract(at, landing.at), landing.way)
    from_tip_mm = from_end_mm - (strap.finished_mm - other.back_mm)
    if other.back_mm and from_tip_mm > 0:
        yield lying_back_at(goods, strap, other, from_tip_mm)
