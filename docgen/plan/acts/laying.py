"""What is laid on something: which side up, where in figures, with what between."""

from __future__ import annotations

from collections.abc import Iterator

from docgen.assemble import Lies
from docgen.geometry.path import path_box
from docgen.plan.act import Act, act
from docgen.plan.acts.places import box_place, end_place
from docgen.plan.acts.work import Work
from docgen.resolve import END_NAMES, Fold, Landing, Piece

NEAR_MM = 2.0  # a fold so near the side of a folded piece is that side


def lay_acts(work: Work, at: int, index: int) -> Iterator[Act]:
    """What comes to lie on something by one event, copies that lie alike told once."""
    told: dict[Act, None] = {}
    for lies in work.lays_at(index):
        for one in _lay(work, lies):
            told[one] = None
    yield from told


def _lay(work: Work, lies: Lies) -> Iterator[Act]:
    name, host = lies.copy.part, lies.host.part
    if lies.is_cover:
        yield _cover_act(work, name, host)
    elif name in work.straps:
        yield from _strap_acts(work, name, host)
    elif host in work.pieces:
        found = [one for one in work.pieces[host].marks.landings if one.piece == name]
        own = [one for one in found if abs(one.dx_mm - lies.dx_mm) < 1e-6 and abs(one.dy_mm - lies.dy_mm) < 1e-6]
        yield from (_land_act(work, name, work.pieces[host], landing) for landing in own or found)


def _cover_act(work: Work, name: str, host: str) -> Act:
    """A lining behind its host: level with its edges, or so far in from them."""
    cover, base = work.pieces.get(name), work.pieces.get(host)
    values = {"part": work.titles[name], "host": work.titles[host], "side": work.inner(host)}
    if cover is not None and base is not None and cover.model == base.model and cover.inset_mm > base.inset_mm:
        return act("cover_inset", **values, length=work.length(cover.inset_mm - base.inset_mm))
    if work.material_of(name).kind in ("foam", "board"):
        return act("cover", **values)
    return act("cover_faced", **values, own=work.outer(name))


def _land_act(work: Work, name: str, host: Piece, landing: Landing) -> Act:
    """A piece on its host: upright as its template, its fold where that is seen."""
    box = path_box(landing.outline)
    values = {
        "part": work.titles[name],
        "host": work.titles[host.name],
        "side": work.outer(host.name),
        "own": work.outer(name),
        "place": box_place(work, host, box),
    }
    fold = next((one for one in work.pieces[name].marks.folds if not one.is_open and not one.of_hem), None)
    side = _fold_side(landing, fold) if fold else ""
    return act("lay_folded", **values, way=side) if side else act("lay", **values)


def _fold_side(landing: Landing, fold: Fold) -> str:
    """On which side of the folded piece its fold lies."""
    box = path_box(landing.outline)
    x = (fold.start.x + fold.end.x) / 2 + landing.dx_mm
    y = (fold.start.y + fold.end.y) / 2 + landing.dy_mm
    gaps = {"left": x - box.left, "right": box.right - x, "bottom": y - box.bottom, "top": box.top - y}
    side = min(gaps, key=lambda name: abs(gaps[name]))
    return side if abs(gaps[side]) <= NEAR_MM else ""


def _strap_acts(work: Work, name: str, host: str) -> Iterator[Act]:
    """Each end of a strap on its host; ends that lie alike in one line."""
    for landing in work.pieces[host].strap_landings if host in work.pieces else ():
        if landing.strap == name:
            yield act(
                "lay_end",
                part=work.titles[name],
                end=END_NAMES[landing.end],
                host=work.titles[host],
                side=work.outer(host),
                place=end_place(work, work.pieces[host], landing),
                over=work.length(landing.over_mm),
                leads=landing.leads,
            )
