"""What straps take of the straight edge of a hide, as a value."""

from docgen.classes import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class EdgeRow:
    """Strips of one width that are taken off the straight edge, one after the other: `rows` of them hold all straps
    of that width."""

    width_mm: float
    rows: int
    straps: int


@dataclass(frozen=True, slots=True, kw_only=True)
class StraightEdge:
    """What the straps of one material take of its long straight edge: as long as the fullest row, all of it when they
    lie end to end, and how deep the rows go into the hide."""

    least_mm: float
    total_mm: float
    rows: tuple[EdgeRow, ...]

    @property
    def count(self) -> int:
        return sum(row.rows for row in self.rows)

    @property
    def depth_mm(self) -> float:
        return sum(row.width_mm * row.rows for row in self.rows)
