"""Where something lies on a piece, in figures from edges that can be measured on the bench."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from docgen.geometry.nearest import nearest_along
from docgen.geometry.outline import WHOLE, edge_names, edge_path, outline_box
from docgen.geometry.path import end_point, path_length, point_at, start_point
from docgen.geometry.run import run_path
from docgen.geometry.shapes import Box, Path, Point
from docgen.geometry.vector import cross, distance, subtract, unit
from docgen.plan.act import Act, Told, act
from docgen.plan.acts.work import Work
from docgen.plan.cutting import join_words
from docgen.resolve import END_NAMES, Hole, Piece, SeamSide, StrapLanding, neighbours, side_line, straight_edge

LEVEL_MM = 0.3  # what lies no farther off lies level, or in the middle
MOST_TOLD = 3  # different distances that can be kept in mind
THIRD = 1 / 3
UP = ("bottom", "top")
SLANT = 0.01  # of its length, that a level or upright line may lie off


def box_place(work: Work, base: Box, boxes: Sequence[Box]) -> tuple[Act, ...]:
    """Where upright boxes lie between the edges of a piece: each from its nearest ones, or in the middle."""
    found: dict[Act, None] = {}
    for box in boxes:
        across = (("left", box.left - base.left), ("right", base.right - box.right))
        up = (("bottom", box.bottom - base.bottom), ("top", base.top - box.top))
        for pair, middle in ((across, "across"), (up, "up")):
            found[_side_act(work, pair, middle)] = None
    return both_sides(tuple(found))


def turned_level(place: Act, host: str) -> Act:
    """What is said of a part whose other side is up than that of its host, where both are read: its left edge is on the
    host's right one."""
    side = dict(place.values).get("side")
    if place.case != "side_level" or side not in ("left", "right"):
        return place
    return act("side_on_side", own="right" if side == "left" else "left", side=side, host=host)


def middle_place(work: Work, own: Box, base: Box) -> tuple[Act, ...]:
    """How far what lies in the middle of something lies within its edges."""
    across, up = (base.width - own.width) / 2, (base.height - own.height) / 2
    return (
        act("from_sides", lengths=work.length(across), sides="left and right"),
        act("from_sides", lengths=work.length(up), sides="top and bottom"),
    )


def both_sides(places: tuple[Act, ...]) -> tuple[Act, ...]:
    """What is said of left and right with one length told once."""
    sides = [place for place in places if place.case in ("side_in", "side_over")]
    for one in sides:
        for other in sides:
            said, also = dict(one.values), dict(other.values)
            is_pair = (said["side"], also["side"]) == ("left", "right")
            if one.case == other.case and said["length"] == also["length"] and is_pair:
                both = (
                    act("sides_in", length=said["length"]) if one.case == "side_in" else _over("left and right", said)
                )
                return (both, *(place for place in places if place not in (one, other)))
    return places


def _over(sides: str, said: Mapping[str, Told]) -> Act:
    return act("sides_over", sides=sides, length=said["length"])


def _side_act(work: Work, pair: Sequence[tuple[str, float]], middle: str) -> Act:
    (_, one_mm), (_, other_mm) = pair
    if abs(one_mm - other_mm) <= 2 * LEVEL_MM:
        if one_mm < -LEVEL_MM:
            return act("sides_over", sides=join_words([side for side, _ in pair]), length=work.length(-one_mm))
        return act(f"middle_{middle}")
    side, gap_mm = min(pair, key=lambda found: abs(found[1]))
    if abs(gap_mm) <= LEVEL_MM:
        return act("side_level", side=side)
    return act("side_in" if gap_mm > 0 else "side_over", side=side, length=work.length(abs(gap_mm)))


def line_place(work: Work, piece: Piece, start: Point, end: Point) -> Act:
    """How far from the nearest edge a line lies that runs along it, or that it lies in the middle; as drawn where none
    does."""
    base = outline_box(piece.outline)
    if abs(end.y - start.y) < SLANT * abs(end.x - start.x):
        return _side_act(work, (("bottom", start.y - base.bottom), ("top", base.top - start.y)), "up")
    if abs(end.x - start.x) < SLANT * abs(end.y - start.y):
        return _side_act(work, (("left", start.x - base.left), ("right", base.right - start.x)), "across")
    return act("as_drawn")


def edge_words(work: Work, side: SeamSide) -> Act:
    """`the left, bottom and right edges`, `the left long edge` of a strip, `the top edge, from left to right`."""
    if side.edges == (WHOLE,) or _is_all_one(work, side):
        return act("edge_whole")
    strips = [work.pieces[name] for name in work.strips(side.part) if name in work.pieces]
    is_long = all(strip.shape == "strip" for strip in strips) and {*side.edges} <= {"left", "right"}
    case = (
        "edge_long" if is_long and strips and len(side.edges) == 1 else "edge_one" if len(side.edges) == 1 else "edges"
    )
    if side.ends:
        return act("edge_part", edges=act(case, names=join_words(side.edges)), start=side.ends[0], end=side.ends[1])
    return act(case, names=join_words(side.edges))


def _is_all_one(work: Work, side: SeamSide) -> bool:
    """Whether a piece has no other edge, as a circle."""
    piece = work.pieces.get(side.part)
    return piece is not None and not side.ends and {edge.name for edge in piece.outline.edges} == {*side.edges}


