"""Goods by length in a stack: on what of it they lie, laid flat on a piece or sewn to an edge."""

from __future__ import annotations

from collections.abc import Collection, Iterator

from docgen.assemble.assembled import Assembled
from docgen.assemble.assembly import Copy
from docgen.assemble.wholes import whole_of
from docgen.classes import dataclass
from docgen.resolve import Build, Piece, Seam, Trimming


def list_takers(build: Build, name: str) -> list[Piece]:
    """The pieces that goods by length are laid on."""
    return [piece for piece in build.pieces if any(line.goods == name for line in piece.dividers)]


def is_behind(item: Trimming, piece: Piece) -> bool:
    """Whether goods by length that are laid on a piece lie behind it, as a zip does behind its window."""
    return item.kind == "zip" and bool(piece.marks.slits)


def laid_on(build: Build, item: Trimming, here: Collection[Copy]) -> tuple[Copy, bool] | None:
    """What goods by length are laid on, of what is here, and whether they lie behind that; None where they are laid on none
    of it, or on several."""
    found = [(copy, piece) for piece in list_takers(build, item.name) for copy in here if _is_of(build, copy, piece)]
    if len({piece.name for _, piece in found}) != 1:
        return None
    host, piece = found[0]
    return host, is_behind(item, piece)


def _is_of(build: Build, copy: Copy, piece: Piece) -> bool:
    """Whether a copy is of a piece, or of the join that this is a strip of."""
    return copy.part in (piece.name, whole_of(build, Copy(piece.name)).part)


@dataclass(frozen=True, slots=True, kw_only=True)
class Taped:
    """What a seam has sewn the tape of a zip to, whether the tape lies behind that, and which partners of the seam lie
    between both, and which do not."""

    host: Copy
    is_behind: bool
    seam: str
    between: tuple[str, ...]
    beyond: tuple[str, ...]


def taped_on(build: Assembled, item: Trimming, beside: Collection[str], here: Collection[Copy]) -> Taped | None:
    """To what a seam that is not turned, and has a part that the tape of a zip lies `beside`, has sewn that, of what is
    here: of a part and its lining to the part."""
    known = {copy.part: copy for copy in here}
    linings = {lies.copy.part for lies in build.assembly.lies if lies.is_cover}
    for seam, above in _tape_seams(build, item):
        parts = [side.part for side in seam.sides]
        there = [part for part in parts if part in known]
        if not there or set(beside).isdisjoint(parts):
            continue
        host = next((part for part in there if part not in linings), there[0])
        at = parts.index(host)
        panel = next((k for k, part in enumerate(parts) if part not in linings), len(parts))
        is_face_up = any(part in linings for part in parts[:panel]) == (host in linings)
        between = tuple(parts[at + 1 : above] if at < above else parts[above:at])
        return Taped(
            host=known[host],
            is_behind=(at < above) == is_face_up,
            seam=seam.name,
            between=between,
            beyond=tuple(part for part in parts if part not in between),
        )
    return None


def _tape_seams(build: Build, item: Trimming) -> Iterator[tuple[Seam, int]]:
    """Each seam that is not turned and sews a tape of a zip, with how many of its partners lie above that."""
    for seam in build.seams if item.kind == "zip" else ():
        yield from ((seam, use.above) for use in seam.trimmings if use.name == item.name and not seam.is_turned)
