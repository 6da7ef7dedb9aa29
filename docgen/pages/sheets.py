"""Placed templates -> sheets: what each sheet shows, its frame, its join marks, its test squares."""

from __future__ import annotations

from dataclasses import dataclass

from docgen.geometry import Box, Point, box_path, polyline
from docgen.pages.blocks import PageStyle
from docgen.pages.moving import place_marks
from docgen.pages.page import ClipMark, Mark, PathMark, Stroke, TextMark
from docgen.pages.pattern_style import PatternStyle
from docgen.pages.piece_template import Template, label_marks
from docgen.pages.placing import Footprint, Grid, Window, place_footprints

MATCH_MM = 2.6  # half a match mark, along and across
BLEED_MM = 2.8  # lines go on this far beyond the lower edge of a sheet that is joined below
MATCHES_AT = (0.22, 0.78)  # along a join, as shares of its length
GREY = 0.45


@dataclass(frozen=True, slots=True, kw_only=True)
class Match:
    """One numbered match mark on a join, in grid coordinates; the join runs up (`is_upright`) or across."""

    number: int
    at: Point
    is_upright: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class DrawnGrid:
    """A grid with all its marks in grid coordinates, named A, B, C ..."""

    name: str
    grid: Grid
    marks: tuple[Mark, ...]
    matches: tuple[Match, ...]

    def sheet_name(self, cell: tuple[int, int]) -> str:
        """`A` for a sheet alone, `A1`, `A2` ... by rows from the top."""
        if len(self.grid.sheets) == 1:
            return self.name
        return f"{self.name}{self.grid.sheets.index(cell) + 1}"


def draw_grids(templates: tuple[Template, ...], window: Window, style: PatternStyle) -> tuple[DrawnGrid, ...]:
    """All templates on as few sheets as found, larger grids first."""
    by_name = {template.name: template for template in templates}
    footprints = [
        Footprint(name=template.name, width_mm=template.width_mm, height_mm=template.height_mm)
        for template in templates
    ]
    grids = sorted(place_footprints(footprints, window), key=lambda grid: -len(grid.sheets))
    drawn = []
    first_match = 1
    for index, grid in enumerate(grids):
        matches = _find_matches(grid, window, first_match)
        first_match += len(matches)
        marks = _draw_templates(grid, by_name, window)
        drawn.append(DrawnGrid(name=letter_name(index), grid=grid, marks=marks, matches=matches))
    return tuple(drawn)


def letter_name(index: int) -> str:
    """0 -> A, 25 -> Z, 26 -> AA."""
    name = ""
    index += 1
    while index:
        index, rest = divmod(index - 1, 26)
        name = chr(ord("A") + rest) + name
    return name


def _draw_templates(grid: Grid, by_name: dict[str, Template], window: Window) -> tuple[Mark, ...]:
    marks: list[Mark] = []
    strips = _join_strips(grid, window)
    for placed in grid.placed:
        template = by_name[placed.name]
        taken = tuple(_into_footprint(strip, placed.box, placed.is_turned) for strip in strips)
        own = (*template.marks, *label_marks(template, taken, is_turned=placed.is_turned))
        left = placed.box.right if placed.is_turned else placed.box.left
        marks += place_marks(own, left, placed.box.bottom, is_turned=placed.is_turned)
    return tuple(marks)


def _join_strips(grid: Grid, window: Window) -> list[Box]:
    """The strips round all joins of a grid, in grid coordinates."""
    strips = []
    for (column, row), (other, _) in grid.joins:
        sheet = window.sheet(column, row)
        if other > column:
            strips.append(Box(sheet.right - window.across_mm - 2, sheet.bottom, sheet.right + 2, sheet.top))
        else:
            strips.append(Box(sheet.left, sheet.bottom - 3, sheet.right, sheet.bottom + window.down_mm + 3))
    return strips


def _into_footprint(box: Box, placed: Box, is_turned: bool) -> Box:
    """A box of the grid in the coordinates of a footprint placed there."""
    if not is_turned:
        return Box(
            box.left - placed.left,
            box.bottom - placed.bottom,
            box.right - placed.left,
            box.top - placed.bottom,
        )
    return Box(
        box.bottom - placed.bottom, placed.right - box.right, box.top - placed.bottom, placed.right - box.left
    )


