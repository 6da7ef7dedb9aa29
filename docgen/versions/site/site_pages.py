"""Issued versions -> the bytes of their web pages, by their names below the folder of the site."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import field, replace
from typing import Any, Final

from docgen.classes import dataclass
from docgen.pages.marks.page import SheetContent
from docgen.problems import count_words, shorten
from docgen.resolve import by_name
from docgen.versions.compared.changes import Comparison
from docgen.versions.compared.compare import compare_builds
from docgen.versions.compared.sides import label_version, pair_variants
from docgen.versions.compared.words import document_title, join_titles
from docgen.versions.site.site_customer import is_card, make_customer_pages, name_stack
from docgen.versions.site.site_index import make_versions_pages
from docgen.versions.site.site_templates import render_html
from docgen.versions.site.site_values import (
    INDEX,
    TITLE_LETTERS,
    FileWords,
    PrintedWords,
    Published,
    PublishedVersion,
    Stack,
    VersionWords,
    take,
    words_of,
)
from docgen.versions.site.site_words import VerdictWords, list_public_changes, tell_verdict
from docgen.write import write_png

LATER_MOST: Final = 2
CARDS_MOST: Final = 6
PICTURE: Final = "picture.png"
RIGHT_LETTERS: Final = 300
SHEET_BYTES: Final = 1800
CHANGES_BYTES: Final = 2400
TEMPLATES_BYTES: Final = 1400
FILES_BYTES: Final = 1200
PAGE_BYTES: Final = 5900
SHARES: Final = (1.0, 0.7, 0.4, 0.0)
"""Of the room for lists: what is tried until a page is no more than `PAGE_BYTES`."""


@dataclass(frozen=True, slots=True)
class _Site:
    """A build while its pages are made; `sizes` are the bytes of its PDFs by name."""

    build: Published
    sizes: Mapping[str, int]
    pages: dict[str, bytes] = field(default_factory=dict)

    def add(self, place: str, template: str, **values: Any) -> None:
        text = render_html(template, shop=shorten(self.build.shop, TITLE_LETTERS), **values)
        self.pages[f"{place}{INDEX}"] = text.encode("utf-8")


def make_pages(build: Published, sizes: Mapping[str, int]) -> dict[str, bytes]:
    """Name -> bytes of all pages of a build, those of printed pages first, its index last."""
    site = _Site(build, sizes)
    for place, version in enumerate(build.versions):
        earlier = build.versions[place - 1] if place else None
        _add_version(site, version, earlier)
    return site.pages | make_versions_pages(build)


def _add_version(site: _Site, version: PublishedVersion, earlier: PublishedVersion | None) -> None:
    """The pages of a version: an older one is held against the current one, the current one against that before it."""
    current = site.build.current
    if version is current:
        comparisons = _compare(earlier, version) if earlier else ()
    else:
        comparisons = _compare(version, current)
    for stack in version.stacks:
        if not is_card(stack):
            _add_printed(site, version, stack, comparisons)
    photo = _add_picture(site, version)
    site.pages.update(make_customer_pages(site.build, version, photo))
    _add_overview(site, version, comparisons, photo)


def _compare(before: PublishedVersion, after: PublishedVersion) -> tuple[Comparison, ...]:
    """One comparison for each variant of the newer version; none when one of the two is not understood."""
    if not before.builds or not after.builds:
        return ()
    return tuple(
        compare_builds(old, new, before_label=label_version(old), after_label=label_version(new))
        for old, new in pair_variants(before.builds, after.builds)
    )


def _add_printed(site: _Site, version: PublishedVersion, stack: Stack, comparisons: Sequence[Comparison]) -> None:
    current = site.build.current
    titles = {
        name: shorten(piece.title, 60)
        for build in version.builds
        if build.variant == stack.variant
        for name, piece in by_name(build.cut).items()
    }
    own = next((item for item in comparisons if item.before.variant == stack.variant), None)
    verdicts = {item.name: tell_verdict(item) for item in own.templates} if own else {}
    file = next((item.address for item in _list_files(site, version) if item.stack == stack.name), "")
    for number in stack.numbers:
        sheet = stack.pages[number - 1] if number <= len(stack.pages) else None
        site.add(
            f"{version.address}{stack.name}/{number}/",
            "printed",
            version=words_of(version, current, stack.variant),
            current=_current_of(version, current),
            printed=_printed_words(version, stack, number, sheet, titles),
            file=file,
            verdicts_of=_pick_verdicts(sheet, verdicts) if version is not current else (),
        )


def _list_parts(sheet: SheetContent) -> tuple[str, ...]:
    """The templates on a sheet, each once."""
    return tuple(dict.fromkeys(part.name for part in sheet.parts))


def _pick_verdicts(sheet: SheetContent | None, verdicts: Mapping[str, VerdictWords]) -> tuple[VerdictWords, ...]:
    found = [verdicts[part] for part in _list_parts(sheet) if part in verdicts] if sheet else []
    return take(found, lambda item: (item.title, item.label, item.why), SHEET_BYTES)[0]


def _printed_words(
    version: PublishedVersion, stack: Stack, number: int, sheet: SheetContent | None, titles: Mapping[str, str]
) -> PrintedWords:
    name = stack.name.partition(".")[0]
    printed = PrintedWords(title=document_title(name), number=number)
    if sheet is None:
        return printed
    paper = version.paper if version.paper.startswith("roll") else f"{version.paper} paper"
    pieces = [titles.get(part, part) for part in _list_parts(sheet)]
    return replace(
        printed,
        sheet=sheet.name,
        where=f"That is its name where the whole pattern is printed on {paper}.",
        pieces=take(pieces, lambda piece: (piece,), SHEET_BYTES)[0],
    )


def _current_of(version: PublishedVersion, current: PublishedVersion) -> VersionWords | None:
    """The version to use in place of this one; None when it is itself."""
    return None if version is current else words_of(current, current)


def _add_overview(
    site: _Site, version: PublishedVersion, comparisons: Sequence[Comparison], photo: Mapping[str, int] | None
) -> None:
    """The page of a version; of long lists as much as fits."""
    current, place = site.build.current, site.build.versions.index(version)
    later = [words_of(one, current) for one in reversed(site.build.versions[place + 1 :]) if one.issued.changed]
    compared = comparisons[0] if comparisons else None
    changes = list_public_changes(comparisons)
    verdicts = tuple(dict.fromkeys(tell_verdict(item) for one in comparisons for item in one.templates))
    right = join_titles([item.title for item in verdicts if item.is_right])
    cards = [name_stack(words, version.language) for words in version.cards if words.language == version.language]
    for share in SHARES:
        site.add(
            version.address,
            "version",
            version=words_of(version, current),
            current=_current_of(version, current),
            picture=photo,
            cards=cards[:CARDS_MOST],
            later=later[:LATER_MOST],
            compared={"before": compared.before.version, "after": compared.after.version} if compared else None,
            templates=take(
                [item for item in verdicts if not item.is_right],
                lambda item: (item.title, item.label, item.why),
                TEMPLATES_BYTES * share,
            ),
            right=shorten(right, RIGHT_LETTERS),
            changes=take(changes, lambda change: (change.head, *change.facts), CHANGES_BYTES * share),
            files=take(
                tuple(_list_files(site, version)),
                lambda file: (file.address, file.title, file.pages),
                FILES_BYTES * share,
            ),
        )
        if len(site.pages[f"{version.address}{INDEX}"]) <= PAGE_BYTES:
            break


def _add_picture(site: _Site, version: PublishedVersion) -> dict[str, int] | None:
    """The picture at the front of the build, as a file beside the page; its size in pixels, None for no picture."""
    photo = version.builds[0].picture if version.builds else None
    if photo is None:
        return None
    site.pages[f"{version.address}{PICTURE}"] = write_png(photo.picture)
    return {"wide": photo.picture.columns, "high": photo.picture.rows}


def _list_files(site: _Site, version: PublishedVersion) -> Iterator[FileWords]:
    pages = {stack.name: len(stack.pages) for stack in version.stacks}
    for name, size in site.sizes.items():
        if not name.startswith(version.address):
            continue
        file = name.removeprefix(version.address)
        stack = next(item for item in version.stacks if file == f"{item.name.replace('.', '-').lower()}.pdf")
        title = document_title(stack.name.partition(".")[0])
        yield FileWords(
            stack=stack.name,
            address=file,
            title=f"{title}, {stack.variant}" if stack.variant else title,
            pages=count_words(pages[stack.name], "page"),
            size=f"{max(1, round(size / 1000))} kB",
        )
