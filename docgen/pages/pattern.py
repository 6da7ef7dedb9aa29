"""The pattern: a first page with test squares, map and legend, then every piece at full size on sheets."""

from __future__ import annotations

from docgen.geometry import Box, Point
from docgen.pages.flow import Block, Gap, Heading, Paragraph, flow_height_mm, flow_pages
from docgen.pages.frame import Stamp, draw_band, page_frame
from docgen.pages.legend import legend_figure
from docgen.pages.moving import place_marks
from docgen.pages.page import Document, Mark, Page
from docgen.pages.pattern_style import PatternStyle, load_pattern_style
from docgen.pages.piece_code import draw_piece_codes
from docgen.pages.piece_template import make_template
from docgen.pages.placing import TooLarge, Window
from docgen.pages.setup import Setup, make_stamp
from docgen.pages.sheet_map import map_figure
from docgen.pages.sheet_tag import SheetWords, draw_square, kept_box, place_tag
from docgen.pages.sheets import DrawnGrid, draw_grids, draw_sheet, sheet_room
from docgen.pages.templates import parse_words, render_words, words
from docgen.plan import Plan
from docgen.problems import Place, SpecRejected, make_error

NAME = "PATTERN"
FOUR_INCH_MM = 101.6
HUNDRED_MM = 100.0
SQUARE_GAP_MM = 3.0
SQUARE_PAD_MM = 5.0
COLUMN_GAP_MM = 7.0


def lay_out_pattern(plan: Plan, setup: Setup, paper: str) -> Document:
    """The pattern of a plan. Raises SpecRejected when a piece is too large for any sensible number of sheets, or when
    a sheet is so full that its code finds no room."""
    style = load_pattern_style()
    margin = setup.margin_mm
    frame = Box(margin, margin, setup.paper_width_mm - margin, setup.paper_height_mm - margin)
    overlap_mm = plan.build.printing.overlap_mm
    window = Window(width_mm=frame.width, height_mm=frame.height, across_mm=overlap_mm, down_mm=overlap_mm)
    drawn, tags = _draw(plan, setup, style, window)
    cells = [(grid, cell) for grid in drawn for cell in grid.grid.sheets]
    pages = [_first_page(plan, setup, paper, style, window, drawn, len(cells) + 1)]
    codes = draw_piece_codes(drawn, tags, window)
    for (grid, cell), (sheet, tag) in zip(cells, tags, strict=True):
        box = window.sheet(*cell)
        marks = draw_sheet(grid, cell, window, Point(frame.left, frame.bottom), style)
        own = (*tag, *(code for code in codes if code.payload == sheet.payload))
        marks += place_marks(own, frame.left - box.left, frame.bottom - box.bottom)
        pages.append(
            Page(
                width_mm=setup.paper_width_mm, height_mm=setup.paper_height_mm, marks=marks,
                label=f"{words('documents')[NAME]} {sheet.name}", payload=sheet.payload,
            )
        )  # fmt: skip
    return Document(name="pattern", title=f"{words('documents')[NAME]}: {plan.build.title}", pages=tuple(pages))


def _draw(
    plan: Plan, setup: Setup, style: PatternStyle, window: Window
) -> tuple[tuple[DrawnGrid, ...], list[tuple[SheetWords, tuple[Mark, ...]]]]:
    """The grids, and for each sheet its words and its tag; small pieces make way for the tag where they must."""
    build = plan.build
    pieces = [*build.pieces, *(strap.piece for strap in build.straps)]
    templates = tuple(make_template(build, piece, style, window.height_mm) for piece in pieces)
    stamp = make_stamp(build, setup, NAME)
    longest = SheetWords(stamp=stamp, document=NAME, number=999, count=999, name="AA99")
    kept = kept_box(longest, style, setup.style)
    try:
        for kept_in_grids in (False, True):
            drawn = draw_grids(templates, window, kept=kept, kept_in_grids=kept_in_grids)
            tags = _tag_sheets(drawn, window, stamp, style, setup)
            if all(tag for _, tag in tags):
                return drawn, tags
    except TooLarge as error:
        place = next((piece.place for piece in pieces if piece.name == str(error)), Place())
        what = f'the piece "{error}" needs too many sheets of this paper to be joined'
        raise SpecRejected([make_error(place, what, "print on larger paper, or cut the piece from smaller ones")]) from error
    full = next(sheet.name for sheet, tag in tags if not tag)
    what = f"sheet {full} of the pattern is so full of lines that its code and test squares find no room"
    raise SpecRejected([make_error(Place(path=build.source_name), what, "print on larger paper")])


