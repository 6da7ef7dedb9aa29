"""The figures that a shop may know better than the tables: limits of the checks, what thread loses, posts over a stack.

A spec's [limits] come first, then those of the shop's own file, then the tables.
"""

from dataclasses import replace
from typing import Any

from docgen.problems import Problem, SpecRejected
from docgen.read import LimitsSpec, ShopFile, Spec, Text, Value
from docgen.resolve.goods.amounts import parse_density, parse_times
from docgen.resolve.values import Reader
from docgen.tables.limits import Limit, Limits, PostOver, list_limits


def add_shop_limits(spec: Spec, shop: ShopFile | None) -> Spec:
    """The spec with the shop's figures where it names none, and what is wrong in the shop's file among its problems."""
    if shop is None:
        return spec
    problems = (*spec.problems, *(problem for problem in shop.problems if problem not in spec.problems))
    return replace(spec, limits=_merge(spec.limits, shop.limits), problems=problems)


def _merge(own: LimitsSpec | None, shop: LimitsSpec | None) -> LimitsSpec | None:
    if own is None or shop is None:
        return own or shop
    return replace(own, **{key: getattr(own, key) or getattr(shop, key) for _, key, _ in list_limits()})


def settle_limits(spec: LimitsSpec | None) -> Limits:
    """The figures that are written, else those of the tables. Raises SpecRejected when one cannot be read."""
    problems: list[Problem] = []
    limits = read_limits(Reader({}, problems), spec)
    if problems:
        raise SpecRejected(problems)
    return limits


def read_limits(reader: Reader, spec: LimitsSpec | None) -> Limits:
    """The figures of a build; those that cannot be read are noted, and left as in the tables."""
    read = {name: _read(reader, told, getattr(spec, key)) for name, key, told in list_limits()} if spec else {}
    return replace(Limits(), **{name: figure for name, figure in read.items() if figure is not None})


def _read(reader: Reader, told: Limit, written: Any) -> Any:
    """One figure; None where it is left out, or cannot be read (noted)."""
    if not written:
        return None
    if told.kind == "length":
        return reader.length(written, zero=told.zero)
    if told.kind == "times":
        return reader.read(written, parse_times)
    if told.kind in ("lengths", "densities"):
        return _post_over(reader, told, written)
    return _share(reader, told, written)


def _share(reader: Reader, told: Limit, written: Text) -> float | None:
    share = reader.percent(written, 0.0)
    if share or told.zero or written is None:
        return share
    if not reader.is_noted(written.place):
        reader.error(written.place, "no thread fills nothing of a blade", 'write a share like "40 %"')
    return None


def _post_over(reader: Reader, told: Limit, written: tuple[Value[str], ...]) -> PostOver | None:
    """The least and the most; None where none are written, or they cannot be meant (noted)."""
    read = reader.any_length if told.kind == "lengths" else (lambda value: reader.read(value, parse_density))
    lengths = [length for value in written if (length := read(value)) is not None]
    if len(lengths) != 2:
        return None
    least, most = lengths
    if least > most:
        first = "shorter" if told.kind == "lengths" else "lighter"
        reader.error(
            written[0].place, f"the first of these {told.kind} is more than the second", f"write the {first} first"
        )
        return None
    return least, most
