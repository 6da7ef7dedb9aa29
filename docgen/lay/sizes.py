"""How large the hides of a purchase are: each of another area from the least to the most, together so much as is told."""

from collections.abc import Iterator
from typing import Final

from docgen.lay.search import Chance
from docgen.resolve import Goods

LEFT: Final = (0.4, 0.5)
"""So much of a usual hide, from-to, is to be left of the last one: with less, faults and sizes of other hides make it too
few too often, and with more one hide is often not cut into. Found from lays of drawn batches."""

FAR: Final = 0.5
"""Hides are asked for that are on average no farther from the middle area than so much of the way to the least or the
most. Our choice."""


def list_sizes(goods: Goods, count: int, together_mm2: float, seed: int) -> list[float]:
    """The areas in mm2 of so many hides: spread evenly about their mean, as far as hides of these goods are, in an order by
    chance."""
    mean_mm2 = together_mm2 / count
    spread_mm2 = 2 * min(mean_mm2 - goods.least_mm2, goods.most_mm2 - mean_mm2)
    sizes = [mean_mm2 + spread_mm2 * ((number + 0.5) / count - 0.5) for number in range(count)]
    chance = Chance(seed * 6271 + count)
    return [sizes.pop(chance.below(len(sizes))) for _ in range(count)]


def list_totals(goods: Goods, count: int, left_mm2: float) -> Iterator[float]:
    """Areas in mm2 of so many hides together that may do, where of as many of the middle area so much is left of the last:
    what leaves as much as is to be left, then more leather."""
    middle_mm2 = goods.middle_mm2
    least, most = (middle_mm2 + FAR * (end_mm2 - middle_mm2) for end_mm2 in (goods.least_mm2, goods.most_mm2))
    leaves_mm2 = min(LEFT[1] * middle_mm2, max(LEFT[0] * middle_mm2, left_mm2))
    aimed_mm2 = min(count * most, max(count * least, count * middle_mm2 - left_mm2 + leaves_mm2))
    yield aimed_mm2
    for mean_mm2 in (middle_mm2, most):
        if count * mean_mm2 > aimed_mm2:
            yield count * mean_mm2
