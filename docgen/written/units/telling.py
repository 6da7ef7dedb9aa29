"""Inner figures -> words: lengths, areas and the rest, as the pages and messages say them."""

import math
import re
from fractions import Fraction
from typing import Any, Literal

from docgen.written.units.numbers import format_fraction
from docgen.written.units.table import FACTORS, MM2_PER_DM2, MM2_PER_SQFT, MM_PER_INCH, MM_PER_OUNCE, MM_PER_YARD

FINEST_PLACES = 6
NOTHING_MM = 1e-6  # less is the rounding of a sum
UNDER_PUNCH_MM = 0.1  # by so much a punch may be smaller than its hole, as 3/16 in is than 4.8 mm: our choice
RANGE_DASH = r"(?<=\d) *(?:-|–|to\b) *(?=\d)"

Show = Literal["in", "mm"]


def format_number(value: float, places: int) -> str:
    """A number with at most so many decimals, halves away from nought, without trailing noughts and without "-0"."""
    nudge = math.copysign(1e-9, value)  # 234.95 is stored as 234.9499..., and a person expects 235.0
    text = f"{value + nudge:.{places}f}"
    if "." in text:
        text = text.rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def format_fine(value: float, places: int) -> str:
    """A number with at most so many decimals; a small one with as many as two figures take, so that it is not "0"."""
    while places < FINEST_PLACES and 0 < abs(value) * 10**places < 10:
        places += 1
    return format_number(value, places)


def format_mm(mm: float, places: int = 1) -> str:
    """ "89 mm", "88.9 mm"."""
    return f"{format_number(mm, places)} mm"


def format_inches(mm: float, denominator: int = 32) -> str:
    """Inches to the nearest 1/`denominator`, reduced: "3 1/2 in", "1/32 in", "0 in", "-2 in"."""
    # The tiny share lets a length on the very middle, 1/64 in, go up whichever way its float was rounded.
    steps = math.floor(abs(mm) / MM_PER_INCH * denominator + 0.5 + 1e-9)
    sign = "-" if mm < 0 and steps else ""
    return f"{sign}{format_fraction(Fraction(steps, denominator))} in"


def format_length(mm: float, show: Show) -> str:
    """Both units, the one to show first: "3 1/2 in (88.9 mm)" or "88.9 mm (3 1/2 in)"."""
    inches = format_inches(mm)
    if inches != "0 in" or abs(mm) < NOTHING_MM:
        return format_both(inches, format_mm(mm), show)
    return format_both(f"{format_fine(mm / MM_PER_INCH, 3)} in", f"{format_fine(mm, 1)} mm", show)


def format_short(mm: float, show: Show) -> str:
    """Only the unit to show: "3 1/2 in" or "88.9 mm"."""
    return format_inches(mm) if show == "in" else format_mm(mm)


def format_punch(mm: float, show: Show) -> str:
    """The punch of a round hole in both units: "5/32 in (4 mm)", "3.5 mm (9/64 in)"; never one that is too small."""
    return format_both(format_short_punch(mm, "in"), format_mm(mm), show)


def format_short_punch(mm: float, show: Show) -> str:
    """Only the unit to show. In inches the nearest 1/32; where that is a smaller punch, the next 1/64 that is none:
    punches are made in these steps, and a post does not enter a hole that is too small."""
    if show == "mm":
        return format_mm(mm)
    least_mm, step_mm = mm - UNDER_PUNCH_MM, MM_PER_INCH / 64
    is_near = 2 * step_mm * math.floor(mm / (2 * step_mm) + 0.5 + 1e-9) >= least_mm
    return format_inches(mm) if is_near else format_inches(math.ceil(least_mm / step_mm) * step_mm, 64)


def format_slot(width_mm: float, long_mm: float, show: Show) -> str:
    """Width and whole length of an oblong hole: "3/16 × 1 1/4 in (4.8 × 31.8 mm)"."""
    return format_both(format_short_slot(width_mm, long_mm, "in"), format_short_slot(width_mm, long_mm, "mm"), show)


