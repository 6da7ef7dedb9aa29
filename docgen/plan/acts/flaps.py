"""A flap that goes over the edge of its host: over which, and how far in from that its own edge and its row lie."""

from __future__ import annotations

from docgen.geometry.outline import outline_box
from docgen.geometry.path import path_box
from docgen.geometry.shapes import Box
from docgen.plan.act import Act, act
from docgen.plan.acts.work import Work
from docgen.resolve import Landing, Piece

LEVEL_MM = 0.3


def over_edge(host: Piece, landing: Landing) -> str:
    """The upright or level edge of a piece over which a flap goes: of one as wide as the piece, or wider, the nearer one
    square to that, also where it bends below it; else one that it reaches, "" where it reaches none."""
    base, box = outline_box(host.outline), path_box(landing.outline)
    gaps = _insets(base, box)
    spans = {"top": box.width, "bottom": box.width, "left": box.height, "right": box.height}
    pairs = (("left", "right"), ("top", "bottom"))
    spanned = [pair for pair in pairs if all(gaps[side] <= LEVEL_MM for side in pair)]
    if len(spanned) == 1:
        return min(next(pair for pair in pairs if pair not in spanned), key=lambda side: gaps[side])
    level = [side for side, gap in gaps.items() if gap <= LEVEL_MM]
    return max(level, key=lambda side: spans[side], default="")


def lies_below(host: Piece, landing: Landing, side: str) -> float:
    """How far in from that edge of its host the edge of a flap lies, mm."""
    base, box = outline_box(host.outline), path_box(landing.outline)
    ways = {"top": base.top - box.bottom, "bottom": box.top - base.bottom}
    ways |= {"left": box.right - base.left, "right": base.right - box.left}
    return ways[side]


def row_below(host: Piece, landing: Landing, side: str, seam: str) -> float | None:
    """How far in from that edge of its host the row of a seam lies by which a flap is sewn on; None where the host shows
    none that runs along it."""
    base, box = outline_box(host.outline), path_box(landing.outline)
    lines = [path_box(line.path) for line in host.marks.stitch_lines if line.row == 0 and line.seam == seam]
    is_level = side in ("top", "bottom")
    own = [
        line
        for line in lines
        if (line.height if is_level else line.width) < LEVEL_MM
        and min(line.left - box.left, box.right - line.right) > -LEVEL_MM
        and min(line.bottom - box.bottom, box.top - line.top) > -LEVEL_MM
    ]
    if not own:
        return None
    return _insets(base, own[0])[side]


def sides_over(host: Piece, landing: Landing) -> dict[str, float]:
    """By edge of a piece how far what lands stands beyond it, mm; of a flap not where it goes over."""
    gaps = _insets(outline_box(host.outline), path_box(landing.outline))
    far = over_edge(host, landing) if landing.is_over else ""
    return {side: -gaps[side] for side in ("left", "right", "bottom", "top") if -gaps[side] > LEVEL_MM and side != far}


def _insets(base: Box, box: Box) -> dict[str, float]:
    """By side how far in from that of one box that of another lies, mm; below 0 where it stands beyond."""
    gaps = {"top": base.top - box.top, "bottom": box.bottom - base.bottom}
    return gaps | {"left": box.left - base.left, "right": base.right - box.right}


def strip_below(work: Work, host: Piece, landing: Landing, seam: str) -> Act | None:
    """What a flap covers of its host between its own edge and its row, from the edge that it goes over."""
    far = over_edge(host, landing)
    row_mm = row_below(host, landing, far, seam) if far else None
    if row_mm is None:
        return None
    begin, end = (work.length(mm) for mm in (row_mm, lies_below(host, landing, far)))
    return act("strip", host=work.titles[host.name], begin=begin, end=end, side=far)
