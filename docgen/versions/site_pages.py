"""Issued versions -> the bytes of their web pages, by their names below the folder of the site."""

from __future__ import annotations

import html
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any, Final

from docgen.pages.templates import render_html
from docgen.problems import count_words, shorten
from docgen.resolve import Build
from docgen.versions.changes import Comparison
from docgen.versions.compare import compare_builds
from docgen.versions.recut import template_pieces
from docgen.versions.register import Issued
from docgen.versions.sides import label_version, pair_variants
from docgen.versions.site_words import ChangeWords, VerdictWords, list_public_changes, tell_verdict
from docgen.versions.words import document_title

INDEX: Final = "index.html"
TITLE_LETTERS: Final = 80
CHANGED_LETTERS: Final = 200
LATER_MOST: Final = 2
ROWS_BYTES: Final = 3600
"""Of an index: what its rows may take; further ones go on a page "_2", a name that no code and no version can have."""
CHANGES_BYTES: Final = 1900
TEMPLATES_BYTES: Final = 1000
MARKUP_BYTES: Final = 40  # of a row, besides its words


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """A sheet of the pattern: its name on the map, and the templates on it."""

    name: str
    parts: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Stack:
    """A document as codes name it ("PATTERN.SMALL"): what is known of its pages, and how many have a web page."""

    name: str
    pages: tuple[Sheet | None, ...]
    variant: str = ""
    count: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class PublishedVersion:
    """An issued version; `builds` are its variants, none when its spec is no longer understood."""

    issued: Issued
    builds: tuple[Build, ...]
    paper: str
    stacks: tuple[Stack, ...]

    @property
    def place(self) -> str:
        """Its folder below that of the build."""
        return f"{self.issued.version}/{self.issued.digest}/".upper()

    @property
    def address(self) -> str:
        """Its folder below that of the site."""
        return f"{self.issued.code.upper()}/{self.place}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Published:
    """A build and its issued versions, lowest first; `link` is "" when no version names one."""

    code: str
    versions: tuple[PublishedVersion, ...]
    link: str
    shop: str

    @property
    def current(self) -> PublishedVersion:
        return self.versions[-1]


@dataclass(frozen=True, slots=True, kw_only=True)
class VersionWords:
    """A version as pages speak of it."""

    title: str
    number: str
    date: str
    digest: str
    changed: str
    address: str
    variant: str = ""
    is_current: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class PrintedWords:
    """The printed page that is looked for; `sheet` is "" on pages of words."""

    title: str
    number: int
    is_card: bool
    sheet: str = ""
    where: str = ""
    pieces: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class FileWords:
    """A PDF beside the page of its version."""

    address: str
    title: str
    pages: str
    size: str


@dataclass(frozen=True, slots=True, kw_only=True)
class RowWords:
    """A line of the index of the shop."""

    address: str
    title: str
    number: str
    date: str


@dataclass(frozen=True, slots=True)
class _Site:
    """A build while its pages are made; `sizes` are the bytes of its PDFs by name."""

    build: Published
    sizes: Mapping[str, int]
    pages: dict[str, bytes] = field(default_factory=dict)

    def add(self, place: str, template: str, **values: Any) -> None:
        text = render_html(f"{template}", shop=shorten(self.build.shop, TITLE_LETTERS), **values)
        self.pages[f"{place}{INDEX}"] = text.encode("utf-8")


def make_pages(build: Published, sizes: Mapping[str, int]) -> dict[str, bytes]:
    """Name -> bytes of all pages of a build, those of printed pages first, its index last."""
    site = _Site(build, sizes)
    for place, version in enumerate(build.versions):
        earlier = build.versions[place - 1] if place else None
        _add_version(site, version, earlier)
    _add_index(site)
    return site.pages


def _add_version(site: _Site, version: PublishedVersion, earlier: PublishedVersion | None) -> None:
    """The pages of a version: an older one is held against the current one, the current one against that before it."""
    current = site.build.current
    if version is current:
        comparisons = _compare(earlier, version) if earlier else ()
    else:
        comparisons = _compare(version, current)
    for stack in version.stacks:
        _add_printed(site, version, stack, comparisons)
    _add_overview(site, version, comparisons)


