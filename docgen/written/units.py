"""The border for written quantities: words in, millimetres and other figures out, and back into words.

The numbers are read by our own strict patterns, exactly (as fractions). pint converts, and is only ever given
a unit name from `UNIT_NAMES`; it never sees what a person wrote.
"""

from __future__ import annotations

import math
import re
from fractions import Fraction
from functools import cache
from typing import TYPE_CHECKING, Any, Literal

from docgen.problems import shorten, suggest

if TYPE_CHECKING:
    from pint import UnitRegistry

# NIST SP 811 (2008), appendix B.8: inch 25.4 mm, foot 304.8 mm, yard 914.4 mm, all exact.
MM_PER_INCH = 25.4
MM_PER_FOOT = 304.8
MM_PER_YARD = 914.4
# ASTM D1814-70(2000), clause 1.2: one ounce of leather is 1/64 in thick, one iron 1/48 in.
MM_PER_OUNCE = MM_PER_INCH / 64
# 1 sq ft = (304.8 mm)^2, by definition; 1 dm = 100 mm.
MM2_PER_SQFT = 92903.04
MM2_PER_DM2 = 10000.0
# The typographic point of PDF (ISO 32000-1:2008, 8.3.2.3): 1/72 in.
MM_PER_POINT = MM_PER_INCH / 72

LONGEST_TEXT = 80
LONGEST_MM = 10_000
LONGEST_RUN_MM = 100_000_000
RUN_UNITS_MM = {
    "m": Fraction(1000),
    "metre": Fraction(1000),
    "metres": Fraction(1000),
    "yd": Fraction("914.4"),
    "yard": Fraction("914.4"),
    "yards": Fraction("914.4"),
    "ft": Fraction("304.8"),
    "feet": Fraction("304.8"),
}
THICKEST_MM = 100
MOST_DIGITS = 12
FINEST_PLACES = 6
NOTHING_MM = 1e-6  # less is the rounding of a sum

UNIT_NAMES = {
    "in": "inch",
    "inch": "inch",
    "inches": "inch",
    '"': "inch",
    "″": "inch",
    "”": "inch",
    "ft": "foot",
    "foot": "foot",
    "feet": "foot",
    "mm": "millimetre",
    "cm": "centimetre",
    "m": "metre",
}
UNIT_DEFINITIONS = (
    "millimetre = [length]",
    "centimetre = 10 * millimetre",
    "metre = 1000 * millimetre",
    "inch = 25.4 * millimetre",
    "foot = 12 * inch",
    "point = inch / 72",
    "leather_ounce = inch / 64",
    "leather_iron = inch / 48",
    # The Paris inch, 27.07 mm: absoluteastronomy.com, "Paris inch"; reglacalcul.com (1 pouce = 2.707 cm).
    "paris_inch = 27.07 * millimetre",
)
THICKNESS_UNITS = {"oz": "leather_ounce", "iron": "leather_iron", "irons": "leather_iron"}
# A pricking iron is numbered by its stitches to the inch of its country: makers' charts, common practice.
IRON_INCHES = {"french": "paris_inch", "english": "inch"}
VULGAR_FRACTIONS = {
    "½": Fraction(1, 2),
    "⅓": Fraction(1, 3),
    "⅔": Fraction(2, 3),
    "¼": Fraction(1, 4),
    "¾": Fraction(3, 4),
    "⅛": Fraction(1, 8),
    "⅜": Fraction(3, 8),
    "⅝": Fraction(5, 8),
    "⅞": Fraction(7, 8),
}

