"""Pieces of a step -> one small drawing to scale: the seam picked out, skived bands hatched, holes, names."""

import math
from collections.abc import Callable, Iterator, Mapping, Sequence, Set
from dataclasses import replace
from functools import cache

from docgen.fonts import ascent_mm
from docgen.geometry.measure import distance_to_path, hatch_lines
from docgen.geometry.path import circle_path, path_box, polyline
from docgen.geometry.shapes import Box, Point
from docgen.geometry.vector import add, distance, dot, scale, subtract, unit
from docgen.pages.drawn.small_seams import draw_seam, number_seams
from docgen.pages.drawn.small_sketch import (
    BREAK_GAP_MM,
    EDGE_MM,
    LEAST_WIDE_MM,
    NAME_GAP_MM,
    NAME_LEADING,
    SCALES,
    Arranged,
    Pen,
    Sketch,
    arrange_sketches,
    make_sketches,
)
from docgen.pages.drawn.stamps import runs_of, stamp
from docgen.pages.drawn.straps_on import StrapOn, break_points
from docgen.pages.looks.words import words
from docgen.pages.marks.page import ClipMark, Mark, PathMark, Stroke, TextMark, text_lines
from docgen.pages.setting.blocks import Figure, PageStyle
from docgen.plan import DrawnPiece, Plan
from docgen.resolve import Build, Hole, PieceLine, Skive, Slit, StitchLine, lines_of

READABLE_ROOM_MM = 60.0  # that a drawing may take where all is readable then, and not in the room that is left for it
GOOD_MM, LEAST_MM = 14.0, 7.0  # of the largest piece on paper, its length or width, beside numbers of 3 mm; our choice
SLIT_LINE_MM = 0.4
HATCH_MM = 1.1
HATCH_ANGLE = math.pi / 4
LEAST_HOLE_MM = 0.55  # radius
BLOT_MM = 0.2  # from a hole to a line, or both are one blot
PICKED_HOLE_MM = 0.8  # least radius of a hole that is made in the step
HOLE_SHARE = 0.4  # of the way to the next hole, that one is drawn large
HEAD_OVER_MM = 3.0  # of a head beyond its hole: common sizes, our choice
LEAST_HEAD_MM = 1.2  # radius on paper
SLIT_OVER_MM = 0.9  # that a slit which leads out of a hole is seen beyond it at least
FOLD_DASH_MM = (4.0, 0.9)  # as on the pattern, smaller: dashes of stitches are a third as long
LANDING_DASH_MM = (0.7, 0.7)
BEGUN = ("start_dot", "start")
NOT_SHOWN = ("notch", "centre")
SAID_WITH = {
    "start": "start_dot",
    "filled": "punched",
    "sewn_straps": "sewn",
}  # the words for the first say the second too


def small_drawer(
    plan: Plan, drawn: tuple[DrawnPiece, ...], width_mm: float, style: PageStyle, numbers: Mapping[str, int]
) -> Callable[[float], Figure | None]:
    """What draws the pieces side by side at one scale, as large as fits a greatest height in mm; None when there is nothing
    to draw. Seams in `numbers` carry their number where they begin.

    Where what fits is too small to be read, it takes more room, and is no larger there than it must be. What cannot be read
    in that room either is left out, and the caption says how many. What comes out at the same scale for several heights is
    drawn once.
    """
    sketches = make_sketches(plan, drawn)

    @cache
    def arrange(count: int, scale_to: float) -> Arranged | None:
        return arrange_sketches(sketches[:count], scale_to, width_mm, style)

    @cache
    def draw_at(count: int, scale_to: float) -> Figure | None:
        found = arrange(count, scale_to)
        left_out = len(sketches) - count
        return found and _make_figure(plan, found, scale_to, left_out, width_mm, style, numbers)

    def find_scale(count: int, max_height_mm: float) -> float | None:
        """At which so many are as large as fits, if they can be read so; else where they are least high. None where that
        takes more room than there is."""
        sizes = [(found[1], scale_to, found[0]) for scale_to in SCALES if (found := arrange(count, scale_to))]
        ways = [size for size in sizes if size[0] <= max_height_mm][:1]
        ways += sorted((size for size in sizes if size[0] <= READABLE_ROOM_MM), key=lambda size: size[:2])
        for least_mm, is_each in ((GOOD_MM, True), (LEAST_MM, True), (LEAST_MM, False)):
            for _, scale_to, cells in ways:
                alike = [cell.sketch for cell in cells if cell.scale_to == scale_to]
                largest_mm = max((sketch.largest_at(scale_to) for sketch in alike), default=0.0)
                is_large = largest_mm >= least_mm or scale_to == SCALES[0]
                if is_large and (not is_each or all(cell.is_readable for cell in cells)):
                    return scale_to
        return None

    def draw(max_height_mm: float) -> Figure | None:
        for count in range(len(sketches), 0, -1):
            scale_to = find_scale(count, max_height_mm)
            if scale_to is not None:
                return draw_at(count, scale_to)
        return None

    return draw


