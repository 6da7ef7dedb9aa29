"""The web pages that list versions and builds, each on as many pages as its rows take."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from typing import Final, TypeVar

from docgen.problems import shorten
from docgen.versions.site.site_templates import render_html
from docgen.versions.site.site_values import INDEX, TITLE_LETTERS, Published, take, words_of

Row = TypeVar("Row")

ROWS_BYTES: Final = 3000
"""What the rows of one page may take; further ones go on a page "_2", a name that no code and no version can have."""


def make_versions_pages(build: Published) -> dict[str, bytes]:
    """All versions of a build, newest first."""
    current = build.current
    rows = [words_of(version, current) for version in reversed(build.versions)]
    chunks = _split(rows, lambda row: (row.address, row.number, row.date, row.changed))
    title, shop = shorten(current.issued.title, TITLE_LETTERS), shorten(build.shop, TITLE_LETTERS)
    pages = {}
    for chunk, place, up, onward in _number(chunks):
        shown = [replace(row, address=f"{up}{row.address}") for row in chunk]
        text = render_html("versions", shop=shop, title=title, rows=shown, older=onward, up=f"{up}../")
        pages[f"{build.code.upper()}/{place}{INDEX}"] = text.encode("utf-8")
    return pages


def make_builds_pages(builds: Sequence[Published]) -> dict[str, bytes]:
    """The index of the shop: every build with its current version, by title."""
    found = [replace(words_of(build.current, build.current), address=f"{build.code.upper()}/") for build in builds]
    rows = sorted(found, key=lambda row: (row.title.casefold(), row.address))
    names = list(dict.fromkeys(build.shop for build in builds if build.shop))
    shop = shorten(names[0], TITLE_LETTERS) if len(names) == 1 else ""
    pages = {}
    for chunk, place, up, onward in _number(_split(rows, lambda row: (row.address, row.title, row.number, row.date))):
        shown = [replace(row, address=f"{up}{row.address}") for row in chunk]
        pages[f"{place}{INDEX}"] = render_html("builds", shop=shop, rows=shown, more=onward).encode("utf-8")
    return pages


def _number(chunks: Sequence[Sequence[Row]]) -> Iterator[tuple[Sequence[Row], str, str, str]]:
    """Each chunk with the folder of its page, the way up from there, and the way to the next one ("" at the end)."""
    for number, chunk in enumerate(chunks, start=1):
        place, up = ("", "") if number == 1 else (f"_{number}/", "../")
        yield chunk, place, up, f"{up}_{number + 1}/" if number < len(chunks) else ""


def _split(rows: Sequence[Row], words: Callable[[Row], Sequence[str]]) -> list[Sequence[Row]]:
    """Rows in chunks of `ROWS_BYTES` at most, each of one row at least."""
    chunks = []
    while rows:
        chunk = take(rows, words, ROWS_BYTES)[0] or rows[:1]
        chunks.append(chunk)
        rows = rows[len(chunk) :]
    return chunks