NUMBER = re.compile(
    r"(?:(?P<whole>[0-9]+)(?: +|-))?(?P<over>[0-9]+)[/⁄](?P<under>[0-9]+)"
    rf"|(?P<before>[0-9]+)? *(?P<vulgar>[{''.join(VULGAR_FRACTIONS)}])"
    r"|(?P<decimal>[0-9]+(?:\.[0-9]+)?)"
)
UNIT = re.compile(r" *(?P<unit>inches|inch|in|feet|foot|ft|mm|cm|m)(?![a-z0-9])| *(?P<mark>[\"″”])", re.I)
FEET_AND_INCHES = re.compile(r"(?P<feet>[0-9]{1,9}) *(?:feet|foot|ft) +(?=[0-9½⅓⅔¼¾⅛⅜⅝⅞])", re.I)
WORD = re.compile(r" *([^\W\d_][\w.'-]*)")
COMMA = re.compile(r"([0-9]+),([0-9]+)")
RANGE = re.compile(r" *(?:-|–|to\b) *")
RANGE_DASH = re.compile(r"(?<=\d) *(?:-|–|to\b) *(?=\d)")
PER_INCH = re.compile(r" *per +(?:inch|in) *", re.I)
IRON = re.compile(r"(?:(french|english) +)?(?:pricking +)?iron +", re.I)

LIKE_A_LENGTH = 'write it like "3 1/2 in" or "89 mm"'
USE_A_UNIT = "use in, ft, mm, cm or m"

Show = Literal["in", "mm"]


class WrittenError(ValueError):
    """What is wrong with a written quantity, in `what`, and what would mend it, in `mend`."""

    def __init__(self, what: str, mend: str) -> None:
        super().__init__(f"{what}; {mend}")
        self.what = what
        self.mend = mend


@cache
def unit_registry() -> UnitRegistry[Any]:
    """pint with our own few units, counting in fractions, so that 3 1/2 in is 88.9 mm and nothing near it."""
    import pint

    return pint.UnitRegistry(list(UNIT_DEFINITIONS), non_int_type=Fraction, cache_folder=None)


@cache
def find_factor(unit: str) -> Fraction:
    """Millimetres in one of the units that `UNIT_DEFINITIONS` names."""
    return Fraction(unit_registry().Quantity(Fraction(1), unit).to("millimetre").magnitude)


def parse_length(text: str) -> float:
    """A written length ("3 1/2 in", "3½ in", "89 mm", "1 ft 2 in", "-2 mm", "0") in mm.

    Raises WrittenError, also beyond 10 m.
    """
    clean = check_text(text, LIKE_A_LENGTH)
    minus = clean[0] in "-−"
    body = clean[1:].lstrip() if minus else clean
    found = match_length(body, 0)
    if found is None or found[1] != len(body):
        value = parse_bare_zero(body, clean)
    else:
        value = check_size(found[0], clean)
    return -value if minus and value else value


def parse_bare_zero(body: str, clean: str) -> float:
    """0.0 for a nought without a unit; anything else that is no length raises what is wrong with it."""
    number = match_number(body, 0)
    if number is None:
        raise WrittenError(f'"{clean}" cannot be read as a length', LIKE_A_LENGTH)
    value, end = number
    if end == len(body) and value == 0:
        return 0.0
    if end == len(body):
        raise WrittenError(f"{clean} has no unit", f'write "{clean} in" or "{clean} mm"')
    word = WORD.fullmatch(body, end)
    if word and word[1].lower() not in UNIT_NAMES:
        raise make_unit_error(word[1])
    raise WrittenError(f'"{clean}" cannot be read as a length', LIKE_A_LENGTH)


def make_unit_error(word: str, mend: str = USE_A_UNIT, known: tuple[str, ...] = tuple(UNIT_NAMES)) -> WrittenError:
    """The error for a word that is no unit, with the nearest one that is."""
    return WrittenError(f'"{shorten(word, 40)}" is not a unit known here', suggest(word.lower(), known) or mend)


def check_text(text: str, like: str) -> str:
    """The text without blanks at its ends; raises when empty, too long, or with a comma inside a number."""
    if len(text) > LONGEST_TEXT:
        raise WrittenError(f"this is longer than {LONGEST_TEXT} letters", like)
    clean = shorten(text, LONGEST_TEXT)
    if not clean:
        raise WrittenError("nothing is written here", like)
    check_comma(clean)
    return clean


def check_comma(text: str) -> None:
    """Raises when a comma stands inside a number: it may mean a decimal point, or thousands."""
    comma = COMMA.search(text)
    if not comma:
        return
    point = text[: comma.start()] + f"{comma[1]}.{comma[2]}" + text[comma.end() :]
    mend = f'write a decimal point: "{point}"'
    if len(comma[2]) == 3:
        mend += f', or no comma: "{text[: comma.start()]}{comma[1]}{comma[2]}{text[comma.end() :]}"'
    raise WrittenError(f"{comma[0]} has a comma in it", mend)


