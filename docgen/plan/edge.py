"""Straps -> what they take of the long straight edge of a hide."""

from collections.abc import Mapping, Sequence

from docgen.plan.plan import StrapItem
from docgen.plan.straight_edge import EdgeRow, StraightEdge

ROUNDING_MM = 1e-6


def plan_edge(straps: Sequence[StrapItem], edge_mm: float = 0.0) -> StraightEdge | None:
    """Rows of straps along an edge so long, at least as long as the longest of them, and how much of it they need;
    None without straps.

    A row is a strip of one width, as a strap cutter takes it off; straps of that width lie end to end in it, the
    longest first, each in the first row that has room.
    """
    if not straps:
        return None
    least_mm = max(item.length_mm for item in straps)
    total_mm = sum(item.length_mm * item.count for item in straps)
    edge_mm = max(edge_mm, least_mm)
    widths = sorted({item.width_mm for item in straps}, reverse=True)
    planned = [_plan_width([item for item in straps if item.width_mm == width], edge_mm) for width in widths]
    least_mm = max(longest_mm for _, longest_mm in planned)
    return StraightEdge(least_mm=least_mm, total_mm=total_mm, rows=tuple(row for row, _ in planned))


def _plan_width(straps: list[StrapItem], edge_mm: float) -> tuple[EdgeRow, float]:
    """The rows of one width, and how long the longest of them is."""
    counts: dict[float, int] = {}
    for item in straps:
        counts[item.length_mm] = counts.get(item.length_mm, 0) + item.count
    rows, longest_mm = fill_rows(counts, edge_mm)
    return EdgeRow(width_mm=straps[0].width_mm, rows=rows, straps=sum(counts.values())), longest_mm


def fill_rows(counts: Mapping[float, int], edge_mm: float) -> tuple[int, float]:
    """Rows of `edge_mm` that hold so many of each length, none of them longer than it; and how much of it the fullest
    takes, mm.

    Filling row after row with the longest that fits is first-fit decreasing; it takes at most 11/9 of the least number
    of rows, and 6/9 (Dosa, "The tight bound of first fit decreasing bin-packing algorithm", 2007; from memory).
    """
    left = {length_mm: counts[length_mm] for length_mm in sorted(counts, reverse=True) if counts[length_mm]}
    rows, longest_mm = 0, 0.0
    while left:
        row, free_mm = {}, edge_mm + ROUNDING_MM
        for length_mm, count in left.items():
            row[length_mm] = min(count, int(free_mm // length_mm))
            free_mm -= row[length_mm] * length_mm
        # The same row is repeated while there are straps for it, so that a batch of a thousand takes no longer.
        times = min(left[length_mm] // taken for length_mm, taken in row.items() if taken)
        rows += times
        longest_mm = max(longest_mm, sum(length_mm * taken for length_mm, taken in row.items()))
        left = {length_mm: n for length_mm, count in left.items() if (n := count - times * row[length_mm])}
    return rows, longest_mm
