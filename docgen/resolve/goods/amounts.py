"""Written loads, weights, densities and prices -> newtons, grams, g/cm3 and money for one mm, mm2 or item.

Numbers and units are read by `docgen.written.units`. All raise WrittenError.
"""

import re
from fractions import Fraction

from docgen.resolve.goods.values import Per, Price
from docgen.written.units.finding import find_factor, find_unit, make_unit_error
from docgen.written.units.lengths import RANGE
from docgen.written.units.numbers import WrittenError, check_text, match_number
from docgen.written.units.table import Kind

# Words for what a price may be for, besides areas and lengths.
COUNTED: dict[str, Per] = {"each": "each", "piece": "each", "": "each", "hour": "hour"}
MOST_TIMES = 20.0
MOST_AREA_MM2 = 20e6
LIKE_A_PRICE = 'write it like "11.50 per sq ft", "14 per m", "0.35 each" or "12 per 100"'


def parse_load(text: str) -> float:
    """A load in newtons from "6 kg", "13 lb" or "60 N"; more than nothing."""
    return _parse_unit(text, "force", 'write it like "6 kg", "13 lb" or "60 N"')


def parse_weight(text: str) -> float:
    """A weight in grams from "12 g", "0.4 oz" or "1.2 kg"; more than nothing."""
    return _parse_unit(text, "weight", 'write it like "12 g", "0.4 oz" or "1.2 kg"')


def parse_run_weight(text: str) -> float:
    """A weight in grams for one mm from "28 g per m" or "1 oz per yd"; more than nothing."""
    like = 'write it like "28 g per m" or "1 oz per yd"'
    weight, per, run = check_text(text, like).partition(" per ")
    if not per:
        raise WrittenError(f'"{text.strip()}" does not say for what length', like)
    return parse_weight(weight) / float(find_unit("length", run, like))


def parse_density(text: str) -> float:
    """A density in g/cm3 from "0.9 g/cm3" or "900 kg/m3"; more than nothing."""
    return _parse_unit(text, "density", 'write it like "0.9 g/cm3"')


def parse_areas(text: str) -> tuple[float, float]:
    """An area in mm2, from and to, of "22-26 sq ft" or "2.2 m2", which is both; more than nothing, at most 20 m2."""
    like = 'write it like "22-26 sq ft", "24 sq ft" or "2.2 m2"'
    clean = check_text(text, like)
    low = match_number(clean, 0)
    between = RANGE.match(clean, low[1]) if low else None
    if low is None or between is None:
        found = _parse_unit(clean, "area", like)
        least, most = found, found
    else:
        most, unit, _ = _split_area(clean[between.end() :], like)
        least = float(low[0]) * unit
    if not 0 < least <= most:
        raise WrittenError(f'"{clean}" does not run from less to more', "write the smaller number first")
    if most > MOST_AREA_MM2:
        raise WrittenError(f'"{clean}" is more than a hide has', "look at the number and its unit")
    return least, most


def _split_area(text: str, like: str) -> tuple[float, float, str]:
    number, unit, clean = _split(text, like)
    factor = float(find_unit("area", unit, like))
    return float(number) * factor, factor, clean


def parse_times(text: str) -> float:
    """A number of times from "1.5 times"; more than nothing, up to 20."""
    like = 'write it like "1.5 times"'
    number, unit, clean = _split(text, like)
    if unit.lower() not in ("times", "x"):
        raise WrittenError(f'"{clean}" is no number of times', like)
    if number > MOST_TIMES:
        raise WrittenError(f"{float(number):g} times is too much", f"write up to {MOST_TIMES:g} times")
    return float(number)


def _parse_unit(text: str, kind: Kind, like: str) -> float:
    number, unit, _ = _split(text, like)
    return float(number * find_unit(kind, unit, like))


def _split(text: str, like: str) -> tuple[Fraction, str, str]:
    """Number (more than nothing), unit, and both as they are read."""
    clean = check_text(text, like)
    number = match_number(clean, 0)
    if number is None:
        raise WrittenError(f'"{clean}" cannot be read', like)
    unit = clean[number[1] :].strip()
    if not unit:
        raise WrittenError(f"{clean} has no unit", like)
    if number[0] == 0:
        raise WrittenError(f'"{clean}" is nothing', like)
    return number[0], unit, clean


def parse_price(text: str, like: str = LIKE_A_PRICE) -> Price:
    """A price from "11.50 per sq ft", "14 per m", "18 per 500 m", "0.35 each", "12 per 100" or "30 per hour". `like`
    says how to write what is wanted."""
    clean = check_text(text, like)
    number = match_number(clean, 0)
    if number is None:
        raise WrittenError(f'"{clean}" does not begin with a number', like)
    rest = clean[number[1] :].strip().lower()
    if rest == "each":
        return Price(amount=float(number[0]), per="each", words=clean)
    words = re.match(r"(?:per|an?|/) *", rest)
    if words is None:
        raise WrittenError(f'"{clean}" does not say for how much', like)
    unit = rest[words.end() :]
    count = match_number(unit, 0)
    amount = float(count[0]) if count else 1.0
    unit = unit[count[1] :].strip() if count else unit
    if not amount:
        raise WrittenError(f'"{clean}" is a price for nothing', like)
    per, size = _read_per(unit, like) if count or unit else _read_per(rest, like)
    return Price(amount=float(number[0]) / (amount * size), per=per, words=clean)


def _read_per(unit: str, like: str) -> tuple[Per, float]:
    """What a price is for, and how many mm, mm2, items or hours that is."""
    if unit in COUNTED:
        return COUNTED[unit], 1.0
    for per in ("length", "area"):
        factor = find_factor(per, unit)
        if factor is not None:
            return per, float(factor)
    raise make_unit_error("area", unit, like)
