"""Stitching that is no seam: joints of joins, dividing lines of pieces, the edges of straps."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterator, Sequence
from dataclasses import replace

from docgen.assemble.assembly import Copy, Event, Run, Stack
from docgen.assemble.bench import Bench, Lying
from docgen.assemble.goods import Goods
from docgen.assemble.strap_ends import end_layers, keeper_layers, lying_back
from docgen.assemble.tapes import stack_joints
from docgen.geometry.path import end_point, part_of, path_box, path_length, start_point
from docgen.geometry.shapes import Path, Point
from docgen.geometry.spacing import corner_distances, find_spans, space_stitches, stitch_count
from docgen.geometry.vector import distance, transform_point
from docgen.resolve import Build, Divider, Layer, Piece, Stitch, Strap, StrapEnd, tick_every_ten

SAME_MM = 1.0  # by so much a second layer may end short of a row


def run_joints(goods: Goods, bench: Bench, name: str, event: int) -> Run:
    """The joints of all copies of a join, right across it."""
    join = goods.joins[name]
    stitch = goods.stitches[join.stitch]
    length_mm = max(join.width_mm - 2 * stitch.inset_mm, stitch.pitch_mm)
    return Run(
        part=name,
        kind="joins",
        stitch=stitch.name,
        event=event,
        runs=join.joints * goods.counts[name],
        length_mm=length_mm,
        stitches=stitch_count(length_mm, stitch.pitch_mm),
        spans_mm=(length_mm,),
        stack=stack_joints(goods, bench, join),
    )


def run_dividers(goods: Goods, bench: Bench, name: str, event: int) -> Iterator[Run]:
    """The dividing lines of a piece, alike ones together, by the one that goes through most."""
    piece = goods.pieces[name]
    alike: dict[tuple[str, float, str, str], list[Divider]] = {}
    for line in piece.dividers:
        length_mm = round(distance(line.start, line.end), 6)
        alike.setdefault((line.stitch, length_mm, line.on, line.goods), []).append(line)
    for (stitch_name, length_mm, _, laid), lines in alike.items():
        stitch = goods.stitches[stitch_name]
        stacks = [_divider_stack(goods, bench, piece, line) for line in lines]
        yield Run(
            part=name,
            kind="dividers",
            stitch=stitch_name,
            event=event,
            runs=len(lines) * piece.cut,
            length_mm=length_mm,
            stitches=stitch_count(length_mm, stitch.pitch_mm),
            spans_mm=(length_mm,),
            stack=max(stacks, key=lambda stack: stack.thickest_mm),
            where=goods.trimmings[laid].what if laid else "",
        )


def _divider_stack(goods: Goods, bench: Bench, piece: Piece, line: Divider) -> Stack:
    """Looked for every millimetre: hems and folds may lie under a part of the line, and what has landed on the piece, or
    between it and that on which the line is sewn."""
    count = max(1, round(distance(line.start, line.end)))
    places = ((k + 0.5) / count for k in range(count))
    spots = [
        Point(line.start.x + share * (line.end.x - line.start.x), line.start.y + share * (line.end.y - line.start.y))
        for share in places
    ]
    columns = [(piece.name, [sum(goods.layers_at(piece, at)) for at in spots])]
    columns += _lying_at(goods, bench.lying_on(Copy(piece.name)), spots)
    if line.on:
        columns += _between(goods, bench, piece, line, spots)
        linings = [item.copy for item in bench.lying_on(Copy(line.on)) if item.is_cover]
        whole = [goods.whole_layer(part) for part in (line.on, *(copy.part for copy in linings))]
        columns += [(layer.part, [layer.thickness_mm] * count) for layer in whole]
    tapes = [goods.trimmings[line.goods]] if line.goods else []
    layers = [_layer_of(goods, part, mms) for part, mms in columns]
    layers += [
        Layer(part=one.name, material="", thickness_mm=one.thickness_mm) for one in tapes for _ in range(one.layers)
    ]
    tape_mm = sum(one.thickness_mm * one.layers for one in tapes)
    sums = [round(sum(mms) + tape_mm, 6) for mms in zip(*(mms for _, mms in columns), strict=True)]
    return Stack(
        layers=tuple(layers), usual_mm=Counter(sums).most_common(1)[0][0], thinnest_mm=min(sums), thickest_mm=max(sums)
    )


def _layer_of(goods: Goods, part: str, mms: Sequence[float]) -> Layer:
    """A layer that is so thick at the places of a line: as mostly where it lies."""
    usual_mm = Counter(round(mm, 6) for mm in mms if mm).most_common(1)[0][0]
    return replace(
        goods.whole_layer(part), thickness_mm=usual_mm, thinnest_mm=round(min(mms), 6), thickest_mm=round(max(mms), 6)
    )


def _lying_at(goods: Goods, lying: Sequence[Lying], spots: Sequence[Point]) -> Iterator[tuple[str, list[float]]]:
    """What lies on a part under some of these places of it, and how thick it is at each."""
    for item in lying:
        there = [item.outline is None or goods.is_within(item.outline, at) for at in spots]
        piece, whole_mm = goods.pieces.get(item.copy.part), goods.whole_layer(item.copy.part).thickness_mm
        if any(there):
            own = [sum(goods.layers_at(piece, item.to_own(at))) if piece else whole_mm for at in spots]
            yield item.copy.part, [mm if is_there else 0.0 for mm, is_there in zip(own, there, strict=True)]


def _between(
    goods: Goods, bench: Bench, piece: Piece, line: Divider, spots: Sequence[Point]
) -> Iterator[tuple[str, list[float]]]:
    """What lies between a piece and that on which its dividing line is sewn, the last that came there first."""
    landing = next((one for one in goods.pieces[line.on].marks.landings if one.piece == piece.name), None)
    if landing is not None:
        there = [
            one for one in bench.lying_on(Copy(line.on)) if one.outline is not None and one.copy.part != piece.name
        ]
        yield from _lying_at(goods, there[::-1], [transform_point(at, landing.move) for at in spots])


def run_strap(goods: Goods, events: Sequence[Event], name: str, event: int) -> Iterator[Run]:
    """The stitching along both edges of a strap; where its turned ends are sewn through, from where the one lies back to
    where the other does: a row over the bar would shut its eye. None when it is not stitched."""
    strap = goods.straps[name]
    lines = [line for line in strap.piece.marks.stitch_lines if line.row == 0 and line.seam == name]
    if not strap.stitch or not lines:
        return
    stitch = goods.stitches[strap.stitch]
    before = {one.name for one in events[:event] if one.kind == "hardware"}
    through = [end if _is_sewn_through(end, before) else None for end in strap.ends]
    first, second = (end.meets_mm if end else 0.0 for end in through)
    path = cut_to_ends(strap, lines[0].path, (first, second))
    length_mm = path_length(path)
    spans_mm = find_spans(length_mm, corner_distances(path), stitch.pitch_mm)
    yield Run(
        part=name,
        kind="straps",
        stitch=stitch.name,
        event=event,
        runs=strap.cut * len(lines),
        length_mm=length_mm,
        stitches=sum(stitch_count(span_mm, stitch.pitch_mm) for span_mm in spans_mm),
        spans_mm=spans_mm,
        stack=_strap_stack(goods, strap, path, [end for end in through if end]),
        turned_mm=(first, second),
    )


def cut_to_ends(strap: Strap, path: Path, turned_mm: tuple[float, float]) -> Path:
    """A line along the edges of a strap without what lies nearer than so far to its cut ends, first and second; the line
    itself where nothing would be left."""
    low, high = turned_mm[0], strap.cut_length_mm - turned_mm[1]
    begin, end = (max(low - at.y, at.y - high, 0.0) for at in (start_point(path), end_point(path)))
    length_mm = path_length(path)
    return part_of(path, begin, length_mm - end) if 0 < begin + end < length_mm else path


def sew_to_ends(build: Build, runs: Sequence[Run]) -> Build:
    """The build with the stitch lines of straps that are sewn after their ends are turned, as far as these lie back."""
    turned_mm = {run.part: run.turned_mm for run in runs if run.is_after_turning}
    stitches = {stitch.name: stitch for stitch in build.stitches}
    return replace(
        build,
        straps=tuple(
            _end_lines(strap, stitches[strap.stitch], turned_mm[strap.name]) if strap.name in turned_mm else strap
            for strap in build.straps
        ),
    )


def _end_lines(strap: Strap, stitch: Stitch, turned_mm: tuple[float, float]) -> Strap:
    lines = []
    for line in strap.piece.marks.stitch_lines:
        if line.seam != strap.name:
            lines.append(line)
            continue
        path = cut_to_ends(strap, line.path, turned_mm)
        holes_mm = space_stitches(
            path_length(path), corner_distances(path), stitch.pitch_mm, is_fixed=bool(stitch.iron)
        )
        lines.append(replace(line, path=path, holes_mm=holes_mm, ticked_mm=tick_every_ten(holes_mm)))
    return replace(strap, piece=strap.piece.with_marks(stitch_lines=tuple(lines)))


def _is_sewn_through(end: StrapEnd, before: Collection[str]) -> bool:
    """A turned end is sewn through where nothing else closes it, or where what it goes round is set before."""
    is_open = end.shape != "turned" or end.loop_mm > 0 or bool(end.sewn)
    return not is_open and (not end.takes or end.around in before)


def _strap_stack(goods: Goods, strap: Strap, row: Path, turned: Sequence[StrapEnd]) -> Stack:
    """One layer, and its lining, which ends at the folds of turned ends; with these once more, where they lie back and are
    sewn through, as thick as the thickest of them, and the keepers in them."""
    *layers, _ = end_layers(goods, strap)
    own_mm, box = strap.thickness_mm, path_box(row)
    below, above = (one.fold_mm if one.shape == "turned" else 0.0 for one in strap.ends)
    is_over = box.bottom < below - SAME_MM or box.top > strap.cut_length_mm - above + SAME_MM
    lining_mm = sum(layer.thickness_mm for layer in layers[1:]) if is_over else 0.0
    layers = [layers[0], *(replace(layer, thinnest_mm=0.0) if is_over else layer for layer in layers[1:])]
    stitch = goods.stitches[strap.stitch]
    ends = [(*keeper_layers(goods, strap, one, stitch), lying_back(goods, strap, one)) for one in turned]
    back = max(ends, key=lambda end: (_most_mm(end), end[-1].thickness_mm), default=())
    return Stack(
        layers=(*layers, *(replace(one, thinnest_mm=0.0) for one in back)),
        usual_mm=own_mm,
        thinnest_mm=own_mm - lining_mm,
        thickest_mm=own_mm + _most_mm(back),
    )


def _most_mm(layers: Sequence[Layer]) -> float:
    return sum(layer.most_mm for layer in layers)
