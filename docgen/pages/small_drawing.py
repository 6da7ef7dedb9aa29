"""Pieces of a step -> one small drawing to scale: the seam picked out, skived bands hatched, holes, names.

Long straps lie down with their middle broken out, so that both ends can be read.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from docgen.fonts import ascent_mm, text_width_mm, wrap_text
from docgen.geometry import (
    Box,
    Line,
    Path,
    Point,
    Transform,
    add,
    circle_path,
    compose,
    hatch_lines,
    outline_box,
    outline_path,
    path_box,
    path_length,
    point_at,
    polyline,
    rotation,
    scale,
    scale_path,
    start_point,
    subtract,
    transform_path,
    transform_point,
    translation,
    turn_left,
)
from docgen.pages.blocks import Figure, PageStyle
from docgen.pages.page import ClipMark, Mark, PathMark, Stroke, TextMark
from docgen.pages.templates import words
from docgen.plan import DrawnPiece, Plan
from docgen.resolve import Piece

# The scales tried, largest first: a drawing is 1 to one of these.
SCALES = (2, 2.5, 3, 4, 5, 6, 7, 8, 10, 12, 15, 20, 25, 30, 40, 50, 75, 100, 150, 200)
LYING_RATIO = 3.0  # longer than this in widths, a standing piece is laid down
BROKEN_RATIO = 6.0  # longer than this in widths, a piece is broken
END_RATIO = 2.5  # how much of each end is shown at least, in widths

SEAM_LINE_MM = 0.6
SLIT_LINE_MM = 0.4
BREAK_GAP_MM = 2.6
EDGE_MM = 1.2  # kept free all round, for the thickness of lines and the break lines
CELL_GAP_MM = 4.0
ROW_GAP_MM = 3.5
NAME_WIDTH_MM = 21.0
NAME_GAP_MM = 1.4
NAME_LEADING = 1.2
MOST_NAME_LINES = 3
HATCH_MM = 1.1
HATCH_ANGLE = math.pi / 4
LEAST_HOLE_MM = 0.55  # radius
DOT_MM = 1.05  # radius of the dot where a seam begins
ARROW_MM = 2.8
DASH_MM = (1.6, 1.0)
LANDING_DASH_MM = (0.7, 0.7)


@dataclass(frozen=True, slots=True, kw_only=True)
class Sketch:
    """A piece as it will lie, in its own mm; `place` brings it to (0, 0).

    Of a broken one `first_mm` and `last_mm` of its length are shown, else `first_mm` is all of it.
    """

    piece: Piece
    drawn: DrawnPiece
    place: Transform
    first_mm: float
    last_mm: float
    length_mm: float
    height_mm: float

    @property
    def is_broken(self) -> bool:
        return self.first_mm + self.last_mm < self.length_mm

    def width_at(self, scale_to: float) -> float:
        """Width on paper at 1 to `scale_to`."""
        gap = BREAK_GAP_MM if self.is_broken else 0.0
        return (self.first_mm + self.last_mm) / scale_to + gap


@dataclass(frozen=True, slots=True, kw_only=True)
class _Cell:
    """A sketch and the lines of its name; (x, y) is its bottom left on the figure, y down from the top."""

    sketch: Sketch
    lines: tuple[str, ...]
    x: float
    y: float


def draw_small_pieces(
    plan: Plan, drawn: tuple[DrawnPiece, ...], width_mm: float, max_height_mm: float, style: PageStyle
) -> Figure | None:
    """The pieces side by side at one scale, as large as fits; None when there is nothing to draw.

    What does not fit even at the smallest scale is left out, and the caption says how many.
    """
    sketches = _make_sketches(plan, drawn)
    for count in range(len(sketches), 0, -1):
        for scale_to in SCALES:
            found = _arrange(sketches[:count], scale_to, width_mm, max_height_mm, style)
            if found is not None:
                return _make_figure(plan, found, scale_to, len(sketches) - count, width_mm, style)
    return None


def _make_sketches(plan: Plan, drawn: tuple[DrawnPiece, ...]) -> tuple[Sketch, ...]:
    """Each piece once, in order, with all that is picked out on it."""
    pieces = {piece.name: piece for piece in plan.build.pieces}
    pieces |= {strap.name: strap.piece for strap in plan.build.straps}
    merged: dict[str, DrawnPiece] = {}
    for item in drawn:
        known = merged.get(item.name, item)
        seams = tuple(dict.fromkeys((*known.seams, *item.seams)))
        merged[item.name] = DrawnPiece(
            name=item.name, seams=seams, is_skived=known.is_skived or item.is_skived
        )
    return tuple(make_sketch(pieces[name], item) for name, item in merged.items() if name in pieces)


def make_sketch(piece: Piece, drawn: DrawnPiece) -> Sketch:
    box = outline_box(piece.outline)
    turn = rotation(-math.pi / 2) if box.height > LYING_RATIO * box.width else Transform()
    lying = path_box(transform_path(outline_path(piece.outline), turn))
    place = compose(turn, translation(-lying.left, -lying.bottom))
    length, height = lying.width, lying.height
    first, last = length, 0.0
    if length > BROKEN_RATIO * height:
        first, last = _find_ends(piece, place, length, height)
    return Sketch(
        piece=piece,
        drawn=drawn,
        place=place,
        first_mm=first,
        last_mm=last,
        length_mm=length,
        height_mm=height,
    )


def _find_ends(piece: Piece, place: Transform, length: float, height: float) -> tuple[float, float]:
    """How much of each end is shown, holes, folds, slits included; all and nothing when that saves little."""
    places = [hole.at for hole in piece.holes]
    places += [point for fold in piece.folds for point in (fold.start, fold.end)]
    places += [point for slit in piece.slits for point in (slit.start, slit.end)]
    along = [transform_point(point, place).x for point in places]
    least = END_RATIO * height
    first = max([least, *(x + height for x in along if x < length / 2)])
    last = max([least, *(length - x + height for x in along if x >= length / 2)])
    return (first, last) if first + last < 0.8 * length else (length, 0.0)


def _arrange(
    sketches: tuple[Sketch, ...], scale_to: float, width_mm: float, max_height_mm: float, style: PageStyle
) -> tuple[tuple[_Cell, ...], float] | None:
    """Cells in rows, and the height they take; None when they do not fit at this scale."""
    line = style.label_type_mm * NAME_LEADING
    rows: list[list[tuple[Sketch, tuple[str, ...], float]]] = [[]]
    left = EDGE_MM
    for sketch in sketches:
        wide = sketch.width_at(scale_to)
        if wide > width_mm - 2 * EDGE_MM:
            return None
        named = min(text_width_mm(sketch.piece.title, "regular", style.label_type_mm), NAME_WIDTH_MM)
        room = min(max(wide, named + 0.01), width_mm - 2 * EDGE_MM)
        if rows[-1] and left + room > width_mm - EDGE_MM:
            rows.append([])
            left = EDGE_MM
        rows[-1].append((sketch, _name_lines(sketch.piece.title, room, style), left))
        left += room + CELL_GAP_MM
    cells: list[_Cell] = []
    y = EDGE_MM
    for row in rows:
        y += max(sketch.height_mm for sketch, _, _ in row) / scale_to
        cells += [_Cell(sketch=sketch, lines=lines, x=x, y=y) for sketch, lines, x in row]
        y += NAME_GAP_MM + max(len(lines) for _, lines, _ in row) * line + ROW_GAP_MM
    height = y - ROW_GAP_MM + EDGE_MM
    return (tuple(cells), height) if height <= max_height_mm else None


def _name_lines(title: str, width_mm: float, style: PageStyle) -> tuple[str, ...]:
    """The name in as many lines as are allowed; the last one ends in an ellipsis when more would follow."""
    lines = wrap_text(title, "regular", style.label_type_mm, width_mm)
    if len(lines) <= MOST_NAME_LINES:
        return lines
    return (*lines[: MOST_NAME_LINES - 1], lines[MOST_NAME_LINES - 1][:-2].rstrip() + "…")


def _make_figure(
    plan: Plan,
    found: tuple[tuple[_Cell, ...], float],
    scale_to: float,
    left_out: int,
    width_mm: float,
    style: PageStyle,
) -> Figure:
    cells, height = found
    names = {cell.sketch.drawn.name for cell in cells}
    strips = {name for join in plan.build.joins for name in join.pieces}
    marks: list[Mark] = []
    for cell in cells:
        base = Point(cell.x, height - cell.y)
        marks += draw_sketch(cell.sketch, base, scale_to, names, strips, style)
        marks += _draw_name(cell.lines, base, style)
    return Figure(width_mm, height, tuple(marks), _caption(cells, scale_to, left_out, strips))


def _caption(cells: tuple[_Cell, ...], scale_to: float, left_out: int, strips: set[str]) -> str:
    """Scale, and a word for each kind of line that is there."""
    said = words("drawing")
    shown = [cell.sketch for cell in cells]
    sewn = [sketch for sketch in shown if _seam_paths(sketch)]
    parts = [f"{said['scale']} 1:{scale_to:g}"]
    parts += [said["seam"]] if sewn else []
    parts += [said["start"]] if any(sketch.piece.name not in strips for sketch in sewn) else []
    parts += (
        [said["skived"]] if any(sketch.drawn.is_skived and sketch.piece.skives for sketch in shown) else []
    )
    parts += [said["fold"]] if any(sketch.piece.folds for sketch in shown) else []
    parts += [said["broken"]] if any(sketch.is_broken for sketch in shown) else []
    parts += [f"{left_out} {said['left_out']}"] if left_out else []
    return "; ".join(parts)


def _draw_name(lines: tuple[str, ...], base: Point, style: PageStyle) -> list[Mark]:
    size = style.label_type_mm
    first = base.y - NAME_GAP_MM - ascent_mm(size)
    return [
        TextMark(x_mm=base.x, y_mm=first - row * size * NAME_LEADING, text=line, size_mm=size)
        for row, line in enumerate(lines)
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
        Point(x, bottom - EDGE_MM), Point(x, middle - jag), Point(x - 0.8, middle - jag / 3),
        Point(x + 0.8, middle + jag / 3), Point(x, middle + jag), Point(x, bottom + high + EDGE_MM),
    )  # fmt: skip
    return PathMark(path=polyline(points), stroke=Stroke(style.thin_line_mm))


def _draw_piece(
    sketch: Sketch, scale_to: float, names: set[str], strips: set[str], style: PageStyle
) -> list[Mark]:
    """All lines of a piece, from (0, 0) and at scale."""
    piece = sketch.piece

    def put(path: Path) -> Path:
        return scale_path(transform_path(path, sketch.place), 1 / scale_to)

    thin, hair = Stroke(style.thin_line_mm), Stroke(style.hair_line_mm)
    marks: list[Mark] = []
    if sketch.drawn.is_skived:
        for skive in piece.skives:
            band = put(skive.band)
            marks += [PathMark(path=line, stroke=hair) for line in hatch_lines(band, HATCH_MM, HATCH_ANGLE)]
            marks.append(PathMark(path=band, stroke=hair))
    marks.append(PathMark(path=put(outline_path(piece.outline)), stroke=thin))
    landings = [item for item in piece.landings if item.piece in names and not sketch.drawn.is_skived]
    marks += [
        PathMark(path=put(item.outline), stroke=Stroke(style.thin_line_mm, LANDING_DASH_MM))
        for item in landings
    ]
    folds = [put(polyline((fold.start, fold.end))) for fold in piece.folds]
    marks += [PathMark(path=path, stroke=Stroke(style.thin_line_mm, DASH_MM)) for path in folds]
    slits = [put(polyline((slit.start, slit.end))) for slit in piece.slits]
    marks += [PathMark(path=path, stroke=Stroke(SLIT_LINE_MM)) for path in slits]
    for path in _seam_paths(sketch):
        marks += _draw_seam(put(path), has_start=piece.name not in strips)
    for hole in piece.holes:
        at = scale(transform_point(hole.at, sketch.place), 1 / scale_to)
        radius = max(hole.diameter_mm / 2 / scale_to, LEAST_HOLE_MM)
        marks.append(PathMark(path=circle_path(at, radius), stroke=thin, fill=1.0))
    return marks


def _seam_paths(sketch: Sketch) -> list[Path]:
    return [line.path for line in sketch.piece.stitch_lines if line.seam in sketch.drawn.seams]


def _draw_seam(path: Path, has_start: bool) -> list[Mark]:
    """The thick line of a seam; a dot where it begins and an arrow the way it runs.

    A strip of a join has neither: it may lie in the join more than once, and then either way about.
    """
    length = path_length(path)
    marks: list[Mark] = [PathMark(path=path, stroke=Stroke(SEAM_LINE_MM))]
    if has_start:
        marks.append(PathMark(path=circle_path(start_point(path), DOT_MM), fill=0.0))
    if has_start and length > 3 * ARROW_MM:
        at, along = point_at(path, _arrow_place(path, length))
        tip, foot = add(at, scale(along, ARROW_MM / 2)), subtract(at, scale(along, ARROW_MM / 2))
        aside = scale(turn_left(along), ARROW_MM * 0.42)
        corners = (tip, add(foot, aside), subtract(foot, aside), tip)
        marks.append(PathMark(path=polyline(corners), fill=0.0))
    return marks


def _arrow_place(path: Path, length: float) -> float:
    """How far along the arrow stands: in the middle of the first stretch where that is straight and long."""
    first = path_length(Path(path.segments[:1]))
    if isinstance(path.segments[0], Line) and first > 3 * ARROW_MM:
        return first / 2
    return 0.35 * length
