"""How many hides straps and pieces take: hide by hide, each of another size between the least and the most that is usual.

An estimate from what is usual of the goods. Rows of straps are laid one behind the other as deep as a hide is firm; where
faults are usual, as many straps go into a row as find a clean stretch on average.
"""

import math
from collections.abc import Iterable, Iterator, Sequence
from typing import Final

from docgen.plan.plan import CutItem, StrapItem
from docgen.resolve import Goods
from docgen.tables.hides import AT_PIECES, FAULT_MM, FAULT_MM2, HIDES, INNER, RIM
from docgen.tables.limits import Limits

NEARLY: Final = 1e-6
GOLDEN: Final = (math.sqrt(5) - 1) / 2
"""Multiples of it, without their whole part, lie evenly between 0 and 1 however many they are."""

MOST_HIDES: Final = 40
"""So many are gone through; of more, all take what these took on average."""

LEAST_SHARE: Final = 0.02
"""A hide gives at least such a share of what one should, so that no count runs away. Our choice."""

REST: Final = 0.5
"""Of straps that find their place on average, less than half a one is none."""

Pool = dict[tuple[float, float], float]
"""How many straps are left of each width and length, mm."""


def list_sizes(goods: Goods) -> Iterator[float]:
    """How long hides are beside one of the middle area, which comes first; their areas are spread evenly."""
    at = 0.5
    for _ in range(MOST_HIDES):
        yield math.sqrt((goods.least_mm2 + (goods.most_mm2 - goods.least_mm2) * at) / goods.middle_mm2)
        at = (at + GOLDEN) % 1


def count_for_straps(goods: Goods, straps: Iterable[StrapItem], limits: Limits) -> int:
    """Hides whose firm part holds all straps that must be firm, in rows of one width from the straight edge on."""
    pool: Pool = {}
    for item in straps:
        if item.comes_from == "firm":
            key = item.width_mm, item.length_mm
            pool[key] = pool.get(key, 0.0) + item.count
    all_mm2 = _sum_pool(pool)
    for number, scale in enumerate(list_sizes(goods)):
        if not pool:
            return number
        _lay_rows(pool, goods, scale, limits)
    left = _sum_pool(pool) / all_mm2 if pool else 0.0
    return math.ceil(MOST_HIDES / max(1 - left, LEAST_SHARE) - NEARLY)


def _sum_pool(pool: Pool) -> float:
    return sum(width * length * count for (width, length), count in pool.items())


def _lay_rows(pool: Pool, goods: Goods, scale: float, limits: Limits) -> None:
    """Take out of the pool what one hide holds: the widest first, rows of one width one behind the other. One row lies on
    every hide: a strap that comes out of none is told by a check."""
    firm_mm = goods.firm_mm * scale
    first_mm = at_mm = 0.0 if goods.is_struck else limits.edge_trim_mm
    for width_mm in sorted({width for width, _ in pool}, reverse=True):
        while at_mm + width_mm <= firm_mm + NEARLY or at_mm == first_mm:
            longest_mm = max((length for width, length in pool if width == width_mm), default=0.0)
            row_mm = _row_mm(goods, scale, at_mm / firm_mm, (at_mm + width_mm) / firm_mm)
            if longest_mm <= goods.edge_mm * scale + NEARLY:
                row_mm = max(row_mm, longest_mm)
            if not _fill_row(pool, goods, width_mm, row_mm, limits.knife_gap_mm):
                break
            at_mm += width_mm + limits.knife_gap_mm


def _row_mm(goods: Goods, scale: float, near: float, far: float) -> float:
    """How long a row is, whose sides lie at these shares of the firm depth: the shorter of both."""
    rows = HIDES[goods.sold].rows
    last = len(rows) - 1

    def find(share: float) -> float:
        at = min(max(share, 0.0), 1.0) * last
        step = min(int(at), last - 1)
        return rows[step] + (rows[step + 1] - rows[step]) * (at - step)

    return goods.edge_mm * scale * min(find(near), find(far))


