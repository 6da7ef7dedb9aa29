"""Pieces of a step -> one small drawing to scale: the seam picked out, skived bands hatched, holes, names."""

from __future__ import annotations

import math
from bisect import bisect_left
from collections.abc import Callable, Mapping
from dataclasses import replace
from functools import cache
from itertools import pairwise
from types import MappingProxyType

from docgen.fonts import ascent_mm, cap_height_mm
from docgen.geometry import (
    Box,
    Line,
    Path,
    Point,
    add,
    circle_path,
    distance,
    hatch_lines,
    outline_path,
    path_length,
    point_at,
    points_at,
    polyline,
    scale,
    scale_path,
    start_point,
    subtract,
    transform_path,
    transform_point,
    turn_left,
)
from docgen.pages.drawn.piece_drawing import hole_path
from docgen.pages.drawn.small_sketch import (
    BREAK_GAP_MM,
    EDGE_MM,
    NAME_GAP_MM,
    NAME_LEADING,
    Cell,
    Sketch,
    arrange_sketches,
    make_sketch,
    make_sketches,
)
from docgen.pages.looks.words import words
from docgen.pages.marks.page import ClipMark, Mark, PathMark, Stroke, TextMark
from docgen.pages.setting.blocks import Figure, PageStyle
from docgen.plan import DrawnPiece, Plan
from docgen.resolve import Hole, StitchLine

__all__ = ["BREAK_GAP_MM", "EDGE_MM", "Sketch", "draw_sketch", "draw_small_pieces", "make_sketch", "small_drawer"]

Lengths = tuple[tuple[float, float], ...]

# The scales tried, largest first: a drawing is 1 to one of these.
SCALES = (1, 1.5, 2, 2.5, 3, 4, 5, 6, 7, 8, 10, 12, 15, 20, 25, 30, 40, 50, 75, 100, 150, 200)

SEAM_LINE_MM = 0.6
SLIT_LINE_MM = 0.4
HATCH_MM = 1.1
HATCH_ANGLE = math.pi / 4
LEAST_HOLE_MM = 0.55  # radius
PICKED_HOLE_MM = 0.8  # least radius of a hole that is made in the step
MOST_RING = 0.8  # of the height of a piece, that a ring may take
RING_MM = 1.0  # from a picked hole to the ring round it
STITCH_DOT_MM = 0.3  # radius of a hole of a hand stitch
STITCH_GAP_MM = 1.2  # nearer to each other on the paper, such holes are not drawn
DOT_MM = 1.05  # radius of the dot where a seam begins
ARROW_MM = 2.8
NUMBER_GAP_MM = 1.5  # from where a seam begins to its number
ARROW_ROOM = 3  # lengths of an arrow that a straight stretch takes for one
ARROW_PLACES = 48  # tried along a seam whose usual place is not shown
DASH_MM = (1.6, 1.0)
LANDING_DASH_MM = (0.7, 0.7)


def draw_small_pieces(
    plan: Plan,
    drawn: tuple[DrawnPiece, ...],
    width_mm: float,
    max_height_mm: float,
    style: PageStyle,
    numbers: Mapping[str, int] = MappingProxyType({}),
) -> Figure | None:
    """The pieces side by side at one scale, as large as fits; None when there is nothing to draw. Seams in
    `numbers` carry their number where they begin.

    What does not fit even at the smallest scale is left out, and the caption says how many.
    """
    return small_drawer(plan, drawn, width_mm, style, numbers)(max_height_mm)


