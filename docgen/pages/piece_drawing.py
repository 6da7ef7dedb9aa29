"""A piece -> its marks at full size: outline, stitch lines, folds, holes, notches, slits, skived bands, landings."""

from __future__ import annotations

import math
from collections.abc import Iterator

from docgen.geometry import (
    Path,
    Point,
    add,
    circle_path,
    distance,
    grow_box,
    hatch_lines,
    outline_path,
    polyline,
    scale,
    subtract,
    touches_box,
    turn_left,
    unit,
)
from docgen.pages.moving import mark_box
from docgen.pages.page import Mark, PathMark, Stroke, TextMark
from docgen.pages.pattern_style import PatternStyle
from docgen.resolve import Hole, Notch, Piece, Skive
from docgen.units import Show, format_short

HATCH_MM = 3.0
HATCH_ANGLE = math.radians(45)
NOTCH_MM = 4.0
CROSS_OVER_MM = 1.5  # how far a hole's centre cross goes beyond its rim


def draw_piece(piece: Piece, style: PatternStyle, show: Show) -> tuple[Mark, ...]:
    """Everything on the piece but its label, in the piece's own coordinates."""
    marks: list[Mark] = []
    for skive in piece.skives:
        marks += draw_skive(skive, style)
    for landing in piece.landings:
        marks.append(PathMark(path=landing.outline, stroke=style.landing, layer="marks"))
    for line in piece.stitch_lines:
        marks.append(PathMark(path=line.path, stroke=style.stitch, layer="stitch"))
    for drawn in piece.drawn:
        marks.append(PathMark(path=drawn.path, stroke=style.drawn, layer="marks"))
    for fold in piece.folds:
        marks.append(_line(fold.start, fold.end, style.fold))
    for slit in piece.slits:
        marks += draw_slit(slit.start, slit.end, style)
    for notch in piece.notches:
        marks += draw_notch(notch, style)
    for hole in piece.holes:
        marks += draw_hole(hole, style)
    marks += hole_labels(piece, style, show)
    marks.append(PathMark(path=outline_path(piece.outline), stroke=style.cut, layer="cut"))
    return tuple(marks)


def _line(start: Point, end: Point, stroke: Stroke, layer: str = "marks") -> PathMark:
    return PathMark(path=polyline((start, end)), stroke=stroke, layer=layer)


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


def draw_hole(hole: Hole, style: PatternStyle) -> list[Mark]:
    """A circle of the true size with a centre cross that goes over its rim."""
    reach = hole.diameter_mm / 2 + CROSS_OVER_MM
    across, up = Point(reach, 0), Point(0, reach)
    thin = Stroke(style.skive.width_mm)
    return [
        PathMark(path=circle_path(hole.at, hole.diameter_mm / 2), stroke=style.punch, layer="marks"),
        _line(subtract(hole.at, across), add(hole.at, across), thin),
        _line(subtract(hole.at, up), add(hole.at, up), thin),
    ]


def hole_labels(piece: Piece, style: PatternStyle, show: Show) -> Iterator[TextMark]:
    """The size of the punch in words beside the first hole of each run of equal ones."""
    last: Hole | None = None
    lines = piece_lines(piece) if piece.holes else ()
    for hole in piece.holes:
        if last is None or hole.diameter_mm != last.diameter_mm or distance(hole.at, last.at) >= 60:
            yield _hole_label(hole, format_short(hole.diameter_mm, show), lines, style.small_type_mm)
        last = hole


def _hole_label(hole: Hole, text: str, lines: tuple[Path, ...], size_mm: float) -> TextMark:
    """Right of the hole, or left, above or below, at the first of these places that no line runs through."""
    away = hole.diameter_mm / 2 + CROSS_OVER_MM + 0.8
    x, y = hole.at
    level = y - size_mm * 0.35
    spots = (
        (x + away, level, "start"), (x - away, level, "end"), (x, y + away, "middle"),
        (x, y - away - size_mm * 0.7, "middle"),
    )  # fmt: skip
    marks = [
        TextMark(x_mm=at, y_mm=base, text=text, size_mm=size_mm, anchor=anchor, layer="words")
        for at, base, anchor in spots
    ]
    return next((mark for mark in marks if _is_free(mark, lines)), marks[0])


def _is_free(mark: TextMark, lines: tuple[Path, ...]) -> bool:
    box = grow_box(mark_box(mark), 0.3)
    return not any(touches_box(path, box) for path in lines)


def piece_lines(piece: Piece) -> tuple[Path, ...]:
    """Every drawn line that a label must keep clear of."""
    paths: list[Path] = [outline_path(piece.outline)]
    paths += [line.path for line in piece.stitch_lines]
    paths += [drawn.path for drawn in piece.drawn]
    paths += [landing.outline for landing in piece.landings]
    paths += [skive.band for skive in piece.skives]
    paths += [polyline((fold.start, fold.end)) for fold in piece.folds]
    paths += [polyline((slit.start, slit.end)) for slit in piece.slits]
    paths += [circle_path(hole.at, hole.diameter_mm / 2 + CROSS_OVER_MM) for hole in piece.holes]
    paths += [polyline((notch.at, add(notch.at, scale(notch.inward, NOTCH_MM)))) for notch in piece.notches]
    return tuple(paths)
