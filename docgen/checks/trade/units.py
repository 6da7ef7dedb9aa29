"""Checks of the units in which lengths are written: one that stands apart is asked about."""

import re
from collections.abc import Iterator
from dataclasses import fields, is_dataclass
from typing import Any, Literal

from docgen.checks.trade.check import Found, Subject, check
from docgen.problems import shorten
from docgen.read import Value

Unit = Literal["in", "mm"]
Written = tuple[Value[str], str]
"""A value with lengths in it, and the part that it concerns."""

FRACTION_RE = re.compile(r"(?:(\d+) )?(\d+)/(\d+)(?= mm\b)")
LENGTH_RE = re.compile(r"(\d+(?:\.\d+)?(?: \d+/\d+)?|\d+/\d+) ?(in|mm)\b")
SAID_IN = ("measures", "pieces", "joins", "seams", "straps", "inside", "holds")
"""Tables whose lengths are laid out by the maker; goods and hardware come in the units of their makers."""
BOUGHT = ("materials", "stitches", "hardware", "trimmings")
LEAST_OTHERS = 10  # so many lengths in one unit make one in the other stand apart
LEAST_INCHES = 10.0  # and that only where the figure would be usual in mm


@check("mm-fraction", "Millimetres are written with a point, inches with a fraction.", "plain from the units")
def find_fractions_of_mm(subject: Subject) -> Iterator[Found]:
    bought = [one for table in BOUGHT for one in _values(getattr(subject.spec, table), "")]
    for value, at in (*_lengths(subject), *bought):
        if FRACTION_RE.search(value.value):
            odd = FRACTION_RE.search(value.value)
            inches = re.sub(r"((?:\d+ )?\d+/\d+) mm\b", r"\1 in", value.value)
            pointed = FRACTION_RE.sub(_with_point, value.value)
            what = f'"{shorten(value.value)}" has a fraction of a millimetre, {odd[0] if odd else ""} mm'
            is_mm = subject.show == "mm" and odd is not None and odd[1]  # less than a whole one is written in inches
            first, other, unit = (pointed, inches, "inches") if is_mm else (inches, pointed, "mm")
            mend = f'write "{first}" in place of "{value.value}"; if {unit} are meant, "{other}"'
            yield value.place, what, mend, at


def _with_point(found: re.Match[str]) -> str:
    whole, upper, lower = found.groups()
    return f"{int(whole or 0) + int(upper) / int(lower):g}"


@check(
    "unit-apart",
    f"A position is written in one unit; and of {LEAST_OTHERS} lengths or more, not one alone in another.",
    "our choice",
)
def find_odd_units(subject: Subject) -> Iterator[Found]:
    """Values with both units in them; else the one value in inches among those in mm, where its figure is large."""
    found = [(value, at, LENGTH_RE.findall(value.value)) for value, at in _lengths(subject)]
    counts = {unit: sum(pair[1] == unit for _, _, pairs in found for pair in pairs) for unit in ("in", "mm")}
    usual: Unit = "in" if counts["in"] > counts["mm"] else "mm"
    for value, at, pairs in found:
        is_mixed = len({unit for _, unit in pairs}) > 1
        is_alone = usual == "mm" and counts["in"] == 1 and counts["mm"] >= LEAST_OTHERS
        is_large = any(unit == "in" and figure.isdigit() and float(figure) >= LEAST_INCHES for figure, unit in pairs)
        if FRACTION_RE.search(value.value) or not (is_mixed or (is_alone and is_large)):
            continue
        other = "mm" if usual == "in" else "in"
        meant = re.sub(rf"\b{other}\b", usual, value.value)
        what = f'"{shorten(value.value)}" is written in {"both units" if is_mixed else other}'
        what += f", and {counts[usual]} other lengths of this spec in {usual}" if not is_mixed else ""
        yield value.place, what, f'write "{meant}" in place of "{value.value}", or accept both units', at


@check(
    "skive-unit-apart",
    "Where lengths are shown in mm and goods named in mm, a skive is named in mm.",
    "our choice; who measures in ounces names the leather in them",
)
def find_odd_skive_units(subject: Subject) -> Iterator[Found]:
    """Skives in ounces of goods in mm, where no thickness of another goods is in ounces."""
    spec = subject.spec
    thick = {item.name: item.thickness.value for item in spec.materials if item.thickness}
    if subject.show != "mm" or not all(words.endswith("mm") for words in thick.values()):
        return
    skives = [(skive.to, piece.name) for piece in spec.pieces for skive in piece.skives]
    skives += [(end.skive.to, strap.name) for strap in spec.straps for end in strap.ends if end.skive]
    for value, at in skives:
        if value and value.value.endswith("oz"):
            meant = f"{value.value.removesuffix('oz')}mm"
            what = f'the skive to "{value.value}" is in ounces, and all thicknesses of goods in mm'
            yield value.place, what, f'write "{meant}" in place of "{value.value}", or accept both units', at


def _lengths(subject: Subject) -> Iterator[Written]:
    for table in SAID_IN:
        yield from _values(getattr(subject.spec, table), "")


def _values(item: Any, at: str) -> Iterator[Written]:
    """Every text below an item of the spec that has a length in it, its words for people left out."""
    if isinstance(item, Value):
        if isinstance(item.value, str) and LENGTH_RE.search(item.value):
            yield item, at
    elif isinstance(item, tuple):
        for part in item:
            yield from _values(part, at)
    elif is_dataclass(item):
        name = at or getattr(item, "name", "") or ""
        for field in fields(item):
            if field.name not in ("title", "note", "what", "name", "place"):
                yield from _values(getattr(item, field.name), name if isinstance(name, str) else "")
