"""Stacks -> sections side by side, to one scale: layers from the top down with their names and thicknesses, the grain side
a heavy line, the flesh side short strokes, and the thread or the post through them."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from docgen.assemble import Ply
from docgen.classes import dataclass
from docgen.fonts import cap_height_mm, wrap_text
from docgen.geometry.path import box_path, polyline
from docgen.geometry.shapes import Arc, Box, Path, Point
from docgen.pages.looks.words import words
from docgen.pages.marks.page import Mark, PathMark, Stroke, TextMark, text_lines
from docgen.pages.pictures.stacks import StackPicture, Through
from docgen.pages.setting.blocks import Figure, PageStyle
from docgen.written.units.telling import format_mm, format_number

SCALES = (2.0, 1.0)  # of enlargement, as ISO 5455 has them
MOST_HIGH_MM = 34.0  # of a pile on paper, before the smaller scale is taken
COLUMNS = 3
MOST_CELL_MM = 100.0
MOST_COLUMN_MM = 95.0  # of cells that stay on one page
PILE_WIDE_MM = 14.0
GAP_MM = 0.7  # between layers, so that their lines stay apart in a copy
LABEL_GAP_MM = 3.0  # from a layer to its name
CELL_GAP_MM = 4.0
ROW_GAP_MM = 3.0
HEAD_GAP_MM = 0.8  # from a title to its pile
STROKE_MM = 0.8  # of the flesh side
STROKES_EVERY_MM = 1.2
HATCH_EVERY_MM = 1.5
LEADING = 1.2
NAME_RISE_MM = 0.4  # from the top of a line to its capitals
LETTER_WIDE_MM = 5.5
CAP_SHARE = 1.9  # of a cap, of the width of its shank
CAP_HIGH_MM = 1.2
SOCKET_SHARE = 0.25  # of each side of a socket, of its width
KNOB_SHARE = 0.5  # of a stud
RIM_HIGH_MM = 0.4
LEAST_SHANK_MM = 1.5
THREAD_OFF_MM = 0.6  # from a face to the thread on it: no line of it may seem to make that of the face heavy
SHOULDER_MM = 2.5  # what is left of the neighbouring stitches
DASH_MM = (1.5, 0.9)  # round what lies there in part


@dataclass(frozen=True, slots=True, kw_only=True)
class Cell:
    """A stack ready to be drawn: lines of its title, and for each layer its name and the box that it fills, y down from
    the foot of the title."""

    stack: StackPicture
    title: tuple[str, ...]
    labels: tuple[tuple[str, ...], ...]
    label_tops: tuple[float, ...]
    layers: tuple[tuple[float, float], ...]
    head_mm: float
    height_mm: float
    scale: float


def draw_stack(stack: StackPicture, step: int, width_mm: float, scale: float, style: PageStyle) -> Figure:
    """The section of a stack as a step makes it, for a column so wide."""
    return _draw_columns([_set_cell(stack, step, width_mm, scale, style)], width_mm, width_mm, style)


def draw_stacks(
    stacks: Sequence[StackPicture], step: int, width_mm: float, scale: float, style: PageStyle
) -> list[Figure]:
    """The sections of a step (0 for what no step makes) in columns across the page, as many as stay together; none with
    names beyond all measure."""
    wide = (width_mm - (COLUMNS - 1) * CELL_GAP_MM) / COLUMNS
    cells = [_set_cell(stack, step, wide, scale, style) for stack in stacks]
    cells = [cell for cell in cells if cell.height_mm <= MOST_CELL_MM]
    return [_draw_columns(part, wide, width_mm, style) for part in _share_out(cells)] if cells else []


def _share_out(cells: Sequence[Cell]) -> Iterator[Sequence[Cell]]:
    """As many cells at a time as are not too high in columns."""
    begin = 0
    for end in range(1, len(cells) + 1):
        if end == len(cells) or _columns_mm(cells[begin : end + 1]) > MOST_COLUMN_MM:
            yield cells[begin:end]
            begin = end


def _columns_mm(cells: Sequence[Cell]) -> float:
    """How high the highest column is."""
    return max(sum(cell.height_mm + ROW_GAP_MM for cell in column) for column in _fill_columns(cells))


def _fill_columns(cells: Sequence[Cell]) -> list[list[Cell]]:
    """The cells one below the other, in columns that are as low as their order lets them be."""
    heights = [cell.height_mm + ROW_GAP_MM for cell in cells]
    for room in sorted({sum(heights[i:j]) for i in range(len(heights)) for j in range(i + 1, len(heights) + 1)}):
        columns: list[list[Cell]] = [[]]
        left = room
        for cell, high in zip(cells, heights, strict=True):
            if high > left + 1e-9 and columns[-1]:
                columns.append([])
                left = room
            columns[-1].append(cell)
            left -= high
        if len(columns) <= COLUMNS and max(heights) <= room + 1e-9:
            return columns
    return [[*cells]]


def find_scale(stacks: Sequence[StackPicture]) -> float:
    """The one to which all sections of a build are drawn."""
    highest = max(sum(ply.thickness_mm for ply in stack.pile) + GAP_MM * len(stack.pile) for stack in stacks)
    return next((scale for scale in SCALES if highest * scale <= MOST_HIGH_MM), SCALES[-1])


def _set_cell(stack: StackPicture, step: int, wide: float, scale: float, style: PageStyle) -> Cell:
    size = style.label_type_mm
    title = wrap_text(_title(stack, step), "bold", size, wide - LETTER_WIDE_MM)
    head = max(len(title), 1) * size * LEADING + HEAD_GAP_MM
    room = wide - PILE_WIDE_MM - LABEL_GAP_MM
    told = [_names(names, before) for names, before in zip(stack.names, ((), *stack.names), strict=False)]
    labels = tuple(
        wrap_text(_label(ply, name), "regular", size, room) for ply, name in zip(stack.pile, told, strict=True)
    )
    heights = [max(ply.thickness_mm * scale, 2 * style.thin_line_mm) for ply in stack.pile]
    thread_mm = THREAD_OFF_MM + _thread_wide_mm(stack.through, scale, style)
    ends = (CAP_HIGH_MM if stack.through.hardware else thread_mm) + style.thin_line_mm
    pile_mm = sum(heights) + GAP_MM * (len(heights) - 1) + 2 * ends
    names_mm = sum(len(lines) for lines in labels) * size * LEADING
    top = max((names_mm - pile_mm) / 2, 0.0) + ends
    layers = []
    for height in heights:
        layers.append((top, top + height))
        top += height + GAP_MM
    return Cell(
        stack=stack,
        title=title,
        labels=labels,
        label_tops=_place_labels(labels, layers, size * LEADING, max(names_mm, pile_mm)),
        layers=tuple(layers),
        head_mm=head,
        height_mm=head + max(names_mm, pile_mm),
        scale=scale,
    )


def _place_labels(
    labels: Sequence[tuple[str, ...]], layers: Sequence[tuple[float, float]], leading: float, room: float
) -> tuple[float, ...]:
    """Where each name begins, y down: level with the middle of its layer where there is room, in their order."""
    tops: list[float] = []
    free = 0.0
    for lines, (top, foot) in zip(labels, layers, strict=True):
        tops.append(max(free, (top + foot - len(lines) * leading) / 2))
        free = tops[-1] + len(lines) * leading
    low = room
    for k in range(len(tops) - 1, -1, -1):
        tops[k] = min(tops[k], low - len(labels[k]) * leading)
        low = tops[k]
    return tuple(tops)


def _title(stack: StackPicture, step: int) -> str:
    """What is sewn or set there in a step: "Top edge of the back; Top edge of the front"; of a post what it is; and which
    other steps do so."""
    said, through = words("pictures"), stack.through
    what = "; ".join(stack.titles({step}))
    if through.hardware:
        half = f" ({said[through.half]})" if through.half else ""
        lengths = " / ".join(format_number(mm, 1) for mm in through.posts_mm)
        post = f", {said['post']} {lengths} mm" if lengths else ""
        flange = f", {said['flange']} {format_number(through.flange_mm, 1)} mm" if through.flange_mm else ""
        what = f"{through.hardware}{half}{post}{flange}: {what}"
    others = [str(one) for one in stack.steps if one != step]
    return (
        f"{what}; {said['also']} {said['step' if len(others) == 1 else 'steps']} {', '.join(others)}"
        if others
        else what
    )


def _names(names: Sequence[str], before: Sequence[str]) -> str:
    """The parts that a layer may be of; several that are those of the layer above are not named again."""
    return words("pictures")["same"] if len(names) > 1 and names == before else " / ".join(names)


def _label(ply: Ply, name: str) -> str:
    said = words("pictures")
    part = f", {said['in_part']}".replace(" ", "\u00a0") if ply.is_partial else ""
    return f"{name} {format_mm(ply.thickness_mm)}{part}".replace(" mm", "\u00a0mm")


def _draw_columns(cells: Sequence[Cell], wide: float, width_mm: float, style: PageStyle) -> Figure:
    height = _columns_mm(cells)
    marks: list[Mark] = []
    for at, column in enumerate(_fill_columns(cells)):
        top = height
        for cell in column:
            marks += _draw_cell(cell, at * (wide + CELL_GAP_MM), top, style)
            top -= cell.height_mm + ROW_GAP_MM
    return Figure(width_mm, height, tuple(marks))


def _draw_cell(cell: Cell, left: float, top: float, style: PageStyle) -> Iterator[Mark]:
    size, letter = style.label_type_mm, style.subheading_type_mm
    first, foot = top - cap_height_mm(letter, "bold") - 0.3, top - cell.head_mm
    yield TextMark(x_mm=left, y_mm=first, text=cell.stack.letter, size_mm=letter, face="bold")
    yield from text_lines(cell.title, left + LETTER_WIDE_MM, first, size * LEADING, size, "bold")
    right = left + PILE_WIDE_MM
    for ply, (begin, end), lines, at in zip(cell.stack.pile, cell.layers, cell.labels, cell.label_tops, strict=True):
        box = Box(left, foot - end, right, foot - begin)
        yield from _draw_layer(ply, box, style)
        base = foot - at - cap_height_mm(size) - NAME_RISE_MM
        to = Point(right + LABEL_GAP_MM - 0.6, base + cap_height_mm(size) / 2)
        yield PathMark(path=polyline((Point(right + 0.4, box.centre.y), to)), stroke=Stroke(style.fine_line_mm))
        yield from text_lines(lines, right + LABEL_GAP_MM, base, size * LEADING, size)
    span = Box(left, foot - cell.layers[-1][1], right, foot - cell.layers[0][0])
    yield from _draw_through(cell.stack.through, span, cell.scale, style)


def _draw_layer(ply: Ply, box: Box, style: PageStyle) -> Iterator[Mark]:
    """A layer with open ends; the heavy line and the strokes lie inside of its thickness."""
    thin, fine = Stroke(style.thin_line_mm, DASH_MM if ply.is_partial else ()), Stroke(style.fine_line_mm)
    half, heavy = style.thin_line_mm / 2, style.thick_line_mm / 2
    for y, side in ((box.top, 1), (box.bottom, -1)):
        is_grain = ply.grain == ("up" if side > 0 else "down")
        at = y - side * (heavy if is_grain else half)
        stroke = Stroke(style.thick_line_mm, thin.dash_mm) if is_grain else thin
        yield PathMark(path=polyline((Point(box.left, at), Point(box.right, at))), stroke=stroke)
    if ply.grain:
        flesh, way = (box.bottom, 1) if ply.grain == "up" else (box.top, -1)
        long = min(STROKE_MM, (box.top - box.bottom) / 2)
        for k in range(1, math.ceil(box.width / STROKES_EVERY_MM)):
            x = box.left + k * STROKES_EVERY_MM
            if x + long < box.right:
                tip = Point(x + long, flesh + way * long)
                yield PathMark(path=polyline((Point(x, flesh), tip)), stroke=fine)
    elif not ply.is_leather:
        yield from _hatch(box, fine)


def _hatch(box: Box, stroke: Stroke) -> Iterator[Mark]:
    """Strokes at 45 degrees right through, of what is no leather."""
    high = box.top - box.bottom
    count = int(box.width / HATCH_EVERY_MM)
    for k in range(count):
        x = box.left + (k + 0.5) * HATCH_EVERY_MM
        if x + high <= box.right:
            yield PathMark(path=polyline((Point(x, box.bottom), Point(x + high, box.top))), stroke=stroke)


def _draw_through(through: Through, span: Box, scale: float, style: PageStyle) -> Iterator[Mark]:
    if through.hardware:
        yield from _draw_post(through, span, scale, style)
    else:
        yield from _draw_thread(through, span, scale, style)


def _draw_thread(through: Through, span: Box, scale: float, style: PageStyle) -> Iterator[Mark]:
    """One stitch to scale where it has room, with the beginnings of its neighbours: thread lies on both faces between the
    holes, and goes through each."""
    wide = _thread_wide_mm(through, scale, style)
    pitch = through.pitch_mm * scale
    middle = (span.left + span.right) / 2
    room = span.width - 2 * SHOULDER_MM
    holes = (middle - pitch / 2, middle + pitch / 2) if pitch <= room else (middle,)
    low, high = span.bottom - THREAD_OFF_MM - wide / 2, span.top + THREAD_OFF_MM + wide / 2
    lines = [((span.left, y), (span.right, y)) for y in (low, high)]
    lines += [((x, low), (x, high)) for x in holes]
    paths = [polyline((Point(*start), Point(*end))) for start, end in lines]
    for stroke in (Stroke(wide), Stroke(wide - 2 * style.thin_line_mm, grey=1.0)):
        for path in paths:
            yield PathMark(path=path, stroke=stroke)


def _thread_wide_mm(through: Through, scale: float, style: PageStyle) -> float:
    return max(through.across_mm * scale, 3 * style.thin_line_mm)


def _draw_post(through: Through, span: Box, scale: float, style: PageStyle) -> Iterator[Mark]:
    """The shank through all layers, and a head on either side; of half a snap what that has there."""
    if through.flange_mm:
        yield from _draw_eyelet(through, span, scale, style)
        return
    wide = max(through.across_mm * scale, LEAST_SHANK_MM)
    middle = (span.left + span.right) / 2
    head = min(wide * CAP_SHARE, span.width - 2.0)
    stroke = Stroke(style.thin_line_mm)
    shank = Box(middle - wide / 2, span.bottom, middle + wide / 2, span.top)
    yield PathMark(path=box_path(shank), stroke=stroke, fill=1.0)
    for y, way in ((span.top, 1), (span.bottom, -1)):
        for path in ends_of_post(through, middle, y, head, way):
            yield PathMark(path=path, stroke=stroke, fill=1.0)


def _draw_eyelet(through: Through, span: Box, scale: float, style: PageStyle) -> Iterator[Mark]:
    """Its hole, open through all layers, and on either side its flange; smaller than to scale where the layers end."""
    wide = min(through.flange_mm * scale, span.width - 2.0)
    bore, middle = wide * through.across_mm / through.flange_mm, (span.left + span.right) / 2
    stroke = Stroke(style.thin_line_mm)
    yield PathMark(path=box_path(Box(middle - bore / 2, span.bottom, middle + bore / 2, span.top)), fill=1.0)
    rim = (wide - bore) / 2
    for side in (-1, 1):
        x = middle + side * bore / 2
        yield PathMark(path=polyline((Point(x, span.bottom), Point(x, span.top))), stroke=stroke)
        for y, way in ((span.top, 1), (span.bottom, -1)):
            yield PathMark(path=_upright(x + side * rim / 2, y, rim, way * RIM_HIGH_MM), stroke=stroke, fill=1.0)


def ends_of_post(through: Through, middle: float, y: float, wide: float, way: int) -> Iterator[Path]:
    """What is on one side of a pile (`way` 1: above): a domed head; a socket as a ring with a hollow; a stud as a knob on a
    rim; the flat rim of its post."""
    is_front = way == (-1 if through.looks == "in" else 1)
    if not through.looks or (through.form == "cap" and is_front):
        yield _cap(middle, y, wide, way)
    elif through.form == "cap":
        thick = wide * SOCKET_SHARE
        for side in (-1, 1):
            yield _upright(middle + side * (wide - thick) / 2, y, thick, way * CAP_HIGH_MM)
    else:
        if is_front:
            yield _upright(middle, y, wide * KNOB_SHARE, way * CAP_HIGH_MM)
        yield _upright(middle, y, wide, way * RIM_HIGH_MM)


def _upright(middle: float, y: float, wide: float, high: float) -> Path:
    """A box on one side of a pile, so high from its face outwards."""
    return box_path(Box(middle - wide / 2, min(y, y + high), middle + wide / 2, max(y, y + high)))


def _cap(middle: float, y: float, wide: float, way: int) -> Path:
    """A flat dome on one side of a pile: an arc of its height over its width, closed along the leather."""
    rise = CAP_HIGH_MM
    radius = (wide * wide / 4 + rise * rise) / (2 * rise)
    half = math.asin(wide / 2 / radius)
    centre = Point(middle, y + way * (rise - radius))
    arc = Arc(centre, radius, way * (math.pi / 2 + half), -2 * way * half)
    return Path((arc,), closed=True)
