"""The table of units: every word that stands in specs day by day, read without any library.

Inner units: mm, g, N; an area is mm2, a density g/cm3, made of the same rows. Units that are not listed here are looked
up in `other`. Source of a row without one of its own: NIST SP 811 (2008), appendix B.8, where its value is exact.
"""

from fractions import Fraction
from typing import Final, Literal

from docgen.classes import dataclass

Kind = Literal["length", "thickness", "iron", "weight", "force", "area", "density"]
NIST: Final = "NIST SP 811 (2008), appendix B.8"
INCH: Final = Fraction("25.4")
OUNCE: Final = Fraction("28.349523125")


@dataclass(frozen=True, slots=True)
class Unit:
    """One unit: what it measures, how it is written (small letters), how many inner units it is, and who says so."""

    kind: Kind
    names: tuple[str, ...]
    factor: Fraction
    source: str = NIST


UNITS: Final = (
    Unit("length", ("mm",), Fraction(1)),
    Unit("length", ("cm",), Fraction(10)),
    Unit("length", ("dm",), Fraction(100)),
    Unit("length", ("m", "metre", "metres"), Fraction(1000)),
    Unit("length", ("in", "inch", "inches", '"', "″", "”"), INCH),
    Unit("length", ("ft", "foot", "feet"), 12 * INCH),
    Unit("length", ("yd", "yard", "yards"), 36 * INCH),
    # A thousandth of an inch, of films and threads; "mil" is an angle to other tables.
    Unit("length", ("mil", "mils"), INCH / 1000),
    Unit("length", ("pt",), INCH / 72, "the point of PDF: ISO 32000-1:2008, 8.3.2.3"),
    Unit("thickness", ("oz",), INCH / 64, "ASTM D1814-70(2000), clause 1.2"),
    Unit("thickness", ("iron", "irons"), INCH / 48, "ASTM D1814-70(2000), clause 1.2"),
    # A pricking iron is numbered by its stitches to the inch of its country: makers' charts, common practice.
    Unit("iron", ("english",), INCH),
    Unit("iron", ("french",), Fraction("27.07"), 'absoluteastronomy.com, "Paris inch"; reglacalcul.com, 1 pouce'),
    Unit("weight", ("g",), Fraction(1)),
    Unit("weight", ("kg",), Fraction(1000)),
    Unit("weight", ("oz",), OUNCE),
    Unit("weight", ("lb", "lbs"), 16 * OUNCE),
    Unit("force", ("n",), Fraction(1)),
)
FACTORS: Final = {(unit.kind, name): unit.factor for unit in UNITS for name in unit.names}
# What a gram weighs on a seam, in N: the kilogram-force of NIST SP 811, appendix B.8.
N_PER_G: Final = Fraction("9.80665") / 1000

MM_PER_INCH: Final = float(INCH)
MM_PER_YARD: Final = float(FACTORS["length", "yd"])
MM_PER_POINT: Final = float(FACTORS["length", "pt"])
MM_PER_OUNCE: Final = float(FACTORS["thickness", "oz"])
MM2_PER_SQFT: Final = float(FACTORS["length", "ft"] ** 2)
MM2_PER_DM2: Final = float(FACTORS["length", "dm"] ** 2)
G_PER_OUNCE: Final = float(OUNCE)
G_PER_POUND: Final = float(FACTORS["weight", "lb"])
N_PER_KG: Final = float(1000 * N_PER_G)
N_PER_LB: Final = float(FACTORS["weight", "lb"] * N_PER_G)
