"""Pieces of a step -> how each one lies and where it stands in a small drawing; what is drawn is said elsewhere.

Long straps lie down with their middle broken out, so that both ends can be read.
"""

import math
from collections.abc import Iterable, Mapping
from types import MappingProxyType

from docgen.assemble import Assembled
from docgen.classes import dataclass
from docgen.fonts import text_width_mm, wrap_text
from docgen.geometry.outline import outline_box, outline_path
from docgen.geometry.path import end_point, path_box, scale_path, start_point, transform_path
from docgen.geometry.shapes import Box, Path, Point
from docgen.geometry.vector import Transform, compose, rotation, transform_point, translation
from docgen.pages.drawn.straps_on import StrapOn, find_straps_on
from docgen.pages.drawn.turned_ends import OnStrap, find_on_strap
from docgen.pages.setting.blocks import PageStyle
from docgen.plan import DrawnPiece, Plan
from docgen.resolve import Hole, Piece, PieceLine, by_name, lines_of

# The scales tried, largest first: a drawing is 1 to one of these.
SCALES = (1, 1.5, 2, 2.5, 3, 4, 5, 6, 7, 8, 10, 12, 15, 20, 25, 30, 40, 50, 75, 100, 150, 200)
LYING_RATIO = 3.0  # longer than this in widths, a standing piece is laid down
BROKEN_RATIO = 6.0  # longer than this in widths, a piece is broken
END_RATIO = 2.5  # how much of each end is shown at least, in widths
BREAK_GAP_MM = 2.6
EDGE_MM = 1.2  # kept free all round, for the thickness of lines and the break lines
CELL_GAP_MM = 3.0
ROW_GAP_MM = 3.5
NAME_WIDTH_MM = 21.0
NAME_GAP_MM = 1.4
NAME_LEADING = 1.2
MOST_NAME_LINES = 3
LEAST_WIDE_MM = 3.0  # on paper; on a narrower piece the dots of its holes are all there is to be seen
READABLE_MM = 4.0  # across, of what is drawn larger for that
RUNS_ON = ("cut", "centre", "stitch", "skive", "landing", "drawn", "notch")  # need not be shown whole


@dataclass(frozen=True, slots=True, kw_only=True)
class Sketch:
    """A piece as it will lie, in its own mm; `place` brings it to (0, 0).

    Of a broken one `first_mm` and `last_mm` of its length are shown, else `first_mm` is all of it. `straps` lie on it by
    an end; of a strap that is turned back, its length begins and ends at its folds, with what is `on` it.
    """

    piece: Piece
    drawn: DrawnPiece
    place: Transform
    first_mm: float
    last_mm: float
    length_mm: float
    height_mm: float
    straps: tuple[StrapOn, ...] = ()
    on: OnStrap = OnStrap()

    @property
    def folded(self) -> Box:
        """How much is turned back at its left, foot, right and top as it lies."""
        first_mm, second_mm = self.on.turned_mm
        is_lying = bool(self.place.b)
        return Box(first_mm, 0.0, second_mm, 0.0) if is_lying else Box(0.0, first_mm, 0.0, second_mm)

    @property
    def is_broken(self) -> bool:
        return self.first_mm + self.last_mm < self.length_mm

    def width_at(self, scale_to: float) -> float:
        """Width on paper at 1 to `scale_to`."""
        gap = BREAK_GAP_MM if self.is_broken else 0.0
        return (self.first_mm + self.last_mm) / scale_to + gap

    def around_at(self, scale_to: float) -> Box:
        """How far on paper straps that lie on it are drawn beyond it on each side, with their break lines, and what is in
        its folds."""
        corners = [*self.on.corners, *(at for strap in self.straps for at in strap.corners_at(scale_to))]
        ends = [transform_point(at, self.place) for at in corners]
        beyond = (
            max((mm / scale_to + EDGE_MM for mm in over if mm > 0), default=0.0)
            for over in (
                [-at.x for at in ends],
                [-at.y for at in ends],
                [at.x - self.length_mm for at in ends],
                [at.y - self.height_mm for at in ends],
            )
        )
        return Box(*beyond)

    def largest_at(self, scale_to: float) -> float:
        """Width or height on paper at 1 to `scale_to`, whichever is more."""
        return max(self.width_at(scale_to), self.height_mm / scale_to)

    def narrowest_at(self, scale_to: float) -> float:
        """Width or height on paper at 1 to `scale_to`, whichever is less."""
        return min(self.width_at(scale_to), self.height_mm / scale_to)


