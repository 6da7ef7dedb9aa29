"""What the code on a page says: `SPEC:CODE/VERSION/DIGEST/DOCUMENT/PAGE`, or a shop's link in place of `SPEC:`."""

import re
from typing import Final

from docgen.classes import dataclass
from docgen.pages import CARD, words
from docgen.problems import shorten

DRAFT: Final = "-DRAFT"
PARTS: Final = re.compile(
    r"(?:SPEC:|HTTPS?://\S+/)([A-Z][A-Z0-9-]{0,39})/([A-Z0-9.-]{1,18})/([0-9A-F]{10})/([A-Z-]+)(?:\.([A-Z0-9-]+))?/([0-9]{1,6})"
)


class NotOurs(ValueError):
    """The text is no code of ours; the message says so to a person."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PageCode:
    """A code taken apart; `code` and `version` in the capitals that codes are printed in. `page` is 0 where a whole
    file is meant, with `document` empty."""

    code: str
    version: str
    is_draft: bool
    digest: str
    document: str = ""
    page: int = 0
    variant: str = ""


def list_documents() -> tuple[str, ...]:
    """The names of all documents, as codes have them."""
    return tuple(words("documents"))


def find_document(coded: str) -> str:
    """The document that a code names, without the language of a card; "" for none of ours."""
    name = CARD if coded.startswith(f"{CARD}-") else coded
    return name if name in list_documents() else ""


def parse_code(text: str) -> PageCode:
    """The parts of a page's code, in capitals or not. Raises NotOurs."""
    found = PARTS.fullmatch(text.strip().upper())
    document = find_document(found[4]) if found else ""
    if not found or not document:
        raise NotOurs(
            f'"{shorten(text, 60)}" is not the code of a page from docgen; those read '
            "SPEC:CODE/VERSION/DIGEST/DOCUMENT/PAGE"
        )
    version = found[2]
    return PageCode(
        code=found[1],
        version=version.removesuffix(DRAFT),
        is_draft=version.endswith(DRAFT),
        digest=found[3],
        document=document,
        page=int(found[6]),
        variant=(found[5] or ""),
    )
