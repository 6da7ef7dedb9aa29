"""Which pages must be printed again, and which older ones are still right.

The older build is laid out twice: under its own stamp, which gives the names and places of its sheets as they were
printed, and under that of the newer one, so that pages of words that differ only in version, digest or date are alike.
The band at the foot, which counts pages, is left out of it.
"""

from collections.abc import Sequence
from dataclasses import replace

from docgen.assemble import Assembled
from docgen.pages import Choices, lay_out, load_page_style, mark_box
from docgen.pages.marks.page import CodeMark, Document, Mark, Packet, Page, SheetContent
from docgen.plan import plan_work
from docgen.versions.compared.alike import is_alike
from docgen.versions.compared.changes import PageVerdict, PrintedPage, TemplateVerdict
from docgen.versions.kept.printed import KeptDocument, KeptPages, keep_document

ROUNDING_MM = 0.01


def lay_out_both(
    before: Assembled, after: Assembled, choices: tuple[Choices, Choices], date: str, is_draft: bool = False
) -> tuple[Packet, Packet]:
    """The packets of both builds, made comparable: sheets of the older one are as it was printed, by these choices; its
    pages of words bear the version, digest and words of the newer one's stamp. Raises what `lay_out` raises."""
    before, after = (_with_pattern(build) for build in (before, after))
    stamped = replace(
        before,
        version=after.version,
        digest=after.digest,
        changed=after.changed,
        code=after.code,
        show=after.show,
        shop=replace(before.shop, link=after.shop.link),
        variant=after.variant,
    )
    printed, older, newer = (
        lay_out(plan_work(build), choices=chosen, date=date, is_draft=is_draft)
        for build, chosen in ((before, choices[0]), (stamped, choices[0]), (after, choices[1]))
    )
    documents = zip(printed.documents, older.documents, strict=True)
    return replace(older, documents=tuple(_name_as_printed(*pair) for pair in documents)), newer


def _with_pattern(build: Assembled) -> Assembled:
    """The build with its own templates, also where another variant is printed with them."""
    if build.has_pattern or build.sharing is None:
        return build
    return replace(build, sharing=replace(build.sharing, home=build.variant))


def _name_as_printed(printed: Document, stamped: Document) -> Document:
    """The document with its sheets as printed; where the stamps make it longer or shorter, all of it, so that no page is
    taken for another."""
    if len(printed.pages) != len(stamped.pages):
        return printed
    pages = zip(printed.pages, stamped.pages, strict=True)
    return replace(stamped, pages=tuple(own if own.sheet is not None else other for own, other in pages))


def name_as_kept(packet: Packet, kept: KeptPages, variant: str) -> Packet:
    """The packet of an older build with its pages named as they were when it was issued: a document that is laid out
    otherwise today is told by its names alone, and no page of it is taken for one of today's."""
    return replace(packet, documents=tuple(_as_kept(one, kept.find(variant, one.name)) for one in packet.documents))


def _as_kept(document: Document, kept: KeptDocument | None) -> Document:
    if kept is None or keep_document(kept.variant, document) == kept:
        return document
    names = {sheet.page: sheet.name for sheet in kept.sheets}
    return replace(document, pages=tuple(_bare_page(names.get(number, "")) for number in range(1, kept.pages + 1)))


def _bare_page(name: str) -> Page:
    """A page of which only the name is known."""
    sheet = SheetContent(name=name, parts=(), matches=()) if name else None
    return Page(width_mm=0.0, height_mm=0.0, marks=(), label="", payload="", sheet=sheet)


def judge_pages(before: Packet, after: Packet, templates: Sequence[TemplateVerdict]) -> tuple[PageVerdict, ...]:
    """A verdict on every page of the newer packet, in its order."""
    right = {verdict.name for verdict in templates if verdict.is_kept}
    older = {document.name: document for document in before.documents}
    verdicts: list[PageVerdict] = []
    for document in after.documents:
        old = older.get(document.name)
        for page, printed in list_pages(document):
            if page.sheet is not None:
                verdicts.append(_judge_sheet(page, page.sheet, printed, old, right))
            else:
                verdicts.append(_judge_words(page, printed, old))
    return tuple(verdicts)


def list_thrown(before: Packet, verdicts: Sequence[PageVerdict]) -> tuple[PrintedPage, ...]:
    """The pages of the older packet that are right nowhere in the newer one."""
    kept = {verdict.kept for verdict in verdicts}
    return tuple(printed for document in before.documents for _, printed in list_pages(document) if printed not in kept)


def list_pages(document: Document) -> list[tuple[Page, PrintedPage]]:
    """Each page of a document with what it is called."""
    return [
        (page, PrintedPage(document=document.name, number=number, name=page.sheet.name if page.sheet else ""))
        for number, page in enumerate(document.pages, start=1)
    ]


def _judge_sheet(
    page: Page, content: SheetContent, printed: PrintedPage, old: Document | None, right: set[str]
) -> PageVerdict:
    """A sheet is right when an older one holds the same templates in the same places, all of them still right."""
    is_right = all(part.name in right for part in content.parts)
    if old is None or not is_right:
        return PageVerdict(page=printed, kept=None)
    for other, earlier in list_pages(old):
        if other.sheet is not None and _is_same_paper(page, other) and _is_same_sheet(other.sheet, content):
            return PageVerdict(page=printed, kept=earlier)
    return PageVerdict(page=printed, kept=None, is_moved=True)


def _is_same_sheet(before: SheetContent, after: SheetContent) -> bool:
    """Joined sheets must also bear the same name and match marks, since their neighbours call for them."""
    if after.matches and before.name != after.name:
        return False
    return is_alike(before.parts, after.parts) and is_alike(before.matches, after.matches)


def _is_same_paper(page: Page, other: Page) -> bool:
    return is_alike((page.width_mm, page.height_mm, page.stretch), (other.width_mm, other.height_mm, other.stretch))


def _judge_words(page: Page, printed: PrintedPage, old: Document | None) -> PageVerdict:
    """A page of words is right when the older one of the same number says and shows the same."""
    place = printed.number - 1
    if old is None or place >= len(old.pages):
        return PageVerdict(page=printed, kept=None)
    other = old.pages[place]
    is_same = _is_same_paper(page, other) and is_alike(_above_band(other), _above_band(page))
    return PageVerdict(page=printed, kept=printed if is_same else None)


def _above_band(page: Page) -> tuple[Mark, ...]:
    """The marks of a page without those of the band at its foot, in whose middle the code stands."""
    codes = [mark_box(mark).centre.y for mark in page.marks if isinstance(mark, CodeMark)]
    top = min(codes) + load_page_style().band_mm / 2 + ROUNDING_MM if codes else 0.0
    return tuple(mark for mark in page.marks if mark_box(mark).top > top)
