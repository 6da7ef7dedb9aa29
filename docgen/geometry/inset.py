"""The stitch line inside a run, the outline inside or around an outline, the band along a run. mm."""

import math
from collections.abc import Iterable, Sequence
from functools import lru_cache

from docgen.geometry.crossing import distance_finder, find_crossing, find_self_crossing
from docgen.geometry.measure import is_inside, straighten
from docgen.geometry.outline import outline_path
from docgen.geometry.parallel import Named, distance_along, parallel_chain, segment_crossings, too_large
from docgen.geometry.path import (
    JOIN_MM,
    close_path,
    end_point,
    flatten,
    part_of,
    path_area,
    path_length,
    reverse_path,
    start_point,
)
from docgen.geometry.run import is_whole, run_edges, run_path
from docgen.geometry.segment import end_tangent, segment_end, segment_length, start_tangent
from docgen.geometry.shapes import Edge, GeometryError, Line, Outline, Path, Point, Segment
from docgen.geometry.vector import distance, dot

NEARER_MM = 0.01
CHORD_MM = 0.005
"""Chords this far from a line judge how near another comes: well within what is told apart."""


def inset_run(outline: Outline, names: Sequence[str], inset: float) -> Path:
    """The line `inset` mm inside a run of edges, in the direction named: where its stitches go.

    Lines and arcs are exact, curves first become chords 0.002 mm from them. A free end lies square to the
    end of the run, and stops at the next edge where that lies nearer. Sharp corners are mitred; rounded
    ones keep their centre, and those of a radius up to the inset come out sharp. ("all",) gives a closed
    line. Errors as `run_path`; also when the inset is too large for the shape, as it is where a curve turns
    in by more than the inset lets its parallel follow.
    """
    return _inset_run(outline, tuple(names), inset)


@lru_cache(maxsize=256)
def _inset_run(outline: Outline, names: tuple[str, ...], inset: float) -> Path:
    """Kept, since measuring a seam, matching it, drawing it and looking what lies under it all ask for the same line."""
    edges, backward = run_edges(outline, names)
    closed = is_whole(outline, names)
    _check_inset(inset)
    if inset == 0:
        return run_path(outline, names)
    chain = _chain(edges)
    if not chain:
        raise GeometryError(f"the edge '{names[0]}' has no length to sew along")
    # edges named all the way round meet in the corner where the line begins and ends, so it is mitred too
    goes_round = closed or (len(edges) == len(outline.edges) and len(edges) > 1)
    shifted = parallel_chain(chain, inset, goes_round)
    _check_edges_left(chain, edges, shifted, inset)
    path = Path(tuple(named.segment for named in shifted), closed)
    _check_parallel(path, Path(tuple(named.segment for named in chain), closed), inset)
    if not goes_round:
        path = _trim_free_ends(path, outline, edges, inset)
        _check_within(path, outline, names, inset)
    return reverse_path(path) if backward else path


def inset_outline(outline: Outline, inset: float) -> Outline:
    """The outline `inset` mm inside, with the same edge names; a negative inset grows it.

    Rounded corners with a radius up to the inset vanish and their edges meet in a sharp corner; sharp
    corners stay sharp also when it grows. Curves become chords. GeometryError when an edge vanishes or the
    inset is too large.
    """
    _check_inset(inset)
    if inset == 0:
        return outline
    chain = _chain(outline.edges)
    shifted = parallel_chain(chain, inset, closed=True)
    _check_edges_left(chain, outline.edges, shifted, inset)
    grown = Outline(tuple(_gather(outline.edges, shifted)))
    ring = outline_path(outline)
    _check_parallel(outline_path(grown), straighten(ring), inset)
    return grown


def skive_band(outline: Outline, names: Sequence[str], width: float) -> Path:
    """The band between a run and the line `width` mm inside it, as one closed path.

    Around a whole outline, the band is cut open at its start by a line run through twice. Errors as
    `inset_run`.
    """
    if not width > 0:
        raise GeometryError(f"a band needs a width above 0 mm, not {width:g} mm")
    run, inner = run_path(outline, names), reverse_path(inset_run(outline, names, width))
    across = Line(end_point(run), start_point(inner))
    return close_path(Path((*run.segments, across, *inner.segments)))


