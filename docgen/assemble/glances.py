"""A stitch line -> the parts of it that are looked at one by one: short ones where something may lie or is thinner."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from docgen.geometry.measure import distance_to_path
from docgen.geometry.outline import edge_names, edge_path
from docgen.geometry.path import boxes_overlap, grow_box, path_box, path_length
from docgen.geometry.segment import segment_end, segment_start
from docgen.geometry.shapes import Box, Line, Path, Segment
from docgen.resolve import Piece

GLANCE_MM = 4.0  # along a stitch line; a part that lies there is not missed when it is as wide
MOST_PARTS = 60  # a stitch line of more parts is a curve in chords, and is looked at in equal stretches
Band = tuple[Path, float]  # an edge, and how wide it is skived


def list_bands(piece: Piece) -> Iterator[Band]:
    """The edges of a piece that are skived, and how wide."""
    names = edge_names(piece.outline)
    for skive in piece.marks.skives:
        yield from ((edge_path(piece.outline, name), skive.width_mm) for name in skive.edges.split() if name in names)


def list_stretches(line: Path, boxes: Sequence[Box], bands: Sequence[Band]) -> Iterator[tuple[float, float]]:
    """Parts of a line, as distances along it: short ones where something may lie, else as long as a segment has them."""
    lengths = [path_length(Path((segment,))) for segment in line.segments]
    if len(lengths) > MOST_PARTS:
        yield from share_out(0.0, sum(lengths), GLANCE_MM)
        return
    begun = 0.0
    for segment, length in zip(line.segments, lengths, strict=True):
        if length <= 0:
            continue
        done = begun
        for begin, end in _near(segment, length, [*boxes, *_bands_across(segment, bands)]):
            if begun + begin > done:
                yield done, begun + begin
            yield from share_out(max(done, begun + begin), begun + end, GLANCE_MM)
            done = begun + end
        begun += length
        if done < begun:
            yield done, begun


def _bands_across(segment: Segment, bands: Sequence[Band]) -> Iterator[Box]:
    """The boxes of skived bands that a segment does not run in from end to end."""
    for edge, width_mm in bands:
        if any(distance_to_path(edge, point) > width_mm for point in (segment_start(segment), segment_end(segment))):
            yield grow_box(path_box(edge), width_mm)


def _near(segment: Segment, length_mm: float, boxes: Sequence[Box]) -> list[tuple[float, float]]:
    """Where a segment runs through boxes, as distances along it, in order and apart; an arc as a whole."""
    if not isinstance(segment, Line):
        box = path_box(Path((segment,)))
        return [(0.0, length_mm)] if any(boxes_overlap(box, other) for other in boxes) else []
    found: list[tuple[float, float]] = []
    for begin, end in sorted(part for box in boxes if (part := _within(segment, length_mm, box)) is not None):
        if found and begin <= found[-1][1]:
            found[-1] = (found[-1][0], max(found[-1][1], end))
        else:
            found.append((begin, end))
    return found


def _within(line: Line, length_mm: float, box: Box) -> tuple[float, float] | None:
    """Which part of a straight line lies in a box, as distances along it."""
    begin, end = 0.0, length_mm
    for start, run, low, high in (
        (line.start.x, line.end.x - line.start.x, box.left, box.right),
        (line.start.y, line.end.y - line.start.y, box.bottom, box.top),
    ):
        if not run:
            if not low <= start <= high:
                return None
            continue
        sides = sorted(((low - start) / run, (high - start) / run))
        begin, end = max(begin, sides[0] * length_mm), min(end, sides[1] * length_mm)
    return (begin, end) if begin < end else None


def share_out(begin: float, end: float, every_mm: float) -> Iterator[tuple[float, float]]:
    count = max(1, -int(-(end - begin) // every_mm))
    yield from pairwise(begin + (end - begin) * step / count for step in range(count + 1))
