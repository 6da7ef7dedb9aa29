"""Runs: neighbouring edges of an outline, named in order, as one line."""

from collections.abc import Sequence

from docgen.geometry.outline import WHOLE, corner_names, drawn_segments, edge_names, outline_path
from docgen.geometry.path import reverse_path
from docgen.geometry.shapes import Edge, GeometryError, Outline, Path


def run_path(outline: Outline, names: Sequence[str]) -> Path:
    """The line along neighbouring edges, in the direction named, with the rounded corners between them.

    ("all",) gives the whole outline, closed and anticlockwise; one name gives that edge, anticlockwise.
    Open in every other case, also when every edge is named. The one edge of a circle is the whole outline.
    GeometryError when a name is unknown, is a corner's, comes twice, or two names do not touch.
    """
    edges, backward = run_edges(outline, names)
    if is_whole(outline, names):
        return outline_path(outline)
    segments = tuple(s for edge in edges for s in drawn_segments(edge))
    path = Path(segments or edges[0].path.segments)
    return reverse_path(path) if backward else path


def is_whole(outline: Outline, names: Sequence[str]) -> bool:
    """True when the names mean the whole closed outline."""
    return tuple(names) == (WHOLE,) or (len(outline.edges) == 1 and tuple(names) == edge_names(outline))


def run_edges(outline: Outline, names: Sequence[str]) -> tuple[tuple[Edge, ...], bool]:
    """The edges and corners of a run, anticlockwise, and whether the names go the other way.

    Errors as `run_path`.
    """
    if tuple(names) == (WHOLE,):
        return outline.edges, False
    ring = edge_names(outline)
    _check_run_names(outline, names)
    places = [ring.index(name) for name in names]
    step = _direction(names, places, len(ring))
    if step < 0:
        places.reverse()
    begin = _position(outline, ring[places[0]])
    end = _position(outline, ring[places[-1]])
    if end < begin:
        return outline.edges[begin:] + outline.edges[: end + 1], step < 0
    return outline.edges[begin : end + 1], step < 0


def _position(outline: Outline, name: str) -> int:
    return next(k for k, edge in enumerate(outline.edges) if edge.name == name and not edge.corner)


def _check_run_names(outline: Outline, names: Sequence[str]) -> None:
    if not names:
        raise GeometryError("no edge is named")
    for name in names:
        if name in corner_names(outline):
            raise GeometryError(f"'{name}' is a corner; name the edges on both sides of it")
        if name not in edge_names(outline):
            raise GeometryError(f"there is no edge '{name}'; the edges are {', '.join(edge_names(outline))}")
    for k, name in enumerate(names):
        if name in names[:k]:
            raise GeometryError(f"the edge '{name}' is named twice")


def _direction(names: Sequence[str], places: Sequence[int], count: int) -> int:
    """1 when the names go anticlockwise, -1 when clockwise; with two edges in all, anticlockwise."""
    if len(places) < 2:
        return 1
    step = 1 if (places[1] - places[0]) % count == 1 else -1
    for k in range(1, len(places)):
        if (places[k] - places[k - 1]) % count != step % count:
            raise GeometryError(f"the edges '{names[k - 1]}' and '{names[k]}' do not touch")
    return step