def _find_begun(build: Build, names: Set[str]) -> Mapping[str, str]:
    """The seams, each with its first partner that is a piece, as the words begin it there, where that is drawn."""
    cut = {piece.name for piece in build.pieces}
    sides = {seam.name: [side.part for side in seam.sides if side.edges and side.part in cut] for seam in build.seams}
    return {seam: parts[0] for seam, parts in sides.items() if parts and parts[0] in names}


def _make_figure(
    plan: Plan,
    found: Arranged,
    scale_to: float,
    left_out: int,
    width_mm: float,
    style: PageStyle,
    numbers: Mapping[str, int],
) -> Figure:
    cells, height = found
    names = frozenset(cell.sketch.drawn.name for cell in cells)
    strips = frozenset(name for join in plan.build.joins for name in join.pieces)
    begun_on = _find_begun(plan.build, names)
    marks: list[Mark] = []
    kinds: set[str] = set()
    clashes = sum(cell.is_narrow for cell in cells)
    for cell in cells:
        base = Point(cell.x, height - cell.y)
        pen = Pen(
            sketch=cell.sketch, scale_to=cell.scale_to, style=style, names=names, strips=strips, begun_on=begun_on
        )
        drawn, used = draw_sketch(pen, base)
        kinds |= used
        marks += drawn
        numbered, crossed = number_seams(pen, base, numbers, drawn)
        marks += numbered
        clashes += crossed + _has_blot(pen)
        marks += _draw_name(cell.lines, Point(base.x, base.y - cell.below_mm), style)
    said = words("drawing")
    caption = f"{said['scale']} 1:{scale_to:g}" + (f"; {left_out} {said['left_out']}" if left_out else "")
    on_it = dict.fromkeys(
        title
        for cell in cells
        for title in (*(strap.landing.title for strap in cell.sketch.straps), *cell.sketch.on.titles)
    )
    caption += f"; {said['on_it']}: {', '.join(on_it)}" if on_it else ""
    return Figure(width_mm, height, tuple(marks), caption, tuple(sorted(kinds.intersection(said))), clashes)


def key_words(kinds: Set[str]) -> str:
    """A word for each kind of line that is in drawings, in the order of the words."""
    said = words("drawing")
    shown = kinds - {less for more, less in SAID_WITH.items() if more in kinds}
    return "; ".join(said[kind] for kind in said if kind in shown)


def _draw_name(lines: tuple[str, ...], base: Point, style: PageStyle) -> tuple[TextMark, ...]:
    size = style.label_type_mm
    first = base.y - NAME_GAP_MM - ascent_mm(size)
    return text_lines(lines, base.x, first, size * NAME_LEADING, size)