def _tag_sheets(
    drawn: tuple[DrawnGrid, ...], window: Window, stamp: Stamp, style: PatternStyle, setup: Setup
) -> list[tuple[SheetWords, tuple[Mark, ...]]]:
    cells = [(grid, cell) for grid in drawn for cell in grid.grid.sheets]
    tags = []
    for number, (grid, cell) in enumerate(cells, start=2):
        sheet = SheetWords(
            stamp=stamp, document=NAME, number=number, count=len(cells) + 1, name=grid.sheet_name(cell)
        )
        tags.append((sheet, place_tag(sheet, sheet_room(grid, cell, window), style, setup.style)))
    return tags


def _first_page(
    plan: Plan, setup: Setup, paper: str, style: PatternStyle, window: Window, drawn: tuple[DrawnGrid, ...], count: int
) -> Page:
    """Test squares at the left, with how to print and join inside them; title, map and legend at the right."""
    frame = page_frame(setup.paper_width_mm, setup.paper_height_mm, setup.margin_mm, setup.style)
    top = frame.top - 0.5
    inch = Box(frame.left + 0.5, top - FOUR_INCH_MM, frame.left + 0.5 + FOUR_INCH_MM, top)
    metric_top = inch.bottom - SQUARE_GAP_MM
    metric = Box(inch.left, metric_top - HUNDRED_MM, inch.left + HUNDRED_MM, metric_top)
    said = words("pattern")
    joins = sum(len(grid.grid.joins) for grid in drawn)
    how = {
        "how_to_print": (inch, said["four_inch"], FOUR_INCH_MM), "how_to_join": (metric, said["hundred_mm"], HUNDRED_MM),
    }  # fmt: skip
    marks: list[Mark] = []
    for name, (box, label, side) in how.items():
        marks += draw_square(box.left, box.bottom, side, label, style, setup.style.heading_type_mm)
        marks += _fill(parse_words(render_words(name, paper=paper, joins=str(joins))), _inner(box), setup)
    column = Box(inch.right + COLUMN_GAP_MM, frame.bottom, frame.right, frame.top)
    marks += _right_column(plan, setup, style, window, drawn, column, count - 1, joins)
    band, payload = draw_band(
        make_stamp(plan.build, setup, NAME), NAME, 1, count, setup.paper_width_mm, setup.paper_height_mm,
        setup.margin_mm, setup.style,
    )  # fmt: skip
    return Page(
        width_mm=setup.paper_width_mm, height_mm=setup.paper_height_mm, marks=(*marks, *band),
        label=f"{words('documents')[NAME]} 1", payload=payload,
    )  # fmt: skip


def _inner(box: Box) -> Box:
    return Box(box.left + SQUARE_PAD_MM, box.bottom + 10.0, box.right - SQUARE_PAD_MM, box.top - 3.0)


def _fill(blocks: tuple[Block, ...], box: Box, setup: Setup) -> tuple[Mark, ...]:
    return flow_pages(blocks, box, setup.style)[0]


def _right_column(
    plan: Plan, setup: Setup, style: PatternStyle, window: Window, drawn: tuple[DrawnGrid, ...], column: Box,
    sheets: int, joins: int,
) -> tuple[Mark, ...]:  # fmt: skip
    said = words("pattern")
    legend = legend_figure(style, setup.style, column.width)
    head: tuple[Block, ...] = (
        Heading(plan.build.title, 1),
        Paragraph(f"{sheets} {said['sheets_used']}, {joins} {said['joins_used']}"),
        Heading(said["map"], 3),
    )
    tail: tuple[Block, ...] = (Heading(said["legend"], 3), legend, Gap(1.0))
    room_mm = column.height - flow_height_mm((*head, *tail), column.width, setup.style) - 12.0
    figure = map_figure(drawn, window, style, setup.style, column.width, max(room_mm, 30.0))
    return _fill((*head, figure, *tail), column, setup)
