"""Checks of seams against each other: none is sewn twice, and no edge to itself."""

from collections.abc import Iterator
from itertools import permutations

from docgen.checks.trade.check import Found, Subject, check
from docgen.problems import name_words
from docgen.resolve import Seam, SeamSide

Sewn = tuple[str, int, tuple[str, ...], tuple[float, float] | None]


@check(
    "seam-within-seam",
    "Every seam sews something that no other seam of its stitch sews along the same edges.",
    "plain from the work; a second row beside the first is one seam with rows, or may be accepted",
    needs_whole=True,
)
def find_seams_in_seams(subject: Subject) -> Iterator[Found]:
    """Seams of two partners or more, all of which another seam sews together, with more, by the same edges."""
    sides = [(seam, _sewn(seam)) for seam in subject.build.seams]
    told: set[str] = set()
    for (less, few), (more, many) in permutations(sides, 2):
        is_in = (
            len(few) > 1 and less.stitch == more.stitch and not less.trimmings and (few < many or _is_along(few, many))
        )
        if is_in and any(sewn[2] for sewn in few) and not {less.name, more.name} & told:
            told.add(less.name)
            parts = name_words(dict.fromkeys(side.part for side in less.sides))
            what = f'the seam "{less.name}" sews {parts} by the same edges as "{more.name}" (line {more.place.line})'
            mend = "look at both: one of them is meant for another part or edge; accept it where both rows are meant"
            yield less.sides[0].place, what, mend, less.name


def _is_along(few: set[Sewn], many: set[Sewn]) -> bool:
    """Whether some partners are sewn by edges, whole, that are some of those by which all of them are sewn elsewhere."""
    runs = {(part, copy): edges for part, copy, edges, stretch in many if not stretch}
    found = [(edges, runs.get((part, copy), ()), stretch) for part, copy, edges, stretch in few]
    return all(edges and not stretch and {*edges} < {*others} for edges, others, stretch in found)


def _sewn(seam: Seam) -> set[Sewn]:
    return {(side.part, side.copy, side.edges, side.stretch_mm) for side in seam.sides}


@check(
    "sewn-to-itself",
    "A copy of a piece is sewn to another part, or by one of its edges to another edge.",
    "plain from the work",
    needs_whole=True,
)
def find_edges_on_themselves(subject: Subject) -> Iterator[Found]:
    """Seams in which one copy of a piece by its number meets all copies of that piece, or itself once more, by an edge
    that is its own too."""
    for seam in subject.build.seams:
        for one, other in permutations(seam.sides, 2):
            is_same = other.copy in (0, one.copy) and one.part == other.part and _share(one, other) and not other.ends
            if one.copy and is_same and other.place != one.place:
                what = (
                    f'the seam "{seam.name}" sews copy {one.copy} of "{one.part}" by its {other.edge_words} to the '
                    f'{other.edge_words} of "{other.part}": to itself'
                )
                mend = "name the part that it is sewn to, or the number of the other copy"
                yield seam.place_of(other), what, mend, seam.name
                break


def _share(one: SeamSide, other: SeamSide) -> bool:
    return not {*one.edges}.isdisjoint(other.edges)
