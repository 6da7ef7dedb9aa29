"""A piece -> its marks at full size: outline, stitch lines, folds, holes, notches, slits, skived bands, landings."""

import math
from collections.abc import Callable, Mapping
from dataclasses import replace
from typing import Any, Final

from docgen.geometry.measure import hatch_lines, touch_finder
from docgen.geometry.outline import outline_path
from docgen.geometry.path import circle_path, grow_box, path_box, path_length, points_at, polyline
from docgen.geometry.shapes import Box, Path, Point
from docgen.geometry.vector import add, distance, norm, scale, subtract, turn_left, unit
from docgen.pages.drawn.hole_labels import CROSS_OVER_MM, hole_labels
from docgen.pages.drawn.landing_labels import landing_labels
from docgen.pages.drawn.stamps import runs_of, stamp
from docgen.pages.looks.pattern_style import PatternStyle, load_pattern_style
from docgen.pages.marks.page import Mark, PathMark, Stroke
from docgen.resolve import NOTCH_MM, Hole, Notch, Piece, PieceLine, Skive, Slit, StitchLine, lines_of
from docgen.written.units.telling import Show

HATCH_MM = 3.0
HATCH_ANGLE = math.radians(45)
PRICK_MM = 0.9
TICK_MM = 1.4
SIGN_MM = 0.95  # half of a ring, cross or square
ARROW_MM = 3.0
ARROW_CLEAR_MM = 1.0
STRETCH_LENGTHS = 1.0, 0.7, 0.45
STRETCH_AT = tuple(
    (aside, on) for on in (0.0, 0.15, -0.15, 0.3, -0.3) for aside in (0.25, -0.25, 0.15, -0.15, 0.0)
)  # across and along from a piece's middle, as shares of its size; first choice first


def draw_piece(piece: Piece, style: PatternStyle, show: Show) -> tuple[Mark, ...]:
    """Everything on the piece but its label, in the piece's own coordinates; the outline last."""
    lines = (mark for line, places in runs_of(lines_of(piece)) for mark in stamp(draw_line(line, style), places))
    drawn = piece_lines(piece) if piece.marks.holes or piece.marks.landings or piece.strap_landings else ()
    sizes = tuple(hole_labels(piece, drawn, style, show)) if piece.marks.holes else ()
    names = landing_labels(piece, drawn, style, sizes)
    return (*sizes, *names, *draw_stretch(piece, style), *lines)


def draw_line(line: PieceLine, style: PatternStyle) -> list[Mark]:
    """A line with all that belongs to its kind; by itself where its kind has no drawer of its own."""
    draw = DRAWERS.get(line.kind)
    if draw is not None:
        return draw(line, style)
    stroke = fit_dash(style[line.kind], path_length(line.path))
    return [PathMark(path=line.path, stroke=stroke, layer="cut" if line.kind == "cut" else "marks")]


def kinds_of(piece: Piece) -> set[str]:
    """The kinds of lines that are drawn on a piece, by their names in the legend."""
    kinds = {line.kind for line in lines_of(piece)} - {"hole", "stitch"}
    kinds |= {"punch"} if piece.marks.holes else set()
    kinds |= {"middle"} if any(hole.is_middle for hole in piece.marks.holes) else set()
    kinds |= {"hand" if line.by == "hand" else "stitch" for line in piece.marks.stitch_lines if line.turn <= 1}
    kinds |= {"shared"} if any(line.turn > 1 for line in piece.marks.stitch_lines) else set()
    return kinds | ({"stretch"} if draw_stretch(piece, load_pattern_style()) else set())


def _line(start: Point, end: Point, stroke: Stroke, layer: str = "marks") -> PathMark:
    return PathMark(path=polyline((start, end)), stroke=stroke, layer=layer)


def fit_dash(stroke: Stroke, length_mm: float) -> Stroke:
    """The stroke for a line so long: with its first dash shortened where three long ones, or else two, and what lies
    between would not fit, and with all of the pattern smaller where even that is too long. A line of one dash would look
    like a cut, and so would one of two where something crosses its only gap."""
    if not stroke.dash_mm or length_mm <= 0:
        return stroke
    dash, *rest = stroke.dash_mm
    between = sum(rest)
    third_mm = (length_mm - 2 * between) / 3
    if 2 * between <= third_mm < dash:
        return replace(stroke, dash_mm=(third_mm, *rest))
    if 2 * dash + between <= length_mm:
        return stroke
    least = 2 * between + between  # two dashes, each as long as all that lies between them
    share = min(length_mm / least, 1.0) if least else 1.0
    return replace(stroke, dash_mm=((length_mm - between * share) / 2, *(part * share for part in rest)))


def draw_skive(skive: Skive, style: PatternStyle) -> list[Mark]:
    hatch = [
        PathMark(path=path, stroke=style["skive"], layer="marks")
        for path in hatch_lines(skive.band, HATCH_MM, HATCH_ANGLE)
    ]
    return [*hatch, PathMark(path=skive.band, stroke=style["skive"], layer="marks")]


