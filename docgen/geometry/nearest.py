"""The point of a line that lies nearest to a place; how far along a run an edge's own point lies. mm."""

import math
from collections.abc import Sequence

from docgen.geometry.inset import inset_run
from docgen.geometry.measure import angle_within, straighten
from docgen.geometry.outline import drawn_segments
from docgen.geometry.path import part_of, path_length, point_at
from docgen.geometry.run import run_edges, run_path
from docgen.geometry.segment import segment_length
from docgen.geometry.shapes import Arc, GeometryError, Line, Outline, Path, Point, Segment
from docgen.geometry.vector import distance, dot, subtract

Stretch = tuple[float, float]
"""From where to where along a run, in mm along its cut edge in the direction in which it is named."""


def nearest_along(path: Path, at: Point) -> float:
    """How far along an open path its point nearest to a place lies; exact on lines and arcs, curves in chords 0.002 mm
    from them. GeometryError for a path without length."""
    passed, best_mm, best_off = 0.0, 0.0, math.inf
    for segment in straighten(path).segments:
        length_mm = segment_length(segment)
        share = _nearest_share(segment, at)
        off = distance(point_at(Path((segment,)), share * length_mm)[0], at) if length_mm > 0 else math.inf
        if off < best_off - 1e-12:
            best_mm, best_off = passed + share * length_mm, off
        passed += length_mm
    if best_off == math.inf:
        raise GeometryError("a line without length has no nearest point")
    return best_mm


def _nearest_share(segment: Segment, at: Point) -> float:
    """How much of a line or arc lies before its point nearest to a place."""
    if isinstance(segment, Line):
        leg = subtract(segment.end, segment.start)
        return min(max(dot(subtract(at, segment.start), leg) / max(dot(leg, leg), 1e-18), 0.0), 1.0)
    assert isinstance(segment, Arc)
    angle = math.atan2(at.y - segment.centre.y, at.x - segment.centre.x)
    if angle_within(segment, angle):
        turn = math.copysign(1.0, segment.sweep)
        return ((angle - segment.begin) * turn) % (2 * math.pi) / abs(segment.sweep)
    ends = (point_at(Path((segment,)), mm)[0] for mm in (0.0, math.inf))
    first, last = (distance(end, at) for end in ends)
    return 0.0 if first <= last else 1.0


def distance_on_run(outline: Outline, names: Sequence[str], edge: str, along_mm: float) -> float:
    """How far along a run a point of one of its edges lies, `along_mm` from the edge's start, anticlockwise.

    GeometryError when the run has no such edge, or as `run_path`.
    """
    edges, is_backward = run_edges(outline, names)
    passed = 0.0
    found: float | None = None
    for each in edges:
        if each.name == edge and not each.corner:
            found = passed + along_mm
        passed += sum(map(segment_length, drawn_segments(each)))
    if found is None:
        raise GeometryError(f"the run has no edge '{edge}'")
    return passed - found if is_backward else found


def stretch_by_edge(outline: Outline, names: Sequence[str], stretch: Stretch | None) -> dict[str, Stretch]:
    """What of each edge a part of a run takes, from where to where along the edge, anticlockwise; the whole run for None.
    Rounded corners are left out. Errors as `run_path`."""
    edges, is_backward = run_edges(outline, names)
    lengths = [sum(map(segment_length, drawn_segments(edge))) for edge in edges]
    total = sum(lengths)
    begin, end = (0.0, total) if stretch is None else stretch
    if is_backward:
        begin, end = total - end, total - begin
    found: dict[str, Stretch] = {}
    passed = 0.0
    for edge, length in zip(edges, lengths, strict=True):
        low, high = max(begin - passed, 0.0), min(end - passed, length)
        if not edge.corner and (high > low or stretch is None):
            found[edge.name] = low, high
        passed += length
    return found


def inset_stretch(outline: Outline, names: Sequence[str], inset: float, stretch: Stretch | None) -> Path:
    """The line `inset` mm inside a part of a run, square to where that begins and ends; of the whole run for None.
    Errors as `inset_run`, and for a part of which nothing is left there."""
    line = inset_run(outline, tuple(names), inset)
    if stretch is None:
        return line
    run = run_path(outline, names)
    total_mm, line_mm = path_length(run), path_length(line)
    ends = [
        0.0 if mm <= 0 else line_mm if mm >= total_mm else nearest_along(line, point_at(run, mm)[0]) for mm in stretch
    ]
    if ends[1] - ends[0] <= 0:
        raise GeometryError("nothing is left of this part of the edge")
    return part_of(line, ends[0], ends[1])