def _fill_row(pool: Pool, goods: Goods, width_mm: float, row_mm: float, gap_mm: float) -> bool:
    """Lay straps of a width end to end, the longest first; False where none fits, or none is left."""
    free_mm, is_laid = row_mm + gap_mm, False
    for key in sorted((key for key in pool if key[0] == width_mm), reverse=True):
        _, length_mm = key
        count = min(math.ceil(pool[key] - NEARLY), int((free_mm + NEARLY) // (length_mm + gap_mm)))
        if count <= 0:
            continue
        is_laid = True
        free_mm -= count * (length_mm + gap_mm)
        pool[key] -= count * clean_share(goods.faults, width_mm, length_mm, row_mm)
        if pool[key] < REST:
            del pool[key]
    return is_laid


def clean_share(faults: float, width_mm: float, length_mm: float, row_mm: float) -> float:
    """Which share of the straps that a row holds without faults it holds on average with them.

    Where `rate` faults come on a mm of row by Poisson's law, a clean stretch of at least k straps begins at the row's end
    with the chance exp(-rate k length), and behind each fault from which so much of the row is left with the same.
    """
    most = int((row_mm + NEARLY) // length_mm)
    if not faults or not most:
        return 1.0
    rate = faults / FAULT_MM2 * (width_mm + FAULT_MM[0])
    held = 0.0
    for count in range(1, most + 1):
        long_mm = count * length_mm
        held += math.exp(-rate * long_mm) * (1 + rate * max(0.0, row_mm - long_mm - FAULT_MM[1]))
    return min(1.0, held / most)


def count_by_area(goods: Goods, straps: Iterable[StrapItem], items: Sequence[CutItem], gross_mm2: float) -> int:
    """Hides that have the area, less a rim that is the wider lost the larger the pieces are; what shows, and what is too
    wide for them, does not come out of belly, shanks and neck end."""
    kind = HIDES[goods.sold]
    all_mm2, shown_mm2 = _sum_areas(goods, straps, items, gross_mm2)
    rim_mm2 = RIM * _mean_side_mm(items) * 2 * (goods.edge_mm + goods.middle_mm2 / goods.edge_mm)
    clean_mm2 = goods.middle_mm2 * (1 - goods.faults)
    taken_mm2 = takes_mm2 = 0.0
    for number, scale in enumerate(list_sizes(goods)):
        if taken_mm2 >= all_mm2 - NEARLY and takes_mm2 >= shown_mm2 - NEARLY:
            return number
        for_all, for_shown = (
            INNER * max(LEAST_SHARE * share * clean_mm2, share * clean_mm2 * scale**2 - rim_mm2 * scale)
            for share in (1.0, kind.good)
        )
        taken_mm2, takes_mm2 = taken_mm2 + for_all, takes_mm2 + for_shown
    return math.ceil(MOST_HIDES * max(all_mm2 / taken_mm2, shown_mm2 / takes_mm2, 1.0) - NEARLY)


def _sum_areas(
    goods: Goods, straps: Iterable[StrapItem], items: Iterable[CutItem], gross_mm2: float
) -> tuple[float, float]:
    """What all takes with its waste, more where faults are usual; and what of it does not fit into poor parts."""
    poor_mm = (1 - HIDES[goods.sold].good) * goods.middle_mm2 / goods.edge_mm / (2 if goods.is_struck else 1)
    sizes = [(item.area_mm2 * item.count, item.width_mm, item.length_mm, item.comes_from == "any") for item in straps]
    sizes += [(item.area_mm2 * item.count, item.width_mm, item.height_mm, is_hidden(item)) for item in items]
    net_mm2 = sum(mm2 for mm2, *_ in sizes) or 1.0
    all_mm2 = shown_mm2 = 0.0
    for mm2, wide_mm, long_mm, is_under in sizes:
        room_mm2 = (wide_mm + FAULT_MM[0]) * (long_mm + FAULT_MM[1])
        more = math.exp(AT_PIECES * goods.faults * room_mm2 / FAULT_MM2)
        all_mm2 += mm2 / net_mm2 * gross_mm2 * more
        if not is_under or min(wide_mm, long_mm) > poor_mm:
            shown_mm2 += mm2 / net_mm2 * gross_mm2 * more
    return all_mm2, shown_mm2


def is_hidden(item: CutItem) -> bool:
    return item.piece.cut_from == "any" or bool(item.piece.lines)


def _mean_side_mm(items: Sequence[CutItem]) -> float:
    """How long the side of a square as large as the box of a piece is, on average over the area."""
    net_mm2 = sum(item.area_mm2 * item.count for item in items)
    sides = sum(item.area_mm2 * item.count * math.sqrt(item.width_mm * item.height_mm) for item in items)
    return sides / net_mm2 if net_mm2 else 0.0
