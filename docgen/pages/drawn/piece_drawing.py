"""A piece -> its marks at full size: outline, stitch lines, folds, holes, notches, slits, skived bands, landings."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import replace

from docgen.geometry import (
    Arc,
    Box,
    Line,
    Path,
    Point,
    add,
    chords,
    circle_path,
    distance,
    grow_box,
    hatch_lines,
    outline_path,
    path_box,
    path_length,
    points_at,
    polyline,
    scale,
    subtract,
    touch_finder,
    turn_left,
    unit,
)
from docgen.pages.looks.pattern_style import PatternStyle, load_pattern_style
from docgen.pages.marks.moving import mark_box
from docgen.pages.marks.page import Mark, PathMark, Stroke, TextMark
from docgen.resolve import Hole, Notch, Piece, Skive, StitchLine
from docgen.written.units import Show, format_short, format_short_slot

HATCH_MM = 3.0
HATCH_ANGLE = math.radians(45)
NOTCH_MM = 4.0
PRICK_MM = 0.9
LABEL_CLEAR_MM = (1.0, 0.3)
TICK_MM = 1.4
ARROW_MM = 3.0
ARROW_CLEAR_MM = 1.0
STRETCH_LENGTHS = 1.0, 0.7, 0.45
STRETCH_AT = tuple(
    (aside, on) for on in (0.0, 0.15, -0.15, 0.3, -0.3) for aside in (0.25, -0.25, 0.15, -0.15, 0.0)
)  # across and along from a piece's middle, as shares of its size; first choice first
CROSS_OVER_MM = 1.5  # how far a hole's centre cross goes beyond its rim


def draw_piece(piece: Piece, style: PatternStyle, show: Show) -> tuple[Mark, ...]:
    """Everything on the piece but its label, in the piece's own coordinates."""
    marks: list[Mark] = []
    for skive in piece.skives:
        marks += draw_skive(skive, style)
    for landing in piece.landings:
        marks.append(PathMark(path=landing.outline, stroke=style.landing, layer="marks"))
    for line in piece.stitch_lines:
        marks += draw_stitch_line(line, style)
    for drawn in piece.drawn:
        marks.append(PathMark(path=drawn.path, stroke=style.drawn, layer="marks"))
    for fold in piece.folds:
        marks.append(_line(fold.start, fold.end, fit_dash(style.fold, distance(fold.start, fold.end))))
    for slit in piece.slits:
        marks += draw_slit(slit.start, slit.end, style)
    for notch in piece.notches:
        marks += draw_notch(notch, style)
    for hole in piece.holes:
        marks += draw_hole(hole, style)
    marks += hole_labels(piece, style, show)
    marks += draw_centre_lines(piece, style)
    marks += draw_stretch(piece, style)
    marks.append(PathMark(path=outline_path(piece.outline), stroke=style.cut, layer="cut"))
    return tuple(marks)


def _line(start: Point, end: Point, stroke: Stroke, layer: str = "marks") -> PathMark:
    return PathMark(path=polyline((start, end)), stroke=stroke, layer=layer)


def fit_dash(stroke: Stroke, length_mm: float) -> Stroke:
    """The stroke for a line so long: with its first dash shortened where two of them and what lies between would not
    fit, and with all of the pattern smaller where even that is too long. A line of one dash would look like a cut."""
    if not stroke.dash_mm or length_mm <= 0:
        return stroke
    dash, *rest = stroke.dash_mm
    between = sum(rest)
    if 2 * dash + between <= length_mm:
        return stroke
    least = 2 * between + between  # two dashes, each as long as all that lies between them
    share = min(length_mm / least, 1.0) if least else 1.0
    return replace(stroke, dash_mm=((length_mm - between * share) / 2, *(part * share for part in rest)))


def draw_skive(skive: Skive, style: PatternStyle) -> list[Mark]:
    hatch = [
        PathMark(path=path, stroke=style.skive, layer="marks")
        for path in hatch_lines(skive.band, HATCH_MM, HATCH_ANGLE)
    ]
    return [*hatch, PathMark(path=skive.band, stroke=style.skive, layer="marks")]


def draw_slit(start: Point, end: Point, style: PatternStyle) -> list[Mark]:
    """A cut inside the piece: a line as heavy as the outline, with a short bar across each end."""
    across = scale(turn_left(unit(subtract(end, start))), 1.5) if distance(start, end) > 0 else Point(1.5, 0)
    bars = [_line(subtract(at, across), add(at, across), style.punch, "cut") for at in (start, end)]
    return [_line(start, end, style.cut, "cut"), *bars]