def _find_matches(grid: Grid, window: Window, first: int) -> tuple[Match, ...]:
    """Two marks on each join, numbered on from `first`; they lie on the edge of the sheet that is laid on top: the left
    edge of the right sheet, the top edge of the lower one."""
    matches = []
    for cell, other in grid.joins:
        sheet, neighbour = window.sheet(*cell), window.sheet(*other)
        for share in MATCHES_AT:
            if other[0] > cell[0]:
                at = Point(neighbour.left, sheet.bottom + share * (sheet.top - sheet.bottom))
            else:
                at = Point(sheet.left + share * (sheet.right - sheet.left), neighbour.top)
            matches.append(Match(number=first + len(matches), at=at, is_upright=other[0] > cell[0]))
    return tuple(matches)


def draw_sheet(
    drawn: DrawnGrid, cell: tuple[int, int], window: Window, origin: Point, style: PatternStyle
) -> tuple[Mark, ...]:
    """One sheet: its part of the grid, with the lower left of its window at `origin` on the page."""
    sheet = window.sheet(*cell)
    dx, dy = origin.x - sheet.left, origin.y - sheet.bottom
    below = any(first == cell and second[1] < cell[1] for first, second in drawn.grid.joins)
    shown = Box(
        origin.x,
        origin.y - (BLEED_MM if below else 0),
        origin.x + window.width_mm,
        origin.y + window.height_mm,
    )
    matches = tuple(mark for match in drawn.matches for mark in _draw_match(match, sheet, style))
    frame = Box(origin.x, origin.y, origin.x + window.width_mm, origin.y + window.height_mm)
    return (
        PathMark(path=box_path(frame), stroke=style.frame),
        *_draw_join_line(drawn.grid, cell, window, origin),
        ClipMark(box=shown, marks=(*drawn.marks, *matches), dx_mm=dx, dy_mm=dy),
    )


def _draw_join_line(grid: Grid, cell: tuple[int, int], window: Window, origin: Point) -> tuple[Mark, ...]:
    """A grey line where the edge of the sheet to the right comes to lie."""
    if not any(first == cell and second[0] > cell[0] for first, second in grid.joins):
        return ()
    x = origin.x + window.width_mm - window.across_mm
    line = polyline((Point(x, origin.y), Point(x, origin.y + window.height_mm)))
    return (PathMark(path=line, stroke=Stroke(0.18, (1.0, 2.0), GREY)),)


def _draw_match(match: Match, sheet: Box, style: PatternStyle) -> tuple[Mark, ...]:
    """A diamond with a cross in it, and its number inside the sheet that is drawn."""
    reach = MATCH_MM + 1e-6
    inside = (
        sheet.left - reach <= match.at.x <= sheet.right + reach
        and sheet.bottom - reach <= match.at.y <= sheet.top + reach
    )
    if not inside:
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
            x_mm=x + gap if is_left else x - gap, y_mm=y - size * 0.35, text=str(match.number), size_mm=size, face="bold",
            anchor="start" if is_left else "end",
        )  # fmt: skip
    is_low = y < sheet.centre.y
    return TextMark(
        x_mm=x, y_mm=y + gap if is_low else y - gap - size * 0.7, text=str(match.number), size_mm=size, face="bold",
        anchor="middle",
    )  # fmt: skip


def draw_square(
    left: float, bottom: float, side_mm: float, words: str, style: PatternStyle, type_mm: float
) -> tuple[Mark, ...]:
    """A test square: the middle of its line is the measure; its size in words inside, at the foot."""
    box = Box(left, bottom, left + side_mm, bottom + side_mm)
    return (
        PathMark(path=box_path(box), stroke=style.square),
        TextMark(
            x_mm=box.centre.x,
            y_mm=bottom + type_mm * 0.6,
            text=words,
            size_mm=type_mm,
            face="bold",
            anchor="middle",
        ),
    )


def draw_small_squares(left: float, bottom: float, style: PatternStyle, page: PageStyle) -> tuple[Mark, ...]:
    """The 1 in and 25 mm squares of every sheet, side by side."""
    second = left + page.square_inch_mm + page.square_gap_mm
    return (
        *draw_square(left, bottom, page.square_inch_mm, "1 in", style, style.match_type_mm),
        *draw_square(second, bottom, page.square_metric_mm, "25 mm", style, style.match_type_mm),
    )
