"""What the web page says that the code of a care card leads to: the words of the card, in its language, none shortened."""

from collections.abc import Mapping

from docgen.classes import dataclass
from docgen.pages.care.care_words import Advice, list_advice, list_closing, load_care_words
from docgen.plan import Plan


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
