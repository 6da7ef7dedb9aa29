"""Which care advice a build calls for, by material, finish and metal. The words stand in layouts/care."""

from collections.abc import Sequence

FINISHES = ("plain", "waxed", "oiled", "coated", "suede")

# What the advice rests on:
# - "keep", "light": Western Australian Museum, conservation manual, leather: relative humidity 45-65 % (mould above
#   70 %, brittle below 40 %); no direct sun; no folds, shape held by filling, cloth and not airtight plastic.
# - "wet", "dry": heat with moisture shrinks and hardens leather, vegetable-tanned leather darkens with water: makers'
#   pages, secondary.
# - "never": leather is acid, pH 3 to 6, so that alkaline cleaners harm it: vegtan.blogspot, 2010, secondary.
# - "clean-...", "first-...": soft dry cloth or brush, barely damp if needed, tried on a hidden place: makers' pages,
#   secondary. Sparing with creams and oils: National Park Service, Conserve O Gram 9/1, "To dress or not to dress"
#   (abstract read).
# - "nickel": REACH, Annex XVII, entry 27, limits nickel that touches the skin for long.
# - "load": the shop's own claim; nothing is added to it.
# - all others: common practice, no published source.
METAL_ADVICE = ("brass", "steel", "stainless", "plated", "nickel")
ADVICE_IDS = (
    *(f"first-{finish}" for finish in FINISHES),
    *(f"clean-{finish}" for finish in FINISHES),
    *("vegetable", "chrome", "combination"),
    *("wet", "dry", "light", "keep", "never"),
    *("lining", "inside", "load"),
    *METAL_ADVICE,
    "repair",
)
"""Every advice, in the order of the card."""

PART_IDS = tuple(advice for advice in ADVICE_IDS if advice not in ("load", "repair"))
"""Advice that a shop can add to or replace by its id; the other two have keys of their own."""

ALWAYS_KEPT = ("nickel", "never", "wet", "load")
"""Never left out for want of room."""

IMPORTANCE = (
    *ALWAYS_KEPT,
    *(f"clean-{finish}" for finish in FINISHES),
    *("keep", "dry", "lining", "light", "steel", "repair", "vegetable", "brass", "plated", "stainless", "inside"),
    *(f"first-{finish}" for finish in FINISHES),
    *("chrome", "combination"),
)
"""From the advice that matters most to the one a small card can do without."""


HUMIDITY = "45–65\u00a0%"
"""Relative humidity in which leather keeps: as for "keep" above."""


def find_care(
    materials: Sequence[tuple[str, str, str]], metals: Sequence[str], *, has_load: bool = False
) -> tuple[str, ...]:
    """Ids of the advice for materials and metals, each once, in the order of the card.

    A material is (kind, tannage, finish), with "" for what is not known; a metal is named as in the spec.
    """
    wanted = {advice for material in materials for advice in advise_material(*material)}
    wanted |= {advice for metal in metals for advice in advise_metal(metal)}
    wanted |= {"load"} if has_load else set()
    return tuple(advice for advice in ADVICE_IDS if advice in wanted)


def advise_material(kind: str, tannage: str, finish: str) -> tuple[str, ...]:
    """Ids of the advice for one material."""
    if kind == "leather":
        surface = finish or "plain"
        own = (f"first-{surface}", f"clean-{surface}", *((tannage,) if tannage else ()))
        return (*own, "wet", "dry", "light", "keep", "never")
    return {"fabric": ("lining", "keep"), "foam": ("inside",), "board": ("inside",)}.get(kind, ())


def advise_metal(metal: str) -> tuple[str, ...]:
    """Ids of the advice for one metal or plating, by the words that name it."""
    words = set(metal.lower().replace("-", " ").split())
    advice = []
    if words & {"plated", "plate", "plating", "coated"}:
        advice.append("plated")
    elif words & {"brass", "copper", "bronze"}:
        advice.append("brass")
    elif "stainless" in words:
        advice.append("stainless")
    elif words & {"steel", "iron"}:
        advice.append("steel")
    if "nickel" in words and "free" not in words:
        advice.append("nickel")
    return tuple(advice)
