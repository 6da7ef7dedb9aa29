"""Seams on a small drawing: the line picked out or its holes, where it begins, which way it runs, its number."""

import math
from collections.abc import Iterator, Mapping, Sequence
from itertools import pairwise

from docgen.fonts import cap_height_mm, text_width_mm
from docgen.geometry.crossing import leg_distance
from docgen.geometry.measure import cut_to_box, distance_to_path
from docgen.geometry.path import circle_path, flatten, grow_box, path_length, point_at, points_at, polyline, start_point
from docgen.geometry.shapes import Box, Line, Path, Point
from docgen.geometry.vector import add, scale, subtract, turn_left
from docgen.pages.drawn.small_sketch import Pen
from docgen.pages.marks.page import ClipMark, Mark, PathMark, Stroke, TextMark
from docgen.resolve import StitchLine

Lengths = tuple[tuple[float, float], ...]
Leg = tuple[Point, Point]

SEAM_LINE_MM = 0.6
ROW_GAP_MM = 0.35  # between two rows on paper; of nearer ones the first is drawn
STITCH_DOT_MM = 0.3  # radius of a hole of a hand stitch
STITCH_GAP_MM = 1.2  # nearer to each other on the paper, such holes are not drawn
DOT_MM = 1.05  # radius of the dot where a seam begins
ARROW_MM = 2.8
NUMBER_GAP_MM = 1.5  # from where a seam begins to its number
NUMBER_REACHES_MM, TURNS = (2.4, 3.0, 3.6, 4.4), 16  # and round it, where that is taken
NEAR_MM = 8.0  # what is drawn farther off is not in the way of a number
CLEAR_MM = 0.3  # from a number to any line
CHORD_MM = 0.05  # off a curve
SPINES = (-1.0, 0.0, 1.0)  # upright lines in which a number is seen to be in the way of others, by half its width
ARROW_ROOM = 3  # lengths of an arrow that a straight stretch takes for one
ARROW_PLACES = 48  # tried along a seam whose usual place is not shown


def draw_seam(line: StitchLine, pen: Pen) -> Iterator[tuple[str, Mark]]:
    """The thick line of a seam of the step, or a thin one with its holes; a dot where it begins and an arrow the way it
    runs, on a stretch that is shown, where the words begin it. Each with the name of its kind.

    A strip of a join has neither: it may lie in the join more than once, and then either way about. Nor has a further
    partner, or the other edge of a piece that is closed on itself: its own line may run against the seam.
    """
    if line.seam not in pen.sketch.drawn.seams:
        return
    if _is_lost(line, pen):
        return
    path, has_holes = pen.put(line.path), _shows_holes(line, pen.scale_to)
    kind, wide = ("stitch_holes", pen.style.thin_line_mm) if has_holes else ("seam", SEAM_LINE_MM)
    yield kind, PathMark(path=path, stroke=Stroke(wide))
    for at, _ in points_at(line.path, line.holes_mm) if has_holes else ():
        yield kind, PathMark(path=circle_path(pen.put_point(at), STITCH_DOT_MM), fill=0.0)
    piece = pen.sketch.piece
    first = next(one for one in piece.marks.stitch_lines if one.seam == line.seam)
    if piece.name in pen.strips or line != first or pen.begun_on.get(line.seam, piece.name) != piece.name:
        return
    yield "start_dot", PathMark(path=circle_path(start_point(path), DOT_MM), fill=0.0)
    place = _arrow_place(path, _shown_lengths(pen))
    if place is not None:
        yield "start", _draw_arrow(*point_at(path, place))


def _is_lost(line: StitchLine, pen: Pen) -> bool:
    """Whether a further row lies so near to the one before it that both would be one bar on paper."""
    rows = [one for one in pen.sketch.piece.marks.stitch_lines if one.seam == line.seam and one.row == line.row - 1]
    middle, _ = point_at(line.path, path_length(line.path) / 2)
    near_mm = min((distance_to_path(one.path, middle) for one in rows), default=math.inf)
    return near_mm / pen.scale_to < SEAM_LINE_MM + ROW_GAP_MM


def _draw_arrow(at: Point, along: Point) -> PathMark:
    tip, foot = add(at, scale(along, ARROW_MM / 2)), subtract(at, scale(along, ARROW_MM / 2))
    aside = scale(turn_left(along), ARROW_MM * 0.42)
    return PathMark(path=polyline((tip, add(foot, aside), subtract(foot, aside), tip)), fill=0.0)


