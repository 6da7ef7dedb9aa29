"""The pattern's first page: two large test squares with how to print and join inside them; title, map and legend."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from docgen.geometry.shapes import Box
from docgen.pages.drawn.piece_drawing import kinds_of
from docgen.pages.looks.pattern_style import PatternStyle
from docgen.pages.looks.words import say, say_heading, words
from docgen.pages.marks.page import Mark, Page, SheetCount
from docgen.pages.pattern.grid import Window
from docgen.pages.pattern.legend import legend_figure
from docgen.pages.pattern.piece_template import Template
from docgen.pages.pattern.sheet_map import map_figure
from docgen.pages.pattern.sheet_tag import draw_square
from docgen.pages.pattern.sheets import DrawnGrid
from docgen.pages.setting.blocks import Block, Caution, Gap, Heading, Numbered, Paragraph, scale_style
from docgen.pages.setting.flow import flow_height_mm, flow_pages
from docgen.pages.setting.frame import page_frame
from docgen.pages.setting.setup import Setup, band_page, make_stamp
from docgen.plan import Plan
from docgen.problems import Place, SpecRejected, make_error
from docgen.resolve import Build, Choices
from docgen.tables.paper import paper_words
from docgen.written.units.table import MM_PER_POINT

NAME = "PATTERN"
FOUR_INCH, FOUR_INCH_MM = "4 in", 101.6
HUNDRED, HUNDRED_MM = "100 mm", 100.0
FULL_SIZE = "100 %"
SQUARE_GAP_MM = 3.0
SQUARE_PAD_MM = 5.0
COLUMN_GAP_MM = 7.0
LEAST_MAP_MM = 30.0
MOST_NAMED = 5
MOST_SERVED = 12
TYPE_SHARES = (1.0, 0.9, 0.8, 0.7, 0.6)
SHRINKING = (
    *("title_type_mm", "heading_type_mm", "subheading_type_mm", "body_type_mm"),
    *("paragraph_gap_mm", "heading_gap_mm"),
)
LEAST_BODY_MM = 9.5 * MM_PER_POINT  # words this small are not made smaller


def draw_first_sheet(
    plan: Plan,
    setup: Setup,
    style: PatternStyle,
    window: Window,
    drawn: tuple[DrawnGrid, ...],
    count: SheetCount,
    pages: int,
) -> Page:
    """The page of words, the first of so many pages; with a printer's correction it is corrected like the sheets, so
    that its squares tell.

    Raises SpecRejected when the paper inside its margins has no room for it.
    """
    choices = setup.choices
    frame = page_frame(setup.paper_width_mm, setup.paper_height_mm, setup.margin_mm, setup.style)
    (upper, upper_mm), (lower, lower_mm) = _order_squares(plan)
    left, top = frame.left + 0.5, frame.top - 0.5
    high = Box(left, top - upper_mm, left + upper_mm, top)
    top = high.bottom - SQUARE_GAP_MM
    low = Box(left, top - lower_mm, left + lower_mm, top)
    column = Box(left + FOUR_INCH_MM + COLUMN_GAP_MM, frame.bottom, frame.right, frame.top)
    if low.bottom < frame.bottom:
        raise _no_room(plan)
    marks = (
        *_draw_square(plan, high, upper, _how_to_print(plan, choices), setup, style),
        *_draw_square(plan, low, lower, _how_to_join(count, choices), setup, style),
        *_fill(plan, _right_column(plan, setup, style, window, drawn, column, count), column, setup),
    )
    page = band_page(marks, make_stamp(plan.build, setup, NAME), NAME, 1, pages, setup, is_wide=True)
    return replace(page, stretch=setup.stretch)


def _order_squares(plan: Plan) -> tuple[tuple[str, float], tuple[str, float]]:
    """Label and side in mm of both test squares: the one of the unit that stands first is the upper one."""
    inch, metric = (FOUR_INCH, FOUR_INCH_MM), (HUNDRED, HUNDRED_MM)
    return (metric, inch) if plan.build.show == "mm" else (inch, metric)


def _how_to_print(plan: Plan, choices: Choices) -> tuple[Block, ...]:
    (first, _), (second, _) = _order_squares(plan)
    lines = (
        *say("how_to_print", "print", paper=paper_words(choices.paper), scale=FULL_SIZE),
        *(say("how_to_print", "printer", printer=choices.printer.name) if choices.printer else ()),
        *say("how_to_print", "measure", first=first, second=second),
    )
    return (Heading(say_heading("how_to_print"), 2), *_number(lines))


def _how_to_join(count: SheetCount, choices: Choices) -> tuple[Block, ...]:
    cases = ("order", choices.join, "hold", "board") if count.joins else ("no_joins", "board")
    lines = [line for case in cases for line in say("how_to_join", case)]
    return (Heading(say_heading("how_to_join"), 2), *_number(lines))


def _number(lines: Sequence[str]) -> Iterator[Numbered]:
    """What is done one after the other."""
    return (Numbered(str(number), line) for number, line in enumerate(lines, start=1))


def _draw_square(
    plan: Plan, box: Box, label: str, how: tuple[Block, ...], setup: Setup, style: PatternStyle
) -> tuple[Mark, ...]:
    """A test square with words inside it."""
    inner = Box(box.left + SQUARE_PAD_MM, box.bottom + 10.0, box.right - SQUARE_PAD_MM, box.top - 3.0)
    square = draw_square(box.left, box.bottom, box.width, label, style, setup.style.heading_type_mm)
    return (*square, *_fill(plan, how, inner, setup))


def _fill(plan: Plan, blocks: tuple[Block, ...], box: Box, setup: Setup) -> tuple[Mark, ...]:
    """The blocks in their box, in smaller type where a shop's layout has it too large for the box."""
    for share in TYPE_SHARES:
        style = scale_style(setup.style, SHRINKING, share)
        pages = flow_pages(blocks, box, style)
        if len(pages) == 1:
            return pages[0]
        if style.body_type_mm < LEAST_BODY_MM:
            break
    raise _no_room(plan)


