"""Placed templates -> sheets: what each sheet shows, its frame, its join marks, its test squares."""

import sys
from collections.abc import Callable, Iterable, Iterator
from dataclasses import replace
from functools import cache, partial
from itertools import chain, product

from docgen.classes import dataclass
from docgen.geometry.measure import box_finder, touch_test
from docgen.geometry.path import box_path, box_union, boxes_overlap, grow_box, holds_box, polyline
from docgen.geometry.shapes import Box, Point
from docgen.geometry.vector import distance
from docgen.pages.looks.pattern_style import PatternStyle
from docgen.pages.marks.moving import mark_box, place_marks
from docgen.pages.marks.page import ClipMark, Mark, PathMark, StampMark, Stroke, TextMark
from docgen.pages.pattern.grid import NO_TAG, Footprint, Grid, Placed, Tag, Window, join_strips
from docgen.pages.pattern.moving import into_footprint, out_of_footprint
from docgen.pages.pattern.piece_template import Template, finish_template
from docgen.pages.pattern.placing import place_footprints
from docgen.pages.pattern.upright import stand_label
from docgen.resolve import JoinWay

MATCH_MM = 2.6  # half a match mark, along and across
SMALL_MATCH_MM = 1.7  # where a line runs close beside a join
LEAST_CLEAR_MM = 0.6
MATCHES_AT = 0.2, 0.8  # along a join, as shares of its length
MATCH_STEPS = 24  # places tried either side of these, a hundredth of the length apart for the nearest
MATCH_CLEAR_MM = 5.0, 3.0  # white round a match mark at best, and where there is less
LETTER_MM, NUMBER_HIGH_MM = 2.1, 3.3  # room of each letter of a match mark's number, and its height
FAR, FAR_MM = 2, 8.4  # beyond a row that runs along the join: where a number stands, and how far from the join
NUMBER_AT = 0, 1, -1, FAR  # straight inward from the mark, beside it along the join, before or after it, or far inward
# Black, so that a printer of one tone shows it; no line of a pattern is so sparse.
JOIN_STROKE = Stroke(0.25, (1.0, 4.0))
LEAST_APART_MM = 40.0  # between two marks of a join, of which one is set nearer to the other than it should be
CUT_HITS, TAG_HITS, NUMBER_HITS = 20, 100, 200  # as bad as a mark over so many lines: over a cut line, a tag; a number


@dataclass(frozen=True, slots=True, kw_only=True)
class Match:
    """One match mark on a join, in grid coordinates; the join runs up (`is_upright`) or across. Its name is the join's
    number with a letter."""

    name: str
    at: Point
    is_upright: bool
    number_at: int = 0  # as in NUMBER_AT, alike on both sheets
    reach_mm: float = MATCH_MM  # half of it, along and across


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
    templates: tuple[Template, ...], window: Window, tag: Tag = NO_TAG, *, join: JoinWay, is_quick: bool = False
) -> tuple[DrawnGrid, ...]:
    """All templates on as few sheets as found, larger grids first; `tag` and `is_quick` as in `place_footprints`."""
    by_name = {template.name: template for template in templates}
    grids = place_footprints(footprints_of(templates), window, tag, is_quick=is_quick)
    drawn = []
    first_join = 1
    for index, grid in enumerate(sorted(grids, key=lambda grid: -len(grid.sheets))):
        parts = _draw_parts(grid, by_name, window)
        matches = _find_matches(grid, window, first_join, parts, join)
        parts = _stand_labels(grid, window, parts, matches)
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
        taken = tuple(into_footprint(strip, placed) for strip in strips)
        template, label = finish_template(by_name[placed.name], taken, is_turned=placed.is_turned)
        own = (*template.marks, *label)
        parts.append(Part(template=template, placed=placed, marks=_place(own, placed)))
    return tuple(parts)


def _place(marks: tuple[Mark, ...], placed: Placed) -> tuple[Mark, ...]:
    left = placed.box.right if placed.is_turned else placed.box.left
    return place_marks(marks, left, placed.box.bottom, is_turned=placed.is_turned)


