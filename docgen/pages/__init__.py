"""Plan, paper and layouts -> documents of pages of marks at fixed places in mm; nothing is decided later.

Only what is exported here, and the values of `marks.page`, `setting.blocks` and `drawn.export`, may be used by what
comes after.
"""

from collections.abc import Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from docgen.layout_files import Layouts, layouts_in_use, use_layouts
from docgen.pages.care.care_card import lay_out_care_card
from docgen.pages.care.customer import CARD, CustomerWords, name_card, tell_customer
from docgen.pages.drawn.piece_drawing import draw_piece
from docgen.pages.lists.cutting_list import JOINT_NAME, lay_out_cutting_list
from docgen.pages.lists.shop_page import lay_out_shop_page
from docgen.pages.looks.layout_check import check_layouts, find_layout_problems
from docgen.pages.looks.pattern_style import load_pattern_style
from docgen.pages.looks.words import load_page_style, words
from docgen.pages.marks.moving import mark_box
from docgen.pages.marks.page import CsvTable, Document, Packet, Page
from docgen.pages.pattern.pattern import lay_out_pattern
from docgen.pages.pattern.template_label import also_notes, cut_words, material_words, tick_notes, work_notes
from docgen.pages.pictures.pictures import Pictures
from docgen.pages.setting.blocks import Block, Figure
from docgen.pages.setting.paging import hold_measures, page_blocks
from docgen.pages.setting.setup import Setup
from docgen.pages.work.build_sheet import lay_out_build_sheet
from docgen.plan import MaterialPlan, Plan
from docgen.read import Order
from docgen.resolve import Build, Choices, choices_of
from docgen.tables.paper import find_paper, find_roll

if TYPE_CHECKING:
    from docgen.lay import Lay

LAY_NAME = "cutting-lay"


def lay_out(
    plan: Plan,
    *,
    choices: Choices,
    date: str,
    is_draft: bool = False,
    orders: Sequence[Order] = (),
    layouts: Layouts | None = None,
    has_pattern: bool = True,
) -> Packet:
    """All documents of a plan, or all but the pattern, printed as chosen, for one day (YYYY-MM-DD); `is_draft` stamps
    every page; with `orders` there is a care card for each of them. There is a shop page only where prices are known.

    Pages of words go on the same paper; where it is larger than an office printer takes, on letter or A4. Raises
    WrittenError for an unknown paper, SpecRejected when something cannot be laid out or a layout file is faulty; the
    layouts are those given, else those in use.
    """
    with use_layouts(layouts):
        check_layouts(layouts_in_use())
        sheets, pages = _set_up_both(plan, choices, date, is_draft)
        pictures = Pictures(plan.build)
        shop_page = lay_out_shop_page(plan, pages, pictures)
        has_pattern = has_pattern and plan.build.has_pattern
        documents = (
            *((lay_out_pattern(plan, _correct(sheets), _correct(pages)),) if has_pattern else ()),
            lay_out_cutting_list(plan, pages, pictures=pictures),
            lay_out_build_sheet(plan, pages, pictures),
            lay_out_care_card(plan, pages, orders),
            *((shop_page,) if shop_page else ()),
        )
        return make_packet(plan.build, documents, date)


def lay_out_sheets(plan: Plan, *, choices: Choices, date: str, is_draft: bool = False) -> tuple[Page, ...]:
    """The pages of the pattern alone, none where another variant has it. Raises SpecRejected as `lay_out` does."""
    if not plan.build.has_pattern:
        return ()
    sheets, pages = _set_up_both(plan, choices, date, is_draft)
    return tuple(lay_out_pattern(plan, _correct(sheets), _correct(pages)).pages)


def draw_finished(plan: Plan, width_mm: float) -> tuple[Figure, ...]:
    """The finished article from the front and from behind, that wide together, and opened where it opens as a book does;
    none where it cannot be drawn."""
    return Pictures(plan.build).views(width_mm, load_page_style()) or ()


def lay_out_joint_list(plan: Plan, *, choices: Choices, date: str, is_draft: bool = False) -> Packet:
    """The cutting list alone, of a plan that sums over all variants (docgen.plan.join_plans)."""
    pages = _set_up_both(plan, choices, date, is_draft)[1]
    return make_packet(plan.build, (lay_out_cutting_list(plan, pages, JOINT_NAME),), date)


def lay_out_cutting_lay(
    laid: Sequence[tuple[MaterialPlan, "Lay"]], plan: Plan, *, choices: Choices, date: str, is_draft: bool = False
) -> Document:
    """The pages of lays of a plan's materials, to be looked at beside the hide. ValueError for none."""
    from docgen.pages.lists.lay_pages import lay_out_lays

    return lay_out_lays(laid, plan, _set_up_both(plan, choices, date, is_draft)[1])


def make_csv_tables(plan: Plan) -> tuple[CsvTable, ...]:
    """What a plan cuts, buys and takes, as tables for a spreadsheet."""
    from docgen.pages.lists import csv_tables

    return csv_tables.make_csv_tables(plan)


def make_packet(build: Build, documents: tuple[Document, ...], date: str) -> Packet:
    """Documents of a build, with what every file carries."""
    return Packet(
        documents=documents,
        title=build.title,
        author=build.shop.name,
        source_name=build.source_name,
        source=build.source,
        date=date,
        files=build.files,
    )


def lay_out_words(
    blocks: Sequence[Block], name: str, plan: Plan, *, choices: Choices, date: str, is_draft: bool
) -> Document:
    """A further document of words, on the paper of the others; in capitals, `name` is a key of [documents]."""
    return page_blocks(blocks, name, plan, _set_up_both(plan, choices, date, is_draft)[1])


def _set_up_both(plan: Plan, choices: Choices, date: str, is_draft: bool) -> tuple[Setup, Setup]:
    """For the sheets of the pattern, and for pages of words."""
    sheets = _set_up(choices.paper, choices, date, is_draft)
    if not sheets.is_large:
        return sheets, sheets
    return sheets, _set_up("letter" if plan.build.show == "in" else "a4", choices, date, is_draft)


def _set_up(paper: str, choices: Choices, date: str, is_draft: bool) -> Setup:
    """Paper upright; of a roll the width is known, and the height comes from what is laid on it."""
    roll_mm = find_roll(paper)
    width_mm, height_mm = (roll_mm, roll_mm) if roll_mm else sorted(find_paper(paper))
    return Setup(
        paper_width_mm=width_mm,
        paper_height_mm=height_mm,
        margin_mm=choices.margin_mm,
        date=date,
        style=load_page_style(),
        is_roll=bool(roll_mm),
        is_draft=is_draft,
        choices=choices,
    )


def _correct(setup: Setup) -> Setup:
    """The paper as a stretching printer sees it: what is drawn is multiplied later and fits the true paper again."""
    across, down = setup.stretch
    return replace(
        setup,
        paper_width_mm=setup.paper_width_mm / across,
        paper_height_mm=setup.paper_height_mm / down,
        margin_mm=setup.margin_mm / min(across, down),
    )