def small_drawer(
    plan: Plan, drawn: tuple[DrawnPiece, ...], width_mm: float, style: PageStyle, numbers: Mapping[str, int]
) -> Callable[[float], Figure | None]:
    """`draw_small_pieces` for many heights: what comes out at the same scale is drawn once."""
    sketches = make_sketches(plan, drawn)

    @cache
    def arrange(count: int, scale_to: float) -> tuple[tuple[Cell, ...], float] | None:
        return arrange_sketches(sketches[:count], scale_to, width_mm, style)

    def find_scale(count: int, max_height_mm: float) -> float | None:
        fits = (to for to in SCALES if (found := arrange(count, to)) is not None and found[1] <= max_height_mm)
        return next(fits, None)

    @cache
    def draw_at(count: int, scale_to: float) -> Figure | None:
        found = arrange(count, scale_to)
        left_out = len(sketches) - count
        return found and _make_figure(plan, found, scale_to, left_out, width_mm, style, numbers)

    def draw(max_height_mm: float) -> Figure | None:
        count = len(sketches)
        if count and find_scale(count, max_height_mm) is None:
            # where some sketches find no room, more find none either
            count = bisect_left(range(1, count), True, key=lambda fewer: find_scale(fewer, max_height_mm) is None)
        scale_to = find_scale(count, max_height_mm) if count else None
        return None if scale_to is None else draw_at(count, scale_to)

    return draw


def _make_figure(
    plan: Plan,
    found: tuple[tuple[Cell, ...], float],
    scale_to: float,
    left_out: int,
    width_mm: float,
    style: PageStyle,
    numbers: Mapping[str, int],
) -> Figure:
    cells, height = found
    names = {cell.sketch.drawn.name for cell in cells}
    strips = {name for join in plan.build.joins for name in join.pieces}
    marks: list[Mark] = []
    for cell in cells:
        base = Point(cell.x, height - cell.y)
        marks += draw_sketch(cell.sketch, base, scale_to, names, strips, style)
        marks += _number_seams(cell.sketch, base, scale_to, strips, numbers, style)
        marks += _draw_name(cell.lines, base, style)
    return Figure(width_mm, height, tuple(marks), _caption(cells, scale_to, left_out, strips))


def _caption(cells: tuple[Cell, ...], scale_to: float, left_out: int, strips: set[str]) -> str:
    """Scale, and a word for each kind of line that is there."""
    said = words("drawing")
    shown = [cell.sketch for cell in cells]
    sewn = [sketch for sketch in shown if _seam_lines(sketch)]
    lines = [line for sketch in sewn for line in _seam_lines(sketch)]
    parts = [f"{said['scale']} 1:{scale_to:g}"]
    parts += [said["seam"]] if not all(_shows_holes(line, scale_to) for line in lines) else []
    parts += [said["stitch_holes"]] if any(_shows_holes(line, scale_to) for line in lines) else []
    parts += _start_words([sketch for sketch in sewn if sketch.piece.name not in strips], scale_to, said)
    made = [sketch for sketch in shown if sketch.drawn.is_punched and sketch.piece.holes]
    are_ringed = all(_rings_fit(sketch, scale_to) for sketch in made)
    parts += [said["punched" if are_ringed else "filled"]] if made else []
    parts += [said["skived"]] if any(s.drawn.is_skived and s.piece.skives for s in shown) else []
    parts += [said["fold"]] if any(sketch.piece.folds for sketch in shown) else []
    parts += [said["drawn"]] if any(sketch.piece.drawn for sketch in shown) else []
    parts += [said["broken"]] if any(sketch.is_broken for sketch in shown) else []
    parts += [f"{left_out} {said['left_out']}"] if left_out else []
    return "; ".join(parts)


def _start_words(sewn: list[Sketch], scale_to: float, said: Mapping[str, str]) -> list[str]:
    """Of the dot where a seam begins, and of the arrow where one is drawn."""
    if not sewn:
        return []
    arrows = (
        _arrow_place(_put(line.path, sketch, scale_to), _shown_lengths(sketch, scale_to)) is not None
        for sketch in sewn
        for line in _seam_lines(sketch)
    )
    return [said["start"] if any(arrows) else said["start_dot"]]


def _put(path: Path, sketch: Sketch, scale_to: float) -> Path:
    """A path of the piece as it lies in the sketch, at scale."""
    return scale_path(transform_path(path, sketch.place), 1 / scale_to)


