"""Linings that a facing carries: shorter than the panel, sewn to that by nothing but the facing, and caught in the seams
round the panel with it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from docgen.assemble.assembly import Copy
from docgen.assemble.bench import Bench, Lying
from docgen.assemble.goods import SAME_SIZE_MM, Goods
from docgen.geometry.outline import ACROSS, SIDES, outline_box
from docgen.geometry.path import transform_path
from docgen.geometry.shapes import Box
from docgen.geometry.vector import Transform, transform_point, translation
from docgen.resolve import Seam


def lay_carried(goods: Goods, bench: Bench, copies: Sequence[Copy]) -> None:
    """Once a facing lies behind a panel, the lining that it carries lies there too, level with its foot."""
    for facing in copies:
        for host, lying in [*bench.under(facing)] if facing.part in goods.pieces else ():
            if lying.is_cover and lying.outline is not None:
                for lining, seam in _carried(goods, bench, facing, host):
                    hung = _hang(goods, lining, (seam, facing), lying)
                    if hung is not None:
                        bench.lay(host, hung)


def _carried(goods: Goods, bench: Bench, facing: Copy, host: Copy) -> Iterator[tuple[Copy, Seam]]:
    """Linings of a host that are sewn to a facing of it, and to nothing else: not those of a bag of their own."""
    for name, piece in goods.pieces.items():
        seams = [seam for seam in goods.seams.values() if name in seam.parts] if host.part in piece.lines else []
        if name != facing.part and len(seams) == 1 and seams[0].parts == {name, facing.part}:
            for copy in goods.copies(name):
                if bench.is_sewn(facing, copy) and not bench.covers(copy):
                    yield copy, seams[0]


def _hang(goods: Goods, lining: Copy, sewn: tuple[Seam, Copy], lying: Lying) -> Lying | None:
    """How a lining lies on the host of its facing: its edge at the edge across from the one by which that lies there, as
    far over it as their seam has it, and as wide as it; None where that is not so plain."""
    seam, facing = sewn
    sides = {side.part: side for side in seam.sides}
    own, its = sides[lining.part], sides[facing.part]
    boxes = [outline_box(goods.pieces[copy.part].outline) for copy in (lining, facing)]
    edge = own.edges[0] if len(own.edges) == len(its.edges) == 1 else ""
    if (
        edge not in SIDES
        or its.edges[0] != ACROSS[edge]
        or abs(_wide(boxes[0], edge) - _wide(boxes[1], edge)) > SAME_SIZE_MM
    ):
        return None
    lap_mm = max(own.lap_mm, its.lap_mm) or 2 * goods.stitches[seam.stitch].inset_mm
    at = transform_point(boxes[1].centre, lying.move)
    by = translation(at.x - boxes[0].centre.x, at.y - boxes[0].centre.y)
    far_mm = (_deep(boxes[0], edge) + _deep(boxes[1], edge)) / 2 - lap_mm
    off = {"top": (0.0, -far_mm), "bottom": (0.0, far_mm), "left": (far_mm, 0.0), "right": (-far_mm, 0.0)}[edge]
    move = Transform(e=by.e + off[0], f=by.f + off[1])
    return Lying(
        copy=lining, outline=transform_path(goods.outline(goods.pieces[lining.part]), move), move=move, is_cover=True
    )


def _wide(box: Box, edge: str) -> float:
    return box.width if edge in ("top", "bottom") else box.height


def _deep(box: Box, edge: str) -> float:
    return box.height if edge in ("top", "bottom") else box.width
