"""What a care card says: the words of one language file in layouts/care, and the shop's own."""

from collections.abc import Mapping
from functools import lru_cache
from types import MappingProxyType

from docgen.assemble import is_bag
from docgen.classes import dataclass
from docgen.layout_files import LANGUAGES_FOLDER, LayoutFile
from docgen.pages.looks.block_order import arrange
from docgen.pages.looks.words import find_file, put_in, read_settings
from docgen.plan import Plan
from docgen.problems import Place
from docgen.resolve import CarePart
from docgen.tables.care import ADVICE_IDS, ALWAYS_KEPT, HUMIDITY, IMPORTANCE


@dataclass(frozen=True, slots=True, kw_only=True)
class Phrase:
    """The words of one advice: heading, text, and the short form for the smallest card; with both for a bag where they
    are others."""

    heading: str
    text: str
    short: str
    bag: str = ""
    bag_short: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class CareWords:
    """All words of a card in one language: labels by name, advice by id."""

    labels: Mapping[str, str]
    advice: Mapping[str, Phrase]


@dataclass(frozen=True, slots=True, kw_only=True)
class Advice:
    """A heading and the text that runs on from it.

    `rank` is 0 where it must stay, else the higher the sooner it is left out. `own` names the key of the spec from
    which the shop's own words come, with their number of letters and their place.
    """

    heading: str
    text: str
    rank: int = 0
    own: str = ""
    own_letters: int = 0
    place: Place | None = None


def load_care_words(language: str) -> CareWords:
    """care/LANGUAGE.toml in use; SpecRejected when there is no such file."""
    return _read_care_words(find_file(f"{LANGUAGES_FOLDER}/{language}.toml"))


@lru_cache(maxsize=16)
def _read_care_words(file: LayoutFile) -> CareWords:
    """The words from the tables [labels] and [advice.ID], none of which a checked layout lacks."""
    tables = read_settings(file)
    phrases = {name: Phrase(**tables["advice"][name]) for name in ADVICE_IDS}
    return CareWords(labels=tables["labels"], advice=MappingProxyType(phrases))


def list_advice(plan: Plan, said: CareWords, *, is_short: bool = False, with_own: bool = True) -> tuple[Advice, ...]:
    """What materials, metals and load call for, with the shop's own parts in it; `is_short` takes the short forms."""
    parts = {part.id: part for part in plan.build.care.parts} if with_own else {}
    listed = {}
    for name in ADVICE_IDS:
        if name in plan.care or name in parts:
            advice = _phrase_advice(plan, said, name, is_short)
            listed[name] = [_add_part(advice, parts[name]) if name in parts else advice]
    return tuple(arrange("care_advice", listed))


def list_closing(plan: Plan, said: CareWords, *, is_short: bool = False, with_own: bool = True) -> tuple[Advice, ...]:
    """What the shop adds, and whom to ask for a repair."""
    care = plan.build.care
    own = (("extra", care.extra, care.extra_place), ("repair", care.repair, care.repair_place))
    closing = {
        name: [Advice(heading=said.labels[name], text=text, own=name, own_letters=len(text), place=place)]
        for name, text, place in own
        if text and with_own
    }
    if plan.build.shop.contact and not care.repair:
        closing["repair"] = [_phrase_advice(plan, said, "repair", is_short)]
    return tuple(arrange("care_closing", closing))


def _phrase_advice(plan: Plan, said: CareWords, name: str, is_short: bool) -> Advice:
    phrase, build = said.advice[name], plan.build
    values = {"humidity": HUMIDITY, "load": build.care.load, "contact": build.shop.contact}
    plain, of_bag = (phrase.short, phrase.bag_short) if is_short else (phrase.text, phrase.bag)
    text = put_in(of_bag if of_bag and is_bag(build, build.assembly.room) else plain, values)
    rank = 0 if name in ALWAYS_KEPT else IMPORTANCE.index(name)
    return Advice(heading=phrase.heading, text=text, rank=rank)


def _add_part(advice: Advice, part: CarePart) -> Advice:
    text = part.text if part.is_instead else f"{advice.text} {part.text}"
    own = f'the part "{part.id}"'
    return Advice(heading=advice.heading, text=text, own=own, own_letters=len(part.text), place=part.place)
