"""Which way the halves of a snap look: a cap is seen on the outer side of its part, its socket behind it; the stud looks to
the socket that closes on it. Common practice, no published source."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Literal, NamedTuple

from docgen.assemble.assembled import Assembled
from docgen.assemble.assembly import Fastened, Half
from docgen.assemble.halves import SNAP
from docgen.assemble.space import Metal, inner
from docgen.assemble.space.straps import CLOSES_MM
from docgen.resolve import by_name
from docgen.tables.hardware import half_of_snap

Looks = Literal["out", "in", ""]


class SnapHalf(NamedTuple):
    """A half of a snap: which, the part with the other one ("" where several have it), and on which side of its own part it
    looks, the cap with its head; "" where that does not follow."""

    half: Half
    other: str
    looks: Looks


def find_snap_half(build: Assembled, fit: Fastened) -> SnapHalf | None:
    """The half of a snap that is set in a part; None for what is no half, or has none to close on. Of one that closes the
    turned end of a strap both are in that: its cap looks out, its stud to what lies back."""
    if fit.around and fit.half:
        return SnapHalf(fit.half, fit.part, "out" if fit.half == "cap" else "in")
    own = _half(build, fit)
    others = [
        one for one in build.assembly.fastened if _half(build, one) not in ("", own) and _is_pair(build, fit, one)
    ]
    if not own or not others:
        return None
    other = others[0].part if len({one.part for one in others}) == 1 else ""
    looks: Looks = "out" if own == "cap" or _is_strapped(build, others) else _looks(build, fit, others)
    return SnapHalf(own, other, looks)


def _half(build: Assembled, fit: Fastened) -> Half:
    item = by_name(build.hardware).get(fit.hardware)
    return (fit.half or half_of_snap(item.what)) if item is not None and item.kind == SNAP else ""


def _is_pair(build: Assembled, one: Fastened, other: Fastened) -> bool:
    """Whether two halves are of one snap, or each the only one of its kind that is hardware of its own."""
    own = [item.name for item in build.hardware if item.kind == SNAP and half_of_snap(item.what)]
    return one.hardware == other.hardware or (len(own) == 2 and {one.hardware, other.hardware} == {*own})


def _is_strapped(build: Assembled, caps: Sequence[Fastened]) -> bool:
    """Whether caps are in straps, which close over the outer side of what they close on."""
    return {one.part for one in caps} <= {strap.name for strap in build.straps}


def _looks(build: Assembled, fit: Fastened, caps: Sequence[Fastened]) -> Looks:
    """On which side of its part a stud looks: as the caps do that close on it; nothing where none lies there."""
    metal = [one for one in build.space.metal if one.part not in build.space.doubtful]
    own, closing = (fit.hardware, fit.part), {(one.hardware, one.part) for one in caps}
    studs = [one for one in metal if (one.hardware, one.part.part) == own and one.half != "cap"]
    there = [one for one in metal if (one.hardware, one.part.part) in closing and one.half != "stud"]
    ways = {_way(stud, cap) for stud in studs for cap in there if math.dist(stud.at, cap.at) < CLOSES_MM}
    return ways.pop() if len(ways) == 1 else ""


def _way(stud: Metal, cap: Metal) -> Looks:
    return "out" if inner(stud.axis, cap.axis) > 0 else "in"
