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
LENGTH_RE = re.compile(r"(\d+(?:\.\d+)?(?: \d+/\d+)?|\d+/\d+) ?(in|mm|cm)\b")
INCHES_RE = re.compile(r"(?<![\d./])(\d+)/(\d+) ?in\b")
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
    "fraction-improper",
    "A fraction of an inch is less than a whole one, and of a rule: of halves, quarters, eighths and so on.",
    "common practice, no published source",
)
def find_improper_fractions(subject: Subject) -> Iterator[Found]:
    """A space that is lost makes 15 1/2 in of 3 1/2 in: the last digit or two above the line are the fraction then."""
    bought = [one for table in BOUGHT for one in _values(getattr(subject.spec, table), "")]
    for value, at in (*_lengths(subject), *bought):
        for found in INCHES_RE.finditer(value.value):
            upper, lower = found.groups()
            if int(upper) < int(lower) and int(lower).bit_count() > 1:
                what = f'"{shorten(value.value)}" has {found[0]}, and a rule has halves, quarters, eighths and so on'
                yield value.place, what, "look at both figures of it; accept it where it is meant so", at
            if int(upper) < int(lower) or int(lower) == 0:
                continue
            whole, rest = divmod(int(upper), int(lower))
            says = f"{whole} {rest}/{lower} in" if rest else f"{whole} in"
            meant = [
                f"{upper[:cut]} {upper[cut:]}/{lower} in"
                for cut in range(len(upper) - 1, 0, -1)
                if 0 < int(upper[cut:]) < int(lower) and upper[cut] != "0"
            ]
            mend = f'write "{meant[0]}", if that is meant, or "{says}"' if meant else f'write "{says}"'
            yield value.place, f'"{shorten(value.value)}" has a fraction of {says}, written {found[0]}', mend, at


@check(
    "unit-apart",
    f"A position is written in one unit; and of {LEAST_OTHERS} lengths or more, not one alone in another.",
    "our choice",
)
def find_odd_units(subject: Subject) -> Iterator[Found]:
    """Values with inches and mm in them; else the one value in inches among those in mm, where its figure is large, and
    the one in cm among those in inches."""
    found = [(value, at, LENGTH_RE.findall(value.value)) for value, at in _lengths(subject)]
    counts = {unit: sum(pair[1] == unit for _, _, pairs in found for pair in pairs) for unit in ("in", "mm", "cm")}
    usual: Unit = "in" if counts["in"] > counts["mm"] else "mm"
    lone = "in" if usual == "mm" else "cm"
    for value, at, pairs in found:
        units = {unit for _, unit in pairs}
        is_mixed = {"in", "mm"} <= units
        is_alone = lone in units and counts[lone] == 1 and counts[usual] >= LEAST_OTHERS
        is_large = lone == "cm" or any(figure.isdigit() and float(figure) >= LEAST_INCHES for figure, _ in pairs)
        if FRACTION_RE.search(value.value) or not (is_mixed or (is_alone and is_large)):
            continue
        other = lone if not is_mixed else "mm" if usual == "in" else "in"
        meant = re.sub(rf"\b{other}\b", usual, value.value)
        what = f'"{shorten(value.value)}" is written in {"both units" if is_mixed else other}'
        in_usual = "inches" if usual == "in" else usual
        what += f", and {counts[usual]} other lengths of this spec in {in_usual}" if not is_mixed else ""
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