def _compare(before: PublishedVersion, after: PublishedVersion) -> tuple[Comparison, ...]:
    """One comparison for each variant of the newer version; none when one of the two is not understood."""
    if not before.builds or not after.builds:
        return ()
    return tuple(
        compare_builds(old, new, before_label=label_version(old), after_label=label_version(new))
        for old, new in pair_variants(before.builds, after.builds)
    )


def _add_printed(
    site: _Site, version: PublishedVersion, stack: Stack, comparisons: Sequence[Comparison]
) -> None:
    current = site.build.current
    titles = {
        name: shorten(piece.title, 60)
        for build in version.builds if build.variant == stack.variant
        for name, piece in template_pieces(build).items()
    }  # fmt: skip
    own = next((item for item in comparisons if item.before.variant == stack.variant), None)
    verdicts = {item.name: tell_verdict(item) for item in own.templates} if own else {}
    for number in range(1, stack.count + 1):
        sheet = stack.pages[number - 1] if number <= len(stack.pages) else None
        site.add(
            f"{version.address}{stack.name}/{number}/", "printed",
            version=_words_of(version, current, stack.variant), current=_current_of(version, current),
            printed=_printed_words(version, stack, number, sheet, titles),
            verdicts_of=_pick_verdicts(sheet, verdicts) if version is not current else (),
        )  # fmt: skip


def _pick_verdicts(sheet: Sheet | None, verdicts: Mapping[str, VerdictWords]) -> tuple[VerdictWords, ...]:
    found = [verdicts[part] for part in sheet.parts if part in verdicts] if sheet else []
    return tuple(_take(found, lambda item: (item.title, item.label, item.why), CHANGES_BYTES)[0])


def _printed_words(
    version: PublishedVersion, stack: Stack, number: int, sheet: Sheet | None, titles: Mapping[str, str]
) -> PrintedWords:
    name = stack.name.partition(".")[0]
    title, is_card = document_title(name), name == "CARE-CARD"
    if sheet is None:
        return PrintedWords(title=title, number=number, is_card=is_card)
    paper = version.paper if version.paper.startswith("roll") else f"{version.paper} paper"
    pieces = [titles.get(part, part) for part in sheet.parts]
    return PrintedWords(
        title=title, number=number, is_card=is_card, sheet=sheet.name,
        where=f"So it is called in the whole pattern on {paper}.",
        pieces=tuple(_take(pieces, lambda piece: (piece,), CHANGES_BYTES)[0]),
    )  # fmt: skip


def _words_of(version: PublishedVersion, current: PublishedVersion, variant: str = "") -> VersionWords:
    issued = version.issued
    return VersionWords(
        title=shorten(issued.title, TITLE_LETTERS), number=issued.version, date=issued.date, digest=issued.digest,
        changed=shorten(issued.changed, CHANGED_LETTERS), address=version.place, variant=variant,
        is_current=version is current,
    )  # fmt: skip


def _current_of(version: PublishedVersion, current: PublishedVersion) -> VersionWords | None:
    """The version to use in place of this one; None when it is itself."""
    return None if version is current else _words_of(current, current)


def _add_overview(site: _Site, version: PublishedVersion, comparisons: Sequence[Comparison]) -> None:
    current = site.build.current
    changes = list_public_changes(comparisons)
    told, changes_left = _take(changes, lambda change: (change.head, *change.facts), CHANGES_BYTES)
    verdicts = tuple(dict.fromkeys(tell_verdict(item) for one in comparisons for item in one.templates))
    templates, templates_left = _take(
        sorted(verdicts, key=lambda item: item.is_right), lambda item: (item.title, item.label, item.why),
        TEMPLATES_BYTES,
    )  # fmt: skip
    place = site.build.versions.index(version)
    later = [
        _words_of(one, current) for one in reversed(site.build.versions[place + 1 :]) if one.issued.changed
    ]
    compared = comparisons[0] if comparisons else None
    site.add(
        version.address, "version",
        version=_words_of(version, current), current=_current_of(version, current), later=later[:LATER_MOST],
        compared={"before": compared.before.version, "after": compared.after.version} if compared else None,
        templates=templates, templates_left=templates_left, changes=told, changes_left=changes_left,
        files=tuple(_list_files(site, version)),
    )  # fmt: skip


