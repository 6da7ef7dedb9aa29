"""How the edge of a wall comes round the corners of its panel: stretched, damp or dry, or snipped."""

from __future__ import annotations

from collections.abc import Iterator

from docgen.geometry.shapes import Arc
from docgen.plan.act import Act, act
from docgen.plan.acts.work import Work
from docgen.plan.cutting import join_words
from docgen.resolve import Seam, SeamSide
from docgen.tables.practice import DAMP_TANNAGES, SNIPS_APART_MM, SNIPS_OFF_MM


def corner_acts(work: Work, seam: Seam, one: SeamSide, other: SeamSide) -> Iterator[Act]:
    """How much the edge of a wall is short of the panel's round each corner, outside or turned in: by plane geometry, the
    angle times how far in the line is sewn."""
    for panel, wall in ((one.part, other.part), (other.part, one.part)):
        piece = work.pieces.get(panel)
        if piece is None or piece.shape != "rectangle" or _arcs(work, wall, seam):
            continue
        inset_mm = work.stitch(seam.stitch).inset_mm
        short = {work.length(abs(arc.sweep) * inset_mm) for arc in _arcs(work, panel, seam)}
        if len(short) == 1:
            case = _stretched(work, wall, seam)
            snips = _snips(work) if case == "corner_snip" else {}
            yield act(case, wall=work.titles[wall], length=short.pop(), **snips)
            yield from _snip_acts(work, wall, seam)


def _stretched(work: Work, wall: str, seam: Seam) -> str:
    """How the edge of a wall comes round: leather that water softens is stretched damp, other dry; cloth is snipped, and
    what is turned in."""
    goods = work.material_of(wall)
    if goods.kind != "leather" or seam.is_turned:
        return "corner_snip"
    return "corner_damp" if goods.tannage in DAMP_TANNAGES else "corner_dry"


def _snip_acts(work: Work, wall: str, seam: Seam) -> Iterator[Act]:
    """What of cloth lies behind a wall under the needle, and must be snipped to go round a corner."""
    strips, under = work.strips(wall), {layer.part for layer in seam.layers}
    lies = [one for one in work.build.assembly.lies if one.is_cover and one.host.part in (wall, *strips)]
    behind = [name for name in dict.fromkeys(one.copy.part for one in lies) if name in under]
    cloth = [name for name in behind if work.material_of(name).kind == "fabric"]
    if cloth:
        titles = join_words([work.titles[name] for name in cloth])
        yield act("snip", parts=titles, **_snips(work))


def _snips(work: Work) -> dict[str, str]:
    """How far apart an edge is snipped, and how far off the stitch line the snips end."""
    show = work.build.show
    return {"apart": work.length(SNIPS_APART_MM[show]), "off": work.length(SNIPS_OFF_MM[show])}


def _arcs(work: Work, part: str, seam: Seam) -> list[Arc]:
    """The arcs in the line of a seam on a piece; none on a join."""
    lines = work.pieces[part].marks.stitch_lines if part in work.pieces else ()
    own = next((line.path for line in lines if line.seam == seam.name and line.row == 0), None)
    return [segment for segment in own.segments if isinstance(segment, Arc)] if own is not None else []
