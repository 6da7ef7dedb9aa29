"""How parts without thickness are told apart in a picture: by how many layers, and which way, each flat part is lifted."""

from __future__ import annotations

import math
from collections.abc import Callable, Container, Iterable, Iterator, Mapping, Sequence
from dataclasses import replace

from docgen.assemble.assembly import Assembly, Copy
from docgen.assemble.space.backed import list_backed
from docgen.assemble.space.flap import find_flap
from docgen.assemble.space.gone_through import Ring, list_through
from docgen.assemble.space.inside_layers import list_inside
from docgen.assemble.space.lift_metal import lift_metal, tilt
from docgen.assemble.space.over_edges import (
    SHORT_MM,
    box_of,
    comes_over,
    do_overlap,
    is_across,
    is_back,
    layers_over,
    level_off,
)
from docgen.assemble.space.over_ends import list_over_ends, raise_over
from docgen.assemble.space.over_mouth import raise_over_mouths
from docgen.assemble.space.pile import ALIKE, NEAR_MM, Pile
from docgen.assemble.space.placed import Placed, Space, held_band
from docgen.assemble.space.scene import rooms_meet
from docgen.assemble.space.spread import TURNED_BACK, Lifting, spread_folds
from docgen.assemble.space.surface import Band, is_in_ring
from docgen.assemble.space.vectors import NOWHERE, TINY, Vec, along, apart, inner, middle, minus, times
from docgen.geometry.shapes import Point
from docgen.resolve import Build, Strap

LOOK_EVERY_MM, MOST_LOOKS, ACROSS = 10.0, 60, (0.1, 0.5, 0.9)  # along and, in shares of its width, across a strap
BUCKLED_MM = 3.0  # and what a strap that is buckled to it hangs over: it leads from the bar
TABS = ("folds between", "turned out")
WALLS = ("begun with", "stands on", "closes")  # what bends over others by itself, and is not laid on them
LAPPED = ("goes on", "folds between")  # with a level, on one side of what it is lapped over


def lift_parts(build: Build, assembly: Assembly, space: Space) -> Space:
    """The space with the layers by which each band of every part is lifted, and its hardware; hosts come before what lies
    on them."""
    pile, straps = Pile(), {strap.name: strap for strap in build.straps}
    lifting = Lifting(space, {seam.name for seam in build.seams if seam.is_turned})
    for copy in _list_between(assembly, space):
        tab = lifting.placed[copy]
        lifting.placed[copy] = replace(tab, level=-len(tab.surface.bands))
    for flap, lining, is_between in [*list_backed(assembly, lifting.placed)]:
        raised = lifting.placed[flap] if is_between else lifting.placed[lining]
        lifting.placed[raised.copy] = replace(raised, level=raised.level + (1 if is_between else -1))
    for copy, level in [*list_inside(assembly, lifting.placed, lifting.sheets)]:
        lifting.placed[copy] = replace(lifting.placed[copy], level=level)
    for copy, layers in [*_list_over(assembly, lifting.placed)]:
        over = lifting.placed[copy]
        lifting.placed[copy] = replace(over, level=over.level + layers)
    for copy in _last_over_edges(lifting):
        if copy.part not in straps:
            placed = lifting.placed[copy]
            lifting.placed[copy] = replace(placed, lifts=tuple(_lift_bands(lifting, placed)))
    spread_folds(lifting)
    raise_over_mouths(lifting)
    through = [*list_through(space, lifting.placed.values(), straps)]
    passing = {copy for copy, _ in through}
    covering = list_over_ends(build, assembly, lifting.placed)
    for copy in _in_order(lifting.placed, through, covering):
        if copy in covering:
            raise_over(lifting, copy, covering[copy])
        placed = lifting.placed[copy]
        if copy.part in straps:
            near_mm = BUCKLED_MM if copy in passing else NEAR_MM
            lifts = tuple(_lift_strap(pile, placed, straps[copy.part], near_mm))
            lifting.placed[copy] = placed = replace(placed, lifts=lifts)
        if not placed.is_inner:
            pile.add(placed, lifting.sheets[copy])
    lifted = (replace(one, lift=lift_metal(build, assembly, lifting, pile, one)) for one in space.metal)
    metal = tuple(
        tilt(lifting, pile, one, [copy for copy, ring in through if ring == (one.part, one.hardware)]) for one in lifted
    )
    return replace(space, parts=tuple(lifting.placed[one.copy] for one in space.parts), metal=metal)