def format_short_slot(width_mm: float, long_mm: float, show: Show) -> str:
    """Only the unit to show: "3/16 × 1 1/4 in" or "4.8 × 31.8 mm"."""
    width, length = format_short_punch(width_mm, show), format_short(long_mm, show)
    return f"{width.removesuffix(f' {show}')} × {length}"


def format_area(mm2: float, show: Show) -> str:
    """ "5.25 sq ft (48.8 dm²)" or "48.8 dm² (5.25 sq ft)"; of a small piece "0.016 sq ft (0.15 dm²)"."""
    return format_both(format_short_area(mm2, "in"), format_short_area(mm2, "mm"), show)


def format_short_area(mm2: float, show: Show) -> str:
    """Only the unit to show: "5.25 sq ft" or "48.8 dm²"."""
    if show == "in":
        return f"{format_fine(mm2 / MM2_PER_SQFT, 2)} sq ft"
    return f"{format_fine(mm2 / MM2_PER_DM2, 1)} dm²"


def format_about_area(mm2: float, show: Show) -> str:
    """An area that is no nearer known than a tenth of a square foot: "19.3 sq ft (179 dm²)"."""
    feet, decimetres = format_number(mm2 / MM2_PER_SQFT, 1), format_number(mm2 / MM2_PER_DM2, 0)
    return format_both(f"{feet} sq ft", f"{decimetres} dm²", show)


def format_areas(least_mm2: float, most_mm2: float, show: Show) -> str:
    """An area from and to: "22 to 26 sq ft (204 to 242 dm²)"; of one area that alone."""
    if most_mm2 - least_mm2 < NOTHING_MM:
        return format_area(least_mm2, show)
    units = ((MM2_PER_SQFT, 1, "sq ft"), (MM2_PER_DM2, 0, "dm²"))
    feet, decimetres = (
        f"{format_number(least_mm2 / unit, places)} to {format_number(most_mm2 / unit, places)} {name}"
        for unit, places, name in units
    )
    return format_both(feet, decimetres, show)


def format_run(mm: float, show: Show) -> str:
    """A running length: "1.25 yd (1.14 m)" or "1.14 m (1.25 yd)"."""
    return format_both(f"{format_number(mm / MM_PER_YARD, 2)} yd", f"{format_number(mm / 1000, 2)} m", show)


def round_up(value: float, places: int) -> float:
    """The next number with so many decimals that is not less; a float's last bits do not count. Of a small number as
    many decimals stay as `format_fine` shows."""
    while places < FINEST_PLACES and 0 < abs(value) * 10**places < 10:
        places += 1
    parts = 10.0**places
    return math.ceil(value * parts - 1e-6) / parts


def buy_run_mm(mm: float, show: Show) -> float:
    """A running length as it is bought, so that there is no less than is needed: whole hundredths of a yard or metre,
    whichever stands first."""
    unit_mm = MM_PER_YARD if show == "in" else 1000.0
    return round_up(mm / unit_mm, 2) * unit_mm


def buy_area_mm2(mm2: float, show: Show) -> float:
    """An area as it is bought: up to the next hundredth of a square foot or tenth of a square decimetre."""
    unit_mm2, places = (MM2_PER_SQFT, 2) if show == "in" else (MM2_PER_DM2, 1)
    return round_up(mm2 / unit_mm2, places) * unit_mm2


def format_bought_run(mm: float, show: Show) -> str:
    """A running length to buy, never less than is needed in either unit: "0.84 yd (0.77 m)"."""
    yards, metres = (_to_buy(mm, buy_run_mm(mm, show), unit_mm, 2) for unit_mm in (MM_PER_YARD, 1000.0))
    return format_both(f"{yards} yd", f"{metres} m", show)


def format_bought_area(mm2: float, show: Show) -> str:
    """An area to buy, never less than is needed in either unit: "5.25 sq ft (48.8 dm²)"."""
    bought_mm2 = buy_area_mm2(mm2, show)
    feet, decimetres = _to_buy(mm2, bought_mm2, MM2_PER_SQFT, 2), _to_buy(mm2, bought_mm2, MM2_PER_DM2, 1)
    return format_both(f"{feet} sq ft", f"{decimetres} dm²", show)


