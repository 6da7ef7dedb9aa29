"""Marks at the beginning of each seam: a dot, an arrow the way that it goes, and its number where nothing else is drawn."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from itertools import combinations, pairwise

from docgen.fonts import cap_height_mm, text_width_mm
from docgen.geometry.crossing import leg_distance
from docgen.geometry.measure import cut_to_box
from docgen.geometry.path import circle_path, polyline
from docgen.geometry.shapes import Box, Point
from docgen.pages.marks.page import Mark, PathMark, Stroke, TextMark
from docgen.pages.pictures.rows import Path, Start
from docgen.pages.setting.blocks import PageStyle

START_MM = 0.9  # radius of the dot where a seam begins
ARROW_MM = 2.0
ARROW_AT_MM = 5.0  # from there, to its tip
LEAST_RUN_MM = 3.5  # that is seen, for an arrow on it
NEAR_MM = 7.5  # what is drawn farther off is not in the way of a number
TURNS, REACHES_MM = 24, (2.6, 3.2, 3.8, 4.6)  # round the dot and from it, where a place for the number is looked for
CLEAR_MM = 0.5  # from a number to any line
LEAST_CLEAR_MM = 0.1  # where there is no better place
APART_MM = 0.4  # between dots and arrows of two seams, or they are one blot
OUT_MM, OVER_MM = 2.0, 4.0  # that a number may stand beside the drawing, and over it

Leg = tuple[Point, Point]


def draw_starts(
    starts: Sequence[Start],
    legs: Sequence[Leg],
    size_mm: tuple[float, float],
    style: PageStyle,
    numbers: Mapping[str, int],
) -> tuple[list[Mark], int]:
    """Where each seam begins, in a drawing of that size: a dot, unless that is out of sight, and an arrow on it; and how
    many dots, arrows and numbers lie on what else is drawn. Numbers keep clear of the `legs` of the drawing, of dots,
    arrows and each other."""
    starts = [
        start for start in starts if start.runs
    ]  # of others nothing is seen, and an arrow would lie on what hides it
    arrows = [_find_arrow(start) for start in starts]
    own = [[*_legs_of(start, *one)] for start, one in zip(starts, arrows, strict=True)]
    taken = [*legs, *(leg for each in own for leg in each)]
    marks: list[Mark] = []
    clashes = sum(map(_do_meet, *zip(*combinations(own, 2), strict=True))) if len(own) > 1 else 0
    for start, (tip, way) in zip(starts, arrows, strict=True):
        if start.is_begun:
            marks.append(PathMark(path=circle_path(start.at, START_MM), fill=0.0))
        if math.dist(start.at, tip) > ARROW_MM + START_MM:
            marks.append(PathMark(path=polyline(_arrow(tip, way)), stroke=Stroke(style.thin_line_mm), fill=0.0))
        else:
            marks += _draw_long_arrow(*_first_way(start), style)
        if start.seam in numbers:
            mark, crossed = _number(start, str(numbers[start.seam]), taken, size_mm, style)
            clashes += crossed > 0
            half, high = text_width_mm(mark.text, "bold", mark.size_mm) / 2, cap_height_mm(mark.size_mm)
            taken += (
                (Point(mark.x_mm + x, mark.y_mm), Point(mark.x_mm + x, mark.y_mm + high)) for x in (-half, 0.0, half)
            )
            marks.append(mark)
    return marks, clashes


def legs_of_starts(starts: Sequence[Start]) -> list[Leg]:
    """The dots and arrows of seams in a drawing, as lines."""
    return [leg for start in starts if start.runs for leg in _legs_of(start, *_find_arrow(start))]


def _do_meet(one: Sequence[Leg], other: Sequence[Leg]) -> bool:
    """Whether dots or arrows of two seams lie on each other."""
    return any(leg_distance(leg, end) < APART_MM for leg in one for its in other for end in its) or any(
        leg_distance(leg, end) < APART_MM for leg in other for its in one for end in its
    )


def _legs_of(start: Start, tip: Point, way: Point) -> Iterator[Leg]:
    """The outline of an arrow, of one with a shaft that too, and a cross over the dot of a beginning."""
    if start.is_begun:
        x, y, half = *start.at, START_MM * 0.7
        yield Point(x - half, y - half), Point(x + half, y + half)
        yield Point(x - half, y + half), Point(x + half, y - half)
    if math.dist(start.at, tip) > ARROW_MM + START_MM:
        yield from pairwise(_arrow(tip, way))
    else:
        begin, end, ahead = _long_arrow(*_first_way(start))
        yield begin, end
        yield from pairwise(_arrow(end, ahead))


def _find_arrow(start: Start) -> tuple[Point, Point]:
    """Its tip and the way it looks: a little on from where the seam begins, else in the middle of the first stretch that
    shows it, else beside the dot."""
    for k, run in enumerate(start.runs):
        long = _length(run)
        if long >= LEAST_RUN_MM:
            at_mm = min(ARROW_AT_MM, long) if k == 0 and start.is_begun else (long + ARROW_MM) / 2
            return _walk(run, at_mm)
    _, way, _ = _first_way(start)
    return Point(start.at.x + way.x * ARROW_MM, start.at.y + way.y * ARROW_MM), way


def _first_way(start: Start) -> tuple[Point, Point, float]:
    """Of a seam that is short on paper: where it begins, the way it sets out from there, and on which side of that the
    rest of it does not lie, 1 for the left: an arrow there is not taken for one of what lies across."""
    run = next((run for run in start.runs if _length(run) > 0.0), (start.at, Point(start.at.x + 1.0, start.at.y)))
    tip = _point(run, min(ARROW_MM, _length(run) / 4))
    long = math.dist(run[0], tip) or 1.0
    way = Point((tip.x - run[0].x) / long, (tip.y - run[0].y) / long)
    aside = sum(way.x * (at.y - run[0].y) - way.y * (at.x - run[0].x) for one in start.runs for at in one)
    return run[0], way, -1.0 if aside > 0 else 1.0


def _length(run: Path) -> float:
    return sum(math.dist(at, to) for at, to in pairwise(run))


def _walk(run: Path, far_mm: float) -> tuple[Point, Point]:
    """The point so far along a line, and the way from an arrow's length before it."""
    tip, back = _point(run, far_mm), _point(run, max(far_mm - ARROW_MM, 0.0))
    long = math.dist(tip, back) or 1.0
    return tip, Point((tip.x - back.x) / long, (tip.y - back.y) / long)