def draw_notch(notch: Notch, style: PatternStyle) -> list[Mark]:
    """A short line from the edge inward, with a small open triangle standing on the edge."""
    tip = add(notch.at, scale(notch.inward, NOTCH_MM))
    side = scale(turn_left(notch.inward), NOTCH_MM / 3)
    triangle = polyline((add(notch.at, side), tip, subtract(notch.at, side)))
    return [_line(notch.at, tip, style.notch), PathMark(path=triangle, stroke=style.punch, layer="marks")]


def draw_stitch_line(line: StitchLine, style: PatternStyle) -> list[Mark]:
    """The line of the needle. By hand with every hole; by machine with a tick at start, end and every tenth stitch."""
    marks: list[Mark] = [
        PathMark(path=line.path, stroke=fit_dash(style.stitch, path_length(line.path)), layer="stitch")
    ]
    if line.by == "hand":
        return marks + [PathMark(path=path, fill=0.0, layer="stitch") for path in prick_paths(line, PRICK_MM)]
    for at, along in points_at(line.path, line.ticked_mm):
        across = scale(turn_left(along), TICK_MM)
        marks.append(_line(subtract(at, across), add(at, across), style.punch, "stitch"))
    return marks


def prick_paths(line: StitchLine, diameter_mm: float) -> list[Path]:
    """A circle of so many mm across for each hole of a hand stitch; none of a machine's."""
    if line.by != "hand":
        return []
    return [circle_path(at, diameter_mm / 2) for at, _ in points_at(line.path, line.holes_mm)]


def draw_hole(hole: Hole, style: PatternStyle) -> list[Mark]:
    """The hole at its true size, round or oblong, with a centre cross that goes over its rim; the middle one of a row
    in a ring."""
    radius = hole.diameter_mm / 2
    reach = radius + CROSS_OVER_MM
    across, up = Point(reach + abs(hole.slot.x), 0), Point(0, reach + abs(hole.slot.y))
    thin = Stroke(style.skive.width_mm)
    ring = radius + CROSS_OVER_MM + 0.6
    return [
        PathMark(path=hole_path(hole), stroke=style.punch, layer="marks"),
        _line(subtract(hole.at, across), add(hole.at, across), thin),
        _line(subtract(hole.at, up), add(hole.at, up), thin),
        *([PathMark(path=circle_path(hole.at, ring), stroke=style.punch, layer="marks")] if hole.is_middle else []),
    ]


def hole_path(hole: Hole) -> Path:
    """The rim of a hole: a circle, or two half circles joined by straight sides."""
    radius = hole.diameter_mm / 2
    if hole.slot == Point(0.0, 0.0):
        return circle_path(hole.at, radius)
    angle = math.atan2(hole.slot.y, hole.slot.x)
    side = scale(turn_left(unit(hole.slot)), radius)
    first, second = add(hole.at, hole.slot), subtract(hole.at, hole.slot)
    return Path(
        (
            Arc(first, radius, angle - math.pi / 2, math.pi),
            Line(add(first, side), add(second, side)),
            Arc(second, radius, angle + math.pi / 2, math.pi),
            Line(subtract(second, side), subtract(first, side)),
        ),
        closed=True,
    )


def draw_centre_lines(piece: Piece, style: PatternStyle) -> Iterator[Mark]:
    """Lines through the middle of the piece, as far as it reaches."""
    shape = outline_path(piece.outline)
    middle = path_box(shape).centre
    ways = {"up": Point(0.0, 1.0), "across": Point(1.0, 0.0)}
    for way in piece.centre_lines:
        for start, end in chords(shape, middle, ways[way]):
            yield _line(start, end, fit_dash(style.centre, distance(start, end)))


def draw_stretch(piece: Piece, style: PatternStyle) -> list[Mark]:
    """A double arrow along which the leather must stretch least: off the piece's middle, or wherever else it is clear
    of every line, shorter if need be; none on pieces that have no room for it."""
    if not piece.least_stretch:
        return []
    box = path_box(outline_path(piece.outline))
    along = Point(0.0, 1.0) if piece.least_stretch == "up" else Point(1.0, 0.0)
    long, wide = (box.height, box.width) if piece.least_stretch == "up" else (box.width, box.height)
    if long < 60 or wide < 18:
        return []
    is_crossed = touch_finder(_drawn_lines(piece, style))
    for share in STRETCH_LENGTHS:
        reach = min(long / 6, 30.0) * share
        for aside, on in STRETCH_AT:
            middle = add(box.centre, add(scale(turn_left(along), aside * wide), scale(along, on * long)))
            room = _stretch_room(middle, along, reach)
            if not is_crossed(room):
                return _draw_arrow(middle, along, reach, style)
    return []


