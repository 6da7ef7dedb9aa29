"""Stitching that is no seam: joints of joins, dividing lines of pieces, the edges of straps."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterator, Sequence
from dataclasses import replace

from docgen.assemble.assembly import Copy, Event, Run, Stack
from docgen.assemble.bench import Bench
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
    """The dividing lines of a piece, alike ones together."""
    piece = goods.pieces[name]
    alike = Counter(
        (line.stitch, round(distance(line.start, line.end), 6), line.on, line.goods) for line in piece.dividers
    )
    for (stitch_name, length_mm, on, laid), count in alike.items():
        stitch = goods.stitches[stitch_name]
        line = next(line for line in piece.dividers if (line.stitch, line.on, line.goods) == (stitch_name, on, laid))
        yield Run(
            part=name,
            kind="dividers",
            stitch=stitch_name,
            event=event,
            runs=count * piece.cut,
            length_mm=length_mm,
            stitches=stitch_count(length_mm, stitch.pitch_mm),
            spans_mm=(length_mm,),
            stack=_divider_stack(goods, bench, piece, line),
            where=goods.trimmings[laid].what if laid else "",
        )


def _divider_stack(goods: Goods, bench: Bench, piece: Piece, line: Divider) -> Stack:
    """Looked for every millimetre: hems and folds may lie under a part of the line."""
    count = max(1, round(distance(line.start, line.end)))
    places = ((k + 0.5) / count for k in range(count))
    spots = [
        Point(line.start.x + share * (line.end.x - line.start.x), line.start.y + share * (line.end.y - line.start.y))
        for share in places
    ]
    beneath = [*_between(goods, bench, piece, line), goods.whole_layer(line.on)] if line.on else []
    if line.on:
        linings = [item.copy for item in bench.lying_on(Copy(line.on)) if item.is_cover]
        beneath += [goods.whole_layer(copy.part) for copy in linings]
    if line.goods:
        tape = goods.trimmings[line.goods]
        beneath += [Layer(part=tape.name, material="", thickness_mm=tape.thickness_mm)] * tape.layers
    beneath_mm = sum(layer.thickness_mm for layer in beneath)
    sums = [round(sum(goods.layers_at(piece, at)), 6) for at in spots]
    usual_mm = Counter(sums).most_common(1)[0][0]
    own = Layer(
        part=piece.name, material=piece.material, thickness_mm=usual_mm, thinnest_mm=min(sums), thickest_mm=max(sums)
    )
    return Stack(
        layers=(own, *beneath),
        usual_mm=usual_mm + beneath_mm,
        thinnest_mm=min(sums) + beneath_mm,
        thickest_mm=max(sums) + beneath_mm,
    )


def _between(goods: Goods, bench: Bench, piece: Piece, line: Divider) -> list[Layer]:
    """What lies between a piece and that on which its dividing line is sewn, beneath the middle of the line."""
    landing = next((one for one in goods.pieces[line.on].marks.landings if one.piece == piece.name), None)
    if landing is None:
        return []
    middle = Point((line.start.x + line.end.x) / 2, (line.start.y + line.end.y) / 2)
    at = transform_point(middle, landing.move)
    there = [
        item.copy.part
        for item in bench.lying_on(Copy(line.on))
        if item.outline is not None and item.copy.part != piece.name and goods.is_within(item.outline, at)
    ]
    return [goods.whole_layer(part) for part in reversed(there)]


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