def _stand_labels(grid: Grid, window: Window, parts: tuple[Part, ...], matches: tuple[Match, ...]) -> tuple[Part, ...]:
    """The parts, those with a label beside them with one that is upright and larger where their sheet has room for it."""
    if all(part.template.label_box is None for part in parts):
        return parts
    sheets = [window.sheet(*cell) for cell in grid.sheets]
    fixed = [*join_strips(grid, window), *(spot.box for spots in grid.spots for spot in spots)]
    fixed += [mark_box(mark) for sheet in sheets for mark in match_marks(matches, sheet)]
    own = [_place(part.template.marks, part.placed) for part in parts]
    boxes = [[*_label_room(part), *map(mark_box, marks)] for part, marks in zip(parts, own, strict=True)]
    stood = []
    for at, part in enumerate(parts):
        sheet = next((sheet for sheet in sheets if holds_box(sheet, part.placed.box)), None)
        taken = [*fixed, *chain(*boxes[:at], *boxes[at + 1 :])]
        found = stand_label(part.template, part.placed, sheet, taken) if sheet else None
        if found:
            leader, label, room = found
            part = replace(part, marks=(*own[at], *_place((leader,), part.placed), *label))
            boxes[at] = [room, *map(mark_box, own[at])]
        stood.append(part)
    return tuple(stood)


def _label_room(part: Part) -> list[Box]:
    """The room kept for a label beside its piece; one inside lies on the piece."""
    box = part.template.label_box
    return [out_of_footprint(box, part.placed)] if box else []


Held = tuple[list[tuple[int, Callable[[Box], bool]]], Point]
"""What each mark counts, with a test whether a box is hit that meets its own; and how far all are shifted."""
Find = Callable[[Box], Iterator[tuple[Box, Held]]]
Count = Callable[[Box], int]
"""How much a box hits."""


def _spread(marks: Iterable[Mark]) -> Iterator[tuple[Box, Held]]:
    """Each mark in its box; those of a stamp wherever it is set."""
    for mark in marks:
        parts, shifts = (mark.marks, mark.shifts) if isinstance(mark, StampMark) else ((mark,), (Point(0.0, 0.0),))
        box, held = box_union(map(mark_box, parts)), [*map(_weigh, parts)]
        yield from ((_shift(box, by), (held, by)) for by in shifts)


def _weigh(mark: Mark) -> tuple[int, Callable[[Box], bool]]:
    if not isinstance(mark, PathMark):
        return 1, lambda box: True
    return CUT_HITS if mark.layer == "cut" else 1, touch_test(mark.path)


def _shift(box: Box, by: Point) -> Box:
    return Box(box.left + by.x, box.bottom + by.y, box.right + by.x, box.top + by.y)


def _find_matches(grid: Grid, window: Window, first: int, parts: tuple[Part, ...], join: JoinWay) -> tuple[Match, ...]:
    """Two marks on each join, clear of lines and tags where that is possible; joins are numbered on from `first`.

    To trim, they lie on the edge of the sheet that is laid on top: the left edge of the right sheet, the top edge of the
    lower one. To overlap, they lie in the middle of the strip, whole on both sheets.
    """
    matches: list[Match] = []
    taken = [spot.box for spots in grid.spots for spot in spots]
    tags = [PathMark(path=box_path(box), layer="cut") for box in taken]
    marks = (*tags, *(mark for part in parts for mark in part.marks)) if grid.joins else ()
    find = box_finder(_spread(marks))
    count = cache(lambda box: _count_hits(box, find) + TAG_HITS * sum(boxes_overlap(tag, box) for tag in taken))
    for number, (cell, other) in enumerate(grid.joins, start=first):
        sheet, neighbour = window.sheet(*cell), window.sheet(*other)
        is_upright = other[0] > cell[0]
        inward = 0.0 if join == "trim" else (window.across_mm if is_upright else window.down_mm) / 2
        for letter, share in zip("ab", MATCHES_AT, strict=True):
            last = matches[-1].at if letter == "b" else None
            spots = [_match_spot(sheet, neighbour, at, is_upright, inward) for at in _match_shares(share)]
            further = [_match_spot(sheet, neighbour, at, is_upright, inward) for at in _further_shares(share)]
            further = [at for at in further if last is None or distance(at, last) >= LEAST_APART_MM]
            matches.append(_choose_match(f"{number}{letter}", spots, further, is_upright, count))
    return tuple(matches)


