"""Care advice for the customer, by material and metal, in short calm sentences for a small card."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

MOST_ADVICE = 8
LONGEST_ADVICE = 160


@dataclass(frozen=True, slots=True, kw_only=True)
class CareAdvice:
    """One piece of advice: id, heading, and text of at most 160 letters."""

    id: str
    heading: str
    text: str


# In the order of the card. Behind them: Western Australian Museum, conservation manual, "Leather" (light,
# storage: no folds, shape held by filling, cloth not plastic); vegtan.blogspot, 2010, a secondary source
# (leather is acid, pH 3 to 6, so that alkaline cleaners harm it); the rest is makers' common practice, no
# published source.
ADVICE: tuple[CareAdvice, ...] = (
    CareAdvice(
        id="clean-plain",
        heading="Cleaning",
        text="Dust it with a soft dry cloth. A little leather cream once or twice a year is enough; try it "
        "first where it does not show.",
    ),
    CareAdvice(
        id="clean-waxed",
        heading="Waxed leather",
        text="Brush off dust. Scuffs fade when you rub them with a soft cloth and a warm hand. When it "
        "looks dry, wax it again, very thinly.",
    ),
    CareAdvice(
        id="clean-oiled",
        heading="Oiled leather",
        text="Dust it with a soft dry cloth. Marks belong to it. When it feels dry, rub in a little "
        "leather oil and wipe off what is left.",
    ),
    CareAdvice(
        id="clean-coated",
        heading="Coated leather",
        text="Wipe it with a soft, barely damp cloth, then dry. Its surface takes up no oil or wax, so "
        "leave both off.",
    ),
    CareAdvice(
        id="clean-suede",
        heading="Suede",
        text="Brush it dry with a soft brush, in one direction. No cream, oil or wax. Keep it out of the "
        "rain.",
    ),
    CareAdvice(
        id="darkens",
        heading="It changes with you",
        text="Vegetable-tanned leather darkens with light, hands and water. That is its nature and no fault.",
    ),
    CareAdvice(
        id="wet",
        heading="If it gets wet",
        text="Blot it, do not rub. Fill it loosely with plain paper and let it dry slowly in the room, "
        "away from heaters and sun.",
    ),
    CareAdvice(
        id="keep",
        heading="Keeping it",
        text="Keep it out of direct sun and damp. Store it lightly filled, unfolded, in a cloth bag; in "
        "plastic it may grow mould.",
    ),
    CareAdvice(
        id="never",
        heading="Please do not",
        text="No washing machine, solvent, household cleaner or wet wipe. They draw out the colour and "
        "make leather hard.",
    ),
    CareAdvice(
        id="fabric",
        heading="Cloth",
        text="Turn out crumbs and brush the cloth. Dab a spot with a barely damp cloth; do not soak it, or "
        "the leather takes up the water.",
    ),
    CareAdvice(
        id="inside",
        heading="Its shape",
        text="Foam or board inside holds the shape. Do not fold it flat, and do not press or soak it.",
    ),
    CareAdvice(
        id="brass",
        heading="Brass and copper",
        text="They dull with time. Rub them with a dry cloth; keep metal polish off the leather.",
    ),
    CareAdvice(
        id="steel",
        heading="Steel",
        text="Dry it soon after rain. Rust stains leather and does not come out.",
    ),
    CareAdvice(
        id="plated",
        heading="Metal parts",
        text="Wipe them with a soft dry cloth. Polish and scouring wear the plating away.",
    ),
    # REACH, Annex XVII, entry 27, limits nickel that touches the skin for long.
    CareAdvice(
        id="nickel",
        heading="Nickel",
        text="Some metal parts contain nickel. If nickel irritates your skin, do not let them lie against "
        "it.",
    ),
)
# Kept first when a build calls for more than fits the card.
FIRST_KEPT = ("nickel", "never", "wet", "keep")


def find_care(materials: Sequence[tuple[str, str, str]], metals: Sequence[str]) -> tuple[CareAdvice, ...]:
    """Advice for materials and metal finishes: each once, in the order of the card, at most 8.

    A material is (kind, tannage, finish), with "" for what is not known; a metal is named as in the spec.
    """
    wanted = {name for material in materials for name in advise_material(*material)}
    wanted |= {name for metal in metals for name in advise_metal(metal)}
    listed = [advice for advice in ADVICE if advice.id in wanted]
    kept = sorted(listed, key=lambda advice: advice.id not in FIRST_KEPT)[:MOST_ADVICE]
    return tuple(advice for advice in listed if advice in kept)


def advise_material(kind: str, tannage: str, finish: str) -> tuple[str, ...]:
    """Ids of the advice for one material."""
    if kind == "leather":
        clean = f"clean-{finish or 'plain'}"
        return (clean, "wet", "keep", "never", *(("darkens",) if tannage == "vegetable" else ()))
    return {"fabric": ("fabric", "keep"), "foam": ("inside",), "board": ("inside",)}.get(kind, ())


def advise_metal(metal: str) -> tuple[str, ...]:
    """Ids of the advice for one metal or plating, by the words that name it."""
    words = set(metal.lower().replace("-", " ").split())
    advice = []
    if words & {"plated", "plate", "plating", "coated"}:
        advice.append("plated")
    elif words & {"brass", "copper", "bronze"}:
        advice.append("brass")
    elif words & {"steel", "iron"} and "stainless" not in words:
        advice.append("steel")
    if "nickel" in words:
        advice.append("nickel")
    return tuple(advice)
