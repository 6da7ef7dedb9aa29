"""Ends of straps that lie back on them: the layers under what closes them, and their stitches."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from docgen.assemble.assembly import Copy, Run, Stack
from docgen.assemble.bench import Bench
from docgen.assemble.goods import Goods
from docgen.geometry.path import path_length
from docgen.geometry.spacing import space_stitches
from docgen.resolve import END_NAMES, Layer, Stitch, Strap, StrapEnd, closing_spots, end_name


def end_layers(goods: Goods, strap: Strap, turned_mm: float | None = None) -> tuple[Layer, ...]:
    """The layers of a strap where its end lies back on it; `turned_mm` is how thick that is, where it is skived."""

    own_mm = goods.materials[strap.material].thickness_mm
    first, last = (
        Layer(part=strap.name, material=strap.material, thickness_mm=thickness_mm)
        for thickness_mm in (own_mm, own_mm if turned_mm is None else turned_mm)
    )
    return (first, *second_layer(goods, strap.name), last)


def second_layer(goods: Goods, part: str) -> tuple[Layer, ...]:
    """What lies under the finished length of a strap, where it is doubled; nothing of any other part."""
    lining = goods.straps[part].lining if part in goods.straps else ""
    thickness_mm = goods.materials[lining].thickness_mm if lining else 0.0
    return (Layer(part=part, material=lining, thickness_mm=thickness_mm),) if lining else ()


def lying_back(goods: Goods, strap: Strap, end: StrapEnd) -> Layer:
    """The layer of an end where it lies back on its strap, thinner where it is skived."""
    own_mm, skive = goods.materials[strap.material].thickness_mm, end.skive
    to_mm = skive.to_mm if skive else own_mm
    over_mm = skive.over_mm if skive else 0.0
    return Layer(
        part=strap.name,
        material=strap.material,
        thickness_mm=to_mm if over_mm > end.back_mm / 2 else own_mm,
        thinnest_mm=to_mm,
        thickest_mm=to_mm if over_mm >= end.back_mm else own_mm,
    )


def lying_back_at(goods: Goods, strap: Strap, end: StrapEnd, from_tip_mm: float) -> Layer:
    """The layer of an end that lies back on its strap, so far from where it is cut."""
    own_mm, skive = goods.materials[strap.material].thickness_mm, end.skive
    is_thin = skive is not None and from_tip_mm <= skive.over_mm
    return Layer(part=strap.name, material=strap.material, thickness_mm=skive.to_mm if skive and is_thin else own_mm)


def thin_closings(strap: Strap, end: StrapEnd) -> int:
    """How many of what closes an end go through it where it is skived."""
    if end.skive is None:
        return 0
    thin = sum(spot.y <= end.skive.over_mm for spot in closing_spots(strap, _which(strap, end)))
    return min(thin, end.number)


def _which(strap: Strap, end: StrapEnd) -> int:
    """Whether an end is the first of its strap (0) or the second."""
    return next(k for k, each in enumerate(strap.ends) if each is end)


def run_ends(goods: Goods, name: str, event: int, ends: Sequence[int]) -> Iterator[Run]:
    """The stitching that closes these of the turned ends of a strap, two runs for each."""
    strap = goods.straps[name]
    for which in ends:
        end = strap.ends[which]
        line_name = end_name(name, which)
        lines = [line for line in strap.piece.marks.stitch_lines if line.seam == line_name and line.row == 0]
        if not lines:
            continue
        stitch, length_mm = goods.stitches[end.sewn], path_length(lines[0].path)
        yield Run(
            part=name,
            kind="straps",
            stitch=stitch.name,
            event=event,
            runs=2 * strap.cut,
            length_mm=length_mm,
            stitches=len(space_stitches(length_mm, (), stitch.pitch_mm, is_fixed=bool(stitch.iron))) - 1,
            spans_mm=(length_mm,),
            stack=_end_stack(goods, strap, end),
            line=line_name,
            where=END_NAMES[which],
        )


def _end_stack(goods: Goods, strap: Strap, end: StrapEnd) -> Stack:
    """Thinnest where the end is skived, thickest where a keeper lies between."""
    *whole, _ = end_layers(goods, strap)
    back = lying_back(goods, strap, end)
    own_mm = sum(layer.thickness_mm for layer in whole)
    between = keeper_layers(goods, strap, end, goods.stitches[end.sewn])
    return Stack(
        layers=(*whole, *between, back),
        usual_mm=own_mm + back.thickness_mm,
        thinnest_mm=own_mm + back.least_mm,
        thickest_mm=own_mm + back.most_mm + sum(layer.most_mm for layer in between),
    )


def keeper_layers(goods: Goods, strap: Strap, end: StrapEnd, stitch: Stitch) -> tuple[Layer, ...]:
    """A keeper whose ends lie in the fold of an end, under a part of the row along its edge: twice where the row goes
    through the overlap of these, which lies in the middle."""
    keeper = goods.straps.get(end.keeper)
    if keeper is None:
        return ()
    overlap_mm = keeper.cut_length_mm - keeper.finished_mm
    is_double = stitch.inset_mm > (strap.end_width_mm(_which(strap, end)) - overlap_mm) / 2
    layer = Layer(part=keeper.name, material=keeper.material, thickness_mm=0.0, thickest_mm=keeper.thickness_mm)
    return (layer,) * (1 + is_double)


def hold_keepers(goods: Goods, bench: Bench, name: str) -> None:
    """Keepers whose ends lie in the folds of a strap hang on it from now on, one for each end of each copy."""
    taken: dict[str, int] = {}
    for copy in goods.copies(name):
        for end in goods.straps[name].ends:
            if end.keeper in goods.straps:
                taken[end.keeper] = number = min(taken.get(end.keeper, 0) + 1, goods.counts[end.keeper])
                bench.unite((copy, Copy(end.keeper, number)))
