"""Positions as a person measures them -> points and lines on a piece.

"1 in from top, 2 in from left": two terms, a point. "1 in from top": one term, a line across the piece.
A term measures from a straight edge, or from the centre (left to right) or the middle (bottom to top). A strap names its
folds besides: "at the fold".
"""

import math
import re
from collections.abc import Mapping, Sequence
from dataclasses import replace
from types import MappingProxyType

from docgen.classes import dataclass
from docgen.geometry.measure import line_crossing
from docgen.geometry.outline import RECTANGLE_EDGES, STRIP_EDGES, WHOLE, edge_names, edge_path, outline_path
from docgen.geometry.path import path_box, path_length, point_at, start_point
from docgen.geometry.segment import end_tangent, start_tangent
from docgen.geometry.shapes import Box, Line, Outline, Point
from docgen.geometry.vector import add, cross, scale, subtract, turn_left, unit
from docgen.problems import Place, suggest_two
from docgen.read import Value
from docgen.resolve.values import Reader
from docgen.written.units.numbers import check_comma

MEND = 'write for example "1 in from top, 2 in from left", or "centre, 1 in from bottom"'
FROM = re.compile(r"^(?P<length>.+?)\s+from\s+(?P<edge>[a-z][a-z0-9-]*)$")
_SIDE = re.compile(r"^(?P<length>.+?)\s+(?P<side>right of centre|left of centre|above middle|below middle)$")
_FOLD = re.compile(r"^at (?:the )?(?:first |second )?fold$")
_SIDES = {
    "right of centre": Point(1, 0),
    "left of centre": Point(-1, 0),
    "above middle": Point(0, 1),
    "below middle": Point(0, -1),
}
STRIP_MEND = 'write for example "3 in from start, centre", or "1 in from end, 1/2 in from left"'
# A drawing without sharp corners is one edge all round.
SMOOTH_MEND = (
    'the outline has no sharp corners and is one edge, "edge-1"; name points of it that part it into edges: '
    'corners = [{ at = ["0 mm", "10 mm"], edge = "left" }, ...]'
)
MIDDLES = ("centre", "middle")
UNNAMED = re.compile(r"edge-\d+")
BOX_SIDES = ("top", "bottom", "left", "right")


@dataclass(frozen=True, slots=True)
class Guide:
    """An infinite line on the piece: a point and a direction, in mm.

    `to_side` is the outward direction of the side measured from, or (0, 0) for a centre line; `from_side_mm` the
    distance from that side.
    """

    point: Point
    direction: Point
    to_side: Point
    from_side_mm: float = 0.0


NO_FOLDS: Mapping[str, Guide] = MappingProxyType({})
SHAPED_ENDS = {"start": "bottom", "end": "top"}


def find_point(
    reader: Reader, written: Value[str] | None, outline: Outline, folds: Mapping[str, Guide] = NO_FOLDS
) -> Point | None:
    """The point that two terms name; None when it cannot be found (noted). `folds`: lines with a name of their own."""
    if written is None:
        return None
    guides = find_guides(reader, written, outline, folds)
    if guides is None:
        return None
    crossing = (
        line_crossing(guides[0].point, guides[0].direction, guides[1].point, guides[1].direction)
        if len(guides) == 2
        else None
    )
    if crossing is None:
        mend = STRIP_MEND if is_strip(outline) else MEND
        reader.error(written.place, "this does not fix a point: it needs one measure each way", mend)
    return crossing


def find_line(reader: Reader, written: Value[str] | None, outline: Outline) -> Guide | None:
    """The line that one term names; None when it cannot be found (noted)."""
    if written is None:
        return None
    guides = find_guides(reader, written, outline)
    if guides is None:
        return None
    if len(guides) != 1:
        reader.error(written.place, "this names a point, and a line is wanted", 'write one measure: "1 in from top"')
        return None
    return guides[0]


