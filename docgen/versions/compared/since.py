"""Only the pages that changed since an issued version, behind a cover that says which older ones to throw away."""

from dataclasses import replace
from typing import Final

from docgen.pages import Choices, lay_out_words, words
from docgen.pages.marks.page import Document, Packet
from docgen.pages.setting.blocks import Block, Bullet, Heading, KeyValues, Paragraph, Tick, Together
from docgen.plan import Plan, join_words
from docgen.tables.paper import paper_words
from docgen.versions.compared.changes import Comparison
from docgen.versions.compared.reprint import list_pages
from docgen.versions.compared.words import (
    CUT_AGAIN,
    REASONS,
    document_title,
    join_titles,
    name_kept,
    name_pages,
    name_side,
    render_fact,
)

NAME: Final = "changes"


def lay_out_since(
    comparison: Comparison, newer: Packet, plan: Plan, choices: Choices, *, date: str, is_draft: bool, paper: str = ""
) -> Packet:
    """The packet of one document: a cover, then exactly the pages that must be printed, in their order. `paper` is what
    the older ones were printed on, where that is another."""
    wanted = {verdict.page for verdict in comparison.pages if verdict.kept is None}
    pages = tuple(page for document in newer.documents for page, printed in list_pages(document) if printed in wanted)
    blocks = cover_blocks(comparison, plan.build.changed, paper or choices.paper)
    cover = lay_out_words(blocks, NAME, plan, choices=choices, date=date, is_draft=is_draft)
    title = f"{cover.title}: {comparison.before.version} - {comparison.after.version}"
    name = f"changes-since-{comparison.before.version}"
    document = Document(name=name, title=title, pages=(*cover.pages, *pages), count=newer.documents[0].count)
    return replace(newer, documents=(document,))


def cover_blocks(comparison: Comparison, changed: str = "", paper: str = "") -> list[Block]:
    """What changed in the maker's own words, `changed`; the `paper` that the older pages are named for; then for each
    document what to throw away, what is printed here, what is still right; then the templates, and every change in full.
    """
    said = words("since")
    facts = ((said["before"], name_side(comparison, 0)), (said["after"], name_side(comparison, 1)))
    return [
        Heading(words("documents")[NAME.upper()], 1),
        KeyValues(facts, 2),
        *([KeyValues(((said["in_words"], changed),), 1)] if changed else []),
        Heading(said["exchange"], 2),
        *([Paragraph(f"{said['named_for']} {paper_words(paper)}")] if paper else []),
        *_exchange_blocks(comparison),
        Heading(said["templates"], 2),
        *_template_blocks(comparison),
        Heading(said["changed"], 2),
        *_change_blocks(comparison),
    ]


def _exchange_blocks(comparison: Comparison) -> list[Block]:
    """Boxes to tick, document by document."""
    said, now = words("since"), f"version {comparison.after.version}"
    blocks: list[Block] = []
    for name in dict.fromkeys(verdict.page.document for verdict in comparison.pages):
        own = [verdict for verdict in comparison.pages if verdict.page.document == name]
        thrown = [page for page in comparison.thrown if page.document == name]
        fresh = [verdict.page for verdict in own if verdict.kept is None]
        moved = [verdict.page for verdict in own if verdict.kept is None and verdict.is_moved]
        kept = [verdict for verdict in own if verdict.kept is not None]
        blocks.append(Heading(document_title(name), 3))
        if thrown:
            blocks.append(Tick(f"{said['throw']} {name_pages(thrown)} {said['of']} {comparison.before.label}"))
        if fresh:
            blocks.append(Tick(f"{said['put']} {name_pages(fresh)} {said['of']} {now}"))
        if moved:
            blocks.append(Bullet(f"{name_pages(moved)}: {said['moved']}"))
        if kept:
            blocks.append(Bullet(f"{said['right']} {name_kept(kept)} {said['of']} {comparison.before.label}"))
    return blocks


def _template_blocks(comparison: Comparison) -> list[Block]:
    """Templates to throw away and to cut again; the others are still right."""
    said = words("since")
    blocks: list[Block] = []
    for item in comparison.templates:
        if item.how == "removed":
            blocks.append(Tick(f"{said['throw']} {item.title}"))
        elif item.how == "added":
            blocks.append(Tick(f"{said['new']} {item.title}"))
        elif item.reasons:
            why = join_words([REASONS[reason] for reason in item.reasons])
            blocks.append(Tick(f"{CUT_AGAIN}: {item.title} ({why})"))
    kept = [item.title for item in comparison.templates if item.is_kept]
    if kept:
        blocks.append(Paragraph(f"{said['right']} {comparison.before.label}: {join_titles(kept)}"))
    return blocks


def _change_blocks(comparison: Comparison) -> list[Block]:
    said = words("since")
    blocks: list[Block] = []
    for change in comparison.changes:
        name = change.title or change.name
        head = f"{change.part}: {name}" if name else change.part
        title = Paragraph(f"{head}, {change.how}" if change.how != "changed" else head, bold=True)
        blocks.append(Together((title, *(Bullet(render_fact(fact, comparison.show)) for fact in change.facts))))
    return blocks or [Paragraph(said["nothing"])]
