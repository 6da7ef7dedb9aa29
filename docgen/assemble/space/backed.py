"""What lies on another part with a second layer sewn behind it, as a lined flap on a back: that layer lies between both,
unless a seam through all three names the other part between them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from docgen.assemble.assembly import Assembly, Copy
from docgen.assemble.space.placed import Placed


def list_backed(assembly: Assembly, parts: Mapping[Copy, Placed]) -> Iterator[tuple[Copy, Copy, bool]]:
    """What lies on another part, its second layer, and whether that lies between."""
    for copy, placed in parts.items():
        flap = parts.get(placed.host) if placed.host is not None else None
        if flap is not None and flap.host is not None and _is_laid(flap) and _is_behind(placed):
            yield flap.copy, copy, not _is_named_between(assembly, flap.copy, flap.host, copy)


def _is_laid(placed: Placed) -> bool:
    return placed.how == "lies on" and placed.level > 0


def _is_behind(placed: Placed) -> bool:
    return placed.how == "back to back" and placed.level < 0 and not placed.is_inner


def _is_named_between(assembly: Assembly, one: Copy, middle: Copy, other: Copy) -> bool:
    """Whether a seam has the middle one between both, from the top down or from below."""
    orders = (once.sides for once in assembly.sewn if {one, middle, other} <= {*once.sides})
    return any(
        sorted((order.index(one), order.index(middle), order.index(other)))[1] == order.index(middle)
        for order in orders
    )