def ends_place(work: Work, base: Box, landings: Sequence[StrapLanding]) -> tuple[Act, ...]:
    """Where the middles of ends of straps lie between the edges of a piece."""
    return _point_place(work, base, [landing.at for landing in landings])


def spots_place(work: Work, piece: Piece, base: Box, holes: Iterable[Hole]) -> tuple[Act, ...]:
    """Where holes lie: distances across and up, each once; nothing for more than can be kept in mind."""
    return _point_place(work, base, [hole.at for hole in holes], END_NAMES if piece.is_strap else UP)


def _point_place(work: Work, base: Box, points: Sequence[Point], ends: tuple[str, str] = UP) -> tuple[Act, ...]:
    across = _ways(work, [(at.x - base.left, base.right - at.x) for at in points], ("left", "right"), "across")
    up = _ways(work, [(at.y - base.bottom, base.top - at.y) for at in points], ends, "up")
    return (*across, *up) if across and up else ()


def _ways(work: Work, gaps: Sequence[tuple[float, float]], sides: tuple[str, str], middle: str) -> tuple[Act, ...]:
    """`3 1/2 in from left and right`; nothing for too many."""
    found: dict[str, dict[str, None]] = {}
    is_middle = False
    for first_mm, second_mm in gaps:
        if abs(first_mm - second_mm) <= 2 * LEVEL_MM:
            is_middle = True
            continue
        which = 0 if first_mm < second_mm else 1
        found.setdefault(work.length(min(first_mm, second_mm)), {})[sides[which]] = None
    by_sides: dict[tuple[str, ...], list[str]] = {}
    for length, names in found.items():
        by_sides.setdefault(tuple(sorted(names)), []).append(length)
    if len(found) + is_middle > MOST_TOLD:
        return ()
    told = [act("from_sides", lengths=join_words(lengths), sides=join_words(s)) for s, lengths in by_sides.items()]
    return (*told, *([act(f"middle_{middle}")] if is_middle else []))


def corner(piece: Piece, at: Point) -> Act:
    """`top left`: the part of a piece in which a point lies."""
    base = outline_box(piece.outline)
    up = _third((at.y - base.bottom) / (base.height or 1.0), ("bottom", "", "top"))
    across = _third((at.x - base.left) / (base.width or 1.0), ("left", "", "right"))
    return act("at_" + ("_".join(filter(None, (up, across))) or "middle"))


def run_end(work: Work, piece: Piece, side: SeamSide, at: Point) -> Act:
    """Where a run begins or ends: how far along the edge where a part of that is sewn, else the corner of the piece; away
    from its corners the end of the edge that is nearest."""
    paths = {name: edge_path(piece.sewn_outline, name) for name in side.edges if name in edge_names(piece.sewn_outline)}
    if side.stretch_mm is not None and (found := _along_edge(work, piece, side, paths, at)):
        return found
    found = corner(piece, at)
    if "_" in found.case.removeprefix("at_") or not paths:
        return found
    name = min(paths, key=lambda one: min(distance(at, end) for end in _ends(paths[one])))
    return act("at_end", end=_end_name(paths[name], at), edge=name)


def _along_edge(work: Work, piece: Piece, side: SeamSide, paths: Mapping[str, Path], at: Point) -> Act | None:
    """How far along its edge a part of a run begins or ends, as the spec has it: from the side of the piece that it names,
    along a slanting or curved edge from its end; None at an end of an edge. A row begins square to that."""
    run = run_path(piece.sewn_outline, side.edges)
    begun = min((point_at(run, mm)[0] for mm in side.stretch_mm or ()), key=lambda point: distance(point, at))
    name = min(paths, key=lambda one: distance(begun, _nearest(paths[one], begun)))
    if min(distance(begun, end) for end in _ends(paths[name])) <= LEVEL_MM:
        return None
    point = _nearest(paths[name], at)
    beside = neighbours(piece.sewn_outline, name)
    lines = {one: line for one in beside if (line := side_line(piece.sewn_outline, one))}
    if len(lines) < len(beside) or straight_edge(piece.sewn_outline, name) is None:
        along_mm = nearest_along(paths[name], at)
        near_mm = min(along_mm, path_length(paths[name]) - along_mm)
        return act("along_edge", edge=name, length=work.length(near_mm), end=_end_name(paths[name], at))
    gaps = {
        one: abs(cross(unit(subtract(line.end, line.start)), subtract(point, line.start)))
        for one, line in lines.items()
    }
    told = {one for words_of in side.ends or () for one in words_of.split() if one in gaps}
    where = told.pop() if len(told) == 1 else min(sorted(gaps), key=lambda one: round(gaps[one], 1))
    return act("on_edge", edge=name, length=work.length(gaps[where]), side=where)


def _nearest(path: Path, at: Point) -> Point:
    return point_at(path, nearest_along(path, at))[0]


def _ends(path: Path) -> tuple[Point, Point]:
    return start_point(path), end_point(path)


def _end_name(path: Path, at: Point) -> str:
    """`upper`, `lower`, `left` or `right`: the end of an edge that is nearer."""
    near, far = sorted(_ends(path), key=lambda end: distance(at, end))
    is_steep = abs(near.y - far.y) >= abs(near.x - far.x)
    is_first = near.y > far.y if is_steep else near.x < far.x
    return (("upper", "lower") if is_steep else ("left", "right"))[0 if is_first else 1]


def _third(share: float, names: tuple[str, str, str]) -> str:
    return names[0] if share < THIRD else names[2] if share > 1 - THIRD else names[1]