def draw_sketch(pen: Pen, base: Point) -> tuple[list[Mark], set[str]]:
    """One piece with its bottom left corner at `base`, a broken one as two parts and two break lines; and the kinds of
    lines that were drawn, by their names in the words."""
    sketch, scale_to, style = pen.sketch, pen.scale_to, pen.style
    drawn = tuple(_draw_piece(pen))
    begun = tuple(mark for kind, mark in drawn if kind in BEGUN)  # a keeper hides no beginning
    kinds, marks = {kind for kind, _ in drawn}, tuple(mark for kind, mark in drawn if kind not in BEGUN)
    kinds |= {"set"} if any(takes in sketch.drawn.set for takes, _ in sketch.on.posts) else set()
    box = _room_of(sketch, base, scale_to)
    moved, shown, breaks = base, [(base, box)], list[Mark]()
    if sketch.is_broken:
        cut, high = base.x + sketch.first_mm / scale_to, sketch.height_mm / scale_to
        right = cut + BREAK_GAP_MM
        moved = Point(right - (sketch.length_mm - sketch.last_mm) / scale_to, base.y)
        shown = [(base, replace(box, right=cut)), (moved, replace(box, left=right))]
        breaks = [_draw_break(x, base.y, high, style) for x in (cut, right)]
        kinds.add("broken")
    parts: list[Mark] = [
        *_draw_rods(pen, base, moved),
        *(_clip(marks, at, part) for at, part in shown),
        *_draw_on(pen, base, moved),
        *(_clip(begun, at, part) for at, part in shown if begun),
        *breaks,
    ]
    return parts, kinds


def _room_of(sketch: Sketch, base: Point, scale_to: float) -> Box:
    """What is drawn of a sketch itself: as far as its folds, else a little beyond its edges."""
    around, folded = sketch.around_at(scale_to), sketch.folded
    left, bottom, right, top = (
        0.0 if is_folded else EDGE_MM + over
        for is_folded, over in (
            (folded.left, around.left),
            (folded.bottom, around.bottom),
            (folded.right, around.right),
            (folded.top, around.top),
        )
    )
    wide, high = sketch.width_at(scale_to), sketch.height_mm / scale_to
    return Box(base.x - left, base.y - bottom, base.x + wide + right, base.y + high + top)


def _put_on(pen: Pen, base: Point, moved: Point, points: Sequence[Point]) -> list[Point]:
    """Points of a sketch on paper; `moved` is where its second half begins from, where that is drawn apart."""
    at = pen.put_points(points)
    is_second = sum(x for x, _ in at) / len(at) > pen.sketch.length_mm / pen.scale_to / 2
    by = moved if is_second else base
    return [Point(x + by.x, y + by.y) for x, y in at]


def _draw_rods(pen: Pen, base: Point, moved: Point) -> Iterator[Mark]:
    """What hangs in the folds of a strap, beneath it."""
    thin = Stroke(pen.style.thin_line_mm)
    for thing, rings in pen.sketch.on.things:
        for ring in rings if not thing.is_over else ():
            yield PathMark(path=polyline(_put_on(pen, base, moved, ring), closed=True), stroke=thin)
    for strip in pen.sketch.on.edges:
        yield PathMark(path=polyline(_put_on(pen, base, moved, strip), closed=True), fill=1.0)


def _draw_on(pen: Pen, base: Point, moved: Point) -> Iterator[Mark]:
    """Over a strap that is turned back its edges at the folds, what closes the ends, keepers and bows."""
    thin = Stroke(pen.style.thin_line_mm)
    for strip in pen.sketch.on.edges:
        at = _put_on(pen, base, moved, strip)
        yield PathMark(path=polyline((at[0], at[-1])), stroke=thin)
    for takes, spot in pen.sketch.on.posts:
        (middle,) = _put_on(pen, base, moved, [spot])
        is_new = takes in pen.sketch.drawn.set
        yield PathMark(
            path=circle_path(middle, LEAST_HEAD_MM if is_new else PICKED_HOLE_MM),
            stroke=Stroke(pen.style.thick_line_mm) if is_new else thin,
            fill=1.0,
        )
    for thing, rings in pen.sketch.on.things:
        for ring in rings if thing.is_over else ():
            yield PathMark(path=polyline(_put_on(pen, base, moved, ring), closed=True), stroke=thin, fill=1.0)


