"""What the code of a care card says of it, and the words of the web page that it leads to, none of them shortened."""

import re
from collections.abc import Mapping
from typing import Final

from docgen.classes import dataclass
from docgen.pages.care.care_words import Advice, list_advice, list_closing, load_care_words
from docgen.plan import Plan

CARD: Final = "CARE-CARD"
"""The document of a card, as codes name it; a card in another language than the spec's has that behind it."""

CODED: Final = re.compile(r"[A-Z]+(-[A-Z]+)*")
"""Languages that a code can name."""


def name_card(language: str, own: str) -> str:
    """The document of a card in a language; `own` is that of the spec."""
    code = language.upper()
    return f"{CARD}-{code}" if language != own and CODED.fullmatch(code) else CARD


@dataclass(frozen=True, slots=True, kw_only=True)
class CustomerWords:
    """For the customer alone: nothing of the bench is in it. `advice` ends with whom to ask for a repair."""

    language: str
    labels: Mapping[str, str]
    title: str
    variant: str
    shop: str
    contact: str
    advice: tuple[Advice, ...]


def tell_customer(plan: Plan, language: str) -> CustomerWords:
    """The words for one build in one language of layouts/care; SpecRejected when there is no such file."""
    build, said = plan.build, load_care_words(language)
    return CustomerWords(
        language=language,
        labels=said.labels,
        title=build.title,
        variant=build.variant,
        shop=build.shop.name,
        contact=build.shop.contact,
        advice=(*list_advice(plan, said), *list_closing(plan, said)),
    )
