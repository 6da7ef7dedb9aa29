"""Columns of layers along the sides of a seam -> the stacks that lie under the needle at one place."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import replace
from itertools import product
from typing import TypeVar

from docgen.assemble.assembly import Bit, Column, Sewn, Stack

SLIVER_MM = 3.0  # less than a stitch: so near to each other do ends of parts on two sides lie that are meant to meet
MOST_BITS = 300  # of a column; what is cut up more is not lined up
MOST_OPEN = 3  # sides that are tried both ways round
SAME_SHARE = 0.02
TINY = 1e-6
K = TypeVar("K")
Mms = tuple[float, ...]
Piled = Mapping[Mms, float]
"""How thick each layer is at one place, with how long such places are."""


def stack_up(once: Sewn, ways: Mapping[int, bool], length_mm: float) -> Stack:
    """The stack of a seam so long as its layers lie along it. `ways` has the sides of which it is known how they lie
    along each other, and whether they run backward. Where two that change along the seam are not known to change at the
    same places it stays as it is, and is vague."""
    piled = _line_up(once.columns, ways, length_mm)
    if piled is None:
        at_most = [mm for column in once.columns for mm in max(column.kinds, key=lambda mms: (sum(mms), mms))]
        most = tuple(
            replace(layer, thickness_mm=mm) for layer, mm in zip(once.stack.layers, at_most, strict=True) if mm
        )
        known = _line_up([_evened(column) for column in once.columns], ways, length_mm)
        places = _choose_places(known, max(known, key=lambda mms: round(known[mms], 6))) if known else ()
        return replace(once.stack, is_vague=known is None, places=places, at_most=most)
    sums = {mms: sum(mms) for mms in piled}
    usual = max(piled, key=lambda mms: (round(piled[mms], 6), -sums[mms]))
    thickest = max(piled, key=lambda mms: (round(sums[mms], 6), piled[mms]))
    copies = [copy for column in once.columns for copy, _ in column.layers]
    there = [copy.part for copy, mm in zip(copies, thickest, strict=True) if mm and copy.part in once.stack.landed]
    layers = tuple(
        replace(
            layer, thickness_mm=mm, thinnest_mm=min(mms[k] for mms in piled), thickest_mm=max(mms[k] for mms in piled)
        )
        for k, (layer, mm) in enumerate(zip(once.stack.layers, usual, strict=True))
    )
    return Stack(
        layers=layers,
        usual_mm=_usual_sum(piled, sums),
        thinnest_mm=min(sums.values()),
        thickest_mm=sums[thickest],
        landed=tuple(dict.fromkeys(there)),
        places=_choose_places(piled, usual),
        at_most=tuple(replace(layer, thickness_mm=mm) for layer, mm in zip(layers, thickest, strict=True) if mm),
    )


def _evened(column: Column) -> Column:
    """A column of which it is not known where it is thicker, as a ring at its joint, as thick as it mostly is: so long as
    its layers are the same all along it, which lie at one place does not hang on that."""
    there = {tuple(mm > TINY for mm in mms) for mms in column.kinds}
    if not column.is_loose or len(there) > 1:
        return column
    shares: Counter[Mms] = Counter()
    for bit in column.bits:
        shares[bit.mms] += bit.end - bit.begin  # type: ignore[assignment]
    usual = max(shares, key=lambda mms: round(shares[mms], 6))
    return replace(column, bits=(Bit(begin=0.0, end=1.0, mms=usual),), is_loose=False)


def _usual_sum(piled: Piled, sums: Mapping[Mms, float]) -> float:
    shares: Counter[float] = Counter()
    for mms, share in piled.items():
        shares[round(sums[mms], 6)] += share  # type: ignore[assignment]
    return max(shares, key=lambda mm: (round(shares[mm], 6), -mm))


def _choose_places(piled: Piled, usual: Mms) -> tuple[Mms, ...]:
    """Of the places that have all layers of others, one for each set of layers, the longest; and the usual one, where none
    of these is as thick in its layers."""
    kinds: dict[frozenset[int], Mms] = {}
    for mms in sorted(piled, key=lambda mms: piled[mms]):
        kinds[frozenset(k for k, mm in enumerate(mms) if mm > TINY)] = mms
    kinds[frozenset(k for k, mm in enumerate(usual) if mm > TINY)] = usual
    most = [mms for there, mms in kinds.items() if not any(there < other for other in kinds)]
    is_shown = any(all(mm in (0.0, own) for mm, own in zip(usual, mms, strict=True)) for mms in most)
    chosen = most if is_shown else [usual, *most]
    order = [*piled]  # along the seam
    return tuple(sorted(chosen, key=lambda mms: (mms != usual, order.index(mms))))


def _line_up(columns: Sequence[Column], ways: Mapping[int, bool], length_mm: float) -> Piled | None:
    """All columns together; None where two that change along the seam are not known to do so at the same places: the one
    lies there somewhere, or it comes out otherwise where it lies the other way round."""
    varied = [k for k, column in enumerate(columns) if len(column.kinds) > 1]
    is_firm = all(not columns[k].is_loose and len(columns[k].bits) <= MOST_BITS for k in varied)
    sides = {columns[k].side for k in varied}
    open_sides = sorted(sides - {*ways})[0 if sides & {*ways} else 1 :]
    if len(varied) > 1 and (not is_firm or len(open_sides) > MOST_OPEN):
        return None
    tries = [
        _pile_up(
            [_in_order(columns[k], {**ways, **dict(zip(open_sides, flips, strict=True))}) for k in varied], length_mm
        )
        for flips in product((False, True), repeat=len(open_sides))
    ]
    if any(_is_other(one, tries[0]) for one in tries[1:]):
        return None
    found: Counter[Mms] = Counter()
    for mms, share in tries[0].items():
        at = dict(zip(varied, mms, strict=True))
        whole = (at[k] if k in at else next(iter(column.kinds)) for k, column in enumerate(columns))
        found[tuple(mm for mms in whole for mm in mms)] += share  # type: ignore[assignment]
    return found


def _is_other(one: Mapping[K, float], other: Mapping[K, float]) -> bool:
    """Whether other stacks come out, or other lengths of them."""
    return one.keys() != other.keys() or any(abs(share - other[mms]) > SAME_SHARE for mms, share in one.items())


def _in_order(column: Column, ways: Mapping[int, bool]) -> list[Bit]:
    """The bits of a column along the seam, those beside each other that are alike as one."""
    bits = column.bits
    if ways.get(column.side):
        bits = tuple(replace(bit, begin=1 - bit.end, end=1 - bit.begin) for bit in bits)
    merged: list[Bit] = []
    for bit in sorted(bits, key=lambda bit: (bit.row or 0, bit.begin)):
        last = merged[-1] if merged else None
        if last and (last.mms, last.row) == (bit.mms, bit.row) and abs(bit.begin - last.end) < TINY:
            merged[-1] = replace(last, end=bit.end)
        else:
            merged.append(bit)
    return merged


def _pile_up(columns: Sequence[Sequence[Bit]], length_mm: float) -> dict[tuple[Mms, ...], float]:
    """How thick the layers of some columns are at one place."""
    if not columns:
        return {(): 1.0}
    runs: list[tuple[Bit, tuple[Mms, ...]]] = [(bit, (bit.mms,)) for bit in columns[0]]
    for column in columns[1:]:
        runs = [
            (both, (*mms, other.mms))
            for bit, mms in runs
            for other in column
            if (both := _in_common(bit, other, length_mm)) is not None
        ]
    found: dict[tuple[Mms, ...], float] = {}
    for bit, mms in runs:
        found[mms] = found.get(mms, 0.0) + bit.end - bit.begin
    return found


def _in_common(one: Bit, other: Bit, length_mm: float) -> Bit | None:
    """What two stretches have in common, where that is more than how exactly their ends are found."""
    if one.row is not None and other.row is not None and one.row != other.row:
        return None
    begin, end = max(one.begin, other.begin), min(one.end, other.end)
    least = min(one.end - one.begin, other.end - other.begin)
    if end - begin < TINY or ((end - begin) * length_mm < SLIVER_MM and end - begin < least * 3 / 4):
        return None
    return replace(one, begin=begin, end=end, row=other.row if one.row is None else one.row)