def reject_too_many(plan: Plan, sheets: int) -> SpecRejected:
    """A pattern of more sheets than can be found on a map and joined."""
    what = f"the pattern takes at least {sheets} sheets of this paper, too many for one pattern"
    mend = (
        "print some pieces at a time with --pieces, take larger paper with --paper, or say rule = true of those that "
        "need no template; docgen export, and make --only with the lists, come all the same"
    )
    return SpecRejected([make_error(Place(path=plan.build.source_name), what, mend)])


def _no_room(plan: Plan) -> SpecRejected:
    what = "the first page of the pattern has no room for its test squares, map and words inside these margins"
    place = Place(path=plan.build.source_name)
    return SpecRejected([make_error(place, what, "use a smaller margin, larger paper, or a shorter title")])


def _count(number: int, said: Mapping[str, str], word: str) -> str:
    return f"{number} {said[f'one_{word}' if number == 1 else f'{word}s']}"


def _serves(build: Build) -> str:
    """The variants for which the templates are: what tells them apart, then their names where these say more."""
    sharing = build.sharing
    if sharing is None:
        return ""
    names = ", ".join(sharing.variants[:MOST_SERVED])
    more = (
        f" … {len(sharing.variants) - MOST_SERVED} {words('pattern')['more']}"
        if len(sharing.variants) > MOST_SERVED
        else ""
    )
    return sharing.words if sharing.words == names else f"{sharing.words} ({names}{more})"


def _not_printed(plan: Plan, said: Mapping[str, str]) -> tuple[Block, ...]:
    """The pieces that have no template here; of many the first ones."""
    titles = [piece.title for piece in plan.build.cut if not piece.is_printed]
    more = f"; {len(titles) - MOST_NAMED} {said['more']}" if len(titles) > MOST_NAMED else ""
    return (Paragraph(f"{said['not_printed']} {'; '.join(titles[:MOST_NAMED])}{more}."),) if titles else ()


def _right_column(
    plan: Plan,
    setup: Setup,
    style: PatternStyle,
    window: Window,
    drawn: tuple[DrawnGrid, ...],
    column: Box,
    count: SheetCount,
) -> tuple[Block, ...]:
    said = words("pattern")
    if not drawn:
        return (Heading(plan.build.title, 1), *_not_printed(plan, said))
    joins = _count(count.joins, said, "join") if count.joins else said["no_joins"]
    facts = f"{_count(count.sheets, said, 'sheet')}, {joins}"
    head: tuple[Block, ...] = (
        *((Paragraph(f"{said['serves']} {_serves(plan.build)}.", bold=True),) if plan.build.sharing else ()),
        Paragraph(facts, bold=True),
        *((Caution(said["mirrored"]),) if setup.choices.is_mirrored else ()),
        *((Caution(said["some_pieces"]),) if setup.choices.pieces else _not_printed(plan, said)),
        Heading(said["map"], 3),
    )
    templates = [part.template for grid in drawn for part in grid.parts]
    used = {kind for template in templates for kind in kinds_of(template.piece) - _left_out(template)}
    used |= {"broken"} if any(template.is_broken for template in templates) else set()
    used |= {"match"} if count.joins else set()
    used |= {"join"} if count.joins and setup.choices.join == "trim" else set()
    legend = legend_figure(style, setup.style, column.width, used)
    tail: tuple[Block, ...] = (Heading(said["legend"], 3), legend, Gap(1.0))
    for level in (1, 3):
        title = Heading(plan.build.title, level)
        used_mm = flow_height_mm((title, *head, *tail), column.width, setup.style)
        room_mm = max(column.height - used_mm - 12.0, LEAST_MAP_MM)
        figure = map_figure(drawn, window, style, setup.style, column.width, room_mm)
        if flow_height_mm((title, *head, figure, *tail), column.width, setup.style) <= column.height:
            break
    if figure.height_mm > column.height:
        raise reject_too_many(plan, count.sheets)
    return (title, *head, figure, *tail)


def _left_out(template: Template) -> set[str]:
    """What is not drawn of a template: of a broken one its middle, with the arrow."""
    return {"stretch"} if template.is_broken else set()
