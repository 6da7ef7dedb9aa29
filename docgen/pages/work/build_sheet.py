"""Plan -> build sheet: what to have ready, then every step with what is done and drawn, then the finished article."""

from collections.abc import Iterator
from functools import cache

from docgen.pages.drawn.small_drawing import key_words
from docgen.pages.looks.words import words
from docgen.pages.marks.page import Document
from docgen.pages.pictures.pictures import Pictures
from docgen.pages.setting.paging import page_blocks
from docgen.pages.setting.setup import Setup
from docgen.pages.work.build_back import back_units
from docgen.pages.work.build_front import NAME, front_units
from docgen.pages.work.build_step import SIDE_MM, StepBlocks, lay_step, lay_wider
from docgen.pages.work.step_pages import join_pages, pack_pages
from docgen.plan import Plan, PlanStep


def lay_out_build_sheet(plan: Plan, setup: Setup, pictures: Pictures | None = None) -> Document:
    """The pages of the build sheet; nothing in it can fail, since the plan has no holes. `pictures` are those of its build,
    where other documents have them too."""
    said = words("building")
    pictures = pictures or Pictures(plan.build)
    steps = [
        lay_step(step, group, plan, setup.frame.width, setup.style, said, pictures)
        for step, group in _with_groups(plan)
    ]
    drawn = {kind for step in steps for figures in step.drawings for figure in figures for kind in figure.kinds}
    kinds = drawn.union(pictures.article_kinds)
    has_rows = any(strap.piece.marks.stitch_lines for strap in plan.build.straps)
    key = key_words(kinds | {"sewn_straps"} if has_rows and "sewn" in kinds else kinds)
    by_number = {step.number: step for step in plan.steps}

    @cache
    def lay_wide(place: int) -> StepBlocks | None:
        narrow = steps[place]
        return lay_wider(narrow, by_number[narrow.number], plan, setup.style, said, pictures)

    def widen(step: StepBlocks) -> StepBlocks | None:
        places = (place for place, one in enumerate(steps) if one.number == step.number)
        return None if step.side_mm > SIDE_MM else lay_wide(next(places))

    front = front_units(plan, setup, key, pictures)
    pages = pack_pages(front, steps, back_units(plan, setup), setup.frame, setup.style, said, widen)
    return page_blocks(join_pages(pages, setup.frame), NAME, plan, setup)


def _with_groups(plan: Plan) -> Iterator[tuple[PlanStep, str]]:
    """Each step with its group where that changes."""
    before = ""
    for step in plan.steps:
        yield step, step.group if step.group != before else ""
        before = step.group
