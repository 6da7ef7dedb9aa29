"""How much of both ends of a long strap is shown on its template, and where each bears its name."""

from collections.abc import Callable, Iterable

from docgen.geometry.measure import chords
from docgen.geometry.outline import edge_path, outline_box, outline_path
from docgen.geometry.path import end_point, start_point
from docgen.geometry.segment import segment_end
from docgen.geometry.shapes import Box, Point
from docgen.pages.looks.pattern_style import PatternStyle
from docgen.pages.marks.page import Mark
from docgen.pages.pattern.ends_named import ZIGZAG_MM, EndName, name_end
from docgen.resolve import Piece, end_names

BREAK_GAP_MM = 9.0
LEAST_END_MM = 60.0
LEAST_BEYOND_MM = 8.0
BEYOND_MM = 22.0  # shown beyond the last hole or fold of a strap's end
MORE_MM = (0.0, 8.0, 16.0, 24.0)  # shown besides where the name has no room
ROOM_MM = 1.5  # white round a piece, so that its line is never taken for the sheet's frame


def is_broken(piece: Piece, most_height_mm: float) -> bool:
    """Whether a piece is a strap too long for a sheet, of which more than is shown of its ends is left out."""
    length_mm = outline_box(piece.outline).height
    return (
        piece.is_strap
        and length_mm + 2 * ROOM_MM > most_height_mm
        and sum(_end_lengths(piece, most_height_mm)) + BREAK_GAP_MM < length_mm
    )


def show_ends(
    piece: Piece, style: PatternStyle, marks: tuple[Mark, ...], most_height_mm: float
) -> tuple[float, float, EndName, EndName]:
    """How much of a strap's first and second end is shown, and the name of each: so much more of one as makes room for its
    name, as far as a sheet allows, and never so much that ends which stand one above the other no longer do."""
    first_mm, second_mm = _end_lengths(piece, most_height_mm)
    sheet_mm, length_mm = most_height_mm - 2 * (ROOM_MM + ZIGZAG_MM), outline_box(piece.outline).height
    is_stacked = first_mm + BREAK_GAP_MM + second_mm <= sheet_mm

    def most_beside(other_mm: float) -> float:
        left_mm = length_mm - BREAK_GAP_MM - other_mm
        return min(left_mm, sheet_mm - BREAK_GAP_MM - other_mm if is_stacked else sheet_mm)

    first_mm, first = _show_end(piece, style, marks, "start", first_mm, most_beside(second_mm))
    second_mm, second = _show_end(piece, style, marks, "end", second_mm, most_beside(first_mm))
    return first_mm, second_mm, first, second


def _show_end(
    piece: Piece, style: PatternStyle, marks: tuple[Mark, ...], end: str, least_mm: float, most_mm: float
) -> tuple[float, EndName]:
    box = outline_box(piece.outline)

    def shown(length_mm: float) -> Box:
        bottom = box.height - length_mm if end == "end" else 0.0
        return Box(0.0, bottom, box.width, bottom + length_mm)

    for length_mm in (least_mm + more_mm for more_mm in MORE_MM if least_mm + more_mm < most_mm or not more_mm):
        name = name_end(piece, style, marks, shown(length_mm), end, is_close=False)
        if name.standing:
            return length_mm, name
    return least_mm, name_end(piece, style, marks, shown(least_mm), end, is_close=True)


def _end_lengths(piece: Piece, most_height_mm: float) -> tuple[float, float]:
    """How much of a strap's first and second end is shown: all holes, folds and tapers, the stitching that closes an end
    where a sheet holds it, and some of what follows, as far as a sheet allows."""
    length_mm = outline_box(piece.outline).height
    room_mm = most_height_mm - 2 * (ROOM_MM + ZIGZAG_MM)
    marks = [hole.at.y for hole in piece.marks.holes] + [fold.start.y for fold in piece.marks.folds]
    marks += [segment_end(segment).y for segment in edge_path(piece.outline, "right").segments[:-1]]
    closing = (line for line in piece.marks.stitch_lines if line.seam in end_names(piece.name))
    sewn = (at.y for line in closing for at in (start_point(line.path), end_point(line.path)))
    marks += [y for y in sewn if min(y, length_mm - y) + LEAST_BEYOND_MM <= room_mm]
    low = max((y for y in marks if y < length_mm / 2), default=0.0)
    high = min((y for y in marks if y >= length_mm / 2), default=length_mm)
    first, second = (
        max(min(mark + BEYOND_MM, room_mm), mark + LEAST_BEYOND_MM, LEAST_END_MM) for mark in (low, length_mm - high)
    )
    return first, second


def reach_at(piece: Piece, pick: Callable[[Iterable[float]], float], y: float) -> float:
    """How far a strap, which may taper, reaches at a height of it: to the left (`min`) or to the right (`max`)."""
    across = chords(outline_path(piece.outline), Point(0.0, y), Point(1.0, 0.0))
    return pick([end.x for pair in across for end in pair] or [0.0, outline_box(piece.outline).width])
