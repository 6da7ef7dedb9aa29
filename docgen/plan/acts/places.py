"""Where something lies on a piece, in figures from edges that can be measured on the bench."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace

from docgen.geometry.nearest import nearest_along
from docgen.geometry.outline import SIDES, WHOLE, edge_names, edge_path, outline_box
from docgen.geometry.path import end_point, path_box, path_length, point_at, start_point
from docgen.geometry.run import run_path
from docgen.geometry.shapes import Box, Path, Point
from docgen.geometry.vector import cross, distance, subtract, unit
from docgen.plan.act import Act, Told, act
from docgen.plan.acts.work import Work
from docgen.plan.cutting import join_words
from docgen.plan.names import spoken
from docgen.resolve import (
    END_NAMES,
    STRIP_ENDS,
    Hole,
    Piece,
    SeamSide,
    StrapLanding,
    neighbours,
    side_line,
    straight_edge,
    strip_ends,
)

LEVEL_MM = 0.3  # what lies no farther off lies level, or in the middle
MOST_TOLD = 3  # different distances that can be kept in mind
THIRD = 1 / 3
UP = ("bottom", "top")
SLANT = 0.01  # of its length, that a level or upright line may lie off


def ends_of(piece: Piece | None) -> tuple[str, str]:
    """What the lower and the upper end of a template are called, as it names them itself: of a strap first and second end,
    of a strip start and end."""
    if piece is None or not (piece.is_strap or strip_ends(piece.outline) == STRIP_ENDS):
        return UP
    return END_NAMES if piece.is_strap else STRIP_ENDS


def as_read(piece: Piece | None, edge: str) -> str:
    """An edge by the side of the template where it lies: that of a piece turned over has its left edge at the right."""
    names = edge_names(piece.outline) if piece is not None else ()
    if piece is None or not {"left", "right"} <= {*names}:
        return edge
    left, right = (path_box(edge_path(piece.outline, name)).centre.x for name in ("left", "right"))
    if left < right or not {"left", "right"} & {*edge.split("-")}:
        return edge
    turned = {"left": "right", "right": "left"}
    return "-".join(turned.get(word, word) for word in edge.split("-"))


def box_place(work: Work, host: Piece, base: Box, boxes: Sequence[Box]) -> tuple[Act, ...]:
    """Where upright boxes lie between the edges of a piece: each from its nearest ones, or in the middle."""
    low, high = ends_of(host)
    found: dict[Act, None] = {}
    for box in boxes:
        across = (("left", box.left - base.left), ("right", base.right - box.right))
        up = ((low, box.bottom - base.bottom), (high, base.top - box.top))
        for pair, middle in ((across, "across"), (up, _middle(low))):
            found[_side_act(work, pair, middle)] = None
    return both_sides(tuple(found))


def _middle(low: str) -> str:
    """Between what ends of a template a middle is said to lie, by the name of its lower one."""
    return "up" if low == UP[0] else "ends"


def level_place(place: Act, own: Piece | None, host: Piece, *, is_over: bool, is_round: bool) -> Act:
    """What is said of edges that lie level and are called otherwise on a part than on its host: where its other side is up,
    and both are read (`is_over`), its left edge is on the host's right one, but of one that lies half round; and of a
    strip on a piece that is none."""
    side = str(dict(place.values).get("side", ""))
    turned = {"left": "right", "right": "left"} if is_over != is_round else {}
    ends = ends_of(own)[::-1] if is_round else ends_of(own)
    mine = dict(zip(ends_of(host), ends, strict=True)) | turned
    if place.case != "side_level" or mine.get(side, side) == side:
        return place
    return act("side_on_side", own=mine[side], side=side, host=spoken(host.title))


def middle_place(work: Work, host: Piece, own: Box, base: Box) -> tuple[Act, ...]:
    """How far what lies in the middle of something lies within its edges."""
    across, up = (base.width - own.width) / 2, (base.height - own.height) / 2
    return (
        act("from_sides", lengths=work.length(across), sides="left and right"),
        act("from_sides", lengths=work.length(up), sides=join_words(ends_of(host)[::-1])),
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
        low, high = ends_of(piece)
        return _side_act(work, ((low, start.y - base.bottom), (high, base.top - start.y)), _middle(low))
    if abs(end.x - start.x) < SLANT * abs(end.y - start.y):
        return _side_act(work, (("left", start.x - base.left), ("right", base.right - start.x)), "across")
    return act("as_drawn")


def edge_words(work: Work, side: SeamSide) -> Act:
    """`the left, bottom and right edges`, `the left long edge` of a strip, `the top edge, from left to right`."""
    if side.edges == (WHOLE,) or _is_all_one(work, side):
        return act("edge_whole")
    strips = [work.pieces[name] for name in work.strips(side.part) if name in work.pieces]
    names = [as_read(work.pieces.get(side.part), edge) for edge in side.edges]
    is_long = all(strip.shape == "strip" for strip in strips) and {*side.edges} <= {"left", "right"}
    case = (
        "edge_long" if is_long and strips and len(side.edges) == 1 else "edge_one" if len(side.edges) == 1 else "edges"
    )
    if side.ends:
        start, end = map(_part_end, side.ends)
        edges = act(case, names=join_words(names))
        if start == end and len(names) > 1:
            return act("edge_part_alike", edges=edges, end=end)
        return act("edge_part", edges=edges, start=start, end=end)
    return act(case, names=join_words(names))


ACROSS = {"left": "right", "right": "left"}


def _part_end(told: str) -> str:
    """Where a part of an edge ends, as the spec says it, in running words: `right 5/16 in` is 5/16 in off the right."""
    edge, _, length = told.partition(" ")
    if not length[:1].isdigit():
        return f"the {told}" if told in (*SIDES, *STRIP_ENDS) else told
    return f"{length} off the {edge}" if length.split()[0].strip("0.") else f"the {edge}"


def mate_words(work: Work, side: SeamSide, mate: SeamSide, *, is_facing: bool = False) -> Act:
    """The edges of a partner, in the order of those that they lie on where names tell it: `left and bottom` on `right and
    bottom`. Of two that lie with one side together left comes on right: each is named as it is seen by itself."""
    ways = [mate, replace(mate, edges=mate.edges[::-1], ends=mate.ends and (mate.ends[1], mate.ends[0]))]
    ordered = ways[::-1] if is_facing and len(side.edges) == len(mate.edges) else ways

    def mates(way: SeamSide) -> tuple[int, bool]:
        """How many edges are called as those that they lie on, and whether left comes on right, as of what faces."""
        count = sum(map(_are_mates, side.edges, way.edges))
        return count, is_facing and ACROSS.get(side.edges[0]) == way.edges[0]

    return edge_words(work, max(ordered, key=mates))


def _are_mates(edge: str, other: str) -> bool:
    return other in (edge, ACROSS.get(edge))


def _is_all_one(work: Work, side: SeamSide) -> bool:
    """Whether a piece has no other edge, as a circle."""
    piece = work.pieces.get(side.part)
    return piece is not None and not side.ends and {edge.name for edge in piece.outline.edges} == {*side.edges}


def ends_place(work: Work, host: Piece, base: Box, landings: Sequence[StrapLanding]) -> tuple[Act, ...]:
    """Where the middles of ends of straps lie between the edges of a piece."""
    return _point_place(work, base, [landing.at for landing in landings], ends_of(host))


def spots_place(work: Work, piece: Piece, base: Box, holes: Iterable[Hole]) -> tuple[Act, ...]:
    """Where holes lie: distances across and up, each once; nothing for more than can be kept in mind."""
    return _point_place(work, base, [hole.at for hole in holes], ends_of(piece))


def _point_place(work: Work, base: Box, points: Sequence[Point], ends: tuple[str, str]) -> tuple[Act, ...]:
    across = _ways(work, [(at.x - base.left, base.right - at.x) for at in points], ("left", "right"), "across")
    low, high = ("the start", "the end") if ends == STRIP_ENDS else ends
    up = _ways(work, [(at.y - base.bottom, base.top - at.y) for at in points], (low, high), _middle(ends[0]))
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
    """`top left`: the part of a piece in which a point lies; `left at the start` of a strip."""
    base = outline_box(piece.outline)
    low, high = ("bottom", "top") if ends_of(piece) == UP else ("first", "last")
    up = _third((at.y - base.bottom) / (base.height or 1.0), (low, "", high))
    across = _third((at.x - base.left) / (base.width or 1.0), ("left", "", "right"))
    return act("at_" + ("_".join(filter(None, (up, across))) or "middle"))


def run_ends(work: Work, piece: Piece, side: SeamSide, spots: Sequence[Point]) -> tuple[Act, Act]:
    """Where a run begins and ends; where both would be called alike, as at a corner cut out, by the ends of its edges."""
    start, end = (_run_end(work, piece, side, at) for at in spots)
    paths = _edge_paths(piece, side)
    if start == end and paths:
        start, end = (_edge_end(piece, paths, at) for at in spots)
        told, also = dict(start.values), dict(end.values)
        start = act("at_one_end", end=told["end"]) if told["edge"] == also["edge"] else start
    return start, end


def _edge_paths(piece: Piece, side: SeamSide) -> dict[str, Path]:
    """The edges of a run; a side of which round corners leave nothing has no length, and nothing lies along it."""
    names = edge_names(piece.sewn_outline)
    paths = {name: edge_path(piece.sewn_outline, name) for name in side.edges if name in names}
    return {name: path for name, path in paths.items() if path_length(path) > LEVEL_MM}


def _edge_end(piece: Piece, paths: Mapping[str, Path], at: Point) -> Act:
    """The end of the edge that is nearest."""
    name = min(paths, key=lambda one: min(distance(at, end) for end in _ends(paths[one])))
    return act("at_end", end=_end_name(paths[name], at), edge=as_read(piece, name))


def _run_end(work: Work, piece: Piece, side: SeamSide, at: Point) -> Act:
    """Where a run begins or ends: how far along the edge where a part of that is sewn, else the corner of the piece; away
    from its corners the end of the edge that is nearest."""
    paths = _edge_paths(piece, side)
    if side.stretch_mm is not None and paths and (found := _along_edge(work, piece, side, paths, at)):
        return found
    found = corner(piece, at)
    if "_" in found.case.removeprefix("at_") or not paths:
        return found
    return _edge_end(piece, paths, at)


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
        return act("along_edge", edge=as_read(piece, name), length=work.length(near_mm), end=_end_name(paths[name], at))
    gaps = {
        one: abs(cross(unit(subtract(line.end, line.start)), subtract(point, line.start)))
        for one, line in lines.items()
    }
    told = {one for words_of in side.ends or () for one in words_of.split() if one in gaps}
    where = told.pop() if len(told) == 1 else min(sorted(gaps), key=lambda one: round(gaps[one], 1))
    return act("on_edge", edge=as_read(piece, name), length=work.length(gaps[where]), side=as_read(piece, where))


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
