"""How hides are sold: usual area, straight edge and firm depth of each kind, where nothing else is said."""

import math
from typing import Final

from docgen.classes import dataclass
from docgen.written.units.table import MM2_PER_SQFT

ROLL: Final = "roll"
PANEL: Final = "panel"


@dataclass(frozen=True, slots=True, kw_only=True)
class HideKind:
    """What is usual of hides sold so: one and several in words, area from and to, length of the long straight edge (of one
    without, of the line along the backbone), and how deep from there it is firm."""

    one: str
    many: str
    area_mm2: tuple[float, float]
    edge_mm: float
    firm_mm: float

    @property
    def middle_mm2(self) -> float:
        return sum(self.area_mm2) / 2

    def scale(self, area_mm2: float) -> float:
        """How much longer a hide of this kind and area is than the usual one."""
        return math.sqrt(area_mm2 / self.middle_mm2)


def _kind(one: str, many: str, feet: tuple[float, float], edge_mm: float, firm_mm: float) -> HideKind:
    least, most = feet
    return HideKind(
        one=one, many=many, area_mm2=(least * MM2_PER_SQFT, most * MM2_PER_SQFT), edge_mm=edge_mm, firm_mm=firm_mm
    )


# Areas are common practice, no published source; a side of about 24 and a whole hide of 45 to 50 sq ft also
# weaverleathersupply.com, "Cuts of leather"; skins of lamb, goat and calf from memory. A strap side gives about 20 in of
# width at 7 ft (the same, "strap yield chart"); a whole hide is 2 m long (greengate.co.uk, "Leathers"), firm on both
# sides of the backbone. The other edges and depths are our choice, from a usual outline of that area.
HIDES: Final = {
    "side": _kind("side", "sides", (21, 26), 2133.6, 508.0),
    "butt": _kind("butt", "butts", (11, 15), 1400.0, 640.0),
    "double-butt": _kind("double butt", "double butts", (22, 26), 1300.0, 1200.0),
    "shoulder": _kind("single shoulder", "single shoulders", (7, 12), 920.0, 580.0),
    "double-shoulder": _kind("double shoulder", "double shoulders", (11, 15), 1470.0, 600.0),
    "whole": _kind("whole hide", "whole hides", (45, 50), 2000.0, 1016.0),
    "skin": _kind("skin", "skins", (5, 9), 900.0, 450.0),
}
SOLD: Final = (*HIDES, ROLL, PANEL)

# A piece may be deeper than a hide's area over its length, since it is deeper in the middle than at neck and tail: so many
# times, from usual outlines. Our choice.
DEEPEST: Final = 1.3

# How far apart a hide is measured across with the tape, and how often at least.
MEASURED_EVERY_MM: Final = 200.0
LEAST_MEASURED: Final = 3
