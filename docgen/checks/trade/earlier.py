"""Checks without which nothing can be made: found while a spec is read and made, wherever that is, and always stopping."""

from docgen.checks.trade.check import PRACTICE, Check
from docgen.resolve import LENGTH_TOLERANCE_MM
from docgen.written.units.telling import format_mm

_NEAR = format_mm(LENGTH_TOLERANCE_MM)
_EQUAL = f"The sides of a seam are equally long along their stitch line, within {_NEAR} and its ease."
_ODD = "A strap that is worn at its middle hole has an odd number of them."


def _earlier(id: str, says: str, source: str, found_in: str) -> Check:
    return Check(id=id, says=says, source=source, find=lambda subject: (), stops=True, found_in=f"docgen.{found_in}")


EARLIER_CHECKS = (
    _earlier("unequal-partners", _EQUAL, f"plane geometry; the {_NEAR} are {PRACTICE}", "resolve.seams.unequal"),
    _earlier("hole-outside", "A hole lies on its piece.", "plane geometry", "resolve.pieces.marks"),
    _earlier("holes-even", _ODD, "counted", "resolve.straps.strap_lengths"),
    _earlier("skive-too-wide", "A skived band fits its piece.", "plane geometry", "resolve.pieces.marks"),
    _earlier("name-not-there", "What is named is there.", "plain from the spec", "read.findings"),
)
EARLIER = {check.id: check.says for check in EARLIER_CHECKS}
