"""What lapped seams lay on what, and whose the layers of a stack are where a part lies there more than once, as a base that
is lapped over the feet of two panels."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from itertools import pairwise

from docgen.assemble.assembly import Assembly, Copy
from docgen.resolve import Build, Layer, Piece, by_name, turns_out


def lapped_on(build: Build, part: str, here: Mapping[str, Copy]) -> tuple[Copy, bool] | None:
    """What a part is sewn to by a lapped seam, of what is here, and whether it lies beneath that."""
    for over, under in (two for seam in build.seams for two in pairwise(seam.sides) if two[1].lap_mm):
        if over.part == part and under.part in here:
            return here[under.part], False
        if under.part == part and over.part in here:
            return here[over.part], True
    return None


def looks_as_host(build: Build, made: Assembly, copy: Copy, host: Copy) -> bool:
    """Whether what lies behind a copy looks the same way: it is lapped beneath, or a flap that comes over from inside."""
    if lapped_on(build, copy.part, {host.part: host}) == (host, True):
        return True
    over = [lies for lies in made.lies if lies.copy == copy and lies.host.part == host.part and lies.is_inside]
    piece = by_name(build.pieces)[copy.part] if any(lies.is_over for lies in over) else None
    return piece is not None and turns_out(piece.marks.folds, piece.shows)


def part_over_two(layers: Sequence[Layer], sides: Collection[str]) -> dict[int, str]:
    """The layers of a part that lies on one partner of a seam, and again on another, by their numbers, each with the
    partner that it lies on; the layers of a stack go from partner to partner."""
    with_side: dict[str, dict[int, str]] = {}
    side = ""
    for k, layer in enumerate(layers):
        side = layer.part if layer.part in sides else side
        if side not in ("", layer.part):
            with_side.setdefault(layer.part, {})[k] = side
    return {k: one for found in with_side.values() if len({*found.values()}) > 1 for k, one in found.items()}


def copy_over(made: Assembly, part: str, host: Copy) -> Copy | None:
    """The copy of a part that lies on one partner of a seam, and on nothing else; None where it is not told by copies."""
    lying = [(lies.copy, lies.host) for lies in made.lies if lies.copy.part == part]
    own = {copy for copy, on in lying if on == host}
    is_own = len(own) == 1 and not any(copy in own and on != host for copy, on in lying)
    return next(iter(own)) if is_own else None


def share_out(sides: Sequence[Copy], part: str, count: int) -> Sequence[Copy]:
    """Of several copies of a part that are sides of a seam which each of its layers is of, as many of each; none where that
    does not come out even."""
    copies = [*dict.fromkeys(one for one in sides if one.part == part)]
    is_even = len(copies) > 1 and count % len(copies) == 0
    return [copy for copy in copies for _ in range(count // len(copies))] if is_even else ()


def away_from(
    made: Assembly, layers: Collection[Copy], pieces: Mapping[str, Piece], copy: Copy, host: Copy
) -> tuple[int, int, int, bool]:
    """How far from its host a copy is: as it was laid there, then among the layers; what lands lies beneath what lines."""
    names, base = [*layers], pieces.get(host.part)
    away = abs(names.index(copy) - names.index(host))
    return *made.laid_order(host.part, copy.part), away, base is None or copy.part not in base.landing_names