def _check_inset(inset: float) -> None:
    if not math.isfinite(inset):
        raise GeometryError(f"an inset of {inset:g} mm is not a length")


def _chain(edges: Iterable[Edge]) -> tuple[Named, ...]:
    return tuple(
        Named(edge.name, segment)
        for edge in edges
        for segment in straighten(edge.path).segments
        if segment_length(segment) > 0
    )


def _near(place: Point) -> str:
    return f"near ({place[0]:.1f}, {place[1]:.1f}) mm"


def _check_edges_left(chain: Sequence[Named], edges: Sequence[Edge], shifted: Sequence[Named], inset: float) -> None:
    corners = {edge.name for edge in edges if edge.corner}
    left = {named.name for named in shifted}
    for named in chain:
        if named.name not in corners and named.name not in left:
            raise too_large(inset, f"nothing is left of the edge '{named.name}'")


def _check_parallel(path: Path, run: Path, inset: float) -> None:
    points = flatten(path, CHORD_MM)
    if path.closed and path_area(path) <= 0:
        raise too_large(inset, "nothing is left")
    # a line that ends where it began is judged as a ring
    if points and distance(points[0], points[-1]) <= JOIN_MM:
        points = (*points[:-1], points[0])
    place = find_self_crossing(points)
    if place is not None:
        raise too_large(inset, f"its line crosses itself {_near(place)}")
    # vertices of each against the legs of the other: together the shortest distance between the two lines
    drawn = flatten(run, CHORD_MM)
    for places, legs in ((points, drawn), (drawn, points)):
        find_distance = distance_finder(legs, abs(inset))
        for place in places:
            if find_distance(place) < abs(inset) - NEARER_MM:
                raise too_large(inset, f"its line comes too close to the edge {_near(place)}")


def _trim_free_ends(path: Path, outline: Outline, edges: Sequence[Edge], inset: float) -> Path:
    """The line cut off where it would leave the piece: at an end corner sharper than a right angle."""
    if inset < 0:
        return path
    ring = Path(tuple(named.segment for named in _chain(outline.edges)), closed=True)
    run = [named.segment for named in _chain(edges)]
    first = ring.segments.index(run[0])
    others = (ring.segments[first:] + ring.segments[:first])[len(run) :]
    if others and dot(end_tangent(others[-1]), start_tangent(run[0])) < -1e-9:
        path = _trim_start(path, ring, others, inset)
    if others and dot(end_tangent(run[-1]), start_tangent(others[0])) < -1e-9:
        path = reverse_path(_trim_start(reverse_path(path), ring, others, inset))
    return path


def _trim_start(path: Path, ring: Path, others: Sequence[Segment], inset: float) -> Path:
    """The path from where it comes in over the edges outside the run; all of it when it begins inside."""
    start = start_point(path)
    if is_inside(ring, start):
        return path
    passed = 0.0
    for segment in path.segments:
        places = [p for other in others for p in segment_crossings(segment, other)]
        if places:
            cut = passed + min(distance_along(segment, p, 0.0) for p in places)
            return part_of(path, max(cut, 0.0), path_length(path))
        passed += segment_length(segment)
    raise too_large(inset, f"it leaves the piece {_near(start)}")


def _check_within(path: Path, outline: Outline, names: Sequence[str], inset: float) -> None:
    length = path_length(path)
    if inset < 0 or length <= 4 * NEARER_MM:
        return
    # the free ends may lie on the end edges, so a little of them is left out
    points = flatten(part_of(path, NEARER_MM, length - NEARER_MM))
    ring = outline_path(outline)
    place = find_crossing(points, flatten(ring))
    if place is None and not is_inside(ring, points[0]):
        place = points[0]
    if place is not None:
        raise too_large(inset, f"the line beside '{names[0]}' leaves the piece {_near(place)}")


def _gather(edges: Sequence[Edge], shifted: Sequence[Named]) -> Iterable[Edge]:
    """The shifted pieces by edge; an edge of no length stays one, where its neighbours meet."""
    place = segment_end(shifted[-1].segment)
    for edge in edges:
        found = tuple(named.segment for named in shifted if named.name == edge.name)
        if found:
            yield Edge(edge.name, Path(found, edge.path.closed), edge.corner)
            place = segment_end(found[-1])
        elif not edge.corner:
            yield Edge(edge.name, Path((Line(place, place),)))
