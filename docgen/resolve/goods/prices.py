"""What a shop pays for goods and an hour: its own prices, for what a spec names none for."""

from collections.abc import Iterable
from dataclasses import replace
from typing import TypeVar

from docgen.classes import dataclass
from docgen.problems import Place, SpecRejected, make_error
from docgen.read import CostsSpec, NamedPrice, PricesSpec, Text
from docgen.resolve.build import Build
from docgen.resolve.goods.amounts import LIKE_A_PRICE, parse_price
from docgen.resolve.goods.values import Costs, Per, Price
from docgen.resolve.values import Reader, words
from docgen.written.threads import parse_thread

B = TypeVar("B", bound=Build)
MENDS: dict[Per, str] = {"area": "per sq ft", "length": "per m", "each": "each", "hour": "per hour"}
WHAT_PRICED: dict[Per, str] = {"area": "an area", "length": "a length", "each": "one item", "hour": "an hour"}
MATERIAL_PER: tuple[Per, ...] = ("area", "length", "each")
THREAD_PER: tuple[Per, ...] = ("length", "each")
HARDWARE_PER: tuple[Per, ...] = ("each",)
TRIMMING_PER: tuple[Per, ...] = ("length", "each")


@dataclass(frozen=True, slots=True, kw_only=True)
class PriceOf:
    """The price of what goes by `name`: letters all small, hyphens as spaces."""

    name: str
    price: Price


@dataclass(frozen=True, slots=True, kw_only=True)
class ShopPrices:
    """The prices of the shop's own file; `place` is where it names its money."""

    costs: Costs = Costs()
    place: Place = Place()
    materials: tuple[PriceOf, ...] = ()
    hardware: tuple[PriceOf, ...] = ()
    threads: tuple[PriceOf, ...] = ()
    trimmings: tuple[PriceOf, ...] = ()

    @property
    def is_empty(self) -> bool:
        return not (self.costs.labour or self.materials or self.hardware or self.threads or self.trimmings)


def read_price(reader: Reader, written: Text, may_be: tuple[Per, ...]) -> Price | None:
    """A price; None where none is written, or where it is for what cannot be meant here (noted)."""
    if written is None:
        return None
    like = 'write it like "30 per hour"' if may_be == ("hour",) else LIKE_A_PRICE
    price = reader.read(written, lambda text: parse_price(text, like))
    if price is None or price.per in may_be:
        return price
    mend = " or ".join(f'"{price.words.split()[0]} {MENDS[per]}"' for per in may_be)
    what = f"this is a price for {WHAT_PRICED[price.per]}, which is no way to buy it"
    reader.error(written.place, what, f"write {mend}")
    return None


def read_costs(reader: Reader, spec: CostsSpec | None) -> Costs:
    """The word for the money, and what an hour costs."""
    if spec is None:
        return Costs()
    return Costs(currency=words(spec.currency), labour=read_price(reader, spec.labour, ("hour",)))


def read_shop_prices(reader: Reader, costs: CostsSpec | None, spec: PricesSpec | None) -> ShopPrices:
    """The prices of a shop's file; those that cannot be read are left out (noted)."""
    found = ShopPrices(
        costs=read_costs(reader, costs), place=costs.currency.place if costs and costs.currency else Place()
    )
    if spec is None:
        return found
    return replace(
        found,
        materials=_read_list(reader, spec.materials, MATERIAL_PER),
        hardware=_read_list(reader, spec.hardware, HARDWARE_PER),
        threads=_read_list(reader, _known_threads(reader, spec.threads), THREAD_PER),
        trimmings=_read_list(reader, spec.trimmings, TRIMMING_PER),
    )


def _read_list(reader: Reader, written: Iterable[NamedPrice], may_be: tuple[Per, ...]) -> tuple[PriceOf, ...]:
    read = [(item.name, read_price(reader, item.price, may_be)) for item in written]
    return tuple(PriceOf(name=plain_name(name), price=price) for name, price in read if price is not None)


def _known_threads(reader: Reader, written: Iterable[NamedPrice]) -> list[NamedPrice]:
    """Threads by their size and words, as a spec's pages print them."""
    found = []
    for item in written:
        thread = reader.read(replace(item.price, value=item.name), parse_thread)
        if thread is not None:
            found.append(replace(item, name=f"{thread.size} {thread.words}"))
    return found


def plain_name(name: str) -> str:
    """A name of goods as it is looked up: letters all small, hyphens as spaces."""
    return " ".join(name.replace("-", " ").casefold().split())


def price_build(build: B, prices: ShopPrices) -> B:
    """The build with the shop's prices where the spec names none.

    Raises SpecRejected where the spec counts in other money than the shop's file: such sums cannot be added.
    """
    if prices.is_empty:
        return build
    ours, theirs = build.costs.currency, prices.costs.currency
    if ours and theirs and plain_name(ours) != plain_name(theirs):
        what = f'the prices here are in "{theirs}", and the spec counts in "{ours}"'
        raise SpecRejected([make_error(prices.place, what, "write both in the same money")])
    return replace(
        build,
        materials=tuple(
            replace(item, price=item.price or _find(prices.materials, item.name, item.title, item.label))
            for item in build.materials
        ),
        hardware=tuple(
            replace(item, price=item.price or _find(prices.hardware, item.name, item.what)) for item in build.hardware
        ),
        trimmings=tuple(
            replace(item, price=item.price or _find(prices.trimmings, item.name, item.what)) for item in build.trimmings
        ),
        stitches=tuple(
            replace(item, thread_price=item.thread_price or _find(prices.threads, item.thread_words, item.thread_label))
            for item in build.stitches
        ),
        costs=Costs(currency=ours or theirs, labour=build.costs.labour or prices.costs.labour),
    )


def _find(prices: Iterable[PriceOf], *names: str) -> Price | None:
    """The price under the first of these names that has one."""
    known = {item.name: item.price for item in prices}
    return next((known[name] for name in map(plain_name, names) if name in known), None)