def find_guides(
    reader: Reader, written: Value[str], outline: Outline, folds: Mapping[str, Guide] = NO_FOLDS
) -> tuple[Guide, ...] | None:
    """One line for each term, in the order written; None when any of them cannot be read (noted)."""
    if reader.read(written, check_comma) is None:
        return None
    terms = [re.sub(r"\bcenter\b", "centre", term).strip() for term in written.value.split(",")]
    guides = [_find_guide(reader, written, term, outline, folds) for term in terms]
    if is_strip(outline) and len(guides) == 2:
        guides = _turn_middle(terms, guides)
    found = tuple(guide for guide in guides if guide is not None)
    return found if len(found) == len(terms) else None


def is_strip(outline: Outline) -> bool:
    """Whether the outline has a start and an end, as strips and straps have."""
    return {"start", "end"} <= set(edge_names(outline))


def _turn_middle(terms: Sequence[str], guides: Sequence[Guide | None]) -> list[Guide | None]:
    """The two lines with a middle turned to cross the other one: on a strip the "centre" and the "middle" beside
    "3 in from start" can only be that of its width, and beside "5 mm from left" only that of its length."""
    first, second = guides
    if first is None or second is None or abs(cross(first.direction, second.direction)) > 1e-9:
        return [first, second]
    if terms[0] in MIDDLES and terms[1] not in MIDDLES:
        return [replace(first, direction=turn_left(first.direction)), second]
    if terms[1] in MIDDLES and terms[0] not in MIDDLES:
        return [first, replace(second, direction=turn_left(second.direction))]
    return [first, second]


def _find_guide(
    reader: Reader, written: Value[str], term: str, outline: Outline, folds: Mapping[str, Guide]
) -> Guide | None:
    box = path_box(outline_path(outline))
    if term == "centre":
        return Guide(box.centre, Point(0, 1), Point(0, 0))
    if term == "middle":
        return Guide(box.centre, Point(1, 0), Point(0, 0))
    if _FOLD.match(term):
        return _guide_at_fold(reader, written, term, folds)
    side = _SIDE.match(term)
    away = FROM.match(term)
    joined = re.match(r"(centre|middle) \d", term)
    if joined or (side is None and away is None):
        plain = STRIP_MEND if is_strip(outline) else MEND
        mend = f'write a comma after "{joined[1]}"' if joined else plain
        reader.error(written.place, f'cannot tell where "{term}" is', mend)
        return None
    match = side or away
    assert match is not None
    length_mm = reader.any_length(Value(value=match["length"], place=written.place))
    if length_mm is None:
        return None
    if side is not None:
        step = _SIDES[side["side"]]
        return Guide(add(box.centre, scale(step, length_mm)), turn_left(step), Point(0, 0))
    return _guide_from_edge(reader, written, match["edge"], length_mm, outline, box)


def _guide_at_fold(reader: Reader, written: Value[str], term: str, folds: Mapping[str, Guide]) -> Guide | None:
    """The fold of that name, "the" or not; None when there is none (noted)."""
    found = folds.get(term if term.startswith("at the ") else term.replace("at ", "at the ", 1))
    if found is None:
        what = f'cannot tell where "{term}" is' + ("" if folds else ": nothing is turned back here")
        names = " or ".join(f'"{name}"' for name in folds)
        mend = f"write {names}" if folds else "measure from an edge; only the turned end of a strap has its fold"
        reader.error(written.place, what, mend)
    return found


def _guide_from_edge(
    reader: Reader, written: Value[str], name: str, length_mm: float, outline: Outline, box: Box
) -> Guide | None:
    line = side_line(outline, name) or _box_side(outline, name, box)
    if line is None:
        if has_edge(reader, written.place, name, outline, also=BOX_SIDES):
            what = f'the edge "{name}" is curved'
            reader.error(written.place, what, "measure from a straight edge, or from left, right, top or bottom")
        return None
    along = unit(subtract(line.end, line.start))
    inward = turn_left(along)
    return Guide(add(line.start, scale(inward, length_mm)), along, scale(inward, -1), length_mm)


