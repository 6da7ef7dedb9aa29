"""Plan -> build sheet: what to have ready, then every step with its settings, a drawing and its cautions."""

from dataclasses import replace

from docgen.pages.looks.words import words
from docgen.pages.marks.page import Document
from docgen.pages.pictures.pictures import Pictures
from docgen.pages.setting.blocks import Block, PageStyle, scale_style
from docgen.pages.setting.flow import flow_height_mm
from docgen.pages.setting.paging import page_blocks
from docgen.pages.setting.setup import Setup
from docgen.pages.work.build_front import NAME, front_units
from docgen.pages.work.build_step import lay_step
from docgen.pages.work.step_pages import join_pages, pack_pages
from docgen.plan import Plan

# Type for the bench, read at arm's length, against that of other pages.
BODY_SHARE = 1.05
LABEL_SHARE = 1.1
LEAST_LAST_PAGE = 0.25  # of its height; a last page with less is saved where the type of other pages does it


def lay_out_build_sheet(plan: Plan, setup: Setup) -> Document:
    """The pages of the build sheet; nothing in it can fail, since the plan has no holes."""
    bench = replace(setup, style=bench_style(setup.style))
    pictures = Pictures(plan.build)
    pages = _lay_pages(plan, bench, pictures)
    last_mm = flow_height_mm(pages[-1], bench.frame.width, bench.style)
    if len(pages) > 1 and last_mm < LEAST_LAST_PAGE * bench.frame.height:
        tight = _lay_pages(plan, setup, pictures)
        if len(tight) < len(pages):
            return page_blocks(join_pages(tight, setup.frame), NAME, plan, setup)
    return page_blocks(join_pages(pages, bench.frame), NAME, plan, bench)


def _lay_pages(plan: Plan, setup: Setup, pictures: Pictures) -> list[list[Block]]:
    said = words("building")
    steps = [lay_step(step, plan, setup.frame.width, setup.style, said, pictures) for step in plan.steps]
    return pack_pages(front_units(plan, setup, pictures), steps, setup.frame, setup.style, said)


def bench_style(style: PageStyle) -> PageStyle:
    """The style with larger type for words at the bench."""
    larger = scale_style(style, ("body_type_mm", "subheading_type_mm"), BODY_SHARE)
    return scale_style(larger, ("label_type_mm",), LABEL_SHARE)
