"""The pattern: a first page with test squares, map and legend, then every piece at full size on sheets."""

import math
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace

from docgen.classes import dataclass
from docgen.geometry.outline import outline_box
from docgen.geometry.path import boxes_overlap
from docgen.geometry.shapes import Box, Point
from docgen.pages.looks.pattern_style import PatternStyle, load_pattern_style
from docgen.pages.looks.words import words
from docgen.pages.marks.moving import place_marks
from docgen.pages.marks.page import Document, Mark, Page, SheetContent, SheetCount, SheetPart
from docgen.pages.pattern.first_sheet import draw_first_sheet, reject_too_many
from docgen.pages.pattern.grid import Footprint, TooLarge, Window, count_cost, lower_bound
from docgen.pages.pattern.piece_code import draw_piece_codes
from docgen.pages.pattern.piece_template import Template, make_template
from docgen.pages.pattern.sheet_tag import SheetWords, draw_tag, tag_shapes
from docgen.pages.pattern.sheets import DrawnGrid, draw_grids, draw_sheet, footprints_of, shows_match
from docgen.pages.pattern.shown_ends import ROOM_MM
from docgen.pages.pattern.slips import flow_slips, page_slips
from docgen.pages.pattern.tag_room import make_tag
from docgen.pages.setting.setup import Setup, make_stamp
from docgen.plan import Plan
from docgen.problems import Place, SpecRejected, make_error
from docgen.resolve import Piece, show_shared

NAME = "PATTERN"
MOST_SHEETS = 400
"""Of one pattern, by what its pieces take at least."""

ROLL_STEP = 1.03
LONGEST_ROLL_MM = 5000.0  # a page of a PDF is at most 14,400 points (PDF 32000-1:2008, annex C)


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawing:
    """All that is drawn: the window of one sheet, the grids, and how many blocks the tag of a sheet has."""

    templates: tuple[Template, ...]
    window: Window
    grids: tuple[DrawnGrid, ...]
    blocks: int


def lay_out_pattern(plan: Plan, setup: Setup, words_setup: Setup) -> Document:
    """The pattern of a plan, its sheets on the paper of `setup`, its first page on that of `words_setup`; last the tags
    of sheets that are too full for them.

    Raises SpecRejected when a piece is too large for any sensible number of sheets, or for a roll.
    """
    style = load_pattern_style()
    plan = replace(plan, build=show_shared(plan.build))
    said = _sheet_words(plan, setup)
    drawing = _draw(plan, setup, style, said)
    sheets, joins = count_cost(grid.grid for grid in drawing.grids)
    bound = lower_bound(footprints_of(drawing.templates), drawing.window)
    count = SheetCount(sheets=sheets, joins=joins, bound=bound)
    full = _find_full(drawing)
    in_all = 1 + sheets + len(flow_slips([(said, titles) for _, titles in full], words_setup, style))
    named = _name_sheets(said, drawing.grids, in_all)
    slips = flow_slips([(named[at], titles) for at, titles in full], words_setup, style)
    pages = (
        draw_first_sheet(plan, words_setup, style, drawing.window, drawing.grids, count, in_all),
        *_make_pages(setup, style, drawing, named),
        *page_slips(slips, said, sheets + 2, words_setup),
    )
    title = f"{words('documents')[NAME]}: {plan.build.title}"
    return Document(name="pattern", title=title, pages=pages, count=count)


def _make_pages(setup: Setup, style: PatternStyle, drawing: Drawing, named: list[SheetWords]) -> Iterator[Page]:
    """The sheets, each with its part of the drawing, its tag and the codes of its pieces."""
    cells = [
        (grid, cell, spots)
        for grid in drawing.grids
        for cell, spots in zip(grid.grid.sheets, grid.grid.spots, strict=True)
    ]
    tags = [
        (sheet, draw_tag(sheet, spots, style, setup.style)) for sheet, (_, _, spots) in zip(named, cells, strict=True)
    ]
    codes = draw_piece_codes(drawing.grids, tags, drawing.window)
    for (grid, cell, _), (sheet, tag) in zip(cells, tags, strict=True):
        own = (*tag, *(code for code in codes if code.payload == sheet.payload))
        yield _make_page(setup, style, drawing, grid, cell, sheet, own)


def _make_page(
    setup: Setup,
    style: PatternStyle,
    drawing: Drawing,
    grid: DrawnGrid,
    cell: tuple[int, int],
    sheet: SheetWords,
    own: tuple[Mark, ...],
) -> Page:
    window, margin = drawing.window, setup.margin_mm
    box, origin = window.sheet(*cell), Point(margin, margin)
    marks = draw_sheet(grid, cell, window, origin, style, setup.choices.join)
    marks += place_marks(own, origin.x - box.left, origin.y - box.bottom)
    return Page(
        width_mm=window.width_mm + 2 * margin,
        height_mm=window.height_mm + 2 * margin,
        marks=marks,
        label=f"{words('documents')[NAME]} {sheet.name}",
        payload=sheet.payload,
        stretch=setup.stretch,
        sheet=_tell_content(grid, sheet.name, box, origin),
    )


def _tell_content(grid: DrawnGrid, name: str, sheet: Box, origin: Point) -> SheetContent:
    """What lies on one sheet, in mm from the lower left of its page; `origin` is that of its window there."""
    dx, dy = origin.x - sheet.left, origin.y - sheet.bottom
    parts = sorted(
        (part.placed for part in grid.parts if boxes_overlap(part.placed.box, sheet)),
        key=lambda placed: (placed.name, placed.box.left, placed.box.bottom),
    )
    return SheetContent(
        name=name,
        parts=tuple(
            SheetPart(name=at.name, x_mm=at.box.left + dx, y_mm=at.box.bottom + dy, is_turned=at.is_turned)
            for at in parts
        ),
        matches=tuple(
            (match.name, match.at.x + dx, match.at.y + dy) for match in grid.matches if shows_match(match, sheet)
        ),
    )


