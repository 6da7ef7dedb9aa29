"""What is bought of goods whose size is known: hides by their edge, their largest pieces and their area, panels by rows.

An estimate: it knows what is usual of the goods, not the one that lies on the table.
"""

from collections.abc import Sequence
from dataclasses import replace
from typing import Final

from docgen.plan.edge import fill_rows, plan_edge
from docgen.plan.hides import count_by_area, count_for_straps
from docgen.plan.plan import Bought, CutItem, Decider, StrapItem
from docgen.plan.rows import Box, Row, fit_rows, sum_rows
from docgen.resolve import Goods, Material
from docgen.tables.hides import PANEL, ROLL
from docgen.tables.limits import Limits

# A piece counts as large where its box takes more than this share of a hide: then it must find its place, and the area
# alone says too little. Our choice.
LARGE_SHARE: Final = 1 / 10
TURNED: Final = {"up": "across", "across": "up"}
NEARLY: Final = 1e-6
AREA: Final = "area"
STRAPS: Final = "straps"
PIECE: Final = "piece"
ROWS: Final = "rows"


def list_boxes(goods: Goods, straps: Sequence[StrapItem], items: Sequence[CutItem]) -> list[Box]:
    """All that is cut as boxes, each as it must lie; on goods with a nap upright, unless it says otherwise."""
    lies = "up" if goods.has_nap else ""
    boxes = [
        Box(across_mm=item.width_mm, along_mm=item.height_mm, count=item.count, lies=item.piece.least_stretch or lies)
        for item in items
    ]
    return boxes + [Box(across_mm=s.width_mm, along_mm=s.length_mm, count=s.count, lies="up") for s in straps]


def plan_bought(
    material: Material,
    straps: Sequence[StrapItem],
    items: Sequence[CutItem],
    *,
    gross_mm2: float,
    run_mm: float,
    limits: Limits,
) -> Bought | None:
    """How many are bought, and what decides it; None of goods that are sold by their area alone."""
    goods = material.goods
    boxes = list_boxes(goods, straps, items)
    if goods.is_hide:
        return _buy_hides(goods, straps, items, gross_mm2, limits)
    if goods.sold == PANEL:
        return _buy_panels(goods, boxes, limits)
    if material.roll_width_mm:
        return _buy_roll(material, boxes, gross_mm2, run_mm, limits)
    return None


def _buy_hides(
    goods: Goods, straps: Sequence[StrapItem], items: Sequence[CutItem], gross_mm2: float, limits: Limits
) -> Bought:
    """The most that the straps, the large pieces and the area ask for."""
    by_area = count_by_area(goods, straps, items, gross_mm2)
    by_straps = count_for_straps(goods, straps, limits)
    by_large = _count_for_large(goods, straps, items, limits)
    count: int = by_area
    decides: Decider = AREA
    if by_straps > count:
        count, decides = by_straps, STRAPS
    if by_large > count:
        count, decides = by_large, PIECE
    left_mm2 = max(0.0, count * goods.middle_mm2 * (1 - goods.faults) - gross_mm2)
    return Bought(goods=goods, count=count, decides=decides, left_mm2=left_mm2)


def _count_for_large(goods: Goods, straps: Sequence[StrapItem], items: Sequence[CutItem], limits: Limits) -> int:
    """Hides that hold the straps and all large pieces as boxes in rows, deep as a hide is in the middle of its length."""
    large = [item for item in items if item.width_mm * item.height_mm > LARGE_SHARE * goods.middle_mm2]
    if not large:
        return 0
    depth_mm = goods.middle_mm2 * (1 - goods.faults) / goods.edge_mm
    edge = plan_edge(straps, goods.edge_mm)
    rows_of = edge.rows if edge else ()
    boxes = list_boxes(goods, (), large)
    boxes += [Box(across_mm=row.width_mm, along_mm=goods.edge_mm, count=row.rows, lies="up") for row in rows_of]
    return _count_filled(fit_rows(boxes, depth_mm, limits.knife_gap_mm), goods.edge_mm)


def _count_filled(rows: Sequence[Row], length_mm: float) -> int:
    """Goods so long that hold all rows, each parted from the next by one straight cut."""
    lengths: dict[float, int] = {}
    for row in rows:
        lengths[row.along_mm] = lengths.get(row.along_mm, 0) + row.times
    return fill_rows(lengths, max(length_mm, *lengths))[0] if lengths else 0


def _buy_panels(goods: Goods, boxes: Sequence[Box], limits: Limits) -> Bought:
    """Rows across the panel, or along it: the way that takes fewer, then the one that leaves more."""
    turned = [
        replace(box, across_mm=box.along_mm, along_mm=box.across_mm, lies=TURNED.get(box.lies, "")) for box in boxes
    ]
    ways = []
    for laid, width_mm, length_mm in (
        (boxes, goods.width_mm, goods.length_mm),
        (turned, goods.length_mm, goods.width_mm),
    ):
        rows = fit_rows(laid, width_mm, limits.knife_gap_mm)
        count = _count_filled(rows, length_mm)
        ways.append((count, -(count * length_mm - sum_rows(rows)) * width_mm))
    count, left = min(ways)
    return Bought(goods=goods, count=count, decides=ROWS, left_mm2=max(0.0, -left))


def _buy_roll(material: Material, boxes: Sequence[Box], gross_mm2: float, run_mm: float, limits: Limits) -> Bought:
    """The length is known already; what decides it is told."""
    width_mm = material.roll_width_mm
    by_rows = sum_rows(fit_rows(boxes, width_mm, limits.knife_gap_mm)) > gross_mm2 / width_mm
    goods = replace(material.goods, sold=ROLL, width_mm=width_mm)
    net_mm2 = gross_mm2 * (1 - material.waste)
    return Bought(goods=goods, count=0, decides=ROWS if by_rows else AREA, left_mm2=run_mm * width_mm - net_mm2)
