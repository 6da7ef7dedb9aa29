"""How hides are sold: usual area, straight edge and firm depth of each kind, where nothing else is said."""

import math
from typing import Final

from docgen.classes import dataclass
from docgen.written.units.table import MM2_PER_SQFT

PARTS_OF_HIDE: Final = ("firm", "good", "any")
ROLL: Final = "roll"
PANEL: Final = "panel"


@dataclass(frozen=True, slots=True, kw_only=True)
class HideKind:
    """What is usual of hides sold so: one and several in words, area from and to, length of the long straight edge (of one
    without, of the line along the backbone), how deep from there it is firm, and the share that is good for what shows."""

    one: str
    many: str
    area_mm2: tuple[float, float]
    edge_mm: float
    firm_mm: float
    good: float

    @property
    def middle_mm2(self) -> float:
        return sum(self.area_mm2) / 2

    def scale(self, area_mm2: float) -> float:
        """How much longer a hide of this kind and area is than the usual one."""
        return math.sqrt(area_mm2 / self.middle_mm2)


def _kind(
    one: str, many: str, feet: tuple[float, float], edge_mm: float, firm_mm: float, good: float = 1.0
) -> HideKind:
    least, most = (each * MM2_PER_SQFT for each in feet)
    return HideKind(one=one, many=many, area_mm2=(least, most), edge_mm=edge_mm, firm_mm=firm_mm, good=good)


# Areas are common practice, no published source; a side of about 24 and a whole hide of 45 to 50 sq ft also
# weaverleathersupply.com, "Cuts of leather"; skins of lamb, goat and calf from memory. A strap side gives about 20 in of
# width at 7 ft (the same, "strap yield chart"); a whole hide is 2 m long (greengate.co.uk, "Leathers"), firm on both
# sides of the backbone. The other edges and depths, and the shares without belly, shanks and neck end, are our choice,
# from usual outlines; both bellies are about 23 % of a hide (cool.culturalheritage.org, "Bookbinding and the
# conservation of books", "belly").
HIDES: Final = {
    "side": _kind("side", "sides", (21, 26), 2133.6, 508.0, 0.83),
    "butt": _kind("butt", "butts", (11, 15), 1400.0, 640.0),
    "double-butt": _kind("double butt", "double butts", (22, 26), 1300.0, 1200.0),
    "shoulder": _kind("single shoulder", "single shoulders", (7, 12), 920.0, 580.0, 0.85),
    "double-shoulder": _kind("double shoulder", "double shoulders", (11, 15), 1470.0, 600.0, 0.9),
    "whole": _kind("whole hide", "whole hides", (45, 50), 2000.0, 1016.0, 0.83),
    "skin": _kind("skin", "skins", (5, 9), 900.0, 450.0, 0.84),
}
SOLD: Final = (*HIDES, ROLL, PANEL)

# A piece may be deeper than a hide's area over its length, since it is deeper in the middle than at neck and tail: so many
# times, from usual outlines. Our choice.
DEEPEST: Final = 1.3

# How far apart a hide is measured across with the tape, and how often at least.
MEASURED_EVERY_MM: Final = 200.0
LEAST_MEASURED: Final = 3

# A fault is about so wide and long, mm, and takes so much. Where faults are usual, straps and pieces find a clean place
# the more seldom the larger they are. Where n faults lie on a place on average, exp(-n) of such places have none (Poisson's
# law), so that exp(AT_STRAPS n) times as many rows are needed; a piece moves aside, and needs exp(AT_PIECES n) times as
# much leather. The latter is our choice, from lays on invented hides.
FAULT_MM: Final = (50.0, 80.0)
FAULT_MM2: Final = 3100.0
AT_STRAPS: Final = 1.0
AT_PIECES: Final = 0.35
