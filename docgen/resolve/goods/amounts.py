"""Written loads, weights, densities and prices -> newtons, grams, g/cm3 and money for one mm, mm2 or item.

The numbers are read by `docgen.written.units`; the factors are here. All raise WrittenError.
"""

from __future__ import annotations

import re
from collections.abc import Mapping

from docgen.resolve.goods.values import Per, Price
from docgen.tables.strength import N_PER_KG, N_PER_LB
from docgen.written.units import (
    MM2_PER_DM2,
    MM2_PER_SQFT,
    MM_PER_FOOT,
    MM_PER_YARD,
    WrittenError,
    check_text,
    make_unit_error,
    match_number,
)

LOADS_N = {"kg": N_PER_KG, "g": N_PER_KG / 1000, "lb": N_PER_LB, "lbs": N_PER_LB, "n": 1.0}
# NIST SP 811 (2008), appendix B.8: ounce and pound (avoirdupois).
WEIGHTS_G = {"g": 1.0, "kg": 1000.0, "oz": 28.349523125, "lb": 453.59237, "lbs": 453.59237}
DENSITIES_G_CM3 = {"g/cm3": 1.0, "g/cm³": 1.0, "kg/m3": 0.001, "kg/m³": 0.001}
# Unit -> what it measures, and how many mm, mm2, items or hours it is.
PRICE_UNITS: dict[str, tuple[Per, float]] = {
    "sq ft": ("area", MM2_PER_SQFT),
    "m2": ("area", 1e6),
    "m²": ("area", 1e6),
    "sq m": ("area", 1e6),
    "dm2": ("area", MM2_PER_DM2),
    "dm²": ("area", MM2_PER_DM2),
    "m": ("length", 1000.0),
    "ft": ("length", MM_PER_FOOT),
    "yd": ("length", MM_PER_YARD),
    "each": ("each", 1.0),
    "piece": ("each", 1.0),
    "": ("each", 1.0),
    "hour": ("hour", 1.0),
}
MOST_TIMES = 20.0
LIKE_A_PRICE = 'write it like "11.50 per sq ft", "14 per m", "0.35 each" or "12 per 100"'


def parse_load(text: str) -> float:
    """A load in newtons from "6 kg", "13 lb" or "60 N"; more than nothing."""
    return _parse_unit(text, LOADS_N, 'write it like "6 kg", "13 lb" or "60 N"')


def parse_weight(text: str) -> float:
    """A weight in grams from "12 g", "0.4 oz" or "1.2 kg"; more than nothing."""
    return _parse_unit(text, WEIGHTS_G, 'write it like "12 g", "0.4 oz" or "1.2 kg"')


def parse_density(text: str) -> float:
    """A density in g/cm3 from "0.9 g/cm3" or "900 kg/m3"; more than nothing."""
    return _parse_unit(text, DENSITIES_G_CM3, 'write it like "0.9 g/cm3"')


def parse_times(text: str) -> float:
    """A number of times from "1.5 times"; more than nothing, up to 20."""
    times = _parse_unit(text, {"times": 1.0, "x": 1.0}, 'write it like "1.5 times"')
    if times > MOST_TIMES:
        raise WrittenError(f"{times:g} times is too much", f"write up to {MOST_TIMES:g} times")
    return times


def _parse_unit(text: str, units: Mapping[str, float], like: str) -> float:
    clean = check_text(text, like)
    number = match_number(clean, 0)
    if number is None:
        raise WrittenError(f'"{clean}" cannot be read', like)
    unit = clean[number[1] :].strip()
    if not unit:
        raise WrittenError(f"{clean} has no unit", like)
    if unit.lower() not in units:
        raise make_unit_error(unit, like, tuple(units))
    if number[0] == 0:
        raise WrittenError(f'"{clean}" is nothing', like)
    return float(number[0]) * units[unit.lower()]


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
    if unit not in PRICE_UNITS or not (count or unit):
        raise make_unit_error(unit or rest, like, tuple(filter(None, PRICE_UNITS)))
    per, size = PRICE_UNITS[unit]
    return Price(amount=float(number[0]) / (amount * size), per=per, words=clean)
