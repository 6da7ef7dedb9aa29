"""What the shop's own file says, resolved: how patterns are printed here, on which printers, and what goods cost."""

from docgen.classes import dataclass
from docgen.problems import Problem, SpecRejected, has_errors
from docgen.read import PrinterSpec, ShopFile
from docgen.resolve.goods.prices import ShopPrices, read_shop_prices
from docgen.resolve.goods.printing import Printer, Printing, parse_measured, read_printing
from docgen.resolve.values import Reader, words


@dataclass(frozen=True, slots=True, kw_only=True)
class ShopSettings:
    """What the shop's own file says of printing and prices; `path` is "" when there is no such file."""

    path: str = ""
    printing: Printing = Printing()
    printers: tuple[Printer, ...] = ()
    prices: ShopPrices = ShopPrices()


def resolve_shop_file(shop: ShopFile) -> ShopSettings:
    """What the shop's file says. Raises SpecRejected with every problem in it."""
    problems: list[Problem] = list(shop.problems)
    reader = Reader({}, problems)
    printing = read_printing(reader, shop.pattern)
    printers = [_read_printer(reader, spec) for spec in shop.printers]
    prices = read_shop_prices(reader, shop.costs, shop.prices)
    if has_errors(problems):
        raise SpecRejected(problems)
    found = tuple(printer for printer in printers if printer is not None)
    return ShopSettings(path=shop.path, printing=printing, printers=found, prices=prices)


def _read_printer(reader: Reader, spec: PrinterSpec) -> Printer | None:
    across_mm = reader.read(spec.across, parse_measured)
    down_mm = reader.read(spec.down, parse_measured)
    if across_mm is None or down_mm is None:
        return None
    return Printer(name=spec.name, across_mm=across_mm, down_mm=down_mm, date=words(spec.date))
