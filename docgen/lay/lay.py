"""A material of a plan on goods -> a lay: where every piece lies, sheet by sheet, and what is left."""

import math
from collections.abc import Callable, Sequence
from functools import partial
from typing import Final

from docgen.classes import dataclass
from docgen.lay.drawn import typical_hide
from docgen.lay.filling import Clashes, Spot
from docgen.lay.hides import Hide, Shape
from docgen.lay.kinds import STRAPS, Kind, Sheet
from docgen.lay.parts import Part, list_parts, make_kinds
from docgen.lay.search import FIRST, USUAL, Effort, Search, Try
from docgen.lay.sheets import box_sheet, hide_sheet
from docgen.lay.sizes import list_sizes, list_totals
from docgen.lay.squeeze import squeeze_roll
from docgen.plan import MaterialPlan
from docgen.resolve import Goods
from docgen.tables.hides import PANEL
from docgen.tables.limits import Limits

HIDE_CELL_MM: Final = 3.0
STRAP_CELL_MM: Final = 2.0
"""Of a batch of straps alone: up to so much is lost behind each strap, and a row has many of them."""
BOX_CELLS, SQUEEZED_CELLS = 250_000, 160_000
BOX_CELL_MM: Final = (1.0, 3.0)
LONGER: Final = 1.5
LITTLE_MM: Final = 5.0
DRAWS: Final = 3
"""How often the faults of hides are drawn, where some are usual: a single draw may be a kind one."""

PART: Final = 2
"""Where hides differ in area, their number and each purchase are searched for with a half of the usual search."""

SizesOf = Callable[[int], Sequence[float]]
"""The areas in mm2 of the first hides of a draw; those behind them are of the middle area."""