def check_size(mm: float, text: str) -> float:
    """The length itself; raises when it is beyond 10 m."""
    if mm > LONGEST_MM:
        raise WrittenError(f'"{text}" is longer than 10 m', "check the number and its unit")
    return mm


def match_number(text: str, start: int) -> tuple[Fraction, int] | None:
    """The number (whole, decimal, fraction, mixed fraction) at `start` and where it ends; None for none.

    Raises WrittenError for one that cannot be meant.
    """
    found = NUMBER.match(text, start)
    if found is None:
        return None
    if sum(letter.isdigit() for letter in found[0]) > MOST_DIGITS:
        raise WrittenError(f"the number {found[0]} has more than {MOST_DIGITS} digits", "write it with fewer digits")
    if found["vulgar"]:
        return int(found["before"] or 0) + VULGAR_FRACTIONS[found["vulgar"]], found.end()
    if found["decimal"]:
        return Fraction(found["decimal"]), found.end()
    return read_fraction(found), found.end()


def read_fraction(found: re.Match[str]) -> Fraction:
    """The value of a fraction or mixed fraction; raises on a nought below the line and on "3 5/4"."""
    over, under = int(found["over"]), int(found["under"])
    if under == 0:
        raise WrittenError(f"{found[0]} divides by nothing", "write a fraction with a number below the line")
    if found["whole"] is None:
        return Fraction(over, under)
    total = int(found["whole"]) + Fraction(over, under)
    if over >= under:
        mend = f'write "{format_fraction(total)}", if that is meant'
        raise WrittenError(f"{found[0]} is not a proper mixed number", mend)
    return total


def format_fraction(value: Fraction) -> str:
    """A number of at least nothing as a mixed fraction: "3 1/2", "1/32", "4"."""
    whole, over = divmod(value.numerator, value.denominator)
    if not over:
        return str(whole)
    return f"{whole} {over}/{value.denominator}" if whole else f"{over}/{value.denominator}"


def match_length(text: str, start: int) -> tuple[float, int] | None:
    """The written length at `start`, without sign, in mm, and where it ends; None when there is none.

    Feet and inches together count as one. Raises WrittenError for numbers that cannot be meant.
    """
    feet = FEET_AND_INCHES.match(text, start)
    if feet:
        both = match_feet_and_inches(text, feet)
        if both:
            return both
    number = match_number(text, start)
    unit = UNIT.match(text, number[1]) if number else None
    if number is None or unit is None:
        return None
    name = UNIT_NAMES[(unit["unit"] or unit["mark"]).lower()]
    return float(number[0] * find_factor(name)), unit.end()


def match_feet_and_inches(text: str, feet: re.Match[str]) -> tuple[float, int] | None:
    """Feet and inches as one length in mm, and where they end; None when no inches follow the feet."""
    number = match_number(text, feet.end())
    unit = UNIT.match(text, number[1]) if number else None
    if number is None or unit is None or UNIT_NAMES[(unit["unit"] or unit["mark"]).lower()] != "inch":
        return None
    total = int(feet["feet"]) * 12 + number[0]
    if number[0] >= 12:
        mend = f'write "{total // 12} ft {format_fraction(total % 12)} in", if that is meant'
        raise WrittenError(f'"{text[feet.start() : unit.end()]}" has 12 in or more beside the feet', mend)
    return float(total * find_factor("inch")), unit.end()


def parse_run(text: str) -> float:
    """A running length of thread or cloth ("250 m", "1500 yd") in mm; more than nothing, at most 100 km.

    Raises WrittenError.
    """
    like = 'write it like "250 m" or "275 yd"'
    clean = check_text(text, like)
    found = match_number(clean, 0)
    unit = clean[found[1] :].strip().lower() if found else ""
    if found is None or unit not in RUN_UNITS_MM:
        raise WrittenError(f'"{clean}" cannot be read as a running length', like)
    mm = float(found[0] * RUN_UNITS_MM[unit])
    if not 0 < mm <= LONGEST_RUN_MM:
        raise WrittenError(f'"{clean}" is no running length', "write a length above 0 and up to 100 km")
    return mm


