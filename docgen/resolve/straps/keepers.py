"""Keepers: loops that go round a strap's layers; their length follows from what they hold. mm."""

import math
from collections.abc import Collection, Mapping

from docgen.read import StrapSpec
from docgen.resolve.straps.strap import Strap
from docgen.resolve.values import Reader, where, words
from docgen.tables.defaults import HELD_KEEPER_LAYERS, KEEPER_LAYERS, KEEPER_OVERLAP_MM
from docgen.tables.sewing import KEEPER_ROOM_MM
from docgen.written.units.telling import format_mm


def is_keeper(spec: StrapSpec) -> bool:
    """Whether the strap is a loop round another."""
    return spec.keeper_for is not None or "keeper_for" in spec.wrong


def refuse_inside(reader: Reader, spec: StrapSpec) -> None:
    """Note a width inside of what is no keeper."""
    if spec.inside is not None and not is_keeper(spec):
        what = f'"inside" has no meaning for "{spec.name}", which is no keeper'
        reader.error(spec.inside.place, what, "leave it out, or write keeper-for")


def keeper_round_mm(width_mm: float, stack_mm: float, thickness_mm: float) -> float:
    """Length along the middle of a keeper of that thickness, once round a stack: 2 (w + h) + pi t, and some room.

    Four straight sides, and four corners bent by a quarter turn with half the thickness as radius (plane geometry).
    """
    return 2 * (width_mm + stack_mm) + math.pi * thickness_mm + KEEPER_ROOM_MM


def read_keeper_mm(
    reader: Reader, spec: StrapSpec, straps: Mapping[str, Strap], thickness_mm: float
) -> tuple[float, float] | None:
    """Length round the strap, and the length to cut with its overlap; None when they do not follow (noted)."""
    overlap_mm = KEEPER_OVERLAP_MM if spec.overlap is None else reader.length(spec.overlap, zero=True)
    held = straps.get(words(spec.keeper_for))
    if not _has_own_length(reader, spec) or overlap_mm is None or spec.keeper_for is None:
        return None
    if words(spec.keeper_for) == spec.name or (held is not None and held.keeper_for):
        what = f'the keeper "{spec.name}" goes round a keeper'
        reader.error(spec.keeper_for.place, what, "name the strap that it holds")
        return None
    if held is None:
        return None  # that strap has a problem of its own
    is_held = any(end.keeper == spec.name for end in held.ends)
    layers = spec.layers.value if spec.layers else HELD_KEEPER_LAYERS if is_held else KEEPER_LAYERS
    inside_mm = _read_inside_mm(reader, spec, held)
    if inside_mm is None:
        return None
    round_mm = keeper_round_mm(inside_mm, _stack_mm(held, layers, straps.values()), thickness_mm)
    return round_mm, round_mm + overlap_mm


def _stack_mm(held: Strap, layers: int, straps: Collection[Strap]) -> float:
    """Thickness of what lies in a keeper: the tip once, and for the rest the part with the buckle, both with their linings.
    Of a strap of two parts that buckle, the tip is the one that names the other as its partner, else it is its own. Of
    several tips the thickest counts."""
    buckled = next((strap for strap in straps if strap.name == held.partner), held)
    tips = [held] if held.partner else [strap for strap in straps if strap.partner == held.name] or [held]
    return (layers - 1) * buckled.thickness_mm + max(tip.thickness_mm for tip in tips)


def _read_inside_mm(reader: Reader, spec: StrapSpec, held: Strap) -> float | None:
    """Width inside a keeper: its own, else that of what it goes round; None when nothing would go through (noted). One
    that slides may be as narrow as the narrower end of a tapered strap."""
    own = [held.end_width_mm(which) for which, end in enumerate(held.ends) if end.keeper == spec.name]
    least_mm = own[0] if own else min(held.width_mm, *map(held.end_width_mm, (0, 1)))
    inside_mm = (own[0] if own else held.width_mm) if spec.inside is None else reader.length(spec.inside)
    if spec.inside is not None and inside_mm is not None and inside_mm < least_mm:
        what = (
            f'the keeper "{spec.name}" is {format_mm(inside_mm)} wide inside, and "{held.name}" {format_mm(least_mm)}'
        )
        reader.error(spec.inside.place, what, "make it as wide as what goes through, or leave inside out")
        return None
    return inside_mm


def _has_own_length(reader: Reader, spec: StrapSpec) -> bool:
    """Whether nothing is written that gives a keeper another length; what does is noted."""
    keys = ("finished", "wears", "partner", "holes", "ends")
    places = {key: where(getattr(spec, key)) for key in keys}
    for key, place in places.items():
        if place is not None:
            what = f'"{key}" has no meaning for the keeper "{spec.name}": the strap it holds gives its length'
            reader.error(place, what, "leave it out")
    return not any(places.values())
