"""What hangs on a part whose edge is sewn, as a flap or a strap by one end: it is folded clear of the row."""

from __future__ import annotations

from collections.abc import Iterator

from docgen.geometry.measure import crossings, distance_to_path
from docgen.geometry.outline import outline_box
from docgen.geometry.shapes import Path
from docgen.geometry.vector import add, scale, transform_point
from docgen.plan.act import Act, act
from docgen.plan.acts.work import Work
from docgen.plan.cutting import join_words
from docgen.resolve import Layer, Piece, Seam

NARROW_MM = 40.0  # what is narrower, as a welt or a tab, is no flap: our choice


def clear_acts(work: Work, at: int, seam: Seam) -> Iterator[Act]:
    """Once in a step for each part: what is folded away for an earlier seam stays so."""
    before: set[str] = set()
    for index, event in work.events(at):
        if event.kind == "seams" and event.name == seam.name:
            hanging = [name for name in _list_hanging(work, seam, index) if name not in before]
            under = {layer.part for layer in _layers_under(work, seam)}
            free = [work.titles[name] for name in hanging if name not in under]
            partly = [work.titles[name] for name in hanging if name in under]
            if free:
                yield act("fold_clear", parts=join_words(free))
            if partly:
                yield act("fold_clear_rest", parts=join_words(partly))
            return
        if event.kind == "seams":
            before.update(_list_hanging(work, work.seams[event.name], index))


def _layers_under(work: Work, seam: Seam) -> tuple[Layer, ...]:
    """What lies under the needle of a seam somewhere along its row."""
    once = next((one for one in work.build.assembly.sewn if one.seam == seam.name), None)
    return once.stack.layers if once is not None else ()


def _list_hanging(work: Work, seam: Seam, index: int) -> list[str]:
    """Flaps and straps that hang on what a seam sews by an edge: no strap that its needle goes through, and no flap that it
    goes through all along."""
    names = [strip for side in seam.sides if side.edges for strip in (side.part, *work.strips(side.part))]
    hosts = [work.pieces[name] for name in dict.fromkeys(names) if name in work.pieces]
    flaps = [name for host in hosts for name in _flaps_on(work, host, index)]
    straps = [name for host in hosts for name in _straps_on(work, host, seam, index)]
    taken = {
        layer.part for layer in _layers_under(work, seam) if layer.least_mm or layer.part in work.straps
    } | seam.parts
    return [name for name in dict.fromkeys((*flaps, *straps)) if name not in taken]


def _rows(host: Piece, seam: Seam) -> list[Path]:
    return [line.path for line in host.marks.stitch_lines if line.seam == seam.name and not line.row]


def _straps_on(work: Work, host: Piece, seam: Seam, index: int) -> Iterator[str]:
    """Straps that are fast by then on the host or on what lies outside on it: by one end alone, the rest long enough to
    come to the row; or by both, as a handle, whose bow stands up over it."""
    made, rows = work.build.assembly, _rows(host, seam)
    spots = [(host, one, one.at) for one in host.strap_landings]
    for mark in (one for one in host.marks.landings if not one.is_inside and one.piece in work.pieces):
        if made.laid_at(host.name, mark.piece) < index:
            base = work.pieces[mark.piece]
            spots += [(base, one, transform_point(one.at, mark.move)) for one in base.strap_landings]
    for base, landing, at in spots:
        strap = work.straps[landing.strap]
        fast = {
            one.end
            for other in work.pieces.values()
            for one in other.strap_landings
            if one.strap == strap.name and made.laid_at(other.name, strap.name) < index
        }
        free_mm = strap.cut_length_mm - landing.over_mm
        is_near = any(distance_to_path(row, at) < free_mm for row in rows)
        is_over = (
            free_mm > 0
            and len(fast) > 1
            and any(crossings(row, at, add(at, scale(landing.way, free_mm / 2))) for row in rows)
        )
        if (is_over or (is_near and fast == {landing.end})) and made.laid_at(base.name, strap.name) < index:
            yield strap.name


def _flaps_on(work: Work, host: Piece, index: int) -> Iterator[str]:
    """Pieces that one edge alone holds, sewn to the host before, and that hang beyond its edge."""
    made = work.build.assembly
    first = {one.seam: one.event for one in reversed(made.sewn)}
    linings = {one.copy.part for one in made.lies if one.is_cover}
    for name, piece in ((name, piece) for name, piece in work.pieces.items() if name not in linings):
        box = outline_box(piece.outline)
        held = [one for one in work.build.seams if name in one.parts and not _is_of_its_own(work, one, name)]
        if name == host.name or len(held) != 1 or min(box.width, box.height) < NARROW_MM:
            continue
        edges = [side.edges for side in held[0].sides if side.part == name]
        is_sewn = host.name in held[0].parts and first.get(held[0].name, index) < index
        if is_sewn and len(edges) == 1 and len(edges[0]) == 1 and _goes_over(work, piece, held[0], host.name):
            yield name


def _is_of_its_own(work: Work, seam: Seam, name: str) -> bool:
    """Whether a seam sews a part to itself or to its lining alone."""
    linings = {one.copy.part for one in work.build.assembly.lies if one.is_cover and one.host.part == name}
    return seam.parts <= {name} | linings


def _goes_over(work: Work, piece: Piece, seam: Seam, host: str) -> bool:
    """Whether a piece hangs beyond an edge of its host: it bends there, goes over that where it lands, or is sewn to it
    edge to edge."""
    lands = [one for base in work.pieces.values() for one in base.marks.landings if one.piece == piece.name]
    is_flat = any(side.part == host and not side.edges for side in seam.sides)
    bends = any(fold.is_open for fold in piece.own_folds)
    return bends or any(one.is_over for one in lands) or not (lands or is_flat)
