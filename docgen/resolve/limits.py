"""The figures that a shop may know better than the tables: limits of the checks, what thread loses, posts over a stack.

A spec's [limits] come first, then those of the shop's own file, then the tables.
"""

from __future__ import annotations

from dataclasses import fields, replace
from typing import Any

from docgen.read import LimitsSpec, ShopFile, Spec, Text, Value
from docgen.resolve.goods.amounts import parse_times
from docgen.resolve.values import Reader
from docgen.tables.limits import Limits, PostOver


def add_shop_limits(spec: Spec, shop: ShopFile | None) -> Spec:
    """The spec with the shop's figures where it names none, and what is wrong in the shop's file among its problems."""
    if shop is None:
        return spec
    problems = (*spec.problems, *(problem for problem in shop.problems if problem not in spec.problems))
    return replace(spec, limits=_merge(spec.limits, shop.limits), problems=problems)


def _merge(own: LimitsSpec | None, shop: LimitsSpec | None) -> LimitsSpec | None:
    if own is None or shop is None:
        return own or shop
    names = [field.name for field in fields(LimitsSpec) if field.name != "place"]
    return replace(own, **{name: getattr(own, name) or getattr(shop, name) for name in names})


def read_limits(reader: Reader, spec: LimitsSpec | None) -> Limits:
    """The figures of a build; those that cannot be read are noted, and left as in the tables."""
    if spec is None:
        return Limits()
    read: dict[str, Any] = {
        "needle_share": _share(reader, spec.needle_share),
        "hole_edge": reader.read(spec.hole_edge, parse_times) if spec.hole_edge else None,
        "fold_leather_mm": reader.length(spec.fold_leather),
        "fold_beyond_mm": reader.length(spec.fold_beyond),
        "hole_stitch_mm": reader.length(spec.hole_stitch, zero=True),
        "lining_larger_mm": reader.length(spec.lining_larger, zero=True),
        "waste_leather": _waste(reader, spec.waste_leather),
        "waste_other": _waste(reader, spec.waste_other),
        "machine_waste": _waste(reader, spec.machine_waste),
        "machine_tails_mm": reader.length(spec.machine_tails, zero=True),
        "hand_tails_mm": reader.length(spec.hand_tails, zero=True),
        "hand_thread_mm": reader.length(spec.hand_thread),
        "rivet_over_mm": _post_over(reader, spec.rivet_over),
        "tubular_rivet_over_mm": _post_over(reader, spec.tubular_rivet_over),
        "snap_over_mm": _post_over(reader, spec.snap_over),
    }
    return replace(Limits(), **{name: figure for name, figure in read.items() if figure is not None})


def _waste(reader: Reader, written: Text) -> float | None:
    return None if written is None else reader.percent(written, 0.0)


def _share(reader: Reader, written: Text) -> float | None:
    share = _waste(reader, written)
    if written is not None and share == 0 and not reader.is_noted(written.place):
        reader.error(written.place, "no thread fills nothing of a blade", 'write a share like "40 %"')
        return None
    return share or None


def _post_over(reader: Reader, written: tuple[Value[str], ...]) -> PostOver | None:
    """The least and the most; None where none are written, or they cannot be meant (noted)."""
    lengths = [length for value in written if (length := reader.any_length(value)) is not None]
    if len(lengths) != 2:
        return None
    least, most = lengths
    if least > most:
        reader.error(written[0].place, "the shortest post is longer than the longest", "write the shorter first")
        return None
    return least, most
