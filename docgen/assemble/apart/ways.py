"""The ways on which a part is lifted off another that a step joins it to, the likeliest first."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence

from docgen.assemble.apart.bodies import Body
from docgen.assemble.apart.bonds import Bond
from docgen.assemble.apart.laid_flat import band_under
from docgen.assemble.assembly import Copy
from docgen.assemble.space.lift import LAPPED
from docgen.assemble.space.pile import ALIKE
from docgen.assemble.space.placed import LAYER_MM, Placed
from docgen.assemble.space.vectors import Vec, direction, inner, minus, outer

STAND_OFF: Mapping[str, float] = {
    "stands on": -1.0,
    "closes": 1.0,
    "back to back": -1.0,
    "leads from": 1.0,
    "hangs on": 1.0,
}
"""How a part came to its place -> whether it goes on from the outer side of its host (of itself where it closes on
walls), or from the inner one; what lies on its host does as its level tells."""
STANDS_MM = 5.0  # off its panel, at least, a wall reaches
MOST_LAYERS = 12  # between two that a seam sews on each other
UPRIGHT = 0.75  # the cosine between a panel and a wall on it, which may lean


def list_ways(bodies: Mapping[Copy, Body], pair: Bond, part: Sequence[Copy]) -> Iterator[Vec]:
    one, other = bodies[pair.one].placed, bodies[pair.other].placed
    for host, guest in ((one, other), (other, one)):
        if guest.host == host.copy:
            ways = [way_off(host, guest), *_ways_out(bodies, host.copy, bodies[guest.copy], pair.seam)]
            if _laps_round(guest):  # the host comes out of it
                ways = [*map(turn_back, _ways_out(bodies, guest.copy, bodies[host.copy], pair.seam)), *ways]
            ways += [] if guest.how != "stands on" else _ways_under(host, guest)
            yield from (way if guest.copy in part else turn_back(way) for way in ways)
            return
    mine, its = (pair.one, pair.other) if pair.one in part else (pair.other, pair.one)
    between = _way_between(bodies[mine], bodies[its], pair.seam)
    between = between or _way_off_wall(bodies[mine], bodies[its], pair.seam)
    if between is not None:
        yield between
        return
    ways = [way for flat in (one, other) for way in (_out(flat), turn_back(_out(flat)))]
    if one.is_inner and other.is_inner:  # linings go on from the outside of their bag
        off = minus(_middle(bodies[mine]), _middle(bodies[its]))
        ways.sort(key=lambda way: inner(way, off) < 0)
    yield from ways


def _laps_round(guest: Placed) -> bool:
    """Whether a part is lapped over the edge of its host, and bends to its inner side."""
    return guest.how in LAPPED and guest.level > 0 and not guest.folds_out(0)


def _middle(body: Body) -> Vec:
    """The middle of the box round a part."""
    axes = zip(*(at for face in body.faces for at in face.corners), strict=True)
    x, y, z = ((min(axis) + max(axis)) / 2 for axis in axes)
    return x, y, z


def _ways_out(bodies: Mapping[Copy, Body], under: Copy, guest: Body, seam: str) -> Iterator[Vec]:
    """The way on which a part that lies between the halves of a fold comes out of it, or what lines a panel from between
    that and another one on it: across its seam."""
    host = bodies[under]
    rows = [line for line in guest.lines if line.kind == "stitch" and line.name == seam]
    if rows and (_is_shut(bodies, under) if guest.placed.is_inner else host.bridges):
        row = max(rows, key=lambda line: round(math.dist(line.start, line.end), 3))
        aside = direction(outer(minus(row.end, row.start), host.placed.out(0)))
        middle = host.placed.surface.point(host.placed.item.box.centre)
        yield aside if inner(aside, minus(row.start, middle)) > 0 else turn_back(aside)


def _is_shut(bodies: Mapping[Copy, Body], panel: Copy) -> bool:
    """Whether another panel is laid on one back to back."""
    pairs = ((one.copy, one.placed.host) for one in bodies.values() if one.placed.how == "back to back")
    return any(panel in pair for pair in pairs)


def _ways_under(host: Placed, guest: Placed) -> Iterator[Vec]:
    """The way on which a floor comes off the walls that stand on it: to the side on which that wall is not by which it was
    placed."""
    if len(guest.surface.bands) == 1:
        off_mm = [_off_mm(guest, 0, at) for face in host.faces for at in face.corners]
        yield guest.out(0) if max(off_mm) < -min(off_mm) else turn_back(guest.out(0))


def _way_between(body: Body, other: Body, seam: str) -> Vec | None:
    """The way off another part on which one lies, as layers are drawn apart along their seam; None where they do not lie
    on each other there."""
    rows = [[line for line in one.lines if line.kind == "stitch" and line.name == seam] for one in (body, other)]
    if not seam or not all(rows):
        return None
    mine, its = (max(lines, key=lambda line: round(math.dist(line.start, line.end), 3)) for lines in rows)
    out, under = body.placed.out(mine.bands[0]), other.placed.out(its.bands[0])
    off_mm = inner(minus(mine.start, its.start), under)
    if abs(inner(out, under)) < ALIKE or not LAYER_MM / 2 < abs(off_mm) < MOST_LAYERS * LAYER_MM:
        return None
    return under if off_mm > 0 else turn_back(under)


def _way_off_wall(body: Body, other: Body, seam: str) -> Vec | None:
    """The way off another part of which one is a flat panel and one a wall that goes round it along their seam, as round
    what lies on the inner side of a panel: at right angles to the panel. None of what lies otherwise."""
    if not seam or body.placed.is_inner or other.placed.is_inner:
        return None
    panel, wall = (body, other) if len(other.placed.surface.bands) > 1 else (other, body)
    rows = [line for line in wall.lines if line.kind == "stitch" and line.name == seam]
    if len(panel.placed.surface.bands) > 1 or len(wall.placed.surface.bands) == 1 or not rows:
        return None
    out = panel.placed.out(0)
    if any(abs(inner(wall.placed.out(line.bands[0]), out)) > UPRIGHT for line in rows):
        return None
    off_mm = [_off_mm(panel.placed, 0, at) for face in wall.faces for at in face.corners]
    if max(off_mm) - min(off_mm) < STANDS_MM or min(map(abs, (max(off_mm), min(off_mm)))) > STANDS_MM:
        return None
    is_on_outer = max(off_mm) > -min(off_mm)
    return out if is_on_outer == (wall is body) else turn_back(out)


def way_off(host: Placed, guest: Placed) -> Vec:
    """The way on which a part is lifted off the host by which it was placed."""
    if guest.how == "closes":
        return _out(guest)
    sign = STAND_OFF.get(guest.how, 1.0 if guest.level >= 0 else -1.0)
    band = band_under(host, guest)
    out = host.out(band)
    if guest.how == "stands on":  # on the second side of a divider from the outer one
        off_mm = [_off_mm(host, band, at) for face in guest.faces for at in face.corners]
        return out if min(off_mm) > -LAYER_MM and max(off_mm) > STANDS_MM else turn_back(out)
    return out if sign > 0 else turn_back(out)


def _off_mm(host: Placed, band: int, at: Vec) -> float:
    """How far off a flat part, on its outer side, a point lies."""
    return inner(minus(at, host.surface.bands[band].at), host.out(band))


def _out(placed: Placed) -> Vec:
    bands = placed.surface.bands
    longest = max(range(len(bands)), key=lambda k: (bands[k].end_mm - bands[k].begin_mm, -k))
    return placed.out(longest)


def turn_back(way: Vec) -> Vec:
    return -way[0], -way[1], -way[2]
