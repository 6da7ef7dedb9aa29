"""Check of edges that two seams sew, where the edge that one of them means is in none."""

from collections.abc import Iterator, Mapping
from typing import Final

from docgen.checks.trade.check import Found, Subject, check
from docgen.geometry.outline import SWAPPED
from docgen.problems import line_words
from docgen.resolve import Seam, SeamSide

LONG_MM: Final = 100.0  # shorter ones are those of tabs and ends: our choice
MOST: Final = 200

Taken = Mapping[tuple[str, int], list[tuple[Seam, SeamSide]]]


@check(
    "edge-sewn-again",
    "Two seams take an edge only where that of another copy, or of a piece of the same shape, is not left without one.",
    "counted",
    needs_whole=True,
)
def find_sewn_again(subject: Subject) -> Iterator[Found]:
    """At the later of two seams that sew the same run of the same copy to different parts; once for a part."""
    seams = [
        seam for seam in subject.build.seams if not seam.trimmings and subject.build.assembly.times(seam.name) == 1
    ]
    taken: dict[tuple[str, int], list[tuple[Seam, SeamSide]]] = {}
    for seam in seams[:MOST]:
        for side in seam.sides if len([one for one in seam.sides if one.edges]) > 1 else ():
            taken.setdefault((side.part, side.copy), []).append((seam, side))
    told: set[str] = set()
    for (part, copy), found in taken.items():
        is_one = bool(copy) or subject.counts[part] == 1
        for at, pair in enumerate(found if is_one else ()):
            before = next((one for one in found[:at] if _is_same(one, pair)), None)
            meant = ""
            if before and part not in told:
                meant = _find_meant(subject, taken, pair[1]) or _find_across(subject, before, pair)
            if before and meant:
                told.add(part)
                is_odd = sum((side.part, side.copy) == (part, copy) for side in before[0].sides) > 1
                is_odd = is_odd or (_is_named(before, meant, part) and not _is_named(pair, meant, part))
                (seam, side), other = (before, pair) if is_odd else (pair, before)
                own, line = _as_partner(part, copy, side), line_words(other[1].place.line)
                what = f'"{own}" is in two seams{line}, and "{meant}" in none'
                yield seam.place_of(side), what, f'did you mean "{meant}" in one of them?', part


def _is_named(pair: tuple[Seam, SeamSide], meant: str, part: str) -> bool:
    """Whether a seam is called by the part that is meant, and not by the one that it sews."""
    words = pair[0].name.split("-")
    return meant.split(":")[0].split()[0] in words and part not in words


def _is_same(pair: tuple[Seam, SeamSide], other: tuple[Seam, SeamSide]) -> bool:
    """Whether two seams of one stitch sew the same run to other parts, or to other copies or edges of them."""
    (before, one), (seam, side) = pair, other
    mates = [{(it.part, it.copy, it.edges) for it in of.sides if it is not own} for of, own in (pair, other)]
    is_run = one.edges == side.edges and one.stretch_mm == side.stretch_mm
    return is_run and before.stitch == seam.stitch and before is not seam and mates[0].isdisjoint(mates[1])


def _find_meant(subject: Subject, taken: Taken, side: SeamSide) -> str:
    """The one like run that is in no seam at all, as a partner is written."""
    if side.length_mm < LONG_MM:
        return ""
    if side.copy:
        idle = [
            copy
            for copy in range(1, subject.counts[side.part] + 1)
            if not any(other.edges == side.edges for _, other in taken.get((side.part, copy), []))
        ]
        return _as_partner(side.part, idle[0], side) if len(idle) == 1 else ""
    piece = subject.parts.pieces.get(side.part)
    likes = [
        one.name
        for one in subject.build.pieces
        if piece is not None
        and (one.model, one.material) == (piece.model, piece.material)
        and subject.edges_sewn(one.name).isdisjoint(side.edges)
        and (len(side.edges) > 1 or not subject.edges_sewn(one.name))  # a mouth is in no seam
    ]
    return _as_partner(likes[0], 0, side) if len(likes) == 1 else ""


def _find_across(subject: Subject, pair: tuple[Seam, SeamSide], other: tuple[Seam, SeamSide]) -> str:
    """The other side of a band that is joined, to which no seam sews anything, where one side takes two copies of a part,
    as both round ends of a tube."""
    side = pair[1]
    one, two = ({it.part: it.copy for it in of.sides if it is not own} for of, own in (pair, other))
    is_copies = any(one[part] and two[part] not in (0, one[part]) for part in one.keys() & two.keys())
    if side.part in subject.parts.pieces or len(side.edges) != 1 or side.edges[0] not in SWAPPED or not is_copies:
        return ""
    across = SWAPPED[side.edges[0]]
    return "" if across in subject.edges_sewn(side.part) else f"{side.part}: {across}"


def _as_partner(part: str, copy: int, side: SeamSide) -> str:
    """A side as it is written in meet, without what bounds it."""
    return f"{part} {copy}: {' '.join(side.edges)}" if copy else f"{part}: {' '.join(side.edges)}"