def _to_buy(needed: float, bought: float, unit: float, places: int) -> str:
    """What is bought in another unit, as near as it is told; rounded up where that would be less than is needed."""
    near = round(bought / unit, places)
    return format_fine(near if near * unit >= needed - NOTHING_MM else round_up(needed / unit, places), places)


def format_both(imperial: str, metric: str, show: Show) -> str:
    """Two ways to say one quantity, the one to show first."""
    return f"{imperial} ({metric})" if show == "in" else f"{metric} ({imperial})"


def format_pitch(mm: float) -> str:
    """ "4.2 mm (6 per inch)"; a pitch of no whole or half number per inch, as one made to fit its seam or that of a
    pricking iron, keeps its hundredths: "3.43 mm (7.4 per inch)"."""
    halves = 2 * MM_PER_INCH / mm
    is_written = abs(halves - round(halves)) < 1e-6 and abs(mm - round(mm, 2)) >= 1e-9
    places = 1 if is_written else 2
    # Counted from what is printed, so that equal lengths never stand beside different counts.
    per_inch = MM_PER_INCH / (mm if is_written else round(mm, 2))
    return f"{format_mm(mm, places)} ({format_number(per_inch, 1)} per inch)"


def format_pitches(least_mm: float, most_mm: float) -> str:
    """ "4.3 to 5 mm (5.9 to 5 per inch)": stitches from the shortest to the longest."""
    per_inch = (format_number(MM_PER_INCH / mm, 1) for mm in (least_mm, most_mm))
    return f"{format_number(least_mm, 1)} to {format_mm(most_mm)} ({' to '.join(per_inch)} per inch)"


def format_stack(mm: float, most_mm: float = 0.0) -> str:
    """Layers together, "3.6 mm" or "3.6 to 5.5 mm": a fraction of an inch would be too coarse, and ounces are for one
    leather."""
    return f"{format_number(mm, 1)} to {format_mm(most_mm)}" if most_mm else format_mm(mm)


def format_thickness(mm: float, kind: str, show: Show, written: str = "") -> str:
    """Leather: "4.5 oz (1.8 mm)" or "1.8 mm (4.5 oz)"; anything else: "0.6 mm". The spec's own words stand for the unit
    they are in: "4–5 oz (1.8 mm)"."""
    own = re.sub(RANGE_DASH, "–", written.strip())
    is_weight = any(unit in own.lower() for kind_of, unit in FACTORS if kind_of == "thickness")
    is_metric = own.endswith("mm")
    metric = own if is_metric else format_mm(mm, 1 if kind == "leather" else 2)
    if kind != "leather" and not is_weight:
        return metric
    return format_both(own if is_weight else f"{format_number(mm / MM_PER_OUNCE, 1)} oz", metric, show)


def tell_value(kind: str, value: Any) -> str:
    """The value of a key of that kind (docgen.read.kinds) as a person would write it: `1/8 in` or `0.5 mm`, `25 %`,
    `2 to 3 mm`, `true`, `3`."""
    if kind == "lengths":
        least, most = value
        return f"{format_number(least, 3)} to {format_mm(most, 3)}"
    if kind == "densities":
        return f"{value[0]:g} to {value[1]:g} g/cm3"
    if kind == "length":
        return _tell_length(value)
    if kind == "percent":
        return format_percent(value)
    if kind == "times":
        return f"{format_number(value, 2)} times"
    return str(value).lower() if isinstance(value, bool) else str(value)


def format_percent(share: float) -> str:
    """`25 %` from 0.25."""
    return f"{format_number(100 * share, 1)} %"


def _tell_length(mm: float) -> str:
    """In inches where it is so many 32nds, else in mm."""
    steps = mm / MM_PER_INCH * 32
    if not mm:
        return "0"
    return format_inches(mm) if abs(steps - round(steps)) < 1e-9 else format_mm(mm, 3)