def _make_templates(plan: Plan, setup: Setup, style: PatternStyle) -> tuple[Template, ...]:
    choices = setup.choices
    most_mm = setup.paper_width_mm - 2 * setup.margin_mm, setup.paper_height_mm - 2 * setup.margin_mm
    build = replace(plan.build, version=make_stamp(plan.build, setup, NAME).version_words)
    return tuple(
        make_template(
            build,
            piece.turned_over() if choices.is_mirrored else piece,
            style,
            most_mm,
            is_whole=choices.has_full_straps,
            is_mirrored=choices.is_mirrored,
        )
        for piece in _list_pieces(plan, setup)
    )


def _list_pieces(plan: Plan, setup: Setup) -> list[Piece]:
    """Those that get a template."""
    asked = setup.choices.pieces
    return [piece for piece in plan.build.cut if (piece.name in asked if asked else piece.is_printed)]


def _draw(plan: Plan, setup: Setup, style: PatternStyle, said: SheetWords) -> Drawing:
    """Templates on their sheets; of a roll on one sheet with its tag."""
    _refuse_too_many(plan, setup)
    templates = _make_templates(plan, setup, style)
    tag = make_tag(templates, tag_shapes(said, style, setup.style))
    with _told_when_too_large(templates):
        for window in _windows(setup, templates):
            grids = draw_grids(templates, window, tag, join=setup.choices.join, is_quick=setup.is_roll)
            drawing = Drawing(templates=templates, window=window, grids=grids, blocks=len(tag.blocks))
            if not setup.is_roll or (count_cost(grid.grid for grid in grids)[0] <= 1 and not _find_full(drawing)):
                return drawing
    raise _reject_long_roll(plan)


def _reject_long_roll(plan: Plan) -> SpecRejected:
    what = f"the pattern does not fit {LONGEST_ROLL_MM / 1000:g} m of this roll"
    return SpecRejected([make_error(Place(path=plan.build.source_name), what, "print on larger paper")])


def _refuse_too_many(plan: Plan, setup: Setup) -> None:
    """Before the work begins: finding places for so many takes minutes, and nobody joins them. Straps are not counted:
    they may be drawn broken."""
    boxes = [outline_box(piece.outline) for piece in _list_pieces(plan, setup) if not piece.is_strap]
    room = 2 * ROOM_MM
    least = [Footprint(name="", width_mm=box.width + room, height_mm=box.height + room) for box in boxes]
    sheets = lower_bound(least, _windows(setup, ())[-1])
    if setup.is_roll and sheets > 1:
        raise _reject_long_roll(plan)
    if sheets > MOST_SHEETS:
        raise reject_too_many(plan, sheets)


def _find_full(drawing: Drawing) -> list[tuple[int, str]]:
    """Sheets that have no room for their whole tag, by their place in the order, with the titles of the pieces there."""
    cells = [(grid, spots) for grid in drawing.grids for spots in grid.grid.spots]
    return [
        (at, ", ".join(part.template.piece.title for part in grid.parts))
        for at, (grid, spots) in enumerate(cells)
        if len(spots) < drawing.blocks
    ]


@contextmanager
def _told_when_too_large(templates: tuple[Template, ...]) -> Iterator[None]:
    try:
        yield
    except TooLarge as error:
        place = next((item.piece.place for item in templates if item.name == str(error)), Place())
        what = f'the piece "{error}" needs too many sheets of this paper to be joined'
        mend = "print on larger paper, or cut the piece from smaller ones"
        raise SpecRejected([make_error(place, what, mend)]) from error


def _windows(setup: Setup, templates: tuple[Template, ...]) -> list[Window]:
    """The window of a sheet; for a roll, ever longer ones, to find the shortest that takes all."""
    overlap, margin = setup.choices.overlap_mm, setup.margin_mm
    width = setup.paper_width_mm - 2 * margin
    heights = [setup.paper_height_mm - 2 * margin]
    if setup.is_roll:
        heights, height = [], _least_roll_mm(templates, width)
        while height < LONGEST_ROLL_MM - 2 * margin:
            heights.append(height)
            height *= ROLL_STEP
    return [Window(width_mm=width, height_mm=height, across_mm=overlap, down_mm=overlap) for height in heights]


def _least_roll_mm(templates: tuple[Template, ...], width_mm: float) -> float:
    """No shorter piece of a roll so wide takes all templates: by area, and by each one as it best lies on it."""
    area_mm2 = sum(template.width_mm * template.height_mm for template in templates)
    sides = [(template.width_mm, template.height_mm) for template in templates]
    ways = [
        min((down for across, down in (side, side[::-1]) if across <= width_mm + 1e-9), default=math.inf)
        for side in sides
    ]
    return max(area_mm2 / width_mm, 150.0, *ways)


def _name_sheets(said: SheetWords, grids: tuple[DrawnGrid, ...], count: int) -> list[SheetWords]:
    """What the tag of each sheet says, in the order of the pages; `count` is that of all pages of the pattern."""
    cells = [(grid, cell) for grid in grids for cell in grid.grid.sheets]
    return [
        replace(said, number=number, count=count, name=grid.sheet_name(cell))
        for number, (grid, cell) in enumerate(cells, start=2)
    ]


def _sheet_words(plan: Plan, setup: Setup) -> SheetWords:
    """What every tag says, as long as it can be."""
    return SheetWords(
        stamp=make_stamp(plan.build, setup, NAME),
        document=NAME,
        number=999,
        count=999,
        name="AA99",
        is_large=setup.is_large,
        printer=setup.choices.printer.name if setup.choices.printer else "",
    )
