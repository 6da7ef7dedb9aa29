"""The sizes of care cards, and how each is divided."""

from dataclasses import replace
from typing import Final

from docgen.classes import dataclass
from docgen.geometry.shapes import Box
from docgen.tables.paper import CARD_SIZES_MM


@dataclass(frozen=True, slots=True, kw_only=True)
class CardFormat:
    """A standing card: size, margin, type sizes (largest first), the widest gap between advice, and how much of it the
    card carries at most, the shop's own words apart.

    `ease_pt` is the type in which advice must fit, or the least important is left out. A folded card has two panels on
    each face, left and right of the fold.
    """

    name: str
    width_mm: float
    height_mm: float
    margin_mm: float
    sides: int
    title_pt: tuple[float, float]
    shop_pt: float
    personal_pt: float
    largest_pt: float
    ease_pt: float
    row_mm: float
    gap_mm: float
    most: int
    is_short: bool = False
    is_folded: bool = False

    @property
    def has_advice_in_front(self) -> bool:
        return not self.is_short and not self.is_folded

    def panel(self, column: int = 0) -> Box:
        """The room inside the margins of a face, or of its left (0) or right (1) panel where it is folded."""
        wide = self.width_mm / 2 if self.is_folded else self.width_mm
        left, margin = column * wide, self.margin_mm
        return Box(left + margin, margin, left + wide - margin, self.height_mm - margin)


MANY: Final = 99

ONE_SIDED: Final = CardFormat(
    name="A6",
    width_mm=CARD_SIZES_MM["A6"][0],
    height_mm=CARD_SIZES_MM["A6"][1],
    margin_mm=7.0,
    sides=1,
    title_pt=(16.0, 11.0),
    shop_pt=8.5,
    personal_pt=10.0,
    largest_pt=9.5,
    ease_pt=7.5,
    row_mm=6.0,
    gap_mm=3.2,
    most=MANY,
)
TWO_SIDED: Final = replace(ONE_SIDED, sides=2, largest_pt=10.0, ease_pt=8.5)
WALLET: Final = replace(
    TWO_SIDED,
    margin_mm=4.5,
    title_pt=(13.0, 8.5),
    shop_pt=7.5,
    personal_pt=8.0,
    largest_pt=8.75,
    ease_pt=7.0,
    row_mm=5.0,
)
FOLDED: Final = replace(
    TWO_SIDED, margin_mm=9.0, title_pt=(22.0, 11.0), shop_pt=9.0, personal_pt=11.0, largest_pt=11.0, row_mm=7.0
)


def find_format(name: str, sides: int) -> CardFormat:
    """The card of this name, with so many sides (cards that always have two take no notice of it)."""
    match name:
        case "ID-1":
            form = replace(WALLET, most=5, is_short=True)
        case "A5 folded":
            form = replace(FOLDED, gap_mm=4.6, is_folded=True)
        case _:
            form = ONE_SIDED if sides == 1 else TWO_SIDED
    wide, high = CARD_SIZES_MM[name]
    return replace(form, name=name, width_mm=wide, height_mm=high)
