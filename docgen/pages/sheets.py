"""Placed templates -> sheets: what each sheet shows, its frame, its join marks, its test squares."""

from __future__ import annotations

from dataclasses import dataclass

from docgen.geometry import Box, Path, Point, box_path, boxes_overlap, grow_box, polyline, touches_box
from docgen.pages.choices import JoinWay
from docgen.pages.labels import Room, make_room
from docgen.pages.moving import mark_box, place_marks
from docgen.pages.page import ClipMark, Mark, PathMark, Stroke, TextMark
from docgen.pages.pattern_style import PatternStyle
from docgen.pages.piece_template import Template, label_marks
from docgen.pages.placing import Footprint, Grid, Placed, Window, place_footprints

MATCH_MM = 2.6  # half a match mark, along and across
MATCHES_AT = (
    (0.2, 0.27, 0.13, 0.34),
    (0.8, 0.73, 0.87, 0.66),
)  # along a join, as shares of its length; first choice first
GREY = 0.45


@dataclass(frozen=True, slots=True, kw_only=True)
class Match:
    """One match mark on a join, in grid coordinates; the join runs up (`is_upright`) or across. Its name is the join's
    number with a letter."""

    name: str
    at: Point
    is_upright: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """One template where it lies: its marks and label in grid coordinates."""

    template: Template
    placed: Placed
    marks: tuple[Mark, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class DrawnGrid:
    """A grid with all its marks in grid coordinates, named A, B, C ..."""

    name: str
    grid: Grid
    parts: tuple[Part, ...]
    matches: tuple[Match, ...]
    first_join: int = 1

    @property
    def marks(self) -> tuple[Mark, ...]:
        """The marks of all templates, in grid coordinates."""
        return tuple(mark for part in self.parts for mark in part.marks)

    def sheet_name(self, cell: tuple[int, int]) -> str:
        """`A` for a sheet alone, `A1`, `A2` ... by rows from the top."""
        if len(self.grid.sheets) == 1:
            return self.name
        return f"{self.name}{self.grid.sheets.index(cell) + 1}"


def draw_grids(
    templates: tuple[Template, ...], window: Window, *, kept: Box | None, kept_in_grids: bool, join: JoinWay
) -> tuple[DrawnGrid, ...]:
    """All templates on as few sheets as found, larger grids first; `kept` as in `place_footprints`."""
    by_name = {template.name: template for template in templates}
    footprints = footprints_of(templates)
    grids = sorted(
        place_footprints(footprints, window, kept=kept, kept_in_grids=kept_in_grids),
        key=lambda grid: -len(grid.sheets),
    )
    drawn = []
    first_join = 1
    for index, grid in enumerate(grids):
        parts = _draw_parts(grid, by_name, window)
        marks = tuple(mark for part in parts for mark in part.marks)
        matches = _find_matches(grid, window, first_join, marks, join)
        name = letter_name(index)
        drawn.append(DrawnGrid(name=name, grid=grid, parts=parts, matches=matches, first_join=first_join))
        first_join += len(grid.joins)
    return tuple(drawn)


def footprints_of(templates: tuple[Template, ...]) -> list[Footprint]:
    """The room that each template takes."""
    return [
        Footprint(name=template.name, width_mm=template.width_mm, height_mm=template.height_mm)
        for template in templates
    ]


def letter_name(index: int) -> str:
    """0 -> A, 25 -> Z, 26 -> AA."""
    name = ""
    index += 1
    while index:
        index, rest = divmod(index - 1, 26)
        name = chr(ord("A") + rest) + name
    return name


def _draw_parts(grid: Grid, by_name: dict[str, Template], window: Window) -> tuple[Part, ...]:
    parts = []
    strips = join_strips(grid, window)
    for placed in grid.placed:
        template = by_name[placed.name]
        taken = tuple(into_footprint(strip, placed) for strip in strips)
        own = (*template.marks, *label_marks(template, taken, is_turned=placed.is_turned))
        left = placed.box.right if placed.is_turned else placed.box.left
        marks = place_marks(own, left, placed.box.bottom, is_turned=placed.is_turned)
        parts.append(Part(template=template, placed=placed, marks=marks))
    return tuple(parts)


def join_strips(grid: Grid, window: Window) -> list[Box]:
    """The strips of all joins of a grid with a little room round them, in grid coordinates."""
    return [grow_box(join_strip(join, window), 2.0) for join in grid.joins]


def join_strip(join: tuple[tuple[int, int], tuple[int, int]], window: Window) -> Box:
    """The strip where two joined sheets lie over each other, in grid coordinates."""
    first, second = (window.sheet(*cell) for cell in join)
    return Box(
        max(first.left, second.left), max(first.bottom, second.bottom), min(first.right, second.right),
        min(first.top, second.top),
    )  # fmt: skip


def into_footprint(box: Box, placed: Placed) -> Box:
    """A box of the grid in the coordinates of a footprint placed there."""
    own = placed.box
    if not placed.is_turned:
        return Box(box.left - own.left, box.bottom - own.bottom, box.right - own.left, box.top - own.bottom)
    return Box(box.bottom - own.bottom, own.right - box.right, box.top - own.bottom, own.right - box.left)


def out_of_footprint(box: Box, placed: Placed) -> Box:
    """A box of a footprint in the coordinates of the grid where it is placed."""
    own = placed.box
    if not placed.is_turned:
        return Box(box.left + own.left, box.bottom + own.bottom, box.right + own.left, box.top + own.bottom)
    return Box(own.right - box.top, box.left + own.bottom, own.right - box.bottom, box.right + own.bottom)


def _find_matches(
    grid: Grid, window: Window, first: int, marks: tuple[Mark, ...], join: JoinWay
) -> tuple[Match, ...]:
    """Two marks on each join, clear of lines where that is possible; joins are numbered on from `first`.

    To trim, they lie on the edge of the sheet that is laid on top: the left edge of the right sheet, the top edge of the
    lower one. To overlap, they lie in the middle of the strip, whole on both sheets.
    """
    matches: list[Match] = []
    boxed = [(mark, mark_box(mark)) for mark in marks] if grid.joins else []
    for number, (cell, other) in enumerate(grid.joins, start=first):
        sheet, neighbour = window.sheet(*cell), window.sheet(*other)
        is_upright = other[0] > cell[0]
        inward = 0.0 if join == "trim" else (window.across_mm if is_upright else window.down_mm) / 2
        for letter, shares in zip("ab", MATCHES_AT, strict=True):
            spots = [_match_spot(sheet, neighbour, share, is_upright, inward) for share in shares]
            clear = [spot for spot in spots if _is_clear(spot, boxed)]
            matches.append(Match(name=f"{number}{letter}", at=(clear or spots)[0], is_upright=is_upright))
    return tuple(matches)


def _match_spot(sheet: Box, neighbour: Box, share: float, is_upright: bool, inward_mm: float) -> Point:
    if is_upright:
        return Point(neighbour.left + inward_mm, sheet.bottom + share * sheet.height)
    return Point(sheet.left + share * sheet.width, neighbour.top - inward_mm)


def _is_clear(spot: Point, boxed: list[tuple[Mark, Box]]) -> bool:
    reach = MATCH_MM + 5.0
    box = Box(spot.x - reach, spot.y - reach, spot.x + reach, spot.y + reach)
    return not any(
        boxes_overlap(own, box) and (not isinstance(mark, PathMark) or touches_box(mark.path, box))
        for mark, own in boxed
    )


def match_marks(matches: tuple[Match, ...], sheet: Box) -> list[Mark]:
    """Boxes of the match marks on one sheet, with their numbers, as empty paths."""
    found: list[Mark] = []
    for match in matches:
        reach = MATCH_MM + 6.0
        box = Box(match.at.x - reach, match.at.y - reach, match.at.x + reach, match.at.y + reach)
        found += [PathMark(path=box_path(box))] if boxes_overlap(box, sheet) else []
    return found


def draw_sheet(
    drawn: DrawnGrid, cell: tuple[int, int], window: Window, origin: Point, style: PatternStyle, join: JoinWay
) -> tuple[Mark, ...]:
    """One sheet: its part of the grid, with the lower left of its window at `origin` on the page."""
    sheet = window.sheet(*cell)
    dx, dy = origin.x - sheet.left, origin.y - sheet.bottom
    matches = tuple(mark for match in drawn.matches for mark in _draw_match(match, sheet, style))
    frame = Box(origin.x, origin.y, origin.x + window.width_mm, origin.y + window.height_mm)
    return (
        PathMark(path=box_path(frame), stroke=style.frame),
        *(_draw_join_lines(drawn.grid, cell, window, origin) if join == "trim" else ()),
        ClipMark(box=frame, marks=(*drawn.marks, *matches), dx_mm=dx, dy_mm=dy),
    )


def _draw_join_lines(grid: Grid, cell: tuple[int, int], window: Window, origin: Point) -> tuple[Mark, ...]:
    """Grey lines where the edge of the sheet to the right, and of the one below, come to lie."""
    marks: list[Mark] = []
    if any(first == cell and second[0] > cell[0] for first, second in grid.joins):
        x = origin.x + window.width_mm - window.across_mm
        marks.append(_grey(Point(x, origin.y), Point(x, origin.y + window.height_mm)))
    if any(first == cell and second[1] < cell[1] for first, second in grid.joins):
        y = origin.y + window.down_mm
        marks.append(_grey(Point(origin.x, y), Point(origin.x + window.width_mm, y)))
    return tuple(marks)


def _grey(start: Point, end: Point) -> PathMark:
    return PathMark(path=polyline((start, end)), stroke=Stroke(0.18, (1.0, 2.0), GREY))


def sheet_room(drawn: DrawnGrid, cell: tuple[int, int], window: Window) -> Room:
    """Where one sheet is free of lines, words and joined strips; in grid coordinates."""
    sheet = window.sheet(*cell)
    strips = [strip for join in drawn.grid.joins if cell in join for strip in [join_strip(join, window)]]
    lines: list[Path] = []
    taken = [*strips, *(grow_box(mark_box(mark), 0.8) for mark in match_marks(drawn.matches, sheet))]
    for mark in drawn.marks:
        box = mark_box(mark)
        if not boxes_overlap(box, sheet):
            continue
        if isinstance(mark, PathMark):
            lines.append(mark.path)
        else:
            taken.append(grow_box(box, 0.8))
    return make_room(box_path(grow_box(sheet, -0.8)), lines, (), taken)


def shows_match(match: Match, sheet: Box) -> bool:
    """True when a match mark, or a part of it, lies on a sheet."""
    reach = MATCH_MM + 1e-6
    return (
        sheet.left - reach <= match.at.x <= sheet.right + reach
        and sheet.bottom - reach <= match.at.y <= sheet.top + reach
    )


def _draw_match(match: Match, sheet: Box, style: PatternStyle) -> tuple[Mark, ...]:
    """A diamond with a cross in it, and its number inside the sheet that is drawn."""
    if not shows_match(match, sheet):
        return ()
    x, y = match.at
    diamond = polyline(
        (Point(x - MATCH_MM, y), Point(x, y - MATCH_MM), Point(x + MATCH_MM, y), Point(x, y + MATCH_MM)),
        closed=True,
    )
    cross = [
        polyline((Point(x - MATCH_MM, y), Point(x + MATCH_MM, y))),
        polyline((Point(x, y - MATCH_MM), Point(x, y + MATCH_MM))),
    ]
    return (
        PathMark(path=diamond, stroke=Stroke(0.3), fill=1.0),
        *(PathMark(path=path, stroke=Stroke(0.18)) for path in cross),
        _match_number(match, sheet, style),
    )


def _match_number(match: Match, sheet: Box, style: PatternStyle) -> TextMark:
    size = style.match_type_mm
    x, y = match.at
    gap = MATCH_MM + 1.0
    if match.is_upright:
        is_left = x < sheet.centre.x
        return TextMark(
            x_mm=x + gap if is_left else x - gap, y_mm=y - size * 0.35, text=match.name, size_mm=size, face="bold",
            anchor="start" if is_left else "end",
        )  # fmt: skip
    is_low = y < sheet.centre.y
    return TextMark(
        x_mm=x, y_mm=y + gap if is_low else y - gap - size * 0.7, text=match.name, size_mm=size, face="bold",
        anchor="middle",
    )  # fmt: skip