def number_seams(pen: Pen, base: Point, numbers: Mapping[str, int], drawn: Sequence[Mark]) -> tuple[list[Mark], int]:
    """The number of each seam inside the piece, beside the dot where it begins, clear of what is `drawn` of it and of each
    other where there is room; of seams that begin at one place their numbers together. And how many have no room."""
    sketch, scale_to = pen.sketch, pen.scale_to
    begun: dict[tuple[float, float], list[int]] = {}
    for line in sketch.piece.marks.stitch_lines:
        if line.seam in sketch.drawn.seams and line.seam in numbers and sketch.piece.name not in pen.strips:
            at = start_point(pen.put(line.path))
            begun.setdefault((round(at.x, 1), round(at.y, 1)), []).append(numbers[line.seam])
    taken = [*_legs_of(drawn)] if begun else []
    marks: list[Mark] = []
    clashes = 0
    for (x, y), found in begun.items():
        is_beyond = sketch.is_broken and x >= sketch.first_mm / scale_to / 2
        dot = Point(sketch.width_at(scale_to) - (sketch.length_mm / scale_to - x) if is_beyond else x, y)
        text = ", ".join(map(str, sorted({*found})))
        mark, crossed = _place_number(pen, base, dot, text, taken)
        clashes += crossed > 0
        half, high = text_width_mm(text, "bold", mark.size_mm) / 2, cap_height_mm(mark.size_mm, "bold")
        taken += (
            (Point(mark.x_mm + k * half, mark.y_mm), Point(mark.x_mm + k * half, mark.y_mm + high)) for k in SPINES
        )
        marks.append(mark)
    return marks, clashes


def _legs_of(drawn: Sequence[Mark]) -> Iterator[Leg]:
    """The lines of a piece as chords where they are drawn."""
    for clip in (mark for mark in drawn if isinstance(mark, ClipMark)):
        for one in (mark for mark in clip.marks if isinstance(mark, PathMark)):
            points = [Point(at.x + clip.dx_mm, at.y + clip.dy_mm) for at in flatten(one.path, CHORD_MM)]
            yield from (leg for leg in pairwise(points) if cut_to_box(*leg, clip.box) is not None)


def _place_number(pen: Pen, base: Point, dot: Point, text: str, taken: Sequence[Leg]) -> tuple[TextMark, int]:
    """A number inward of the dot of its seam, else where the fewest lines cross it round that, within the piece; and how
    many do."""
    size = pen.style.label_type_mm
    half, high = text_width_mm(text, "bold", size) / 2, cap_height_mm(size, "bold")
    wide, tall = pen.sketch.width_at(pen.scale_to), pen.sketch.height_mm / pen.scale_to
    first = Point(
        dot.x + (NUMBER_GAP_MM + half) * (1 if dot.x < wide / 2 else -1),
        dot.y + (NUMBER_GAP_MM + high / 2) * (1 if dot.y < tall / 2 else -1),
    )
    round_it = (
        Point(dot.x + reach * math.cos(turn), dot.y + reach * math.sin(turn))
        for reach in NUMBER_REACHES_MM
        for turn in (math.tau * k / TURNS for k in range(TURNS))
    )
    within = [at for at in round_it if half < at.x < wide - half and high / 2 < at.y < tall - high / 2]
    near = [leg for leg in taken if leg_distance(leg, Point(base.x + dot.x, base.y + dot.y)) < NEAR_MM]

    def crossed(at: Point) -> int:
        x, y = base.x + at.x, base.y + at.y
        room = grow_box(Box(x - half, y - high / 2, x + half, y + high / 2), CLEAR_MM)
        return sum(cut_to_box(*leg, room) is not None for leg in near)

    at = min((first, *within), key=crossed)
    mark = TextMark(
        x_mm=base.x + at.x, y_mm=base.y + at.y - high / 2, text=text, size_mm=size, face="bold", anchor="middle"
    )
    return mark, crossed(at)


def _shows_holes(line: StitchLine, scale_to: float) -> bool:
    """Of a hand stitch every hole is drawn, where they stand apart on the paper."""
    gaps = [after - before for before, after in pairwise(line.holes_mm)]
    return line.by == "hand" and bool(gaps) and min(gaps) / scale_to >= STITCH_GAP_MM


def _shown_lengths(pen: Pen) -> Lengths:
    """The stretches of a sketch that are drawn, from left to right in mm on the paper: two of a broken one."""
    sketch, long = pen.sketch, pen.sketch.length_mm / pen.scale_to
    if not sketch.is_broken:
        return ((0.0, long),)
    return (0.0, sketch.first_mm / pen.scale_to), (long - sketch.last_mm / pen.scale_to, long)


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
