"""What lies on the inner side of a part that is lined: which layer of it lies over which. What is laid there before the
lining lies beneath it, as a pocket behind a panel or on the hidden side of the lining; what comes later, on it; what one
seam lays there, as it names it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from docgen.assemble.assembly import Assembly, Copy
from docgen.assemble.space.placed import Placed
from docgen.assemble.space.scene import Sheet, box_round, rooms_meet
from docgen.assemble.space.spread import list_closed
from docgen.assemble.space.vectors import Vec

Sheets = Mapping[Copy, Sequence[Sheet]]


def list_inside(assembly: Assembly, parts: Mapping[Copy, Placed], sheets: Sheets) -> Iterator[tuple[Copy, int]]:
    """The layers on the inner side of each part that is lined and has more than its linings there, or on the hidden side
    of one, each with its level."""
    lined = dict.fromkeys(one.host for one in parts.values() if is_lining(one))
    hidden = _find_hidden(parts)
    for host in lined:
        layers = [one for one in parts.values() if one.host == host and lies_inside(one)]
        if host is None or all(is_lining(one) and one.copy not in hidden for one in layers):
            continue
        layers.sort(key=lambda one: (*_order(assembly, host, one.copy), is_lining(one), -one.level))
        deep: dict[Copy, int] = {}
        for one in layers:
            room = _room(sheets, one.copy)
            # what is folded lies double
            under = (
                its + len(list_closed(parts[copy]))
                for copy, its in deep.items()
                if rooms_meet(room, _room(sheets, copy))
            )
            deep[one.copy] = 1 + max(under, default=0) + hidden.get(one.copy, 0)
            yield one.copy, -deep[one.copy]


def _order(assembly: Assembly, host: Copy, copy: Copy) -> tuple[int, int]:
    """When a part is laid on its host, or on the strip of that on which it is written to land."""
    hosts = {host.part, *(one.host.part for one in assembly.lies if one.copy.part == copy.part)}
    return min(assembly.laid_order(name, copy.part) for name in hosts)


def is_lining(placed: Placed) -> bool:
    return placed.is_inner and placed.how == "lies behind" and placed.level < 0


def lies_inside(placed: Placed) -> bool:
    """Whether it lies on the inner side of its host."""
    return placed.level < 0 and placed.how in ("lies on", "lies behind")


def _find_hidden(parts: Mapping[Copy, Placed]) -> Mapping[Copy, int]:
    """The linings with parts on their hidden side, and how many layers these are."""
    found: dict[Copy, int] = {}
    for one in parts.values():
        host = parts.get(one.host) if one.host is not None else None
        if host is not None and is_lining(host) and lies_inside(one) and not is_lining(one):
            found[host.copy] = max(found.get(host.copy, 0), -one.level)
    return found


def _room(sheets: Sheets, copy: Copy) -> tuple[Vec, Vec]:
    return box_round([at for _, corners in sheets[copy] for at in corners])
