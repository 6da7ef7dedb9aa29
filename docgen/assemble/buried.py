"""Steps that come too late for what lies inside: a welt or foam between parts that are sewn, a hem over what is set."""

from __future__ import annotations

from collections.abc import Iterator

from docgen.assemble.assembly import Event
from docgen.assemble.goods import Goods
from docgen.assemble.landed_over import find_loops, list_over
from docgen.assemble.landing import STUFFED, prepares
from docgen.assemble.work_order import CLOSED_SHARE, Late, Work, is_hem, is_whole, too_late
from docgen.geometry.measure import is_inside
from docgen.geometry.outline import outline_box, outline_path
from docgen.geometry.path import path_length, points_at
from docgen.resolve import Landing, Piece, Seam, SeamSide, turns_hems

LINE_SPOTS = 24
SAME_MM = 1.0
WELT_MM = 20.0  # welts and piping are cut no wider: our choice


def late_fillings(work: Work, at: int) -> Iterator[Late]:
    """Nothing is put in hand for the first time that lies under a line which is sewn already, and no foam or board once
    the part that it lies on is sewn to another all round. What is sewn on by an edge of its own may come later."""
    for host in work.goods.pieces.values():
        for mark in host.marks.landings:
            if (
                work.handled.get(mark.piece) != at
                or mark.piece not in work.steps[at].pieces
                or _is_sewn(work, mark.piece)
            ):
                continue
            for seam in work.goods.seams.values():
                before = work.step_of("seams", seam.name)
                if before < at and (_runs_over(work, host, mark, seam) or _buries(work, host, mark, seam)):
                    yield too_late(at, before, f'puts "{mark.piece}" in place', "sews over", "put it there", mark.piece)
                    return


def late_linings_behind(work: Work, at: int) -> Iterator[Late]:
    """No lining that is as large as its part is put behind that once its edges are closed in, since the seam goes through
    it; and no foam or board once a lining is sewn over it."""
    goods = work.goods
    for name in work.steps[at].pieces:
        if _put_at(work, name) != at or name not in goods.pieces or _is_sewn(work, name):
            continue
        for host in (host for host in goods.pieces if host != name and goods.covers(name, host)):
            before = work.shut.get(host, at) if _is_as_large(goods, name, host) else _lined_at(work, host)
            if before < at:
                yield too_late(at, before, f'puts "{name}" behind "{host}"', "closes in", "put it there", name)
                return


def _put_at(work: Work, name: str) -> int | None:
    """The step that puts a part in place: the first that has it in hand and does more than punch or skive it."""
    found = (at for at, step in enumerate(work.steps) if name in step.pieces and not prepares(step))
    return next(found, work.handled.get(name))


def _lined_at(work: Work, host: str) -> int:
    """The step whose seams have sewn a lining to a part round half of it or more; the number of steps for none."""
    goods, sewn_mm = work.goods, 0.0
    half_mm = CLOSED_SHARE * path_length(outline_path(goods.pieces[host].outline))
    seams = [seam for seam in goods.seams.values() if _is_lined_by(goods, host, seam)]
    for seam in sorted(seams, key=lambda seam: work.step_of("seams", seam.name)):
        sewn_mm += seam.length_mm
        if sewn_mm >= half_mm:
            return work.step_of("seams", seam.name)
    return len(work.steps)


def _is_lined_by(goods: Goods, host: str, seam: Seam) -> bool:
    """Whether a seam sews a lining of a part to its edges."""
    parts = {side.part for side in seam.sides if side.edges}
    return host in parts and any(goods.covers(part, host) for part in parts - {host})


def _is_as_large(goods: Goods, cover: str, part: str) -> bool:
    one, other = (outline_box(goods.pieces[name].outline) for name in (cover, part))
    return abs(one.width - other.width) < SAME_MM and abs(one.height - other.height) < SAME_MM


def _is_sewn(work: Work, name: str) -> bool:
    return any(side.part == name and side.edges for seam in work.goods.seams.values() for side in seam.sides)