def _in_order(
    parts: Mapping[Copy, Placed], through: Iterable[tuple[Copy, Ring]], covering: Container[Copy]
) -> list[Copy]:
    """Copies in their order, but what holds a ring or a buckle before the straps that go through that, and last what is
    `covering` ends of straps, with all that lies on it."""
    order = _put_last(parts, lambda placed: placed.copy in covering)
    for strap, (host, _) in through:
        if order.index(strap) < order.index(host):
            order.remove(host)
            order.insert(order.index(strap), host)
    return order


def _last_over_edges(lifting: Lifting) -> list[Copy]:
    """The parts in their order, but last those that come down over the edge of what they lie on, with what lies on them:
    they lie over all that is there."""
    return _put_last(lifting.placed, lambda placed: comes_over(placed) and _is_bent_round(lifting, placed))


def _put_last(parts: Mapping[Copy, Placed], is_late: Callable[[Placed], bool]) -> list[Copy]:
    """Copies in their order, but last those of which that is so, with all that lies on them."""
    late = set[Copy]()
    for copy, placed in parts.items():
        if placed.host in late or is_late(placed):
            late.add(copy)
    return sorted(parts, key=late.__contains__)


def _is_bent_round(lifting: Lifting, placed: Placed) -> bool:
    host = lifting.placed[placed.host] if placed.host else None
    return host is not None and _bends_round(lifting, host, placed, placed.surface.band_of(placed.anchor))


def _list_between(assembly: Assembly, space: Space) -> frozenset[Copy]:
    """Tabs that are sewn in between two parts: folded ones that their seam names between these, and what stands out of a
    seam that is turned."""
    tabs = {one.copy for one in space.parts if one.how == "folds between"}
    walls = {one.copy for one in space.parts if not one.is_inner} - tabs
    found = {one.copy for one in space.parts if one.how == "turned out"}
    for once in assembly.sewn:
        hosts = [k for k, side in enumerate(once.sides) if side in walls]
        if hosts:
            found |= {side for side in once.sides[min(hosts) : max(hosts)] if side in tabs}
    return frozenset(found)


def _list_over(assembly: Assembly, parts: Mapping[Copy, Placed]) -> Iterator[tuple[Copy, int]]:
    """What a seam sews behind a lined part, or on its lining, over what was laid on that before, as a sleeve over the tab
    of a loop that it catches; with how many layers farther from the part it lies for that."""
    for placed in parts.values():
        lining = parts.get(placed.host) if placed.host else None
        if lining is None or not lining.is_inner or placed.how != "lies on" or placed.level <= 0:
            continue
        at = assembly.laid_at(lining.copy.part, placed.copy.part)
        for once in (one for one in assembly.sewn if placed.copy.part in one.stack.parts and one.event > at):
            over = (parts[side] for side in once.sides if side in parts and side != placed.copy)
            for one in (one for one in over if not one.is_inner):
                if one.how == "back to back" and one.host == lining.host:
                    yield one.copy, -placed.level - len(placed.surface.bands)
                elif one.how == "lies on" and one.host == lining.copy and one.level > placed.level:
                    yield one.copy, len(placed.surface.bands) - 1


def _lift_strap(pile: Pile, placed: Placed, strap: Strap, near_mm: float) -> Iterator[Vec]:
    """A strap lies over all that it comes so near to, and keeps that where it hangs free; what is turned lies behind it,
    and over what it comes to lie on, with the strap over both."""
    bands = placed.surface.bands
    folds = strap.ends[0].fold_mm, strap.ends[1].fold_mm
    turned = [_turned_end(strap, band) for band in bands]
    found: list[float | None] = []
    for k, end in enumerate(turned):
        out = placed.out(k) if end is None else times(placed.out(k), -1.0)
        height = pile.highest(_places_on(placed, k, strap.width_mm), out, near_mm)
        found.append(None if height is None else height + 1)
    under = [
        max((mm for mm, own in zip(found, turned, strict=True) if own == end and mm), default=0.0) for end in (0, 1)
    ]
    for k, band in enumerate(bands):
        near = band.begin_mm < 2 * folds[0] - TINY, band.end_mm > strap.cut_length_mm - 2 * folds[1] + TINY
        over = max((high for high, is_near in zip(under, near, strict=True) if is_near), default=0.0)
        if turned[k] is None and over:
            found[k] = max(found[k] or 0.0, over + 1)
    firm = (height for height, end in zip(found, turned, strict=True) if end is None and height is not None)
    told = next(firm, float(max(placed.level, 0)))  # at least on its host
    for k, end in enumerate(turned):
        if end is None:
            told = told if (height := found[k]) is None else height
            yield times(placed.out(k), told)
        else:
            yield times(placed.out(k), -(under[end] or told - 1))