def _clip(marks: tuple[Mark, ...], base: Point, box: Box) -> ClipMark:
    return ClipMark(box=box, marks=marks, dx_mm=base.x, dy_mm=base.y)


def _draw_break(x: float, bottom: float, high: float, style: PageStyle) -> PathMark:
    points = break_points(Point(x, bottom), Point(x, bottom + high))
    return PathMark(path=polyline(points), stroke=Stroke(style.thin_line_mm))


def _draw_piece(pen: Pen) -> Iterator[tuple[str, Mark]]:
    """All lines of a piece, from (0, 0) and at scale, each with the name of its kind; what lies on it covers what is
    beneath, but for holes and rows, which go through both."""
    *lines, outline = lines_of(pen.sketch.piece)
    over = [line for line in lines if isinstance(line, Hole | StitchLine)]
    laid = [line for line in lines if line.kind == "landing" and line.key in pen.sketch.drawn.laid]
    under = [line for line in lines if not (isinstance(line, Hole | StitchLine) or line in laid)]
    for line, places in runs_of((outline, *under, *laid, *over) if laid else (outline, *lines)):
        if isinstance(line, Hole):
            marks = _draw_hole(line, pen)
            kind = "punched" if pen.sketch.drawn.is_punched else "set" if _is_set(line, pen) else line.kind
            yield from ((kind, mark) for mark in stamp(marks, pen.put_points(places)))
        elif isinstance(line, StitchLine):
            yield from draw_seam(line, pen)
        elif isinstance(line, Skive):
            yield from _draw_skive(line, pen)
        elif isinstance(line, Slit):
            yield line.kind, PathMark(path=polyline(_ends_of_slit(line, pen)), stroke=_stroke(line.kind, pen.style))
        elif line in laid:
            yield "cut", PathMark(path=pen.put(line.path), stroke=_stroke("cut", pen.style), fill=1.0)
            for strap in pen.sketch.straps:
                if strap.landing == line:
                    yield from _draw_strap_on(strap, pen)
        elif _is_shown(line, pen):
            yield line.kind, PathMark(path=pen.put(line.path), stroke=_stroke(line.kind, pen.style))


def _draw_strap_on(strap: StrapOn, pen: Pen) -> Iterator[tuple[str, Mark]]:
    """What goes on of a strap, over the line where what lies fast ends."""
    corners, stroke = pen.put_points(strap.corners_at(pen.scale_to)), _stroke("cut", pen.style)
    yield "cut", PathMark(path=polyline((*corners, corners[0])), fill=1.0)
    is_broken = strap.is_broken_at(pen.scale_to)
    for side in (corners[:2], corners[2:]) if strap.is_held or is_broken else (corners,):
        yield "cut", PathMark(path=polyline(side), stroke=stroke)
    if is_broken:
        yield "goes_on", PathMark(path=polyline(break_points(corners[1], corners[2])), stroke=stroke)


def _ends_of_slit(slit: Slit, pen: Pen) -> list[Point]:
    """Where a slit ends on paper: one that leads out of a hole, which is drawn larger than it is, beyond that."""
    ends = []
    for end, other in ((slit.start, slit.end), (slit.end, slit.start)):
        at, way = pen.put_point(end), unit(subtract(end, other)) if end != other else Point(0.0, 0.0)
        for hole in pen.sketch.piece.marks.holes:
            middle = pen.put_point(hole.at)
            least_mm = _drawn_mm(hole, pen) + SLIT_OVER_MM
            is_out = hole.diameter_mm / 2 < distance(end, hole.at) and distance(at, middle) < least_mm
            if is_out and dot(way, subtract(end, hole.at)) > 0:
                at = add(at, scale(way, least_mm - distance(at, middle)))
        ends.append(at)
    return ends


