"""What is laid, and on what: kinds of pieces in the lies that they may take, and sheets with the cells they may not use."""

from dataclasses import field
from typing import Final

from docgen.classes import dataclass
from docgen.lay.grid import Mask, free_map

FIRM: Final = "firm"
GOOD: Final = "good"
ANY: Final = ""
POOR: Final = "poor"
"""Parts of a hide: firm for straps; good, all but the belly, for what shows; any for what is hidden, which looks in the
poor one, belly and shanks, first."""

STRAPS, SHOWN, HIDDEN = 0, 1, 2
"""In which order they are laid."""


@dataclass(frozen=True, slots=True, eq=False)
class Kind:
    """Pieces alike in one of their two hands. `number` is that of the cutting list; `lies` are their masks, and `bare` the
    same without what another piece covers, where a fault may lie; `zone` and `first` are parts of a hide. Of a strap, a
    rectangle, `strip` is how many cells its row takes across, the knife's gap included, and `wider` the mask of one that
    begins within a cell and ends one cell later."""

    number: int
    is_mirrored: bool
    lies: tuple[Mask, ...]
    bare: tuple[Mask, ...]
    area_mm2: float
    short_mm: float
    long_mm: float
    zone: str = ANY
    first: str = ""
    group: int = SHOWN
    strip: float = 0.0
    wider: Mask | None = None


@dataclass(slots=True, eq=False)
class Sheet:
    """`closed` are by zone the cells that may not be used; `faults` those that only a covered part may lie on. `has_rows`:
    straps lie in rows off the straight edge, at 0, or struck where there is none (`is_struck`)."""

    across: int
    along: int
    closed: dict[str, int]
    faults: int = 0
    has_rows: bool = False
    is_struck: bool = False
    starts: dict[tuple[str, int], int] = field(default_factory=dict)
    columns: dict[tuple[str, int, int], int] = field(default_factory=dict)
    reach: int = 0

    def start(self, zone: str, mask: Mask, bare: Mask) -> int:
        """Where a mask may lie on the empty sheet."""
        key = (zone, id(mask))
        if key not in self.starts:
            closed = self.closed.get(zone, self.closed[ANY])
            if bare is mask:
                free = free_map(closed | self.faults, self.across, self.along, mask)
            else:
                free = free_map(closed, self.across, self.along, mask)
                free &= free_map(self.faults, self.across, self.along, bare)
            self.starts[key] = free
        return self.starts[key]

    def column(self, zone: str, mask: Mask, u: int) -> int:
        """Where along the empty sheet a mask may lie that begins so far across: a bit for each cell."""
        key = (zone, id(mask), u)
        if key not in self.columns:
            bits = f"{self.start(zone, mask, mask):b}"
            fits = u < len(bits) and u + mask.width <= self.across
            self.columns[key] = int(bits[-1 - u :: -self.across][::-1], 2) if fits else 0
        return self.columns[key]
