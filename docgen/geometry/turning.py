"""Outlines whose edges are turned over: what is left between the folds, with the same edge names. mm."""

from collections.abc import Iterator, Sequence

from docgen.geometry.inset import inset_outline
from docgen.geometry.outline import edge_path
from docgen.geometry.path import part_of, path_length, point_at, reverse_path
from docgen.geometry.run import is_whole, run_edges
from docgen.geometry.segment import segment_end, segment_start
from docgen.geometry.shapes import Edge, GeometryError, Line, Outline, Path, Point
from docgen.geometry.vector import dot, subtract, turn_left, unit

NEAR_MM = 1e-9
HALVINGS = 60


def turn_edges(outline: Outline, names: Sequence[str], turned: float) -> Outline:
    """The outline when a run of its edges is turned over by `turned` mm: the fold stands in the run's place, and the
    edges beside it end there.

    Rounded corners within the run keep their centre. GeometryError: the run begins or ends with a curved edge and
    does not go all the way round, or nothing is left of an edge.
    """
    if is_whole(outline, names):
        return inset_outline(outline, turned)
    run, _ = run_edges(outline, names)
    count = len(run)
    begin = outline.edges.index(run[0])
    rest = (outline.edges[begin:] + outline.edges[:begin])[count:]
    folded = [_fold_line(outline, run[0], turned)] if count == 1 else _inner_edges(outline, run, turned)
    first, last = _only_line(folded[0]), _only_line(folded[-1])
    rest = tuple(_cut_off(rest, last))
    rest = tuple(_turn_back(_cut_off(_turn_back(rest), first)))
    ends = (segment_end(rest[-1].path.segments[-1]), segment_start(rest[0].path.segments[0]))
    if count == 1:
        folded = [Edge(run[0].name, Path((Line(*ends),)))]
    else:
        folded[0] = Edge(folded[0].name, Path((Line(ends[0], first.end),)))
        folded[-1] = Edge(folded[-1].name, Path((Line(last.start, ends[1]),)))
    made = (*folded, *rest)
    start = next((k for k, edge in enumerate(made) if edge.name == outline.edges[0].name), 0)
    return Outline((*made[start:], *made[:start]))


def _fold_line(outline: Outline, edge: Edge, turned: float) -> Edge:
    line = _only_line(edge)
    inward = turn_left(unit(subtract(line.end, line.start)))
    move = Point(inward.x * turned, inward.y * turned)
    ends = (Point(end.x + move.x, end.y + move.y) for end in (line.start, line.end))
    return Edge(edge.name, Path((Line(*ends),)))


def _inner_edges(outline: Outline, run: Sequence[Edge], turned: float) -> list[Edge]:
    inner = inset_outline(outline, turned)
    kept = {edge.name for edge in inner.edges}
    return [Edge(edge.name, edge_path(inner, edge.name), edge.corner) for edge in run if edge.name in kept]


def _only_line(edge: Edge) -> Line:
    first = edge.path.segments[0]
    if len(edge.path.segments) != 1 or not isinstance(first, Line) or first.start == first.end:
        raise GeometryError(f"the edge '{edge.name}' is curved")
    return first


def _cut_off(edges: Sequence[Edge], fold: Line) -> Iterator[Edge]:
    """The edges from where they cross the endless line of the fold; those before it are turned over with it."""
    inward = turn_left(unit(subtract(fold.end, fold.start)))

    def depth(path: Path, along: float) -> float:
        return dot(subtract(point_at(path, along)[0], fold.start), inward)

    is_past = False
    for edge in edges:
        length = path_length(edge.path)
        if is_past or length <= NEAR_MM:
            yield from (edge,) if is_past else ()
        elif depth(edge.path, length) > NEAR_MM:
            is_past = True
            low, high = 0.0, length
            for _ in range(HALVINGS if depth(edge.path, 0.0) < -NEAR_MM else 0):
                middle = (low + high) / 2
                low, high = (middle, high) if depth(edge.path, middle) < 0 else (low, middle)
            yield Edge(edge.name, part_of(edge.path, low, length) if low else edge.path, edge.corner)
    if not is_past:
        raise GeometryError("nothing is left beside the fold")


def _turn_back(edges: Sequence[Edge] | Iterator[Edge]) -> tuple[Edge, ...]:
    return tuple(Edge(edge.name, reverse_path(edge.path), edge.corner) for edge in reversed(tuple(edges)))