@dataclass(frozen=True, slots=True, kw_only=True)
class Cell:
    """A sketch, 1 to what it is drawn, and the lines of its name; (x, y) is its bottom left on the figure, y down from the
    top, with `below_mm` free there."""

    sketch: Sketch
    scale_to: float
    lines: tuple[str, ...]
    x: float
    y: float
    below_mm: float = 0.0

    @property
    def is_readable(self) -> bool:
        """Whether more is seen of a piece on which holes are made than their dots."""
        return not self.sketch.drawn.is_punched or not self.is_narrow

    @property
    def is_narrow(self) -> bool:
        """Whether what is drawn on a piece can hardly be told from its edges."""
        return self.sketch.narrowest_at(self.scale_to) < LEAST_WIDE_MM


Arranged = tuple[tuple[Cell, ...], float]
"""Cells in rows, and the height they take."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Pen:
    """A sketch as it is drawn, 1 to `scale_to`; `names` are the pieces of the whole drawing, `strips` those of a join;
    `begun_on` tells of seams on which piece the words begin them."""

    sketch: Sketch
    scale_to: float
    style: PageStyle
    names: frozenset[str] = frozenset()
    strips: frozenset[str] = frozenset()
    begun_on: Mapping[str, str] = MappingProxyType({})

    def put(self, path: Path) -> Path:
        """A path of the piece as it lies in the sketch, at scale."""
        return scale_path(transform_path(path, self.sketch.place), 1 / self.scale_to)

    def put_point(self, at: Point) -> Point:
        return self.put_points((at,))[0]

    def put_points(self, places: Iterable[Point]) -> list[Point]:
        t, share = self.sketch.place, 1 / self.scale_to
        return [Point((t.a * x + t.c * y + t.e) * share, (t.b * x + t.d * y + t.f) * share) for x, y in places]


def make_sketches(plan: Plan, drawn: tuple[DrawnPiece, ...]) -> tuple[Sketch, ...]:
    """Each piece once, in order, with all that is picked out on it; names that are no piece are left out."""
    pieces = by_name(plan.build.laid)
    merged: dict[str, DrawnPiece] = {}
    for item in drawn:
        known = merged.get(item.name, item)
        merged[item.name] = DrawnPiece(
            name=item.name,
            seams=tuple(dict.fromkeys((*known.seams, *item.seams))),
            is_skived=known.is_skived or item.is_skived,
            is_punched=known.is_punched or item.is_punched,
            set=tuple(dict.fromkeys((*known.set, *item.set))),
            laid=item.laid,
            turned=item.turned,
            slid=item.slid,
        )
    return tuple(make_sketch(pieces[name], item, plan.build) for name, item in merged.items() if name in pieces)


def make_sketch(piece: Piece, drawn: DrawnPiece, build: Assembled | None = None) -> Sketch:
    """The piece lying down when it is long, with its middle left out when it is very long; of a `build` with what lies on
    it."""
    straps = by_name(build.straps) if build else {}
    on = find_on_strap(build, piece, drawn) if build else OnStrap()
    landed = [landing for landing in piece.strap_landings if landing.key in drawn.laid and landing.strap in straps]
    box = outline_box(piece.outline)
    turn = rotation(-math.pi / 2) if box.height > LYING_RATIO * box.width else Transform()
    lying = path_box(transform_path(outline_path(piece.outline), turn))
    first_mm, second_mm = on.turned_mm
    place = compose(turn, translation(-lying.left, -lying.bottom))
    length, height, back_mm = lying.width, lying.height, first_mm + second_mm
    if turn != Transform():
        place, length = compose(place, translation(-first_mm, 0.0)), length - back_mm
    else:
        place, height = compose(place, translation(0.0, -first_mm)), height - back_mm
    first, last = length, 0.0
    if length > BROKEN_RATIO * height:
        first, last = _find_ends(piece, place, length, height, on)
    return Sketch(
        piece=piece,
        drawn=drawn,
        place=place,
        first_mm=first,
        last_mm=last,
        length_mm=length,
        height_mm=height,
        straps=tuple(find_straps_on(landed, straps)),
        on=on,
    )


def _find_ends(piece: Piece, place: Transform, length: float, height: float, on: OnStrap) -> tuple[float, float]:
    """How much of each end is shown, holes, folds, slits and what is on it included; all and nothing when that saves
    little."""
    shown = (line for line in lines_of(piece) if line.kind not in RUNS_ON)
    points = [*(point for line in shown for point in _ends(line)), *on.corners, *(at for _, at in on.posts)]
    along = [transform_point(point, place).x for point in points]
    least = END_RATIO * height
    first = max([least, *(x + height for x in along if x < length / 2)])
    last = max([least, *(length - x + height for x in along if x >= length / 2)])
    return (first, last) if first + last < 0.8 * length else (length, 0.0)


def _ends(line: PieceLine) -> tuple[Point, ...]:
    """Both ends of a line, or the middle of what is closed."""
    if isinstance(line, Hole):
        return (line.at,)
    return (path_box(line.path).centre,) if line.path.closed else (start_point(line.path), end_point(line.path))


def arrange_sketches(
    sketches: tuple[Sketch, ...], scale_to: float, width_mm: float, style: PageStyle
) -> Arranged | None:
    """Cells in rows, and the height they take; None when one is too wide at this scale. What would be no larger than the
    dots of its own holes has a larger scale of its own, which stands in its name."""
    line = style.label_type_mm * NAME_LEADING
    rows: list[list[tuple[Sketch, float, Box, tuple[str, ...], float]]] = [[]]
    left = EDGE_MM
    for sketch in sketches:
        own_to = _own_scale(sketch, scale_to, width_mm - 2 * EDGE_MM)
        around = sketch.around_at(own_to)
        wide = sketch.width_at(own_to) + around.left + around.right
        if wide > width_mm - 2 * EDGE_MM:
            return None
        title, scale = sketch.piece.title, "" if own_to == scale_to else f"1:{own_to:g}"
        named = min(text_width_mm(title, "regular", style.label_type_mm), NAME_WIDTH_MM)
        room = min(max(wide, named + 0.01), width_mm - 2 * EDGE_MM)
        lines = _name_lines(f"{title} {scale}".rstrip(), room, style)
        if rows[-1] and left + room > width_mm - EDGE_MM:
            rows.append([])
            left = EDGE_MM
        rows[-1].append((sketch, own_to, around, lines, left))
        left += room + CELL_GAP_MM
    cells: list[Cell] = []
    y = EDGE_MM
    for row in rows:
        y += max(sketch.height_mm / own_to + around.bottom + around.top for sketch, own_to, around, _, _ in row)
        cells += [
            Cell(
                sketch=sketch,
                scale_to=own_to,
                lines=lines,
                x=x + around.left,
                y=y - around.bottom,
                below_mm=around.bottom,
            )
            for sketch, own_to, around, lines, x in row
        ]
        y += NAME_GAP_MM + max(len(lines) for _, _, _, lines, _ in row) * line + ROW_GAP_MM
    return tuple(cells), y - ROW_GAP_MM + EDGE_MM


def _own_scale(sketch: Sketch, scale_to: float, room_mm: float) -> float:
    """The scale of all, but for a piece of which nothing would be seen beside them: the smallest at which that is
    readable."""
    if sketch.narrowest_at(scale_to) >= LEAST_WIDE_MM:
        return scale_to
    larger = (to for to in reversed(SCALES) if to < scale_to and sketch.narrowest_at(to) >= READABLE_MM)
    own_to = next(larger, scale_to)
    return own_to if sketch.width_at(own_to) <= room_mm else scale_to


def _name_lines(title: str, width_mm: float, style: PageStyle) -> tuple[str, ...]:
    """The name in as many lines as are allowed; the last one ends in an ellipsis when more would follow."""
    lines = wrap_text(title, "regular", style.label_type_mm, width_mm)
    if len(lines) <= MOST_NAME_LINES:
        return lines
    return (*lines[: MOST_NAME_LINES - 1], lines[MOST_NAME_LINES - 1][:-2].rstrip() + "…")
