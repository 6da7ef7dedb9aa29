"""What a batch costs, sum by sum."""

import math

from docgen.classes import dataclass
from docgen.resolve import Price


@dataclass(frozen=True, slots=True, kw_only=True)
class CostLine:
    """One sum: `quantity` counts in the unit of the price (mm2, mm, items, hours). `kind` is "material", "thread",
    "hardware", "trimming" or "labour"."""

    kind: str
    what: str
    quantity: float
    price: Price

    @property
    def amount(self) -> float:
        return self.quantity * self.price.amount

    @property
    def charged(self) -> float:
        """The amount as printed, to a hundredth, halves up."""
        return math.floor(self.amount * 100 + 0.5 + 1e-7) / 100


@dataclass(frozen=True, slots=True, kw_only=True)
class Cost:
    """What the batch costs: `unpriced` is what has no price, `minutes` the time of all steps."""

    currency: str
    lines: tuple[CostLine, ...]
    unpriced: tuple[str, ...]
    makes: int
    minutes: int

    @property
    def total(self) -> float:
        """The sum of the lines as printed, so that the page adds up."""
        return sum(line.charged for line in self.lines)

    @property
    def each(self) -> float:
        """Materials and labour of one make."""
        return self.total / self.makes
