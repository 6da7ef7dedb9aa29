"""Hardware that is set: through which layers, in which holes, with which post."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from docgen.assemble import NO_HOLD, NO_HOLE, POINTS_UNTOLD, WAY_UNTOLD, Event, Fastened, Placed, Vec, pile_post
from docgen.geometry.shapes import Point
from docgen.geometry.vector import between
from docgen.plan.act import Act, Told, act
from docgen.plan.acts.layers import counted
from docgen.plan.acts.laying import bow_acts, has_punched_half
from docgen.plan.acts.looks import half_acts, knob_acts
from docgen.plan.acts.places import ends_of, spots_place
from docgen.plan.acts.shaping import edges_then
from docgen.plan.acts.straps import closing_ends, turn_acts
from docgen.plan.acts.work import Work
from docgen.plan.cutting import join_words
from docgen.plan.step_words import count_kind, stack_words
from docgen.resolve import Hardware, Hole, by_name, from_end_mm
from docgen.tables.cautions import has_phrase
from docgen.tables.hardware import BURR_KIND, OVER_BURR_MM, find_slack_mm
from docgen.written.units.telling import format_mm, format_number

NEAR_SHARE = 0.1  # of the way from its hole to its fold
LONG_TIMES = 2.0  # its width, that a strip is long
UNTOLD = {NO_HOLD: "side_untold", WAY_UNTOLD: "way_untold", POINTS_UNTOLD: "way_untold"}


def hardware_acts(work: Work, at: int, index: int, event: Event, laid: Sequence[Act]) -> Iterator[Act]:
    """Ends of straps that it closes; what is folded, punched on through its other layer; what it fastens as it is `laid`,
    then each place where it is set."""
    item = by_name(work.build.hardware)[event.name]
    turned = (turn_acts(work, strap, closing_ends(work, strap, index)) for strap in work.build.straps)
    yield from _one_line(one for acts in turned for one in acts)
    fits = [fit for fit in work.build.assembly.fastened if fit.event == index and fit.part in work.titles]
    for size in dict.fromkeys(work.punch(hole.diameter_mm) for hole, _ in _half_punched(work, fits)):
        yield act("punch_half", size=size)
    # A turned end that lies on nothing yet is closed before it is fastened: its post would go through what that lies on.
    closing = [fit for fit in fits if fit.around and {*fit.stack.parts} == {fit.part}]
    yield from (_set_act(work, item, fit, parts, _which_hole(fit, closing), at) for fit, parts in _together(closing))
    yield from laid
    yield from _hang_acts(work, index, fits)
    yield from dict.fromkeys(_untold_places(work, fits))
    on: dict[str, dict[str, None]] = {}
    for hole, title in _unpunched(work, fits):
        on.setdefault(work.punch(hole.diameter_mm), {})[title] = None
    for size, titles in on.items():
        yield act("punch_on", size=size, parts=join_words([*titles]))
    for fit, parts in _together([fit for fit in fits if fit not in closing]):
        yield _set_act(work, item, fit, parts, _which_hole(fit, fits), at)
    if item.kind == BURR_KIND and fits:
        yield act("set_burr", over=f"{format_number(OVER_BURR_MM[0], 1)} to {format_mm(OVER_BURR_MM[1])}")
    lying = {lies.copy.part for lies in work.lays_at(index)}
    through = [layer.part for fit in fits for layer in fit.stack.layers]
    yield from bow_acts(work, [name for name in through if name in work.titles and name not in lying])


def _hang_acts(work: Work, index: int, fits: Sequence[Fastened]) -> Iterator[Act]:
    """What hangs by its holes alone on what it is set in or goes through: no landing tells where it lies."""
    laid = {lies.copy.part for lies in work.lays_at(index)}
    layers = [layer.part for fit in fits for layer in fit.stack.layers]
    for name in dict.fromkeys(layers):
        placed = work.placed(name) if name in work.pieces and name not in laid else None
        if placed is not None and placed.how == "hangs on" and placed.host is not None and placed.is_grain_out:
            host, alike = placed.host.part, _hung_here(work, name, layers)
            hosts = dict.fromkeys(one.host.part for one in alike if one.host)
            there = [one for one in hosts if work.outer(one) == work.outer(host)]
            on = join_words([work.titles[part] for one in there for part in _as_made(work, index, one, layers)])
            told: dict[str, Told] = {"part": counted(work, name, len(alike)), "side": work.outer(host), "host": on}
            ways = _folded_ways(work, index, alike)
            yield act("hang_folded", **told, ways=ways) if ways else act("hang", **told, own=work.outer(name))


def _hung_here(work: Work, name: str, layers: Sequence[str]) -> list[Placed]:
    """The copies of a part that hang on something by its holes; of those that hang on several what is sewn or set here,
    where that tells them."""
    alike = [one for one in work.build.space.parts if one.copy.part == name and one.host and one.how == "hangs on"]
    here = [one for one in alike if one.host and not {one.host.part, *work.strips(one.host.part)}.isdisjoint(layers)]
    return here or alike


def _is_joined(work: Work, index: int, part: str) -> bool:
    """Whether a join is made before an event."""
    return any((one.kind, one.name) == ("joins", part) for one in work.build.assembly.events[:index])


def _as_made(work: Work, index: int, part: str, layers: Sequence[str]) -> list[str]:
    """A part as an event finds it: of a join that is not made by then those of its strips that are there."""
    join = work.joins.get(part)
    strips = [strip for strip in dict.fromkeys(join.pieces) if strip in layers] if join is not None else []
    return [part] if _is_joined(work, index, part) or not strips else strips


def _folded_ways(work: Work, index: int, alike: Sequence[Placed]) -> tuple[Act, ...]:
    """Of copies that are folded which half lies outside, where one alone has the holes, and towards where their fold lies,
    where that is one way for all."""
    ways = {_fold_way(work, index, one) for one in alike}
    half = (act("hang_half"),) if has_punched_half(work.pieces[alike[0].copy.part]) else ()
    return (*half, *(ways.pop() if len(ways) == 1 else ()))


def _fold_way(work: Work, index: int, placed: Placed) -> tuple[Act, ...]:
    """Towards which side of what it hangs on the fold of a part lies from its hole; nothing where that does not follow."""
    piece = work.pieces[placed.copy.part]
    host = work.build.space.part(placed.host) if placed.host else None
    folds = [fold for fold in piece.marks.folds if not fold.is_open]
    if host is None or not folds or not piece.marks.holes:
        return ()
    begin = piece.marks.holes[0].at
    spots = (begin, between(begin, folds[0].middle, NEAR_SHARE))  # the fold itself may lie beyond a bend of the host
    feet = [_foot(host, placed.surface.point(spot)) for spot in spots]
    hole, fold = feet
    if hole is None or fold is None:
        return ()
    box, dx_mm, dy_mm = host.item.box, fold.x - hole.x, fold.y - hole.y
    if abs(dx_mm) > abs(dy_mm):
        return (act("hang_way", side="left" if dx_mm < 0 else "right"),)
    is_strip = all(strip.piece.shape == "strip" for strip in host.item.strips)
    if is_strip and box.height > LONG_TIMES * box.width:  # its ends bear no names on the leather
        round_mm = box.height * (hole.y // box.height) if host.item.is_ring else 0.0  # what is closed is passed again
        strip, middle_mm = _strip_at(host, hole.y - round_mm)
        if abs(fold.y - round_mm - middle_mm) > abs(hole.y - round_mm - middle_mm):
            is_closed = host.item.is_ring and _is_joined(work, index, host.copy.part)
            return (act("hang_way", side="near joint" if is_closed else "near end"),)
        return (act("hang_way", side=f"middle of {work.titles[strip]}" if len(host.item.strips) > 1 else "middle"),)
    low, high = ends_of(work.pieces.get(host.copy.part))
    return (act("hang_way", side=low if dy_mm < 0 else high),)


def _strip_at(host: Placed, at_mm: float) -> tuple[str, float]:
    """The strip that lies so far along a join, and where its middle lies along that."""
    begins = [(strip.begin_mm, strip.piece.name) for strip in host.item.strips]
    ends_mm = [*(begin_mm for begin_mm, _ in begins[1:]), host.item.box.height]
    found = [(name, (begin_mm + end_mm) / 2) for (begin_mm, name), end_mm in zip(begins, ends_mm, strict=True)]
    return next((one for one, end_mm in zip(found, ends_mm, strict=True) if at_mm <= end_mm), found[-1])


def _foot(host: Placed, at: Vec) -> Point | None:
    """Where on its host a point comes to lie, seen straight on to the nearest flat part of that."""
    feet = [
        (abs(lift_mm), foot) for foot, lift_mm in (host.surface.foot(band, at) for band in host.surface.bands) if foot
    ]
    return min(feet, key=lambda found: found[0])[1] if feet else None


def _one_line(acts: Iterable[Act]) -> Iterator[Act]:
    """Lines that differ in their part alone as one."""
    found: dict[tuple[str, tuple[tuple[str, Told], ...]], list[str]] = {}
    for one in acts:
        rest = tuple((name, value) for name, value in one.values if name != "part")
        found.setdefault((one.case, rest), []).append(str(dict(one.values)["part"]))
    for (case, rest), parts in found.items():
        yield act(case, **dict(rest), part="; ".join(parts))


def holes_punched_on(work: Work, index: int) -> list[Hole]:
    """The holes through which what lies beneath is punched when an event sets its hardware."""
    fits = [fit for fit in work.build.assembly.fastened if fit.event == index and fit.part in work.titles]
    return [hole for found in (_unpunched, _half_punched) for hole, _ in found(work, fits)]


def _half_punched(work: Work, fits: Sequence[Fastened]) -> Iterator[tuple[Hole, str]]:
    """Holes of what is folded, or of the turned end of a strap, that its other layer lacks: marked through once it is
    folded, and punched there."""
    found: dict[str, Hole] = {}
    for fit in fits if not any(fit.half and not fit.around for fit in fits) else ():
        twins = [one for one in fits if fit.half and (one.part, one.around) == (fit.part, fit.around)]
        names = [layer.part for one in twins or [fit] for layer in one.stack.layers]
        for name in (one for one in dict.fromkeys(names) if names.count(one) > 1 and not _is_punched_whole(work, one)):
            holes = _own_holes(work, name, fit)
            holes += [one for one in _plain_holes(work, name) if any(_is_alike(one, other) for other in holes)]
            if holes and len(holes) < names.count(name) * _posts_through(work, name, fit):
                found[work.titles[name]] = holes[0]
    yield from ((hole, title) for title, hole in found.items())


def _plain_holes(work: Work, name: str) -> list[Hole]:
    """The holes of a piece of which nothing says what they are for, as those of the other half of what is folded."""
    piece = work.pieces.get(name)
    return [hole for hole in piece.marks.holes if not hole.takes] if piece is not None else []


def _is_alike(one: Hole, other: Hole) -> bool:
    """Whether a hole is another one, of the same punch."""
    return one.at != other.at and (one.diameter_mm, one.long_mm) == (other.diameter_mm, other.long_mm)


def _is_punched_whole(work: Work, name: str) -> bool:
    """Whether the layers of a strap lie on each other and no end is turned: they were punched together."""
    return name in work.straps and all(end.shape != "turned" for end in work.straps[name].ends)


def _posts_through(work: Work, name: str, fit: Fastened) -> int:
    """How many of them go through each copy of a part."""
    ends = [work.straps[name].ends[which] for which in _ends_closed(work, name, fit)]
    return sum(end.number for end in ends) or max(fit.count // work.counts.get(name, 1), 1)


def _ends_closed(work: Work, name: str, fit: Fastened) -> list[int]:
    """The turned ends of a strap that are closed so, round the same."""
    ends = work.straps[name].ends if name in work.straps else ()
    return [k for k, end in enumerate(ends) if end.takes == fit.hardware and fit.around in ("", end.around)]


def _own_holes(work: Work, name: str, fit: Fastened) -> list[Hole]:
    """Those of a piece, or of the ends of a strap, that take what is set."""
    if name in work.straps:
        strap = work.straps[name]
        holes = [hole for hole in strap.piece.marks.holes[strap.row_holes :] if not hole.long_mm]
        closed = _ends_closed(work, name, fit) if fit.around else []
        here = [
            hole
            for hole in holes
            if not closed or any(from_end_mm(strap, k, hole.at) <= 2 * strap.ends[k].fold_mm for k in closed)
        ]
        return [hole for hole in here if hole.takes in ("", fit.hardware)]
    return _holes_for(work, name, fit)


def _unpunched(work: Work, fits: Sequence[Fastened]) -> Iterator[tuple[Hole, str]]:
    """What posts go through and no template gives a hole, as linings and foam, with the hole by which it is punched."""
    for fit in fits:
        hole = next((one for one in _holes_for(work, fit.part, fit) if not one.long_mm), None)
        for name in dict.fromkeys(layer.part for layer in fit.stack.layers):
            strips = [one for one in work.strips(name) if one in work.pieces]
            if hole is not None and strips and not any(_holes_for(work, one, fit) for one in strips):
                yield hole, work.titles[name]


def _untold_places(work: Work, fits: Sequence[Fastened]) -> Iterator[Act]:
    """Of what is riveted to a part that has no hole for it, and of straps without a landing: no page tells where or on
    which side, and nobody should guess."""
    unheld = {one.copy.part for one in work.build.space.unplaced if one.why == NO_HOLE}
    for fit in (fit for fit in fits if fit.part in unheld):
        others = dict.fromkeys(layer.part for layer in fit.stack.layers if layer.part != fit.part)
        hosts = [work.titles[name] for name in others if name in work.titles]
        if hosts:
            yield act("place_untold", part=work.titles[fit.part], host=hosts[0])
    loose = {one.copy.part: UNTOLD[one.why] for one in work.build.space.unplaced if one.why in UNTOLD}
    for fit in (fit for fit in fits if fit.part in work.pieces and not fit.around):
        landed = {one.strap for one in work.pieces[fit.part].strap_landings}  # its landing says on which side
        for name in dict.fromkeys(layer.part for layer in fit.stack.layers if layer.part != fit.part):
            if name in loose and not (loose[name] == "side_untold" and name in landed):
                yield act(loose[name], part=work.titles[name], host=work.titles[fit.part])


def _holes_for(work: Work, name: str, fit: Fastened) -> list[Hole]:
    """The holes of a piece that take what is set, or that say so of each other."""
    piece, title = work.cut.get(name), work.called[fit.part]
    return [one for one in piece.marks.holes if one.takes == fit.hardware or title in one.meets] if piece else []


def _together(fits: list[Fastened]) -> list[tuple[Fastened, list[str]]]:
    """Hardware of which the same is said, counted together, with its parts: that of both ends of a strap, and of straps
    that are closed alike."""
    found: dict[object, tuple[Fastened, list[str]]] = {}
    for fit in fits:
        layers = len(fit.stack.layers), fit.stack.thinnest_mm, fit.stack.thickest_mm
        key = (
            (fit.around, fit.half, *layers, fit.post_mm) if fit.around else (fit.part, fit.half, fit.stack, fit.post_mm)
        )
        known, parts = found.get(key, (replace(fit, count=0), []))
        found[key] = replace(known, count=known.count + fit.count), [*dict.fromkeys([*parts, fit.part])]
    return [*found.values()]


def _which_hole(fit: Fastened, fits: Sequence[Fastened]) -> tuple[Act, ...]:
    """Of two thicknesses at the end of a strap which hole has which: an end is skived towards its cut edge."""
    end = (fit.part, fit.around, fit.half)
    alike = [one for one in fits if fit.around and (one.part, one.around, one.half) == end]
    found = sorted({one.stack.usual_mm for one in alike})
    if len(found) != 2:
        return ()
    return (act("set_near" if fit.stack.usual_mm == found[0] else "set_far"),)


def _set_act(work: Work, item: Hardware, fit: Fastened, parts: Sequence[str], which: tuple[Act, ...], at: int) -> Act:
    """`Set 4 rivets in Back panel, 2 1/2 in from left and right: through Handle, ...: 8.9 mm, post 12 mm.`"""
    layers = _outside_in(work, fit)
    piece = work.cut.get(fit.part) if not fit.around else None
    holes = [hole for hole in piece.marks.holes if hole.takes == item.name] if piece else []
    if fit.half and len(holes) * work.counts.get(fit.part, 1) != fit.count:  # the other halves are set there too
        holes = [hole for hole in holes if hole.place in (fit.place, *fit.places)] or holes
    is_one_of = _shares_mates(work, fit)
    holes = [hole for hole in holes if hole.place in fit.places] if is_one_of else holes
    is_sure = len({hole.meets for hole in holes}) == 1 and all(hole.meets for hole in holes)  # the mates tell the holes
    is_sure = is_sure and not is_one_of
    own = _holes_here(work, fit, holes)
    placed = work.placed(fit.part) if fit.part in work.pieces else None
    is_sure = is_sure or (placed is not None and placed.how == "hangs on" and len(own) == 1)  # laid holes on holes
    place = spots_place(work, piece, edges_then(work, piece, at), own) if piece and own and not is_sure else ()
    kind = f"{item.kind} {fit.half}".strip()
    is_one_kind = sum(one.kind == item.kind for one in work.build.hardware) == 1
    is_called = has_phrase(work.fittings[item.name], item.kind.replace("-", " "))
    is_plain = item.kind != "other" and is_one_kind and is_called
    what = count_kind(fit.count, kind) if is_plain else f"{fit.count} × {work.fittings[item.name]} {fit.half}".strip()
    told: list[Act] = [_where_act(work, fit, what, parts), *which]
    told += [act("set_place", place=place)] if place else []
    if len(fit.stack.layers) > 1 and (not fit.around or {*fit.stack.parts} != {fit.part}):
        told.append(act("set_through", layers=tuple(layers)))
    if fit.stack.thickest_mm:
        count = len(pile_post(work.build, fit) or fit.stack.layers)
        stack = {"stack": stack_words(fit.stack)}
        told.append(act("set_stack", **stack, count=str(count)) if count > 1 else act("set_one", **stack))
    told += _post_acts(work, item, fit) if fit.post_mm else ()
    return act("set", words=(*told, *half_acts(work, fit), *knob_acts(work, at, item, fit, layers)))


def _shares_mates(work: Work, fit: Fastened) -> bool:
    """Whether other posts of a part go through the same parts in other layers, as beside a hem: each says where it is."""
    return not fit.around and any(
        (one.part, one.hardware, one.half, one.event) == (fit.part, fit.hardware, fit.half, fit.event)
        and {*one.stack.parts} == {*fit.stack.parts}
        and fit.places
        and set(fit.places).isdisjoint(one.places)
        for one in work.build.assembly.fastened
    )


def _post_acts(work: Work, item: Hardware, fit: Fastened) -> Iterator[Act]:
    """The post; where foam gives the posts to try, by how much the right one stands out, and how far it may miss that."""
    over = work.build.limits.post_over_mm(item.kind)
    if fit.shorter_mm and over is not None and over[1] is not None:
        posts = " or ".join(format_number(mm, 1) for mm in (*fit.shorter_mm, fit.post_mm))
        out = f"{format_number(over[0], 1)} to {format_mm(over[1])}"
        yield act("set_posts", posts=posts, over=out, slack=format_mm(find_slack_mm(item.kind)))
        return
    yield act("set_post", post=format_mm(fit.post_mm))
    kinds = {work.material_of(layer.part).kind for layer in fit.stack.layers if layer.part in work.pieces}
    if "foam" in kinds:
        yield act("set_foam")


def _holes_here(work: Work, fit: Fastened, holes: list[Hole]) -> list[Hole]:
    """Of the holes of a part that take what is set those that meet what it goes through here; all where too few say so."""
    called = work.called
    titles = {called.get(layer.part, "") for layer in fit.stack.layers}
    exact = [hole for hole in holes if {*hole.meets} == titles - {called[fit.part]}]
    if len(exact) * work.counts.get(fit.part, 1) == fit.count:
        return exact
    found = [hole for hole in holes if hole.meets and titles.issuperset(hole.meets)]
    return found if len(found) * work.counts.get(fit.part, 1) >= fit.count else holes


def _where_act(work: Work, fit: Fastened, what: str, parts: Sequence[str]) -> Act:
    """In which part, or how many in each of several; at the end of a strap what that turns round."""
    title, copies = work.titles[fit.part], work.counts.get(fit.part, 1)
    if fit.around:
        title = "; ".join(work.titles[part] for part in parts)
        return act("set_at", what=what, part=title, around=work.fittings[fit.around])
    if copies > 1 and fit.count % copies == 0:
        return act("set_in_each", what=what, each=str(fit.count // copies), part=title)
    return act("set_in", what=what, part=title)


def _outside_in(work: Work, fit: Fastened) -> list[Act]:
    """The layers from the side that is seen inwards, as their section shows them; where that is not told what lands on the
    part, the last one outermost; the part itself; what lies behind it. A layer that is there twice is told so."""
    titles = {**work.goods, **work.titles}
    names = [layer.part for layer in fit.stack.layers]
    pile = pile_post(work.build, fit) if len(names) > 1 else None
    if pile is not None and {ply.part for ply in pile} == {*names}:
        layers = [ply.part for ply in pile]  # a doubled strap is two
        return [_layer_act(titles.get(name, name), layers.count(name)) for name in dict.fromkeys(layers)]
    lies = [one for one in work.build.assembly.lies if one.host.part == fit.part]
    behind = {one.copy.part for one in lies if one.is_behind}
    piece = work.pieces.get(fit.part)
    order = piece.landing_names if piece else ()
    on = [name for name in dict.fromkeys(names) if name in order and name not in behind]
    on.sort(key=lambda name: -order.index(name))
    others = [name for name in dict.fromkeys(names) if name not in on and name not in behind and name != fit.part]
    told = [*on, *(name for name in (fit.part,) if name in names), *others]
    told += [name for name in dict.fromkeys(names) if name in behind and name != fit.part and name not in told]
    return [_layer_act(titles.get(name, name), names.count(name)) for name in told]


def _layer_act(title: str, count: int) -> Act:
    """`Gusset`, `both layers of Ring tab`, `3 layers of Cord`."""
    if count == 2:
        return act("set_both", part=title)
    return act("set_layers", count=str(count), part=title) if count > 2 else act("part", title=title)
