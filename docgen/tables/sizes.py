"""Sizes that can be meant: beyond them a number or its unit is mistaken.

All are our choice; no tool or goods of the trade are known beyond them.
"""

import math

from docgen.classes import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Sizes:
    """What may be written for `what`, from and to, in mm."""

    what: str
    least_mm: float = 0.0
    most_mm: float = math.inf


PUNCH = Sizes(what="a punch", least_mm=0.5)
SKIVE_WIDTH = Sizes(what="a skived band", least_mm=1.0)
INSIDE = Sizes(what="the inside of a fitting", most_mm=300.0)
BAR = Sizes(what="a bar", most_mm=30.0)
TONGUE = Sizes(what="a tongue", most_mm=15.0)
# A roll or a side that a knife cuts; foam and board come thicker.
GOODS_BY_KIND = {"leather": Sizes(what="leather", most_mm=25.0), "fabric": Sizes(what="fabric", most_mm=25.0)}
# Share of a hide or roll that may be lost; with more, hardly anything would be cut from it.
MOST_WASTE = 0.8
# Pieces or straps of one kind in one make; an even number, so that pairs come out.
MOST_CUT = 200
MOST_IN_A_RANGE = 200  # makes of one range: 5 widths by 5 lengths by 8 colours
