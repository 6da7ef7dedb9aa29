"""Placed hardware -> what can be drawn of it: rods and caps, and the part that a cap goes on with."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from functools import cached_property
from itertools import pairwise

from docgen.assemble.apart.bodies import Body, BodyFace, BodyHole, BodyLine
from docgen.assemble.assembled import Assembled
from docgen.assemble.space.metal import USUAL_BAR_MM, Metal
from docgen.assemble.space.placed import LAYER_MM
from docgen.assemble.space.vectors import Vec, along, inner, length, minus, plus, times

STUD_MM = 25.0  # so far over what it is set in a hole takes a stud
MEETS_MM = 10.0  # and so far aside: a flap goes round what is in there, which is not drawn; our choice
CAP_LAYERS, HOLE_MM = 12, 4.0  # between a cap and a hole that its post goes through: so many layers, and so far aside
OVER_SHARE = 0.5  # of a layer, by which its head is drawn over that
LEAST_ROD_MM, LEAST_CAP_MM = 0.7, 1.3  # on paper: across what is drawn with two lines, and across a cap
CAP_ROOM = 0.6  # of the width of its part, that a cap takes which is drawn larger than it is


def list_shown(build: Assembled, metal: Iterable[Metal], bodies: Iterable[Body]) -> Iterator[Metal]:
    """The hardware of these parts; where straps are laid out side by side, what several of them end in is drawn once."""
    known = {body.copy: body for body in bodies}
    left = {item.name: item.count for item in build.hardware}
    for one in (one for one in metal if one.part in known):
        if known[one.part].placed.how == "laid out" and one.shape != "cap":
            left[one.hardware] -= 1
        if left[one.hardware] >= 0:
            yield one


class MetalBody:
    """Hardware as it is drawn: its outlines, and a cap as a face that hides the hole beneath."""

    is_leather = False

    def __init__(self, metal: Metal, title: str, room_mm: float = math.inf) -> None:
        """`room_mm` is how wide the narrowest part is that its post goes through."""
        self.metal, self.copy, self.title, self.room_mm = metal, metal.part, title, room_mm

    @cached_property
    def _rings(self) -> tuple[tuple[Vec, ...], ...]:
        lifts = self.metal.lift_at
        rings = enumerate(self.metal.outlines)
        return tuple(tuple(along(at, lifts(at, k), LAYER_MM) for at in ring) for k, ring in rings)

    @cached_property
    def faces(self) -> tuple[BodyFace, ...]:
        is_cap = self.metal.shape == "cap"
        return (BodyFace(0, (), self._rings[0], self.metal.axis),) if is_cap else ()

    @cached_property
    def lines(self) -> tuple[BodyLine, ...]:
        bands = (0,) if self.faces else ()
        return tuple(
            BodyLine("metal", self.metal.hardware, start, end, bands)
            for ring in self._rings
            for start, end in pairwise((*ring, ring[0]))
        )

    def lines_for(self, scale: float) -> Sequence[BodyLine]:
        """Its lines on paper at a scale: of a rod that is too thin there for two lines the outer one alone, and of a cap
        that is too small to be seen a larger rim, as far as its part lets that be."""
        if self.metal.shape == "cap":
            by = self.growth(scale)
            return self.lines if by == 1.0 else [self._grown(line, by) for line in self.lines]
        is_thin = len(self._rings) > 1 and (self.metal.bar_mm or USUAL_BAR_MM) * scale < LEAST_ROD_MM
        return self.lines[: len(self._rings[0])] if is_thin else self.lines

    def growth(self, scale: float) -> float:
        """How many times as large as it is a cap is drawn at a scale."""
        wide_mm = min(LEAST_CAP_MM, CAP_ROOM * self.room_mm * scale) if self.metal.shape == "cap" else 0.0
        return max(1.0, wide_mm / (self.metal.wide_mm * scale))

    def _grown(self, line: BodyLine, by: float) -> BodyLine:
        middle = plus(self.metal.at, times(self.metal.lift, LAYER_MM))
        start, end = (along(middle, minus(at, middle), by) for at in (line.start, line.end))
        return replace(line, start=start, end=end)

    @property
    def holes(self) -> tuple[BodyHole, ...]:
        return ()


def parts_through(build: Assembled, one: Metal) -> frozenset[str]:
    """The parts that the posts of some hardware go through with the part that it is set in, this among them; a join by its
    own name and those of its strips."""
    joined = {name: {join.name, *join.pieces} for join in build.joins for name in (join.name, *join.pieces)}
    own = joined.get(one.part.part, {one.part.part})
    stacks = [{*fast.stack.parts} for fast in build.assembly.fastened if fast.hardware == one.hardware]
    held = own.union(*(parts for parts in stacks if not own.isdisjoint(parts)))
    return frozenset(held.union(*(joined.get(part, ()) for part in held)))


def room_for(build: Assembled, one: Metal, bodies: Iterable[Body]) -> float:
    """How wide the narrowest part is that a post goes through: on whichever of them its cap shows, it stays within that."""
    held = parts_through(build, one)
    return min((body.wide_mm for body in bodies if body.copy.part in held), default=math.inf)


def raise_stud(metal: MetalBody, bodies: Iterable[Body]) -> MetalBody:
    """What is set in a hole where its head goes through a hole of a part over that, as a stud's does: in the uppermost."""
    one = metal.metal
    if one.shape != "cap":
        return metal
    found = []
    for body in (body for body in bodies if body.copy != one.part):
        near = [(far_mm, hole) for hole in body.holes if (far_mm := _far_over(hole, one)) is not None]
        found += [min(near, key=lambda at: round(at[0], 3))[1]] if near else []
    if not found:
        return metal
    top = max(found, key=lambda hole: round(inner(minus(hole.middle, one.at), one.axis), 3))
    return MetalBody(replace(one, at=top.middle, lift=times(one.axis, OVER_SHARE)), metal.title, metal.room_mm)


def _far_over(hole: BodyHole, one: Metal) -> float | None:
    """How far aside a hole over a stud lies; None where it does not take it."""
    far = minus(hole.middle, one.at)
    over_mm = inner(far, one.axis)
    aside_mm = length(minus(far, times(one.axis, over_mm)))
    return aside_mm if 0 < over_mm < STUD_MM and aside_mm < MEETS_MM else None


def carry_cap(metal: MetalBody, bodies: Iterable[Body]) -> MetalBody:
    """A cap as one of the outermost part of those that its post goes through, since it goes on with that."""
    one = metal.metal
    high_mm, top = -math.inf, one.part
    for body in bodies:
        for hole in body.holes:
            far = minus(hole.middle, one.at)
            over_mm = inner(far, one.axis)
            is_through = abs(over_mm) < CAP_LAYERS * LAYER_MM and length(minus(far, times(one.axis, over_mm))) < HOLE_MM
            if is_through and over_mm > high_mm:
                high_mm, top = over_mm, body.copy
    return metal if top == one.part else MetalBody(replace(one, part=top), metal.title, metal.room_mm)


def carry_along(build: Assembled, metal: MetalBody, drawn: Sequence[Body]) -> MetalBody:
    """A cap as it goes on with the outermost of the parts that are drawn and that its post goes through."""
    one = metal.metal
    if one.shape != "cap" or one.half:
        return metal
    held = parts_through(build, one)
    return carry_cap(metal, [body for body in drawn if body.copy.part in held])
