"""What the web pages are made of: published builds and versions as values, and the words of a page."""

import html
from collections.abc import Callable, Sequence
from typing import Final, TypeVar

from docgen.assemble import Assembled
from docgen.classes import dataclass
from docgen.pages import CustomerWords, hold_measures
from docgen.pages.marks.page import SheetContent
from docgen.problems import shorten
from docgen.versions.kept.register import Issued

Row = TypeVar("Row")

INDEX: Final = "index.html"
TITLE_LETTERS: Final = 80
CHANGED_LETTERS: Final = 200
MARKUP_BYTES: Final = 40  # of a row, besides its words


@dataclass(frozen=True, slots=True, kw_only=True)
class Stack:
    """A document as codes name it ("PATTERN.SMALL"): what is known of its pages, and the numbers of those that
    have a web page."""

    name: str
    pages: tuple[SheetContent | None, ...]
    variant: str = ""
    numbers: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class PublishedVersion:
    """An issued version; `builds` are its variants, none when its spec is no longer understood; `cards` what customers
    are told of each of them, in every language."""

    issued: Issued
    builds: tuple[Assembled, ...]
    paper: str
    stacks: tuple[Stack, ...]
    cards: tuple[CustomerWords, ...] = ()

    @property
    def language(self) -> str:
        """That of the spec's own cards."""
        return self.builds[0].care.language if self.builds else ""

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
    sheet: str = ""
    where: str = ""
    pieces: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class FileWords:
    """A PDF beside the page of its version; `stack` is its document as codes name it."""

    stack: str
    address: str
    title: str
    pages: str
    size: str


def words_of(version: PublishedVersion, current: PublishedVersion, variant: str = "") -> VersionWords:
    """A version in words, or a variant of it; `current` is the one to use."""
    issued = version.issued
    titles = [build.title for build in version.builds if build.variant == variant]
    return VersionWords(
        title=shorten(titles[0] if titles else issued.title, TITLE_LETTERS),
        number=issued.version,
        date=issued.date,
        digest=issued.digest,
        changed=hold_measures(shorten(issued.changed, CHANGED_LETTERS)),
        address=version.place,
        variant=variant,
        is_current=version is current,
    )


def take(rows: Sequence[Row], words_of_row: Callable[[Row], Sequence[str]], most: float) -> tuple[tuple[Row, ...], int]:
    """The first rows that take no more than so many bytes on a page, and how many are left."""
    used = 0
    for number, row in enumerate(rows):
        words = [word for word in words_of_row(row) if word]
        used += sum(len(html.escape(word).encode("utf-8")) + MARKUP_BYTES for word in words)
        if used > most:
            return tuple(rows[:number]), len(rows) - number
    return tuple(rows), 0
