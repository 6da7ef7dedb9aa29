"""What is laid on something: which side up, where in figures, with what between."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from docgen.assemble import Copy, Lies, find_faced
from docgen.geometry.outline import outline_box, outline_path
from docgen.geometry.path import path_box, transform_path
from docgen.geometry.shapes import Box, Point
from docgen.geometry.vector import Transform, transform_point
from docgen.plan.act import Act, Told, act
from docgen.plan.acts.copies import copy_words
from docgen.plan.acts.flaps import lies_below, over_edge, row_below
from docgen.plan.acts.holding import glued_ends
from docgen.plan.acts.places import box_place, ends_of, ends_place, level_place, middle_place
from docgen.plan.acts.shaping import edges_then, hems_over
from docgen.plan.acts.work import Work
from docgen.plan.cutting import join_words
from docgen.resolve import END_NAMES, Fold, Landing, Piece, Seam, StrapLanding, comes_from_inside

SIDELESS = ("foam", "board")  # kinds of goods of which no side is the right one
SHORT_MM = 5.0  # what a lining ends short by is no slack: our choice
NEAR_MM = 2.0  # a fold so near the side of a folded piece is that side


def lay_acts(work: Work, at: int, index: int) -> Iterator[Act]:
    """What comes to lie on something by one event: linings of several hosts in one line, and what lies alike in several
    places of one host."""
    covers: dict[tuple[str, tuple[tuple[str, Told], ...]], list[str]] = {}
    places: dict[tuple[str, str], None] = {}
    events = work.build.assembly.events
    seam = work.seams.get(events[index].name) if index < len(events) and events[index].kind == "seams" else None
    faced = find_faced(work.build, seam) if seam is not None else None
    landed = {(lies.copy, lies.host) for lies in work.lays_at(index) if not lies.is_cover}
    for lies in work.lays_at(index):
        if (lies.copy.part, lies.host.part) == faced:
            continue  # it is told with the seam, and comes to lie there once that is turned
        if lies.is_cover and (lies.copy, lies.host) in landed:
            continue  # a lining whose place is written is laid there
        if lies.is_cover:
            case, values = _cover(work, lies, index)
            covers.setdefault((case, tuple(values.items())), []).append(work.titles[lies.host.part])
        elif lies.host.part in work.pieces:
            places[lies.copy.part, lies.host.part] = None
    ordered = sorted(places, key=lambda place: _landing_order(work, *place))
    beneath = [place for place in ordered if place[0] in work.pieces and _is_beneath(work, *place, index)]
    for name, host in beneath:
        yield from _land_acts(work, name, host, at, index)
    for (case, told), hosts in covers.items():
        yield act(case, **dict(told), host=join_words([*dict.fromkeys(hosts)]))
    straps: list[Act] = []
    for name, host in (place for place in ordered if place not in beneath):
        if name in work.straps:
            straps += _strap_acts(work, name, host, at)
        else:
            yield from _land_acts(work, name, host, at, index)
    ends = dict.fromkeys(place for place in places if place[0] in work.straps)
    under = [*dict.fromkeys(host for _, host in ends)]
    yield from glued_ends(work, at, [*dict.fromkeys(name for name, _ in ends)], under, [*_on_each_other(straps)])
    yield from bow_acts(work, [name for name, _ in places])


def _is_beneath(work: Work, name: str, host: str, index: int) -> bool:
    """Whether one event lays a part on the inner side of another, and then its lining over that."""
    laid = [lies for lies in work.lays_at(index) if lies.host.part == host]
    is_inside = any(lies.copy.part == name and lies.is_inside for lies in laid)
    order = work.build.assembly.laid_order
    return is_inside and any((*order(host, name), 0) < (*order(host, one.copy.part), 1) for one in laid if one.is_cover)


def lining_under(work: Work, name: str, host: str, index: int) -> str:
    """The lining all over the inner side of a part that lies by then between that and what is laid there; none where there
    is none."""
    order = work.build.assembly.laid_order
    laid = [lies for at in range(index + 1) for lies in work.lays_at(at) if lies.is_cover and lies.host.part == host]
    there = [lies.copy.part for lies in laid if (*order(host, lies.copy.part), 1) < (*order(host, name), 0)]
    seen = [one for one in there if work.material_of(one).kind in ("leather", "fabric") and one in work.pieces]
    return next((one for one in reversed(seen) if _is_whole(work.pieces[one], work.pieces[host])), "")


def _is_whole(cover: Piece, base: Piece) -> bool:
    """Whether a lining is as large as what it lines."""
    own, under = outline_box(cover.outline), outline_box(base.outline)
    return max(under.width - own.width, under.height - own.height) <= SHORT_MM


def bow_acts(work: Work, names: Iterable[str]) -> Iterator[Act]:
    """Of grips and the like, that are longer than the way between their ends, how high they stand up."""
    for name in dict.fromkeys(names):
        placed = work.placed(name)
        if placed is not None and placed.bow_mm:
            yield act("stands_up", part=work.titles[name], length=work.length(round(placed.bow_mm)))


def _on_each_other(acts: Sequence[Act]) -> Iterator[Act]:
    """Ends of straps of which the same is said in one line: the first lies beneath."""
    found: dict[tuple[str, tuple[tuple[str, Told], ...]], list[Act]] = {}
    for one in acts:
        values = dict(one.values)
        rest = tuple((name, value) for name, value in one.values if name not in ("part", "end"))
        found.setdefault((one.case, rest), []).append(act("strap_ends", part=values["part"], end=values["end"]))
    for (case, rest), ends in found.items():
        over = act("ends_over", lower=ends[0], upper=tuple(ends[1:])) if len(ends) > 1 else ends[0]
        yield act(case, **dict(rest), ends=over)


def _landing_order(work: Work, name: str, host: str) -> int:
    """What is written first lies beneath."""
    order = work.pieces[host].landing_names
    return order.index(name) if name in order else len(order)


def _cover(work: Work, lies: Lies, index: int) -> tuple[str, dict[str, Told]]:
    """A lining behind its host: level with its edges, or so far in from them; foam of a shape of its own where it lies."""
    name, host = lies.copy.part, lies.host.part
    cover, base = work.pieces.get(name), work.pieces.get(host)
    values: dict[str, Told] = {"part": copy_words(work, lies.copy, index, {host}), "side": work.inner(host)}
    if cover is not None and base is not None and _is_smaller(work, cover, base):
        values["length"] = work.length(cover.inset_mm - base.inset_mm)
        if work.material_of(name).kind in SIDELESS:
            return "cover_inset", values
        return "cover_inset_faced", {**values, "own": work.outer(name)}
    is_stuffed = work.material_of(name).kind in SIDELESS
    if cover is not None and base is not None and lies.move != Transform() and is_stuffed:
        return "cover_at", {
            **values,
            "place": middle_place(work, base, outline_box(cover.outline), outline_box(base.outline)),
        }
    if is_stuffed:
        return "cover", values
    if cover is not None and base is not None and _is_short(cover, base):
        there = path_box(transform_path(outline_path(cover.outline), lies.move))
        return "cover_at_faced", {
            **values,
            "own": work.outer(name),
            "place": box_place(work, base, outline_box(base.outline), [there]),
        }
    return "cover_faced", {**values, "own": work.outer(name)}


def _is_short(cover: Piece, base: Piece) -> bool:
    """Whether a lining is as wide as its host and ends short of it, or as high."""
    own, under = outline_box(cover.outline), outline_box(base.outline)
    least, most = sorted((under.width - own.width, under.height - own.height))
    return abs(least) <= SHORT_MM < most


def _is_smaller(work: Work, cover: Piece, base: Piece) -> bool:
    """Whether a cover is the shape of its host, smaller all round: of the same model, or of one with the same outline."""
    model = work.pieces.get(cover.model)
    is_alike = cover.model == base.model or (model is not None and model.outline == base.outline and not base.inset_mm)
    return is_alike and cover.inset_mm > base.inset_mm


def _land_acts(work: Work, name: str, host: str, at: int, index: int) -> Iterator[Act]:
    """A piece on its host: upright as its template, its fold where that is seen; a flap that goes over the edge half
    round, by its stitch line, which both templates bear."""
    here = [one for one in work.lays_at(index) if (one.copy.part, one.host.part) == (name, host)]
    spots = {_spot(one.move) for one in here}
    found = [one for one in work.pieces[host].marks.landings if one.piece == name]
    own = [one for one in found if _spot(one.move) in spots] or found
    fold = next((one for one in work.pieces[name].marks.folds if not one.is_open and not one.of_hem), None)
    ways = [_fold_side(work.pieces[host], one, fold) if fold else "" for one in own]
    for way in dict.fromkeys(ways):
        alike = [one for one, its in zip(own, ways, strict=True) if its == way]
        yield from _land_alike(work, name, host, at, index, here, alike, way)


def _land_alike(
    work: Work, name: str, host: str, at: int, index: int, here: Sequence[Lies], own: Sequence[Landing], way: str
) -> Iterator[Act]:
    """The places of a piece on its host whose folds lie on the same side, `way`."""
    boxes = [path_box(landing.outline) for landing in own]
    base = work.pieces[host]
    place = box_place(work, base, _edges_under(work, base, at, name), boxes)
    side, outer = work.inner(host) if own[0].is_inside else work.outer(host), _side_up(work, name, own[0])
    placed = work.build.space.part(here[0].copy if here else Copy(name))
    is_over = (_is_read(side) != _is_read(outer)) != (placed is not None and placed.item.is_mirrored)
    is_round = _is_named_round(work, name, base, place, is_over=is_over)
    mine = work.pieces.get(name)
    place = tuple(level_place(one, mine, base, is_over=is_over, is_round=is_round) for one in place)
    lining = lining_under(work, name, host, index) if own[0].is_inside else ""
    side = work.outer(lining) if lining else side
    values: dict[str, Told] = {
        "part": _one_of(work, name, [one.copy for one in here], index, host)
        if len(own) == 1
        else f"{len(own)} × {work.titles[name]}",
        "host": work.titles[lining] if lining else _one_of(work, host, [one.host for one in here], index, name),
        "side": side,
        "own": outer,
        "place": place,
    }
    is_sideless = work.material_of(name).kind in SIDELESS and not own[0].is_over
    both = "_sideless" if is_sideless else "_alike" if side == outer else ""
    if both or (way and not own[0].is_over):
        del values["own"]
    if own[0].is_over:
        yield from _over_acts(work, name, host, own[0], values, both)
    elif way:  # folded with its inner side in, it shows the other wherever it is seen
        half = act("lay_half") if has_punched_half(work.pieces[name]) else ()
        yield act("lay_folded", **values, way=way, half=half)
    else:
        yield act(f"lay_round{both}" if is_round else f"lay{both}", **values)


def _side_up(work: Work, name: str, landing: Landing) -> Act:
    """Which side of a part looks up where it lands: of a flap that comes over from inside the hidden one."""
    return work.inner(name) if comes_from_inside(landing, work.pieces[name]) else work.outer(name)


def _one_of(work: Work, name: str, copies: Sequence[Copy], index: int, beside: str) -> Told:
    """The title of a part; where one copy of it is meant with what tells that from the others."""
    return copy_words(work, copies[0], index, {beside}) if len({*copies}) == 1 else work.titles[name]


def _edges_under(work: Work, base: Piece, at: int, name: str) -> Box:
    """The box of the edges of a host as a part is laid on it: one that its hem is turned over is laid before that."""
    is_first = any(name in under for under in hems_over(work, base).values())
    is_turned = (base.name, at) in work.build.assembly.turning
    return outline_box(base.outline) if is_first and is_turned else edges_then(work, base, at)


def _is_named_round(work: Work, name: str, host: Piece, place: Sequence[Act], *, is_over: bool) -> bool:
    """Whether the seams that hold a part which is alike turned half round name its edges so: what is told of where it lies
    names them as they do."""
    if not _is_alike_round(work.pieces[name]):
        return False
    turned = {"left": "right", "right": "left"}
    level = {str(dict(one.values)["side"]) for one in place if one.case == "side_level"} & {*turned}
    named = {
        (own.edges[0], side)
        for seam in work.build.seams
        for own in seam.sides
        for other in seam.sides
        for side in level
        if own.part == name and len(own.edges) == 1 and other.part == host.name and side in other.edges
    }
    return bool(named) and all(own == (side if is_over else turned[side]) for own, side in named)


def _is_alike_round(piece: Piece) -> bool:
    """Whether a piece is a plain strip or rectangle, without any mark that tells its ends apart."""
    marks = piece.marks
    bare = not (marks.holes or marks.notches or marks.folds or marks.slits or marks.skives or piece.hems)
    is_square = all(len(edge.path.segments) == 1 for edge in piece.outline.edges)
    return bare and piece.shape in ("strip", "rectangle") and is_square


def has_punched_half(piece: Piece) -> bool:
    """Whether all holes of a folded piece lie on one side of its fold: the other half is punched through them."""
    folds = [fold for fold in piece.marks.folds if not fold.is_open and not fold.of_hem]
    return bool(folds) and len({_beside(folds[0], hole.at) for hole in piece.marks.holes}) == 1


def _beside(fold: Fold, at: Point) -> bool:
    """On which side of a fold a point lies."""
    (x, y), (u, v) = fold.start, fold.end
    return (u - x) * (at.y - y) > (v - y) * (at.x - x)


def _is_read(face: Act) -> bool:
    """Whether a side is the one that a template is read from."""
    return face.case in ("face_grain", "face_right")


def _over_acts(work: Work, name: str, host: str, landing: Landing, values: dict[str, Told], both: str) -> Iterator[Act]:
    """A flap half round on its host: how far its own edge and its row lie from the edge that it goes over, in figures,
    where they are known; and how far it stands over at the sides."""
    base, far = work.pieces[host], over_edge(work.pieces[host], landing)
    sewn = [
        (seam, side)
        for seam in work.build.seams
        for side in work.sides(seam)
        if side.part == name and _is_flat(seam, host)
    ]
    row_mm = row_below(base, landing, far, sewn[0][0].name) if far and sewn else None
    place = values.pop("place")
    if row_mm is None:
        yield act(f"lay_over{both}", **values)
        return
    figures: dict[str, Told] = {
        "edge": join_words(sewn[0][1].edges),
        "away": work.length(lies_below(base, landing, far)),
        "far": far,
        "row": work.length(row_mm),
        "across": _across(place, far),
    }
    yield act(f"lay_over_at{both}", **values, **figures)


def _across(place: Told, far: str) -> Told:
    """Of the places of a flap those along the edge that it goes over."""
    up = ("top", "bottom", "middle_up")
    mine = ("left", "right", "middle_across") if far in up else up
    told = place if isinstance(place, tuple) else ()
    return tuple(
        one
        for one in told
        if any(word in (one.case, dict(one.values).get("side")) for word in mine)
        or any(word in str(dict(one.values).get("sides", "")) for word in mine)
    )


def _is_flat(seam: Seam, host: str) -> bool:
    """Whether a seam has that piece flat beneath."""
    return any(side.part == host and not side.edges for side in seam.sides)


def _spot(move: Transform) -> tuple[float, float]:
    return round(move.e, 6), round(move.f, 6)


def _fold_side(host: Piece, landing: Landing, fold: Fold) -> str:
    """On which side of the folded piece its fold lies."""
    box = path_box(landing.outline)
    x, y = transform_point(fold.middle, landing.move)
    low, high = ends_of(host)
    gaps = {"left": x - box.left, "right": box.right - x, low: y - box.bottom, high: box.top - y}
    side = min(gaps, key=lambda name: abs(gaps[name]))
    return side if abs(gaps[side]) <= NEAR_MM else ""


def _strap_acts(work: Work, name: str, host: str, at: int) -> Iterator[Act]:
    """The ends of a strap on its host, those that lie alike but for their place in one line."""
    has_holes = any(work.called[host] in hole.meets for hole in work.straps[name].piece.marks.holes)
    alike: dict[tuple[float, str], list[StrapLanding]] = {}
    for landing in work.pieces[host].strap_landings:
        if landing.strap == name:
            alike.setdefault((landing.over_mm, landing.leads), []).append(landing)
    for (over_mm, leads), landings in alike.items():
        ends = dict.fromkeys(END_NAMES[landing.end] for landing in landings)
        values: dict[str, Told] = {
            "part": work.titles[name],
            "end": join_words([*ends]),
            "host": work.titles[host],
            "side": work.outer(host),
            "place": ends_place(work, work.pieces[host], edges_then(work, work.pieces[host], at), landings),
            "leads": leads,
        }
        yield act("lay_holes", **values) if has_holes else act("lay_end", **values, over=work.length(over_mm))