def parse_type_size(text: str) -> float:
    """A type size ("12 pt", or a length) in mm; more than nothing, at most 100 pt. Raises WrittenError."""
    like = 'write it like "12 pt"'
    clean = check_text(text, like)
    found = match_number(clean, 0)
    if found and clean[found[1] :].strip().lower() == "pt":
        mm = float(found[0] * find_factor("point"))
    else:
        mm = parse_length(clean)
    if not 0 < mm <= 100 * MM_PER_POINT:
        raise WrittenError(f'"{clean}" is no type size', "write a size above 0 and up to 100 pt")
    return mm


def parse_thickness(text: str) -> float:
    """A thickness in mm: a length, leather ounces ("4.5 oz"), or irons ("9 iron").

    A range ("4-5 oz", "1.8-2 mm") counts as its middle; nothing at all ("0") is allowed, for a feather edge.
    Raises WrittenError, also above 100 mm.
    """
    like = 'write it like "4.5 oz", "4-5 oz" or "1.8 mm"'
    clean = check_text(text, like)
    mm = match_range(clean)
    if mm is None:
        mm = match_leather_unit(clean)
    if mm is None:
        mm = parse_length_or(clean, like)
    if mm < 0:
        raise WrittenError(f'"{clean}" is less than nothing', like)
    if mm > THICKEST_MM:
        raise WrittenError(f'"{clean}" is thicker than {THICKEST_MM} mm', "check the number and its unit")
    return mm


def match_leather_unit(clean: str) -> float | None:
    """mm for leather ounces or irons, None for anything else."""
    found = match_number(clean, 0)
    unit = THICKNESS_UNITS.get(clean[found[1] :].strip().lower()) if found else None
    return float(found[0] * find_factor(unit)) if found and unit else None


def match_range(clean: str) -> float | None:
    """The middle, in mm, of a range in ounces, irons or mm; None for no range. Raises when it runs backwards."""
    low = match_number(clean, 0)
    between = RANGE.match(clean, low[1]) if low else None
    high = match_number(clean, between.end()) if between else None
    if low is None or high is None:
        return None
    unit = {**THICKNESS_UNITS, "mm": "millimetre"}.get(clean[high[1] :].strip().lower())
    if unit is None:
        return None
    if low[0] >= high[0]:
        raise WrittenError(f'"{clean}" does not run from less to more', "write the smaller number first")
    return float((low[0] + high[0]) / 2 * find_factor(unit))


def parse_length_or(clean: str, like: str) -> float:
    """A length in mm; a bare number or an unknown unit is answered with `like`, which knows more units."""
    try:
        return parse_length(clean)
    except WrittenError as error:
        if error.mend in (LIKE_A_LENGTH, USE_A_UNIT) or error.what.endswith("has no unit"):
            raise WrittenError(error.what, like) from None
        raise


def parse_pitch(text: str) -> float:
    """Length of one stitch in mm, from "6 per inch", a length, or a pricking iron ("French iron 8"); 0.5 to 50 mm.

    Raises WrittenError.
    """
    like = 'write it like "6 per inch", "3.6 mm" or "French iron 8"'
    clean = check_text(text, like)
    per_inch = match_per_inch(clean)
    if per_inch and per_inch[0] == 0:
        raise WrittenError(f'"{clean}" makes no stitch at all', like)
    mm = float(find_factor(per_inch[1]) / per_inch[0]) if per_inch else parse_length_or(clean, like)
    if not 0.5 <= mm <= 50:
        raise WrittenError(f'"{clean}" is a stitch of {format_mm(mm, 2)}', "write a stitch between 0.5 and 50 mm long")
    return mm


