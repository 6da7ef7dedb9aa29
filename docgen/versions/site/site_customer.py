"""The web pages for customers: where the codes of care cards lead, one for each language of the cards."""

import re
from collections.abc import Iterator, Mapping
from typing import Any, Final

from docgen.classes import dataclass
from docgen.pages import CARD, CustomerWords, name_card
from docgen.problems import shorten
from docgen.versions.site.site_templates import render_html
from docgen.versions.site.site_values import INDEX, TITLE_LETTERS, Published, PublishedVersion, Stack

MAIL: Final = re.compile(r"[A-Za-z0-9][A-Za-z0-9._+-]*@[A-Za-z0-9-]+(\.[A-Za-z0-9-]+)+")
WEB: Final = re.compile(r"https://[A-Za-z0-9-]+(\.[A-Za-z0-9-]+)+(/[A-Za-z0-9._/-]*)?")


@dataclass(frozen=True, slots=True, kw_only=True)
class OtherCard:
    """The same page in another language: its folder beside this one's, and what the card is called there."""

    place: str
    language: str
    label: str


def make_customer_pages(
    build: Published, version: PublishedVersion, picture: Mapping[str, int] | None
) -> Iterator[tuple[str, bytes]]:
    """Name -> bytes of the pages of one version. Nothing on them is of the bench; an older version's is like the current
    one's, since a card stays right for what it came with."""
    for stack in version.stacks:
        if is_card(stack):
            words = _find_words(build, version, stack)
            text = render_html("customer", **_fill(build, version, stack, words, picture))
            for number in stack.numbers:
                yield f"{version.address}{stack.name}/{number}/{INDEX}", text.encode("utf-8")


def is_card(stack: Stack) -> bool:
    name = stack.name.partition(".")[0]
    return name == CARD or name.startswith(f"{CARD}-")


def name_stack(words: CustomerWords, own: str) -> str:
    """The document of a card and its variant, as codes name them; `own` is the language of the spec."""
    name = name_card(words.language, own)
    return f"{name}.{words.variant.upper()}" if words.variant else name


def _find_words(build: Published, version: PublishedVersion, stack: Stack) -> CustomerWords:
    """The words of that card; of one that is no longer understood, what is known without them."""
    found = next((words for words in version.cards if name_stack(words, version.language) == stack.name), None)
    if found is not None:
        return found
    known = [words for one in reversed(build.versions) for words in one.cards if words.language == one.language]
    return CustomerWords(
        language=known[0].language if known else "en",
        labels=known[0].labels if known else {"card": CARD.capitalize(), "version": "version", "maker": "by"},
        title=version.issued.title,
        variant=stack.variant,
        shop=build.shop,
        contact=known[0].contact if known else "",
        advice=(),
    )


def _fill(
    build: Published, version: PublishedVersion, stack: Stack, words: CustomerWords, picture: Mapping[str, int] | None
) -> dict[str, Any]:
    alike = [other for other in version.cards if other.variant == words.variant and other is not words]
    return {
        "words": words,
        "title": shorten(words.title, TITLE_LETTERS),
        "shop": shorten(words.shop, TITLE_LETTERS),
        "number": version.issued.version,
        "own": version.language,
        "address": find_address(words.contact),
        "picture": picture,
        "up": "../../",
        "others": [
            OtherCard(place=name_stack(other, version.language), language=other.language, label=other.labels["card"])
            for other in alike
        ],
    }


def find_address(contact: str) -> str:
    """What a tap on the contact opens: a mail, or the shop's site; "" where the words are neither, whole."""
    if MAIL.fullmatch(contact):
        return f"mailto:{contact}"
    return contact if WEB.fullmatch(contact) else ""