def _draw_name(lines: tuple[str, ...], base: Point, style: PageStyle) -> list[Mark]:
    size = style.label_type_mm
    first = base.y - NAME_GAP_MM - ascent_mm(size)
    return [
        TextMark(x_mm=base.x, y_mm=first - row * size * NAME_LEADING, text=line, size_mm=size)
        for row, line in enumerate(lines)
    ]


def _number_seams(
    sketch: Sketch, base: Point, scale_to: float, strips: set[str], numbers: Mapping[str, int], style: PageStyle
) -> list[Mark]:
    """The number of each seam inside the piece, beside the dot where it begins; of seams that begin at one place their
    numbers together."""
    marks: list[TextMark] = []
    size = style.label_type_mm
    for line in _seam_lines(sketch):
        if line.seam not in numbers or sketch.piece.name in strips:
            continue
        at = start_point(_put(line.path, sketch, scale_to))
        high, wide = sketch.height_mm / scale_to, sketch.width_at(scale_to)
        is_left = at.x < sketch.first_mm / scale_to / 2
        x = NUMBER_GAP_MM + at.x if is_left else min(at.x, wide) - NUMBER_GAP_MM
        if not is_left and sketch.is_broken:
            x = wide - (sketch.length_mm / scale_to - at.x) - NUMBER_GAP_MM
        up = at.y + NUMBER_GAP_MM if at.y < high / 2 else at.y - NUMBER_GAP_MM - cap_height_mm(size, "bold")
        marks.append(
            TextMark(
                x_mm=base.x + x,
                y_mm=base.y + up,
                text=str(numbers[line.seam]),
                size_mm=size,
                face="bold",
                anchor="start" if is_left else "end",
            )
        )
    return _join_numbers(marks)


def _join_numbers(marks: list[TextMark]) -> list[Mark]:
    """Numbers at one place as one: "1, 2"."""
    told: dict[tuple[float, float], list[TextMark]] = {}
    for mark in marks:
        told.setdefault((round(mark.x_mm, 1), round(mark.y_mm, 1)), []).append(mark)
    return [
        replace(found[0], text=", ".join(sorted((mark.text for mark in found), key=int))) for found in told.values()
    ]


def draw_sketch(
    sketch: Sketch, base: Point, scale_to: float, names: set[str], strips: set[str], style: PageStyle
) -> list[Mark]:
    """One piece with its bottom left corner at `base`; a broken one as two parts and two break lines."""
    marks = tuple(_draw_piece(sketch, scale_to, names, strips, style))
    high = sketch.height_mm / scale_to
    if not sketch.is_broken:
        wide = sketch.width_at(scale_to)
        return [_clip(marks, base, base.x - EDGE_MM, base.x + wide + EDGE_MM, high)]
    cut = base.x + sketch.first_mm / scale_to
    right = cut + BREAK_GAP_MM
    moved = Point(right - (sketch.length_mm - sketch.last_mm) / scale_to, base.y)
    return [
        _clip(marks, base, base.x - EDGE_MM, cut, high),
        _clip(marks, moved, right, right + sketch.last_mm / scale_to + EDGE_MM, high),
        _draw_break(cut, base.y, high, style),
        _draw_break(right, base.y, high, style),
    ]


def _clip(marks: tuple[Mark, ...], base: Point, left: float, right: float, high: float) -> ClipMark:
    box = Box(left, base.y - EDGE_MM, right, base.y + high + EDGE_MM)
    return ClipMark(box=box, marks=marks, dx_mm=base.x, dy_mm=base.y)


def _draw_break(x: float, bottom: float, high: float, style: PageStyle) -> PathMark:
    """A break line: straight, with one zigzag in its middle."""
    middle, jag = bottom + high / 2, min(1.0, high / 4)
    points = (
        Point(x, bottom - EDGE_MM),
        Point(x, middle - jag),
        Point(x - 0.8, middle - jag / 3),
        Point(x + 0.8, middle + jag / 3),
        Point(x, middle + jag),
        Point(x, bottom + high + EDGE_MM),
    )
    return PathMark(path=polyline(points), stroke=Stroke(style.thin_line_mm))


