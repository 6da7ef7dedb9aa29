"""What lines the wall between two panels, said or not: leather beneath it in both its seams; the wall of a lining that is
sewn into a bag of its own."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping

from docgen.resolve import Seam

LONG_EDGES = frozenset(("left", "right"))
LEAST_LAYERS = 3  # of a seam at which a lined wall is sewn to a panel
PANELS = 2  # between which a wall stands


def find_hung_walls(
    seams: Iterable[Seam], lined_by: Callable[[str], frozenset[str]], are_as_large: Callable[[str, str], bool]
) -> Mapping[str, frozenset[str]]:
    """Each wall that is sewn by its long edges to leather alone that says what it lines, with the walls, as large, that
    stand between that."""
    walled = _list_walled(seams)
    lined = {part: [lined_by(panel) for panel in panels] for part, panels in walled.items()}
    return {
        part: frozenset(
            wall
            for wall, panels in walled.items()
            if all(not panels.isdisjoint(names) for names in lined[part]) and are_as_large(part, wall)
        )
        for part in walled
        if len(lined[part]) >= PANELS and all(lined[part])
    }


def _list_walled(seams: Iterable[Seam]) -> Mapping[str, frozenset[str]]:
    """What each part is sewn to by long edges of its own."""
    found: dict[str, frozenset[str]] = {}
    for seam in seams:
        for side in (side for side in seam.sides if side.edges and LONG_EDGES.issuperset(side.edges)):
            others = {one.part for one in seam.sides if one.part != side.part}
            found[side.part] = found.get(side.part, frozenset()) | others
    return found


def list_outermost(seam: Seam) -> Iterator[tuple[str, str]]:
    """Of a seam of more than two layers the two outermost ones at each end, sewn by long edges: a wall, and what lies on
    the inner side of it."""
    sides = seam.sides if all(side.edges for side in seam.sides) else ()
    for outer, inner in (sides[:2], sides[:-3:-1]) if len(sides) >= LEAST_LAYERS else ():
        if LONG_EDGES.issuperset((*outer.edges, *inner.edges)):
            yield (inner.part, outer.part) if seam.is_turned else (outer.part, inner.part)