def _match_shares(share: float) -> Iterator[float]:
    """Shares of a join's length to try: the wanted one, then on both sides of it, ever farther away, but never so far
    that two marks of a join come near each other or near its ends."""
    yield share
    for step in range(1, MATCH_STEPS + 1):
        away = 0.01 * step
        yield from (at for at in (share - away, share + away) if 0.05 <= at <= 0.95)


def _further_shares(share: float) -> Iterator[float]:
    """Shares beyond those, at which a mark comes nearer to the other one of its join."""
    near = {*_match_shares(share)}
    steps = (0.01 * step for step in range(5, 96))
    yield from sorted((at for at in steps if at not in near), key=lambda at: abs(at - share))


def _choose_match(name: str, spots: list[Point], further: list[Point], is_upright: bool, count: Count) -> Match:
    """The first spot whose mark and number are well clear; else clear; else where they touch nothing, the mark smaller if
    need be; else one `further` off that is clear; else the one, of either size, that the fewest lines come near."""
    make = partial(Match, name=name, is_upright=is_upright)
    for clear_mm, spot in product(MATCH_CLEAR_MM, spots):
        match = make(at=spot)
        if not any(map(count, (_square(spot, MATCH_MM + clear_mm), *_number_boxes(match)))):
            return match
    for reach_mm, spot in product((MATCH_MM, SMALL_MATCH_MM), spots):
        match = make(at=spot, reach_mm=reach_mm)
        boxes = (_square(spot, reach_mm), *_number_boxes(match))
        if not any(count(grow_box(box, LEAST_CLEAR_MM)) for box in boxes):
            return match
    for spot in further:
        match = make(at=spot)
        if not any(count(grow_box(box, LEAST_CLEAR_MM)) for box in (_square(spot, MATCH_MM), *_number_boxes(match))):
            return match
    sizes = product((MATCH_MM, SMALL_MATCH_MM), NUMBER_AT, spots)
    ways = [make(at=at, number_at=way, reach_mm=reach_mm) for reach_mm, way, at in sizes]
    found, least = ways[0], sys.maxsize
    for match in ways:
        hits = _count_match_hits(match, count, least)
        found, least = (match, hits) if hits < least else (found, least)
    return found


def _count_match_hits(match: Match, count: Count, most: int) -> int:
    """How much a mark and its numbers cross or come near to; a number that is struck through is worse than any mark. Not
    counted on from `most`."""
    boxes = [(1, _square(match.at, match.reach_mm + clear_mm)) for clear_mm in (0.0, 0.5, *MATCH_CLEAR_MM)]
    boxes += [(NUMBER_HITS, grow_box(box, 0.5)) for box in _number_boxes(match)]
    hits = 0
    for weight, box in boxes:
        hits += weight * count(box) if hits < most else 0
    return hits


def _match_spot(sheet: Box, neighbour: Box, share: float, is_upright: bool, inward_mm: float) -> Point:
    if is_upright:
        return Point(neighbour.left + inward_mm, sheet.bottom + share * sheet.height)
    return Point(sheet.left + share * sheet.width, neighbour.top - inward_mm)


def _square(spot: Point, reach: float) -> Box:
    return Box(spot.x - reach, spot.y - reach, spot.x + reach, spot.y + reach)


def _count_hits(box: Box, find: Find) -> int:
    found = 0
    for own, (held, by) in find(box):
        if holds_box(box, own):
            found += sum(weight for weight, _ in held)
        elif boxes_overlap(box, own):
            near = Box(box.left - by.x, box.bottom - by.y, box.right - by.x, box.top - by.y)
            found += sum(weight for weight, is_hit in held if is_hit(near))
    return found


def _number_boxes(match: Match) -> tuple[Box, Box]:
    """The room of a match mark's number on the sheet before the join (left, or below), and on the one after it."""
    is_far = match.number_at == FAR
    gap, long = FAR_MM if is_far else MATCH_MM + 1.0, len(match.name) * LETTER_MM
    along = 0 if is_far else match.number_at
    if match.is_upright:
        inward, aside = gap if along == 0 else 1.0, along * (gap + NUMBER_HIGH_MM / 2)
        bottom = match.at.y + aside - NUMBER_HIGH_MM / 2
        return (
            Box(match.at.x - inward - long, bottom, match.at.x - inward, bottom + NUMBER_HIGH_MM),
            Box(match.at.x + inward, bottom, match.at.x + inward + long, bottom + NUMBER_HIGH_MM),
        )
    inward, aside = gap if along == 0 else 1.0, along * (gap + long / 2)
    left = match.at.x + aside - long / 2
    return (
        Box(left, match.at.y - inward - NUMBER_HIGH_MM, left + long, match.at.y - inward),
        Box(left, match.at.y + inward, left + long, match.at.y + inward + NUMBER_HIGH_MM),
    )