def _draw_piece(sketch: Sketch, scale_to: float, names: set[str], strips: set[str], style: PageStyle) -> list[Mark]:
    """All lines of a piece, from (0, 0) and at scale."""
    piece = sketch.piece

    def put(path: Path) -> Path:
        return _put(path, sketch, scale_to)

    thin, hair = Stroke(style.thin_line_mm), Stroke(style.hair_line_mm)
    marks: list[Mark] = []
    if sketch.drawn.is_skived:
        for skive in piece.skives:
            band = put(skive.band)
            marks += [PathMark(path=line, stroke=hair) for line in hatch_lines(band, HATCH_MM, HATCH_ANGLE)]
            marks.append(PathMark(path=band, stroke=hair))
    marks.append(PathMark(path=put(outline_path(piece.outline)), stroke=thin))
    landings = [item for item in piece.landings if item.piece in names and not sketch.drawn.is_skived]
    marks += [PathMark(path=put(item.outline), stroke=Stroke(style.thin_line_mm, LANDING_DASH_MM)) for item in landings]
    marks += [PathMark(path=put(drawn.path), stroke=hair) for drawn in piece.drawn]
    folds = [put(polyline((fold.start, fold.end))) for fold in piece.folds]
    marks += [PathMark(path=path, stroke=Stroke(style.thin_line_mm, DASH_MM)) for path in folds]
    slits = [put(polyline((slit.start, slit.end))) for slit in piece.slits]
    marks += [PathMark(path=path, stroke=Stroke(SLIT_LINE_MM)) for path in slits]
    for line in _seam_lines(sketch):
        marks += _draw_seam(
            put(line.path),
            shown=_shown_lengths(sketch, scale_to) if piece.name not in strips else (),
            holes=_put_holes(line, sketch, scale_to),
            style=style,
        )
    has_rings = _rings_fit(sketch, scale_to)
    for hole in piece.holes:
        marks += _draw_hole(hole, sketch, scale_to, has_rings, style)
    return marks


def _rings_fit(sketch: Sketch, scale_to: float) -> bool:
    """The rings round the holes that are made stay clear of each other, and leave the piece to be seen."""
    if not sketch.drawn.is_punched:
        return False
    discs = [(_put_point(hole.at, sketch, scale_to), _ring_mm(hole, scale_to)) for hole in sketch.piece.holes]
    if any(2 * radius > MOST_RING * sketch.height_mm / scale_to for _, radius in discs):
        return False
    ordered = sorted(discs, key=lambda disc: disc[0].x)
    widest = max((radius for _, radius in discs), default=0.0)
    for place, (at, radius) in enumerate(ordered):
        for other, wide in ordered[place + 1 :]:
            if other.x - at.x > radius + widest:
                break
            if distance(at, other) < radius + wide:
                return False
    return True


def _put_point(at: Point, sketch: Sketch, scale_to: float) -> Point:
    return scale(transform_point(at, sketch.place), 1 / scale_to)


def _hole_mm(hole: Hole, scale_to: float) -> float:
    """Radius on the paper of a hole that is made in the step; small ones are drawn larger."""
    return max(hole.diameter_mm / 2 / scale_to, PICKED_HOLE_MM)


def _ring_mm(hole: Hole, scale_to: float) -> float:
    """Radius of the ring round it, round both ends of an oblong one."""
    return _hole_mm(hole, scale_to) + math.hypot(hole.slot.x, hole.slot.y) / scale_to + RING_MM


def _draw_hole(hole: Hole, sketch: Sketch, scale_to: float, has_rings: bool, style: PageStyle) -> list[Mark]:
    """A white hole; one that is made in the step is black, with a ring round it where rings have room. Small ones
    are drawn larger."""
    is_punched, thin = sketch.drawn.is_punched, Stroke(style.thin_line_mm)
    at = _put_point(hole.at, sketch, scale_to)
    radius = _hole_mm(hole, scale_to) if is_punched else max(hole.diameter_mm / 2 / scale_to, LEAST_HOLE_MM)
    shown = replace(hole, diameter_mm=2 * radius * scale_to)
    rim = scale_path(transform_path(hole_path(shown), sketch.place), 1 / scale_to)
    if not is_punched:
        return [PathMark(path=rim, stroke=thin, fill=1.0)]
    made = PathMark(path=rim, fill=0.0)
    if not has_rings:
        return [made]
    return [PathMark(path=circle_path(at, _ring_mm(hole, scale_to)), stroke=thin), made]


