"""Where what lands on a piece is glued: along those of its edges that a seam takes, or all round behind a zip."""

from __future__ import annotations

from collections.abc import Sequence

from docgen.assemble import Lies, list_behind
from docgen.geometry.measure import distance_to_path
from docgen.geometry.outline import WHOLE, edge_names, edge_path, outline_box
from docgen.geometry.path import path_length, point_at
from docgen.geometry.vector import transform_point
from docgen.plan.act import Act, act
from docgen.plan.acts.flaps import LEVEL_MM
from docgen.plan.acts.work import Work
from docgen.plan.cutting import join_words
from docgen.resolve import Divider, Piece, by_name

NARROW_MM = 25.0  # a welt or a tape: it is glued all over


def edges_act(work: Work, lies: Lies, glue: str) -> Act | None:
    """Of what lands on a piece where it is glued: along edges that lie on edges of that which a seam takes. None where all
    of it is, as of a lining or a welt, and of what no such edge holds, but for what lies behind goods that are laid there:
    that is glued by its rim."""
    part, host = work.pieces.get(lies.copy.part), work.pieces.get(lies.host.part)
    if part is None or host is None or lies.is_cover:
        return None
    box = outline_box(part.outline)
    edges = edge_names(part.outline)
    held = [
        (name, by_name(work.build.stitches)[seam.stitch].inset_mm)
        for name in edges
        for seam in work.build.seams
        if any(side.part == host.name and _lies_on(part, name, lies, host, side.edges) for side in seam.sides)
    ]
    names = [name for name in edges if any(name == one for one, _ in held)]
    laid = next((one for one in host.dividers if one.goods), None)
    if laid is not None and not names and any(one.piece == part.name for one in list_behind(host)):
        return _rim_act(work, part, host, laid, glue)
    if not names or len(names) == len(edges) or min(box.width, box.height) < NARROW_MM:
        return None
    return act(
        "hold_edges",
        glue=glue,
        under=work.inner(part.name),
        part=work.titles[part.name],
        host=work.titles[host.name],
        inset=work.length(min(mm for _, mm in held)),
        edges=join_words(names),
    )


def _rim_act(work: Work, part: Piece, host: Piece, laid: Divider, glue: str) -> Act:
    """Of a bag behind the window of a zip: glued round its rim alone, so that it stays open where that opens. Folded, it
    lies with its outer side on what it is laid on."""
    is_folded = any(not one.is_open and not one.of_hem for one in part.marks.folds)
    return act(
        "hold_rim",
        glue=glue,
        under=work.outer(part.name) if is_folded else work.inner(part.name),
        part=work.titles[part.name],
        host=work.titles[host.name],
        inset=work.length(by_name(work.build.stitches)[laid.stitch].inset_mm),
        goods=work.goods[laid.goods],
    )


def _lies_on(part: Piece, name: str, lies: Lies, host: Piece, edges: Sequence[str]) -> bool:
    """Whether the middle of an edge of what lands lies on one of some edges of its host."""
    own = edge_path(part.outline, name)
    at = transform_point(point_at(own, path_length(own) / 2)[0], lies.move)
    paths = [edge_path(host.outline, edge) for edge in edge_names(host.outline) if edge in edges or WHOLE in edges]
    return any(distance_to_path(path, at) < LEVEL_MM for path in paths)
