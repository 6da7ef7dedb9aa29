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
    without, of the line along the backbone), how deep from there it is firm, and the share that is good for what shows.
    `rows` are the lengths of rows of straps as shares of the edge, at equal steps from there to the firm depth. Of one that
    `has_edge` not, with its backbone in the middle, straps come off an edge that is struck first."""

    one: str
    many: str
    area_mm2: tuple[float, float]
    edge_mm: float
    firm_mm: float
    rows: tuple[float, ...]
    good: float
    has_edge: bool = True

    @property
    def middle_mm2(self) -> float:
        return sum(self.area_mm2) / 2

    def scale(self, area_mm2: float) -> float:
        """How much longer a hide of this kind and area is than the usual one."""
        return math.sqrt(area_mm2 / self.middle_mm2)


def _kind(
    one: str,
    many: str,
    feet: tuple[float, float],
    edge_mm: float,
    firm_mm: float,
    rows: tuple[float, ...],
    *,
    good: float = 1.0,
    has_edge: bool = True,
) -> HideKind:
    least, most = (each * MM2_PER_SQFT for each in feet)
    return HideKind(
        one=one,
        many=many,
        area_mm2=(least, most),
        edge_mm=edge_mm,
        firm_mm=firm_mm,
        rows=rows,
        good=good,
        has_edge=has_edge,
    )


# Lengths of rows as shares of the edge, at equal steps over the firm depth: taken off usual outlines.
_SIDE_ROWS: Final = (1.0, 1.02, 1.03, 1.05, 1.03, 1.01, 0.99)
_BUTT_ROWS: Final = (1.0, 1.01, 1.01, 1.02, 1.02, 1.0, 0.98)
_DOUBLE_BUTT_ROWS: Final = (0.96, 0.99, 0.98, 0.96, 0.98, 0.99, 0.96)
_SHOULDER_ROWS: Final = (1.0, 1.04, 1.08, 1.08, 1.07, 1.06, 1.0)
_DOUBLE_SHOULDER_ROWS: Final = (1.0, 1.03, 1.05, 1.08, 1.08, 1.01, 0.86)
_WHOLE_ROWS: Final = (0.96, 0.99, 1.0, 1.0, 1.0, 0.99, 0.96)
_SKIN_ROWS: Final = (0.91, 0.97, 0.98, 0.97, 0.98, 0.97, 0.91)

# Areas are common practice, no published source; a side of about 24 and a whole hide of 45 to 50 sq ft also
# weaverleathersupply.com, "Cuts of leather"; skins of lamb, goat and calf from memory. A strap side gives about 20 in of
# width at 7 ft (the same, "strap yield chart"); a whole hide is 2 m long (greengate.co.uk, "Leathers"), firm on both
# sides of the backbone. The other edges and depths, the rows, and the shares without belly, shanks and neck end, are our
# choice, from usual outlines; both bellies are about 23 % of a hide (cool.culturalheritage.org, "Bookbinding and the
# conservation of books", "belly").
HIDES: Final = {
    "side": _kind("side", "sides", (21, 26), 2133.6, 508.0, _SIDE_ROWS, good=0.83),
    "butt": _kind("butt", "butts", (11, 15), 1400.0, 640.0, _BUTT_ROWS),
    "double-butt": _kind("double butt", "double butts", (22, 26), 1300.0, 1200.0, _DOUBLE_BUTT_ROWS, has_edge=False),
    "shoulder": _kind("single shoulder", "single shoulders", (7, 12), 920.0, 580.0, _SHOULDER_ROWS, good=0.85),
    "double-shoulder": _kind(
        "double shoulder", "double shoulders", (11, 15), 1470.0, 600.0, _DOUBLE_SHOULDER_ROWS, good=0.9
    ),
    "whole": _kind("whole hide", "whole hides", (45, 50), 2000.0, 1016.0, _WHOLE_ROWS, good=0.83, has_edge=False),
    "skin": _kind("skin", "skins", (5, 9), 900.0, 450.0, _SKIN_ROWS, good=0.84, has_edge=False),
}
SOLD: Final = (*HIDES, ROLL, PANEL)

# A piece may be deeper than a hide's area over its length, since it is deeper in the middle than at neck and tail: so many
# times, from usual outlines. Our choice.
DEEPEST: Final = 1.3

# How far apart a hide is measured across with the tape, and how often at least.
MEASURED_EVERY_MM: Final = 200.0
LEAST_MEASURED: Final = 3

# A fault is about so wide and long, mm, and takes so much: on average of those that are drawn for a lay. Where faults are
# usual, straps and pieces find a clean place the more seldom the larger they are. Where n faults lie on a place on average,
# exp(-n) of such places have none (Poisson's law); a piece moves aside, and needs exp(AT_PIECES n) times as much leather.
FAULT_MM: Final = (65.0, 65.0)
FAULT_MM2: Final = 2800.0
AT_PIECES: Final = 0.2

# What the usual share of waste takes is the larger the more rim there is, and the larger the pieces: a rim of RIM times
# their side is lost, and the rest of a hide holds INNER times what that share would leave. Like AT_PIECES found from lays
# on invented hides.
RIM: Final = 0.1
INNER: Final = 1.1
