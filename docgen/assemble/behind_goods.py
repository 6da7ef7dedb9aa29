"""What lies inside a piece behind goods that are laid on it, as the bag of a pocket behind the window of its zip."""

from __future__ import annotations

from collections.abc import Iterator

from docgen.assemble.work_order import Late, Work, too_late
from docgen.geometry.path import boxes_overlap, path_box
from docgen.geometry.segment import box_of
from docgen.resolve import Landing, Piece


def list_behind(piece: Piece) -> Iterator[Landing]:
    """What lands inside a piece behind the run of goods that are laid on it."""
    lines = [one for one in piece.dividers if one.goods]
    pairs = zip(lines[::2], lines[1::2], strict=True)
    runs = [box_of([at for line in pair for at in (line.start, line.end)]) for pair in pairs]
    for landing in piece.marks.landings if runs else ():
        if landing.is_inside and any(boxes_overlap(path_box(landing.outline), run) for run in runs):
            yield landing


def late_windows(work: Work, at: int) -> Iterator[Late]:
    """No zip is sewn in a window once the bag of its pocket lies over that, and under its rows."""
    zips = {item.name for item in work.goods.build.trimmings if item.kind == "zip"}
    events = work.assembly.events
    for run in (one for one in work.assembly.runs if one.kind == "dividers" and events[one.event].step == at):
        host, through = work.goods.pieces[run.part], {*run.stack.parts}
        laid = [one for one in host.dividers if one.goods in zips & through]
        bag = next((one.piece for one in list_behind(host) if laid and one.piece in through - {laid[0].on}), None)
        if bag is None:
            continue
        before = min(events[k].step for on, copy, k in work.assembly.laid if (on.part, copy.part) == (host.name, bag))
        if before < at:
            sews = f'sews "{laid[0].goods}" behind the window of "{host.name}"'
            yield too_late(at, before, sews, f'closes with "{bag}"', "sew it there", host.name)
        else:
            what = f'step {at + 1} lays "{bag}" over the window of "{host.name}" before it sews "{laid[0].goods}" there'
            yield at, what, f'write "{laid[0].goods}" before "{bag}" in order', host.name
