"""Hides, panels and rolls -> sheets of cells."""

import math
from collections.abc import Callable, Iterable

from docgen.lay.grid import NEARLY, inside_rows, join_rows, touched_rows
from docgen.lay.hides import Hide, Shape
from docgen.lay.kinds import ANY, FIRM, GOOD, POOR, Sheet


def hide_sheet(hide: Hide, cell_mm: float, trim_mm: float) -> Sheet:
    """The cells of a hide that each part of it closes; what is trimmed off the straight edge is closed for all."""
    across, along = math.ceil(hide.width_mm / cell_mm), math.ceil(hide.length_mm / cell_mm)
    full = (1 << across * along) - 1

    def gather(shapes: Iterable[Shape], rows_of: Callable[[Shape], list[int]]) -> int:
        rows = [0] * along
        for shape in shapes:
            rows = [one | other for one, other in zip(rows, rows_of(shape), strict=True)]
        return join_rows(rows, across)

    def inside(*shapes: Shape) -> int:
        return gather(shapes, lambda shape: inside_rows(shape, cell_mm, across, along))

    def touched(*shapes: Shape) -> int:
        return gather(shapes, lambda shape: touched_rows(shape, cell_mm, 0.0, across, along))

    usable = inside(hide.outline)
    if hide.has_edge and trim_mm:
        wide, long = hide.width_mm, hide.length_mm
        usable &= inside(((trim_mm, 0.0), (wide + cell_mm, 0.0), (wide + cell_mm, long), (trim_mm, long)))
    closed, poor = full ^ usable, touched(*hide.poor)
    firm = inside(*hide.firm) if hide.firm else full & ~poor
    return Sheet(
        across=across,
        along=along,
        closed={ANY: closed, GOOD: closed | poor, FIRM: closed | full & ~firm | poor, POOR: closed | full & ~poor},
        faults=touched(*hide.faults),
        has_rows=True,
        is_struck=not hide.has_edge,
    )


def box_sheet(width_mm: float, length_mm: float, cell_mm: float, gap_mm: float) -> Sheet:
    """A panel, or a roll as long as may be needed: pieces may touch its edges, so that half the gap lies outside."""
    across, along = (int((side + gap_mm) / cell_mm + NEARLY) for side in (width_mm, length_mm))
    return Sheet(across=across, along=along, closed={ANY: 0})