def has_edge(reader: Reader, place: Place, name: str, outline: Outline, also: tuple[str, ...] = ()) -> bool:
    """Whether the outline has an edge of that name; when not, it is noted. `also`: names that would do
    besides."""
    names = edge_names(outline)
    if name in names:
        return True
    known = [*names, *(side for side in also if side not in names)]
    meant = suggest_two(name, known)
    is_named = not {*names} <= {*BOX_SIDES, *STRIP_EDGES} and not names[0].startswith("edge-")
    if meant and is_named and any(len(name) == len(one) and f'"{one}"' in meant for one in known):
        meant += f' else give a point of this piece edge = "{name}"'  # as long a word may well be another edge
    mend = meant or "edges here: " + ", ".join(_place_edge(outline, each) for each in known)
    if names == ("edge-1",) and re.fullmatch(r"edge-\d+", name):
        mend = SMOOTH_MEND
    reader.error(place, f'there is no edge "{name}" on this piece', mend)
    return False


def _place_edge(outline: Outline, name: str) -> str:
    """The name; of an edge of a drawing that has none of its own also where it lies."""
    is_known = name in edge_names(outline) and path_length(edge_path(outline, name)) > 0
    return f"{name} ({edge_side(outline, name)})" if UNNAMED.fullmatch(name) and is_known else name


def edge_side(outline: Outline, name: str) -> str:
    """Where the middle of an edge lies on its piece, by thirds of the box: "bottom", "upper right", "left"."""
    box = path_box(outline_path(outline))
    path = edge_path(outline, name)
    at = point_at(path, path_length(path) / 2)[0]
    across = round(math.floor(3 * (at.x - box.left) / box.width))
    up = round(math.floor(3 * (at.y - box.bottom) / box.height))
    side = ("left", "", "right")[min(max(across, 0), 2)]
    if 0 < up < 2:
        return side or "middle"
    level = ("lower", "upper") if side else ("bottom", "top")
    return f"{level[up > 1]} {side}".strip()


def has_edges(reader: Reader, place: Place, names: Sequence[str], outline: Outline) -> bool:
    """Whether the outline has all these edges ("all" alone means its whole); those it has not are noted."""
    found = [name == WHOLE or has_edge(reader, place, name, outline, also=(WHOLE,)) for name in names]
    return all(found)


def straight_edge(outline: Outline, name: str) -> Line | None:
    """The named edge when it is one straight line of some length, else None."""
    if name not in edge_names(outline):
        return None
    segments = edge_path(outline, name).segments
    first = segments[0]
    return first if len(segments) == 1 and isinstance(first, Line) and first.start != first.end else None


def side_line(outline: Outline, name: str) -> Line | None:
    """The straight line from which a side is measured: the edge; where its rounded corners leave it no length the line on
    which it would lie, 1 mm of it, which their arcs touch. None for any other edge."""
    if name not in edge_names(outline) or path_length(path := edge_path(outline, name)) > 0:
        return straight_edge(outline, name)
    at = start_point(path)
    edges = outline.edges
    index = next(k for k, edge in enumerate(edges) if edge.name == name)
    before, after = edges[index - 1], edges[(index + 1) % len(edges)]
    if before.corner:
        return Line(at, add(at, end_tangent(before.path.segments[-1])))
    return Line(at, add(at, start_tangent(after.path.segments[0]))) if after.corner else None


def _box_side(outline: Outline, name: str, box: Box) -> Line | None:
    """A side of the box round the outline; None where an edge of that name has a length of its own. The rounded or
    pointed end of a strap is measured from its tip."""
    if name in SHAPED_ENDS and is_strip(outline):
        name = SHAPED_ENDS[name]
    if name in edge_names(outline) and path_length(edge_path(outline, name)) > 0:
        return None
    if name not in RECTANGLE_EDGES:
        return None
    first = RECTANGLE_EDGES.index(name)
    return Line(box.corners[first], box.corners[(first + 1) % 4])
