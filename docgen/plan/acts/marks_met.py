"""Which notch meets what: of a ring that is sewn round a panel, and of a joint of its wall."""

from __future__ import annotations

import math
from collections.abc import Iterator

from docgen.assemble import Placed
from docgen.geometry.outline import WHOLE, outline_box
from docgen.geometry.shapes import Point
from docgen.plan.act import Act, act
from docgen.plan.acts.work import Work
from docgen.resolve import Join, Seam, SeamSide, notch_on_joint

NEAR_MM = 30.0  # notches so near to each other in space meet: both lie beside the row


def joint_acts(work: Work, one: SeamSide, other: SeamSide) -> Iterator[Act]:
    """That the joint of two strips of one length lies on the notch in the middle of the panel's edges: it is the only
    mark that they bear."""
    for panel, wall in ((one, other), (other, one)):
        join, piece = work.joins.get(wall.part), work.pieces.get(panel.part)
        mark = notch_on_joint(join, work.pieces, wall, piece, panel) if join and piece else None
        if mark is not None:
            values = {"wall": work.titles[wall.part], "panel": work.titles[panel.part], "edge": mark.edge}
            yield act("joint_on_notch", **values)


def ring_mark_acts(work: Work, seam: Seam) -> Iterator[Act]:
    """Each notch of a strip with that of the panel beside it, as both are placed; nothing of one notch, which meets the
    only other, or of strips that are all alike."""
    panel = next((side for side in seam.sides if side.edges == (WHOLE,) and side.part in work.pieces), None)
    for wall in seam.sides if panel else ():
        join = work.joins.get(wall.part)
        if panel is not None and join is not None and join.is_ring and len({*join.pieces}) > 1:
            pairs = [*_pairs(work, join, wall, panel)]
            if len(pairs) > 1:
                for strip, edge in pairs:
                    yield act("ring_notch", strip=work.titles[strip], edge=edge, panel=work.titles[panel.part])


def _pairs(work: Work, join: Join, wall: SeamSide, panel: SeamSide) -> Iterator[tuple[str, str]]:
    ring, body = work.placed(join.name), work.placed(panel.part)
    if ring is None or body is None:
        return
    notches = work.pieces[panel.part].marks.notches
    spots = [(notch.edge, body.surface.point(notch.at)) for notch in notches]
    for name, at in _marks(work, wall, ring):
        there = ring.surface.point(at)
        off_mm, edge = min(((math.dist(spot, there), edge) for edge, spot in spots), default=(math.inf, ""))
        if off_mm < NEAR_MM:
            yield name, edge


def _marks(work: Work, wall: SeamSide, ring: Placed) -> Iterator[tuple[str, Point]]:
    """The notches of the strips of a ring on the edge that is sewn, each with its strip, where it lies on the whole."""
    box = ring.item.box
    for strip in ring.item.strips:
        low_mm = outline_box(strip.piece.outline).bottom
        for notch in (one for one in strip.piece.marks.notches if one.edge in wall.edges):
            x = box.left if notch.edge == "left" else box.right
            yield strip.piece.name, Point(x, box.bottom + strip.begin_mm + notch.at.y - low_mm)
