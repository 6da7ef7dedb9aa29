"""Plan -> the last part of the build sheet: what to measure, pull and try on the finished article."""

from docgen.pages.looks.words import say, words
from docgen.pages.marks.page import level_line
from docgen.pages.setting.blocks import Block, Figure, Heading, Styled, Table
from docgen.pages.setting.paging import columns_of, hold_measures
from docgen.pages.setting.setup import Setup
from docgen.plan import Finished, Plan

Unit = tuple[Block, ...]

SHARES = {"finished": 94, "finished_due": 68, "finished_measured": 24}
LINE_MM = 22.0  # to write on, where the page is wide enough
LINE_SHARE = 0.115  # of the page, that it may take
ROW_MM = 3.6
SPACES_MM = {"cell_pad_mm": 0.3, "subheading_gap_mm": 3.0, "block_gap_mm": 1.4}


def back_units(plan: Plan, setup: Setup) -> list[Unit]:
    """One table that stays on a page where it fits; nothing for a build of which nothing can be measured."""
    if not plan.finished:
        return []
    said, style = words("building"), setup.style
    columns = columns_of(said, SHARES)
    wide_mm = min(LINE_MM, LINE_SHARE * setup.frame.width)
    line = Figure(wide_mm, ROW_MM, (level_line(0.0, wide_mm, 0.5, style.thin_line_mm),))
    rows = tuple((*_row(item), line) for item in plan.finished)
    close = style.closer(SPACES_MM)
    carried = f"{said['finished_title']}, {said['continued']}"
    table = Table(columns, rows, carried=carried, is_fitted=True)
    return [(Styled((Heading(said["finished_title"], 3), table), close),)]


def _row(item: Finished) -> tuple[str, str]:
    told, due = say("finished", item.case, **dict(item.values)), say("finished_due", item.case, **dict(item.due))
    what = hold_measures(" ".join(told))
    return what[:1].upper() + what[1:], hold_measures(" ".join(due))
