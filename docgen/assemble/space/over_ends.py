"""What is laid over the ends of straps, as a patch: it is lifted over them, with all that lies on it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from docgen.assemble.assembly import Assembly, Copy
from docgen.assemble.covered_ends import list_covered
from docgen.assemble.space.placed import Placed
from docgen.assemble.space.spread import Lifting
from docgen.assemble.space.vectors import along, inner
from docgen.resolve import Build


def list_over_ends(build: Build, assembly: Assembly, parts: Mapping[Copy, Placed]) -> dict[Copy, list[Copy]]:
    """Parts that lie over ends of straps on one host, each with these straps: as the events laid them there."""
    found: dict[Copy, list[Copy]] = {}
    for base in build.pieces:
        for part, end in list_covered(base):
            is_later = assembly.laid_at(base.name, part) >= assembly.laid_at(base.name, end.strap)
            lying = [one for one in parts.values() if one.host and one.host.part == base.name]
            straps = [one for one in lying if one.copy.part == end.strap]
            for over in (one for one in lying if one.copy.part == part and one.how == "lies on" and is_later):
                found.setdefault(over.copy, []).extend(one.copy for one in straps if one.host == over.host)
    return {copy: [*dict.fromkeys(straps)] for copy, straps in found.items() if straps}


def raise_over(lifting: Lifting, copy: Copy, straps: Sequence[Copy]) -> None:
    """From now on a part is lifted a layer over the ends of straps that it covers, and what lies on it as far."""
    placed = lifting.placed[copy]
    band = placed.surface.band_of(placed.anchor)
    out = placed.out(band)
    ends = (lifting.placed[strap] for strap in straps)
    highest = max(inner(one.lifts[one.surface.band_of(one.anchor)], out) for one in ends)
    more = highest + 1 - inner(placed.lifts[band], out)
    late = [copy]
    for one, lying in lifting.placed.items():
        if lying.host in late and not lying.is_free:
            late.append(one)
    for one in late if more > 0 else ():
        lifted = lifting.placed[one]
        lifting.placed[one] = replace(lifted, lifts=tuple(along(lift, out, more) for lift in lifted.lifts))