def _stretch_room(middle: Point, along: Point, reach: float) -> Box:
    """The room of a double arrow, with white round it; along an axis."""
    half = ARROW_MM / 2
    across, up = abs(along.x) * reach + abs(along.y) * half, abs(along.y) * reach + abs(along.x) * half
    return grow_box(Box(middle.x - across, middle.y - up, middle.x + across, middle.y + up), ARROW_CLEAR_MM)


def _draw_arrow(middle: Point, along: Point, reach: float, style: PatternStyle) -> list[Mark]:
    head, tail = add(middle, scale(along, reach)), subtract(middle, scale(along, reach))
    marks: list[Mark] = [_line(tail, head, style.notch)]
    for tip, way in ((head, along), (tail, scale(along, -1.0))):
        side = scale(turn_left(way), ARROW_MM / 2)
        base = subtract(tip, scale(way, ARROW_MM))
        arrow = polyline((add(base, side), tip, subtract(base, side)), closed=True)
        marks.append(PathMark(path=arrow, fill=0.0, layer="marks"))
    return marks


def hole_labels(piece: Piece, style: PatternStyle, show: Show) -> Iterator[TextMark]:
    """The size of the punch in words beside the first hole of each run of equal ones."""
    last: Hole | None = None
    is_crossed = touch_finder(piece_lines(piece) if piece.holes else ())
    for hole in piece.holes:
        is_alike = last is not None and (hole.diameter_mm, hole.slot) == (last.diameter_mm, last.slot)
        if last is None or not is_alike or distance(hole.at, last.at) >= 60:
            yield _hole_label(hole, _punch_words(hole, show), is_crossed, style.small_type_mm)
        last = hole


def _punch_words(hole: Hole, show: Show) -> str:
    """The size of the punch; width and length of an oblong hole."""
    if hole.long_mm:
        return format_short_slot(hole.diameter_mm, hole.long_mm, show)
    return format_short(hole.diameter_mm, show)


def _hole_label(hole: Hole, text: str, is_crossed: Callable[[Box], bool], size_mm: float) -> TextMark:
    """Right of the hole, left, above, below, or beside it a little higher or lower: at the first of these places that
    is well clear of every line, else at the first that no line runs through."""
    reach = hole.diameter_mm / 2 + CROSS_OVER_MM + 1.1
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
    marks = [
        TextMark(x_mm=at, y_mm=base, text=text, size_mm=size_mm, anchor=anchor, layer="words")
        for at, base, anchor in spots
    ]
    free = (mark for clear in LABEL_CLEAR_MM for mark in marks if not is_crossed(grow_box(mark_box(mark), clear)))
    return next(free, marks[0])


def piece_lines(piece: Piece) -> tuple[Path, ...]:
    """Every drawn line that a label must keep clear of."""
    style = load_pattern_style()
    stretch = (mark.path for mark in draw_stretch(piece, style) if isinstance(mark, PathMark))
    return (*_drawn_lines(piece, style), *stretch)


def _drawn_lines(piece: Piece, style: PatternStyle) -> tuple[Path, ...]:
    """Every drawn line but the arrow of least stretch."""
    paths: list[Path] = [outline_path(piece.outline)]
    paths += [line.path for line in piece.stitch_lines]
    paths += [drawn.path for drawn in piece.drawn]
    paths += [landing.outline for landing in piece.landings]
    paths += [skive.band for skive in piece.skives]
    paths += [polyline((fold.start, fold.end)) for fold in piece.folds]
    paths += [polyline((slit.start, slit.end)) for slit in piece.slits]
    paths += [hole_path(replace(hole, diameter_mm=hole.diameter_mm + 2 * CROSS_OVER_MM)) for hole in piece.holes]
    paths += [polyline((notch.at, add(notch.at, scale(notch.inward, NOTCH_MM)))) for notch in piece.notches]
    paths += [mark.path for mark in draw_centre_lines(piece, style) if isinstance(mark, PathMark)]
    return tuple(paths)
