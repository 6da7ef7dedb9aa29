"""Straps in their places: over an arch between two holds, two parts buckled together, leading on from one hold, else laid
out where there is nothing but straps."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from itertools import pairwise

from docgen.assemble.assembly import Copy
from docgen.assemble.space.arch import Hold, cut_line, find_arch, find_asides, line_mm
from docgen.assemble.space.hinges import hinge_line, holes_by_part
from docgen.assemble.space.holds import End, find_holds, legs_of
from docgen.assemble.space.metal import Metal
from docgen.assemble.space.placed import NO_HOLD, WAY_UNTOLD, How, Placed, Unplaced
from docgen.assemble.space.posts import Row, bows, match_both_ways, post_line
from docgen.assemble.space.ribbons import Sheets, lead, lead_back, outer_sheets
from docgen.assemble.space.scene import Scene
from docgen.assemble.space.surface import Band, Surface, is_in_ring
from docgen.assemble.space.vectors import Vec, along, apart, direction, inner, minus, outer, times
from docgen.geometry.shapes import Point
from docgen.geometry.vector import cross, scale, subtract, unit
from docgen.resolve import Hardware, Strap

Line = tuple[Vec, ...]
Outs = tuple[Vec, Vec | None, tuple[float, float]]
"""The way its outer face looks at both ends, None where it turns no more than its line asks for; how far it lies flat at
each of them."""
NONE_MM = (0.0, 0.0)
TINY_MM = 1e-9
SLACK_MM, FLAT_MM = 3.0, 1.0  # what is longer than its way by more, and leaves its line by no more, is drawn flat
HELD_MM = 0.5  # so far from a fold in a ring a strap has left it
RIGHT, UP = (1.0, 0.0, 0.0), (0.0, 0.0, 1.0)
HANDLES = ("handle", "grip")
ALIKE = 0.99  # the cosine between ways that are one
BESIDE_MM = 35.0  # between straps laid out that nothing holds: our choice
CLOSINGS = ("snap", "other")  # kinds of hardware that a hole is closed on: snaps, and studs, buttons and turn locks
SOONER = 0.5  # of the way to an edge ahead, that the one behind must be, for a strap to lead that way
FAR_MM = 1e4
CLOSES_MM = 15.0  # a hole of a closing strap that lies no farther off its stud or buckle comes to it as leather gives
TOO_SHORT = "it is shorter than the way between what holds it"
HALF_HELD = "only a ring holds it, and it hangs from that as it likes"
SLACK_UNTOLD = "it is longer than the way between what holds it, and nothing says how it stands off there"
OVER_HOST = (
    "its ends lead the same way, and it comes over no edge: one that stands up as a grip leads from each of them towards "
    "the other"
)
CLOSES = "it closes on itself, and where it lies then hangs on who wears it"
KEEPER = "it is a keeper, which slides"
KEPT = "it is a keeper held in a fold, and its way round the strap is not drawn"


def place_straps(scene: Scene, metal: Sequence[Metal]) -> Iterator[Unplaced]:
    """Place the straps, and tell of all others why they are not placed. Where there is nothing but straps they are laid
    out beside each other."""
    pairs = _pairs(scene)
    holds = find_holds(scene, metal) if scene.placed else dict(_lay_out(scene, pairs))
    sheets = outer_sheets(scene)
    for pair in sorted(pairs, key=lambda pair: min(_order(holds, copy) for copy in pair)):
        if len(pair) == 2 and _buckle(scene, holds, pair):
            continue
        for copy in pair:
            why = _place(scene, metal, holds, sheets, copy)
            if why:
                yield Unplaced(copy=copy, why=why, way_mm=scene.short_straps.get(copy, 0.0))


def _lay_out(scene: Scene, pairs: Sequence[tuple[Copy, ...]]) -> Iterator[tuple[End, Hold]]:
    """Straps that nothing holds, straight and grain side up, each pair in one line."""
    straps = scene.goods.straps
    rows = [pair for pair in pairs if not straps[pair[0].part].keeper_for]
    down_mm = 0.0
    for row, pair in enumerate(rows):
        half_mm = max(straps[copy.part].width_mm for copy in pair) / 2
        down_mm += half_mm if row else 0.0
        start = (0.0, -down_mm, 0.0)
        down_mm += half_mm + BESIDE_MM
        if len(pair) == 1:
            yield (pair[0], 0), Hold(at=start, way=RIGHT, out=UP)
            continue
        own, other = (straps[copy.part] for copy in pair)
        reach_mm = main_mm(other) + main_mm(own) - own.middle_tip_mm
        yield (pair[1], 1 - _buckle_end(scene, other)), Hold(at=start, way=RIGHT, out=UP)
        yield (pair[0], 0), Hold(at=along(start, RIGHT, reach_mm), way=times(RIGHT, -1.0), out=UP)


def _pairs(scene: Scene) -> list[tuple[Copy, ...]]:
    """The copies of straps, those of two parts that buckle together: first the one that has the holes."""
    straps = scene.goods.straps
    partners = {strap.partner for strap in straps.values() if strap.partner in straps}
    found: list[tuple[Copy, ...]] = []
    for strap in straps.values():
        if strap.name not in partners:
            for copy in scene.goods.copies(strap.name):
                other = Copy(strap.partner, copy.number)
                has_other = strap.partner in straps and copy.number <= straps[strap.partner].cut
                found.append((copy, other) if has_other else (copy,))
    paired = {copy for pair in found for copy in pair}
    left = [copy for name in partners for copy in scene.goods.copies(name) if copy not in paired]
    return [*found, *((copy,) for copy in sorted(left))]


def _order(holds: Mapping[End, Hold], copy: Copy) -> int:
    """What lands first on its host lies beneath."""
    return min((hold.order for which in (0, 1) if (hold := holds.get((copy, which)))), default=0)


def _buckle(scene: Scene, holds: Mapping[End, Hold], pair: tuple[Copy, ...]) -> bool:
    """Two parts between two holds, closed at the middle hole: they share one line, and the tip goes on over the part that
    has the buckle. False where they are not both held, too short, or go round something."""
    holed, buckled = pair
    own, other = (scene.goods.straps[copy.part] for copy in pair)
    which = _buckle_end(scene, other)
    near, far = holds.get((holed, 0)), holds.get((buckled, 1 - which))
    if near is None or far is None or not own.hole_tips_mm or _go_round(far, near):
        return False
    reach_mm = main_mm(other) + main_mm(own) - own.middle_tip_mm
    arch = find_arch(far, near, reach_mm - far.lying_mm - near.lying_mm, legs_of(scene, far, near))
    if arch is None:
        return False
    whole = (*far.lying, *arch, *near.lying[::-1])
    line = cut_line(whole, 0.0, main_mm(other))
    lying_mm = far.lying_mm, near.lying_mm
    out = _out_at(whole, (far.out, near.out, lying_mm), main_mm(other))
    along_line = (line, (far.out, out, (lying_mm[0], 0.0)))
    back = (line[::-1], (out, far.out, (0.0, lying_mm[0])))
    _put(scene, buckled, *(along_line if which else back), _how(scene, far), far, 1 - which)
    line = cut_line(whole[::-1], 0.0, main_mm(own))
    out = _out_at(whole[::-1], (near.out, far.out, lying_mm[::-1]), main_mm(own))
    _put(scene, holed, line, (near.out, out, (lying_mm[1], 0.0)), _how(scene, near), near)
    _note_hung(scene, (buckled, far), (holed, near))
    return True


def _go_round(one: Hold, other: Hold) -> bool:
    """Whether two holds on one face lead away from each other: what buckles together goes round what is rolled up there,
    which nothing tells the size of; each part leads on by itself."""
    is_one_face = one.host == other.host and one.host is not None and inner(one.out, other.out) > ALIKE
    return is_one_face and inner(one.way, other.way) < -ALIKE and inner(minus(other.at, one.at), one.way) < 0


def _buckle_end(scene: Scene, strap: Strap) -> int:
    """Which end of a strap has the buckle: the second where neither says so."""
    buckles = {item.name for item in scene.goods.build.hardware if item.kind == "buckle"}
    return 1 if buckles.isdisjoint(strap.ends[0].rings) else 0


def _out_at(line: Line, outs: Outs, far_mm: float) -> Vec:
    """The way the outer face of a strap along a line looks so far along it."""
    asides, done_mm, k = find_asides(line, *outs), apart(line[0], line[1]), 0
    while done_mm < far_mm - TINY_MM and k < len(line) - 2:
        k += 1
        done_mm += apart(line[k], line[k + 1])
    return outer(direction(minus(line[k + 1], line[k])), asides[k])


def _how(scene: Scene, hold: Hold) -> How:
    return "arches" if hold.host else "laid out"


def _place(scene: Scene, metal: Sequence[Metal], holds: Mapping[End, Hold], sheets: Sheets, copy: Copy) -> str:
    """Place one strap for itself; the reason where it is not placed."""
    strap = scene.goods.straps[copy.part]
    first, second = (holds.get((copy, which)) for which in (0, 1))
    hold = first or second
    if strap.keeper_for:
        return KEPT if _is_kept(scene, strap) else KEEPER
    if hold is None:
        why = "" if _hinge(scene, copy, strap) else _post(scene, copy, strap)
        return CLOSES if why == NO_HOLD and _closes(scene, strap) else why
    if first and second:
        free_mm = main_mm(strap) - first.lying_mm - second.lying_mm
        arch = find_arch(first, second, free_mm, legs_of(scene, first, second))
        if arch is None:
            scene.short_straps[copy] = apart(first.at, second.at) + first.lying_mm + second.lying_mm
            return TOO_SHORT
        if _is_straight(arch) and free_mm > apart(first.at, second.at) + SLACK_MM:
            return SLACK_UNTOLD
        if _lies_over_host(scene, first, second, arch):
            return OVER_HOST
        line = (*first.lying, *arch, *second.lying[::-1])
        twisted = first.out, second.out, (first.lying_mm, second.lying_mm)
        _put(scene, copy, line, twisted, _how(scene, first), first)
        _note_hung(scene, (copy, first), (copy, second))
        _note_room(scene, copy, strap, (first, second), arch)
        return ""
    if hold.is_ring:
        return HALF_HELD
    tips_mm = strap.hole_tips_mm if first else strap.first_tips_mm  # a tip beyond all holes is held by nothing
    line = lead(sheets, hold, main_mm(strap), main_mm(strap) - min(tips_mm, default=0.0))
    back = lead_back(sheets, hold, main_mm(strap)) if len(line) == 2 else None
    line = back if back and _closes_there(scene, metal, strap, 0 if first else 1, back) else line
    line, outs = (
        (line, (hold.out, None, NONE_MM))
        if first
        else (line[::-1], (_out_at(line, (hold.out, None, NONE_MM), line_mm(line)), None, NONE_MM))
    )
    _put(scene, copy, line, outs, "leads from" if hold.host else "laid out", hold, 0 if first else 1)
    return ""


def _closes_there(scene: Scene, metal: Sequence[Metal], strap: Strap, which: int, line: Line) -> bool:
    """Whether a hole of a strap along a line from that end of it comes to what it closes on: a stud, a snap, a buckle."""
    spots = list_closings(scene.goods.build.hardware, scene.placed.values(), metal)
    edge_mm = apart(line[0], line[1])
    for hole in strap.piece.marks.holes:
        far_mm = (strap.cut_length_mm - hole.at.y if which else hole.at.y) - strap.ends[which].fold_mm
        at = cut_line(line, 0.0, far_mm)[-1] if far_mm > edge_mm else None
        if at is not None and min((apart(at, spot) for spot in spots), default=CLOSES_MM) < CLOSES_MM:
            return True
    return False


def list_closings(hardware: Iterable[Hardware], parts: Iterable[Placed], metal: Iterable[Metal]) -> list[Vec]:
    """Where a hole of a strap may close, mm: on the studs and snaps of some parts, in their holes, and on buckles."""
    names = {item.name for item in hardware if item.kind in CLOSINGS}
    spots = [placed.surface.point(hole.at) for placed in parts for hole in placed.item.holes if hole.takes in names]
    return [*spots, *(one.at for one in metal if one.shape == "buckle")]


def _lies_over_host(scene: Scene, first: Hold, second: Hold, arch: Line) -> bool:
    """Whether a strap whose ends lead the same way from one face would lie flat on that, bent edgeways, since it does not
    come over an edge of it."""
    if first.host is None or first.host != second.host or first.is_ring or second.is_ring:
        return False
    placed, way, at = scene.placed[first.host], first.way, arch[len(arch) // 2]
    feet = [placed.surface.foot(band, at) for band in placed.surface.bands]
    is_over = any(foot and abs(off_mm) < FLAT_MM and is_in_ring(placed.ring, foot) for foot, off_mm in feet)
    return is_over and inner(way, second.way) > ALIKE and not _is_straight(arch)


def _is_straight(line: Line) -> bool:
    """Whether a line of chords does not leave the straight line that it begins with."""
    way = direction(minus(line[1], line[0]))
    return all(apart(outer(minus(at, line[0]), way), (0.0, 0.0, 0.0)) < FLAT_MM for at in line)


def _is_kept(scene: Scene, keeper: Strap) -> bool:
    """Whether the ends of a keeper lie in the fold of a strap."""
    return any(end.keeper == keeper.name for strap in scene.goods.straps.values() for end in strap.ends)


def _closes(scene: Scene, strap: Strap) -> bool:
    """Whether a strap goes into a buckle at its own other end, as a belt does."""
    buckles = {item.name for item in scene.goods.build.hardware if item.kind == "buckle"}
    return bool(strap.hole_tips_mm) and not buckles.isdisjoint(strap.ends[0].rings)


def _note_hung(scene: Scene, *held: tuple[Copy, Hold]) -> None:
    """Keep which straps go round rings for good, and the parts that hold these."""
    scene.hung += [(copy, hold.host) for copy, hold in held if hold.is_ring and not hold.is_hooked and hold.host]


def _note_room(scene: Scene, copy: Copy, strap: Strap, holds: tuple[Hold, Hold], arch: Line) -> None:
    """Keep a handle, by its words, that leaves no room for a hand between it and the straight way from hold to hold."""
    first, second = holds
    words = f"{strap.name} {strap.title}".lower()
    is_handle = any(word in words for word in HANDLES) and first.host == second.host and first.host is not None
    if not is_handle or first.is_ring or inner(first.way, second.way) < ALIKE:
        return
    room_mm = max(inner(at, first.way) for at in arch) - max(inner(hold.at, first.way) for hold in holds)
    if room_mm < scene.goods.build.limits.hand_room_mm:
        scene.low_handles.append((copy, first.host or copy, room_mm))


def _hinge(scene: Scene, copy: Copy, strap: Strap) -> bool:
    found = hinge_line(scene, strap, copy.number)
    if found is not None:
        line, out, host = found
        _put(scene, copy, line, (out, None, NONE_MM), "hinges", Hold(at=line[0], way=RIGHT, out=out, host=host))
    return found is not None


def _post(scene: Scene, copy: Copy, strap: Strap) -> str:
    """Place a strap that posts hold at holes of one face that are there for it alone; the reason where it is not placed."""
    found = [(one, at) for one, points in holes_by_part(scene, strap.name) for at in points]
    own = [hole.at for hole in strap.piece.marks.holes[len(strap.hole_tips_mm) :]]
    rows = [*match_both_ways(own, (at for _, at in found))] if len({host for host, _ in found}) == 1 else []
    if not rows or strap.cut > 1 or any(end.fold_mm for end in strap.ends):
        return NO_HOLD
    row = _that_leads(scene, found[0][0], strap, rows)
    if row is None:
        return WAY_UNTOLD
    row = row if row[0][0].y < row[-1][0].y else row[::-1]
    host, ends_mm = found[0][0], (row[0][0].y, strap.cut_length_mm - row[-1][0].y)
    line = post_line(scene, host, row, ends_mm)
    if line is None:
        return NO_HOLD
    placed, points = scene.placed[host], tuple(at for _, at in line)
    out = placed.out(placed.surface.band_of(row[0][1]))
    way = direction(minus(points[1], points[0]))
    hold = Hold(at=points[1], way=way, out=out, host=host, lying=(points[0],))
    _put(scene, copy, points, (out, None, NONE_MM), "arches" if bows(row) else "leads from", hold)
    return ""


def _that_leads(scene: Scene, host: Copy, strap: Strap, rows: Sequence[Row]) -> Row | None:
    """Of the ways in which the holes of a strap lie on those of a part the one by which its longer end is over an edge far
    sooner; where both are, and its ends differ, none: nothing tells."""
    (first, _), *_, (last, _) = rows[0]
    low, high = sorted((first.y, last.y))
    off_mm = strap.cut_length_mm - high - low  # by how much its second end is longer
    if len(rows) < 2 or abs(off_mm) < SLACK_MM:
        return rows[0]
    ranged = []
    for row in rows:
        (_, begin), *_, (_, end) = row if (row[0][0].y < row[-1][0].y) == (off_mm > 0) else row[::-1]
        far = scale(unit(subtract(end, begin)), FAR_MM)
        ring = scene.item(host).ring
        exits = (share for leg in pairwise((*ring, ring[0])) if (share := _meets(end, far, *leg)) is not None)
        ranged.append((round(min(exits, default=1.0) * FAR_MM, 3), row))
    (near_mm, row), (far_mm, _) = sorted(ranged, key=lambda one: one[0])
    return row if near_mm < SOONER * far_mm else None


def _meets(at: Point, way: Point, start: Point, end: Point) -> float | None:
    """The share of a way from a point at which it comes to a leg."""
    leg = subtract(end, start)
    turn = cross(way, leg)
    if abs(turn) < TINY_MM:
        return None
    share, its = cross(subtract(start, at), leg) / turn, cross(subtract(start, at), way) / turn
    return share if share > 0 and 0 <= its <= 1 else None


def main_mm(strap: Strap) -> float:
    """How long a strap is between its folds, or its ends where these are not turned."""
    return strap.cut_length_mm - sum(end.fold_mm for end in strap.ends)


def _put(scene: Scene, copy: Copy, line: Line, outs: Outs, how: How, hold: Hold, which: int = 0) -> None:
    """Put a strap along a line from its first fold or end to its second; what is turned lies back along it. `hold` holds
    that end of it."""
    strap = scene.goods.straps[copy.part]
    held_mm = strap.ends[which].fold_mm + max(hold.lying_mm / 2, HELD_MM)
    anchor = Point(strap.width_mm / 2, strap.cut_length_mm - held_mm if which else held_mm)
    found = [*_stations(strap, line, find_asides(line, *outs))]
    stations = [found[0], *(after for before, after in pairwise(found) if after[0] - before[0] > TINY_MM)]
    bands = tuple(
        Band(begin, end, at, times(minus(to, at), 1 / (end - begin)))
        for (begin, at, _), (end, to, _) in pairwise(stations)
    )
    asides = tuple(aside for _, _, aside in stations)
    is_even = all(apart(aside, asides[0]) < TINY_MM for aside in asides)
    surface = Surface(
        origin=Point(strap.width_mm / 2, 0.0),
        along=Point(0.0, 1.0),
        across=Point(-1.0, 0.0),
        bands=bands,
        aside=asides[0],
        asides=() if is_even else asides,
    )
    scene.put(copy, how, surface, hold.host, side=0 if hold.is_ring else 1, is_free=True, anchor=anchor)
    if hold.band is not None:
        scene.move(replace(scene.placed[copy], host_band=hold.band))


def _stations(strap: Strap, line: Line, asides: Sequence[Vec]) -> Iterator[tuple[float, Vec, Vec]]:
    """The ends of the bands of a strap: how far from its first cut end, where, and what lies aside there."""
    first_mm, second_mm = (end.fold_mm for end in strap.ends)
    scale = main_mm(strap) / line_mm(line)
    done = [0.0]
    for at, to in pairwise(line):
        done.append(done[-1] + apart(at, to) * scale)
    main = [*zip(done, line, asides, strict=True)]
    whole = main_mm(strap)
    back = [(whole - mm, at, aside) for mm, at, aside in reversed(main)]
    yield from ((first_mm - mm, at, aside) for mm, at, aside in reversed(_until(main, first_mm)))
    yield from ((first_mm + mm, at, aside) for mm, at, aside in main)
    yield from ((first_mm + whole + mm, at, aside) for mm, at, aside in _until(back, second_mm))


def _until(stations: Sequence[tuple[float, Vec, Vec]], far_mm: float) -> list[tuple[float, Vec, Vec]]:
    """The stations after the first up to a distance, and one there."""
    if far_mm <= TINY_MM:
        return []
    found = [one for one in stations[1:] if one[0] < far_mm - TINY_MM]
    before = found[-1] if found else stations[0]
    after = next((one for one in stations if one[0] >= far_mm - TINY_MM), stations[-1])
    share = (far_mm - before[0]) / (after[0] - before[0]) if after[0] > before[0] else 0.0
    return [*found, (far_mm, along(before[1], minus(after[1], before[1]), share), after[2])]