def draw_slit(slit: Slit, style: PatternStyle) -> list[Mark]:
    """A cut inside the piece: a line as heavy as the outline, with a short bar across each end."""
    across = Point(1.5, 0)
    if distance(slit.start, slit.end) > 0:
        across = scale(turn_left(unit(subtract(slit.end, slit.start))), 1.5)
    bars = [_line(subtract(at, across), add(at, across), style["punch"], "cut") for at in (slit.start, slit.end)]
    return [_line(slit.start, slit.end, style["cut"], "cut"), *bars]


def draw_notch(notch: Notch, style: PatternStyle) -> list[Mark]:
    """A short line from the edge inward, with a small open triangle standing on the edge."""
    tip = add(notch.at, scale(notch.inward, NOTCH_MM))
    side = scale(turn_left(notch.inward), NOTCH_MM / 3)
    triangle = polyline((add(notch.at, side), tip, subtract(notch.at, side)))
    return [
        PathMark(path=notch.path, stroke=style["notch"], layer="marks"),
        PathMark(path=triangle, stroke=style["punch"], layer="marks"),
    ]


def draw_stitch_line(line: StitchLine, style: PatternStyle) -> list[Mark]:
    """The line of the needle, where no earlier seam has drawn it. By hand with every hole; by machine with a tick at
    start, end and every tenth stitch; those of a further seam on one line as rings, crosses or squares."""
    marks: list[Mark] = [
        PathMark(path=part, stroke=fit_dash(style["stitch"], path_length(part)), layer="stitch")
        for part in line.own_parts
    ]
    ticked_mm = line.holes_mm if line.by == "hand" else line.ticked_mm
    if line.turn > 1:
        sign = SIGNS[(line.turn - 2) % len(SIGNS)]
        signs = (path for at, along in points_at(line.path, ticked_mm) for path in sign(at, scale(along, SIGN_MM)))
        return marks + [PathMark(path=path, stroke=style["punch"], layer="stitch") for path in signs]
    if line.by == "hand":
        return marks + [PathMark(path=path, fill=0.0, layer="stitch") for path in prick_paths(line, PRICK_MM)]
    for at, along in points_at(line.path, ticked_mm):
        across = scale(turn_left(along), TICK_MM)
        marks.append(_line(subtract(at, across), add(at, across), style["punch"], "stitch"))
    return marks


def tick_name(line: StitchLine) -> str:
    """What the ticks of a line look like, in a word."""
    if line.turn > 1:
        return SIGN_NAMES[(line.turn - 2) % len(SIGNS)]
    return "dots" if line.by == "hand" else "bars"


def _ring(at: Point, along: Point) -> tuple[Path, ...]:
    return (circle_path(at, norm(along)),)


def _cross(at: Point, along: Point) -> tuple[Path, ...]:
    ways = (add(along, turn_left(along)), subtract(along, turn_left(along)))
    return tuple(polyline((subtract(at, way), add(at, way))) for way in ways)


def _square(at: Point, along: Point) -> tuple[Path, ...]:
    ways = (add(along, turn_left(along)), subtract(turn_left(along), along))
    return (polyline([add(at, scale(way, sign)) for sign in (1, -1) for way in ways], closed=True),)


SIGN_NAMES: Final = ("rings", "crosses", "squares")
SIGNS: Final = (_ring, _cross, _square)


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
    thin = Stroke(style["skive"].width_mm)
    ring = radius + CROSS_OVER_MM + 0.6
    return [
        PathMark(path=hole.path, stroke=style["punch"], layer="marks"),
        _line(subtract(hole.at, across), add(hole.at, across), thin),
        _line(subtract(hole.at, up), add(hole.at, up), thin),
        *([PathMark(path=circle_path(hole.at, ring), stroke=style["punch"], layer="marks")] if hole.is_middle else []),
    ]


DRAWERS: Final[Mapping[str, Callable[[Any, PatternStyle], list[Mark]]]] = {
    "skive": draw_skive,
    "stitch": draw_stitch_line,
    "slit": draw_slit,
    "notch": draw_notch,
    "hole": draw_hole,
}
"""Kinds of marks that are more than a line of their style."""


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
    is_crossed = touch_finder(_drawn_lines(piece))
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
    marks: list[Mark] = [_line(tail, head, style["notch"])]
    for tip, way in ((head, along), (tail, scale(along, -1.0))):
        side = scale(turn_left(way), ARROW_MM / 2)
        base = subtract(tip, scale(way, ARROW_MM))
        arrow = polyline((add(base, side), tip, subtract(base, side)), closed=True)
        marks.append(PathMark(path=arrow, fill=0.0, layer="marks"))
    return marks


def piece_lines(piece: Piece) -> tuple[Path | Box, ...]:
    """Every drawn line that a label must keep clear of; of a hole the box round its cross."""
    style = load_pattern_style()
    stretch = (mark.path for mark in draw_stretch(piece, style) if isinstance(mark, PathMark))
    return (*_drawn_lines(piece), *stretch)


def _drawn_lines(piece: Piece) -> tuple[Path | Box, ...]:
    """Every drawn line but the arrow of least stretch; of a hole the box round its cross."""
    return tuple(line.room(CROSS_OVER_MM) if isinstance(line, Hole) else line.path for line in lines_of(piece))