def _runs_over(work: Work, host: Piece, mark: Landing, seam: Seam) -> bool:
    """Whether a seam that sews another part to the host runs through what lands there, inside. Foam and board hide the
    stitches of what is sewn flat on the host, and need not be held by these."""
    others = [side for side in seam.sides if side.part != host.name and side.edges]
    lines = [line.path for line in host.marks.stitch_lines if line.seam == seam.name and not line.row]
    is_flat = not any(side.edges for side in seam.sides if side.part == host.name)
    goods, laid = work.goods, work.goods.pieces.get(mark.piece)
    is_stuffed = laid is not None and goods.materials[laid.material].kind in STUFFED
    if not others or not lines or not mark.is_inside or (is_flat and is_stuffed):
        return False
    step_mm = [path_length(path) / LINE_SPOTS for path in lines]
    spots = (
        spot
        for path, each_mm in zip(lines, step_mm, strict=True)
        for spot, _ in points_at(path, [(k + 0.5) * each_mm for k in range(LINE_SPOTS)])
    )
    return any(is_inside(mark.outline, spot) for spot in spots)


def _buries(work: Work, host: Piece, mark: Landing, seam: Seam) -> bool:
    """Whether a seam closes foam or board in: all round its host, and to what covers that."""
    parts = seam.parts
    is_whole_seam = len(parts) > 1 and host.name in parts and all(is_whole(work.goods, side) for side in seam.sides)
    return is_whole_seam and not work.goods.is_leather(mark.piece)


def late_insides(work: Work, at: int) -> Iterator[Late]:
    """Nothing is sewn to the inside of a part by its own edges once a lining is sewn over that, unless the seam goes
    through the lining too."""
    goods = work.goods
    for seam in (goods.seams[name] for name in work.steps[at].seams if name in goods.seams):
        laid = {side.part for side in seam.sides if side.edges}
        hosts = [goods.pieces[side.part] for side in seam.sides if not side.edges and side.part in goods.pieces]
        for host in hosts if len(seam.sides) == len(laid) + 1 and work.step_of("seams", seam.name) == at else ():
            inside = [mark.piece for mark in host.marks.landings if mark.is_inside and mark.piece in laid]
            before = min((work.step_of("seams", name) for name in _linings_of(goods, host.name)), default=at)
            if inside and before < at and not any(goods.covers(name, host.name) for name in laid):
                yield too_late(at, before, f'sews "{inside[0]}" inside "{host.name}"', "lines", "sew it", seam.name)
                return


def _linings_of(goods: Goods, host: str) -> list[str]:
    """The seams that sew a lining to an edge of a part."""
    return [seam.name for seam in goods.seams.values() if _is_lined_by(goods, host, seam)]


def late_beneath(work: Work, at: int) -> Iterator[Late]:
    """Nothing is laid on a piece after what lands there over it, by the order in which the landings are written; two that
    are sewn on in two steps are told by the row that is covered."""
    loops = find_loops(work.goods.build)
    for host in work.goods.pieces.values():
        over = [*list_over(host, loops)]
        late = {pair: before for pair in over if (before := _laid_before(work, host, pair, at)) is not None}
        lowers = {lower for lower, _ in late}
        lowest = lowers - {
            upper for lower, upper in over if lower in lowers
        }  # what waits for these comes late with them
        for (lower, upper), before in late.items():
            if lower not in lowest or (before < at and all(_is_sewn_to(work, part, host) for part in (lower, upper))):
                continue
            lowest.remove(lower)
            when = f", which step {before + 1} lays" if before < at else ""
            what = f'step {at + 1} lays "{lower}" on "{host.name}" after "{upper}"{when}, and it lands beneath that'
            first = f"lay it before step {before + 1}" if before < at else "put it first in the order of the step"
            yield at, what, f'{first}, or write "{upper}" before "{lower}" in landings', lower


def _laid_before(work: Work, host: Piece, pair: tuple[str, str], at: int) -> int | None:
    """The step that has laid the upper one of two, where a step lays the lower one after that; else None."""
    made = work.assembly
    late, early = (made.laid_at(host.name, part) for part in pair)
    is_late = early < late < len(made.events) and made.events[late].step == at
    return made.events[early].step if is_late else None


