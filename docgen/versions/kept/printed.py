"""What names the pages of an issued version, `pages.toml`: how it was laid out, and which sheets and pages came of that.

Another docgen may place templates otherwise, and a shop may print on other paper later: the older pages keep their names.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import fields, replace
from typing import Any, Final

from docgen.classes import dataclass
from docgen.pages.marks.page import Document, Packet
from docgen.resolve import Choices, Printing
from docgen.versions.kept.record import quote

PAGES: Final = "pages.toml"
HEAD: Final = """\
# Written by docgen when this version was issued: how its pages were laid out then, and what names them.
"""
SETTINGS: Final = {field.name: getattr(Choices(), field.name) for field in fields(Printing)}
"""What a pattern is laid out by, with what stands where a version was issued before there was such a setting."""


@dataclass(frozen=True, slots=True, kw_only=True)
class KeptSheet:
    """A sheet of the pattern: its page from 1, its name, and the pieces that have a template on it."""

    page: int
    name: str
    pieces: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class KeptDocument:
    """A document of a build, or of a variant: how many pages it has, and which of them are sheets."""

    variant: str
    name: str
    pages: int
    sheets: tuple[KeptSheet, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class KeptPages:
    """All documents of a version, and the settings by which they were laid out."""

    printing: Printing
    documents: tuple[KeptDocument, ...]

    def find(self, variant: str, document: str) -> KeptDocument | None:
        return next((one for one in self.documents if (one.variant, one.name) == (variant, document)), None)

    def choose(self, choices: Choices) -> Choices:
        """The choices with the settings of then."""
        return replace(choices, **{name: getattr(self.printing, name) for name in SETTINGS})


def keep_pages(packets: Iterable[tuple[KeptDocument, ...]], choices: Choices) -> KeptPages:
    """What names the pages of all packets."""
    documents = tuple(document for packet in packets for document in packet)
    return KeptPages(documents=documents, printing=Printing(**{name: getattr(choices, name) for name in SETTINGS}))


def keep_documents(variant: str, packet: Packet) -> tuple[KeptDocument, ...]:
    """What names the pages of a packet, of a variant ("" without)."""
    return tuple(keep_document(variant, one) for one in packet.documents)


def keep_document(variant: str, document: Document) -> KeptDocument:
    sheets = [
        KeptSheet(
            page=number, name=page.sheet.name, pieces=tuple(dict.fromkeys(part.name for part in page.sheet.parts))
        )
        for number, page in enumerate(document.pages, start=1)
        if page.sheet is not None
    ]
    return KeptDocument(variant=variant, name=document.name, pages=len(document.pages), sheets=tuple(sheets))


def write_pages(kept: KeptPages) -> str:
    """The text of pages.toml."""
    lines = [HEAD, *(f"{name} = {_write(getattr(kept.printing, name))}" for name in SETTINGS)]
    for one in kept.documents:
        lines += ["", "[[documents]]", f"variant = {quote(one.variant)}", f"name = {quote(one.name)}"]
        lines += [f"pages = {one.pages}", "sheets = [", *map(_write_sheet, one.sheets), "]"]
    return "\n".join([*lines, ""])


def _write(value: str | float) -> str:
    if isinstance(value, bool):
        return "true" if value else "false"
    return quote(value) if isinstance(value, str) else repr(float(value))


def _write_sheet(sheet: KeptSheet) -> str:
    pieces = ", ".join(map(quote, sheet.pieces))
    return f"  {{ page = {sheet.page}, name = {quote(sheet.name)}, pieces = [{pieces}] }},"


def read_pages(written: Mapping[str, Any]) -> KeptPages | None:
    """What pages.toml says; None when docgen never wrote that."""
    said, documents = SETTINGS | {name: written[name] for name in SETTINGS.keys() & written}, written.get("documents")
    if any(type(said[name]) is not type(usual) for name, usual in SETTINGS.items()) or not isinstance(documents, list):
        return None
    try:
        found = tuple(map(_read_document, documents))
    except (KeyError, TypeError):
        return None
    return KeptPages(documents=found, printing=Printing(**said))


def _read_document(written: Mapping[str, Any]) -> KeptDocument:
    sheets = [
        KeptSheet(page=int(sheet["page"]), name=_word(sheet["name"]), pieces=tuple(map(_word, sheet["pieces"])))
        for sheet in _list(written["sheets"])
    ]
    pages = int(written["pages"])
    if any(not 1 <= sheet.page <= pages for sheet in sheets):
        raise TypeError
    return KeptDocument(
        variant=_word(written["variant"]), name=_word(written["name"]), pages=pages, sheets=tuple(sheets)
    )


def _word(value: object) -> str:
    if not isinstance(value, str) or not value.isprintable():
        raise TypeError
    return value


def _list(value: object) -> Sequence[Mapping[str, Any]]:
    if not isinstance(value, list):
        raise TypeError
    return value