def _is_shown(line: PieceLine, pen: Pen) -> bool:
    """What lands is shown where it is drawn too, and not while bands are skived, nor where it is so narrow on paper that
    with a hole in it it would be a blot."""
    if line.kind == "landing":
        box = path_box(line.path)
        is_wide = min(box.width, box.height) / pen.scale_to >= LEAST_WIDE_MM
        return line.key in pen.names and not pen.sketch.drawn.is_skived and is_wide
    return line.kind not in NOT_SHOWN


def _stroke(kind: str, style: PageStyle) -> Stroke:
    thin = style.thin_line_mm
    strokes = {
        "cut": Stroke(thin),
        "landing": Stroke(thin, LANDING_DASH_MM),
        "fold": Stroke(thin, FOLD_DASH_MM),
        "slit": Stroke(SLIT_LINE_MM),
    }
    return strokes.get(kind, Stroke(style.hair_line_mm))


def _draw_skive(skive: Skive, pen: Pen) -> Iterator[tuple[str, Mark]]:
    """The band hatched, where it is skived in the step."""
    if pen.sketch.drawn.is_skived:
        band, hair = pen.put(skive.band), Stroke(pen.style.hair_line_mm)
        for path in (*hatch_lines(band, HATCH_MM, HATCH_ANGLE), band):
            yield "skived", PathMark(path=path, stroke=hair)


def _drawn_mm(hole: Hole, pen: Pen) -> float:
    """Radius on the paper of a hole as it is drawn: small ones larger, but so that two beside each other stay two."""
    wanted_mm = PICKED_HOLE_MM if pen.sketch.drawn.is_punched else LEAST_HOLE_MM
    others = (distance(hole.at, one.at) for one in pen.sketch.piece.marks.holes if one is not hole and not one.long_mm)
    near_mm = min((mm for mm in others if mm > 0), default=math.inf) / pen.scale_to
    return max(hole.diameter_mm / 2 / pen.scale_to, min(wanted_mm, near_mm * HOLE_SHARE))


def _has_blot(pen: Pen) -> bool:
    """Whether a hole, which is drawn larger than it is, lies on a fold or a seam there that it is clear of."""
    drawn = pen.sketch.drawn
    lines = [line for line in lines_of(pen.sketch.piece) if line.kind == "fold"]
    lines += [line for line in lines_of(pen.sketch.piece) if isinstance(line, StitchLine) and line.seam in drawn.seams]
    gaps = (
        (distance_to_path(line.path, hole.at), hole)
        for hole in pen.sketch.piece.marks.holes
        for line in lines
        if not hole.long_mm
    )
    return any(
        gap_mm > hole.diameter_mm / 2 and gap_mm / pen.scale_to < _drawn_mm(hole, pen) + BLOT_MM
        for gap_mm, hole in gaps
    )


def _is_set(hole: Hole, pen: Pen) -> bool:
    """Whether hardware is set in a hole in this step, and the hole is not made in it too."""
    return hole.takes in pen.sketch.drawn.set and not pen.sketch.drawn.is_punched


def _draw_hole(hole: Hole, pen: Pen) -> list[Mark]:
    """A white hole, or the head of what is set there; one that is made in the step is black. Small ones are drawn
    larger."""
    is_punched, thin, radius = pen.sketch.drawn.is_punched, Stroke(pen.style.thin_line_mm), _drawn_mm(hole, pen)
    is_round, at = not hole.long_mm, pen.put_point(hole.at)
    rim = circle_path(at, radius) if is_round else pen.put(replace(hole, diameter_mm=2 * radius * pen.scale_to).path)
    if _is_set(hole, pen):
        head_mm = max(hole.diameter_mm / 2 + HEAD_OVER_MM, LEAST_HEAD_MM * pen.scale_to) / pen.scale_to
        return [PathMark(path=circle_path(at, head_mm), stroke=Stroke(pen.style.thick_line_mm), fill=1.0)]
    if not is_punched:
        return [PathMark(path=rim, stroke=thin, fill=1.0)]
    return [PathMark(path=rim, fill=0.0)]