def _list_files(site: _Site, version: PublishedVersion) -> Iterator[FileWords]:
    pages = {stack.name: len(stack.pages) for stack in version.stacks}
    for name, size in site.sizes.items():
        if not name.startswith(version.address):
            continue
        file = name.removeprefix(version.address)
        stack = next(
            item for item in version.stacks
            if file == f"{item.name.replace('.', '-').lower()}.pdf"
        )  # fmt: skip
        title = document_title(stack.name.partition(".")[0])
        yield FileWords(
            address=file, title=f"{title}, {stack.variant}" if stack.variant else title,
            pages=count_words(pages[stack.name], "page"), size=f"{max(1, round(size / 1000))} kB",
        )  # fmt: skip


def _add_index(site: _Site) -> None:
    """All versions of a build, newest first, on as many pages as they take."""
    build = site.build
    current = build.current
    rows = [_words_of(version, current) for version in reversed(build.versions)]
    chunks = list(_split(rows, lambda row: (row.address, row.number, row.date, row.changed)))
    title = shorten(current.issued.title, TITLE_LETTERS)
    for number, (chunk, place, up, onward) in enumerate(_number(chunks), start=1):
        # A page further down reaches the versions beside it.
        beside = "" if number == 1 else "../"
        shown = [_move(row, beside) for row in chunk]
        site.add(
            f"{build.code.upper()}/{place}", "versions", title=title, rows=shown, older=onward, up=f"../{up}"
        )


def _move(row: VersionWords, beside: str) -> VersionWords:
    return VersionWords(
        title=row.title, number=row.number, date=row.date, digest=row.digest, changed=row.changed,
        address=f"{beside}{row.address}", is_current=row.is_current,
    )  # fmt: skip


def make_builds_pages(builds: Sequence[Published]) -> dict[str, bytes]:
    """The index of the shop: every build with its current version, by title, on as many pages as they take."""
    rows = sorted((_row_of(build) for build in builds), key=lambda row: (row.title.casefold(), row.address))
    names = list(dict.fromkeys(build.shop for build in builds if build.shop))
    shop = shorten(names[0], TITLE_LETTERS) if len(names) == 1 else ""
    pages = {}
    chunks = list(_split(rows, lambda row: (row.address, row.title, row.number, row.date)))
    for chunk, place, up, onward in _number(chunks):
        shown = [
            RowWords(address=f"{up}{row.address}", title=row.title, number=row.number, date=row.date)
            for row in chunk
        ]
        pages[f"{place}{INDEX}"] = render_html("builds", shop=shop, rows=shown, more=onward).encode("utf-8")
    return pages


def _row_of(build: Published) -> RowWords:
    issued = build.current.issued
    return RowWords(
        address=f"{build.code.upper()}/", title=shorten(issued.title, TITLE_LETTERS), number=issued.version,
        date=issued.date,
    )  # fmt: skip


def _number(chunks: Sequence[list[Any]]) -> Iterator[tuple[list[Any], str, str, str]]:
    """Each chunk with the folder of its page, the way up from there, and the way to the next one ("" at the end)."""
    for number, chunk in enumerate(chunks, start=1):
        place, up = ("", "") if number == 1 else (f"_{number}/", "../")
        yield chunk, place, up, f"{up}_{number + 1}/" if number < len(chunks) else ""


def _split(rows: Iterable[Any], words_of: Any) -> Iterator[list[Any]]:
    """Rows in chunks of `ROWS_BYTES` at most, each of one row at least."""
    left = list(rows)
    while left:
        chunk, more = _take(left, words_of, ROWS_BYTES)
        chunk = chunk or left[:1]
        yield chunk
        left = left[len(chunk) :]


def _take(rows: Sequence[Any], words_of: Any, most: int) -> tuple[list[Any], int]:
    """The first rows that take no more than so many bytes, and how many are left."""
    taken, used = [], 0
    for row in rows:
        used += sum(len(html.escape(word).encode("utf-8")) + MARKUP_BYTES for word in words_of(row) if word)
        if used > most:
            break
        taken.append(row)
    return taken, len(rows) - len(taken)
