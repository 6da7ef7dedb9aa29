"""Units that the table does not list: looked up by pint, which is loaded for the first of them.

pint sees a name of plain letters alone, and looks it up; it never reads a quantity that a person wrote.
"""

from __future__ import annotations

import re
from fractions import Fraction
from functools import cache
from typing import TYPE_CHECKING, Any, Final

if TYPE_CHECKING:
    from pint import UnitRegistry

NAME: Final = re.compile(r"[A-Za-z]{2,24}")
# With any prefix almost every short word would be some unit: these are written, and before these units.
PREFIXES: Final = frozenset({"", "micro", "milli", "centi", "deci", "deca", "hecto", "kilo"})
PREFIXED: Final = frozenset({"meter", "gram", "newton"})
UNNAMED: Final = "something else"
DIGITS: Final = 12  # of a factor that pint reckons in floats
# Dimension -> what it measures, and how many inner units its base unit (m, kg, s) is.
MEASURES: Final = {
    "[length]": ("length", Fraction(1000)),
    "[mass]": ("weight", Fraction(1000)),
    "[length] ** 2": ("area", Fraction(10**6)),
    "[length] * [mass] / [time] ** 2": ("force", Fraction(1)),
    "[length] ** 3": ("volume", Fraction(1)),
    "[time]": ("time", Fraction(1)),
    "[temperature]": ("temperature", Fraction(1)),
}


@cache
def find_other(name: str) -> tuple[str, Fraction] | None:
    """What a unit measures and how many inner units it is; None for a name that is no unit. Capitals do not count
    unless only they make it one ("kN")."""
    spellings = dict.fromkeys((name.lower(), name)) if NAME.fullmatch(name) else ()
    found = [unit for spelt in spellings if (unit := _look_up(spelt)) is not None]
    return min(found, key=lambda unit: unit[0] == UNNAMED, default=None)


def _look_up(name: str) -> tuple[str, Fraction] | None:
    registry = load_registry()
    for prefix, unit, _ in registry.parse_unit_name(name):
        if prefix not in PREFIXES or (prefix and unit not in PREFIXED):
            continue
        one = registry.Quantity(1.0, prefix + unit)
        words = " ".join(str(one.dimensionality).split())
        kind, factor = MEASURES.get(_sort_dimension(words), (UNNAMED, Fraction(1)))
        if kind in ("temperature", UNNAMED):  # no factor tells these
            return kind, factor
        return kind, Fraction(f"{one.to_base_units().magnitude:.{DIGITS}g}") * factor
    return None


def _sort_dimension(words: str) -> str:
    """The dimension with its factors in one order: pint writes them as the unit was defined."""
    over, *under = words.split(" / ")
    return " / ".join([" * ".join(sorted(over.split(" * "))), *under])


@cache
def load_registry() -> UnitRegistry[Any]:
    """pint with the units that it knows."""
    import pint

    return pint.UnitRegistry(cache_folder=None)