ROLL_SPARE: Final = 1.25
"""The sheet of a roll is so many times as long as rows of boxes would take."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Placed:
    """One piece as it lies: the `number` of its line in the cutting list, its outline across and along the goods in mm."""

    number: int
    outline: Shape
    is_mirrored: bool
    is_strap: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class LaidSheet:
    """One hide, panel or length of a roll with what lies on it. `rest_mm2` is what is left of it in one piece worth
    keeping; `used_mm` how far along it is used up; `struck` the straight edge that is struck for the rows of straps, where
    the hide has none."""

    hide: Hide
    placed: tuple[Placed, ...]
    rest_mm2: float
    used_mm: float
    struck: Shape = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Lay:
    """All sheets that are needed, the lines of the cutting list that are laid, and how many pieces of each line found no
    place (by its number)."""

    parts: tuple[Part, ...]
    sheets: tuple[LaidSheet, ...]
    missing: tuple[tuple[int, int], ...]
    gap_mm: float
    trim_mm: float

    @property
    def net_mm2(self) -> float:
        return sum(part.area_mm2 * part.count for part in self.parts)


def lay_material(
    plan: MaterialPlan, limits: Limits, hides: Sequence[Hide] = (), *, seed: int = 0, effort: Effort = USUAL
) -> Lay:
    """The lay of what is cut of a material: on these hides, or as many of its own goods as are needed.

    ValueError for goods of which nothing is known, and for nothing to be laid.
    """
    goods, parts = plan.material.goods, list_parts(plan)
    if hides:
        return lay_hides(parts, limits, lambda number: hides[number] if number < len(hides) else None, effort=effort)
    if goods.is_hide:
        return lay_usual(parts, limits, goods, seed=seed, effort=effort)
    if goods.sold == PANEL:
        return lay_boxes(parts, limits, goods.width_mm, goods.length_mm, effort=effort)
    if plan.run_mm:
        width_mm = plan.material.roll_width_mm
        long_mm = ROLL_SPARE * plan.run_mm
        return lay_boxes(parts, limits, width_mm, long_mm, is_roll=True, effort=effort)
    raise ValueError("it is not known how these goods are sold")


def lay_usual(parts: Sequence[Part], limits: Limits, goods: Goods, *, seed: int = 0, effort: Effort = USUAL) -> Lay:
    """The lay on usual hides of these goods. Where faults are usual, they are drawn several times, and each draw is laid on
    equally well: the one that is neither kind nor cruel is told. Several hides that differ in area are laid on again as
    they would be bought: each of another area, together as large as the batch asks for."""
    kinds, clashes = _hide_kinds(parts, limits), Clashes()

    def lay_draws(draws: int, part: int, sizes_of: SizesOf) -> Lay:
        """The middle one of the lays on so many draws, with a part of the usual search."""

        def run(draw: int) -> tuple[Try, _HideSearch]:
            sizes = sizes_of(draw)

            def find_hide(number: int) -> Hide:
                return typical_hide(goods, number, sizes[number] if number < len(sizes) else goods.middle_mm2, draw)

            search = _HideSearch(parts, limits, find_hide, clashes)
            return search.run(kinds, effort, part * draws), search

        found = sorted((run(draw) for draw in range(seed, seed + draws)), key=lambda one: one[0].score)
        best, search = found[draws // 2]
        return search.lay(best)

    draws = DRAWS if goods.faults else 1
    if goods.most_mm2 > goods.least_mm2:
        first = lay_draws(draws, PART, lambda draw: ())
        bought = _lay_several(partial(lay_draws, DRAWS, PART), goods, first)
        if bought is not None:
            return bought
    return lay_draws(draws, 1, lambda draw: ())


def _lay_several(lay_draws: Callable[[SizesOf], Lay], goods: Goods, first: Lay) -> Lay | None:
    """The lay on several hides of as little area together as holds the batch with some to spare; None where one hide of
    the middle area does, as in the `first` lay, or no more than that one tells is found."""
    count, left_mm2 = len(first.sheets), first.sheets[-1].rest_mm2 if first.sheets else 0.0
    while count > 1 and not first.missing:
        for together_mm2 in list_totals(goods, count, left_mm2):
            lay = lay_draws(partial(list_sizes, goods, count, together_mm2))
            if len(lay.sheets) == count and not lay.missing:
                return lay
            if len(lay.sheets) < count:
                break
        else:
            return None
        count, left_mm2 = count - 1, 0.0
    return None


def lay_hides(
    parts: Sequence[Part], limits: Limits, find_hide: Callable[[int], Hide | None], *, effort: Effort = USUAL
) -> Lay:
    """The lay on hides, the `number`th of which is asked for as it is needed; None when there are no more."""
    search = _HideSearch(parts, limits, find_hide, Clashes())
    return search.lay(search.run(_hide_kinds(parts, limits), effort))


def _hide_kinds(parts: Sequence[Part], limits: Limits) -> list[tuple[Kind, int]]:
    return make_kinds(parts, _hide_cell_mm(parts), limits.knife_gap_mm, has_zones=True)


def _hide_cell_mm(parts: Sequence[Part]) -> float:
    return STRAP_CELL_MM if all(part.group == STRAPS for part in parts) else HIDE_CELL_MM


class _HideSearch:
    """A search on hides, and those that it asked for."""

    def __init__(
        self, parts: Sequence[Part], limits: Limits, find_hide: Callable[[int], Hide | None], clashes: Clashes
    ) -> None:
        self.parts, self.limits, self.find_hide = parts, limits, find_hide
        self.cell_mm = _hide_cell_mm(parts)
        self.known: dict[int, Hide] = {}
        short, long = (max(1, round(side / self.cell_mm)) for side in (limits.rest_short_mm, limits.rest_long_mm))
        self.search = Search(
            make_sheet=self._make_sheet, cell_mm=self.cell_mm, rest_cells=(short, long), clashes=clashes
        )

    def _make_sheet(self, number: int) -> Sheet:
        hide = self.find_hide(number)
        if hide is None:
            return Sheet(across=1, along=1, closed={"": 1})
        self.known[number] = hide
        return hide_sheet(hide, self.cell_mm, self.limits.edge_trim_mm)

    def run(self, kinds: Sequence[tuple[Kind, int]], effort: Effort, shared: int = 1) -> Try:
        return self.search.run(kinds, effort, shared)

    def lay(self, found: Try) -> Lay:
        sheets = [_laid_sheet(self.search, number, spots, self.known[number], 0.0) for number, spots in found.laid]
        return _finish(self.parts, sheets, found, self.limits.knife_gap_mm, self.limits.edge_trim_mm)


def lay_boxes(
    parts: Sequence[Part],
    limits: Limits,
    width_mm: float,
    length_mm: float,
    *,
    is_roll: bool = False,
    effort: Effort = USUAL,
) -> Lay:
    """The lay on panels of one size; or along a roll, of which `length_mm` is what may be needed: a first lay tells how
    much is, and the search goes on within that."""
    gap_mm = limits.knife_gap_mm
    search, kinds = _box_search(parts, gap_mm, width_mm, length_mm)
    found = search.run(kinds, FIRST if is_roll else effort)
    while is_roll and len(found.laid) > 1:
        length_mm *= LONGER
        search, kinds = _box_search(parts, gap_mm, width_mm, length_mm)
        found = search.run(kinds, FIRST)
    laid: Sequence[tuple[int, tuple[Spot, ...]]] = found.laid
    if is_roll and laid:
        length_mm = min(length_mm, _used_mm(search, laid[0][1]) + LITTLE_MM)
        search, kinds = _box_search(parts, gap_mm, width_mm, length_mm)
        found = search.run(kinds, effort)
        laid = found.laid
        squeezed = _squeeze(parts, gap_mm, width_mm, length_mm, effort)
        if squeezed is not None and _used_mm(squeezed[0], squeezed[1]) < _used_mm(search, laid[0][1]):
            search, laid = squeezed[0], ((0, squeezed[1]),)
    sheets = []
    for number, spots in laid:
        long_mm = _used_mm(search, spots) - gap_mm if is_roll else length_mm
        box = Hide(
            name=str(number + 1),
            outline=((0.0, 0.0), (width_mm, 0.0), (width_mm, long_mm), (0.0, long_mm)),
            has_edge=False,
            is_leather=False,
        )
        sheets.append(_laid_sheet(search, number, spots, box, gap_mm / 2))
    return _finish(parts, sheets, found, gap_mm, 0.0)


def _squeeze(
    parts: Sequence[Part], gap_mm: float, width_mm: float, length_mm: float, effort: Effort
) -> tuple[Search, tuple[Spot, ...]] | None:
    """A lay on a roll that is searched for in another way, from the first order on: a good one is hard to leave. With
    rounds that are said, no more moves than those. None where pieces can be turned, so that orders do as well, unless a
    longer search is asked for."""
    longer_mm = ROLL_SPARE * length_mm
    search, kinds = _box_search(parts, gap_mm, width_mm, longer_mm, SQUEEZED_CELLS)
    if not effort.is_patient and any(len(kind.lies) > 1 for kind, _ in kinds):
        return None
    first = search.run(kinds, FIRST)
    if len(first.laid) != 1 or first.left:
        return None
    sheet, (_, spots) = search.sheet(0), first.laid[0]
    return search, squeeze_roll(sheet, search.clashes, spots, effort)


def _box_search(
    parts: Sequence[Part], gap_mm: float, width_mm: float, length_mm: float, most_cells: int = BOX_CELLS
) -> tuple[Search, list[tuple[Kind, int]]]:
    least_mm, most_mm = BOX_CELL_MM
    halves = math.floor(2 * math.sqrt(width_mm * length_mm / most_cells))
    cell_mm = min(most_mm, max(least_mm, halves / 2))
    search = Search(
        make_sheet=lambda number: box_sheet(width_mm, length_mm, cell_mm, gap_mm), cell_mm=cell_mm, rest_cells=None
    )
    return search, make_kinds(parts, cell_mm, gap_mm, has_zones=False)


def _used_mm(search: Search, spots: Sequence[Spot]) -> float:
    """How far along the goods are used up, the gap behind the last piece included."""
    return max(spot.v + spot.mask.height for spot in spots) * search.cell_mm


def _laid_sheet(search: Search, number: int, spots: Sequence[Spot], hide: Hide, off_mm: float) -> LaidSheet:
    """The sheet in mm; `off_mm` is how far the cells begin before the goods."""
    cell_mm = search.cell_mm
    placed = [
        Placed(
            number=spot.kind.number,
            outline=tuple(
                (x + (spot.u + spot.shift) * cell_mm - off_mm, y + spot.v * cell_mm - off_mm)
                for x, y in spot.mask.points
            ),
            is_mirrored=spot.kind.is_mirrored,
            is_strap=spot.kind.group == STRAPS,
        )
        for spot in spots
    ]
    placed.sort(key=lambda one: (not one.is_strap, one.number))
    rest_mm2 = search.largest_rest(number, spots) * cell_mm**2 if search.rest_cells else 0.0
    return LaidSheet(
        hide=hide,
        placed=tuple(placed),
        rest_mm2=rest_mm2,
        used_mm=_used_mm(search, spots) - 2 * off_mm,
        struck=_find_struck(placed) if hide.is_leather and not hide.has_edge else (),
    )


def _find_struck(placed: Sequence[Placed]) -> Shape:
    """The two ends of the straight edge that all rows of straps begin at, the lower first."""
    points = [point for one in placed if one.is_strap for point in one.outline]
    if not points:
        return ()
    left = min(x for x, _ in points)
    return (left, min(y for _, y in points)), (left, max(y for _, y in points))


def _finish(parts: Sequence[Part], sheets: Sequence[LaidSheet], found: Try, gap_mm: float, trim_mm: float) -> Lay:
    missing: dict[int, int] = {}
    for turn in found.left:
        missing[turn.kind.number] = missing.get(turn.kind.number, 0) + 1
    return Lay(
        parts=tuple(parts), sheets=tuple(sheets), missing=tuple(sorted(missing.items())), gap_mm=gap_mm, trim_mm=trim_mm
    )
