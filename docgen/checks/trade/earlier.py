"""Checks without which nothing can be made: found while a spec is read and made, wherever that is, and always stopping."""

from __future__ import annotations

from docgen.checks.trade.check import PRACTICE, EarlierCheck
from docgen.resolve import LENGTH_TOLERANCE_MM
from docgen.written.units import format_mm

EARLIER_CHECKS = (
    EarlierCheck(
        id="unequal-partners",
        source=f"plane geometry; the {format_mm(LENGTH_TOLERANCE_MM)} are {PRACTICE}",
        says="The sides of a seam are equally long along their stitch line, "
        f"within {format_mm(LENGTH_TOLERANCE_MM)} and its ease.",
        found_in="docgen.resolve.seams.seams",
    ),
    EarlierCheck(
        id="hole-outside",
        says="A hole lies on its piece.",
        source="plane geometry",
        found_in="docgen.resolve.pieces.marks",
    ),
    EarlierCheck(
        id="holes-even",
        says="A strap that is worn at its middle hole has an odd number of them.",
        source="counted",
        found_in="docgen.resolve.straps.straps",
    ),
    EarlierCheck(
        id="skive-too-wide",
        says="A skived band fits its piece.",
        source="plane geometry",
        found_in="docgen.resolve.pieces.marks",
    ),
    EarlierCheck(
        id="name-not-there",
        says="What is named is there.",
        source="plain from the spec",
        found_in="docgen.read.findings",
    ),
)
EARLIER = {check.id: check.says for check in EARLIER_CHECKS}