def match_marks(matches: tuple[Match, ...], sheet: Box) -> list[Mark]:
    """Boxes of the match marks on one sheet, with their numbers, as empty paths."""
    found: list[Mark] = []
    for match in matches:
        boxes = [_square(match.at, MATCH_MM + 6.0), *(_number_boxes(match) if match.number_at else ())]
        found += [PathMark(path=box_path(box)) for box in boxes if boxes_overlap(box, sheet)]
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
        PathMark(path=box_path(frame), stroke=style["frame"]),
        *(_draw_join_lines(drawn.grid, cell, window, origin) if join == "trim" else ()),
        ClipMark(box=frame, marks=(*drawn.marks, *matches), dx_mm=dx, dy_mm=dy),
    )


def _draw_join_lines(grid: Grid, cell: tuple[int, int], window: Window, origin: Point) -> tuple[Mark, ...]:
    """Lines where the edge of the sheet to the right, and of the one below, come to lie."""
    marks: list[Mark] = []
    if any(first == cell and second[0] > cell[0] for first, second in grid.joins):
        x = origin.x + window.width_mm - window.across_mm
        marks.append(_join_line(Point(x, origin.y), Point(x, origin.y + window.height_mm)))
    if any(first == cell and second[1] < cell[1] for first, second in grid.joins):
        y = origin.y + window.down_mm
        marks.append(_join_line(Point(origin.x, y), Point(origin.x + window.width_mm, y)))
    return tuple(marks)


def _join_line(start: Point, end: Point) -> PathMark:
    return PathMark(path=polyline((start, end)), stroke=JOIN_STROKE)


def shows_match(match: Match, sheet: Box) -> bool:
    """True when a match mark, or a part of it, lies on a sheet."""
    reach = MATCH_MM + 1e-6
    return (
        sheet.left - reach <= match.at.x <= sheet.right + reach
        and sheet.bottom - reach <= match.at.y <= sheet.top + reach
    )


def _draw_match(match: Match, sheet: Box, style: PatternStyle) -> tuple[Mark, ...]:
    """A match mark, and its number inside the sheet that is drawn; not filled, so that a line under it shows."""
    if not shows_match(match, sheet):
        return ()
    return (*draw_diamond(match.at, match.reach_mm), _match_number(match, sheet, style))


def draw_diamond(at: Point, reach: float) -> tuple[Mark, ...]:
    """A diamond of half so many mm with a cross in it."""
    left, low, right, high = (Point(at.x + x * reach, at.y + y * reach) for x, y in ((-1, 0), (0, -1), (1, 0), (0, 1)))
    return (
        PathMark(path=polyline((left, low, right, high), closed=True), stroke=Stroke(0.3)),
        PathMark(path=polyline((left, right)), stroke=Stroke(0.18)),
        PathMark(path=polyline((low, high)), stroke=Stroke(0.18)),
    )


def _match_number(match: Match, sheet: Box, style: PatternStyle) -> TextMark:
    """The number in its room on one sheet, next to its mark."""
    size = style.match_type_mm
    before, after = _number_boxes(match)
    if match.is_upright:
        is_left = match.at.x < sheet.centre.x
        room = after if is_left else before
        return TextMark(
            x_mm=room.left if is_left else room.right,
            y_mm=room.centre.y - size * 0.35,
            text=match.name,
            size_mm=size,
            face="bold",
            anchor="start" if is_left else "end",
        )
    is_low = match.at.y < sheet.centre.y
    room = after if is_low else before
    anchor = {1: "start", -1: "end"}.get(match.number_at, "middle")
    x_mm = {1: room.left, -1: room.right}.get(match.number_at, match.at.x)
    return TextMark(
        x_mm=x_mm,
        y_mm=room.bottom if is_low else room.top - size * 0.7,
        text=match.name,
        size_mm=size,
        face="bold",
        anchor=anchor,
    )
