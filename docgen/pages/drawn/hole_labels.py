"""The size of a punch in words: beside its hole, or a little way off with a leader; always on the leather, and never over
a line. Where there is no room for it the piece's label says it."""

import math
from collections.abc import Callable, Iterable, Iterator
from functools import cache
from itertools import chain

from docgen.geometry.measure import is_inside, touch_finder
from docgen.geometry.outline import outline_path
from docgen.geometry.path import path_length, points_at, polyline, transform_path
from docgen.geometry.shapes import Box, Path, Point
from docgen.geometry.vector import add, distance, scale, translation
from docgen.pages.looks.pattern_style import PatternStyle
from docgen.pages.marks.moving import mark_box, place_marks
from docgen.pages.marks.page import Mark, PathMark, Stroke, TextMark
from docgen.resolve import Hole, Piece, lines_of
from docgen.written.units.telling import Show, format_short_punch, format_short_slot

CROSS_OVER_MM = 1.5  # how far a hole's centre cross goes beyond its rim
LABEL_CLEAR_MM = (1.0, 0.3)
BESIDE_MM = 1.1  # from the end of the cross to the words
ALIKE_MM = 60.0  # equal holes nearer to each other than this are told once
LEADERS_MM = (4.0, 8.0, 13.0, 20.0)  # from the end of the cross to words farther off
LEADER_GAP_MM = 0.7  # from either end of a leader to what it joins
WAYS = tuple(Point(x, y) for x, y in ((1, 0), (-1, 0), (0, 1), (0, -1), (1, 1), (-1, 1), (1, -1), (-1, -1)))
CUT_KINDS = ("cut", "slit", "hole")

Found = Callable[[Box], bool]
Spot = tuple[tuple[Mark, ...], Box]
"""What is drawn of a hole at (0, 0), and the box of its words."""


def hole_labels(piece: Piece, lines: Iterable[Path | Box], style: PatternStyle, show: Show) -> Iterator[Mark]:
    """The size of the punch beside the first hole of each run of equal ones; `lines` are kept clear. A hole without
    room for it has none."""
    shape, is_crossed = outline_path(piece.outline), touch_finder(lines)

    @cache
    def find_cut() -> Found:
        cut = (line for line in lines_of(piece) if line.kind in CUT_KINDS)
        return touch_finder(line.room(0.0) if isinstance(line, Hole) else line.path for line in cut)

    @cache
    def spots(diameter_mm: float, slot: Point) -> tuple[list[Spot], list[Spot]]:
        """Beside a hole at (0, 0), and farther off."""
        hole = Hole(at=Point(0.0, 0.0), diameter_mm=diameter_mm, slot=slot)
        text, size_mm = punch_words(hole, show), style.small_type_mm
        near: list[Spot] = [((mark,), mark_box(mark)) for mark in _beside(hole, text, size_mm)]
        return near, [(pair, mark_box(pair[0])) for pair in _with_leaders(hole, text, size_mm)]

    def is_free(own: Box, at: Point, clear_mm: float) -> bool:
        (x, y), by = at, clear_mm
        box = Box(own.left + x - by, own.bottom + y - by, own.right + x + by, own.top + y + by)
        return not is_crossed(box) and is_inside(shape, box.centre)

    def is_led(leader: Mark, at: Point) -> bool:
        return isinstance(leader, PathMark) and not _is_cut(transform_path(leader.path, translation(*at)), find_cut())

    last: Hole | None = None
    for hole in piece.marks.holes:
        is_alike = last is not None and (hole.diameter_mm, hole.slot) == (last.diameter_mm, last.slot)
        if last is None or not is_alike or distance(hole.at, last.at) >= ALIKE_MM:
            at, (near, far) = hole.at, spots(hole.diameter_mm, hole.slot)
            beside = (marks for clear in LABEL_CLEAR_MM for marks, box in near if is_free(box, at, clear))
            led = (marks for marks, box in far if is_free(box, at, LABEL_CLEAR_MM[0]) and is_led(marks[-1], at))
            yield from place_marks(next(chain(beside, led), ()), *at)
        last = hole


def sizes_left_out(piece: Piece, marks: Iterable[Mark], show: Show) -> tuple[str, ...]:
    """The sizes of holes that stand nowhere among the marks drawn on the piece."""
    said = {mark.text for mark in marks if isinstance(mark, TextMark)}
    sizes = (punch_words(hole, show) for hole in {hole.shape: hole for hole in piece.marks.holes}.values())
    return tuple(dict.fromkeys(size for size in sizes if size not in said))


def punch_words(hole: Hole, show: Show) -> str:
    """The size of the punch; width and length of an oblong hole."""
    if hole.long_mm:
        return format_short_slot(hole.diameter_mm, hole.long_mm, show)
    return format_short_punch(hole.diameter_mm, show)


def _beside(hole: Hole, text: str, size_mm: float) -> Iterator[TextMark]:
    """Right of the hole, left, above, below, or beside it a little higher or lower."""
    reach = hole.diameter_mm / 2 + CROSS_OVER_MM + BESIDE_MM
    away, above = reach + abs(hole.slot.x), reach + abs(hole.slot.y)
    x, y = hole.at
    level = y - size_mm * 0.35
    spots = (
        (x + away, level, "start"),
        (x - away, level, "end"),
        (x, y + above + size_mm * 0.25, "middle"),
        (x, y - above - size_mm * 0.75, "middle"),
        (x + away, y + 1.0, "start"),
        (x - away, y + 1.0, "end"),
        (x + away, y - 1.0 - size_mm * 0.7, "start"),
        (x - away, y - 1.0 - size_mm * 0.7, "end"),
    )
    for at, base, anchor in spots:
        yield TextMark(x_mm=at, y_mm=base, text=text, size_mm=size_mm, anchor=anchor, layer="words")


def _with_leaders(hole: Hole, text: str, size_mm: float) -> Iterator[tuple[TextMark, PathMark]]:
    """Farther off, the nearer first, each with the thin line that leads to its hole."""
    rim = hole.diameter_mm / 2 + CROSS_OVER_MM + math.hypot(hole.slot.x, hole.slot.y)
    for far in LEADERS_MM:
        for way in WAYS:
            along = scale(way, 1 / math.hypot(way.x, way.y))
            start, end = (add(hole.at, scale(along, rim + gap)) for gap in (LEADER_GAP_MM, far))
            at = add(end, scale(along, LEADER_GAP_MM))
            drop = size_mm * (0.0 if way.y > 0 else 0.7 if way.y < 0 else 0.35)
            anchor = {1: "start", -1: "end", 0: "middle"}[round(way.x)]
            mark = TextMark(x_mm=at.x, y_mm=at.y - drop, text=text, size_mm=size_mm, anchor=anchor, layer="words")
            yield mark, PathMark(path=polyline((start, end)), stroke=Stroke(0.18), layer="words")


def _is_cut(leader: Path, is_crossed: Found) -> bool:
    """Whether a leader runs over something that is cut; looked at in squares that touch each other along it."""
    length_mm = path_length(leader)
    steps = math.ceil(length_mm / 0.4)
    points = (at for at, _ in points_at(leader, (length_mm * k / steps for k in range(steps + 1))))
    return any(is_crossed(Box(at.x - 0.2, at.y - 0.2, at.x + 0.2, at.y + 0.2)) for at in points)