def _turned_end(strap: Strap, band: Band) -> int | None:
    """By which end of a strap a band of it is turned back; None for none."""
    if band.end_mm <= strap.ends[0].fold_mm + TINY:
        return 0
    return 1 if band.begin_mm >= strap.cut_length_mm - strap.ends[1].fold_mm - TINY else None


def _places_on(placed: Placed, number: int, wide_mm: float) -> Sequence[Vec]:
    """Places all along a band of a strap, in its middle and near both its edges: what crosses it lies under a part of it
    alone."""
    band = placed.surface.bands[number]
    count = min(max(math.ceil((band.end_mm - band.begin_mm) / LOOK_EVERY_MM), 1), MOST_LOOKS)
    along_mm = [band.begin_mm + (band.end_mm - band.begin_mm) * (k + 0.5) / count for k in range(count)]
    return placed.surface.points([Point(wide_mm * share, mm) for mm in along_mm for share in ACROSS], number)


def _lift_bands(lifting: Lifting, placed: Placed) -> Iterator[Vec]:
    host = lifting.placed[placed.host] if placed.host else None
    bands = range(len(placed.surface.bands))
    if host is not None and placed.surface.bands == host.surface.bands:  # bends with its host
        level = level_off(lifting, placed)
        yield from (along(host.lifts[band], host.out(band), level) for band in bands)
        return
    if host is not None and placed.how in TABS and placed.level < 0:
        base, out = _lift_home(host, placed, 0), host.out(_band_under(host, placed))
        is_grain_in = len(bands) > 1 and placed.folds_out(0)
        near = [(inner(placed.out(band), out) > 0) != is_grain_in for band in bands]
        yield from (along(base, out, -1 if is_near else placed.level) for is_near in near)
        return
    home = placed.surface.band_of(placed.anchor)
    base = _lift_home(host, placed, level_off(lifting, placed)) if host is not None else NOWHERE
    turns = [*_turns(placed)]
    folded = sum(turn > 0 for turn in turns)
    is_under = host is not None and placed.how != "back to back" and _looks_away(host, placed, home)
    side = 1 if is_under else 0  # what is back to back folds round its host, which is between
    flap = find_flap(placed)
    if host is not None and _bends_round(lifting, host, placed, home):
        yield from _lift_round(lifting, host, placed, home)
        return
    is_tab = placed.how == "lies on" and any(not fold.is_open for fold in placed.item.folds)  # its halves stay together
    for band in bands:
        if flap is not None and band == flap[0]:
            yield along(base, placed.out(band), _over(lifting, placed, flap))
            continue
        level = side * folded - sum(turns[min(band, home) : max(band, home)])
        is_end = band != home and band in (0, len(bands) - 1) and not is_tab
        over = _over_flush(lifting, placed, band) if is_end else 0
        yield along(along(base, placed.out(home), level), placed.out(band), over)


def _bends_round(lifting: Lifting, host: Placed, placed: Placed, home: int) -> bool:
    """Whether a part that is lapped over the edge of its host, or laid on it, bends beyond that edge, to lie back on its
    other side."""
    does_come = comes_over(placed)
    if does_come and is_across(placed, home):
        return True
    if not placed.level or not (placed.how in LAPPED or does_come) or not _looks_away(host, placed, home):
        return False
    sheets = lifting.sheets[placed.copy]
    own = [at for band, corners in sheets if band == home for at in corners]
    beyond = [
        at for band, corners in sheets if band != home for at in corners if any(apart(at, to) < TINY for to in own)
    ]
    if not beyond:
        return False
    foot, _ = host.surface.foot(host.surface.bands[_band_under(host, placed)], middle(beyond))
    return foot is None or not is_in_ring(host.ring, foot)


def _lift_round(lifting: Lifting, host: Placed, placed: Placed, home: int) -> Iterator[Vec]:
    """What is lapped lies on its host, and what lies back beneath all that lies on the other side of that, and on what its
    far edge is lapped over."""
    out, side = host.out(_band_under(host, placed)), 1 if placed.level > 0 else -1
    if comes_over(placed):
        yield from _come_over(lifting, host, placed, home)
        return
    outer = [one for one in lifting.placed.values() if not one.is_inner]
    others = [-level_off(lifting, one) * side for one in outer if one.host == host.copy]
    turned = [is_back(placed, band, home) for band in range(len(placed.surface.bands))]
    lapped = [one for one in outer if one.host == placed.copy and one.host_band is not None and turned[one.host_band]]
    back = -side * (1 + max(0, *others) + max(0, 0, *(-one.level for one in lapped)))
    for is_behind in turned:
        yield along(_lift_home(host, placed, 0), out, back if is_behind else placed.level)


