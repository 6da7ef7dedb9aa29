"""Lengths written "solve": each from the seam whose other side is known."""

from collections.abc import Callable, Mapping, Set

from docgen.classes import dataclass
from docgen.problems import Place, line_words
from docgen.resolve.seams.lengths import Lengths
from docgen.resolve.seams.partners import Partners
from docgen.written.units.telling import format_mm

GUESS_MM = 1e5  # longer than all overlaps, to begin solving from: the seam's length is a straight line in it


@dataclass(frozen=True, slots=True, kw_only=True)
class OpenLengths:
    """The lengths to solve: `places` of each "solve" by piece, the open pieces that a part's length hangs on, and the
    pieces of joins that could not be read: a seam of the join may be what fixes them."""

    places: Mapping[str, Place]
    parts_open: Callable[[str], set[str]]
    unread: Set[str]


def solve_lengths(
    seams: Mapping[str, Partners], insets: Mapping[str, float], wanted: OpenLengths, lengths: Lengths
) -> dict[str, float]:
    """Every open length that a seam fixes, in mm.

    Rounds go on as long as a side is found that hangs on one open length only, opposite a side that is known.
    What is left is noted, unless a seam has a problem of its own, or is missing from `insets` because of one.
    """
    solved: dict[str, float] = {}
    before, spoilt = -1, any(name not in insets for name in seams)
    while len(solved) > before:
        before = len(solved)
        for name, partners in seams.items():
            if name in insets and not _solve_seam(name, partners, insets[name], wanted, solved, lengths):
                spoilt = True
    for piece, place in wanted.places.items():
        if piece not in solved and not spoilt and piece not in wanted.unread and not lengths.reader.is_noted(place):
            joins = (join.name for join in lengths.joins.values() if piece in join.pieces)
            beside = next((wanted.parts_open(name) - solved.keys() - {piece} for name in joins), None)
            what = f'nothing fixes the length of "{piece}"'
            mend = "name it in a seam whose other side is known, or write its length"
            if beside:
                what += f', which is open in one join with "{min(beside)}"'
                mend = "cut one of them twice in place of the other, or write the length of one of them"
            lengths.reader.error(place, what, mend)
    return solved


def _solve_seam(
    seam: str, partners: Partners, inset_mm: float, wanted: OpenLengths, solved: dict[str, float], lengths: Lengths
) -> bool:
    """Adds to `solved` what this seam fixes; False when one of its sides cannot be measured."""
    edged = [partner for partner in partners if partner.edges]
    hangs_on = {partner: wanted.parts_open(partner.part) - solved.keys() for partner in edged}
    known = next((partner for partner in edged if not hangs_on[partner]), None)
    open_sides = [partner for partner in edged if len(hangs_on[partner]) == 1]
    if known is None or not open_sides:
        return True
    target_mm = lengths.side_length(seam, known, inset_mm, solved)
    if target_mm is None:
        return False
    for partner in open_sides:
        piece = next(iter(hangs_on[partner]))
        if piece in solved or lengths.reader.is_noted(wanted.places[piece]):
            continue
        low = lengths.side_length(seam, partner, inset_mm, {**solved, piece: GUESS_MM})
        high = lengths.side_length(seam, partner, inset_mm, {**solved, piece: 2 * GUESS_MM})
        if low is None or high is None:
            return False
        if abs(high - low) < 1e-6:
            continue  # the side runs along the piece's other measure, which the open length does not change
        length_mm = GUESS_MM + (target_mm - low) * GUESS_MM / (high - low)
        if length_mm > 0:
            solved[piece] = length_mm
        else:
            what = (
                f'the seam "{seam}" leaves no length for "{piece}": the rest of its side is '
                f"{format_mm(-length_mm * (high - low) / GUESS_MM)} too long already"
            )
            rest = [name for name in lengths.rest_of(partner.part) if name != piece]
            told = ", ".join(f'"{name}"{line_words(lengths.written.get(name))}' for name in rest)
            mend = (
                f"shorten the rest, {told}, or leave this one out"
                if rest
                else "shorten the rest, or leave this one out"
            )
            lengths.reader.error(wanted.places[piece], what, mend)
    return True
