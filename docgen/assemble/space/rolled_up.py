"""Straps whose long edges are sewn to each other: round a core they are a round bar, without one they lie double."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace
from itertools import pairwise

from docgen.assemble.goods import Goods
from docgen.assemble.space.item import Item, Mark
from docgen.assemble.work_order import is_rolled
from docgen.classes import dataclass
from docgen.geometry.path import flatten, polyline
from docgen.geometry.shapes import Point
from docgen.geometry.vector import between
from docgen.resolve import Seam, Strap

CORD = "cord"
ROUND_SHARE = (
    0.8  # of the way round a core with the leather on it, which what is sewn round it has at least: our choice
)
GOES_IN = 0.5  # of its width, over which a flat end goes over into the round: our choice


@dataclass(frozen=True, slots=True, kw_only=True)
class Roll:
    """The stretch of a strap that is sewn to itself, from where to where along it, how wide it is then, and where its row
    lies, in from its middle."""

    begin_mm: float
    end_mm: float
    wide_mm: float
    row_mm: float


def roll_up(goods: Goods, item: Item, strap: Strap) -> Item:
    """A strap as it is seen when its edges are sewn to each other; as it is where they are not."""
    seam = next((seam for seam in goods.seams.values() if is_rolled(seam.sides, strap.name)), None)
    roll = _find_roll(goods, item, seam) if seam is not None else None
    if seam is None or roll is None:
        return item
    middle = item.box.centre.x
    ring = tuple(_narrowed(at, middle, roll) for at in _cut_up(item.ring, roll))
    others = [mark for mark in item.marks if mark.name != seam.name]
    ends = (Point(middle + roll.row_mm, at_mm) for at_mm in (roll.begin_mm, roll.end_mm))
    row = [] if seam.is_turned else [Mark(kind="stitch", name=seam.name, path=polyline([*ends]))]
    whole = [at for at in ring if roll.begin_mm <= at.y <= roll.end_mm]
    inner = frozenset([seam.name] if not roll.row_mm else [])
    return replace(item, ring=ring, lines=(*others, *row), rolled=tuple(whole), inner_rows=inner)


def _find_roll(goods: Goods, item: Item, seam: Seam) -> Roll | None:
    lines = [mark for mark in item.marks if mark.name == seam.name]
    along = [at.y for mark in lines for at in flatten(mark.path)]
    if not along:
        return None
    begin_mm, end_mm = min(along), max(along)
    inset_mm = goods.stitches[seam.stitch].inset_mm
    round_mm = item.box.width - 2 * inset_mm
    leather_mm = goods.materials[item.strips[0].piece.material].thickness_mm
    cores = [one.thickness_mm for one in goods.trimmings.values() if one.kind == CORD]
    if any(
        math.pi * (core + leather_mm) * ROUND_SHARE <= round_mm <= math.pi * (core + 2 * leather_mm) for core in cores
    ):
        return Roll(begin_mm=begin_mm, end_mm=end_mm, wide_mm=round_mm / math.pi + leather_mm, row_mm=0.0)
    half_mm = item.box.width / 2
    return Roll(begin_mm=begin_mm, end_mm=end_mm, wide_mm=half_mm, row_mm=half_mm / 2 - inset_mm)


def _cut_up(ring: tuple[Point, ...], roll: Roll) -> Iterator[Point]:
    """The corners of a ring, and where it comes to each end of a roll, and of what goes over into it."""
    goes_mm = _goes_in_mm(roll)
    cuts = (roll.begin_mm, roll.begin_mm + goes_mm, roll.end_mm - goes_mm, roll.end_mm)
    for at, to in pairwise((*ring, ring[0])):
        yield at
        far = to.y - at.y
        shares = ((cut - at.y) / far for cut in cuts) if far else ()
        yield from (between(at, to, share) for share in sorted(shares) if 0 < share < 1)


def _goes_in_mm(roll: Roll) -> float:
    return min(roll.wide_mm, (roll.end_mm - roll.begin_mm) / 2)


def _narrowed(at: Point, middle: float, roll: Roll) -> Point:
    """A point of the edge, as far from the middle as it is then."""
    goes_mm = _goes_in_mm(roll)
    share = min((at.y - roll.begin_mm) / goes_mm, (roll.end_mm - at.y) / goes_mm, 1.0)
    if share <= 0:
        return at
    off = at.x - middle
    wide_mm = (1 - share) * abs(off) + share * min(roll.wide_mm / 2, abs(off))
    return Point(middle + math.copysign(wide_mm, off), at.y)