def _point(run: Path, far_mm: float) -> Point:
    for at, to in pairwise(run):
        long = math.dist(at, to)
        if far_mm <= long and long:
            return Point(at.x + (to.x - at.x) * far_mm / long, at.y + (to.y - at.y) * far_mm / long)
        far_mm -= long
    return run[-1]


def _arrow(tip: Point, way: Point) -> tuple[Point, ...]:
    back, side = Point(tip.x - way.x * ARROW_MM, tip.y - way.y * ARROW_MM), Point(-way.y, way.x)
    half = ARROW_MM * 0.4
    corners = [Point(back.x + side.x * by, back.y + side.y * by) for by in (half, -half)]
    return (tip, *corners, tip)


def _long_arrow(at: Point, way: Point, hand: float) -> tuple[Point, Point, Point]:
    """The ends of a shaft beside a seam that is too short on paper to bear an arrow, and begins there; and its way."""
    off_mm = hand * (START_MM + ARROW_MM / 2)
    dx, dy = -way.y * off_mm, way.x * off_mm
    end = Point(at.x + way.x * 2 * ARROW_MM + dx, at.y + way.y * 2 * ARROW_MM + dy)
    return Point(end.x - way.x * 2 * ARROW_MM, end.y - way.y * 2 * ARROW_MM), end, way


def _draw_long_arrow(at: Point, way: Point, hand: float, style: PageStyle) -> Iterator[Mark]:
    begin, end, way = _long_arrow(at, way, hand)
    yield PathMark(path=polyline((begin, end)), stroke=Stroke(style.thin_line_mm))
    yield PathMark(path=polyline(_arrow(end, way)), stroke=Stroke(style.thin_line_mm), fill=0.0)


def _number(
    start: Start, text: str, taken: Sequence[Leg], room_mm: tuple[float, float], style: PageStyle
) -> tuple[TextMark, int]:
    """The number beside the dot, the nearest place where it is clear of all that is drawn; else where it is clearest, and
    how many lines cross it there."""
    size = style.label_type_mm
    wide, high = text_width_mm(text, "bold", size), cap_height_mm(size, "bold")
    near = [leg for leg in taken if leg_distance(leg, start.at) < NEAR_MM]
    best, least = start.at, len(near) + 1
    inside, over = _around(start.at, (wide, high), room_mm)
    for spots, clear in ((inside, CLEAR_MM), (inside, LEAST_CLEAR_MM), (over, LEAST_CLEAR_MM)):
        for at in spots if least else ():
            box = Box(
                at.x - wide / 2 - clear, at.y - high / 2 - clear, at.x + wide / 2 + clear, at.y + high / 2 + clear
            )
            crossed = sum(1 for leg in near if cut_to_box(*leg, box))
            if crossed < least:
                best, least = at, crossed
    return TextMark(x_mm=best.x, y_mm=best.y - high / 2, text=text, size_mm=size, face="bold", anchor="middle"), least


def _around(
    dot: Point, size_mm: tuple[float, float], room_mm: tuple[float, float]
) -> tuple[Sequence[Point], Sequence[Point]]:
    """Places for a number beside a dot, nearer ones first; and those over the drawing, which make it higher."""
    (wide, high), (across, tall) = size_mm, room_mm
    spots = [
        Point(dot.x + reach * math.cos(turn), dot.y + reach * math.sin(turn))
        for reach in REACHES_MM
        for turn in (math.tau * (k / TURNS + 0.25) for k in range(TURNS))
    ]
    spots = [
        at for at in spots if wide / 2 - OUT_MM <= at.x <= across + OUT_MM - wide / 2 and at.y >= high / 2 - OUT_MM / 2
    ]
    top = tall + OUT_MM / 2 - high / 2
    return [at for at in spots if at.y <= top], [at for at in spots if top < at.y <= top + OVER_MM]