def _is_sewn_to(work: Work, part: str, host: Piece) -> bool:
    return any({part, host.name} <= seam.parts for seam in work.goods.seams.values())


def late_welts(work: Work, at: int) -> Iterator[Late]:
    """No welt or piping is sewn to an edge that is sewn to another part already: it lies between the two."""
    for name in work.steps[at].seams:
        seam = work.goods.seams.get(name)
        if seam is None or work.step_of("seams", name) != at or not all(side.edges for side in seam.sides):
            continue
        strips = [side for side in seam.sides if _is_narrow(work, side.part)]
        panels = [side for side in seam.sides if not _is_narrow(work, side.part) and side.part in work.goods.pieces]
        for other in work.goods.seams.values() if len(strips) == len(panels) == 1 else ():
            before = work.step_of("seams", other.name)
            if before < at and _closes_over(work, other, panels[0], strips[0]):
                what = f'step {at + 1} sews "{strips[0].part}" to "{panels[0].part}"'
                what += f', and step {before + 1} has sewn "{other.name}" over it already'
                yield at, what, f"sew it there before step {before + 1}", name
                return


def _is_narrow(work: Work, name: str) -> bool:
    piece = work.goods.pieces.get(name)
    box = outline_box(piece.outline) if piece else None
    return box is not None and min(box.width, box.height) <= WELT_MM


def _closes_over(work: Work, seam: Seam, panel: SeamSide, strip: SeamSide) -> bool:
    """Whether a seam sews all of the edge that the strip takes, of one copy of a panel, to another panel."""
    own = [
        side for side in seam.sides if (side.part, side.copy) == (panel.part, panel.copy) and _holds_edges(side, panel)
    ]
    others = [side for side in seam.sides if side.part not in (panel.part, strip.part)]
    is_one = panel.copy > 0 or len(work.goods.copies(panel.part)) == 1
    return is_one and bool(own and others) and all(side.edges and not _is_narrow(work, side.part) for side in others)


def _holds_edges(side: SeamSide, other: SeamSide) -> bool:
    return {*other.edges} <= {*side.edges} and side.stretch_mm in (None, other.stretch_mm)


def late_hems_over(work: Work, at: int) -> Iterator[Late]:
    """No hem is turned over what goes through both its layers and is set already."""
    for name in work.steps[at].seams:
        for part in _hemmed_by(work, name, at):
            for item, before in _set_through(work, part):
                if before < at:
                    what = f'step {at + 1} hems "{part}" over "{item}", which step {before + 1} sets already'
                    yield at, what, f"hem it before step {before + 1}", name
                    return


def _hemmed_by(work: Work, name: str, at: int) -> Iterator[str]:
    """The parts whose hems are turned at a step for a seam of its: that sews a piece to itself, or takes a hemmed edge
    along, where this step is the first with the part that speaks of folding."""
    seam = work.goods.seams.get(name)
    if seam is None or work.step_of("seams", name) != at:
        return
    is_own = is_hem(seam.sides) and len(seam.parts) == 1
    for side in seam.sides:
        piece = work.goods.pieces.get(side.part)
        hemmed = piece.hemmed if piece else frozenset()
        if side.edges and hemmed and (is_own or ({*side.edges} <= hemmed and _folds_first(work, side.part, at))):
            yield side.part


def _folds_first(work: Work, part: str, at: int) -> bool:
    """Whether a step turns the hems of a part over, and says so."""
    return dict(work.assembly.turning).get(part) == at and turns_hems(work.steps[at])


def _set_through(work: Work, part: str) -> Iterator[tuple[str, int]]:
    """Hardware that goes through a part where its hem comes to lie, and the step that sets it."""
    events: tuple[Event, ...] = work.assembly.events
    piece = work.goods.pieces[part]
    hemmed = {hole.takes for hole in piece.marks.holes if [*work.goods.hem_layers(piece, hole.at)]}
    for one in work.assembly.fastened:
        if one.part == part and one.hardware in hemmed and one.event < len(events):
            yield one.hardware, events[one.event].step