def _come_over(lifting: Lifting, host: Placed, placed: Placed, home: int) -> Iterator[Vec]:
    """What comes down over the edge of its host lies on all that is lifted there."""
    for band in range(len(placed.surface.bands)):
        if is_back(placed, band, home):
            yield times(placed.out(band), layers_over(lifting, placed, band))
        else:
            yield _lift_home(host, placed, placed.level)


def _over(lifting: Lifting, placed: Placed, flap: tuple[int, int]) -> int:
    """By how many layers a flap lies over the front of its own body: over all that lies there."""
    (_, under), out = flap, placed.out(flap[0])
    room = box_of(lifting, placed, flap[0])
    levels = [0]
    for one in lifting.placed.values():
        if one.host == placed.copy and one.level > 0 and held_band(placed, one) in (None, under):
            bands = (k for k in {band for band, _ in lifting.sheets[one.copy]} if abs(inner(one.out(k), out)) > ALIKE)
            if any(rooms_meet(room, box_of(lifting, one, k), NEAR_MM) for k in bands):
                levels.append(one.level + sum(map(abs, _turns(one))))
    return 1 + max(levels)


def _over_flush(lifting: Lifting, placed: Placed, band: int) -> int:
    """By how many layers an end that comes down in the very plane of another outer part, looking as that does, lies over
    it, as a flap on the front, or one on the other half of the cover on which it lands; 0 where there is none. Walls that
    a turned seam joins lie beside each other: what of both is in one place is turned in. An end that is bent a little too
    short comes over as well."""
    out, found = placed.out(band), [0]
    is_closing = placed.how == "lies on" and placed.host_band is not None
    is_wall = not placed.is_inner and (placed.how in WALLS or is_closing)
    is_seen = is_wall and any(band == own for own, _ in lifting.sheets[placed.copy])
    for one in lifting.placed.values() if is_seen else ():
        is_beside = frozenset((one.copy, placed.copy)) in lifting.turned
        is_host = one.copy == placed.host
        if is_beside or one.is_inner or placed.copy in (one.copy, one.host) or (is_host and not is_closing):
            continue
        for k in {band for band, _ in lifting.sheets[one.copy]} - ({placed.host_band} if is_host else set()):
            its = one.surface.bands[k]
            under_mm = inner(minus(its.at, placed.surface.bands[band].at), out)
            is_flush = abs(under_mm) < NEAR_MM or (is_closing and 0 < under_mm < SHORT_MM)
            if is_flush and inner(one.out(k), out) > ALIKE:
                rooms = box_of(lifting, placed, band), box_of(lifting, one, k)
                short = math.ceil(max(under_mm, 0.0) - TINY)  # layers of a millimetre or more
                layers = (2 if is_closing else 1) + max(one.level, 0) + short  # one of its own lies on the far side
                found.append(layers if do_overlap(*rooms, out) else 0)
    return max(found)


def _looks_away(host: Placed, placed: Placed, home: int) -> bool:
    """Whether the outer face of the band that stays looks away from the host: then what is folded lies beneath it."""
    if not placed.level:
        return False
    return inner(placed.out(home), host.out(_band_under(host, placed))) * placed.level > 0


def _band_under(host: Placed, placed: Placed) -> int:
    """The band of a host on which a part begins."""
    told = held_band(host, placed)
    if told is not None:
        return told
    at = placed.surface.point(placed.anchor)
    feet = [host.surface.foot(band, at) for band in host.surface.bands]
    return next((k for k, (own, lift_mm) in enumerate(feet) if own is not None and abs(lift_mm) < 1.0), 0)


def _lift_home(host: Placed, placed: Placed, level: int) -> Vec:
    """What its host's layers and its own level lift the band that stays where it is."""
    band = _band_under(host, placed)
    return along(host.lifts[band], host.out(band), level)


def _turns(placed: Placed) -> Iterator[int]:
    """For every bend 1 where the part lies back on its hidden side beyond it, -1 where on its outer one, else 0."""
    for band in range(len(placed.surface.bands) - 1):
        is_back = inner(placed.surface.normal(band), placed.surface.normal(band + 1)) < TURNED_BACK
        yield (-1 if placed.folds_out(band) else 1) if is_back else 0
