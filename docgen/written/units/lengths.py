"""Written lengths, thicknesses, pitches, shares -> mm and other figures. Numbers are read exactly, as fractions."""

import re
from fractions import Fraction

from docgen.written.units.finding import find_factor, find_unit, list_names, make_unit_error
from docgen.written.units.numbers import WrittenError, check_text, format_fraction, match_number
from docgen.written.units.table import FACTORS, INCH, MM_PER_POINT
from docgen.written.units.telling import format_mm

LONGEST_MM = 10_000
LONGEST_RUN_MM = 100_000_000
THICKEST_MM = 100
WORDS = "|".join(sorted((re.escape(name) for name in list_names("length") if name.isalpha()), key=len, reverse=True))
UNIT = re.compile(rf" *(?P<unit>{WORDS})(?![a-z0-9])| *(?P<mark>[\"″”])", re.I)
# Any other word may be a unit too, but for one that begins a name.
OTHER = re.compile(r" *(?P<unit>[a-z]{2,24})(?![\w.']|-[a-z])", re.I)
FEET_AND_INCHES = re.compile(r"(?P<feet>[0-9]{1,9}) *(?:feet|foot|ft) +(?=[0-9½⅓⅔¼¾⅛⅜⅝⅞])", re.I)
WORD = re.compile(r" *([^\W\d_][\w.'-]*)")
RANGE = re.compile(r" *(?:-|–|to\b) *")
PER_INCH = re.compile(r" *per +(?:inch|in) *", re.I)
IRON = re.compile(r"(?:(french|english) +)?(?:pricking +)?iron +", re.I)

LIKE_A_LENGTH = 'write it like "3 1/2 in" or "89 mm"'
USE_A_UNIT = "use in, ft, mm, cm or m"


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
    if word and find_factor("length", word[1]) is None:
        raise make_unit_error("length", word[1], USE_A_UNIT)
    raise WrittenError(f'"{clean}" cannot be read as a length', LIKE_A_LENGTH)


def check_size(mm: float, text: str) -> float:
    """The length itself; raises when it is beyond 10 m."""
    if mm > LONGEST_MM:
        raise WrittenError(f'"{text}" is longer than 10 m', "check the number and its unit")
    return mm


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
    unit = match_unit(text, number[1]) if number else None
    return (float(number[0] * unit[0]), unit[1]) if number and unit else None


def match_unit(text: str, start: int) -> tuple[Fraction, int] | None:
    """The unit of length at `start`, in mm, and where it ends; None when there is none."""
    found = UNIT.match(text, start)
    if found:
        return FACTORS["length", (found["unit"] or found["mark"]).lower()], found.end()
    word = OTHER.match(text, start)
    factor = find_factor("length", word["unit"]) if word else None
    return None if word is None or factor is None else (factor, word.end())


def match_feet_and_inches(text: str, feet: re.Match[str]) -> tuple[float, int] | None:
    """Feet and inches as one length in mm, and where they end; None when no inches follow the feet."""
    number = match_number(text, feet.end())
    unit = UNIT.match(text, number[1]) if number else None
    if number is None or unit is None or FACTORS["length", (unit["unit"] or unit["mark"]).lower()] != INCH:
        return None
    total = int(feet["feet"]) * 12 + number[0]
    if number[0] >= 12:
        mend = f'write "{total // 12} ft {format_fraction(total % 12)} in", if that is meant'
        raise WrittenError(f'"{text[feet.start() : unit.end()]}" has 12 in or more beside the feet', mend)
    return float(total * INCH), unit.end()


def parse_run(text: str) -> float:
    """A running length of thread or cloth ("250 m", "1500 yd") in mm; more than nothing, at most 100 km.

    Raises WrittenError.
    """
    like = 'write it like "250 m" or "275 yd"'
    clean = check_text(text, like)
    found = match_number(clean, 0)
    if found is None or not clean[found[1] :].strip():
        raise WrittenError(f'"{clean}" cannot be read as a running length', like)
    mm = float(found[0] * find_unit("length", clean[found[1] :], like))
    if not 0 < mm <= LONGEST_RUN_MM:
        raise WrittenError(f'"{clean}" is no running length', "write a length above 0 and up to 100 km")
    return mm


def parse_type_size(text: str) -> float:
    """A type size ("12 pt", or a length) in mm; more than nothing, at most 100 pt. Raises WrittenError."""
    like = 'write it like "12 pt"'
    clean = check_text(text, like)
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
    factor = FACTORS.get(("thickness", clean[found[1] :].strip().lower())) if found else None
    return float(found[0] * factor) if found and factor else None


def match_range(clean: str) -> float | None:
    """The middle, in mm, of a range in ounces, irons or mm; None for no range. Raises when it runs backwards."""
    low = match_number(clean, 0)
    between = RANGE.match(clean, low[1]) if low else None
    high = match_number(clean, between.end()) if between else None
    if low is None or high is None:
        return None
    unit = clean[high[1] :].strip().lower()
    factor = Fraction(1) if unit == "mm" else FACTORS.get(("thickness", unit))
    if factor is None:
        return None
    if low[0] >= high[0]:
        raise WrittenError(f'"{clean}" does not run from less to more', "write the smaller number first")
    return float((low[0] + high[0]) / 2 * factor)


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
    mm = float(per_inch[1] / per_inch[0]) if per_inch else parse_length_or(clean, like)
    if not 0.5 <= mm <= 50:
        raise WrittenError(f'"{clean}" is a stitch of {format_mm(mm, 2)}', "write a stitch between 0.5 and 50 mm long")
    return mm


def match_per_inch(clean: str) -> tuple[Fraction, Fraction] | None:
    """Stitches to an inch, and that inch in mm; None for anything else. Raises for an iron of no country."""
    iron = IRON.match(clean)
    found = match_number(clean, iron.end() if iron else 0)
    if not found:
        return None
    if not iron:
        return (found[0], INCH) if PER_INCH.fullmatch(clean, found[1]) else None
    if found[1] != len(clean):
        return None
    if not iron[1]:
        number = clean[iron.end() :]
        what = f'"{clean}" does not say whose inch the number of the iron counts by'
        raise WrittenError(what, f'write "French iron {number}" or "English iron {number}"')
    return found[0], FACTORS["iron", iron[1].lower()]


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
