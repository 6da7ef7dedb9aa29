"""Windows: slits that close on themselves."""

from collections.abc import Sequence

from docgen.geometry.vector import distance
from docgen.resolve.marks import Slit

ROUND_MM = 0.01  # between ends of slits that meet


def find_windows(slits: Sequence[Slit]) -> list[tuple[Slit, Slit, Slit, Slit]]:
    """Slits, four in a row, that close on themselves, so that what lies between them comes out: as for a zip."""
    found: list[tuple[Slit, Slit, Slit, Slit]] = []
    k = 0
    while k + 3 < len(slits):
        four = slits[k], slits[k + 1], slits[k + 2], slits[k + 3]
        is_round = all(distance(one.end, four[(n + 1) % 4].start) < ROUND_MM for n, one in enumerate(four))
        found += [four] if is_round else []
        k += 4 if is_round else 1
    return found