def _seam_lines(sketch: Sketch) -> list[StitchLine]:
    return [line for line in sketch.piece.stitch_lines if line.seam in sketch.drawn.seams]


def _shows_holes(line: StitchLine, scale_to: float) -> bool:
    """Of a hand stitch every hole is drawn, where they stand apart on the paper."""
    gaps = [after - before for before, after in pairwise(line.holes_mm)]
    return line.by == "hand" and bool(gaps) and min(gaps) / scale_to >= STITCH_GAP_MM


def _put_holes(line: StitchLine, sketch: Sketch, scale_to: float) -> list[Point]:
    if not _shows_holes(line, scale_to):
        return []
    return [scale(transform_point(at, sketch.place), 1 / scale_to) for at, _ in points_at(line.path, line.holes_mm)]


def _shown_lengths(sketch: Sketch, scale_to: float) -> Lengths:
    """The stretches of a sketch that are drawn, from left to right in mm on the paper: two of a broken one."""
    long = sketch.length_mm / scale_to
    if not sketch.is_broken:
        return ((0.0, long),)
    return (0.0, sketch.first_mm / scale_to), (long - sketch.last_mm / scale_to, long)


def _draw_seam(path: Path, shown: Lengths, holes: list[Point], style: PageStyle) -> list[Mark]:
    """The thick line of a seam, or a thin one with its holes; a dot where it begins and an arrow the way it runs, on a
    stretch that is shown.

    A strip of a join has neither, nothing of it being given in `shown`: it may lie in the join more than once, and then
    either way about.
    """
    wide = style.thin_line_mm if holes else SEAM_LINE_MM
    marks: list[Mark] = [PathMark(path=path, stroke=Stroke(wide))]
    marks += [PathMark(path=circle_path(at, STITCH_DOT_MM), fill=0.0) for at in holes]
    if shown:
        marks.append(PathMark(path=circle_path(start_point(path), DOT_MM), fill=0.0))
    place = _arrow_place(path, shown) if shown else None
    if place is not None:
        at, along = point_at(path, place)
        tip, foot = add(at, scale(along, ARROW_MM / 2)), subtract(at, scale(along, ARROW_MM / 2))
        aside = scale(turn_left(along), ARROW_MM * 0.42)
        corners = (tip, add(foot, aside), subtract(foot, aside), tip)
        marks.append(PathMark(path=polyline(corners), fill=0.0))
    return marks


def _arrow_place(path: Path, shown: Lengths) -> float | None:
    """How far along the arrow stands: in the middle of the first stretch where that is straight and long, else about a
    third along; where the drawing is broken there, the next place that is shown. None where there is no room."""
    length = path_length(path)
    first = path_length(Path(path.segments[:1]))
    is_long = isinstance(path.segments[0], Line) and first > ARROW_ROOM * ARROW_MM
    wanted = first / 2 if is_long else 0.35 * length
    tried = sorted((length * step / ARROW_PLACES for step in range(1, ARROW_PLACES)), key=lambda at: abs(at - wanted))
    least = ARROW_MM / 2 + DOT_MM
    fit = (at for at in (wanted, *tried) if least < at < length - least and _has_room(path, at, shown))
    return next(fit, None)


def _has_room(path: Path, at_mm: float, shown: Lengths) -> bool:
    """An arrow there lies whole in one stretch that is shown."""
    at, _ = point_at(path, at_mm)
    return any(start + ARROW_MM / 2 <= at.x <= end - ARROW_MM / 2 for start, end in shown) or (
        len(shown) == 1 and shown[0][0] <= at.x <= shown[0][1]
    )