def match_per_inch(clean: str) -> tuple[Fraction, str] | None:
    """Stitches to an inch, and which inch; None for anything else. Raises for an iron of no country."""
    iron = IRON.match(clean)
    found = match_number(clean, iron.end() if iron else 0)
    if not found:
        return None
    if not iron:
        return (found[0], "inch") if PER_INCH.fullmatch(clean, found[1]) else None
    if found[1] != len(clean):
        return None
    if not iron[1]:
        number = clean[iron.end() :]
        what = f'"{clean}" does not say whose inch the number of the iron counts by'
        raise WrittenError(what, f'write "French iron {number}" or "English iron {number}"')
    return found[0], IRON_INCHES[iron[1].lower()]


def parse_percent(text: str) -> float:
    """A share from "25 %", as 0.25; at least 0 and below 100 %. Raises WrittenError."""
    like = 'write it like "25 %"'
    clean = check_text(text, like)
    found = match_number(clean, 0)
    if found and found[1] == len(clean):
        raise WrittenError(f"{clean} has no percent sign", f'write "{clean} %"')
    if not found or clean[found[1] :].strip() != "%":
        raise WrittenError(f'"{clean}" cannot be read as a share', like)
    if found[0] >= 100:
        raise WrittenError(f'"{clean}" leaves nothing', "write a share below 100 %")
    return float(found[0] / 100)


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


def format_slot(width_mm: float, long_mm: float, show: Show) -> str:
    """Width and whole length of an oblong hole: "3/16 × 1 1/4 in (4.8 × 31.8 mm)"."""
    return format_both(format_short_slot(width_mm, long_mm, "in"), format_short_slot(width_mm, long_mm, "mm"), show)


def format_short_slot(width_mm: float, long_mm: float, show: Show) -> str:
    """Only the unit to show: "3/16 × 1 1/4 in" or "4.8 × 31.8 mm"."""
    width, length = format_short(width_mm, show), format_short(long_mm, show)
    return f"{width.removesuffix(f' {show}')} × {length}"


def format_area(mm2: float, show: Show) -> str:
    """ "5.25 sq ft (48.8 dm²)" or "48.8 dm² (5.25 sq ft)"; of a small piece "0.016 sq ft (0.15 dm²)"."""
    return format_both(format_short_area(mm2, "in"), format_short_area(mm2, "mm"), show)


def format_short_area(mm2: float, show: Show) -> str:
    """Only the unit to show: "5.25 sq ft" or "48.8 dm²"."""
    if show == "in":
        return f"{format_fine(mm2 / MM2_PER_SQFT, 2)} sq ft"
    return f"{format_fine(mm2 / MM2_PER_DM2, 1)} dm²"


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
    """A running length to buy, never less in either unit: "0.84 yd (0.77 m)"."""
    bought_mm = buy_run_mm(mm, show)
    yards, metres = (format_fine(round_up(bought_mm / unit_mm, 2), 2) for unit_mm in (MM_PER_YARD, 1000.0))
    return format_both(f"{yards} yd", f"{metres} m", show)


def format_bought_area(mm2: float, show: Show) -> str:
    """An area to buy, never less in either unit: "5.25 sq ft (48.8 dm²)"."""
    bought_mm2 = buy_area_mm2(mm2, show)
    feet = format_fine(round_up(bought_mm2 / MM2_PER_SQFT, 2), 2)
    decimetres = format_fine(round_up(bought_mm2 / MM2_PER_DM2, 1), 1)
    return format_both(f"{feet} sq ft", f"{decimetres} dm²", show)


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


def format_stack(mm: float) -> str:
    """Layers together, "3.6 mm": a fraction of an inch would be too coarse, and ounces are for one leather."""
    return format_mm(mm)


def format_thickness(mm: float, kind: str, show: Show, written: str = "") -> str:
    """Leather: "4.5 oz (1.8 mm)" or "1.8 mm (4.5 oz)"; anything else: "0.6 mm". The spec's own words stand for the unit
    they are in: "4–5 oz (1.8 mm)"."""
    own = RANGE_DASH.sub("–", written.strip())
    is_weight = any(unit in own.lower() for unit in THICKNESS_UNITS)
    is_metric = own.endswith("mm")
    metric = own if is_metric else format_mm(mm, 1 if kind == "leather" else 2)
    if kind != "leather" and not is_weight:
        return metric
    return format_both(own if is_weight else f"{format_number(mm / MM_PER_OUNCE, 1)} oz", metric, show)
