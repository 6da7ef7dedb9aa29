"""A unit as a person writes it -> how many inner units it is, or words for what is wrong with it."""

import re
from fractions import Fraction
from functools import cache
from typing import Final

from docgen.problems import shorten, suggest
from docgen.written.units.numbers import WrittenError
from docgen.written.units.other import UNNAMED, find_other
from docgen.written.units.table import FACTORS, N_PER_G, UNITS, Kind

SQUARE: Final = re.compile(r"(?:sq\.?|square) +(?P<word>\S+)|(?P<name>[a-z]+) ?[2²]", re.I)
DENSITY: Final = r"(?i)(?P<weight>[a-z]+)/(?P<length>[a-z]+)[3³]"
# A thickness is a length too, and a weight hangs on a seam as a load.
ALSO: Final[dict[Kind, tuple[tuple[Kind, Fraction], ...]]] = {
    "thickness": (("length", Fraction(1)),),
    "force": (("weight", N_PER_G),),
}
KIND_WORDS: Final = {"iron": "a pricking iron", "area": "an area", UNNAMED: UNNAMED, "force": "a force or weight"}


def find_unit(kind: Kind, name: str, like: str) -> Fraction:
    """Inner units in one of the unit `name`. Raises WrittenError with `like` for a name that is no unit, or is one of
    another kind."""
    factor = find_factor(kind, name)
    if factor is None:
        raise make_unit_error(kind, name, like)
    return factor


def make_unit_error(kind: Kind, name: str, like: str) -> WrittenError:
    """The error for a name that is no unit of that kind: what it measures, or the nearest one that is."""
    other = _find_kind(name)
    if other:
        what = f'"{shorten(name, 40)}" measures {_kind_words(other)}, and {_kind_words(kind)} is wanted'
        return WrittenError(what, like)
    mend = suggest(name.lower(), list_names(kind)) or like
    return WrittenError(f'"{shorten(name, 40)}" is not a unit known here', mend)


def find_factor(kind: Kind, name: str) -> Fraction | None:
    """Inner units in one of the unit `name`; None for one that is no unit of that kind."""
    clean = " ".join(name.lower().split())
    kinds = ((kind, Fraction(1)), *ALSO.get(kind, ()))
    for own, times in kinds:
        if (own, clean) in FACTORS:
            return FACTORS[own, clean] * times
    if kind == "area" and (square := SQUARE.fullmatch(clean)):
        side = find_factor("length", square["word"] or square["name"])
        return None if side is None else side**2
    if kind == "density":
        return _find_density(clean)
    if any(clean == listed for _, listed in FACTORS):
        return None
    found = find_other(name.strip())
    return next((found[1] * times for own, times in kinds if found and found[0] == own), None)


def _find_density(clean: str) -> Fraction | None:
    """g/cm3 in one of a weight to a volume, "kg/m3"."""
    parts = re.fullmatch(DENSITY, clean)
    weight = find_factor("weight", parts["weight"]) if parts else None
    side = find_factor("length", parts["length"]) if parts else None
    return None if weight is None or side is None else weight / side**3 * 1000


def _find_kind(name: str) -> str:
    """What a unit measures; "" for a name that is none."""
    clean = " ".join(name.lower().split())
    listed = next((unit.kind for unit in UNITS if clean in unit.names), "")
    made: tuple[Kind, ...] = ("area", "density")
    found = find_other(name.strip())
    return listed or next((kind for kind in made if find_factor(kind, name) is not None), found[0] if found else "")


def _kind_words(kind: str) -> str:
    return KIND_WORDS.get(kind, f"a {kind}")


@cache
def list_names(kind: Kind) -> tuple[str, ...]:
    """The everyday names of units of a kind."""
    kinds = (kind, *(own for own, _ in ALSO.get(kind, ())))
    return tuple(dict.fromkeys(name for own in kinds for of, name in FACTORS if of == own))
